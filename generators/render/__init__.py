"""Tables, formulas and cards as text, HTML, CSV and PDF. Reads values; computes nothing."""

from generators.render.html import formula_html, origin_html, protection_html, stop_html, table_html
from generators.render.sheet import table_csv

__all__ = ["formula_html", "origin_html", "protection_html", "stop_html", "table_csv", "table_html"]
