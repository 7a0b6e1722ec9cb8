"""What data sheets print beside plain figures: seconds in a cup by any of its spellings, shares by weight or by volume, parts to parts, viscosity with its method.

Sources: Krebs units by the oils of ASTM D562 (40, 100 and 140 Pa·s/10 stand for 70, 85 and 95 KU: read, in shared notes on its note 1), through a
logarithmic line of an open repository, without a primary source; ±15 %, and for oils only. Other methods: from memory.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from generators.quantity import KINDS, Quantity
from generators.quantity import read as read_typed
from generators.units import UnitError

# Words of a sheet for one cup, and the family that it belongs to. Standards name their cup.
_FAMILIES = {"iso": "iso", "ford": "ford", "zahn": "zahn", "din": "din", "shell": "shell", "tu": "tu"}
_STANDARDS = ((r"(din\s*)?(en\s*)?iso\s*-?\s*2431", "iso"), (r"din\s*-?\s*(norm\s*)?53\s?211", "din"), (r"astm\s*-?\s*d\s?-?1200", "ford"), (r"gb\s?/?\s?t?\s?1723", "tu"))
_NOISE = re.compile(r"\b(cups?|flow|dip|viscosity|efflux|in|a|an|the|by|with|using|no|nr|num|number|size|mm|nozzle|type|id|seconds?|secs?)\b|[#№().,:;@ø=]|(?<=\d)mm\b", re.IGNORECASE)
_SECONDS = re.compile(
    r"(?P<figure>(?:(?:[<>≤≥~≈]=?|about|approx\.?|approximately|circa|ca\.?|max\.?|min\.?|up to|at most|at least)\s*)?(?<![\w#-])\d[\d.,½¼¾]*"
    r"(?:\s*(?:–|—|-|to|±|\+/-)\s*\d[\d.,½¼¾]*)?)\s*(?P<unit>seconds?|secs?\.?|s\b\.?|\"|″|'')(?P<plus>\s*(?:±|\+/-)\s*\d[\d.,]*\s*(?:seconds?|secs?|s|%)?)?", re.IGNORECASE)
_AT = re.compile(r"[(@,]?\s*(?:\bat\b|@|\()?\s*-?\d+(?:[.,]\d+)?\s*°\s*[CF]\)?|(?:\bat\b|@|\()\s*\d+(?:[.,]\d+)?\s*°?\s*(?:deg(rees)?\.?\s*)?[CF]\b\)?", re.IGNORECASE)


def cup_of(text: str) -> str:
    """The name of a cup's row, such as ford-4, for any of its spellings; what is no known family comes back in small letters with hyphens."""
    said = re.sub(r"^(in|with|by)\s+(an?\s+|the\s+)?", "", text.strip().lower())
    if re.fullmatch(r"[a-z0-9.]+(-[a-z0-9.]+)+", said) and not re.match(r"(iso|din|en)-?(2431|53211)", said):
        return said
    for pattern, family in _STANDARDS:
        said = re.sub(pattern, f" {family} ", said)
    said = said.replace("½", ".5").replace("-", " ")
    said = re.sub(r"(?<=[a-z])(?=\d)", " ", re.sub(r"(\d)\s+\.5", r"\1.5", said))
    numbers = re.findall(r"(?<![\d.])\d(?:\.5)?(?![\d.]*\d)", said)
    words = [word for word in re.sub(r"\d(?:\.5)?", " ", _NOISE.sub(" ", said)).split() if word]
    families = {_FAMILIES[word] for word in words if word in _FAMILIES}
    if len(families) == 1 and len(set(numbers)) == 1 and all(word in _FAMILIES for word in words):
        return f"{families.pop()}-{numbers[0]}"
    return "-".join(_NOISE.sub(" ", text.lower()).replace("-", " ").split()) if len(text) <= 60 else text


def cup_time(text: str) -> tuple[str, str]:
    """(seconds as typed with their unit, cup) of a time in a cup; UnitError where either is missing."""
    wanted = "seconds and the cup they were timed in, such as 95 s in iso-4"
    if re.search(r"\b(KU|krebs)\b", text, re.IGNORECASE):
        mend = f"Krebs units are no time in a cup, and for a water paint none follows from them: write viscosity: {' '.join(text.split())[:30]}, and time the paint yourself"
        raise UnitError(wanted, repr(text[:60]), mend)
    plain = _AT.sub(" ", text)
    match = _SECONDS.search(plain)
    if not match:
        raise UnitError(wanted, repr(text[:60]), "write the seconds, then `s in`, then the cup's name")
    rest = (plain[: match.start()] + " " + plain[match.end():]).strip()
    if not rest.strip(" ,.:;()"):
        raise UnitError(wanted, repr(text[:60]), "say which cup: write, for example, 62 s in ford-4")
    if _SECONDS.search(rest) or re.search(r"-\s*$", plain[: match.start()]):
        raise UnitError(wanted, repr(text[:60]), "write one time in one cup")
    return f"{match['figure']} s{(match['plus'] or '').rstrip()}", cup_of(rest)


