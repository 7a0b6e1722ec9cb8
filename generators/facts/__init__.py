"""Facts: reading and checking site_data."""

from generators.facts.kinds import Trial
from generators.facts.load import Facts, load, old_values
from generators.facts.problem import FactsError, Problem

__all__ = ["Facts", "FactsError", "Problem", "Trial", "load", "old_values"]
