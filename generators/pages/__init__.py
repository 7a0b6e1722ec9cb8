"""Pages: handbook/ filled in, and a generated page for each kit, each coating and the reference."""

from generators.pages.build import build_pages
from generators.pages.errors import PageError
from generators.pages.pieces import build_assets, build_drawn

__all__ = ["PageError", "build_assets", "build_drawn", "build_pages"]