_BY = re.compile(r"\(?\b(?:by\s+|per\s+)?(?P<word>weight|wt|mass|volume|vol)\b\.?\)?|\b(?P<pair>w/w|m/m|v/v)\b|(?<![A-Za-z])(?P<bare>wt|vol)\.?\s*(?=%)", re.IGNORECASE)


def by(text: str) -> tuple[str, str]:
    """(the text without them, "mass", "volume" or "") of words such as by weight, wt %, v/v."""
    match = _BY.search(text)
    if not match:
        return text, ""
    word = (match["word"] or match["pair"] or match["bare"]).lower()
    rest = " ".join((text[: match.start()] + " " + text[match.end():]).split()).replace("% -", "%-")
    return rest, "volume" if word.startswith("v") else "mass"


_PART = r"(?P<%s>[\d.,]+(?:\s?[½¼¾])?|[½¼¾])\s*(?:parts?\b)?\s*(?:of\s+)?(?:[a-z]+\s*)??(?:part\s*)?"
_PARTS = re.compile(rf"^\s*{_PART % 'first'}(?::|to|\+|/|and)\s*{_PART % 'second'}$", re.IGNORECASE)


class Parts(float):
    """Parts of base to one of hardener. `by` is volume, or mass where the sheet says so: then densities make it volume."""

    by: str = "volume"


def parts(text: str) -> Parts:
    """What a sheet means by 4:1, 4 parts to 1, 100:25 by weight; UnitError for all else."""
    wanted = "parts of base to parts of hardener by volume, such as 4:1"
    rest, how = by(text)
    match = _PARTS.match(rest)
    if not match:
        raise UnitError(wanted, repr(text[:60]), "write the two numbers with a colon, in quotes")
    first, second = (read_typed(match[name].strip(), "1").likely for name in ("first", "second"))
    if not (first > 0 and second > 0 and 0.2 <= first / second <= 100):
        raise UnitError(wanted, repr(text[:60]), "write the two numbers with a colon, in quotes")
    found = Parts(first / second)
    found.by = how or "volume"
    return found


@dataclass(frozen=True)
class Method:
    """How a viscosity was measured, and what is known of it: how wide it is, and at which shear."""

    name: str
    words: str
    wide: float       # ± share of the figure
    meaning: str


_METHODS = (
    Method("cone", r"cone\s*(and|&|/|-)\s*plate|\bD\s?4287\b|\bISO\s*2884\b|high[- ]shear", 0.10, "at high shear, as at the nozzle"),
    Method("spindle", r"spindle|rotational|\bD\s?2196\b|\bISO\s*2555\b|\brpm\b|r/min", 0.0, "at the low shear of its spindle: it says how the paint stands and runs, and no cup time follows from it"),
    Method("shear", r"(?P<rate>\d[\d .,]*)\s*(1/s|s-1|s⁻¹|/s|sec-1)", 0.10, "at the shear named"),
    Method("kinematic", r"mm²/s|mm2/s|\bcSt\b|centistokes", 0.05, "kinematic: as a cup has it"),
)
_KREBS = re.compile(r"^\s*(?P<figure>.*?\d[\d.,]*)\s*(KU|krebs(\s+units?)?|krebs\s+stormer(\s+units?)?|k\.u\.)\s*(?P<plus>(±|\+/-)\s*\d+)?\s*(\(?(at|@)?\s*\d+\s*°\s*[CF]\)?)?\s*$", re.IGNORECASE)
KREBS_SPAN, KREBS_WIDE = (53.0, 140.0), 0.15


def krebs(units: float) -> float:
    """mPa·s of an oil that shows so many Krebs units: KU = 50 + 21.12 (ln η − 5.165)."""
    return math.exp(5.165 + (units - 50) / 21.12)


@dataclass(frozen=True)
class Viscosity:
    """A viscosity as a sheet prints it, as mPa·s (or mm²/s where it is kinematic), with how it was measured and what that is good for."""

    value: Quantity
    method: str
    meaning: str

    @property
    def text(self) -> str:
        return self.value.text


