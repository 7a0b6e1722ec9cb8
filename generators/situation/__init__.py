"""Situation: the readings that a person can take, declared; and one set of them, read from texts."""

from generators.situation.declare import READINGS, Reading
from generators.situation.read import Situation, SituationError, read

__all__ = ["READINGS", "Reading", "Situation", "SituationError", "read"]
