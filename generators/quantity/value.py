"""Quantity: one value from file to phone. Frozen; floats in its own unit."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generators import units
from generators.basis import Basis, Origin

# A value that gave no basis of its own holds this very object until its file's basis takes its place.
UNSAID = Origin(Basis.INVENTED)


@dataclass(frozen=True)
class Quantity:
    """A value as an interval: `low` ≤ `likely` ≤ `high` in `unit`, three times the same where one figure was given.

    `kind` names what it measures; `text` is what was written; `at` is when it was read, where that is known; `cup` is the cup
    that seconds were timed in: seconds never stand alone.
    """

    low: float
    likely: float
    high: float
    unit: str
    kind: str = ""
    origin: Origin = UNSAID
    text: str = ""
    at: str = ""
    cup: str = ""

    @classmethod
    def exact(cls, value: float, unit: str, origin: Origin = UNSAID) -> Quantity:
        """One figure that nothing was said about: low, likely and high are the same."""
        return cls(value, value, value, unit, origin=origin)

    @property
    def value(self) -> float:
        """The likely figure, in the unit it was written in."""
        return self.likely

    @property
    def seconds(self) -> float:
        """The likely time in seconds."""
        return self.to("s")

    def to(self, unit: str) -> float:
        """The likely figure in another unit of the same kind; UnitError where the kinds differ."""
        return float(units.convert(self.likely, self.unit, unit))

    def ends(self, unit: str) -> tuple[float, float]:
        """(low, high) in another unit of the same kind."""
        low, high = (float(units.convert(end, self.unit, unit)) for end in (self.low, self.high))
        return low, high

    def settled(self, origin: Origin) -> Quantity:
        """This value with its file's origin, where it has none of its own."""
        return replace(self, origin=origin) if self.origin is UNSAID else self
