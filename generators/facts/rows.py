"""Rows of the CSV files, typed: each value a Quantity with the row's basis and source. A bare figure is in the unit of its column's head."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from generators.facts import kinds
from generators.facts.model import Name, Sourced, Text
from generators.quantity import Quantity


class Row(Sourced):
    """One row. `file` is its CSV in site_data, `heads` are the columns that carry a unit, as they stand in the first line."""

    file: ClassVar[str]
    heads: ClassVar[dict[str, str]] = {}
    before: ClassVar[tuple[str, ...]] = ()  # an older first line that is read as well

    @classmethod
    def columns(cls) -> tuple[str, ...]:
        """The file's first line."""
        named = [(field.alias or name) for name, field in cls.model_fields.items() if name not in Sourced.model_fields]
        return (*(f"{name} [{cls.heads[name]}]" if name in cls.heads else name for name in named), "basis", "source")

    def __getitem__(self, head: str) -> str:
        """A cell as it was written, by its column's head: for tables of words. What is worked with is a Quantity, by its field."""
        name = head.partition(" [")[0]
        named = next((field for field, about in type(self).model_fields.items() if about.alias == name), name)
        value = getattr(self, named)
        return value.text.removesuffix(f" {self.heads[name]}") if name in self.heads and isinstance(value, Quantity) else value.text if isinstance(value, Quantity) else str(value)


class Solvent(Row):
    """A solvent, with what each list says of explosive limit and flash point. Limits to breathe are law, by its `key`."""

    file = "solvents.csv"
    heads: ClassVar = {"density": "kg/L", "molar_mass": "g/mol", **dict.fromkeys(("lel_iec", "lel_nfpa", "lel_other", "lel_g11"), "%"),
                       **dict.fromkeys(("flash_iec", "flash_nfpa", "flash_other"), "°C")}
    # What the file held before it had flash points and keys. An older folder still reads; its solvents have no limit to breathe.
    before: ClassVar = ("name", "density [kg/L]", "molar_mass [g/mol]", "lel_iec [%]", "lel_nfpa [%]", "lel_g11 [%]", "basis", "source")
    name: Name
    key: str = ""
    density: kinds.Solvent
    molar_mass: kinds.Mass
    lel_iec: kinds.Gas | None = None
    lel_nfpa: kinds.Gas | None = None
    lel_other: kinds.Gas | None = None
    lel_g11: kinds.Gas | None = None  # an older rule's, shown beside the others and never worked with
    flash_iec: kinds.Flash | None = None
    flash_nfpa: kinds.Flash | None = None
    flash_other: kinds.Flash | None = None

    @property
    def explosive_limits(self) -> tuple[Quantity, ...]:
        """Lower explosive limits of the lists in force."""
        return tuple(one for one in (self.lel_iec, self.lel_nfpa, self.lel_other) if one)

    @property
    def flash_points(self) -> tuple[Quantity, ...]:
        """Flash points of every list that has one."""
        return tuple(one for one in (self.flash_iec, self.flash_nfpa, self.flash_other) if one)


class Comb(Row):
    """A wet-film comb, shortest tooth first."""

    file = "combs.csv"
    heads: ClassVar = {"teeth": "µm"}
    comb: Name
    teeth: kinds.Teeth


class FlowTime(Row):
    """An official flow time, and the viscosity it stands for."""

    file = "flow_times.csv"
    heads: ClassVar = {"time": "s", "viscosity": "mm²/s"}
    cup: Name
    time: kinds.Time
    viscosity: kinds.Viscosity


class CupDisagreement(Row):
    """How far a cup's line is from a second published table, in words."""

    file = "cup_disagreements.csv"
    cup: Name
    times: Text
    difference: Text


class Landing(Row):
    """Share of the paint that lands, by method."""

    file = "efficiencies.csv"
    method: Text
    efficiency: kinds.Efficiency
    kind: Text


class Surface(Row):
    """What is coated, how it is counted, how fast a hand covers it, and how much more work its shape is than a flat wall (`detail`).

    A thing that is counted by the piece names its `piece`, whose sizes give its area; then it has no face of its own. `loose`: it is taken off.
    """

    file = "surfaces.csv"
    heads: ClassVar = {"face": "m²", "spray_lands": "%", "brush_rate": "m²/h", "roll_rate": "m²/h"}
    # What the file held before its things were worked from their sizes. An older folder still reads.
    before: ClassVar = ("name", "label", "us_label", "counted", "face [m²]", "sides", "profile", "drink", "spray_lands [%]", "brush_rate [m²/h]", "roll_rate [m²/h]", "basis", "source")
    name: Name
    label: Name
    us_label: Name
    counted: Literal["each", "area", "length"]
    piece: str = ""
    face: kinds.Area | None = None
    sides: kinds.Many | None = None
    profile: kinds.Bare | None = None
    drink: kinds.Bare
    spray_lands: kinds.Efficiency
    brush_rate: kinds.Rate
    roll_rate: kinds.Rate
    detail: kinds.Bare | None = None
    loose: Literal["yes", "no", ""] = ""


class Care(Row):
    """Days until a finish may be used with care, washed, and used as it is meant."""

    file = "care.csv"
    heads: ClassVar = {"careful_after": "d", "wash_after": "d", "full_after": "d"}
    class_key: Name = Field(alias="class")
    careful_after: kinds.Days
    wash_after: kinds.Days
    full_after: kinds.Days
    words: Text


class Over(Row):
    """Whether one coat may go over another, in a word and in a sentence."""

    file = "over.csv"
    new: Name
    old: Name
    verdict: Literal["yes", "care", "no"]
    word: Text
    why: Text


class AreaFactor(Row):
    """What makes a surface bigger than its face, or makes it drink more."""

    file = "area_factors.csv"
    shape: Name
    us: Name
    counts: Literal["area", "litres"]
    low: kinds.Bare
    high: kinds.Bare
    why: Text


class Usual(Row):
    """Between which figures a fact usually lies. `of` is a file, or a file and a kind of its entries."""

    file = "usual.csv"
    of: Name
    field: Name
    low: Text
    high: Text
