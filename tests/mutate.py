"""Would a wrong number be noticed? `python tests/mutate.py`: one thing at a time is spoiled, and the tests of its room are run.

A mutant is caught where a published row, a law worked by hand, or a test that passes on the true code, fails on it, or never ends. Every mutant that goes to the tests
runs in a process of its own, so nothing that was spoiled or kept reaches the next one. Survivors are told by name. What comes to the same sum (worked in sixty digits) or
is argued by hand (equivalent.py) is told apart: it is neither caught nor missed. Formulas and their ranges take seconds, and are always asked whole. All rooms take hours;
`--sample 12 --changed HEAD~1` takes so many from each room whose files changed (a few from the others), and fails where a room is under its floor.
"""

from __future__ import annotations

import argparse
import contextlib
import math
import os
import random
import re
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from equivalent import EQUIVALENT
from mutants import Mutant, fails_a_law, fails_a_row, of_code, of_formulas, of_links, of_verdicts, published, rooms_modules, same_sum

from generators import formulas
from generators.formula import Formula
from generators.formulas.own_cups import open_handbook

ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True)
class Room:
    """Its files, its mutants, the tests that speak of it, and the least share of mutants, in %, that they must catch: raise it as survivors are mended. `whole`: no sample is taken."""

    files: tuple[str, ...]
    mutants: Callable[[], list[Mutant]]
    tests: tuple[str, ...]
    floor: float
    whole: bool = False


def _code(*rooms: str) -> Callable[[], list[Mutant]]:
    return lambda: list(of_code([module for room in rooms for module in rooms_modules(room)]))


def _studies(pictures: bool) -> Callable[[], list[Mutant]]:
    return lambda: [mutant for mutant in _code("studies")() if mutant.place.startswith("studies.relief") == pictures]


ROOMS = {
    # A law by hand for each of them (tests/laws_by_hand) is asked first: what it lets through goes on to the two quickest files that work formulas a second time.
    "formulas": Room(("generators/formulas", "generators/formula"), lambda: [mutant for mutant in of_formulas(list(formulas.DECLARED)) if "range of" not in mutant.words],
                     ("test_values.py", "test_mix.py"), 95, whole=True),
    # A range drawn in only refuses more than it need. Of those that are left no reading leads to the end that was drawn in: no test could tell.
    "ranges": Room(("generators/formulas", "generators/formula"), lambda: [mutant for mutant in of_formulas(list(formulas.DECLARED)) if "range of" in mutant.words], (), 90, whole=True),
    # Measured whole but for edge, gun, mix and air, of which a sample of 48 gave 44. The floor leaves room for CI's dozen, in which one survivor is eight in a hundred.
    "tables": Room(("generators/tables",), _code("tables"),
                   ("test_safety_by_hand.py", "test_sweep_by_hand.py", "test_cells_survey.py", "test_cells_train.py", "test_cells_job.py",
                    "test_cells_mix.py", "test_cells_coating.py", "test_cells_room.py", "test_cells_gun.py", "test_cells_air.py", "test_cells_film.py", "test_cells_edge.py",
                    "test_second_way.py", "test_safe_side.py", "test_pot.py", "test_edge.py", "test_tables.py", "test_air_room.py", "test_mix.py", "test_gun_film.py", "test_train.py"), 75),
    "studies": Room(("generators/studies",), _studies(pictures=False),
                    ("test_studies_by_hand.py", "test_marks_by_hand.py", "test_visits_by_hand.py", "test_lines_by_hand.py",
                     "test_cells_gun.py", "test_cells_air.py", "test_cells_film.py", "test_cells_mix.py", "test_cells_edge.py", "test_cells_train.py", "test_gun_film.py", "test_mix.py",
                     "test_air_room.py", "test_areas.py", "test_edge.py", "test_train.py", "test_job.py", "test_job_chain.py", "test_second_way.py"), 95),
    # How a picture of a fault looks is a matter of taste; that no two look alike, and that each shows what is declared, is tested. Told, and held to no floor.
    "pictures": Room(("generators/studies/relief.py",), _studies(pictures=True), ("test_relief.py",), 0),
    "card": Room(("generators/pages/card.py", "generators/pages/card_figures.py", "generators/pages/card_words.py", "generators/render/card.py"),
                 _code("pages.card", "pages.card_figures", "pages.card_words"), ("test_card_by_hand.py", "test_card.py", "test_second_way.py"), 95),
    "verdicts": Room(("generators/verdicts", "generators/verdict"), lambda: list(of_verdicts()), ("test_verdict_cases.py", "test_chain.py"), 95),
    "chain": Room(("generators/chain", "generators/situation"), lambda: [*of_links(), *of_code(rooms_modules("chain"))],
                  ("test_chain_by_hand.py", "test_answers_by_hand.py", "test_chain.py", "test_job_by_hand.py", "test_job_chain.py", "test_last_pots.py", "test_own.py"), 95),
    "values": Room(("generators/quantity",), _code("quantity"), ("test_typed.py", "test_facts.py"), 95),
}


