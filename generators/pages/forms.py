"""What a crew writes down: the job sheet, the daily log, the recipe, the care sheet. And the facts that their scripts fill in."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

from generators.facts.rows import Surface
from generators.form import Block, Entry, Form
from generators.formula.guards import brief
from generators.studies.job import WAYS, chain

TINS = {"metric": (1.0, 2.5, 5.0), "us": (0.946353, 3.785412, 18.92706)}  # litres: usual tins; a quart, a gallon, five gallons
PAINTS = 4  # paints that one job sheet can name
_YES = (("yes", "yes"), ("no", "no"), ("unknown", "not known"))


def _text(name: str, label: str, short: bool = False, start: str = "") -> Entry:
    return Entry(name, label, short=short, start=start)


def _long(name: str, label: str, short: bool = False) -> Entry:
    return Entry(name, label, "long", short=short)


def _number(name: str, label: str, unit: str, start: str = "", short: bool = False) -> Entry:
    return Entry(name, label, "number", unit, start=start, short=short)


def _pick(name: str, label: str, options: tuple[tuple[str, str], ...], start: str = "", short: bool = False) -> Entry:
    return Entry(name, label, "choice", options=options, start=start, short=short)


def _date(name: str, label: str, short: bool = False) -> Entry:
    return Entry(name, label, "date", short=short)


def _time(name: str, label: str, short: bool = False) -> Entry:
    return Entry(name, label, "time", short=short)


def _tick(name: str, label: str) -> Entry:
    return Entry(name, label, "tick")


def paints(facts: Any) -> list[str]:
    """Coatings that a job sheet may be filled from: none that carries a hard stop."""
    return [slug for slug, coating in facts.coatings.items() if not coating.stops and not (coating.class_key in facts.protection and facts.protection[coating.class_key].stop)]


def _label(facts: Any, one: Any) -> str:
    return str(one.us_label if isinstance(one, Surface) and facts.handbook.words == "us" else one["label"])


def _plain(value: float) -> str:
    return brief(value).replace("−", "-")


def _rate(facts: Any, key: str, unit: str, otherwise: float) -> str:
    return _plain(facts.rates[key].to(unit) if key in facts.rates else otherwise)


def _coatings(facts: Any) -> tuple[tuple[str, str], ...]:
    return tuple((slug, str(facts.coatings[slug].name)) for slug in paints(facts))


def _kits(facts: Any) -> tuple[tuple[str, str], ...]:
    return tuple((slug, str(kit.name)) for slug, kit in facts.kits.items())


def _cups(facts: Any) -> tuple[tuple[str, str], ...]:
    return tuple((slug, str(cup.label)) for slug, cup in facts.cups.items())


def job_sheet(facts: Any) -> Form:
    """Survey, paints, surfaces and rates of one job; litres, hours and price come out of it."""
    region = facts.handbook.region
    kit = facts.kits[facts.handbook.default_kit]
    first = facts.surfaces[0] if facts.surfaces else None

    def of(column: str, otherwise: str) -> str:
        """What the first kind of surface begins with."""
        return _plain(float(first[column])) if first else otherwise

    def rate(key: str, label: str, unit: str, otherwise: float, name: str = "") -> Entry:
        return _number(name or key.replace("_", "-"), label, unit, _rate(facts, key, unit, otherwise))

    return Form(
        "job",
        "Job sheet",
        (
            Block("name", "This job", (_text("title", "Job, in a few words"), _text("client", "Customer"))),
            Block(
                "paints",
                "Paints",
                (
                    _pick("coating", "From the handbook", _coatings(facts)),
                    _text("named", "Name and colour"),
                    _number("coats", "Coats", "1", start="2"),
                    _number("dry-film", "Dry film, each coat", "µm", start="30"),
                    _number("volume-solids", "Volume solids", "%", start="38"),
                    _number("thinner", "Thinner, of the paint", "%", start="0"),
                    _number("recoat", "Next coat, by data sheet", "h", start="4"),
                    _number("voc", "VOC", "g/L", start="50"),
                    _pick("dries", "Thinned with", (("water", "water"), ("other", "anything else")), start="water"),
                    *(
                        _number(
                            f"tin-{letter}{part}",
                            f"Tin {letter.upper()}, {'price' if part else 'holds'}",
                            "money" if part else "L",
                            _plain(litres * float(_rate(facts, "paint", "money/L", 20))) if part else f"{litres:.6g}",
                        )
                        for letter, litres in zip("abc", TINS[facts.handbook.system], strict=True)
                        for part in ("", "-price")
                    ),
                ),
                many="paint",
                hint=f"Figures come from the data sheet. Up to {PAINTS}: primer and finish are two paints. A coating with a hard stop is not in the list.",
            ),
            Block(
                "surfaces",
                "Surfaces",
                (
                    _pick("thing", "What", tuple((row.name, _label(facts, row)) for row in facts.surfaces), first.name if first else ""),
                    _text("where", "Where"),
                    _pick("paint", "Coated with", tuple((str(place), f"paint {place}") for place in range(1, PAINTS + 1)), start="1"),
                    _number("face", "One face", "m²", of("face [m²]", "1")),
                    _number("count", "How many", "1", start="1"),
                    _number("sides", "Sides", "1", of("sides", "1")),
                    _number("profile", "Times flat: edges, mouldings, slats", "×", of("profile", "1")),
                    _number("drink", "First coat drinks, times", "×", of("drink", "1")),
                    _number("spray-lands", "Lands, sprayed", "%", of("spray_lands [%]", "60")),
                    _number("brush-rate", "By brush, an hour", "m²/h", of("brush_rate [m²/h]", "4")),
                    _number("roll-rate", "By roller, an hour", "m²/h", of("roll_rate [m²/h]", "8")),
                ),
                many="surface",
                hint="A door and a fence have two sides.",
            ),
            Block(
                "kit",
                "Kit and pace",
                (
                    _pick("kit", "Kit", _kits(facts), start=facts.handbook.default_kit),
                    _number("flow", "Flow, by weight", "mL/min", start=_plain(kit.flow.to("mL/min"))),
                    _number("pot", "Pot", "L", start=_plain(kit.pot.to("L"))),
                    rate("duty", "Trigger pulled, of the time", "%", 45),
                    rate("refill", "Each fill, with straining", "min", 4),
                    rate("loss", "Left in pot and hose, each coat", "L", 0.25),
                    rate("spare", "To spare", "%", 5),
                    rate("hand_lands", "Lands from brush or roller", "%", 95),
                    _number("edges", "Edges to tape", "m", start="10"),
                    rate("edge_pace", "Tape, on and off", "min/m", 1),
                    _number("sheets", "To sheet", "m²", start="20"),
                    rate("sheet_pace", "Sheet, down and up", "min/m²", 0.5),
                    rate("hand_masking", "Masking for brush or roller, of that", "%", 40),
                    _number("air-temperature", "Air on the day", "°C", start="18"),
                    _number("relative-humidity", "Humidity on the day", "%", start="60"),
                    _pick("power-free", "Somewhere upwind for the turbine", _YES[:2]),
                ),
                fold=True,
            ),
            Block(
                "money",
                "Hours and money",
                (
                    rate("survey", "Survey and quote", "h", 1),
                    rate("set_up", "Setting up, sprayed", "h", 0.75),
                    rate("hand_set_up", "Setting up, by hand", "h", 0.25),
                    rate("clean_down", "Clean-down, sprayed", "h", 1),
                    rate("hand_clean_down", "Clean-down, by hand", "h", 0.4),
                    rate("hour", "An hour", "money/h", 30, "hour-rate"),
                    rate("thinner", "Thinner", "money/L", 5, "thinner-price"),
                    rate("sundries", "Tape, sheet, strainers", "money", 20),
                    rate("markup", "On materials", "%", 10),
                    rate("travel", "Travel, hire, waste fee", "money", 30, "fixed"),
                    rate("tax", "Tax on the whole", "%", 20 if region == "uk" else 0),
                ),
                hint="The rates are the handbook's own: put in yours, and keep them in site_data/rates.yaml.",
                fold=True,
            ),
            Block(
                "who",
                "Who and where",
                (
                    _text("contact", "Telephone"),
                    _long("address", "Address"),
                    _text("access", "Access, parking, keys"),
                    _text("power-water", "Power and water"),
                    _date("day", "Day of the survey"),
                ),
                fold=True,
            ),
            Block(
                "look",
                "What was found",
                (
                    _text("age", "Age of the building"),
                    _long("people", "Children, pregnancy, asthma, pets, birds, fish"),
                    _long("near", "Cars, plants, ponds, open windows near by"),
                    _text("old-finish", "Old finish, and the rub that told"),
                    _text("lead", "Lead: result, and how known"),
                    _text("asbestos", "Asbestos: result, and how known"),
                    _text("moisture", "Moisture readings"),
                    _long("damage", "Damage before we came, photographs named"),
                ),
                fold=True,
            ),
            Block(
                "agreed",
                "What was agreed",
                (
                    _long("system", "Coats, sheen, colour"),
                    _pick("sample", "Sample approved", _YES[:2]),
                    _text("light", "Looked at from, and in what light", start="1 m, the room's own light"),
                    _long("not-in", "Not in the price"),
                    _text("deposit", "Deposit and payment"),
                    _pick("photos", "Photographs allowed", _YES[:2]),
                    _text("waste", "Who takes the waste"),
                ),
                fold=True,
            ),
            Block("close", "Signed", (_long("notes", "Notes"), _text("signed-us", "For us, date"), _text("signed-customer", "Customer, date")), fold=True),
        ),
        ("title", "client", "address"),
        ("job-facts", "records", "job"),
        tuple(sorted({name for way in WAYS for name in chain(way).names})),
        outputs=(("options", "Sprayed, brushed or rolled", "surfaces"), ("shopping", "To buy and to bring", "money"), ("safety", "Air, masks and stops", "money")),
        sum_up=True,
    )


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
                    _date("date", "Date", short=True),
                    _text("title", "Job, in a few words", short=True),
                    _text("operator", "Who sprayed", short=True),
                    _time("start", "Started", short=True),
                    _time("end", "Ended", short=True),
                ),
            ),
            Block(
                "conditions",
                "Air and surface",
                (
                    _time("time", "Time", short=True),
                    _number("air-temperature", "Air", "°C", short=True),
                    _number("relative-humidity", "Humidity", "%", short=True),
                    _number("surface-temperature", "Surface, coldest place", "°C", short=True),
                    _number("wind", "Wind", "m/s"),
                    _text("wind-from", "Wind from"),
                    _text("sky", "Rain, frost, sun"),
                ),
                many="reading of the air",
                rows=({}, {}),
                hint="At each start, every four hours, and at dusk. The dew margin is worked under it.",
            ),
            Block(
                "surface",
                "What was coated",
                (
                    _text("area", "What, and where"),
                    _text("material", "Material, and what was on it"),
                    _text("prepared", "Prepared how, and to what grade"),
                    _text("moisture", "Moisture readings"),
                    _text("before", "Photographs before, named"),
                ),
            ),
            Block(
                "material",
                "Material",
                (
                    _pick("coating", "From the handbook", _coatings(facts), short=True),
                    _text("named", "Name and colour, where it is not"),
                    _text("batch", "Batch", short=True),
                    _date("opened", "Tin opened"),
                    _text("ratio", "Base to hardener, where two-pack"),
                    _time("mixed-at", "Mixed at"),
                    _number("paint-temperature", "Paint", "°C"),
                    _pick("cup", "Cup", _cups(facts), short=True, start=facts.kits[facts.handbook.default_kit].limit.cup),
                    _number("seconds", "First break after", "s", short=True),
                    _text("thinner-name", "Thinner, by name"),
                    _number("thinner", "Thinner, of the paint", "%", short=True),
                    _text("strainer", "Strainer"),
                ),
            ),
            Block(
                "equipment",
                "Kit",
                (
                    _pick("kit", "Kit", _kits(facts), short=True, start=facts.handbook.default_kit),
                    _number("nozzle", "Nozzle", "mm", short=True),
                    _number("fan", "Fan width", "mm"),
                    _number("distance", "Gun to surface", "mm", short=True),
                    _number("flow", "Flow", "mL/min"),
                    _text("pressure", "Cap pressure, as read"),
                    _tick("filters", "Filters looked at"),
                ),
            ),
            Block(
                "readings",
                "Wet film, read with the comb",
                (_number("wet-film", "Wet film", "µm", short=True), _text("place", "Where")),
                many="reading of the film",
                rows=({}, {}, {}),
                hint="Three at the least, five for each surface. Mean and lowest are worked under it.",
            ),
            Block(
                "result",
                "What it took, and how it came out",
                (
                    _number("coat", "Coat number", "1"),
                    _number("litres-out", "Paint taken out", "L"),
                    _number("litres-back", "Paint brought back", "L"),
                    _number("done", "Area done", "m²"),
                    _time("touch-dry", "Touch dry at"),
                    _text("next-coat", "Next coat at"),
                    _time("tape-off", "Tape off at"),
                    _text("dry-film", "Dry-film readings, strip named"),
                    _text("adhesion", "Adhesion, class"),
                    _long("seen", "How it looks", short=True),
                    _long("faults", "What went wrong, and the cure"),
                    _long("photos", "Photographs, named: label and batch; meter on the surface", short=True),
                ),
            ),
            Block(
                "safety",
                "Safety",
                (
                    _date("sheet-date", "Safety data sheet of"),
                    _text("mask", "Mask, and filters changed"),
                    _text("alarms", "Smoke alarms covered"),
                    _tick("alarms-back", "Smoke alarms uncovered, tested"),
                    _time("cleared", "Room aired until"),
                    _long("incident", "Near miss or incident"),
                ),
            ),
            Block(
                "waste",
                "Waste",
                (
                    _number("waste-litres", "Washings and paint", "L"),
                    _text("waste-code", "Code"),
                    _text("waste-to", "Container, carrier, ticket"),
                    _pick("rags", "Oily rags: laid out, or under water", (("none", "none"), ("out", "laid out singly"), ("water", "under water, lid on"))),
                ),
            ),
            Block("signed", "Signed", (_text("signed-us", "Applicator", short=True), _text("signed-customer", "Customer"))),
        ),
        ("title", "date"),
        ("job-facts", "records", "log"),
        ("dew-point", "dew-margin"),
        actions=(("short", "Short form"), ("csv", "This one as CSV"), ("recipe", "It worked: keep as a recipe"), ("care", "Care sheet from it")),
        outputs=(("worked", "Worked from it", "readings"),),
    )


def recipe(facts: Any) -> Form:
    """What worked, as `site_data/recipes` holds it."""
    return Form(
        "recipe",
        "Recipe",
        (
            Block(
                "recipe",
                "What worked",
                (
                    _pick("coating", "From the handbook", _coatings(facts)),
                    _text("named", "Name and colour, where it is not"),
                    _date("date", "Day it worked"),
                    _text("surface", "On what"),
                    _text("batch", "Batch"),
                    _pick("kit", "Kit", _kits(facts)),
                    _number("paint-temperature", "Paint", "°C"),
                    _pick("cup", "Cup", _cups(facts)),
                    _number("seconds", "First break after", "s"),
                    _number("thinner", "Thinner, of the paint", "%"),
                    _number("nozzle", "Nozzle", "mm"),
                    _number("distance", "Gun to surface", "mm"),
                    _number("wet-film", "Wet film", "µm"),
                    _long("result", "How it came out"),
                    _long("notes", "Do differently next time"),
                ),
            ),
        ),
        ("named", "coating", "surface", "date"),
        ("job-facts", "records", "recipes"),
        actions=(("yaml", "This one for the handbook (YAML)"),),
        outputs=(("yaml", "For site_data/recipes", "recipe"),),
    )


def care_sheet(facts: Any) -> Form:
    """What the customer is left with."""
    return Form(
        "care",
        "Care and cure",
        (
            Block(
                "care",
                "For the customer",
                (
                    _text("title", "What was coated"),
                    _text("customer", "Customer"),
                    _date("finished", "Finished on"),
                    _pick("coating", "From the handbook", _coatings(facts)),
                    _text("named", "Paint and colour"),
                    _text("batch", "Batch"),
                    _number("air-temperature", "Air while it hardens", "°C", start="18"),
                    _text("film", "Wet film, mean and lowest"),
                    _pick("touch-up", "Touch-up pot left with you", _YES[:2]),
                    _text("who", "Whom to ask"),
                ),
            ),
        ),
        ("title", "customer"),
        ("job-facts", "records", "care"),
        ("cure-stretch",),
        outputs=(("care", "Care and cure", "care"),),
    )


DRILLS = (
    "Cup, five times: all within 2 s",
    "Thinned to the target within 2 s, three additions at most",
    "Dew margin, ten cases: ten right",
    "Comb, ten films: nine right",
    "Exercise sheet: nine of ten",
    "Distance: on 90 % of the stroke",
    "Speed of ten strokes: scatter 10 % at most",
    "Places of ten strokes: scatter 12 mm (½ in) at most",
    "One coat: mean, scatter, lowest",
    "Two coats: mean, scatter, lowest",
    "Planted faults: eight of ten",
    "Masking and clean-down",
    "Real job: hours within 25 %, litres within 15 %",
)
BARRED = (
    ("isocyanates", "not to spray isocyanates without the licence, air and health checks"),
    ("lead", "not to dry sand, burn or blast paint that may hold lead"),
    ("asbestos", "not to touch texture that may hold asbestos"),
    ("vapour", "not to spray solvent in a room without air worked out first"),
)


def sign_off(facts: Any) -> Form:
    """One trainee's record: kit, families, raw readings, limits, when it ends, what calls for training again."""
    families = sorted({one.family for one in facts.classes.values()})
    return Form(
        "signoff",
        "Sign-off record",
        (
            Block(
                "who",
                "Who and with what",
                (
                    _text("trainee", "Trainee"),
                    _text("trainer", "Trainer"),
                    _date("date", "Date"),
                    _date("ends", "Ends on: 12 months at most"),
                    _pick("kit", "Kit", _kits(facts), start=facts.handbook.default_kit),
                    _text("baseline", "Its first pressure and noise"),
                    _text("nozzles", "Nozzle sets passed"),
                    _text("mask", "Mask: kind, size"),
                    _date("fit-test", "Fit test on"),
                ),
            ),
            Block("families", "Coatings passed", tuple(_tick(f"family-{family}", family) for family in families)),
            Block(
                "readings",
                "Readings",
                (
                    _pick("drill", "Drill and its limit", tuple((str(place), words) for place, words in enumerate(DRILLS, 1))),
                    _long("raw", "Raw readings, with their unit"),
                    _pick("passed", "Passed", _YES[:2]),
                ),
                many="drill",
                rows=tuple({"drill": str(place)} for place in range(1, len(DRILLS) + 1)),
                hint="Raw readings, not ticks. The limits of the board come from the simulation of strokes, in the table below.",
            ),
            Block("surfaces", "Surfaces passed, and what is held back", (_long("surfaces", "Surfaces passed"), _long("held-back", "Only with a trainer"))),
            Block("barred", "I know that I am", tuple(_tick(f"barred-{key}", words) for key, words in BARRED)),
            Block("signed", "Signed", (_text("signed-trainee", "Trainee, date"), _text("signed-trainer", "Trainer, date"), _long("again", "Trained again: when, and why"))),
        ),
        ("trainee", "date"),
        ("job-facts", "records"),
    )


