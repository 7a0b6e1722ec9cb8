"""The job sheet: survey, paints, surfaces, crew, pace and money of one job. Hours, days and a price with its spread come out of it."""

from __future__ import annotations

from typing import Any

from generators.chain.described import formula_names
from generators.chain.job import FIELDS, WAYS, chain
from generators.chain.jobs import TINS, rate_ends, tin_prices, works
from generators.form import Block, Entry, Form
from generators.formulas import catalogue
from generators.pages.forms.parts import KNOWN, SCRIPTS, YES, coatings, date, kits, label, long, number, photographs, pick, plain, refers, text, time
from generators.studies.areas import surface_figures

CONDITIONS = (("sound", "sound: clean, key, wipe"), ("worn", "worn: chips, grease, some filling"), ("poor", "poor: flaking, much filling"))
WORK = {"cabinets": "Kitchen and cabinets", "doors": "Doors and trim", "stairs": "Stairs", "fence": "Fence", "garage": "Garage door", "furniture": "Furniture", "room": "Room", "masonry": "Masonry"}


def rate(facts: Any, name: str, words: str) -> Entry:
    """An entry that begins at the crew's own rate."""
    return number(name, words, FIELDS[name], plain(rate_ends(facts, name)[1]))


def _tins(facts: Any) -> tuple[Entry, ...]:
    return tuple(
        number(f"tin-{letter}{part}", f"Tin {letter.upper()}, {'price' if part else 'holds'}", "money" if part else "L", plain(tin_prices(facts, litres)) if part else f"{litres:.6g}")
        for letter, litres in zip("abc", TINS[facts.handbook.system], strict=True)
        for part in ("", "-price")
    )


def _paints(facts: Any) -> Block:
    return Block(
        "paints",
        "Paints",
        (
            pick("coating", "From the handbook", coatings(facts)),
            text("named", "Name and colour"),
            number("coats", "Coats", "1", start="2"),
            number("dry-film", "Dry film, each coat", "µm", start="30"),
            number("volume-solids", "Volume solids", "%", start="38"),
            number("thinner", "Thinner, of the paint", "%", start="0"),
            number("recoat", "Next coat, by data sheet", "h", start="4"),
            number("pot-life", "Pot life, of a two-pack", "h"),
            number("voc", "VOC", "g/L", start="50"),
            pick("dries", "Thinned with", (("water", "water"), ("other", "anything else")), start="water"),
            *_tins(facts),
        ),
        many="paint",
        rest=("dry-film", "Its figures and tins"),
        hint="Figures come from the data sheet. A primer is a paint of its own, or the same one: nothing is counted twice. A coating with a hard stop is not in the list.",
    )


def _surfaces(facts: Any) -> Block:
    first = facts.surfaces[0] if facts.surfaces else None
    figures = surface_figures(facts, catalogue(facts), first) if first else {"face": 1.0, "sides": 1.0, "profile": 1.0}
    return Block(
        "surfaces",
        "Surfaces",
        (
            pick("thing", "What", tuple((row.name, label(facts, row)) for row in facts.surfaces), first.name if first else ""),
            text("where", "Where"),
            number("count", "How many: pieces, ft² or ft" if facts.handbook.system == "us" else "How many", "1", start="1"),
            pick("condition", "Condition", CONDITIONS, start="worn"),
            refers("primer", "Primed with", "paints", ""),
            refers("paint", "Coated with", "paints"),
            pick("loose", "Taken off and racked", YES[:2], start=(first.loose or "no") if first else "no"),
            number("face", "One piece, or one face", "m²", plain(figures["face"])),
            number("sides", "Sides, where one face is given", "1", plain(figures["sides"])),
            number("profile", "Times flat: edges, mouldings, slats", "×", plain(figures["profile"])),
            number("detail", "Work of its shape, times a wall", "×", plain(first.detail.to("×")) if first and first.detail else "1"),
            number("drink", "First coat drinks, times", "×", plain(first.drink.to("×")) if first else "1"),
            number("spray-lands", "Lands, sprayed", "%", plain(first.spray_lands.to("%")) if first else "60"),
            number("brush-rate", "By brush, an hour", "m²/h", plain(first.brush_rate.to("m²/h")) if first else "4"),
            number("roll-rate", "By roller, an hour", "m²/h", plain(first.roll_rate.to("m²/h")) if first else "8"),
        ),
        many="surface",
        rest=("loose", "Its size and pace"),
        hint="Counted once. A piece of the list has both its sides and its edges in it; a wall and a fence have one face and so many sides.",
    )


