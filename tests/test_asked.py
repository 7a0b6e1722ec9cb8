"""Sixty questions as sprayers ask them, after the day's readings: each answered on the phone within two taps, network off, with the asker's own number.

What the number must be is worked here from the files of facts by plain sums of its own: no formula of the almanac is called. Sources: dew point by the Magnus form with
the constants of WMO-No. 8 (17.62 and 243.12 °C; from memory); film, speed, litres and pours are balances of volume; room air by the well-mixed room's decay; cure
by the ten-degree rule (from memory), pot life by the short end of it. A figure may differ by the one step that the screen rounds to its safe side.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

import pytest

SMALL = {"width": 360, "height": 640}
# Readings of four jobs: (text, value in the chain's unit) for figures, a text for words and times. Day: 26 November 2026, ten o'clock.
DAY, NOW = "2026-11-26", "10:00"
DRY = {"people-out": "yes", "flames-out": "yes", "old-finish": "none", "asbestos": "no", "lead": "no", "ground": "coated", "shape": "flat", "touch-test": "passes", "hand": "trained",
    "instruments": "exact"}
JOBS: dict[str, dict[str, Any]] = {
    "kitchen": {**DRY, "kit": "two-stage-tote", "coating": "tern-clear-satin", "place": "room", "air-temperature": ("23 °C", 23), "relative-humidity": ("50 %", 50),
        "surface-temperature": ("22 °C", 22),
                "room-volume": ("60 m³", 60), "air-changes": ("60 1/h", 60), "mixing": ("2", 2), "pot-litres": ("0.8 L", 0.8), "cup-time": ("38 s", 38), "paint-temperature": ("20 °C", 20),
                "area": ("12 m²", 12),
                "stroke-length": ("2 m", 2), "last-coat-at": f"{DAY}T09:00", "building-year": ("2010", 2010)},
    "gate": {**DRY, "kit": "two-stage-tote", "coating": "anchor-alkyd-gloss", "place": "outdoors", "air-temperature": ("18 °C", 18), "relative-humidity": ("60 %", 60),
        "surface-temperature": ("17 °C", 17),
             "night-low": ("12 °C", 12), "wind": ("1.5 m/s", 1.5), "gust": ("2 m/s", 2), "rain-at": "none", "dusk-at": f"{DAY}T16:10", "pot-litres": ("1 L", 1), "cup-time": ("26 s", 26),
             "paint-temperature": ("23 °C", 23),
             "area": ("6 m²", 6), "stroke-length": ("1 m", 1), "distance": ("150 mm", 150), "last-coat-at": "2026-11-25T15:00", "building-year": ("2010", 2010)},
    "beam": {**DRY, "kit": "two-stage-tote", "coating": "keel-two-pack-epoxy", "hardener": "amine", "place": "room", "air-temperature": ("20 °C", 20), "relative-humidity": ("55 %", 55),
        "surface-temperature": ("19 °C", 19),
             "room-volume": ("200 m³", 200), "air-changes": ("30 1/h", 30), "mixing": ("3", 3), "pot-litres": ("0.5 L", 0.5), "cup-time": ("25 s", 25), "mixed-at": f"{DAY}T09:30",
             "paint-temperature": ("25 °C", 25),
             "area": ("4 m²", 4),
             "flow": ("120 mL/min", 120), "stroke-length": ("1.5 m", 1.5), "building-year": ("2010", 2010)},
    "doors": {**DRY, "kit": "two-stage-tote", "coating": "gannet-trim-satin", "place": "room", "air-temperature": ("20 °C", 20), "relative-humidity": ("60 %", 60),
        "surface-temperature": ("18 °C", 18),
              "room-volume": ("45 m³", 45), "air-changes": ("20 1/h", 20), "mixing": ("2", 2), "pot-litres": ("1 L", 1), "cup-time": ("27 s", 27), "paint-temperature": ("20 °C", 20),
              "area": ("16 m²", 16),
              "stroke-length": ("2 m", 2), "step": ("70 mm", 70), "building-year": ("1985", 1985)},
}


class Own:
    """One job's numbers, from the files and the readings alone."""

    def __init__(self, facts: Any, job: dict[str, Any]) -> None:
        self.facts, self.job = facts, job
        self.kit, self.tin = facts.kits[job["kit"]], facts.coatings[job["coating"]]

    def is_(self, name: str) -> float:
        return float(self.job[name][1])

    def limit(self, name: str, unit: str) -> float:
        return float(self.facts.value(f"limits.{name}").to(unit))

    @property
    def dew(self) -> float:
        part = math.log(self.is_("relative-humidity") / 100) + 17.62 * self.is_("air-temperature") / (243.12 + self.is_("air-temperature"))
        return 243.12 * part / (17.62 - part)

    @property
    def margin(self) -> float:
        return self.is_("surface-temperature") - self.dew

    @property
    def distance(self) -> float:
        return self.is_("distance") if "distance" in self.job else (self.kit.near.to("mm") + self.kit.far.to("mm")) / 2

    @property
    def fan(self) -> float:
        return 2 * self.distance * math.tan(math.radians(self.kit.fan_angle.to("deg") / 2))

    @property
    def step(self) -> float:
        return self.is_("step") if "step" in self.job else self.fan / 2  # a fan that tapers: half of it

    @property
    def thinner(self) -> float:
        """Per cent in all after what is poured now: a first dose after one timing; nothing where it is thin enough for the kit, timed in the kit's own cup."""
        return 0.0 if self.is_("cup-time") <= self.kit.limit.seconds else min(self.limit("first_dose", "%"), self.tin.thinner_max.to("%"))

    @property
    def pour(self) -> float:
        return self.is_("pot-litres") * 1000 * self.thinner / 100

    @property
    def film(self) -> float:
        return self.tin.dry_film.to("µm") * (1 + self.thinner / 100) / (self.tin.volume_solids.to("%") / 100)

    @property
    def tooth(self) -> float:
        teeth = [tooth.to("µm") for tooth in self.facts.combs[0].teeth]
        return max(tooth for tooth in teeth if tooth <= self.film)

    @property
    def dry_tooth(self) -> float:
        return min(tooth.to("µm") for tooth in self.facts.combs[0].teeth if tooth.to("µm") > self.film)

    @property
    def lands(self) -> float:
        """Per cent: what the kit lands, or what such work lets it."""
        work = next(row for row in self.facts.surfaces if row.name == "wall").spray_lands.to("%")
        return min(self.kit.transfer_efficiency.to("%"), work)

    @property
    def flow(self) -> float:
        return self.is_("flow") if "flow" in self.job else self.kit.flow.to("mL/min")

    @property
    def speed(self) -> float:
        """m/s: millilitres a minute over micrometres of film and millimetres of step."""
        return self.flow * 1e-6 / 60 * self.lands / 100 / (self.film * 1e-6 * self.step * 1e-3)

    @property
    def seconds(self) -> float:
        return self.is_("stroke-length") / self.speed

    @property
    def beat(self) -> float:
        return 60 / (self.seconds + self.limit("turn_time", "s"))

    @property
    def litres(self) -> float:
        return self.is_("area") * self.film * 1e-6 * 1000 / (self.lands / 100)

    @property
    def clear(self) -> float:
        return 60 * math.log(1 / (1 - self.limit("clearing", "%") / 100)) / (self.is_("air-changes") / self.is_("mixing"))

    @property
    def life(self) -> float:
        """Minutes, the short end: 2.5 times as fast for each ten degrees over the sheet's 23 °C, 1.5 times as slow under it, a pot warming itself by its volume over a tenth of a litre."""
        over = self.is_("paint-temperature") - 23
        return float(self.tin.two_pack.pot_life.to("min") * (2.5 if over > 0 else 1.5) ** (-over / 10) * (self.is_("pot-litres") / 0.1) ** -0.07)

    @property
    def out_by(self) -> float:
        return _minutes(self.job["mixed-at"]) + self.life * self.limit("clean_before_pot_life", "%") / 100

    @property
    def next_coat(self) -> float:
        """Minutes: the sheet's hours where the air is the sheet's; by the ten-degree rule where it cures."""
        return _minutes(self.job["last-coat-at"]) + self.wait * 60

    @property
    def wait(self) -> float:
        cures = self.facts.classes[self.tin.class_key].family in ("solvent", "oil", "two-pack")
        return self.tin.recoat_after.to("h") * (max(1.0, 2 ** ((23 - self.is_("air-temperature")) / 10)) if cures else 1.0)

    @property
    def latest(self) -> float:
        return _minutes(self.job["last-coat-at"]) + self.tin.recoat_before.to("min")  # cold makes a window no later

    @property
    def good_until(self) -> float:
        return 600 + 60 * self.limit(f"reading_hours_{'outdoors' if self.job['place'] == 'outdoors' else 'room'}", "h")

    @property
    def mask(self) -> str:
        return str(self.facts.breathing(self.facts.protection[self.tin.class_key], self.facts.handbook.region))

    @property
    def gloves(self) -> str:
        return str(self.facts.protection[self.tin.class_key].hands)


