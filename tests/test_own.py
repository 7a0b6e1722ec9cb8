"""An own kit or paint typed on a phone: checked as a file is, told to the chain as a file's facts are, and taken into site_data by `almanac take`."""

from __future__ import annotations

import hashlib
import json
import random
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from generators import quantity
from generators.chain import tell
from generators.chain.day import Day
from generators.chain.own import own_described
from generators.cli import main
from generators.facts import FactsError
from generators.facts.load import load
from generators.facts.taken import take

HERE = Path(__file__).parent
ROOT = HERE.parent
ASSETS = ROOT / "generators" / "site" / "theme" / "assets"

PAINT = {"name": ("Harbour Eggshell", ""), "class": ("waterborne-trim-enamel", ""), "volume-solids": ("39", "%"), "dry-film": ("35", "µm"), "density": ("1.25", "kg/L"), "voc": ("30", "g/L"),
         "thinner-max": ("8", "%"), "air-min": ("8", "°C"), "air-max": ("32", "°C"), "humidity-max": ("80", "%"), "recoat-after": ("4–6", "h"), "seconds": ("58", "s"), "cup": ("ford-4", ""),
         "basis": ("measured", "")}
KIT = {"name": ("Garage four-stage", ""), "stages": ("4", "1"), "seconds": ("40", "s"), "cup": ("ford-4", ""), "pattern": ("taper", ""),
       "pot": ("1", "qt"), "fan-angle": ("50", "deg"), "near": ("6", "in"),
       "far": ("10", "in"), "flow": ("130 ± 10", "mL/min"), "transfer-efficiency": ("60", "%"), "noise": ("84", "dBA"), "nozzle": ("1.4", "mm"), "basis": ("measured", "")}
EPOXY = {**PAINT, "name": ("Slip Epoxy", ""), "class": ("two-pack-epoxy", ""), "thinner-density": ("860", "g/L"), "thin-with": ("epoxy thinner", ""),
         "hardener": ("amine", ""), "ratio": ("4:1", ""),
         "hardener-density": ("0.98", "kg/L"), "pot-life": ("5–6", "h"), "recoat-before": ("72", "h"), "trial-thinner": ("5", "%"), "trial-seconds": ("42", "s")}
GOOD = {"a paint": ("coating", PAINT), "a kit in US units": ("kit", KIT), "an epoxy": ("coating", EPOXY)}


@pytest.fixture(scope="module")
def phone(facts, catalogue, tmp_path_factory):
    """What the phone makes of each thing typed: [(sort, held)] → [{problems, missing, stops, facts, sheet}]."""
    folder = tmp_path_factory.mktemp("own")
    (folder / "data.json").write_text(json.dumps({"grammar": quantity.script(), "own": own_described(Day(facts, catalogue))}), encoding="utf-8")

    def ask(things: list[tuple[str, dict[str, tuple[str, str]]]]) -> list[dict[str, Any]]:
        told = [[sort, {name: {"text": text, "unit": unit} for name, (text, unit) in held.items()}, "2026-11-26"] for sort, held in things]
        (folder / "things.json").write_text(json.dumps(told), encoding="utf-8")
        done = subprocess.run(["node", str(HERE / "own_phone.js"), str(ASSETS), str(folder / "data.json"), str(folder / "things.json")], capture_output=True, text=True, timeout=120, check=False)
        assert done.returncode == 0, done.stderr[-2000:]
        return json.loads(done.stdout)

    return ask


@pytest.fixture
def home(tmp_path):
    """A handbook's facts of their own, to take things into."""
    shutil.copytree(ROOT / "site_data", tmp_path / "home" / "site_data")
    return tmp_path / "home"