def viscosity(text: str) -> Viscosity:
    """What a sheet means by 95 KU, 120 mPa·s (cone and plate, 10 000 1/s), 1500 cP spindle 3 20 rpm; UnitError where the method is missing."""
    wanted = "a viscosity and how it was measured, such as 95 KU, or 120 mPa·s (cone and plate)"
    if match := _KREBS.match(text):
        typed = read_typed(" ".join(filter(None, (match["figure"], match["plus"]))), "1")
        if not all(KREBS_SPAN[0] <= end <= KREBS_SPAN[1] for end in (typed.low, typed.high) if math.isfinite(end)) or not KREBS_SPAN[0] <= typed.likely <= KREBS_SPAN[1]:
            raise UnitError(f"Krebs units between {KREBS_SPAN[0]:g} and {KREBS_SPAN[1]:g}", repr(text[:60]), "check the number and the unit")
        low, likely, high = krebs(max(typed.low, KREBS_SPAN[0])) * (1 - KREBS_WIDE), krebs(typed.likely), krebs(min(typed.high, KREBS_SPAN[1])) * (1 + KREBS_WIDE)
        return Viscosity(Quantity(low, likely, high, "mPa·s", "sheet viscosity", text=text), "krebs", "about, for an oil, at low to middle shear; no cup time follows from it for a water paint")
    method = next((one for one in _METHODS if re.search(one.words, text, re.IGNORECASE)), None)
    figure = re.match(r"^\s*(?:(?:viscosity|cone|plate|and|&|[:,()-])\s*)*"
                      r"(?P<value>(?:[<>≤≥~≈]|about|approx\.?|ca\.?|max\.?|min\.?)?\s*\d[\d.,]*(?: \d{3})*(?:\s*(?:–|—|-|to|±|\+/-)\s*\d[\d.,]*(?: \d{3})*)?)\s*"
                      r"(?P<unit>mPa[·.\s*]?s(?:ec)?|Pa[·.\s*]?s|cPs?|cps|CPS|centipoises?|poises?|P|mm²/s|mm2/s|cSt|centistokes)(?![A-Za-z])", text)
    if figure is None:
        raise UnitError(wanted, repr(text[:60]), "write it in KU, mPa·s, cP or poise, with the method")
    if method is None:
        raise UnitError(wanted, repr(text[:60]), "name the method or the shear: cone and plate, spindle and speed, or 100 1/s; one paint shows ten viscosities")
    if method.name == "spindle" and not (re.search(r"spindle|#|no\.?\s*\d|\b[A-Z]{2,3}\s*\d|\d\s*/\s*\d", text) and re.search(r"\d\s*(rpm|r/min)|/\s*\d+\s*$", text, re.IGNORECASE)):
        raise UnitError(wanted, repr(text[:60]), "name the spindle and its speed, such as spindle 3, 20 rpm")
    if method.name == "kinematic" or figure["unit"] in ("mm²/s", "mm2/s", "cSt", "centistokes"):
        method, unit = _METHODS[3], "mm²/s"
    else:
        unit = "mPa·s"
    spelled = re.sub(r"^(centipoises?|cPs?|cps|CPS)$", "cP", figure["unit"])
    typed = read_typed(f"{figure['value']} {'P' if spelled.lower() in ('poise', 'poises') else spelled}", unit).to(unit)
    if not 0.5 <= typed.likely <= 200_000:
        raise UnitError(f"a viscosity between 0.5 and 200000 {unit}", repr(text[:60]), "check the number and the unit")
    low = typed.low if math.isfinite(typed.low) else 0.0
    high = typed.high if math.isfinite(typed.high) else 200_000.0
    rate = re.search(_METHODS[2].words, text)
    meaning = f"at a shear of {rate['rate'].strip()} 1/s" if rate and method.name in ("shear", "cone") else method.meaning
    return Viscosity(Quantity(low * (1 - method.wide), typed.likely, high * (1 + method.wide), unit, "sheet viscosity", text=text), method.name, meaning)


def share(text: str, per: str) -> str:
    """The text of a share without the words of what it is a share by; UnitError where they say another than `per`."""
    rest, how = by(text)
    if how and per and how != per:
        other = "mass_solids" if how == "mass" else "volume_solids"
        raise UnitError(f"a share by {per}", repr(text[:60]), f"this one is by {'weight' if how == 'mass' else 'volume'}: write it as {other} where it is solids, and look for the other on the sheet")
    return rest


__all__ = ["KINDS", "Method", "Parts", "Viscosity", "by", "cup_of", "cup_time", "krebs", "parts", "share", "viscosity"]
