"""Seven things that a newcomer adds, each by what DEVELOPERS.md says of it and by nothing else: the program takes them all, and each stands where the guide says.

What is added is invented. A guide that leaves a step out fails here, since the copy is not mended for it.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys

import pytest
from conftest import ROOT

FORMULA = '''strip_area = Formula(
    "strip-area", "Area of one stroke",
    inputs=(
        Symbol("stroke-length", "l", "mm", 100, 6000, "length of the stroke", 2000),
        Symbol("fan-width", "w", "mm", 10, 1000, "width of the fan", 230),
    ),
    answer=Symbol("area", "A", "m²", 0.001, 6, "area that one stroke covers"),
    expression="l*w", origin=_GEOMETRY,
)

'''
TABLE = '''def strip_areas(book: Book) -> Table:
    """Area of one stroke over its length and the fan's width."""
    unit, area = book.pick(("mm", "m²"), ("in", "ft²"))
    lengths, widths = (np.array(some, float) for some in book.pick(((500, 1000, 2000), (150, 200, 250)), ((20, 40, 80), (6, 8, 10))))
    values, why = compute(book.formulas["strip-area"], {"stroke-length": lengths[:, None], "fan-width": widths[None, :]}, area, {"stroke-length": unit, "fan-width": unit})
    return Table("strip-areas", "Area of one stroke", "What one stroke covers.", Axis.of("Length", unit, lengths), Axis.of("Fan", unit, widths), frame(values), area,
                 Rounding("down", 0.01), book.system, reasons=frame(why), formulas=("strip-area",))


'''
VERDICT = '''width = Verdict(
    "width", "Is the fan wide enough", "Is the fan at least as wide as the step?",
    tests=(
        Test("narrow", "fan", "<", "step", "care", "The fan is {fan}, the step {step}.", "Step less."),
    ),
    origin=_PRACTICE, go="Wide enough.",
)

'''
PAGE = '''# How much does one stroke cover?

A stroke covers its length times the fan's width, if nothing overlaps.

{{ table("strip-areas") }}

{{ live("strip-area") }}
'''
FAULT = '''grit:
  name: 'Grit in the film'
  basis: common practice
  others: ['nibs from the tin']
  feel: 'It feels rough'
  then: 'Hard grains under the finger'
  looks: 'Hard grains all over the film.'
  causes:
    - 'paint not strained'
    - 'dust in the cup'
  test: 'Strain a cup of it: what stays in the strainer?'
  now: 'Stop, strain the pot.'
  later: 'Rub down, recoat.'
  prevent: 'Strain every pot.'
  number: mix/stirring-and-straining
'''
PLANTED = '''grit:
  basis: common practice
  picture: "Sand would spoil the gun."
'''
DRILL = '''strain-drill:
  title: Strain a pot
  day: LAST
  basis: common practice
  aim: No pot goes into the gun unstrained.
  kit: [a strainer, two pots]
  set_up: A pot with grains in it, in a tray.
  steps: ["Strain it.", "Look at the strainer."]
  measure: pots strained without a grain left
  mark: {kind: count, of: pots, good: 99 %, bad: 70 %}
  why: One grain blocks a nozzle.
  minutes: 10
  judge: trainer
  page: mix/stirring-and-straining
'''


def put(path, before, new):
    """`new` in front of the first line that begins with `before`."""
    text = path.read_text(encoding="utf-8")
    at = re.search(rf"^{re.escape(before)}", text, re.M).start()
    path.write_text(text[:at] + new + text[at:], encoding="utf-8")


def appended(path, new):
    path.write_text(path.read_text(encoding="utf-8").rstrip("\n") + "\n" + new, encoding="utf-8")


@pytest.mark.sweep
def test_seven_things_are_added_by_their_guides(tmp_path):
    for name in ("site_data", "handbook", "generators"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copyfile(ROOT / "mkdocs.yml", tmp_path / "mkdocs.yml")
    data, rooms = tmp_path / "site_data", tmp_path / "generators"

    def almanac(*words):
        done = subprocess.run([sys.executable, "-m", "generators.cli", *words], cwd=tmp_path, capture_output=True, text=True, encoding="utf-8",
                              env={**os.environ, "PYTHONPATH": str(tmp_path), "PYTHONUTF8": "1", "PYTHONDONTWRITEBYTECODE": "1"})
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    tin = (data / "coatings/gannet-trim-satin.yaml").read_text(encoding="utf-8")
    (data / "coatings/new-tin.yaml").write_text(re.sub(r"^name: .*$", "name: New Tin", tin, flags=re.M), encoding="utf-8")
    put(rooms / "formulas/gun.py", "film_at = Formula(", FORMULA)
    menu = "      - gun/distance-and-fan.md\n"
    for path, old, new in (
            (rooms / "formulas/gun.py", "ALL = (", "ALL = (strip_area, "), (rooms / "tables/gun.py", "BUILDERS = {\n", 'BUILDERS = {\n    "strip-areas": Builder(strip_areas),\n'),
            (rooms / "verdicts/gun.py", "ALL = (", "ALL = (width, "), (tmp_path / "mkdocs.yml", menu, f"      - One stroke: gun/one-stroke.md\n{menu}")):
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, (path, old)
        path.write_text(text.replace(old, new), encoding="utf-8")
    put(rooms / "tables/gun.py", "def stroke_spacing(", TABLE)
    put(rooms / "verdicts/gun.py", "ALL = (", VERDICT)
    (tmp_path / "handbook/gun/one-stroke.md").write_text(PAGE, encoding="utf-8")
    appended(data / "faults.yaml", FAULT)
    appended(data / "planted.yaml", PLANTED)
    last = max(re.findall(r"^  day: (\d+)$", (data / "drills.yaml").read_text(encoding="utf-8"), re.M), key=int)
    appended(data / "drills.yaml", DRILL.replace("LAST", last))

    assert almanac("work", "strip-area", "stroke-length=2m", "fan-width=230mm").startswith("0.46 m²")
    assert "Is the fan at least as wide as the step?" in almanac("verdicts")
    almanac("build", "--quiet", "--out", "site")
    site = tmp_path / "site"
    assert "New Tin" in (site / "coatings/new-tin.html").read_text(encoding="utf-8") and "New Tin" in (site / "coatings/index.html").read_text(encoding="utf-8")
    page = (site / "gun/one-stroke.html").read_text(encoding="utf-8")
    assert "What one stroke covers." in page and 'data-formula="strip-area"' in page
    assert (site / "tables/strip-areas-metric.csv").is_file() and (site / "tables/strip-areas-us.csv").is_file() and (site / "assets/formulas/strip-area.js").is_file()
    assert "Hard grains" in (site / "faults/grit.html").read_text(encoding="utf-8") and "faults/grit.html" in (site / "assets/search-pages.js").read_text(encoding="utf-8")
    assert "Strain a pot" in (site / f"train/day-{last}.html").read_text(encoding="utf-8") and "Strain a pot" in (site / "train/sign-off.html").read_text(encoding="utf-8")
    assert "Is the fan wide enough" in (site / "reference/verdicts.html").read_text(encoding="utf-8")
