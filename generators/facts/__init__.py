"""Facts: reading and checking site_data."""

from generators.facts.held import Facts, old_values
from generators.facts.kinds import Trial
from generators.facts.law import Law, Rule
from generators.facts.load import load
from generators.facts.problem import FactsError, Problem

__all__ = ["Facts", "FactsError", "Law", "Problem", "Rule", "Trial", "load", "old_values"]
