"""Nonsense by machine: `python tests/nonsense.py` spoils every value of every file in site_data, one kind of nonsense after another.

Each edit stands alone in its entry (a tin, a kit, a row, a named entry); many entries are spoiled at once, since all problems are told at once.
An edit counts as caught where it is refused or called doubtful at its own `path:line`. What is never counted as nonsense, and why:
words that a reader alone can judge (names, sentences), the hours of a telephone, the marks of a drawing, the sources' own titles.
The oracle knows nothing of the project's readers but where problems and doubts come out.
"""

from __future__ import annotations

import argparse
import csv
import io
import random
import re
import shutil
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import yaml

from generators.facts import FactsError, load

ROOT = Path(__file__).resolve().parent.parent
VALUE = re.compile(r"^([−-]?\d+(?:\.\d+)?)(\s*)(\D.*)?$")
DAY = re.compile(r"^\d{4}-\d{2}-\d{2}$")
# One kind of unit taken for another: what a slip of the hand does, by the unit that stands there. Each is wrong by five times or more, or by 30 degrees.
SWAPPED = {"°C": "°F", "°F": "°C", "Δ°C": "°C h", "Δ°F": "°F h", "µm": "mm", "mm": "m", "kg/L": "g/L", "g/L": "kg/L", "h": "s", "min": "h", "s": "h", "L": "mL", "mL/min": "L/min", "%": "×", "m²": "mm²",
           "m²/h": "m²/L", "dBA": "%", "d": "min", "mm²/s": "m²/s", "kPa": "bar", "psi": "bar", "ppm": "%", "mg/m³": "g/m³", "m": "mm", "m/s": "km/s", "m³": "L", "deg": "°C", "1/K": "K", "×": "%"}
# Words that stand for a choice among few: a wrong one is nonsense. All other words are a reader's to judge.
CHOICES = {"basis", "class", "family", "pattern", "hardener", "source", "default_kit", "region", "system", "words", "trust", "kind", "under", "masks_like", "number", "drawing", "stop", "coating", "kit", "verdict", "new",
           "old", "counted", "counts", "cup", "half", "half_gas", "full", "air_fed", "label_category", "voc_category", "voc_category_us", "unit", "dip", "of", "way", "district",
           "thin nitrile", "thick nitrile", "butyl", "laminate", "natural rubber", "PVC"}
SPANS = {("limits", "between"), ("usual", "low"), ("usual", "high")}  # what counts as nonsense elsewhere: wider or narrower is a judgement
FIGURES_OF_WORDS = {"hours", "call", "title", "key", "part", "year", "label", "us_label", "scope", "says", "times", "difference", "revision"}  # figures inside words
DRAWN = {"marks", "words", "film", "under", "ground", "shapes", "strokes", "height"}  # of drawings: their own tests look at them
NAMES = {"file", "name", "comb", "shape", "method", "us", "key"}  # a row's own name
# Choices in one file and plain words in another.
WORDS = {("care", "words"), ("efficiencies", "kind"), ("gloves", "family"), ("coatings", "family")}
# What a sheet can say as it stands, so that it is no nonsense: nothing of it at all, or very little.
NOTHING = {("coatings", "voc"), ("coatings", "thinner_max"), ("coatings", "thinner_density"), ("pieces", "edge"), ("recipes", "thinner"), *(("rates", name) for name in ("value",))}
LITTLE = {("coatings", "thinner_max"), ("recipes", "thinner")}
# Files whose entries others name: spoiled apart from these, or their victims would be told in the place of the edit.
ALONE = {name: place for place, names in enumerate((("cups", "stops", "finishes", "fault_drawings", "handbook"), ("sources", "classes", "regions", "own_cups"), ("usual",)), 1) for name in names}
# What no value can be without.
WANTED = {
    "coatings": "name basis class volume_solids dry_film density voc thin_with thinner_density thinner_max air_min air_max humidity_max recoat_after nozzle uses",
    "kits": "name basis stages pot limit fan_angle pattern near far flow transfer_efficiency nozzles noise",
    "classes": "label us_label family basis viscosity_slope strainer_fine strainer_coarse stir nozzle_fine nozzle_coarse open_time",
    "protection": "basis hazards respiratory eyes hands body hearing fire ventilation first_aid who_decides", "limits": "value what basis", "rates": "value what basis",
    "regions": "title coin system words air_at checked law ask lead asbestos waste fire noise basis", "stops": "title what_can_happen do never who_decides basis",
    "handbook": "title crew town region default_kit revision date base_url", "recipes": "basis date coating time thinner result", "own_cups": "label basis readings",
    "cleaning": "label us_label wash sets_soon sets_late between steps never washings frost basis", "substrates": "label us_label damp sound otherwise basis", "pieces": "label us_label width height edge faces profile basis",
    "techniques": "label us_label settings plan order tube fails basis", "finishes": "label us_label short rub looks basis", "sources": "title trust", "faults": "name others feel then looks causes test now later prevent basis",
    "words": "uk us meaning",
}