def _minutes(moment: str) -> float:
    day, clock = moment.split("T")
    return (int(day[-2:]) - 26) * 1440 + int(clock[:2]) * 60 + int(clock[3:])


# (job, as it is asked, where it stands: a line of the first screen, or "all" for the list under one press; the answer there; its own number).
QUESTIONS: list[tuple[str, str, str, str, Callable[[Own], Any]]] = [
    ("kitchen", "how much water do I splash in this", "pot", "pour", lambda o: o.pour),
    ("kitchen", "how far off do I hold it", "gun", "distance", lambda o: o.distance),
    ("kitchen", "how far down do I move for the next pass", "gun", "step", lambda o: o.step),
    ("kitchen", "how long should one pass down a door take", "gun", "stroke-seconds", lambda o: o.seconds),
    ("kitchen", "which tooth should be wet", "gun", "teeth", lambda o: o.tooth),
    ("kitchen", "when can I recoat", "next", "next-coat", lambda o: o.next_coat),
    ("kitchen", "what mask for this stuff", "mask", "mask", lambda o: o.mask),
    ("kitchen", "when can the lads come back in", "mask", "clear-after", lambda o: o.clear),
    ("kitchen", "how long am I good for before I check the air again", "spray", "until", lambda o: o.good_until),
    ("kitchen", "how wide is my fan there", "all", "fan", lambda o: o.fan),
    ("kitchen", "how wet do I put it on", "all", "wet-film", lambda o: o.film),
    ("kitchen", "how much will I use on twelve square metres", "all", "litres", lambda o: o.litres),
    ("kitchen", "how many passes a minute", "all", "beat", lambda o: o.beat),
    ("kitchen", "how fast is that in metres a second", "all", "speed", lambda o: o.speed),
    ("kitchen", "how far over the dew point is that door", "all", "margin", lambda o: o.margin),
    ("kitchen", "which gloves", "all", "gloves", lambda o: o.gloves),
    ("gate", "how much spirit can go in this litre", "pot", "pour", lambda o: o.pour),
    ("gate", "gun to steel, how far", "gun", "distance", lambda o: o.distance),
    ("gate", "overlap, how much do I move over", "gun", "step", lambda o: o.step),
    ("gate", "a metre of rail, how many seconds", "gun", "stroke-seconds", lambda o: o.seconds),
    ("gate", "what should the comb read", "gun", "teeth", lambda o: o.tooth),
    ("gate", "when is the gloss ready for another", "next", "next-coat", lambda o: o.next_coat),
    ("gate", "when is it too late to recoat", "next", "latest", lambda o: o.latest),
    ("gate", "what do I breathe through with gloss", "mask", "mask", lambda o: o.mask),
    ("gate", "how long does this reading hold outside", "spray", "until", lambda o: o.good_until),
    ("gate", "how wide does it spray from here", "all", "fan", lambda o: o.fan),
    ("gate", "microns wet", "all", "wet-film", lambda o: o.film),
    ("gate", "will a litre do the gate", "all", "litres", lambda o: o.litres),
    ("gate", "is the steel sweating", "all", "margin", lambda o: o.margin),
    ("gate", "strokes a minute on the rails", "all", "beat", lambda o: o.beat),
    ("gate", "how many hours between coats in this cold", "all", "coat-wait", lambda o: o.wait),
    ("gate", "gloves for spirit", "all", "gloves", lambda o: o.gloves),
    ("beam", "when does this pot have to be out of the gun", "pot", "out-by", lambda o: o.out_by),
    ("beam", "how long have I got in this heat", "all", "pot-life", lambda o: o.life),
    ("beam", "how far off the beam", "gun", "distance", lambda o: o.distance),
    ("beam", "next pass how far over", "gun", "step", lambda o: o.step),
    ("beam", "seconds for a metre and a half", "gun", "stroke-seconds", lambda o: o.seconds),
    ("beam", "comb on the epoxy", "gun", "teeth", lambda o: o.tooth),
    ("beam", "what mask for two pack", "mask", "mask", lambda o: o.mask),
    ("beam", "how long before anyone without a mask walks in", "mask", "clear-after", lambda o: o.clear),
    ("beam", "until when is the air good", "spray", "until", lambda o: o.good_until),
    ("beam", "how thick wet for sixty dry", "all", "wet-film", lambda o: o.film),
    ("beam", "litres for the beam", "all", "litres", lambda o: o.litres),
    ("beam", "how fast do I walk it", "all", "speed", lambda o: o.speed),
    ("beam", "gloves for the hardener", "all", "gloves", lambda o: o.gloves),
    ("beam", "dew on the beam, how near", "all", "margin", lambda o: o.margin),
    ("doors", "how much water for a litre", "pot", "pour", lambda o: o.pour),
    ("doors", "distance for doors", "gun", "distance", lambda o: o.distance),
    ("doors", "seconds from top to bottom", "gun", "stroke-seconds", lambda o: o.seconds),
    ("doors", "what is the last tooth that gets wet", "gun", "teeth", lambda o: o.tooth),
    ("doors", "do I need a mask for water paint", "mask", "mask", lambda o: o.mask),
    ("doors", "room clear when", "mask", "clear-after", lambda o: o.clear),
    ("doors", "read the gauge again by", "spray", "until", lambda o: o.good_until),
    ("doors", "paint for eight doors both sides", "all", "litres", lambda o: o.litres),
    ("doors", "wet film please", "all", "wet-film", lambda o: o.film),
    ("doors", "first tooth that stays dry", "all", "dry-tooth", lambda o: o.dry_tooth),
    ("doors", "beat for a two metre door", "all", "beat", lambda o: o.beat),
    ("doors", "how cold can the door be against the dew", "all", "margin", lambda o: o.margin),
    ("doors", "fan width at that distance", "all", "fan", lambda o: o.fan),
    ("doors", "gloves for emulsion", "all", "gloves", lambda o: o.gloves),
]
LINES = {"pot": "pot", "mask": "mask", "spray": "spray", "next": "next-coat"}
# What stands beside a figure in its line, and the figure's step on the screen.
FOUND = {"pour": (r"Pour (\d+) mL", 5), "distance": (r"(\d+) mm off", 5), "step": (r"step (\d+) mm", 5), "stroke-seconds": (r"in ([\d.]+) s\b", 0.1), "teeth": (r"tooth (\d+) µm", 0.5),
    "clear-after": (r"until (\d+) min", 5)}
