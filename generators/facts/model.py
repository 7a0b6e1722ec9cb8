"""What a handbook knows, as typed models. Every value in a file takes the file's basis unless it gives its own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PrivateAttr, RootModel, StringConstraints, WithJsonSchema

from generators import noted
from generators.basis import Basis, Origin
from generators.facts import kinds, sketch
from generators.facts.doubts import SignedOff
from generators.facts.kinds import Trial, refuse

Text = Annotated[str, StringConstraints(min_length=1, max_length=2000)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=60)]


def _basis(typed: Any) -> Basis:
    try:
        return Basis(str(typed))
    except ValueError:
        raise refuse("a basis: " + ", ".join(str(b) for b in Basis), typed, "write one of them") from None


def _whole(typed: Any) -> int:
    try:
        return int(str(typed))
    except ValueError:
        raise refuse("a whole number", typed, "write digits only") from None


def _date(typed: Any) -> str:
    from datetime import date

    try:
        return date.fromisoformat(str(typed)).isoformat()
    except ValueError:
        raise refuse("a date such as 2026-11-25", typed, "write year-month-day") from None


Whole = Annotated[int, BeforeValidator(_whole)]
Day = Annotated[str, BeforeValidator(_date)]
BasisField = Annotated[Basis, BeforeValidator(_basis)]


class Fact(BaseModel):
    """Base of every model: frozen, and no key that it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, populate_by_name=True)


class Sourced(Fact):
    """A file whose values share a basis and, where it has one, a source and a date."""

    basis: BasisField
    source: str = ""
    date: str = ""
    doubtful: dict[str, SignedOff] = {}  # what is unlikely and right all the same: who says so, and why

    @property
    def origin(self) -> Origin:
        """Where this file's values come from, but for those that say otherwise."""
        return Origin(self.basis, self.source, self.date)


class Handbook(Fact):
    """The handbook itself: whose it is, for where, and its stamp."""

    title: Name
    crew: Name
    town: Name
    region: Name
    district: Name | None = None
    default_kit: str
    revision: Whole
    made: Day = Field(alias="date")
    base_url: Annotated[str, StringConstraints(pattern=r"^https?://[^\s\"'<>]+$")]
    look_colour: Annotated[str, StringConstraints(pattern=r"^#[0-9a-fA-F]{6}$")] | None = None
    look_logo: str | None = None

    _regions: Mapping[str, Any] = PrivateAttr(default_factory=dict)  # every region with a file, as `load` found them

    def among(self, regions: Mapping[str, Any]) -> Handbook:
        """This handbook, knowing the regions that its folder has."""
        known = self.model_copy()
        known._regions = regions
        return known

    @property
    def place(self) -> str:
        """Whose rules come first: the district, where one is named for this region, else the region."""
        return self.district if self.district and self.district.startswith(f"{self.region}-") else self.region

    @property
    def system(self) -> str:
        """Which units come first, by the region's file."""
        return str(self._regions[self.region].system)

    @property
    def words(self) -> str:
        """Whose trade words come first, "uk" or "us", by the region's file."""
        return str(self._regions[self.region].words)

    @property
    def coin(self) -> str:
        """The sign of the region's money, by its file."""
        return str(self._regions[self.region].coin)

    @property
    def date(self) -> str:
        """Day of this revision."""
        return self.made


class Kit(Sourced):
    """A turbine, gun and pot, with the thickest paint it sprays, in a named cup."""

    name: Name
    stages: Whole
    pot: kinds.Volume
    limit: kinds.Cup
    fan_angle: kinds.Angle
    pattern: Literal["taper", "bell", "flat-core"]
    near: kinds.Length
    far: kinds.Length
    flow: kinds.Flow
    transfer_efficiency: kinds.Efficiency
    nozzles: list[kinds.Nozzle] = Field(min_length=1)
    noise: kinds.Level
    half_height: kinds.Percent | None = None  # measured with a comb across one stroke: width at half the middle's film, of the whole fan
    flow_power: kinds.Percent | None = None  # two weighed flows: how steeply flow falls with viscosity (100 %: in proportion)
    efficiency_fall: kinds.Percent | None = None  # boards at two distances: how much less lands for each 100 mm farther
    hand_scatter: kinds.Scatter | None = None  # comb readings on the work: their standard deviation over their mean, the crew's own hand with this kit
    notes: Text | None = None


class TwoPack(Fact):
    """How the two tins of a two-pack coating go together."""

    ratio: kinds.Ratio
    ratio_by: Literal["volume", "weight"] = "volume"
    hardener_density: kinds.Density
    density_is: Literal["base", "mix"] = "base"  # what the coating's own `density` is of: sheets give either
    induction: kinds.Hours | None = None
    pot_life: kinds.HoursMost
    pot_life_at: kinds.Temperature | None = None  # the temperature it is given for; 23 °C where the sheet says nothing
    pot_life_of: kinds.Volume | None = None  # the mix it was timed in; 100 mL where the sheet says nothing