@dataclass(frozen=True)
class Edit:
    """One piece of nonsense: text from `start` to `end` of a file becomes `new`. Told at `line` (or, of what is left out, anywhere in its entry)."""

    path: str
    fact: str
    entry: str
    field: str
    nonsense: str
    start: int
    end: int
    new: str
    line: int
    last: int

    def __str__(self) -> str:
        return f"{self.path}:{self.line} {self.fact}.{self.field} [{self.nonsense}] {self.new[:50]!r}"


def spoiled(text: str, fact: str, field: str, bare: bool = False) -> Iterator[tuple[str, str]]:
    """(kind of nonsense, text) for one value of a file. `bare`: its unit stands in the head of its column."""
    if DAY.match(text):
        yield from (("a date that is none", "banana"), ("a day that never was", "2026-13-45"), ("a date turned round", "/".join(reversed(text.split("-")))))
        return
    if (fact, field) in SPANS or re.match(r"^[\d.]+ *(–|to) *[\d.]+", text):  # two figures in one value
        yield "banana", "banana"
        return
    match = VALUE.match(text)
    if match:
        number, gap, unit = float(match[1].replace("−", "-")), match[2], match[3] or ""
        word, _, rest = unit.partition(" ")

        def put(value: float, kind: str = unit) -> str:
            return f"{value:.10g}{gap if kind else ''}{kind}"

        if number:
            yield from (("ten times", put(number * 10)), ("a hundred times", put(number * 100)), ("the sign turned", put(-number)))
            if (fact, field) not in LITTLE:
                yield "a tenth", put(number / 10)
        if number and not (unit.startswith("°") or unit.startswith("Δ")) and (fact, field) not in NOTHING:
            yield "nought", put(0)
        yield "banana", "banana"
        if unit and not bare:
            yield "another kind", put(number, f"{'mm' if word == 'kg' else 'kg'}{' ' + rest if rest else ''}")
            yield "no unit", f"{number:g}"
            if word in SWAPPED and number:
                yield "the wrong unit", put(number, f"{SWAPPED[word]}{' ' + rest if rest else ''}")
        elif not unit and not bare:
            yield "a unit where none is", f"{number:g} kg"
        if bare:
            yield "another kind", put(number, " kg")
        return
    if field in CHOICES and (fact, field) not in WORDS:
        yield "a word that is none", text[:-1] + ("q" if text[-1] != "q" else "x")


def _lines(text: str, index: int) -> int:
    return text.count("\n", 0, index) + 1