CLOCKS = {"next-coat": r"not before (?:(\w{3}) )?(\d\d:\d\d)", "latest": r"not after (?:(\w{3}) )?(\d\d:\d\d)", "until": r"until (?:(\w{3}) )?(\d\d:\d\d)",
    "out-by": r"Out of the gun by (?:(\w{3}) )?(\d\d:\d\d)"}
STEPS = {"fan": 5, "wet-film": 5, "litres": 0.1, "beat": 1, "speed": 0.01, "margin": 0.5, "coat-wait": 0.5, "pot-life": 5, "dry-tooth": 0.5, "teeth": 0.5}
DAYS = {"Wed": -1, "Thu": 0, "Fri": 1, "Sat": 2, "Sun": 3, None: 0}

PUT = """([readings, moment]) => {
  const kept = window.almanacKept;
  kept.clock.now = () => moment;
  for (const [name, is] of readings) kept.put(name, Array.isArray(is) ? { text: is[0], at: moment, value: is[1], low: is[1], high: is[1] } : { text: is, at: moment });
}"""
EMPTIED = """() => new Promise((done) => { localStorage.clear(); const db = window.almanacKeeper && window.almanacKeeper.db; if (db) db.close();
  const gone = indexedDB.deleteDatabase("almanac-journal"); gone.onsuccess = gone.onerror = gone.onblocked = () => done(); })"""
