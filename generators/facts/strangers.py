"""Files of site_data that nothing reads: told, so that no fact is left out in silence because of its file's name."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path

from generators.facts.problem import Problem, shown
from generators.facts.sheet import BOOKS

FOLDERS = {"coatings": (".yaml",), "kits": (".yaml",), "recipes": (".yaml",), "own_cups": (".yaml",), "regions": (".yaml",), "templates": (".yaml",), "law": (".csv", *BOOKS),
           "weather": (".epw", ".epw.gz", ".csv", ".csv.gz"), "schemas": (".json",)}
_DATA = (".yaml", ".yml", ".csv", ".tsv", ".txt", ".xls", ".xlsm", ".json", ".epw", ".gz", *BOOKS)
# What an older handbook had, and still may have.
BEFORE = ("regions.yaml", "voc_limits.csv", "noise_limits.csv", "protection_factors.csv")


def _end(name: str, ends: Iterable[str]) -> bool:
    return any(name.endswith(end) for end in ends)


def strangers(root: Path, known: Iterable[str], problems: list[Problem]) -> None:
    """Tell every file that looks like facts and is not read. Notes (.md), hidden files and copies that an editor leaves (~) are passed over."""
    base, files = root / "site_data", {*known, *BEFORE}
    for path in sorted(base.iterdir()) if base.is_dir() else ():
        name = path.name
        if name.startswith(".") or name.endswith(("~", ".md")):
            continue
        if path.is_dir():
            if name not in FOLDERS:
                holds = any(child.suffix.lower() in _DATA for child in path.rglob("*"))
                near = difflib.get_close_matches(name.lower(), FOLDERS, 1)
                if holds:
                    mend = f"did you mean {near[0]!r}?" if near else "move its files, or take it out of site_data"
                    problems.append(Problem(f"site_data/{name}", 1, "a folder that is read: " + ", ".join(FOLDERS), shown(name), mend))
                continue
            for child in sorted(path.iterdir()):
                where = f"site_data/{name}/{child.name}"
                if child.name.startswith(".") or child.name.endswith(("~", ".md")) or _end(child.name, FOLDERS[name]):
                    continue
                if child.is_dir():
                    problems.append(Problem(where, 1, f"files straight in site_data/{name}", "a folder in it", "move its files up: a folder inside is not read"))
                elif child.suffix.lower() in _DATA:
                    mend = f"rename it to {child.stem.lower()}{FOLDERS[name][0]}: as it is, nothing reads it"
                    problems.append(Problem(where, 1, f"a file whose name ends in {' or '.join(FOLDERS[name])}", shown(child.name), mend))
            continue
        stem = path.name[: -len(path.suffix)] if path.suffix else path.name
        if name in files or (path.suffix in BOOKS and f"{stem}.csv" in files):
            if path.suffix in BOOKS and (base / f"{stem}.csv").exists():
                problems.append(Problem(f"site_data/{name}", 1, "one table of that name", f"{stem}.csv beside it", "keep one of the two"))
            elif path.suffix == ".ods" and (base / f"{stem}.xlsx").exists():
                problems.append(Problem(f"site_data/{name}", 1, "one table of that name", f"{stem}.xlsx beside it", "keep one of the two"))
        elif path.suffix.lower() in _DATA:
            near = difflib.get_close_matches(name.lower().replace(".yml", ".yaml"), files, 1, 0.5)
            mend = f"did you mean {near[0]!r}? As it is, nothing reads it" if near else "nothing reads it: take it out of site_data"
            problems.append(Problem(f"site_data/{name}", 1, "a file that is read", shown(name), mend))
