"""Facts: reading and checking site_data."""

from generators.facts.kinds import CupTime, Measure, Trial
from generators.facts.load import Facts, load
from generators.facts.problem import FactsError, Problem

__all__ = ["CupTime", "Facts", "FactsError", "Measure", "Problem", "Trial", "load"]
