"""The van card: Typst sets the page in this process, with fonts embedded and no system package."""

from __future__ import annotations

import io
import json
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

import segno
import typst

_HERE = Path(__file__).parent


def qr_svg(address: str) -> str:
    """A QR code as SVG, error level M."""
    out = io.BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", scale=4, border=2, xmldecl=False)
    return out.getvalue().decode()


def card_pdf(cards: list[dict[str, Any]], addresses: list[str], made: datetime) -> bytes:
    """Two sides for each card, as tagged PDF/A, from texts only, each with the QR code of its address. Same input, same bytes."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "card.typ").write_text((_HERE / "templates" / "card.typ").read_text(encoding="utf-8"), encoding="utf-8")
        (root / "cards.json").write_text(json.dumps(cards, ensure_ascii=False), encoding="utf-8")
        for index, address in enumerate(addresses):
            (root / f"qr-{index}.svg").write_text(qr_svg(address), encoding="utf-8")
        compiler = typst.Compiler(root / "card.typ", root=root, font_paths=[_HERE / "fonts"], ignore_system_fonts=True)
        made_pdf = compiler.compile(format="pdf", pdf_standards=["a-2b", "ua-1"], timestamp=made)
        assert isinstance(made_pdf, bytes)  # one file, since PDF holds every side
        return made_pdf