class Ingredient(Fact):
    """A solvent in a tin, by section 3 of its safety data sheet, with its share by mass where the sheet gives one."""

    name: Name
    share: kinds.Percent | None = None


class SafetySheet(Fact):
    """What the safety data sheet of a tin says: codes of hazard, solvents, flash point, limits to breathe, and the day it was made.

    A glove is named by its material and never by minutes: no two gloves of one material last as long.
    """

    made: Day | None = Field(default=None, alias="date")
    codes: list[kinds.HazardCode] = []
    solvents: list[Ingredient] = []
    flash_point: kinds.Flash | None = None
    limits: list[Text] = []
    filter: Text | None = None
    gloves: kinds.NoMinutes | None = None
    storage: Text | None = None
    washings: Text | None = None


class Coating(Sourced):
    """A tin, by its data sheet."""

    name: Name
    class_key: str = Field(alias="class")
    volume_solids: kinds.Solids
    dry_film: kinds.Film
    density: kinds.Density
    voc: kinds.Voc
    voc_category: Name | None = None
    voc_category_us: Name | None = None
    voc_less_water: kinds.Voc | None = None
    mass_solids: kinds.Share | None = None
    water: kinds.Share | None = None  # by mass
    coverage: kinds.Coverage | None = None
    wet_film: kinds.Film | None = None
    thin_with: Name
    thinner_density: kinds.Content
    thinner_max: kinds.ThinnerMost
    supplied: kinds.Cup | None = None
    viscosity: kinds.SheetViscosity | None = None
    trial: kinds.FirstDose | None = None
    steepness: kinds.Steepness | None = None  # measured: how far the log of viscosity falls for each share of thinner in the mix
    viscosity_slope: kinds.OwnSlope | None = None  # measured: how far viscosity falls for each degree; its class's where nobody measured
    two_pack: TwoPack | None = None
    hardener: Literal["none", "isocyanate", "amine", "acid", "other"] | None = None
    air_min: kinds.TemperatureLeast
    air_max: kinds.TemperatureMost
    humidity_max: kinds.PercentMost
    touch_dry: kinds.Hours | None = None
    recoat_after: kinds.Hours
    recoat_before: kinds.HoursMost | None = None
    cured_after: kinds.Days | None = None
    nozzle: kinds.Nozzle
    uses: list[Name] = Field(min_length=1)
    cup_refused: Text | None = None
    stops: list[str] = []
    sds: SafetySheet | None = None
    notes: Text | None = None

    def __getattribute__(self, name: str) -> Any:
        """Which page rests on which field is noted where it is read; what looks at all of a tin at once reads every field."""
        if name in _TIN:
            noted.read(self, name)
        elif name == "__dict__" or name.startswith("model_"):
            for field in _TIN:
                noted.read(self, field)
        return super().__getattribute__(name)


_TIN = frozenset(Coating.model_fields)


class CoatingClass(Sourced):
    """A class of coating, with the words for it on both sides of the ocean, and what holds for most of its kind."""

    label: Name
    us_label: Name
    family: Literal["waterborne", "solvent", "two-pack", "oil", "mineral"]
    viscosity_slope: kinds.Slope
    strainer_fine: kinds.Mesh
    strainer_coarse: kinds.Mesh
    stir: Text
    nozzle_fine: kinds.Nozzle
    nozzle_coarse: kinds.Nozzle
    spray_thin: kinds.Cup | None = None
    spray_thick: kinds.Cup | None = None
    open_time: kinds.Moment


class Respiratory(RootModel[dict[Name, Text]]):
    """Breathing protection by region: their markings and law differ. A region without words of its own names one that it is like."""

    model_config = ConfigDict(frozen=True)

    def __getitem__(self, region: str) -> str:
        return self.root[region]

    def __contains__(self, region: str) -> bool:
        return region in self.root


class Protection(Sourced):
    """Protective equipment for one class of coating."""

    hazards: Text
    respiratory: Respiratory
    eyes: Text
    hands: Text
    body: Text
    hearing: Text
    fire: Text
    ventilation: Text
    first_aid: Text
    who_decides: Text
    stop: str | None = None


class Stop(Sourced):
    """A hard stop that no setting switches off."""

    title: Name
    what_can_happen: Text
    do: Text
    never: Text
    who_decides: Text


class Source(Fact):
    """A text that values are taken from."""

    title: Text
    part: str = ""
    year: str = ""
    trust: Literal["read", "second-hand", "from memory", "definition", "common practice"]


