"""The first screen's scripts as one file: a phone that fetched, laid out and painted between seventeen of them was ready half a second later."""

from __future__ import annotations

import re
from pathlib import Path

FIRST = "assets/first.js"
_OURS = re.compile(r'<script src="(assets/[a-z/-]+\.js)"((?: data-bundle="[^"]+")?) defer></script>\s*')


def join(site: Path, page: str = "index.html") -> None:
    """Put one script in the place of this page's deferred ones, in their order; each stays a file of its own for the pages that want it alone.

    Each is a script that stands alone, leaves its name on the window, and finds its neighbours from where it lies: the folder `assets`.
    """
    place = site / page
    text = place.read_text(encoding="utf-8")
    found = list(_OURS.finditer(text))
    if not found:
        return
    parts = [(site / one[1]).read_text(encoding="utf-8").rstrip() for one in found]
    (site / FIRST).write_text(";\n".join([*parts, ""]), encoding="utf-8", newline="\n")
    told = "".join(one[2] for one in found)
    for one in reversed(found):
        text = text[: one.start()] + text[one.end() :]
    at = found[0].start()
    place.write_text(f'{text[:at]}<script src="{FIRST}"{told} defer></script>\n{text[at:]}', encoding="utf-8", newline="\n")
