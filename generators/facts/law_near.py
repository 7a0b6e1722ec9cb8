"""Figures of law against each other: one place's against the others', and a short limit against a long one. Lawmakers differ, but seldom five times."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterable, Iterator
from fnmatch import fnmatchcase
from typing import Any

from generators.facts.relate import DOUBTFUL, REFUSED, Found
from generators.facts.usual import Spans

APART = 4.9  # a tenth or ten times of what others say is further than this


def _peers(key: str) -> str:
    """What a rule is compared by: its substance and its time, whoever set the figure."""
    return "|".join(key.split("|")[:2]) if key.endswith("|niosh") else key


def near(rules: Iterable[Any], spans: Spans) -> Iterator[tuple[Any, Found]]:
    """(rule, what is odd about it) for every rule with a figure: by the span of its kind in usual.csv and by other places; a line for that very rule stands alone."""
    rules = [rule for rule in rules if not math.isnan(rule.figure)]
    by: dict[tuple[str, str, str], list[Any]] = {}
    places: dict[tuple[str, str], dict[str, Any]] = {}
    for rule in rules:
        by.setdefault((rule.subject, _peers(rule.key), rule.unit), []).append(rule)
        places.setdefault((rule.subject, rule.region), {})[rule.key] = rule
    mend = "check the number and the unit against the source"
    for rule in rules:
        known = {name: span for name, span in spans.get(f"law/{rule.subject}", {}).items() if span[2] == rule.unit}
        base, _, which = rule.key.partition("|")
        own = next((known[name] for name in (f"{rule.region}:{rule.key}", rule.key) if name in known), None)
        span = own or next((span for name, span in known.items() if name == rule.unit or fnmatchcase(rule.key, name)), None)
        others = [one.figure for one in by[rule.subject, _peers(rule.key), rule.unit] if one.region != rule.region]
        middle = statistics.median(others) if others and own is None else rule.figure
        if span is not None and not span[0] * (1 - 1e-9) <= rule.figure <= span[1] * (1 + 1e-9):
            yield rule, Found(("figure",), DOUBTFUL, f"a figure between {span[0]:g} and {span[1]:g} {rule.unit}", f"{rule.figure:g}", mend)
        elif not 1 / APART < rule.figure / middle < APART:
            yield rule, Found(("figure",), DOUBTFUL, f"a figure near what others have, {middle:g} {rule.unit}", f"{rule.figure:g}", mend)
        short = places[rule.subject, rule.region].get(f"{base}|15min")
        if which == "8h" and short is not None and short.unit == rule.unit and short.figure < rule.figure:
            yield short, Found(("figure",), REFUSED, f"a limit for 15 minutes at or over that for 8 hours, {rule.figure:g} {rule.unit}", f"{short.figure:g}", "swap or mend the two")
