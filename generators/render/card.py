"""The van card and the exercise sheets: Typst sets the page in this process, with fonts embedded and no system package."""

from __future__ import annotations

import io
import json
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

import segno
import typst

from generators import beside
from generators.owned import KEYWORD

_HERE = Path(__file__).parent


def qr_svg(address: str) -> str:
    """A QR code as SVG, error level M."""
    out = io.BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", scale=4, border=2, xmldecl=False)
    return out.getvalue().decode()


def _typeset(template: str, files: dict[str, str], made: datetime) -> bytes:
    """One template of ours and the texts it reads, as tagged PDF/A. Same input, same bytes."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        files = {template: f'#set document(keywords: "{KEYWORD}")\n' + (_HERE / "templates" / template).read_text(encoding="utf-8"), **files}
        for name, content in files.items():
            (root / name).write_text(content, encoding="utf-8", newline="\n")
        beside.threads()
        compiler = typst.Compiler(root / template, root=root, font_paths=[_HERE / "fonts"], ignore_system_fonts=True)
        made_pdf = compiler.compile(format="pdf", pdf_standards=["a-2b", "ua-1"], timestamp=made)
        assert isinstance(made_pdf, bytes)  # one file, since PDF holds every side
        return made_pdf


def card_pdf(cards: list[dict[str, Any]], addresses: list[str], made: datetime) -> bytes:
    """Two sides for each card, from texts only, each with the QR code of its address."""
    codes = {f"qr-{index}.svg": qr_svg(address) for index, address in enumerate(addresses)}
    return _typeset("card.typ", {"cards.json": json.dumps(cards, ensure_ascii=False), **codes}, made)


def drills_pdf(sheets: dict[str, Any], made: datetime) -> bytes:
    """Exercise sheets, each with its answers on its back, from texts only."""
    return _typeset("drills.typ", {"sheets.json": json.dumps(sheets, ensure_ascii=False)}, made)