def taken_out(folder: Path, things: list[tuple[str, dict[str, tuple[str, str]]]]) -> Path:
    """A file as a phone takes it out: one edit for each field, and another kind of record beside them."""
    lines, n = [json.dumps({"made": "2026-11-26T18:00:00+00:00"})], 0
    for place, (sort, held) in enumerate([*things, ("log", {"title": ("Door", "")})]):
        kind = {"kit": "own-kit", "coating": "own-paint"}.get(sort, sort)
        for field, (text, unit) in {"~kind": (kind, ""), **held}.items():
            n += 1
            edit = {"dev": "abcdefgh123456", "n": n, "at": n, "rec": f"{kind}-{place}", "row": "", "field": field, "text": text, "unit": unit, "when": "2026-11-26T17:00:00+00:00", "prev": []}
            lines.append(json.dumps({"edit": edit}))
    body = "\n".join(lines) + "\n"
    path = folder / "records.jsonl"
    path.write_text(f'{{"sprayers-almanac-journal":1,"sha256":"{hashlib.sha256(body.encode()).hexdigest()}"}}\n{body}', encoding="utf-8")
    return path


def _same(phone: Any, told: tell.Told) -> bool:
    if isinstance(phone, list) and isinstance(told.value, tuple):
        return all(abs(one - other) <= 1e-9 * max(1.0, abs(other)) for one, other in zip(phone, told.value, strict=True))
    return phone == told.value


def _differences(mine: dict[str, Any], told: dict[str, tell.Told]) -> list[str]:
    return [f"{name}: phone {mine.get(name, ['(none)'])[0]!r}, file {one.value!r}" for name, one in told.items() if name not in mine or not _same(mine[name][0], one)]


@pytest.mark.parametrize("what", GOOD)
def test_the_phone_tells_what_the_file_tells(what, phone, home, tmp_path):
    """Typed on the phone and taken into a file of the handbook: every fact that the chain asks for is the same, and the data sheet's timings are."""
    sort, held = GOOD[what]
    [mine] = phone([(sort, held)])
    assert mine["problems"] == [] and mine["missing"] == []
    [written] = take(home, taken_out(tmp_path, [(sort, held)]))
    facts = load(home)
    slug = written.stem
    told = tell.kit_told(facts, slug) if sort == "kit" else tell.coating_told(facts, slug, facts.handbook.region)
    told = {name: one for name, one in told.items() if name not in ("coating.name", "kit.name")}  # a name bears a word where a figure is doubtful: the file alone says that
    assert _differences(mine["facts"], told) == []
    if sort == "coating":
        assert [tuple(one) for one in mine["sheet"]] == list(tell.sheet_timings(facts, slug))
    one = (facts.kits if sort == "kit" else facts.coatings)[slug]
    assert str(one.basis) == "measured" and one.date == "2026-11-26"


STOPPED = {
    "a two-pack that says nothing": {**EPOXY, "hardener": ("", "")},
    "a pot life in a one-pack's class": {**PAINT, "pot-life": ("4", "h"), "ratio": ("4:1", ""), "hardener-density": ("1", "kg/L")},
    "a two-pack's class alone": {**PAINT, "class": ("two-pack-epoxy", ""), "thinner-density": ("860", "g/L")}, "a polyurethane": {**EPOXY, "class": ("two-pack-polyurethane", ""),
        "hardener": ("amine", "")},
    "by its name": {**PAINT, "name": ("Polyisocyanate Clear", "")}, "by what it is thinned with": {**PAINT, "thin-with": ("HDI thinner", ""), "thinner-density": ("800", "g/L")},
    "by its notes": {**PAINT, "notes": ("Moisture-cured.", "")}, "said": {**PAINT, "hardener": ("isocyanate", "")},
}


@pytest.mark.parametrize("what", [pytest.param(what, marks=() if place < 2 else pytest.mark.sweep) for place, what in enumerate(STOPPED)])
def test_a_stop_is_on_it_on_the_phone_and_in_the_file(what, phone, home, tmp_path):
    [mine] = phone([("coating", STOPPED[what])])
    assert "isocyanates" in mine["stops"]
    if not mine["problems"] and not mine["missing"]:
        assert mine["facts"]["coating.stop"][0] == "isocyanates" and mine["facts"]["coating.hardener"][0] == "isocyanate"
    [written] = take(home, taken_out(tmp_path, [("coating", STOPPED[what])]))
    assert "isocyanates" in load(home).coatings[written.stem].stops


