"""Tables of the survey and of keeping: what over what, surfaces before paint, how much of it, clean-down."""

from __future__ import annotations

from typing import Any

import numpy as np

from generators import units
from generators.studies.areas import SHAPES, piece_area
from generators.table import CARE, FINE, MARKS, STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, no_figures

ZONES = {"yes": FINE, "care": CARE, "no": STOP}
SAID = {"yes": "yes", "care": "care", "no": "no"}


def _label(book: Book, one: Any) -> str:
    return book.label(one)


def _verdict(row: Any) -> str:
    return f"{MARKS[ZONES[row.verdict]]} {SAID[row.verdict]}: {row.word}"


def _none(name: str, title: str, file: str) -> TextTable:
    return no_figures(name, title, f"This handbook has no site_data/{file}.")


def over(book: Book) -> TextTable:
    """The whole matrix at a glance: a mark and two words in every cell."""
    facts = book.facts
    if not facts.over:
        return _none("over", "What over what", "over.csv")
    new = [key for key, one in facts.finishes.items() if one.new]
    return TextTable(
        "over", "What over what", "New coat: each row. What is there now: each column. It has to be sound, clean and dry first.",
        ("New coat", *(f"Over {one.short}" for one in facts.finishes.values())),
        tuple((facts.finishes[key].short.capitalize(), *(_verdict(facts.over[key, old]) for old in facts.finishes)) for key in new),
        zones=tuple(tuple(ZONES[facts.over[key, old].verdict] for old in facts.finishes) for key in new), grid=True,
        notes=("Common practice, no source: the two data sheets come first.",),
    )


def over_why(book: Book, new: str | None = None) -> TextTable:
    """The same with a sentence in every cell: all, or one new coat."""
    facts = book.facts
    if not facts.over:
        return _none("over-why", "What over what, and why", "over.csv")
    rows, zones = [], []
    for key in (new,) if new else [key for key, one in facts.finishes.items() if one.new]:
        if key not in facts.finishes or not facts.finishes[key].new:
            raise ValueError(f"no coat to spray {key!r}; there are: " + ", ".join(name for name, one in facts.finishes.items() if one.new))
        found = [facts.over[key, old] for old in facts.finishes]
        rows.append((_label(book, facts.finishes[key]), *(f"{_verdict(row)}. {row.why}" for row in found)))
        zones.append(tuple(ZONES[row.verdict] for row in found))
    title, caption = ("Over each old coat", "Sound, clean and dry.") if new else ("What over what, and why", "Each new coat, over each coat that may be there.")
    return TextTable("over-why", title, caption, ("New coat", *(f"Over {one.short}" for one in facts.finishes.values())), tuple(rows), zones=tuple(zones))


def rub_test(book: Book) -> TextTable:
    """How to tell an old finish."""
    if not book.facts.finishes:
        return _none("rub-test", "What is the old finish?", "finishes.yaml")
    return TextTable("rub-test", "What is the old finish?", "A white cloth, a hidden patch, a minute each. Common practice.", ("It is", "Rub", "Looks"),
                     tuple((_label(book, one), one.rub, one.looks) for one in book.facts.finishes.values()))


def substrates(book: Book) -> TextTable:
    """Each surface: how dry, how sound, what else."""
    facts = book.facts
    if not facts.substrates:
        return _none("substrates", "Surfaces before paint", "substrates.yaml")
    rows = []
    for one in facts.substrates.values():
        meter = f"{one.moisture_good.to('%'):g} % or less, never over {one.moisture_max.to('%'):g} %. " if one.moisture_max else "No percentage: a wood meter means nothing here."
        rows.append((_label(book, one), meter.strip(), one.damp, one.sound, one.otherwise, str(one.origin.basis)))
    return TextTable("substrates", "Surfaces before paint", "How dry and how sound each has to be. The data sheet of the paint comes first.",
                     ("Surface", "Meter", "Damp", "Sound", "If not", "Basis"), tuple(rows))


READINGS = (8, 10, 12, 14, 15, 16, 17, 18, 19, 20, 22, 25)


