"""The theme's markup mended where it strays from the HTML standard, and trailing blanks taken off every line."""

from __future__ import annotations

import re
from pathlib import Path

_BLANKS = re.compile(r"[ \t]+$|\n(?=\n)", re.MULTILINE)
_CHECKBOX = re.compile(r'(<input\b[^>]*\btype="checkbox"[^>]*?) autocomplete="off"')


def tidy(text: str) -> str:
    """One page, mended. What stands inside <pre> keeps its blank lines: code there may need them."""
    parts = re.split(r"(<pre\b.*?</pre>)", text, flags=re.DOTALL)
    parts[::2] = [_BLANKS.sub("", part) for part in parts[::2]]
    text = _CHECKBOX.sub(r"\1", "".join(parts))
    text = text.replace("</form>", '<button type="submit" hidden>Go</button></form>')  # the theme's two forms have none
    return text.replace("<!doctype html>", "<!DOCTYPE html>", 1)


def tidy_site(site: Path) -> None:
    """Every page of a finished site."""
    for path in site.rglob("*.html"):
        tidy_page(path)


def tidy_page(path: Path) -> None:
    """One page of a finished site."""
    path.write_text(tidy(path.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