def _kit(facts: Any) -> Block:
    kit = facts.kits[facts.handbook.default_kit]
    return Block(
        "kit",
        "Kit, room and air",
        (
            pick("kit", "Kit", kits(facts), start=facts.handbook.default_kit),
            number("flow", "Flow, by weight", "mL/min", start=plain(kit.flow.to("mL/min"))),
            number("pot", "Pot", "L", start=plain(kit.pot.to("L"))),
            rate(facts, "duty", "Trigger pulled, of the time"),
            rate(facts, "refill", "Each fill, with straining"),
            rate(facts, "loss", "Left in pot and hose, each clean"),
            rate(facts, "spare", "To spare"),
            rate(facts, "hand-lands", "Lands from brush or roller"),
            number("edges", "Edges to tape", "m", start="10"),
            number("sheets", "To sheet", "m²", start="20"),
            pick("place", "Indoors or out", (("indoors", "indoors"), ("outdoors", "outdoors")), start="indoors"),
            number("air-temperature", "Air on the day", "°C", start="18"),
            number("relative-humidity", "Humidity on the day", "%", start="60"),
            number("night-low", "The night's lowest, outdoors", "°C"),
            time("dusk-at", "Dusk, outdoors"),
            pick("power-free", "Somewhere upwind for the turbine", YES[:2]),
        ),
        fold=True,
    )


def _crew(facts: Any) -> Block:
    return Block(
        "crew",
        "Crew and its day",
        (
            rate(facts, "crew", "People"),
            date("first-day", "First day"),
            rate(facts, "day-hours", "Its day, door to door"),
            rate(facts, "week", "Days a week, from Monday"),
            rate(facts, "travel-time", "There and back"),
            rate(facts, "set-up", "Setting up, sprayed"),
            rate(facts, "hand-set-up", "Setting up, by hand"),
            rate(facts, "clean-down", "Clean-down, sprayed"),
            rate(facts, "hand-clean-down", "Clean-down, by hand"),
            rate(facts, "stay", "A wait that is sat out"),
            rate(facts, "holds", "Paint may stand in the gun"),
            rate(facts, "rack", "Pieces that the rack holds"),
            rate(facts, "flash", "Until the rack can be filled again"),
            rate(facts, "dusk-lead", "No coat so long before dusk"),
            rate(facts, "wear-sound", "Preparing: sound"),
            rate(facts, "wear-worn", "Preparing: worn"),
            rate(facts, "wear-poor", "Preparing: poor"),
        ),
        fold=True,
    )


def _money(facts: Any) -> Block:
    tax = plain(facts.rates["tax"].to("%")) if "tax" in facts.rates else "20" if facts.handbook.region == "uk" else "0"
    return Block(
        "money",
        "Money",
        (
            number("offered", "Price offered, if you have one", "money"),
            rate(facts, "hour-rate", "An hour costs you"),
            rate(facts, "markup", "On materials"),
            rate(facts, "margin", "Margin, on the whole"),
            rate(facts, "minimum", "The least you come out for"),
            number("tax", "Tax on the whole", "%", tax),
            rate(facts, "deposit", "Deposit"),
            rate(facts, "thinner-price", "Thinner"),
            rate(facts, "sundries", "Tape, sheet, abrasive, filler"),
            rate(facts, "travel", "Fuel and hire, each visit"),
            rate(facts, "parking", "Parking, each visit"),
            rate(facts, "filters", "Strainers, filters, each clean"),
            rate(facts, "wash", "Washings, each clean"),
            rate(facts, "waste-price", "To be rid of them"),
            rate(facts, "wear", "Wear, each litre (quart) sprayed"),
            rate(facts, "together", "Stages go well or badly together"),
        ),
        hint="The rates are the handbook's own, invented or common practice: put in yours, and keep them in site_data/rates.yaml.",
        fold=True,
    )


