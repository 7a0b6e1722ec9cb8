"""What hardens a tin, and the hard stops that follow: forced from its own words, its class and its hardener. No setting takes one away."""

from __future__ import annotations

import re
from typing import Any

from pydantic import BaseModel

# Words in any field of a tin's file that mean isocyanate, whatever class it is filed under. Moisture-cured one-packs are isocyanate.
_ISOCYANATE = re.compile(r"(poly|di)?-?iso-?cyanat|\bEUH204\b|\b(HDI|MDI|TDI|IPDI)\b|moisture[- ]cur(ed|ing)", re.IGNORECASE)
_FREE = re.compile(r"\biso-?cyanate-?\s?free\b|\b(free (of|from)|without|no) (poly|di)?-?isocyanates?\b", re.IGNORECASE)


def _words(value: Any) -> str:
    """Every text in a fact, at any depth; stops are names of signs and not words about the tin."""
    if isinstance(value, str):
        return value
    if isinstance(value, BaseModel):
        return " ".join(_words(getattr(value, name)) for name in type(value).model_fields if name != "stops")
    if isinstance(value, dict):
        return " ".join(_words(part) for part in value.values())
    if isinstance(value, (list, tuple)):
        return " ".join(map(_words, value))
    return str(getattr(value, "text", "") or "")


def hardener_of(slug: str, coating: Any, kind: Any, guard: Any) -> str:
    """none, isocyanate, amine, acid or other. A two-pack that does not say counts as isocyanate, and so does any tin whose words do."""
    said = _FREE.sub("", f"{slug.replace('-', ' ')} {_words(coating)}")
    if coating.hardener == "isocyanate" or "isocyanates" in coating.stops or (guard is not None and guard.stop == "isocyanates") or _ISOCYANATE.search(said):
        return "isocyanate"
    if coating.two_pack is not None or (kind is not None and kind.family == "two-pack"):
        return str(coating.hardener or "isocyanate")
    return str(coating.hardener or "none")


def settled(slug: str, coating: Any, kind: Any, guard: Any) -> Any:
    """The coating with its hardener said and every stop on it that anything forces."""
    hardener = hardener_of(slug, coating, kind, guard)
    forced = [*([guard.stop] if guard is not None and guard.stop else []), *(["isocyanates"] if hardener == "isocyanate" else [])]
    return coating.model_copy(update={"hardener": hardener, "stops": list(dict.fromkeys([*coating.stops, *forced]))})