# Files that speak of one module of the chain or of the studies, quickest first; of the chain's steps and its other modules speak those of the last row.
SPEAK_OF = {
    "studies.areas": ("test_studies_by_hand.py", "test_areas.py"), "studies.boards": ("test_studies_by_hand.py", "test_cells_train.py", "test_train.py"),
    "studies.dilution": ("test_studies_by_hand.py", "test_mix.py", "test_cells_mix.py", "test_second_way.py"), "studies.edge": ("test_lines_by_hand.py", "test_cells_edge.py", "test_edge.py"),
    "studies.marks": ("test_marks_by_hand.py", "test_cells_train.py", "test_train.py"), "studies.overlap": ("test_studies_by_hand.py", "test_gun_film.py", "test_cells_gun.py"),
    "studies.season": ("test_studies_by_hand.py", "test_cells_air.py", "test_air_room.py"), "studies.thinnest": ("test_studies_by_hand.py", "test_gun_film.py"),
    "studies.tins": ("test_studies_by_hand.py", "test_job.py", "test_job_chain.py"), "studies.visits": ("test_visits_by_hand.py", "test_job.py", "test_job_chain.py"),
    **dict.fromkeys(("tables.book", "tables.law", "tables.safety", "tables.sheet", "tables.verdicts"), ("test_safety_by_hand.py",)), "tables.sweep": ("test_sweep_by_hand.py",),
    "chain.job": ("test_job_by_hand.py", "test_job_chain.py"), "chain.jobs": ("test_answers_by_hand.py", "test_chain_by_hand.py", "test_job_by_hand.py", "test_job_chain.py"),
    "chain.last": ("test_answers_by_hand.py", "test_chain_by_hand.py", "test_last_pots.py"), "chain.own": ("test_answers_by_hand.py", "test_chain_by_hand.py", "test_own.py"),
    "chain.walk": ("test_chain_by_hand.py", "test_answers_by_hand.py", "test_job_by_hand.py", "test_chain.py"),
    **dict.fromkeys(("chain.answers", "chain.described", "chain.studied", "chain.tell"), ("test_answers_by_hand.py", "test_chain_by_hand.py", "test_chain.py")),
    "chain.links": ("test_chain_by_hand.py", "test_job_by_hand.py", "test_chain.py"), "chain": ("test_chain_by_hand.py", "test_chain.py"),
}


def numbered(mutants: list[Mutant]) -> list[Mutant]:
    """The same, where several of a function have the same words the second called so."""
    times, found = Counter[tuple[str, str]](), []
    for mutant in mutants:
        times[mutant.place, mutant.words] += 1
        again = times[mutant.place, mutant.words]
        found.append(replace(mutant, words=f"{mutant.words} ({again})") if again > 1 else mutant)
    return found


class Quick:
    """Leaves out what needs a site or a browser: a page is made from what the other tests read."""

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Only those without."""
        items[:] = [item for item in items if not {"browser", "site"} & set(getattr(item, "fixturenames", ()))]


def fails_a_test(mutant: Mutant, tests: tuple[str, ...], longest: float = math.inf) -> bool:
    """True where a test fails on it, or goes on for more than `longest` seconds."""
    child = os.fork()
    if not child:
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        code = 2
        with contextlib.suppress(BaseException):
            assert mutant.put
            mutant.put()
            code = int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-n", "0", "--no-header", "-W", "ignore", *(f"tests/{name}" for name in tests)], plugins=[Quick()]))
        os._exit(0 if code in (0, 5) else 1)
    until = time.monotonic() + longest
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status) != 0
        time.sleep(0.05)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def nearest(mutant: Mutant, tests: tuple[str, ...]) -> tuple[str, ...]:
    """The file that works the printed cells of the mutant's own module by hand, or those that speak of its module: what they miss is missed. Else all."""
    module = ".".join(mutant.place.split(".")[:2])
    own = SPEAK_OF.get(module) or SPEAK_OF.get(re.split(r"[. ]", module)[0]) or (f"test_cells_{module.partition('.')[2]}.py",)
    return tuple(name for name in own if name in tests) or tests


def with_options(spoiled: Formula, true: Formula) -> Formula:
    """The spoiled formula with the choices (cups) that this handbook has."""
    return spoiled.with_options(true.choice.options) if true.choice else spoiled


def at_once(mutant: Mutant, rows: dict[str, list[Any]], facts: Any, catalogue: dict[str, Formula], rows_only: bool) -> str:
    """What notices a spoiled formula without any test being run; empty where nothing does, and for all that is no formula."""
    if mutant.formula is None:
        return ""
    spoiled = with_options(mutant.formula, catalogue[mutant.place])
    if fails_a_row(rows[mutant.place], mutant.place, spoiled, facts, catalogue):
        return "by a published row"
    return "by a law worked by hand" if not rows_only and fails_a_law(mutant.place, spoiled) else ""