TOLD = """() => { document.getElementById("alm-day-all").open = true;
  return new Promise((done) => setTimeout(() => done({ lines: [...document.querySelectorAll("#alm-day .alm-day-line")].map((one) => [one.dataset.line, one.innerText.replace(/\\s+/g, " ")]),
    all: Object.fromEntries([...document.querySelectorAll("#alm-day-all [data-answer]")].map((one) => [one.dataset.answer, one.innerText])) }), 250)); }"""


@pytest.fixture(scope="module")
def told(browser, site):
    """What the screen says for each job: its lines, and the list under one press. The network is off, and every page of these tests is one."""
    context = browser.new_context(viewport=SMALL, reduced_motion="reduce", locale="en-GB")
    context.set_offline(True)
    found: dict[str, Any] = {}

    def ask(job: str) -> Any:
        if job not in found:
            page = context.new_page()
            page.goto((site / "index.html").as_uri())
            page.wait_for_selector("#alm-day[data-ready]")
            page.evaluate(PUT, [[*JOBS[job].items()], f"{DAY}T{NOW}"])
            page.wait_for_function("coating => window.almanacNow.situation.words.coating === coating && 'building-year' in window.almanacNow.situation.texts", arg=JOBS[job]["coating"])
            found[job] = page.evaluate(TOLD)
            page.evaluate(EMPTIED)
            page.close()
        return found[job]

    yield ask
    context.close()


