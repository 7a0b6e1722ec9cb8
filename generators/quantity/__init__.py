"""Values as people write them: one grammar, kept as data in grammar.json, and its reader. typed.js walks the same data on the phone."""

from generators.quantity.read import TwoReadings, Typed, read
from generators.quantity.script import script

__all__ = ["TwoReadings", "Typed", "read", "script"]
