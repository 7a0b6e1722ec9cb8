"""What hardens a tin, and the hard stops that follow: forced from its codes, its words, its class and its hardener. No setting takes one away."""

from __future__ import annotations

import re
from typing import Any

from pydantic import BaseModel

# Words and codes in any field of a tin's file that mean isocyanate, whatever class it is filed under. Moisture-cured one-packs are
# isocyanate. H334 is asthma by breathing: what carries it is treated alike.
ISOCYANATE = re.compile(
    r"iso[- ]?c[yi]a?na?t|\b(EUH ?204|H ?334|NCO)\b|\b(HDI|H12MDI|HMDI|MDI|TDI|IPDI|XDI)\b|"
    r"(moisture|humidity)[- ]?cur(ed|ing|es?)|cures? (with|by|in) (air )?(moisture|humidity)|polyaspartic", re.IGNORECASE)
FREE = re.compile(r"(?<!not )(?<!n't )\biso-?cyanate-?\s?free\b|\b(free (of|from)|contains? no|without|no) (poly|di)?-?isocyanates?(?=\s*([.,;)]|$))", re.IGNORECASE)
# Words of a material that two tins make, or that air sets: where its file does not say what hardens it, it counts as isocyanate.
ASKED = re.compile(r"\b(two|2)[- ]?(pack|part|component|comp)\b|\b[12] ?K\b|\bpart B\b|\b(hardener|activator|cross-?linker)s?\b|\b(poly)?urethanes?\b|\b[12]? ?K?[- ]?PUR?\b", re.IGNORECASE)
METALS = re.compile(r"\b(EUH ?201A?|EUH ?203)\b|\b(lead|zinc|strontium|barium|calcium)[- ]chromate|\bchromates?\b|\bred lead\b|\blead (pigment|drier|oxide)|\bchromium ?\(?VI\b", re.IGNORECASE)
NO_METALS = re.compile(
    r"\b(lead|chrom\w+)( and (lead|chrom\w+))?[- ]?free\b|\b(free (of|from)|contains? no|without|no) (lead|chromates?)( (and|or) (lead|chromates?))?(?=\s*([.,;)]|$))", re.IGNORECASE)


def _words(value: Any) -> str:
    """Every text in a fact, at any depth; stops are names of signs and not words about the tin."""
    if isinstance(value, str):
        return value
    if isinstance(value, BaseModel):
        return " ; ".join(_words(getattr(value, name)) for name in type(value).model_fields if name not in ("stops", "hardener"))
    if isinstance(value, dict):
        return " ; ".join(_words(part) for part in value.values())
    if isinstance(value, (list, tuple)):
        return " ; ".join(map(_words, value))
    return str(getattr(value, "text", "") or "")


def hardener_of(slug: str, coating: Any, kind: Any, guard: Any) -> str:
    """none, isocyanate, amine, acid or other. What two tins make, or air sets, and that does not say counts as isocyanate, and so does any tin whose words do."""
    written = f"{slug.replace('-', ' ')} ; {_words(coating)}"
    if coating.hardener == "isocyanate" or "isocyanates" in coating.stops or (guard is not None and guard.stop == "isocyanates") or ISOCYANATE.search(FREE.sub("", written)):
        return "isocyanate"
    if coating.two_pack is not None or (kind is not None and kind.family == "two-pack"):
        return "isocyanate" if coating.hardener in (None, "none") else str(coating.hardener)
    if coating.hardener is None and ASKED.search(written):
        return "isocyanate"
    return str(coating.hardener or "none")


def settled(slug: str, coating: Any, kind: Any, guard: Any) -> Any:
    """The coating with its hardener said and every stop on it that anything forces."""
    hardener = hardener_of(slug, coating, kind, guard)
    metals = METALS.search(NO_METALS.sub("", f"{slug.replace('-', ' ')} ; {_words(coating)}"))
    forced = [*([guard.stop] if guard is not None and guard.stop else []), *(["isocyanates"] if hardener == "isocyanate" else []), *(["chromate-lead-primer"] if metals else [])]
    return coating.model_copy(update={"hardener": hardener, "stops": list(dict.fromkeys([*coating.stops, *forced]))})