def moisture(book: Book) -> Table | TextTable:
    """What a wood meter's reading leaves up to the limit, by the kind of work."""
    wood = {key: one for key, one in book.facts.substrates.items() if one.moisture_max}
    if not wood:
        return _none("moisture", "The moisture meter says", "substrates.yaml")
    readings = np.array(READINGS, float)
    good = np.array([one.moisture_good.to("%") for one in wood.values()])
    most = np.array([one.moisture_max.to("%") for one in wood.values()])
    room = most[None, :] - readings[:, None]
    zones = np.where(readings[:, None] <= good[None, :], FINE, np.where(room >= 0, CARE, STOP))
    return Table(
        "moisture", "The moisture meter says", "Points of moisture left up to the limit. Below zero it is too wet. For a pin meter set to the kind of wood, in sound bare wood.",
        Axis.of("Meter", "%", readings), Axis("", "", tuple(_label(book, one).split(" (")[0] for one in wood.values())), frame(room), "% points", Rounding("down", 1), book.system,
        zones=frame(zones), zone_words={FINE: "dry enough", CARE: "only just: the meter may be wrong by more, read three more places", STOP: "too wet: do not paint"},
        notes=("Common practice. Paint, salts, metal and preservative under the pins all read wrong.",),
    )


def area_factors(book: Book) -> TextTable:
    """What makes a surface bigger, and what makes it drink."""
    rows = []
    for row in book.facts.area_factors:
        low, high = row.low.to("×"), row.high.to("×")
        said = f"× {low:g}" if low == high else f"× {low:g} to {high:g}"
        rows.append((row.shape if book.metric else row.us, said if row.counts == "area" else "–", said if row.counts == "litres" else "–", row.why, str(row.basis)))
    if not rows:
        return _none("area-factors", "Bigger than it looks, thirstier than it looks", "area_factors.csv")
    return TextTable("area-factors", "Bigger than it looks, thirstier than it looks", "Multiply the face by the first, the paint by the second.",
                     ("Surface", "Area", "Paint", "Why", "Basis"), tuple(rows), grid=True)


LOUVRE_PITCH, LOUVRE_WIDTH, LOUVRE_THICK = (25.0, 30.0, 35.0, 40.0, 50.0), (30.0, 35.0, 45.0, 55.0, 65.0, 90.0), 6.0


def louvres(book: Book) -> Table:
    """Surface of all slats against the face, by width and pitch."""
    unit = book.pick("mm", "in")
    widths = np.array(book.pick(LOUVRE_WIDTH, (1.25, 1.5, 1.75, 2.25, 2.5, 3.5)), float)
    pitches = np.array(book.pick(LOUVRE_PITCH, (1, 1.25, 1.375, 1.625, 2)), float)
    thick = book.pick(LOUVRE_THICK, 0.25)
    values, why = compute(book.formulas["louvre-area-factor"], {"slat-width": widths[:, None], "slat-thickness": thick, "slat-pitch": pitches[None, :]}, "×",
                          {"slat-width": unit, "slat-thickness": unit, "slat-pitch": unit})
    return Table(
        "louvres", "Louvres: times the face", f"All sides of all slats, {thick:g} {unit} thick, over the area of one face. A flat leaf's two sides are 2.",
        Axis.of("Slat", unit, widths), Axis.of("Pitch", unit, pitches), frame(values), "× one face", Rounding("up", 0.1), book.system, reasons=frame(why), formulas=("louvre-area-factor",),
        notes=("The frame comes on top, as flat work.",),
    )


def mask_reach(book: Book) -> Table:
    """How far a drop drifts indoors before it is on the floor, by its size and the air in the room."""
    unit = book.pick("m", "ft")
    size = book.pick("µm", "mil")
    drops = np.array(book.pick((10, 20, 30, 40, 50), (0.4, 0.8, 1.2, 1.6, 2)), float)
    air_unit = book.pick("m/s", "ft/min")
    airs = np.array(book.pick((0.05, 0.2, 0.5), (10, 40, 100)), float)
    fall, _ = compute(book.formulas["settling-speed"], {"droplet-diameter": drops, "density": 1200.0}, "mm/s", {"droplet-diameter": size})
    values, why = compute(book.formulas["drift-distance"], {"settling-speed": fall[:, None], "height": book.pick(1.5, units.convert(5.0, "ft", "m")), "wind": airs[None, :]}, unit, {"wind": air_unit})
    step = book.pick(0.5, 1)
    return Table(
        "mask-reach", "How far mist goes indoors", f"Distance a drop drifts before it lands, let go at {book.pick('1.5 m', '5 ft')}, in steady air: hardly moving, doors shut, a fan or an open window.",
        Axis.of("Drop", size, drops), Axis.of("Air in the room", air_unit, airs), frame(values), unit, Rounding("up", step), book.system,
        reasons=frame(why), formulas=("settling-speed", "drift-distance"),
        notes=("A turbine gun makes all of these sizes. The finest hardly land at all: they go where the air goes.",),
    )


