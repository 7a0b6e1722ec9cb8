"""Exercises: one job for each sheet, ten questions about it, and each answer the one that the day's chain gives."""

from generators.pages.exercises.asked import Exercise
from generators.pages.exercises.sheet import Sheet, sheet

__all__ = ["Exercise", "Sheet", "sheet"]
