"""The theme's markup mended where it strays from the HTML standard, trailing blanks taken off every line, and lines of comment left out of our own scripts and styles."""

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


# Whole lines of comment, but for those that carry a licence.
_COMMENT = re.compile(r"^[ \t]*(?://[^\n]*|/\*(?!!)(?:[^*]|\*(?!/))*\*/[ \t]*)\n", re.MULTILINE)


def bare(script: str) -> str:
    """A script or a style without its lines of comment: they are for whoever reads the source, and a tenth of what a phone would fetch."""
    return _COMMENT.sub("", script)


def tidy_scripts(site: Path) -> None:
    """Our own scripts and styles in a finished site."""
    for path in (*site.glob("assets/*.js"), *site.glob("assets/*.css")):
        path.write_text(bare(path.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
