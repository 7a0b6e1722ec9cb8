"""The job sheet: survey, paints, surfaces, pace and money of one job."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Entry, Form
from generators.pages.forms.parts import SCRIPTS, TINS, YES, coatings, date, kits, label, long, number, photographs, pick, plain, rate_of, refers, text
from generators.studies.job import WAYS, chain


def job_sheet(facts: Any) -> Form:
    """Survey, paints, surfaces and rates of one job; litres, hours and price come out of it."""
    region = facts.handbook.region
    kit = facts.kits[facts.handbook.default_kit]
    first = facts.surfaces[0] if facts.surfaces else None

    def of(column: str, otherwise: str) -> str:
        """What the first kind of surface begins with."""
        return plain(float(first[column])) if first else otherwise

    def rate(key: str, words: str, unit: str, otherwise: float, name: str = "") -> Entry:
        return number(name or key.replace("_", "-"), words, unit, rate_of(facts, key, unit, otherwise))

    return Form(
        "job",
        "Job sheet",
        (
            Block("name", "This job", (text("title", "Job, in a few words"), text("client", "Customer"))),
            Block(
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
                    number("voc", "VOC", "g/L", start="50"),
                    pick("dries", "Thinned with", (("water", "water"), ("other", "anything else")), start="water"),
                    *(
                        number(
                            f"tin-{letter}{part}",
                            f"Tin {letter.upper()}, {'price' if part else 'holds'}",
                            "money" if part else "L",
                            plain(litres * float(rate_of(facts, "paint", "money/L", 20))) if part else f"{litres:.6g}",
                        )
                        for letter, litres in zip("abc", TINS[facts.handbook.system], strict=True)
                        for part in ("", "-price")
                    ),
                ),
                many="paint",
                hint="Figures come from the data sheet. Primer and finish are two paints. A coating with a hard stop is not in the list.",
            ),
            Block(
                "surfaces",
                "Surfaces",
                (
                    pick("thing", "What", tuple((row.name, label(facts, row)) for row in facts.surfaces), first.name if first else ""),
                    text("where", "Where"),
                    refers("paint", "Coated with", "paints"),
                    number("face", "One face", "m²", of("face [m²]", "1")),
                    number("count", "How many", "1", start="1"),
                    number("sides", "Sides", "1", of("sides", "1")),
                    number("profile", "Times flat: edges, mouldings, slats", "×", of("profile", "1")),
                    number("drink", "First coat drinks, times", "×", of("drink", "1")),
                    number("spray-lands", "Lands, sprayed", "%", of("spray_lands [%]", "60")),
                    number("brush-rate", "By brush, an hour", "m²/h", of("brush_rate [m²/h]", "4")),
                    number("roll-rate", "By roller, an hour", "m²/h", of("roll_rate [m²/h]", "8")),
                ),
                many="surface",
                hint="A door and a fence have two sides.",
            ),
            Block(
                "kit",
                "Kit and pace",
                (
                    pick("kit", "Kit", kits(facts), start=facts.handbook.default_kit),
                    number("flow", "Flow, by weight", "mL/min", start=plain(kit.flow.to("mL/min"))),
                    number("pot", "Pot", "L", start=plain(kit.pot.to("L"))),
                    rate("duty", "Trigger pulled, of the time", "%", 45),
                    rate("refill", "Each fill, with straining", "min", 4),
                    rate("loss", "Left in pot and hose, each coat", "L", 0.25),
                    rate("spare", "To spare", "%", 5),
                    rate("hand_lands", "Lands from brush or roller", "%", 95),
                    number("edges", "Edges to tape", "m", start="10"),
                    rate("edge_pace", "Tape, on and off", "min/m", 1),
                    number("sheets", "To sheet", "m²", start="20"),
                    rate("sheet_pace", "Sheet, down and up", "min/m²", 0.5),
                    rate("hand_masking", "Masking for brush or roller, of that", "%", 40),
                    number("air-temperature", "Air on the day", "°C", start="18"),
                    number("relative-humidity", "Humidity on the day", "%", start="60"),
                    pick("power-free", "Somewhere upwind for the turbine", YES[:2]),
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
                    text("contact", "Telephone"),
                    long("address", "Address"),
                    text("access", "Access, parking, keys"),
                    text("power-water", "Power and water"),
                    date("day", "Day of the survey"),
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
                    text("lead", "Lead: result, and how known"),
                    text("asbestos", "Asbestos: result, and how known"),
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
                    text("light", "Looked at from, and in what light", start="1 m, the room's own light"),
                    long("not-in", "Not in the price"),
                    text("deposit", "Deposit and payment"),
                    pick("photos", "Photographs allowed", YES[:2]),
                    text("waste", "Who takes the waste"),
                ),
                fold=True,
            ),
            photographs("before", "label", "meter", "masking", "after"),
            Block("close", "Signed", (long("notes", "Notes"), text("signed-us", "For us, date"), text("signed-customer", "Customer, date")), fold=True),
        ),
        ("title", "client", "address"),
        (*SCRIPTS, "job"),
        tuple(sorted({name for way in WAYS for name in chain(way).names})),
        outputs=(("options", "Sprayed, brushed or rolled", "surfaces"), ("shopping", "To buy and to bring", "money"), ("safety", "Air, masks and stops", "money")),
        sum_up=True,
        private=("kit", "money", "brush-rate", "roll-rate", "spray-lands", "drink", "dries", *(f"tin-{letter}{part}" for letter in "abc" for part in ("", "-price"))),
    )
