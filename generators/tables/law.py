"""The rules of the handbook's region as tables of words: each row with its basis, the day it was checked, and whom to ask."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Any

from generators.facts.law import SUBJECTS, Rule
from generators.table import TextTable
from generators.tables.book import Book, Builder

OLD = "△ Old: check again. "


def shown(facts: Any) -> dict[str, str]:
    """Subjects with any rule for this handbook's place, and their titles."""
    return {key: subject.title for key, subject in SUBJECTS.items() if facts.law(subject=key) or facts.coming(subject=key)}


def told(rules: Iterable[Rule], on: str) -> str:
    """Where a table's rules come from, in one line: which were read, which are from memory, when they were checked, which are old."""
    by: dict[str, dict[str, None]] = {}
    days: dict[str, None] = {}
    old: dict[str, None] = {}
    for rule in rules:
        by.setdefault(str(rule.origin.basis), {})[name(rule)] = None
        days[rule.checked] = None
        if rule.old(on):
            old[name(rule)] = None
    if not by:
        return "No rule for this region is known here."
    parts = [f"{basis[0].upper()}{basis[1:]}: {'all' if len(by) == 1 else ', '.join(found)}." for basis, found in by.items()]
    return " ".join([*([f"{OLD}{', '.join(old)}."] if old else []), *parts, f"Checked {' and '.join(sorted(days))}. Check before you rely on it."])


def name(rule: Rule) -> str:
    """What a rule is about, by its key, as people write it."""
    return rule.key.partition("|")[0].replace("-", " ")


def _what(rule: Rule) -> str:
    first = name(rule)
    label = first[0].upper() + first[1:]
    if rule.subject == "voc":
        base = {"wb": ", waterborne", "sb": ", solvent-borne"}.get(rule.key.rpartition("|")[2], "")
        return f"{label}{base}"
    return f"{label}: {rule.scope}" if rule.subject == "air" else rule.scope[:1].upper() + rule.scope[1:] or label


def _row(book: Book, rule: Rule, coming: bool = False) -> tuple[str, ...]:
    facts = book.facts
    says = "; ".join(part for part in (rule.amount, rule.says, rule.scope if rule.subject == "voc" else "") if part) or "no figure"
    mark = f"From {rule.begins}: " if coming else OLD if rule.old(facts.handbook.date) else ""
    source = facts.sources.get(rule.origin.source)
    return (_what(rule), mark + says, rule.dated, source.title if source else rule.origin.source, rule.ask or facts.region.ask[0])


def rules(book: Book, subject: str) -> TextTable:
    """Every rule of one subject in force here on the handbook's day, then those that are to come."""
    facts = book.facts
    rows = [_row(book, rule) for rule in facts.law(subject=subject)] + [_row(book, rule, coming=True) for rule in facts.coming(subject=subject)]
    title = f"{SUBJECTS[subject].title}: {facts.region.title}"
    if not rows:
        return TextTable(f"law-{subject}", title, "No rule for this region is known here. Ask.", ("What", "Whom to ask"), (("Any", facts.region.ask[0]),))
    return TextTable(f"law-{subject}", title, f"As on {facts.handbook.date}. Check before you rely on it.", ("What", "Rule", "Basis", "Source", "Whom to ask"), tuple(rows))


def brief(book: Book, subject: str) -> TextTable:
    """The same for a page at the bench: what, rule, and how far it can be trusted."""
    full = rules(book, subject)
    return TextTable(f"here-{subject}", full.title, full.caption, full.heads[:3], tuple(row[:3] for row in full.rows))


BUILDERS = {f"law-{subject}": Builder(partial(rules, subject=subject), twins=False) for subject in SUBJECTS}
BUILDERS |= {f"here-{subject}": Builder(partial(brief, subject=subject), twins=False) for subject in SUBJECTS if subject not in ("air", "voc", "masks")}
