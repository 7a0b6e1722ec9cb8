"""Verdict: declared beside Formula and read the same four ways (numpy, JavaScript, print, worked)."""

from generators.verdict.declare import CARE, GO, OUTCOMES, RANK, STOP, UNKNOWN, Test, Verdict
from generators.verdict.held import Held, number, text

__all__ = ["CARE", "GO", "OUTCOMES", "RANK", "STOP", "UNKNOWN", "Held", "Test", "Verdict", "number", "text"]
