"""Kinds of question: what each changes in the job of its sheet, and what it asks the chain."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from generators.chain.day import Day
from generators.chain.job import chain as job_chain
from generators.chain.links import Step
from generators.pages.exercises.asked import VERDICTS, Ask, Exercise, asked
from generators.pages.exercises.scene import Scene
from generators.verdict import CARE, GO, STOP

Drawn = tuple[str, dict[str, Any]]  # question, and the readings it changes


@dataclass(frozen=True)
class Kind:
    """`draw` gives the words of the question and what it changes; `outcomes` are worn through in turn, so that each word is right often enough."""

    name: str
    ask: Ask
    draw: Callable[[Scene, Any, random.Random], Drawn]
    outcomes: tuple[str, ...] = ()


def _air(scene: Scene, facts: Any, rng: random.Random) -> dict[str, Any]:
    tin = facts.coatings[scene.coating]
    low, high = tin.air_min.to("°C"), tin.air_max.to("°C")
    air = rng.choice((rng.uniform(low + 3, high - 3), rng.uniform(low - 6, high + 5)))
    surface = air + rng.choice((rng.uniform(-2, 1), rng.uniform(-9, 12)))
    return {"air-temperature": scene.typed(air, "°C"), "relative-humidity": f"{5 * rng.randint(6, 19)} %", "surface-temperature": scene.typed(surface, "°C")}


def _weather(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    new = _air(scene, facts, rng)
    return f"Air {new['air-temperature']}, humidity {new['relative-humidity']}, surface {new['surface-temperature']}. May you spray {facts.coatings[scene.coating].name}?", new


def _dew(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    new = _air(scene, facts, rng)
    return f"Air {new['air-temperature']}, humidity {new['relative-humidity']}, surface {new['surface-temperature']}. How far is the surface over the dew point, and what follows?", new


def _site(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    outdoors = scene.pairs["place"] == "outdoors"
    wind = scene.typed(rng.uniform(0.5, 8), "m/s", 0.5, 1)
    water, cold = rng.choice((8, 9, 16, 24)), scene.typed(rng.choice((-1, 3, 12)), "°C")
    troubles: list[tuple[str, dict[str, Any]]] = [
        ("Nothing has changed since the survey.", {}),
        ("Somebody without a mask wants to stay and watch.", {"people-out": "no"}),
        ("A pilot light is burning.", {"flames-out": "no"}),
        ("The building turns out to be of 1930, and nobody has tested the old paint.", {"building-year": "1930", "lead": "not-tested"}),
        ("The old finish flakes at the sill.", {"old-finish": "flaking"}),
        ("What the old finish is, nobody can say.", {"old-finish": "not-sure"}),
        (f"The work is bare wood. The meter says {water} %.", {"ground": "wood", "moisture": f"{water} %"}),
    ]
    if outdoors:
        troubles += [
            (f"The wind is {wind}, gusts no more.", {"wind": wind, "gust": wind}),
            ("Rain is due at 11:15.", {"rain-at": "11:15"}),
            (f"It will fall to {cold} tonight.", {"night-low": cold}),
        ]
    words, new = rng.choice(troubles)
    return f"{words} Air {scene.pairs['air-temperature']}, humidity {scene.pairs['relative-humidity']}, surface {scene.pairs['surface-temperature']}. May you spray?", new


def _pot(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    kit, tin = facts.kits[scene.kit], facts.coatings[scene.coating]
    limit, cup = kit.limit.seconds, facts.cups[kit.limit.cup].label
    share, first = rng.choice((2, 3, 5)), round(limit * rng.uniform(1.0, 1.9))
    second = max(round(first * rng.uniform(0.6, 0.9)), 15)
    litres = scene.typed(rng.uniform(0.4, 1.0), "L", 0.1, 0.25)
    new: dict[str, Any] = {"cup": kit.limit.cup, "cup-time": f"{first} s", "dose": (f"{share}%:{second}s",), "pot-litres": litres}
    words = f"{cup}: {first} s as it stands, {second} s with {share} % in it."
    if rng.random() < 0.35:
        more, third = share + rng.choice((3, 5, 8)), max(round(second * rng.uniform(0.7, 0.95)), 14)
        new["dose"] = (*new["dose"], f"{more}%:{third}s")
        words += f" Somebody poured on: {third} s with {more} % in all."
    return f"{words} In the pot: {litres}. The label allows {tin.thinner_max.to('%'):g} %. What do you pour?", new


def _ready(scene: Scene, facts: Any, rng: random.Random) -> tuple[str, dict[str, Any]]:
    """A pot thin enough for the kit, told in words."""
    kit, tin = facts.kits[scene.kit], facts.coatings[scene.coating]
    limit, most = kit.limit.seconds, tin.thinner_max.to("%")
    share = rng.choice([one for one in (0, 2, 3, 5) if one <= most])
    last = round(limit * rng.uniform(0.8, 0.97))
    if not share:
        return f"The pot times {last} s in {facts.cups[kit.limit.cup].label}, nothing in it.", {"cup": kit.limit.cup, "cup-time": f"{last} s"}
    first = round(last * rng.uniform(1.15, 1.35))
    return f"The pot timed {first} s in {facts.cups[kit.limit.cup].label}, and {last} s with {share} % in it.", {"cup": kit.limit.cup, "cup-time": f"{first} s", "dose": (f"{share}%:{last}s",)}


def _film(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    words, new = _ready(scene, facts, rng)
    return f"{words} How thick must the wet film be?", new


def _comb(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    words, new = _ready(scene, facts, rng)
    return f"{words} Which tooth of the comb is the last wet one?", new


def _reach(scene: Scene, facts: Any, rng: random.Random) -> tuple[str, dict[str, Any]]:
    kit = facts.kits[scene.kit]
    near, far = kit.near.to("mm"), kit.far.to("mm")
    distance, step = scene.typed(rng.uniform(near + 5, far - 5), "mm", 5, 0.25), scene.typed(rng.uniform(near * 0.3, far * 0.8), "mm", 5, 0.25)
    return f"Gun {distance} from the work, strokes {step} apart.", {"distance": distance, "step": step}


def _speed(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    words, new = _ready(scene, facts, rng)
    reach, more = _reach(scene, facts, rng)
    return f"{words} {reach} How fast is the hand?", new | more


def _overlap(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    words, new = _reach(scene, facts, rng)
    return f"{words} Does the film come out even, from a perfect hand?", new


def _next(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    new, tin = _air(scene, facts, rng), facts.coatings[scene.coating]
    hours = max(0.5, round(2 * tin.recoat_after.to("h") * rng.choice((0.4, 1.2, 2, 3))) / 2)
    minutes = 630 - round(hours * 60)
    day, clock = 26 + minutes // 1440, minutes % 1440
    new["last-coat-at"] = f"2026-11-{day:02d}T{clock // 60:02d}:{clock % 60:02d}"
    if touch := rng.random() < 0.15:
        new["touch-test"] = "fails"
    return (f"The last coat was finished {hours:g} hours ago. Air {new['air-temperature']}, humidity {new['relative-humidity']} since then. "
            f"{'It still marks' if touch else 'It no longer marks'} in a corner. May the next coat go on?"), new


def _mask(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    _, ready = _ready(scene, facts, rng)
    new = {"place": "room", "room-volume": scene.typed(rng.choice((20, 40, 80, 200, 600, 2000)), "m³", 10, 100), "air-changes": f"{rng.choice((1, 4, 10, 30, 60))}", "mixing": "3",
           "pot-litres": scene.typed(rng.choice((0.1, 0.5, 1)), "L", 0.1, 0.1)}
    return (f"A room of {new['room-volume']}, {new['air-changes']} changes of air an hour, ordinary mixing; {new['pot-litres']} to spray. "
            "Mist: does a half mask cover it?"), ready | new


def _tin(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    slug = rng.choice(list(facts.coatings))
    new: dict[str, Any] = {"coating": slug}
    words = f"Somebody hands you {facts.coatings[slug].name}."
    if facts.coatings[slug].two_pack is not None:
        new["hardener"] = rng.choice(("amine", "acid", "isocyanate"))
        words += f" Its second tin says: {new['hardener']}."
    return f"{words} May it be sprayed at all, by you and here?", new


def _litres(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    words, new = _ready(scene, facts, rng)
    new["area"] = scene.typed(rng.uniform(4, 40), "m²", 1, 10)
    return f"{words} How much goes through the gun for one coat on {new['area']} of flat work?", new | {"shape": "flat"}


def _clear(scene: Scene, facts: Any, rng: random.Random) -> Drawn:
    new = {"place": "room", "air-changes": f"{rng.randint(3, 30)}", "mixing": f"{rng.choice((1, 3))}"}
    return f"{new['air-changes']} changes of air an hour, {'perfect' if new['mixing'] == '1' else 'ordinary'} mixing. How long after the last stroke do masks stay on and the others out?", new


_MAY = (("go", "Yes"), ("stop", "No"))
_EVEN = (("go", "Even"), ("care", "Stripes in a low light"), ("stop", "Stripes anyone sees"))
_POURS = (("pour", "Pour that much"), ("none", "Nothing: thin enough"), ("stop", "Nothing: not to be sprayed so"))
_MASKS = (("go", "Yes, a half mask at the least"), ("care", "No: powered or air-fed"), ("stop", "No mask is enough: more air, or a brush"))
_AIR_HOW = "The surface is {margin} over the dew point; {coating.margin_needed} is the least. The sheet wants {coating.air_min} to {coating.air_max}, and at most {coating.humidity_max}."
_POT_HOW = "In all this kit wants {share-total}; {share-now} is in it, and its label allows {coating.thinner_max}."
_SPEED_HOW = "{gun-flow} through the gun, {efficiency} lands, {film-wet} wet, strokes {gun-step} apart."
KINDS = (
    Kind("weather", Ask("spray", "air/go-or-wait.md", _AIR_HOW, VERDICTS, wants=()), _weather, (GO, CARE, STOP)),
    Kind("dew", Ask("margin", "air/dew-point.md", _AIR_HOW, VERDICTS, wants=("go", "care", "stop")), _dew, (GO, STOP, CARE)),
    Kind("site", Ask("spray", "survey/before-you-quote.md", "", VERDICTS, wants=()), _site, (STOP, GO, CARE)),
    Kind("pot", Ask("pot", "mix/thinning.md", _POT_HOW, _POURS, {GO: "none", CARE: "pour", STOP: "stop"}, ("pour",)), _pot, (CARE, STOP, GO)),
    Kind("tin", Ask("allowed", "safety/isocyanates.md", "", _MAY, {GO: "go", CARE: "go", STOP: "stop"}, ()), _tin, (GO, STOP)),
    Kind("overlap", Ask("evenness", "gun/strokes-and-overlap.md", "", _EVEN, wants=()), _overlap, (GO, CARE, STOP)),
    Kind("film", Ask("wet-film", "film/wet-and-dry.md", "{coating.dry_film} dry, {coating.volume_solids} solids, {share-sprayed} thinner."), _film),
    Kind("comb", Ask("teeth", "film/wet-and-dry.md", "The film is {film-wet}; the last tooth under it is wet."), _comb),
    Kind("speed", Ask("speed", "gun/speed-and-film.md", _SPEED_HOW), _speed),
    Kind("next", Ask("next-coat", "air/drying-and-recoat.md", "It dries {stretch} as long as the sheet's time: {coat-wait} in all.", VERDICTS, wants=()), _next, (GO, CARE, STOP)),
    Kind("mask", Ask("mask", "safety/ppe.md", "Mist at {mist-factor} the limit; a half mask covers {region.half_mask}.", _MASKS, wants=()), _mask, (GO, CARE, STOP)),
    Kind("litres", Ask("litres", "gun/speed-and-film.md", "{area} at {film-wet}, and {efficiency} lands."), _litres),
    Kind("clear", Ask("clear-after", "safety/vapour-and-fire.md", "{limits.clearing} has to be gone."), _clear),
)
ALWAYS = ("weather", "site", "dew", "pot", "tin", "overlap")  # label, weather, safety, overlap; price and faults come beside them


def draw(day: Day, kind: Kind, scene: Scene, wanted: str, rng: random.Random) -> Exercise | None:
    """One question of a kind about the job of its sheet; None where this draw is not fair, or its outcome another than wanted."""
    words, new = kind.draw(scene, day.facts, rng)
    return asked(day, kind.name, kind.ask, words, {**scene.pairs, **new}, scene.system, wanted)


def price(day: Day, scene: Scene, rng: random.Random) -> Exercise | None:
    """What the job comes to before margin: a step of the job's own chain, at the crew's rates."""
    rates, coin = day.facts.rates, day.facts.handbook.coin
    if not {"hour", "markup", "travel", "tax"} <= set(rates):
        return None
    step = next(link for link in job_chain("spray").links if isinstance(link, Step) and link.name == "worked")
    formula = day.formulas[str(step.formula)]
    given: Mapping[str, float] = {
        "hours": rng.randint(6, 40) / 2, "materials": 5.0 * rng.randint(6, 80), "hour-rate": rates["hour"].to("money/h"),
        "markup": rates["markup"].to("%"), "fixed": rates["travel"].to("money"), "tax": rates["tax"].to("%")}
    value = float(formula.column(dict(given)))
    words = (f"{given['hours']:g} hours of work at {coin}{given['hour-rate']:g} an hour; materials {coin}{given['materials']:g}, with {given['markup']:g} % on them; "
             f"travel and waste {coin}{given['fixed']:g}; tax {given['tax']:g} %. What is the price?")
    why = "Hours and what they cost, materials with the mark-up, travel, then tax on the whole. Area alone loses money."
    return Exercise("price", "job/price.md", words, tuple(scene.pairs.items()), "price", GO, wants=("",), figure=round(value) + 0.0, step=1.0, unit=coin, why=why, inputs=given)


def fault(day: Day, scene: Scene, rng: random.Random) -> Exercise | None:
    """A fault by how it looks, among three that feel alike."""
    faults = day.facts.faults
    if len(faults) < 3:
        return None
    key = rng.choice(list(faults))
    others = [one for one in faults if one != key and faults[one].feel == faults[key].feel] or [one for one in faults if one != key]
    chosen = [key, *rng.sample(others, min(2, len(others)))]
    rng.shuffle(chosen)
    one = faults[key]
    why = f"First cause: {one.causes[0]}. {one.test} Now: {one.now}"
    named = tuple((name, str(faults[name].name)) for name in chosen)
    return Exercise("fault", f"faults/{key}.md", f"On the board: {one.looks} Which is it?", tuple(scene.pairs.items()), "fault", GO, named, key, why=why)
