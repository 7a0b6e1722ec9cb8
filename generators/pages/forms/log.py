"""The daily log: one day on one job."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, coatings, cups, date, kits, long, number, photographs, pick, text, tick, time


def daily_log(facts: Any) -> Form:
    """One day on one job: conditions, material, readings, safety, waste."""
    return Form(
        "log",
        "Daily log",
        (
            Block(
                "day",
                "The day",
                (
                    date("date", "Date", short=True, today=True),
                    text("title", "Job, in a few words", short=True),
                    text("operator", "Who sprayed", short=True),
                    time("start", "Started", short=True),
                    time("end", "Ended", short=True),
                ),
            ),
            Block(
                "conditions",
                "Air and surface",
                (
                    time("time", "Time", short=True),
                    number("air-temperature", "Air", "°C", short=True),
                    number("relative-humidity", "Humidity", "%", short=True),
                    number("surface-temperature", "Surface, coldest place", "°C", short=True),
                    number("wind", "Wind", "m/s"),
                    text("wind-from", "Wind from"),
                    text("sky", "Rain, frost, sun"),
                ),
                many="reading of the air",
                rows=({}, {}),
                hint="At each start, every four hours, and at dusk. The dew margin is worked under it.",
            ),
            Block(
                "surface",
                "What was coated",
                (
                    text("area", "What, and where"),
                    text("material", "Material, and what was on it"),
                    text("prepared", "Prepared how, and to what grade"),
                    text("moisture", "Moisture readings"),
                    text("before", "Photographs before, named"),
                ),
                fold=True,
            ),
            Block(
                "material",
                "Material",
                (
                    pick("coating", "From the handbook", coatings(facts), short=True),
                    text("named", "Name and colour, where it is not"),
                    text("batch", "Batch", short=True),
                    date("opened", "Tin opened"),
                    text("ratio", "Base to hardener, where two-pack"),
                    time("mixed-at", "Mixed at"),
                    number("paint-temperature", "Paint", "°C", short=True),
                    pick("cup", "Cup", cups(facts), short=True, start=facts.kits[facts.handbook.default_kit].limit.cup),
                    number("seconds", "First break after", "s", short=True),
                    text("thinner-name", "Thinner, by name"),
                    number("thinner", "Thinner, of the paint", "%", short=True),
                    text("strainer", "Strainer"),
                ),
            ),
            Block(
                "equipment",
                "Kit",
                (
                    pick("kit", "Kit", kits(facts), short=True, start=facts.handbook.default_kit),
                    number("nozzle", "Nozzle", "mm", short=True),
                    number("fan", "Fan width", "mm"),
                    number("distance", "Gun to surface", "mm", short=True),
                    number("flow", "Flow", "mL/min"),
                    text("pressure", "Cap pressure, as read"),
                    tick("filters", "Filters looked at"),
                ),
            ),
            Block(
                "readings",
                "Wet film, read with the comb",
                (number("wet-film", "Wet film", "µm", short=True), text("place", "Where")),
                many="reading of the film",
                rows=({}, {}, {}),
                hint="Three at the least, five for each surface. Mean and lowest are worked under it.",
            ),
            Block(
                "pots",
                "Pots timed and weighed",
                (
                    number("first-seconds", "As supplied, first break after", "s"),
                    number("dose", "Thinner, of the paint", "%"),
                    number("dose-seconds", "Then after", "s"),
                    number("pot-before", "Pot on the scale, before", "g"),
                    number("pot-after", "Pot on the scale, after", "g"),
                    number("trigger", "Trigger open for", "s"),
                ),
                many="pot",
                rows=(),
                fold=True,
                hint="Half a minute of open trigger into a bucket, fan and fluid as you spray. Ten pots say how your kit flows.",
            ),
            Block(
                "boards",
                "Boards weighed",
                (
                    number("board-before", "Board, before", "g"),
                    number("board-after", "Board at once after, wet", "g"),
                    number("board-pot", "Pot lost meanwhile", "g"),
                    number("board-distance", "Gun to board", "mm"),
                ),
                many="board",
                rows=(),
                fold=True,
                hint="A board larger than the stroke. Three boards at your distance; two more 80 mm (3 in) farther say how it falls.",
            ),
            Block(
                "strokes",
                "One stroke under the comb",
                (number("fan-wide", "Whole fan, edge to edge", "mm"), number("fan-place", "From its middle", "mm"), number("fan-film", "Wet film there", "µm")),
                many="place across the stroke",
                rows=(),
                fold=True,
                hint="Seven places or more, edges too. They say what step your fan wants.",
            ),
            Block(
                "result",
                "What it took, and how it came out",
                (
                    number("coat", "Coat number", "1"),
                    number("litres-out", "Paint taken out", "L"),
                    number("litres-back", "Paint brought back", "L"),
                    number("done", "Area done", "m²"),
                    time("touch-dry", "Touch dry at"),
                    text("next-coat", "Next coat at"),
                    time("tape-off", "Tape off at"),
                    text("dry-film", "Dry-film readings, strip named"),
                    text("adhesion", "Adhesion, class"),
                    long("seen", "How it looks", short=True),
                    long("faults", "What went wrong, and the cure"),
                    long("photos", "Photographs, named: label and batch; meter on the surface", short=True),
                ),
            ),
            Block(
                "took",
                "Hours by stage",
                (
                    pick("stage", "Stage", tuple((key, one.label) for key, one in facts.stages.items())),
                    number("stage-hours", "By the clock", "h"),
                    number("people", "People", "1", start="1"),
                ),
                many="stage",
                hint="With the same words in “Job” as on its job sheet, they stand there beside the hours that were quoted.",
                fold=True,
                rows=(),
            ),
            Block(
                "safety",
                "Safety",
                (
                    date("sheet-date", "Safety data sheet of"),
                    text("mask", "Mask, and filters changed"),
                    text("alarms", "Smoke alarms covered"),
                    tick("alarms-back", "Smoke alarms uncovered, tested"),
                    time("cleared", "Room aired until"),
                    long("incident", "Near miss or incident"),
                ),
                fold=True,
            ),
            Block(
                "waste",
                "Waste",
                (
                    number("waste-litres", "Washings and paint", "L"),
                    text("waste-code", "Code"),
                    text("waste-to", "Container, carrier, ticket"),
                    pick("rags", "Oily rags: laid out, or under water", (("none", "none"), ("out", "laid out singly"), ("water", "under water, lid on"))),
                ),
                fold=True,
            ),
            photographs("label", "meter", "before", "masking", "after"),
            Block("signed", "Signed", (text("signed-us", "Applicator", short=True), text("signed-customer", "Customer"))),
        ),
        ("title", "date"),
        (*SCRIPTS, "day", "log"),
        (),
        toggles=(("short", "Short form"),),
        actions=(("csv", "This one as CSV"), ("recipe", "It worked: keep as a recipe"), ("care", "Care sheet from it")),
        daily="date",
        outputs=(("worked", "Worked from it", "readings"),),
    )