def of_yaml(path: Path, root: Path) -> Iterator[Edit]:
    """Every edit of one YAML file."""
    text = path.read_text(encoding="utf-8")
    where, fact = path.relative_to(root).as_posix(), path.parent.name if path.parent.name != "site_data" else path.stem
    one_entry = path.parent.name != "site_data" or path.stem in ("handbook", "search")
    tree = yaml.compose(text, Loader=yaml.SafeLoader)

    def walk(node: yaml.Node, keys: tuple[str, ...], entry: str, first: int, last: int) -> Iterator[Edit]:
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                name = (*keys, key.value)
                mine = entry if one_entry or entry else key.value
                begins, ends = (first, last) if one_entry or entry else (key.start_mark.line + 1, value.end_mark.line + 1)
                leaf = keys[1:] if not one_entry else keys
                if not leaf and (one_entry or keys) and key.value in WANTED.get(fact, "").split():
                    whole = text.rfind("\n", 0, key.start_mark.index) + 1
                    stop = text.find("\n", value.end_mark.index)
                    block = isinstance(value, yaml.ScalarNode) or value.flow_style
                    if block and "{" not in text[whole:key.start_mark.index] and "- " not in text[whole:key.start_mark.index]:
                        line = _lines(text, key.start_mark.index)
                        yield Edit(where, fact, mine, key.value, "left out", whole, stop + 1, "", begins, ends)
                        if not any(text[key.start_mark.index:].startswith(mark) for mark in "{["):
                            yield Edit(where, fact, mine, key.value, "said twice", stop + 1, stop + 1, text[whole:stop + 1], line + 1, line + 1)
                        yield Edit(where, fact, mine, key.value, "a key that is none", key.start_mark.index, key.end_mark.index, key.value + "x", line, line)
                        if isinstance(value, yaml.ScalarNode):
                            yield Edit(where, fact, mine, key.value, "empty", value.start_mark.index, value.end_mark.index, '""', line, line)
                yield from walk(value, name, mine, begins, ends)
        elif isinstance(node, yaml.SequenceNode):
            for child in node.value:
                yield from walk(child, (*keys, "item"), entry, first, last)
        elif isinstance(node, yaml.ScalarNode):
            names = [key for key in keys if key != "item"]
            field = names[-1] if names else ""
            if field in FIGURES_OF_WORDS or (fact in ("fault_drawings", "techniques", "search") and DRAWN & set(names)) or fact == "search":
                return
            if field in ("uses", "steps", "law", "ask", "others", "causes", "order", "fails", "small", "everyday"):
                return
            for kind, new in spoiled(node.value, fact, field):
                quoted = f'"{new}"' if node.style in ('"', "'") else new
                yield Edit(where, fact, entry, ".".join(names[(0 if one_entry else 1):]), kind, node.start_mark.index, node.end_mark.index, quoted, _lines(text, node.start_mark.index), _lines(text, node.start_mark.index))

    yield from walk(tree, (), path.stem if one_entry else "", 1, text.count("\n") + 1)


def of_csv(path: Path, root: Path) -> Iterator[Edit]:
    """Every edit of one CSV file."""
    text = path.read_text(encoding="utf-8")
    where, fact = path.relative_to(root).as_posix(), path.stem
    head: list[str] = []
    at = 0
    for number, raw in enumerate(text.splitlines(keepends=True), 1):
        line, start = raw.rstrip("\r\n"), at
        at += len(raw)
        if not line.strip() or line.startswith("#"):
            continue
        cells = next(csv.reader([line]))
        if not head:
            head = [cell.strip() for cell in cells]
            continue

        def put(cells: list[str]) -> str:
            out = io.StringIO()
            csv.writer(out, lineterminator="").writerow(cells)
            return out.getvalue()

        def edit(field: str, kind: str, cells: list[str] | None, new: str = "", line: str = line, start: int = start, number: int = number) -> Edit:
            return Edit(where, fact, str(number), field, kind, start, start + len(line), put(cells) if cells is not None else new, number, number)

        for place, (column, cell) in enumerate(zip(head, cells, strict=True)):
            name = column.partition(" [")[0]
            numeric = " [" in column or name in ("A", "B", "C", "figure", "sides", "profile", "drink", "low", "high", "efficiency", "teeth", "from", "to", "checked", "time", "viscosity")
            if not cell or name in FIGURES_OF_WORDS or (not numeric and (name not in CHOICES or (fact, name) in WORDS) and (fact, name) != ("gloves", "family")):
                continue
            if name == "teeth":
                yield from (edit(name, kind, [*cells[:place], bad, *cells[place + 1:]]) for kind, bad in (("banana", "banana"), ("the sign turned", "-" + cell), ("the wrong order", " ".join(reversed(cell.split())))))
                continue
            for kind, bad in spoiled(cell, fact, name, bare=" [" in column):
                yield edit(name, kind, [*cells[:place], bad, *cells[place + 1:]])
            if name not in ("source", "unit", "from", "to", "figure", "old", "A", "B", "C") and not name.startswith(("lel_", "flash_")):
                yield edit(name, "empty", [*cells[:place], "", *cells[place + 1:]])
        yield edit(head[0], "a cell too many", [*cells, "x"])
        yield Edit(where, fact, str(number), head[0], "said twice", at, at, line + "\n", number + 1, number + 1)


