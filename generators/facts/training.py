"""How the next sprayer is taught: the drills with their marks, and the faults that are made on purpose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, StringConstraints, WithJsonSchema

from generators import units
from generators.facts import model
from generators.facts.kinds import refuse
from generators.facts.model import Fact, Name, Sourced, Text, Whole
from generators.facts.problem import shown
from generators.facts.reader import Reader, known, settled_many
from generators.facts.relate import DOUBTFUL, REFUSED, Found
from generators.quantity import KINDS, Quantity

_KINDS = tuple(KINDS[name] for name in ("share", "film", "length", "seconds", "short time", "minutes", "volume"))


@lru_cache(maxsize=1024)
def _of_any_kind(text: str) -> Quantity | None:
    """A text as a value of the first kind that reads it, or None."""
    for kind in _KINDS:
        try:
            return kind.quantity(text)
        except units.UnitError:
            continue
    return None


def _figure(typed: Any) -> Quantity:
    if isinstance(typed, Quantity):
        return typed
    if found := _of_any_kind(str(typed)):
        return found
    raise refuse("a share, a length, a time or a volume with its unit, such as 12 mm", typed, "write a number and its unit")


Figure = Annotated[Quantity, BeforeValidator(_figure), WithJsonSchema({"type": "string", "examples": ["97 %", "12 mm", "8 min"]})]
Address = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*)*$", max_length=60)]
# What each kind of mark has to be told of the two hands that it is to tell apart.
_ASKS: Mapping[str, tuple[str, ...]] = {
    "count": ("good", "bad"), "spread": ("good", "bad"), "paper": (),
    "most": ("good", "bad", "scatter"), "within": ("bad", "scatter"), "weight": ("bad", "film"), "one-coat": ("film",), "two-coats": ("film",),
}


class Mark(Fact):
    """What is read, and the two hands that it has to tell apart. How many readings, and the limit itself, are worked from these (`studies.marks`).

    count: how many of so many tries are right; `good` and `bad` are how often each hand gets one right; `all`: every one must be.
    spread: standard deviation of readings; `good` and `bad` are each hand's own. most: mean of readings, at most; `scatter` is each hand's own, in % of its mean.
    within: mean of readings, off the aim either way; a bad hand is `bad` off it, both scatter by `scatter`. weight, one-coat and two-coats: boards, from the simulation of strokes.
    Their `film` is the wet one aimed at, since a comb's teeth are coarser on a thin film.
    paper: somebody outside this week measures it and writes a paper. `tries` fixes the number of readings where the thing itself does.
    """

    kind: Literal["count", "spread", "most", "within", "weight", "one-coat", "two-coats", "paper"]
    of: Name  # what one reading is, in the plural: timings, cases, frames
    reads: Name | None = None  # the figure that each of them gives, with its unit where the mark itself has none: seconds, grams that landed
    aim: Name | None = None  # the figure that they are to meet
    good: Figure | None = None
    bad: Figure | None = None
    scatter: Figure | None = None
    film: Figure | None = None
    tries: Annotated[Whole, Field(ge=1)] | None = None
    every: bool = Field(default=False, alias="all")

    @property
    def unit(self) -> str:
        """Unit of the mark: that of its figures."""
        one = self.good or self.bad or self.scatter
        return one.unit if one else "%"


class Drill(Sourced):
    """One drill: what for, with what, how, what is measured and how, its mark with the reason, how long, who may judge, and what comes before it."""

    title: Name
    day: Annotated[Whole, Field(ge=1, le=7)]
    aim: Text
    kit: list[Text] = Field(min_length=1)
    set_up: Text
    steps: list[Text] = Field(min_length=2)
    measure: Text
    mark: Mark
    why: Text
    minutes: Annotated[Whole, Field(ge=1, le=480)]
    judge: Text
    before: list[str] = Field(default=[])
    page: Address
    gun: Literal["none", "water", "paint"] = "none"  # what the trigger lets out, if it is pulled


class Planted(Sourced):
    """One fault for a lesson: how to make it on purpose with water paint, or why it is shown as a picture only."""

    make: list[Text] = Field(default=[])
    picture: Text | None = None


TELLING = 1.1  # two hands nearer than this are told apart by nothing
FAR = 6.0      # and two further apart than this are no two hands of one lesson
_LESS_IS_BETTER = ("spread", "most")


def hands(mark: Mark) -> Iterator[Found]:
    """What the figures of one mark say against each other. Common practice of tests that tell two hands apart."""
    good, bad, scatter = mark.good, mark.bad, mark.scatter
    if not mark.of.endswith("s"):  # the page says how many of them are taken
        yield Found(("mark",), DOUBTFUL, "readings in the plural, such as timings or frames", mark.of, "write the plural")
    if good and bad:
        if good.unit != bad.unit or good.value == bad.value:
            yield Found(("mark",), REFUSED, "a good and a bad hand that differ, in one unit", f"{good.text} and {bad.text}", "mend one of them")
            return
        better, worse = (good.value, bad.value) if mark.kind in _LESS_IS_BETTER else (bad.value, good.value)
        if better > worse:
            yield Found(("mark",), REFUSED, f"a good hand with the {'smaller' if mark.kind in _LESS_IS_BETTER else 'greater'} figure", f"good {good.text}, bad {bad.text}", "swap or mend the two")
        elif not better or not TELLING <= worse / better <= FAR:
            yield Found(("mark",), DOUBTFUL, f"two hands {TELLING:g} to {FAR:g} times apart", f"good {good.text}, bad {bad.text}", "check both")
    if bad and scatter and mark.kind == "within" and bad.unit == scatter.unit and not TELLING * scatter.value <= bad.value <= 2 * FAR * scatter.value:
        yield Found(("mark",), DOUBTFUL, f"a bad hand {TELLING:g} to {2 * FAR:g} times further off than both scatter", f"bad {bad.text}, scatter {scatter.text}", "check both")


def read_drills(reader: Reader, sources: Mapping[str, Any]) -> dict[str, Drill]:
    """The week in its order. What comes before a drill stands before it in the file, and on no later day."""
    found: dict[str, Drill] = settled_many(reader, Drill, "drills.yaml", sources, lambda drill: drill.mark.kind)
    tree = reader.trees.get("drills.yaml")
    seen: dict[str, Drill] = {}
    for key, drill in found.items():
        assert tree is not None
        if not key.replace("-", "").isalnum() or key != key.lower() or not key.isascii():
            reader.tell(tree, (key,), "names of small letters, digits and hyphens", shown(key), "rename it")
        for name in drill.before:
            if name not in seen:
                known(reader, tree, (key, "before"), name, seen, "drill further up")
        if seen and drill.day < max(one.day for one in seen.values()):
            reader.tell(tree, (key, "day"), "drills in the order of their days", f"day {drill.day}", "move it up, or mend its day")
        if missing := [name for name in _ASKS[drill.mark.kind] if getattr(drill.mark, name) is None]:
            reader.tell(tree, (key, "mark"), f"a mark of kind {drill.mark.kind} with {', '.join(_ASKS[drill.mark.kind])}", "no " + ", ".join(missing), "add it")
        reader.found(tree, (key,), "drills", key, hands(drill.mark), drill.doubtful)
        seen[key] = drill
    return found


def read_planted(reader: Reader, faults: Mapping[str, model.Fault], sources: Mapping[str, Any]) -> dict[str, Planted]:
    """A recipe, or why there is none, for each fault of the handbook; a handbook without the file teaches none."""
    found: dict[str, Planted] = settled_many(reader, Planted, "planted.yaml", sources)
    tree = reader.trees.get("planted.yaml")
    if tree is None:
        return found
    for key, one in found.items():
        known(reader, tree, (key,), key, reader.names.get("faults.yaml", set(faults)), "fault")
        if bool(one.make) == bool(one.picture):
            reader.tell(tree, (key,), f"{key}: either make (steps) or picture (why only a picture)", "both or neither", "write one of them")
    for key in faults:
        if key not in reader.names["planted.yaml"]:
            reader.tell(tree, (), f"a recipe or a reason for the fault {key!r}", "none", "add it")
    return found
