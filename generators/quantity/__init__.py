"""Values as people write them: one grammar, kept as data in grammar.json, its reader, and Quantity, which a value is from file to phone."""

from generators.quantity.kind import KINDS, Kind
from generators.quantity.read import TwoReadings, Typed, read
from generators.quantity.script import script
from generators.quantity.value import UNSAID, Quantity

__all__ = ["KINDS", "UNSAID", "Kind", "Quantity", "TwoReadings", "Typed", "read", "script"]