def unspoiled(name: str, room: Room) -> float:
    """How long a mutant may take before it counts as one that never ends: the room's tests are run on the true code, and have to pass."""
    began = time.monotonic()
    if room.tests and fails_a_test(Mutant("nothing", "spoiled", lambda: None), room.tests):
        raise SystemExit(f"{name}: its tests fail as it is: mend them first, else every mutant counts as caught")
    return 60 + 4 * (time.monotonic() - began)


def changed_since(commit: str) -> set[str] | None:
    """Rooms whose files differ from a commit; None where there is no such commit to compare with."""
    told = subprocess.run(["git", "diff", "--name-only", commit], cwd=ROOT, capture_output=True, text=True, check=False)
    if told.returncode:
        return None
    names = told.stdout.split()
    return {room for room, what in ROOMS.items() if any(name.startswith(what.files) for name in names)}


def main() -> int:
    """Every mutant, told in figures, and those that nobody caught by name; 1 where a room is under its floor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rooms", default=",".join(ROOMS), help="some of: " + ", ".join(ROOMS))
    parser.add_argument("--only", default="", help="places whose name holds this")
    parser.add_argument("--rows-only", action="store_true", help="formulas against published rows only: quick, and a lower bound")
    parser.add_argument("--sample", type=int, default=0, help="so many from each room (0: all of them)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--tests", default="", metavar="FILE,FILE", help="only these files of tests, in the place of the room's: quick while one of them is being written")
    parser.add_argument("--changed", default="", metavar="COMMIT", help="the sample is for rooms that differ from this commit; from the others a quarter of it")
    options = parser.parse_args()
    os.chdir(ROOT)
    started = time.monotonic()
    facts = open_handbook(ROOT)
    catalogue = formulas.catalogue(facts)
    rows = published(facts, catalogue)
    rooms = {name: ROOMS[name] for name in (["formulas"] if options.rows_only else options.rooms.split(","))}
    if options.tests:
        rooms = {name: replace(room, tests=tuple(options.tests.split(","))) for name, room in rooms.items()}
    changed = changed_since(options.changed) if options.changed else None
    under = False
    for name, room in rooms.items():
        mutants = [mutant for mutant in numbered(room.mutants()) if options.only in mutant.place]
        there = {(mutant.place, mutant.words) for mutant in mutants if mutant.formula is None and mutant.put}  # a formula's mutants stand in two rooms
        if gone := [(place, words) for place, words in EQUIVALENT if (place, words) not in there and any(place == one for one, _ in there)]:
            raise SystemExit(f"argued in equivalent.py, and there is no such mutant: look at what became of it: {gone}")
        total = len(mutants)
        if options.sample and not room.whole:
            count = options.sample if changed is None or name in changed else max(1, options.sample // 4)
            mutants = random.Random(options.seed).sample(mutants, min(count, total))
        for place in {mutant.place for mutant in mutants if mutant.formula is not None and not options.rows_only}:
            if fails_a_law(place, catalogue[place]):
                raise SystemExit(f"{place}: it is not what its law by hand says as it is: see tests/test_laws_by_hand.py, else every mutant counts as caught")
        caught, apart, missed, longest = Counter[str](), Counter[str](), [], 0.0
        for mutant in mutants:
            argued = (mutant.place, mutant.words) in EQUIVALENT
            found = "when it is declared" if mutant.put is None else at_once(mutant, rows, facts, catalogue, options.rows_only)
            if found and argued:
                print(f"argued by hand in vain, since it is caught {found}: {mutant.place}: {mutant.words}", flush=True)
            if found:
                caught[found] += 1
            elif options.rows_only:
                missed.append(mutant)
            elif argued:
                apart["argued by hand"] += 1
            elif mutant.formula is not None and same_sum(formulas.DECLARED[mutant.place], mutant.formula):
                apart["the same sum"] += 1
            else:
                longest = longest or unspoiled(name, room)
                if room.tests and fails_a_test(mutant, nearest(mutant, room.tests), longest):
                    caught["by a test"] += 1
                else:
                    missed.append(mutant)
        for mutant in missed:
            print(f"not caught: {mutant.place}: {mutant.words}", flush=True)
        asked = len(mutants) - apart.total()
        if asked:
            share = 100 * caught.total() / asked
            low = share < room.floor and not (options.rows_only or options.only or options.tests)
            under |= low
            print(f"{name}: {caught.total()} of {asked} caught = {share:.1f} % (of {total} in all; floor {room.floor:g} %{', UNDER IT' if low else ''}; goal 95 %): "
                  + ", ".join(f"{what} {number}" for what, number in caught.items())
                  + ("; not counted: " + ", ".join(f"{what} {number}" for what, number in apart.items()) if apart else ""), flush=True)
    print(f"{time.monotonic() - started:.0f} s")
    return 1 if under else 0


if __name__ == "__main__":
    sys.exit(main())