def test_free_of_it_is_no_stop(phone):
    [mine] = phone([("coating", {**PAINT, "name": ("Harbour, isocyanate-free", "")})])
    assert mine["stops"] == [] and mine["facts"]["coating.stop"][0] == "none"


# One field spoiled at a time: neither the phone nor the file takes it.
SPOILT = [(name, text) for name, texts in {
    "volume-solids": ("170", "-3", "much"), "dry-film": ("0", "2000"), "density": ("12", "1,2,3"), "voc": ("9000",), "thinner-max": ("200",),
    "air-min": ("33", "90"), "air-max": ("-41",), "humidity-max": ("151",),
    "recoat-after": ("0", "6–4"), "seconds": ("0", "9 m"), "cup": ("ford-9",), "class": ("emulsion",), "hardener": ("water",), "ratio": ("4", "0:1"), "trial-seconds": ("42",),
}.items() for text in texts]


@pytest.mark.parametrize(("name", "text"), [pytest.param(*one, marks=() if place % 8 == 0 else pytest.mark.sweep) for place, one in enumerate(SPOILT)])
def test_what_a_file_may_not_say_the_phone_does_not_take(name, text, phone, home, tmp_path):
    base = EPOXY if name == "ratio" else PAINT
    held = {**base, name: (text, base.get(name, ("", ""))[1])}
    [mine] = phone([("coating", held)])
    assert mine["problems"] or mine["missing"], name
    before = sorted(path.name for path in (home / "site_data" / "coatings").iterdir())
    with pytest.raises(FactsError) as told:
        take(home, taken_out(tmp_path, [("coating", held), ("kit", KIT)]))
    assert all(":" in str(one) and "wanted" in str(one) for one in told.value.problems)
    assert sorted(path.name for path in (home / "site_data" / "coatings").iterdir()) == before and not (home / "site_data/kits/garage-four-stage.yaml").exists()


def test_nothing_that_was_there_is_touched(home, tmp_path, capsys):
    """By the command: what it wrote, and a second time a refusal that says which file and why."""
    file = taken_out(tmp_path, [("coating", PAINT)])
    assert main(["--handbook", str(home), "take", str(file)]) == 0 and "harbour-eggshell.yaml" in capsys.readouterr().out
    written = home / "site_data/coatings/harbour-eggshell.yaml"
    assert main(["--handbook", str(home), "take", str(file)]) == 1 and "site_data/coatings/harbour-eggshell.yaml:1: wanted a name that is not there yet" in capsys.readouterr().err
    text = written.read_text(encoding="utf-8")
    with pytest.raises(FactsError, match="not there yet"):
        take(home, file)
    assert written.read_text(encoding="utf-8") == text
    with pytest.raises(FactsError, match="--source KEY"):
        take(home, taken_out(tmp_path, [("coating", {**PAINT, "name": ("Another", ""), "basis": ("published", "")})]))


@pytest.mark.parametrize("count", [25, pytest.param(400, marks=pytest.mark.sweep)])
def test_a_damaged_file_is_refused_whole(count, home, tmp_path):
    file, rolls = taken_out(tmp_path, [("coating", PAINT)]), random.Random(5)
    whole = file.read_bytes()
    for _ in range(count):
        at = rolls.randrange(len(whole))
        file.write_bytes(whole[:at] + bytes([whole[at] ^ (1 << rolls.randrange(7))]) + whole[at + 1 :] if rolls.random() < 0.7 else whole[:at])
        with pytest.raises(FactsError):
            take(home, file)
    assert not (home / "site_data/coatings/harbour-eggshell.yaml").exists()


def test_twelve_fields_are_enough(phone):
    """From nothing: twelve fields typed or chosen, the cup and the basis as the form begins with them."""
    typed = {name: one for name, one in PAINT.items() if name not in ("cup", "basis")}
    assert len(typed) == 12 and len([name for name in KIT if name not in ("cup", "basis")]) == 12
    mine = phone([("coating", PAINT), ("kit", KIT), ("coating", {**typed, "cup": ("ford-4", "")})])
    assert all(not one["problems"] and not one["missing"] for one in mine)
