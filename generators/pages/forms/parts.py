"""What the forms are put together from: entries of each kind, and the choices that the handbook itself offers."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Entry
from generators.formula.guards import brief

# The scripts that keep a record, in the order that they are loaded; a form adds its own after them.
SCRIPTS = ("job-facts", "digest", "carry", "takeout", "photos", "records", "second", "entries", "form", "form-keys", "offer")
SIGNED = (*SCRIPTS, "paper")  # a paper that is signed on the device, and frozen then
KNOWN = (("no", "none, tested or known"), ("yes", "yes"), ("unknown", "not known"))
YES = (("yes", "yes"), ("no", "no"), ("unknown", "not known"))


def text(name: str, label: str, short: bool = False, start: str = "") -> Entry:
    return Entry(name, label, short=short, start=start)


def long(name: str, label: str, short: bool = False) -> Entry:
    return Entry(name, label, "long", short=short)


def number(name: str, label: str, unit: str, start: str = "", short: bool = False) -> Entry:
    return Entry(name, label, "number", unit, start=start, short=short)


def pick(name: str, label: str, options: tuple[tuple[str, str], ...], start: str = "", short: bool = False) -> Entry:
    return Entry(name, label, "choice", options=options, start=start, short=short)


def date(name: str, label: str, short: bool = False, today: bool = False) -> Entry:
    return Entry(name, label, "date", short=short, start="today" if today else "")


def the_job(address: bool = True) -> Block:
    """Whose job a paper belongs to, and its day."""
    return Block("job", "The job", (text("title", "Job"), text("customer", "Customer"), *((long("address", "Address"),) if address else ()), date("date", "Date", today=True)))


def time(name: str, label: str, short: bool = False) -> Entry:
    return Entry(name, label, "time", short=short)


def tick(name: str, label: str) -> Entry:
    return Entry(name, label, "tick")


def refers(name: str, label: str, block: str, start: str = "first") -> Entry:
    """A choice among the lines of another block. It names the line, not its place."""
    return Entry(name, label, "line", of=block, start=start)


def found_there(fold: bool = False) -> Block:
    """What has to be known before anything is signed; what is not, is printed after "subject to"."""
    return Block(
        "known",
        "What was found",
        (
            text("age", "Age of the building"),
            text("old-finish", "Old finish, and the rub that told"),
            pick("lead-is", "Lead in the old paint", KNOWN),
            pick("asbestos-is", "Asbestos", KNOWN),
            long("subject", "Subject to (what is not known, and what then)"),
        ),
        hint="Not known is an answer. Then the paper says “subject to” it, or it is not signed.",
        fold=fold,
    )


def signatures() -> Block:
    """Who signs, and when."""
    return Block("signed", "Signed", (text("signed-us", "For us"), text("signed-customer", "Customer"), date("signed-on", "On")))


def photographs(*subjects: str) -> Block:
    """Photographs kept in the record, each with what it shows."""
    choices = tuple((subject.replace(" ", "-"), subject) for subject in subjects)
    return Block(
        "photographs",
        "Photographs, kept in this record",
        (Entry("picture", "Photograph", "photo", short=True), pick("shows", "It shows", choices, short=True), text("note", "Note", short=True)),
        many="photograph",
        hint="Made small, and without the place where it was taken. It goes out with the record's file.",
        fold=True,
        rows=(),
    )


def paints(facts: Any) -> list[str]:
    """Coatings that a job sheet may be filled from: none that carries a hard stop."""
    return [slug for slug, coating in facts.coatings.items() if not coating.stops and not (coating.class_key in facts.protection and facts.protection[coating.class_key].stop)]


def label(facts: Any, one: Any) -> str:
    return str(one.us_label if facts.handbook.words == "us" and one.us_label else one.label)


def plain(value: float) -> str:
    return brief(value).replace("−", "-")


def coatings(facts: Any) -> tuple[tuple[str, str], ...]:
    return tuple((slug, str(facts.coatings[slug].name)) for slug in paints(facts))


def kits(facts: Any) -> tuple[tuple[str, str], ...]:
    return tuple((slug, str(kit.name)) for slug, kit in facts.kits.items())


def cups(facts: Any) -> tuple[tuple[str, str], ...]:
    return tuple((slug, str(cup.label)) for slug, cup in facts.cups.items())