def efficiency_by_work(book: Book) -> TextTable:
    """Planning values of what lands from a turbine gun, by the work."""
    rows = tuple((row.method.removesuffix(", turbine").capitalize(), row.efficiency.text, str(row.basis)) for row in book.facts.efficiencies if row.method.endswith(", turbine"))
    if not rows:
        return _none("efficiency-by-work", "What lands, by the work", "efficiencies.csv")
    return TextTable("efficiency-by-work", "What lands, by the work", "From a turbine gun in steady air. Wind takes more. Weigh your own.", ("Work", "Lands", "Basis"), rows, grid=True)


COUNTS = (1, 5, 10, 20)


def pieces(book: Book, wet_film: float = 75.0) -> Table | TextTable:
    """Area of usual pieces, and paint through the gun for several, one coat."""
    things = book.facts.pieces
    if not things:
        return _none("pieces", "Paint by the piece", "pieces.yaml")
    rig = book.facts.kits[book.facts.handbook.default_kit]
    area_unit, paint_unit, film_unit = book.pick(("m²", "L", "µm"), ("ft²", "qt", "mil"))
    film = book.pick(wet_film, 3.0)
    area = np.array([piece_area(book.formulas, one) for one in things.values()])
    counts = np.array(COUNTS, float)
    paint, why = compute(book.formulas["paint-for-area"], {"area": area[:, None] * counts[None, :], "wet-film": film, "transfer-efficiency": rig.transfer_efficiency.to("%")}, paint_unit, {"wet-film": film_unit})
    step = Rounding("up", 0.1)
    return Table(
        "pieces", "Paint by the piece", f"One coat of {film:g} {film_unit} wet when {rig.transfer_efficiency.value:g} % lands. Faces and edges counted, sealed and smooth.",
        Axis("Piece", "", tuple(_label(book, one) for one in things.values())), Axis("", "", (f"area {area_unit}", *(f"paint for {count}, {paint_unit}" for count in COUNTS))),
        frame(np.column_stack([units.convert(area, "m²", area_unit), paint])), "", step, book.system, reasons=frame(np.column_stack([np.full(len(things), "", dtype=object), why])),
        roundings=(Rounding("up", book.pick(0.01, 0.1)), *(step,) * len(COUNTS)), formulas=tuple(dict.fromkeys([*(SHAPES[one.shape][0] for one in things.values()), "paint-for-area"])),
        notes=("Usual sizes: measure yours. What stays in pot, strainer and hose comes on top, once for each fill.",),
    )


def clean_down(book: Book) -> TextTable:
    """Each family: how soon it sets in the nozzle, and what to do between coats. The page gives the steps."""
    facts = book.facts
    if not facts.cleaning:
        return _none("clean-down", "Clean-down by family", "cleaning.yaml")
    rows = tuple((_label(book, one), f"{one.sets_soon.to('min'):g} min in warm air, {one.sets_late.to('min'):g} min in cool air", one.between) for one in facts.cleaning.values())
    return TextTable("clean-down", "Can I leave it between coats?", "Common practice. The data sheet comes first.", ("Family", "Sets in the nozzle", "Between coats"), rows)


def sleeping(book: Book) -> TextTable:
    """What may stay in a cold van overnight."""
    facts = book.facts
    if not facts.cleaning:
        return _none("sleeping", "What sleeps in the van", "cleaning.yaml")
    return TextTable("sleeping", "What sleeps in the van", "Common practice. The label decides.", ("Family", "Frost tonight"), tuple((_label(book, one), one.frost) for one in facts.cleaning.values()))


BUILDERS = {
    "over": Builder(over, twins=False),
    "over-why": Builder(over_why, twins=False),
    "rub-test": Builder(rub_test, twins=False),
    "substrates": Builder(substrates, twins=False),
    "moisture": Builder(moisture, twins=False),
    "area-factors": Builder(area_factors, twins=False),
    "louvres": Builder(louvres),
    "pieces": Builder(pieces),
    "efficiency-by-work": Builder(efficiency_by_work, twins=False),
    "mask-reach": Builder(mask_reach),
    "clean-down": Builder(clean_down, twins=False),
    "sleeping": Builder(sleeping, twins=False),
}
