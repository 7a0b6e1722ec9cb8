"""Cells that an older edition let go and this one does not: python tests/compare_cells.py OLD [NEW]. Each is a folder with generators/ and site_data/.

Every table of both editions in both systems of units, cell by cell, met by the words of its heads. What was go (or stood there bare) and is now
take care, not known, stop or a dash is printed with the reason that the table gives; what went the other way is counted, since nothing may loosen unseen.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from pathlib import Path

_INSIDE = """
import json, sys
from pathlib import Path
from generators import formulas, tables
from generators.formulas.own_cups import open_handbook
facts = open_handbook(Path('.'))
found = {}
for system in ('metric', 'us'):
    book = tables.Book(facts, formulas.catalogue(facts), system)
    for name, builder in tables.BUILDERS.items():
        for slug in {'handbook': [''], 'kit': facts.kits, 'coating': facts.coatings}[builder.per]:
            try:
                table = builder(book, *([slug] if slug else []))
            except Exception as error:
                print(name, slug, error, file=sys.stderr)
                continue
            if not hasattr(table, 'body') or not hasattr(table, 'zone_words'):
                continue
            heads = [[' '.join(str(one).split()) for one in axis.heads] for axis in (table.rows, table.columns)]
            for row, head in enumerate(heads[0]):
                for column, other in enumerate(heads[1]):
                    cell = table.cell(row, column)
                    found[' | '.join((name, slug, system, head, other))] = [cell.text, cell.zone, cell.reason, list(table.notes)]
json.dump(found, sys.stdout)
"""
GO = ("", "fine")


def cells(folder: Path) -> dict[str, list[object]]:
    """{table, of what, system, row, column: [text, zone, reason, notes]} of an edition in its own folder."""
    done = subprocess.run([sys.executable, "-c", _INSIDE], cwd=folder, capture_output=True, text=True, check=True, env={"PYTHONPATH": str(folder), "PATH": "/usr/bin:/bin"})
    return json.loads(done.stdout)  # type: ignore[no-any-return]


def main() -> None:
    """The list, then how many of each table."""
    old, new = (cells(Path(folder).resolve()) for folder in (sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else Path(__file__).parents[1]))
    both = sorted(old.keys() & new.keys())
    stricter, looser = Counter[str](), Counter[str]()
    for name in both:
        (text, zone, *_), (now, now_zone, reason, notes) = old[name], new[name]
        table = name.split(" | ")[0]
        if zone in GO and text not in ("–", "") and (now_zone not in GO or now == "–"):
            stricter[table] += 1
            print(f"{name}: {text} → {now} [{now_zone or 'dash'}] {reason or '; '.join(map(str, notes))[:160]}")
        elif zone not in GO and now_zone in GO and now != "–":
            looser[table] += 1
    print(f"\n{len(both)} cells stand in both ({len(old)} and {len(new)} in all). Go before and not now: {sum(stricter.values())}: {dict(stricter)}")
    print(f"Not go before and go now: {sum(looser.values())}: {dict(looser)}")


if __name__ == "__main__":
    main()