FORMS: dict[str, Callable[[Any], Form]] = {"job": job_sheet, "log": daily_log, "recipe": recipe, "care": care_sheet, "signoff": sign_off}


def job_facts(facts: Any) -> str:
    """A classic script that hands the facts and the chains to the forms' scripts. Data only."""
    coatings: dict[str, Any] = {}
    care: Mapping[str, Any] = {row.class_key: row for row in facts.care}
    for slug in paints(facts):
        tin = facts.coatings[slug]
        guard = facts.protection.get(tin.class_key)
        row = care.get(tin.class_key)
        coatings[slug] = {
            "name": str(tin.name),
            "volume-solids": tin.volume_solids.to("%"),
            "dry-film": tin.dry_film.to("µm"),
            "voc": tin.voc.to("g/L"),
            "recoat": tin.recoat_after.to("h"),
            "recoat-before": tin.recoat_before.to("h") if tin.recoat_before else None,
            "thinner-max": tin.thinner_max.to("%"),
            "thin-with": str(tin.thin_with),
            "dries": "water" if facts.classes[tin.class_key].family == "waterborne" else "other",
            "air-min": tin.air_min.to("°C"),
            "nozzle": tin.nozzle.to("mm"),
            "care": {"careful": row.careful_after.to("d"), "wash": row.wash_after.to("d"), "full": row.full_after.to("d"), "words": row.words} if row else None,
            "guard": {"Breathing": facts.breathing(guard), "Eyes": guard.eyes, "Hands": guard.hands, "Body": guard.body, "Fire": guard.fire, "Air": guard.ventilation} if guard else {},
        }
    found = {
        "coatings": coatings,
        "ways": [[way, words, chain(way).described()] for way, words in WAYS.items()],
        "kits": {slug: {"flow": kit.flow.to("mL/min"), "pot": kit.pot.to("L"), "noise": kit.noise.to("dBA")} for slug, kit in facts.kits.items()},
        "surfaces": {
            row.name: {
                "face": row.face.to("m²"),
                "sides": row.sides.to("1"),
                "profile": row.profile.to("×"),
                "drink": row.drink.to("×"),
                "spray-lands": row.spray_lands.to("%"),
                "brush-rate": row.brush_rate.to("m²/h"),
                "roll-rate": row.roll_rate.to("m²/h"),
            }
            for row in facts.surfaces
        },
        "cups": {slug: str(cup.label) for slug, cup in facts.cups.items()},
        "recipes": [
            {
                "file": slug,
                "coating": one.coating,
                "name": str(facts.coatings[one.coating].name),
                "surface": str(one.surface or ""),
                "batch": str(one.batch or ""),
                "date": one.date,
                "told": recipe_line(one, facts),
                "result": str(one.result),
            }
            for slug, one in facts.recipes.items()
            if one.coating in coatings
        ],
    }
    return f"window.almanacJobFacts = {json.dumps(found, ensure_ascii=True)};\n"


def recipe_line(one: Any, facts: Any) -> str:
    """A recipe in one line, in the order that it is set at the bench."""
    parts = [f"{_plain(one.time.seconds)} s in {facts.cups[one.time.cup].label if one.time.cup in facts.cups else one.time.cup}", f"{_plain(one.thinner.to('%'))} % thinner"]
    parts += [f"{words} {_plain(value.value)} {value.unit}" for words, value in (("paint", one.temperature), ("nozzle", one.nozzle), ("gun off", one.distance), ("wet film", one.wet_film)) if value]
    return ", ".join(parts)
