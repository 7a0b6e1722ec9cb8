"""Tables, charts, formulas and cards as text, HTML, SVG, CSV and PDF. Reads values; computes nothing."""

from generators.render.drawing import plan_svg
from generators.render.fault_drawing import fault_svg, spread
from generators.render.grey import png
from generators.render.html import form_html, formula_html, html, live_html, origin_html, stop_html
from generators.render.sheet import csv_text
from generators.render.sign import SIGNS, signs_html

__all__ = ["SIGNS", "csv_text", "fault_svg", "form_html", "formula_html", "html", "live_html", "origin_html", "plan_svg", "png", "signs_html", "spread", "stop_html"]