class Word(Fact):
    """A trade word, explained once. `everyday` are spellings that mean something else as often, so pages do not link them."""

    uk: Name
    us: Name
    meaning: Text
    everyday: list[Name] = []

    @property
    def anchor(self) -> str:
        """Its address on the page of words."""
        return re.sub(r"[^a-z0-9]+", "-", self.uk.lower()).strip("-")

    @property
    def spellings(self) -> list[str]:
        """Every spelling that a page may link, UK ones first."""
        told = [part.strip() for part in f"{self.uk},{self.us}".split(",")]
        return [one for one in dict.fromkeys(told) if one and one.lower() not in {word.lower() for word in self.everyday}]


def _lines(typed: Any) -> Any:
    """Thousands of phrases are read in a third of the time as the lines of one text."""
    return typed.splitlines() if isinstance(typed, str) else typed


Phrases = Annotated[list[Text], BeforeValidator(_lines), WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string", "maxLength": 2000, "minLength": 1}}]})]


class Search(Fact):
    """How people ask: phrases that lead to a page, what they say for it, and words that mean another word of ours."""

    question: dict[str, Text] = {}  # the one question that a page answers
    asked: dict[str, Phrases]  # a list, or a text with one on each line
    words: dict[str, list[Name]] = {}  # loose words and short pieces, of laymen and of the trade, that people say for what a page is about
    twins: dict[str, Name]
    small: list[Name]
    soft: list[Name] = []  # words that count for little
    whole: list[Name] = []  # words that keep their ending: "masking" is no "mask"
    wishes: dict[str, list[Text]] = {}  # what a question wishes, said by its small words: "what does … mean". A star is one word, … any, ^ and $ the ends
    first: dict[str, list[Text]] = {}  # the same, for a page that comes before all others: somebody is hurt
    calm: list[Text] = []  # what is taken out of a question before it is asked for `first`: "sun in my eyes" hurts nobody


class Plan(Fact):
    """A drawing of strokes on a sheet 100 wide: plain rectangles (x y width height), and strokes (x y x y) in their order."""

    height: Annotated[int, BeforeValidator(_whole)]
    shapes: list[kinds.Numbers4]
    strokes: list[kinds.Numbers4]
    seen: Text


class Technique(Sourced):
    """How one kind of surface is sprayed."""

    label: Name
    us_label: Name
    settings: Text
    plan: Plan
    order: list[Text] = Field(min_length=1)
    tube: Text
    fails: list[Text] = Field(min_length=1)


class Fault(Sourced):
    """Something that goes wrong: how it looks, causes in the order to test them, and what to do. `number` names a page of this handbook."""

    name: Name
    others: list[Name]
    feel: Name
    then: Name
    looks: Text
    causes: list[Text] = Field(min_length=2)
    test: Text
    now: Text
    later: Text
    prevent: Text
    number: Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*)*$", max_length=60)] | None = None
    no_number: Text | None = None
    no_sum: Text | None = None
    drawing: Name | None = None


class Front(Fact):
    """What the eye meets: marks and words on paint, on a test card, or on bare work."""

    seen: Text
    of: Literal["paint", "card", "work"] = "paint"
    marks: list[sketch.MarkField] = []
    words: list[sketch.LabelField] = []


class Cut(Fact):
    """A slice: what the film lies on, the height of its top, and of its underside where it has let go."""

    seen: Text
    on: Name
    film: sketch.Heights
    under: sketch.Heights | None = None
    ground: sketch.Heights | None = None
    marks: list[sketch.MarkField] = []
    words: list[sketch.LabelField] = []


class FaultDrawing(Fact):
    """A fault from the front and cut through, with the shared axis lying or upright. Thickness is not to scale."""

    way: Literal["lying", "upright"] = "lying"
    front: Front
    cut: Cut


class Cleaning(Sourced):
    """How one family of coatings is washed out: how soon it sets in the nozzle, the steps, and where the washings go."""

    label: Name
    us_label: Name
    wash: Text
    sets_soon: kinds.Moment
    sets_late: kinds.Moment
    between: Text
    steps: list[Text] = Field(min_length=5, max_length=5)
    never: Text
    washings: Text
    frost: Text


class Finish(Sourced):
    """A kind of coat, as it is found and as it is sprayed over others; `short` heads a column."""

    label: Name
    us_label: Name
    short: Annotated[str, StringConstraints(min_length=1, max_length=14)]
    new: bool = True
    rub: Text
    looks: Text


class Substrate(Sourced):
    """A surface and what it must be before paint. Only wood has moisture readings: a meter's percentage means nothing elsewhere."""

    label: Name
    us_label: Name
    moisture_good: kinds.PercentMost | None = None
    moisture_max: kinds.PercentMost | None = None
    damp: Text
    sound: Text
    otherwise: Text