def job_sheet(facts: Any) -> Form:
    """Survey, paints, surfaces and rates of one job; litres, hours, days and price come out of it."""
    kinds = works(facts)
    return Form(
        "job",
        "Job sheet",
        (
            Block(
                "name",
                "This job",
                (
                    text("title", "Job, in a few words"),
                    text("client", "Customer"),
                    pick("template", "Begin with", tuple((slug, label(facts, one)) for slug, one in facts.begun_from.items())),
                    pick("work", "Kind of work", tuple((work, WORK.get(work, work)) for work in kinds), start=kinds[0] if kinds else ""),
                ),
            ),
            _paints(facts),
            _surfaces(facts),
            Block(
                "stages",
                "Stages done otherwise",
                (
                    pick("stage", "Stage", tuple((key, one.label) for key, one in facts.stages.items())),
                    pick("by", "Who", (("us", "us, in these hours"), ("customer", "the customer"), ("none", "not needed"))),
                    number("stage-hours", "Hours of work", "h"),
                ),
                many="stage",
                hint="Each stage has its own pace. Write a stage here to leave it out, to give it to the customer, or with hours of your own: 2–5 is as good as 3.",
                fold=True,
                rows=(),
            ),
            _kit(facts),
            _crew(facts),
            _money(facts),
            Block(
                "who",
                "Who and where",
                (
                    text("contact", "Telephone"),
                    long("address", "Address"),
                    text("access", "Access, parking, keys"),
                    text("power-water", "Power and water"),
                    date("day-of-survey", "Day of the survey"),
                ),
                fold=True,
            ),
            Block(
                "look",
                "What was found",
                (
                    text("age", "Age of the building"),
                    long("people", "Children, pregnancy, asthma, pets, birds, fish"),
                    long("near", "Cars, plants, ponds, open windows near by"),
                    text("old-finish", "Old finish, and the rub that told"),
                    pick("lead-is", "Lead in the old paint", KNOWN),
                    text("lead", "Lead: how known"),
                    pick("asbestos-is", "Asbestos", KNOWN),
                    text("asbestos", "Asbestos: how known"),
                    text("moisture", "Moisture readings"),
                    long("damage", "Damage before we came, photographs named"),
                ),
                fold=True,
            ),
            Block(
                "agreed",
                "What was agreed",
                (
                    long("system", "Coats, sheen, colour"),
                    pick("sample", "Sample approved", YES[:2]),
                    text("light", "Looked at from, and in what light", start="1 m (3 ft), the room's own light"),
                    long("not-in", "Not in the price"),
                    long("moves", "Who moves what"),
                    text("waste", "Who takes the waste"),
                    pick("photos", "Photographs allowed", YES[:2]),
                ),
                fold=True,
            ),
            photographs("before", "label", "meter", "masking", "after"),
            Block("close", "Notes", (long("notes", "Notes"),), fold=True),
        ),
        ("title", "client", "address"),
        (*SCRIPTS, "job-chain", "day", "chain", "searches", "job-walk", "job-days", "job", "job-papers"),
        tuple(sorted({name for way in WAYS for name in formula_names(chain(way))})),
        outputs=(
            ("fits", "Does it fit", "surfaces"),
            ("options", "Sprayed, brushed or rolled", "surfaces"),
            ("hours", "Stage by stage", "stages"),
            ("days", "The days", "stages"),
            ("shopping", "To buy and to bring", "money"),
            ("safety", "Air, masks and stops", "money"),
        ),
        actions=(("quote", "Quote"), ("buying", "Buying list"), ("loading", "Load list"), ("neighbour", "Neighbour's note"), ("method", "Method and risks"), ("variation", "Variation"),
            ("invoice", "Invoice"), ("cancel", "Cancellation notice")),
        sum_up=True,
        private=(
            "kit",
            "crew",
            "money",
            "stages",
            "template",
            "detail",
            "brush-rate",
            "roll-rate",
            "spray-lands",
            "drink",
            "dries",
            *(f"tin-{letter}{part}" for letter in "abc" for part in ("", "-price")),
        ),
    )