def test_sixty_questions_and_no_two_alike():
    assert len(QUESTIONS) == 60 and len({(job, words) for job, words, *_ in QUESTIONS}) == 60


@pytest.mark.parametrize("job", ["kitchen", "beam", pytest.param("gate", marks=pytest.mark.sweep), pytest.param("doors", marks=pytest.mark.sweep)])
def test_each_is_answered_within_two_taps_with_the_askers_own_number(job, told, facts):
    screen, own, wrong = told(job), Own(facts, JOBS[job]), []
    lines = dict(screen["lines"])
    gun = next((text for name, text in screen["lines"] if re.search(r"\bGun\b", text)), "")
    for _, question, where, answer, number in (one for one in QUESTIONS if one[0] == job):
        text = screen["all"].get(answer, "") if where == "all" else gun if where == "gun" else lines.get(LINES[where], next(iter(lines.values())) if where == "spray" else "")
        mine = number(own)
        if isinstance(mine, str):
            indoors, _, outdoors = mine.removeprefix("Indoors: ").partition(" Outdoors: ")  # the half that holds where one stands
            good = (outdoors if JOBS[job]["place"] == "outdoors" else indoors).strip()[:60] in text if outdoors else mine in text
        elif answer in CLOCKS:
            match = re.search(CLOCKS[answer], text)
            good = bool(match) and abs(DAYS[match[1]] * 1440 + _minutes(f"{DAY}T{match[2]}") - mine) <= 1
        else:
            pattern, step = FOUND[answer] if where != "all" else (r": ([−\d.]+)", STEPS[answer])
            match = re.search(pattern, text)
            good = "Add nothing" in text if (answer, mine) == ("pour", 0) else bool(match) and abs(float(match[1].replace("−", "-")) - mine) <= step + 1e-6 + 0.02 * (answer == "margin")
        if not good:
            wrong.append(f"{question!r}: {where}/{answer}: wanted {mine}, on the screen: {text[:160]!r}")
    assert not wrong, "\n".join(wrong)