class Piece(Sourced):
    """A thing that is sprayed, by its sizes. What its `shape` is worked from: see `generators/studies/areas.py`.

    A flat piece is one face times `profile`, times `faces`, and its four edges, `edge` wide, where they are sprayed.
    """

    label: Name
    us_label: Name
    shape: Literal["flat", "panelled", "louvred", "turned", "bars", "boards", "lapped", "waved"] = "flat"
    width: kinds.Size
    height: kinds.Size
    edge: kinds.Size
    faces: Annotated[int, BeforeValidator(_whole), Field(ge=1, le=2)]
    profile: kinds.Times
    panels: Annotated[int, BeforeValidator(_whole), Field(ge=1, le=60)] | None = None
    panel_width: kinds.Size | None = None
    panel_height: kinds.Size | None = None
    moulding: kinds.Size | None = None
    frame: kinds.Size | None = None
    slat: kinds.Size | None = None
    thickness: kinds.Size | None = None
    pitch: kinds.Size | None = None
    girth: kinds.Size | None = None
    rails: Annotated[int, BeforeValidator(_whole), Field(ge=0, le=20)] | None = None
    rail_girth: kinds.Size | None = None
    gap: kinds.Size | None = None
    depth: kinds.Size | None = None


class Limit(Sourced):
    """One limit or default, with its unit; `kind` and `between` say what it measures, and the least and the most that it can be."""

    value: str
    what: Text
    kind: str | None = None
    between: str | None = None


class Rate(Sourced):
    """What the crew's own hour and tin cost, and how fast it works: the likely figure, and how it is when it goes well and badly."""

    value: str
    what: Text
    low: str | None = None
    high: str | None = None


class Stage(Sourced):
    """One stage of the work, in its order: what it goes by, who does it, which of the `rates` is its pace, and what has to dry after it."""

    label: Name
    us_label: Name | None = None
    does: Text
    when: Literal["office", "before", "coat", "between", "cure", "after", "visit"]
    per: Literal["once", "coat", "piece", "turn", "gun", "refill", "visit", "clean", "prepared", "detailed", "coated", "between", "sheet", "edge"]
    who: Literal["shared", "one", "together", "alone"]
    rate: Name | None = None
    wait: Name | None = None
    dries: bool = False
    work: list[Name] = []
    by_spray: kinds.Percent | None = None
    by_hand: kinds.Percent | None = None


class Laid(Fact):
    """A paint of a template: which coating, and how many coats of it."""

    coating: Name
    coats: Annotated[int, BeforeValidator(_whole), Field(ge=1, le=8)]  # of one paint; a limewash wants five or six


class Counted(Fact):
    """Surfaces of a template: what, how many (or how much), in which condition, and which of its paints go on, in order."""

    thing: Name
    where: Name
    count: Annotated[int, BeforeValidator(_whole), Field(ge=1, le=5000)]
    condition: Literal["sound", "worn", "poor"]
    paints: list[Name] = Field(min_length=1)


class Template(Sourced):
    """A job to begin from: its kind of work, paints and surfaces."""

    label: Name
    us_label: Name | None = None
    kind: Name
    place: Literal["indoors", "outdoors"]
    edges: kinds.Run
    sheets: kinds.Area
    paints: dict[str, Laid]
    surfaces: list[Counted] = Field(min_length=1)


class Recipe(Sourced):
    """What worked, once, on a day: measured by this crew (or invented, for a demonstration)."""

    coating: str
    time: kinds.Cup
    thinner: kinds.Percent
    result: Text
    kit: str | None = None
    batch: Name | None = None
    surface: Name | None = None
    temperature: kinds.Temperature | None = None
    nozzle: kinds.Nozzle | None = None
    distance: kinds.Length | None = None
    wet_film: kinds.Film | None = None
    notes: Text | None = None


class Reading(Fact):
    """One liquid timed in an unmarked cup, and how its viscosity is known."""

    time: kinds.Seconds
    known: kinds.Cup | None = None
    glycerol: kinds.Percent | None = None
    temperature: kinds.Temperature | None = None


class OwnCup(Sourced):
    """A crew's unmarked cup. Its law is fitted to the readings, and holds between the shortest and the longest of them."""

    label: Name
    readings: list[Reading] = Field(min_length=2)


class Cup(Fact):
    """A flow cup: ν = A·(t − C) − B/t, over the times it can be read at."""

    name: str
    label: str
    A: float
    B: float
    C: float
    time_min: float
    time_max: float
    viscosity_min: float
    viscosity_max: float
    temperature: float
    dip: bool
    origin: Origin


__all__ = ["Coating", "CoatingClass", "Cup", "Handbook", "Kit", "Limit", "Protection", "Recipe", "Source", "Stop", "Trial", "TwoPack", "Word"]