def _tin(path: Path, root: Path) -> Iterator[Edit]:
    """Figures of a tin that cannot stand beside each other, each alone sensible: a whole new text, told at any of the lines that changed."""
    text = path.read_text(encoding="utf-8")
    where = path.relative_to(root).as_posix()
    had = dict(re.findall(r"^(\w+): (.+)$", text, re.MULTILINE))
    water = had["thin_with"] == "water"
    density = float(had["density"].split()[0])
    solids = float(had["volume_solids"].split()[0])
    film = float(had["dry_film"].split()[0])
    tries: list[tuple[str, dict[str, str]]] = [
        ("more VOC than the tin weighs", {"voc": f"{density * 1000 + 60:g} g/L"}),
        ("more VOC and solids than the tin weighs", {"mass_solids": "80 %", "voc": f"{density * 1000 * 0.35:g} g/L"}),
        ("the coldest over the warmest", {"air_min": "31 °C"}), ("thinned one and a half times", {"thinner_max": "150 %"}),
        ("Fahrenheit for Celsius, coldest", {"air_min": f"{float(had['air_min'].split()[0]) * 1.8 + 32:g} °C"}), ("Fahrenheit for Celsius, warmest", {"air_max": f"{float(had['air_max'].split()[0]) * 1.8 + 32:g} °C"}),
        ("a window that shuts before it opens", {"recoat_before": f"{float(had['recoat_after'].split()[0]) / 2:g} h"}),
        ("solids by mass under those by volume in a heavy paint", {"mass_solids": f"{solids * 0.5:g} %"}), ("solids by mass that leave nothing for what is thin", {"mass_solids": "100 %"}),
        ("covers three times what its solids give", {"coverage": f"{30 * solids / film:g} m²/L"}), ("covers a tenth of what its solids give", {"coverage": f"{solids / film:g} m²/L"}),
        ("another family's thinner", {"thin_with": "white spirit" if water else "water", "thinner_density": "780 g/L" if water else "0 g/L", "thinner_max": had["thinner_max"] if had["thinner_max"] != "0 %" else "10 %"}),
        ("water that is VOC, or a solvent that is none", {"thin_with": had["thin_with"] if had["thin_with"] != "nothing" else "white spirit", "thinner_density": "780 g/L" if water else "0 g/L", "thinner_max": "5 %"}),
        ("denser as water and half solids", {"density": "0.7 kg/L", "volume_solids": "60 %"} if water else {"density": "2.9 kg/L"}),
        ("pot life under induction", {"two_pack": '{ratio: "4:1", hardener_density: 0.98 kg/L, induction: 5 h, pot_life: 2 h}'}),
        ("a water paint that flashes, or a solvent one that does not", {"sds": "{flash_point: 20 °C}" if water else "{flash_point: 190 °C}"}),
        ("wet film under the dry one", {"wet_film": f"{film * 0.8:g} µm"}),
    ]
    if "trial" in had and "supplied" in had:
        seconds = float(had["supplied"].split()[0])
        tries += [("slower after thinner", {"trial": f"{{thinner: 5 %, time: {seconds + 9:g} s in ford-4}}"}), ("a first dose over the label's most", {"trial": f"{{thinner: 40 %, time: {seconds * 0.6:g} s in ford-4}}"}),
                  ("a trial that thins to nothing", {"trial": "{thinner: 1 %, time: 21 s in ford-4}"} if seconds > 50 else {"trial": f"{{thinner: 5 %, time: {seconds + 2:g} s in ford-4}}"})]
    for kind, changes in tries:
        lines = [line for line in text.splitlines() if line.partition(":")[0] not in changes]
        new = "\n".join([*lines, *(f"{name}: {value}" for name, value in changes.items())]) + "\n"
        yield Edit(where, "coatings", path.stem, "+".join(changes), kind, 0, len(text), new, 1, len(lines) + len(changes))


def edits(root: Path) -> list[Edit]:
    """Every edit of every file, in file order."""
    found: list[Edit] = []
    base = root / "site_data"
    for path in sorted(base.rglob("*.yaml")):
        found += of_yaml(path, root)
    for path in sorted(base.rglob("*.csv")):
        found += of_csv(path, root)
    for path in sorted((base / "coatings").glob("*.yaml")):
        found += _tin(path, root)
    return found


def rounds(all_edits: list[Edit], seed: int = 1) -> list[list[Edit]]:
    """Edits in rounds: one for each entry at a time, and files that others name by themselves."""
    groups: dict[int, dict[tuple[str, str], list[Edit]]] = defaultdict(lambda: defaultdict(list))
    for edit in all_edits:
        groups[ALONE.get(edit.fact, 0)][edit.path, edit.entry].append(edit)
    found: list[list[Edit]] = []
    for group in groups.values():
        for queue in group.values():
            random.Random(seed).shuffle(queue)
        found += [[queue[place] for queue in group.values() if place < len(queue)] for place in range(max(map(len, group.values())))]
    random.Random(seed).shuffle(found)
    return found


