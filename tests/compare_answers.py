"""Answers of two editions of this project side by side: python tests/compare_answers.py OLD [NEW]. Each is a folder with generators/ and site_data/.

For each demonstration kit: pots as a person times them, and what either edition says to do. Answers that are the same are left out.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

SITUATIONS = [
    f"kit={kit} coating={coating} cup=ford-4 {pot} pot-litres=1 air-temperature=20 relative-humidity=50 hardener={'amine' if 'two-pack' in coating else 'none'} {more}".strip()
    for kit in ("two-stage-tote", "five-stage-trolley")
    for coating, pot, more in (
        ("gannet-trim-satin", "cup-time=62", ""), ("gannet-trim-satin", "cup-time=62 dose=5%:45s", ""),
        ("gannet-trim-satin", "cup-time=62 dose=1%:59s", ""), ("gannet-trim-satin", "cup-time=62 dose=9%:24s", ""),
        ("gannet-trim-satin", "cup-time=62 dose=12%:30s", ""), ("plover-wall-matt", "cup-time=86 dose=3%:75s dose=8%:55s", ""), ("anchor-alkyd-gloss", "cup-time=74 dose=5%w:60s", ""),
        ("keel-two-pack-epoxy", "cup-time=54 dose=5%:41s", "mixed-at=08:00 now=08:30 paint-temperature=28"), ("keel-two-pack-epoxy", "cup-time=54", "mixed-at=08:00 now=08:30 paint-temperature=14"),
    )
]
SHOWN = ("pot", "thinner-in-all", "next-total", "overshoot", "put-back", "seconds-after", "wet-film", "pot-life", "clean-by", "speed", "evenness", "litres")
_INSIDE = """
import json, sys
from pathlib import Path
from generators import formulas
from generators.chain.answers import today
from generators.chain.day import Day
from generators.formulas.own_cups import open_handbook
from generators.situation import read
facts = open_handbook(Path('.'))
day = Day(facts, formulas.catalogue(facts))
print(json.dumps([today(day, read([tuple(one.split('=', 1)) for one in words.split()], day.names()), 'metric')['answers'] for words in json.load(sys.stdin)]))
"""


def answers(folder: Path) -> list[dict[str, dict[str, object]]]:
    """Every situation's answers, by an edition in its own folder."""
    inside = {"PYTHONPATH": str(folder), "PATH": "/usr/bin:/bin"}
    done = subprocess.run([sys.executable, "-c", _INSIDE], cwd=folder, input=json.dumps(SITUATIONS), capture_output=True, text=True, check=True, env=inside)
    return json.loads(done.stdout)  # type: ignore[no-any-return]


def said(one: dict[str, object] | None) -> str:
    """A figure with its ends, and its verdict."""
    if one is None:
        return "–"
    value = one.get("value")
    if not isinstance(value, float):
        return f"{value or '–'} [{one['verdict']}]"
    ends = f" ({one['low']:.3g} to {one['high']:.3g})" if "low" in one and one["low"] != one.get("high") else ""
    return f"{value:.3g}{ends} {one.get('unit', '')} [{one['verdict']}]"


def main() -> None:
    old, new = (answers(Path(folder).resolve()) for folder in (sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else Path(__file__).parents[1]))
    for words, before, after in zip(SITUATIONS, old, new, strict=True):
        print(f"\n{words}")
        for name in SHOWN:
            one, two = said(before.get(name)), said(after.get(name))
            if one != two:
                print(f"  {name}: {one}  →  {two}   {after[name].get('because', '') if after.get(name, {}).get('verdict') != 'go' else ''}")


if __name__ == "__main__":
    main()
