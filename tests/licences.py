"""Licences of everything that the lock names, from each package's own metadata: `python tests/licences.py > LICENCES.md`; `--check` says what is not known."""

from __future__ import annotations

import argparse
import re
import sys
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from generators.pages.materials import licence_of

ROOT = Path(__file__).resolve().parent.parent
SHIPPED = (("lean-qr (draws codes on the screen)", "MIT", "generators/site/theme/assets/qr.js"), ("Atkinson Hyperlegible (fonts)", "SIL Open Font License 1.1", "generators/render/fonts/OFL.txt"),)


def licence(name: str) -> str:
    """One package's licence in a few words; "" where it is not installed here, or says nothing."""
    try:
        return licence_of(distribution(name))
    except PackageNotFoundError:
        return ""


def rows() -> list[tuple[str, str, str]]:
    """(package, version, licence) of every pin, in the lock's order."""
    pins = re.findall(r"^([A-Za-z0-9_.-]+)==([^\s\\;]+)", (ROOT / "constraints.txt").read_text(encoding="utf-8"), re.M)
    return [(name, version, licence(name)) for name, version in pins]


def main() -> int:
    """A page in Markdown, or a check that every pinned package that is installed names its licence."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    options = parser.parse_args()
    found = rows()
    if options.check:
        silent = [name for name, _, told in found if not told]
        print(f"{len(found) - len(silent)} of {len(found)} packages name their licence" + (f"; not known: {', '.join(silent)}" if silent else ""))
        return 1 if len(silent) > len(found) / 10 else 0
    print("# Licences\n\nThis project is MIT. What it ships and what it is built with:\n\n| What | Version | Licence, by its own metadata |\n|---|---|---|")
    for name, version, told in found:
        print(f"| {name} | {version} | {told or 'not installed here, or not said'} |")
    for name, told, place in SHIPPED:
        print(f"| {name} | shipped, `{place}` | {told} |")
    return 0


if __name__ == "__main__":
    sys.exit(main())