def caught(edit: Edit, told: set[tuple[str, int]]) -> bool:
    """Whether it was told at its own line."""
    return any((edit.path, line) in told for line in range(edit.line, edit.last + 1))


def play(edits_of_round: list[Edit], folder: Path) -> tuple[set[tuple[str, int]], set[tuple[str, int]]]:
    """(lines refused, lines called doubtful) once all these edits are made in a folder that was sound, which is sound again afterwards."""
    by: dict[str, list[Edit]] = defaultdict(list)
    for edit in edits_of_round:
        by[edit.path].append(edit)
    before, moved = {}, {}
    for path, found in by.items():
        text = before[path] = (folder / path).read_text(encoding="utf-8")
        shift: list[tuple[int, int]] = []
        for edit in sorted(found, key=lambda one: -one.start):
            shift.append((_lines(text, edit.start), edit.new.count("\n") - text.count("\n", edit.start, edit.end)))
            text = text[: edit.start] + edit.new + text[edit.end:]
        moved[path] = shift
        (folder / path).write_text(text, encoding="utf-8")
    try:
        facts = load(folder)
        problems, doubts = [], list(getattr(facts, "doubts", ()))
    except FactsError as error:
        problems, doubts = error.problems, list(getattr(error, "doubts", ()))
    finally:
        for path, text in before.items():
            (folder / path).write_text(text, encoding="utf-8")

    def back(path: str, line: int) -> int:
        """A line of the spoiled file as it was numbered before."""
        for at, by_lines in sorted(moved.get(path, ())):
            if (by_lines < 0 and line >= at) or (by_lines > 0 and line > at):
                line -= by_lines
        return line

    return {(one.path, back(one.path, one.line)) for one in problems}, {(one.path, back(one.path, one.line)) for one in doubts}


def campaign(chosen: list[list[Edit]]) -> tuple[Counter[str], list[Edit], Counter[str]]:
    """(refused, doubtful and let through, in numbers; what was let through; how many of each fact)."""
    count: Counter[str] = Counter()
    each: Counter[str] = Counter()
    missed: list[Edit] = []
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        shutil.copytree(ROOT / "site_data", folder / "site_data")
        shutil.copytree(ROOT / "handbook", folder / "handbook")
        for place, these in enumerate(chosen):
            refused, doubtful = play(these, folder)
            for edit in these:
                each[edit.fact] += 1
                how = "refused" if caught(edit, refused) else "doubtful" if caught(edit, doubtful) else "let through"
                count[how] += 1
                if how == "let through":
                    missed.append(edit)
            if sys.stderr.isatty():
                print(f"\r{place + 1}/{len(chosen)}", end="", file=sys.stderr)
    return count, missed, each


def main() -> int:
    """Print how much nonsense is caught, and what is not."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=0, help="so many rounds, picked by chance (default: all)")
    parser.add_argument("--facts", default="", help="only these files, with commas, such as coatings,kits")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--missed", type=int, default=100, help="how many of those let through to print")
    options = parser.parse_args()
    every = [edit for edit in edits(ROOT) if not options.facts or edit.fact in options.facts.split(",")]
    chosen = rounds(every, options.seed)
    count, missed, each = campaign(chosen[: options.rounds or None])
    total = sum(count.values())
    by = Counter(edit.fact for edit in missed)
    for fact, number in sorted(each.items()):
        print(f"{fact:20} {number:6}  let through {by[fact]:4}")
    for (fact, field, kind), number in Counter((edit.fact, edit.field, edit.nonsense) for edit in missed).most_common(options.missed):
        print(f"  {number:4}  {fact}.{field}: {kind}   {next(str(edit) for edit in missed if (edit.fact, edit.field, edit.nonsense) == (fact, field, kind))}")
    print(f"{total} pieces of nonsense in {len(chosen[: options.rounds or None])} rounds: {count['refused']} refused, {count['doubtful']} doubtful, {count['let through']} let through ({100 * (1 - count['let through'] / total):.1f} % caught)")
    return 0 if count["let through"] <= 0.02 * total else 1


if __name__ == "__main__":
    sys.exit(main())
