"""The command line: a thin door. Every command prints what it did, or every problem, and exits 0, 1 or 2."""

from __future__ import annotations

import argparse
import json
import shlex
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from generators import owned, terminal


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="almanac", description="A field handbook for the mobile spray finisher.")
    parser.add_argument("--handbook", type=Path, default=Path("."), help="the folder with site_data and handbook (default: here)")
    commands = parser.add_subparsers(dest="command", required=True)

    def command(name: str, summary: str) -> argparse.ArgumentParser:
        return commands.add_parser(name, help=summary, description=summary)

    region: dict[str, Any] = {"default": None, "help": "whose law, words and units come first: a file in site_data/regions, such as uk, eu, ie, us, ca, au, nz"}
    build = command("build", "the whole handbook, cards included")
    build.add_argument("--region", **region)
    build.add_argument("--out", type=Path, default=Path("site"))
    build.add_argument("--base-url", default=None)
    command("serve", "live preview; an error shows on the page").add_argument("--region", **region)
    command("check", "every problem in site_data and pages")
    work = command("work", "one formula, worked")
    work.add_argument("name")
    work.add_argument("inputs", nargs="*", metavar="input=value")
    work.add_argument("--json", action="store_true")
    command("formulas", "the declared formulas").add_argument("--json", action="store_true")
    command("verdicts", "the declared verdicts, test by test").add_argument("--json", action="store_true")
    today = command("today", "every answer at one situation: almanac today kit=… coating=… air-temperature=18C relative-humidity=55")
    today.add_argument("readings", nargs="*", metavar="reading=value")
    today.add_argument("--json", action="store_true")
    today.add_argument("--why", action="store_true", help="how each answer was worked: facts with their basis, formulas, tests")
    today.add_argument("--region", **region)
    card = command("card", "the van card as PDF")
    card.add_argument("--kit", default=None, help="one kit, several with commas, or all (default: the handbook's own)")
    card.add_argument("--coatings", default=None, help="up to six coatings, with commas (default: the first six that may be thinned)")
    card.add_argument("--size", choices=("a5", "a4", "letter"), default="a5")
    card.add_argument("--json", action="store_true", help="every figure with its value, verdict and situation, in the place of a PDF")
    card.add_argument("--out", type=Path, default=None)
    drills = command("drills", "exercise sheets as PDF, answers on the back")
    drills.add_argument("--sheet", type=int, default=1, help="number of the first sheet: the same number makes the same sheet (default: 1)")
    drills.add_argument("--count", type=int, default=1, help="how many sheets, 1 to 100")
    drills.add_argument("--region", **region)
    drills.add_argument("--out", type=Path, default=None)
    book = command("book", "the whole handbook as one PDF, with contents, page numbers and an index")
    book.add_argument("--size", choices=("a4", "letter", "pocket"), default=None, help="paper (default: letter in the US, else a4)")
    book.add_argument("--part", default="", help="one folder of pages only, such as train: a trainer's booklet")
    book.add_argument("--pages", default="", help="chosen pages only, with commas, such as mix/thinning,air/dew-point")
    book.add_argument("--out", type=Path, default=Path("handbook.pdf"))
    book.add_argument("--region", **region)
    pages = command("pages", "finished Markdown without the site")
    pages.add_argument("--out", type=Path, required=True)
    pages.add_argument("--region", **region)
    new = command("new", "a small handbook of your own, ready to build and to fill in")
    new.add_argument("folder", type=Path)
    new.add_argument("--region", **region)
    schemas = command("schemas", "JSON Schemas for the editor")
    schemas.add_argument("--out", type=Path, default=None)
    return parser


class Refused(Exception):
    """A command that cannot go on: lines to print, and the exit code."""

    def __init__(self, lines: Sequence[str], code: int = 1) -> None:
        self.lines, self.code = list(lines), code
        super().__init__("\n".join(self.lines))


def _facts(options: Any) -> Any:
    from generators.facts import FactsError
    from generators.formulas.own_cups import open_handbook

    links = owned.links_that_lead_out(options.handbook)
    if links:
        raise Refused(links)
    try:
        return open_handbook(options.handbook.resolve(), getattr(options, "region", None))
    except FactsError as error:
        raise Refused([str(problem) for problem in error.problems]) from None


def _catalogue(options: Any) -> Any:
    from generators import formulas

    return formulas.catalogue(_facts(options))


def build(options: Any) -> None:
    """Build the site into --out; the last good site stays until the new one is whole."""
    from generators.site.build import SiteError
    from generators.site.build import build as build_site

    out = options.out if options.out.is_absolute() else options.handbook / options.out
    try:
        build_site(options.handbook.resolve(), out, options.region, options.base_url)
    except SiteError as error:
        raise Refused(getattr(error, "lines", None) or str(error).splitlines()) from None
    print(f"built {out}")


def serve(options: Any) -> None:
    """Live preview on this machine."""
    from generators.site.build import serve as serve_site

    serve_site(options.handbook.resolve(), options.region)


def check(options: Any) -> None:
    """Read all facts and fill all pages; print every problem."""
    from generators.pages import PageError, build_pages

    facts = _facts(options)
    try:
        pages = build_pages(facts)
    except PageError as error:
        raise Refused(error.problems) from None
    from generators.facts import old_values

    for slug, tin in facts.coatings.items():
        if tin.hardener == "isocyanate":
            print(f"stop: {tin.name} ({slug}) counts as isocyanate: its words say so, or it is a two-pack that names no hardener; "
                  "write hardener: amine, acid or other where its sheet says so", file=sys.stderr)
    for line in old_values(facts):
        print(f"old: {line}; more than a year before this edition: check it again", file=sys.stderr)
    print(f"no problems: {len(facts.kits)} kits, {len(facts.coatings)} coatings, {len(pages)} pages")


def _is_formula(name: str, inputs: Sequence[str]) -> bool:
    """A few names are both (pot-life is not, next-coat is not): the formula's own inputs decide."""
    from generators.formulas import DECLARED

    if name not in DECLARED:
        return False
    return bool(inputs) and all(text.partition("=")[0] in {symbol.name for symbol in DECLARED[name].inputs} for text in inputs)


def work(options: Any) -> None:
    """Work one formula. Exit 2 with the reason where there is no answer."""
    from generators.formula import InputError, OutOfRange
    from generators.formula.guards import number
    from generators.verdicts import DECLARED as declared

    if options.name in declared and not _is_formula(options.name, options.inputs):
        _work_verdict(options)
        return
    catalogue = _catalogue(options)
    if options.name not in catalogue:
        raise Refused([f"wanted a formula or a verdict; came {options.name!r}; there are: " + ", ".join([*catalogue, *declared])])
    given = dict(_pairs(options.inputs, "input=value", "time=60s"))
    try:
        worked = catalogue[options.name].work(given)
    except InputError as error:
        raise Refused([str(error)]) from None
    except OutOfRange as error:
        if options.json:
            print(terminal.as_json({"formula": options.name, "value": None, "reason": str(error)}))
        raise Refused([f"no answer: {error}"], 2) from None
    if options.json:
        print(terminal.as_json(worked.as_json()))
        return
    print(f"{number(worked.value)} {worked.unit.replace('Δ', '')}".strip())
    for name, value, unit in worked.inputs:
        print(f"  {name}: {number(value) + ' ' + unit if unit else value}")
    print(f"  basis: {worked.basis}; source: {', '.join(worked.sources)}")
    for note in worked.notes:
        print(f"  {note}")


def _pairs(texts: Sequence[str], wanted: str, example: str) -> list[tuple[str, str]]:
    """NAME=VALUE texts as pairs."""
    found = []
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals:
            raise Refused([f"wanted {wanted}; came {text!r}; write, for example, {example}"])
        found.append((name, value))
    return found


def _situation(day: Any, pairs: Sequence[tuple[str, str]]) -> Any:
    from generators.situation import SituationError, read

    try:
        return read(pairs, day.names())
    except SituationError as error:
        raise Refused(error.lines) from None


def _day(options: Any) -> Any:
    from generators import formulas as declared
    from generators.chain.day import Day

    facts = _facts(options)
    return Day(facts, declared.catalogue(facts))


def today(options: Any) -> None:
    """Every answer at one situation."""
    from generators.chain import answers

    day = _day(options)
    situation = _situation(day, _pairs(options.readings, "reading=value", "air-temperature=18C"))
    told = answers.today(day, situation)
    if options.json:
        if options.why:
            for name in told["answers"]:
                told["answers"][name]["why"] = answers.why(day, situation, name)
        print(terminal.as_json(told))
        return
    for line in answers.lines(day, told, options.why, situation):
        print(line)


def _work_verdict(options: Any) -> None:
    from generators.chain import answers
    from generators.situation import READINGS
    from generators.situation.read import value_of
    from generators.units import UnitError

    day = _day(options)
    pairs = _pairs(options.inputs, "reading=value", "air-temperature=18C")
    numbers = {name: unit for name, unit in answers.quantities(day, options.name).items() if name not in READINGS}
    given: dict[str, float] = {}
    problems = []
    for name, typed in pairs:
        if name in numbers:
            try:
                given[name] = value_of(typed, numbers[name])
            except (UnitError, ValueError) as error:
                problems.append(f"{name}: {error}")
    if problems:
        raise Refused(problems)
    situation = _situation(day, [pair for pair in pairs if pair[0] not in given])
    told = answers.one_verdict(day, options.name, situation, given)
    if options.json:
        print(terminal.as_json(told))
        return
    print(f"{told['verdict']}: {told['because']}" + (f" {told['remedy']}" if "remedy" in told else ""))
    for name, value in told["inputs"].items():
        print(f"  {name}: {value if isinstance(value, str) else answers.figure(value['likely'], value['unit'], day.facts.handbook.system)}")
    print(f"  basis: {told['basis']}; source: {', '.join(told['sources'])}")


def verdicts(options: Any) -> None:
    """List the declared verdicts with every test."""
    from generators.verdicts import DECLARED

    if options.json:
        print(terminal.as_json([one.described() | {"basis": str(one.origin.basis), "source": one.origin.source} for one in DECLARED.values()]))
        return
    for one in DECLARED.values():
        print(f"{one.name}: {one.asks}  [{one.origin}]")
        for test in one.tests:
            when = "; when " + ", ".join(f"{name} is {words.replace(' ', ' or ')}" for name, words in test.when) if test.when else ""
            print(f"  {test.outcome} if {test.value} {test.sign} {test.limit.replace(' ', ' or ')}".rstrip() + f" (in doubt: {test.doubt}){when}")


def formulas(options: Any) -> None:
    """List the declared formulas with inputs, units, ranges and sources."""
    listed = [
        {"formula": f.name, "title": f.title, "unit": f.answer.unit, "basis": str(f.origin.basis), "source": f.origin.source,
         "inputs": ([{"name": f.choice.name, "choices": list(f.choice.options)}] if f.choice else [])
         + [{"name": s.name, "unit": s.unit, "from": s.low, "to": s.high, "meaning": s.meaning} for s in f.inputs]}
        for f in _catalogue(options).values()
    ]
    if options.json:
        print(terminal.as_json(listed))
        return
    for one in listed:
        inputs = ", ".join(i["name"] + (f" ({i['unit']})" if i.get("unit") else "") for i in one["inputs"])
        print(f"{one['formula']}: {inputs} → {one['unit']}  [{one['basis']}: {one['source']}]")


def card(options: Any) -> None:
    """Write the van card of one kit or several as PDF."""
    if options.out:
        owned.pdf(options.out, options.handbook)  # before the work
    from generators import formulas as declared
    from generators.pages.card import card_json, card_pdf

    facts = _facts(options)
    kits = list(facts.kits) if options.kit == "all" else (options.kit or facts.handbook.default_kit).split(",")
    for kit in kits:
        if kit not in facts.kits:
            raise Refused([f"wanted a kit; came {kit!r}; there are: " + ", ".join(facts.kits)])
    if options.json:
        try:
            print(json.dumps(card_json(facts, declared.catalogue(facts), kits, options.coatings.split(",") if options.coatings else None), ensure_ascii=False))
        except ValueError as error:
            raise Refused([str(error)]) from None
        return
    out = options.out or Path(f"card-{'-'.join(kits)}-{options.size}.pdf")
    place = owned.pdf(out, options.handbook)
    try:
        owned.write(place, card_pdf(facts, declared.catalogue(facts), kits, options.size, options.coatings.split(",") if options.coatings else None))
    except ValueError as error:
        raise Refused([str(error)]) from None
    print(f"wrote {out}")


def drills(options: Any) -> None:
    """Write exercise sheets as PDF."""
    if not (1 <= options.count <= 100 and 0 <= options.sheet < 10**9):
        raise Refused([f"wanted --sheet from 0 and --count from 1 to 100; came --sheet {options.sheet} --count {options.count}"])
    out = options.out or Path(f"exercise-sheets-{options.sheet}.pdf")
    place = owned.pdf(out, options.handbook)
    from generators import formulas as declared
    from generators.pages.drills import sheets_pdf

    facts = _facts(options)
    owned.write(place, sheets_pdf(facts, declared.catalogue(facts), range(options.sheet, options.sheet + options.count)))
    print(f"wrote {out}")


def book(options: Any) -> None:
    """Set the handbook, one folder of it or chosen pages as one PDF."""
    from generators.paper import NoBook
    from generators.paper import book as set_book

    place = owned.pdf(options.out, options.handbook)
    try:
        owned.write(place, set_book(options.handbook.resolve(), options.region, options.size or "", options.part, [one for one in options.pages.split(",") if one]))
    except NoBook as error:
        raise Refused(error.lines) from None
    print(f"wrote {options.out}")


def pages(options: Any) -> None:
    """Write the finished Markdown for any generator of static sites."""
    owned.folder(options.out, options.handbook, "pages")  # before the work, and again after it
    from generators.pages import PageError, build_pages

    try:
        made = build_pages(_facts(options))
    except PageError as error:
        raise Refused(error.problems) from None
    with owned.making(options.out, options.handbook, "pages") as folder:
        for address, text in made.items():
            target = folder / address
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
    print(f"wrote {len(made)} pages to {options.out}")


def new(options: Any) -> None:
    """Write a handbook folder that builds at once. A folder that holds anything is left alone."""
    from generators.starter import NotEmpty, UnknownRegion, write

    owned.outside_sources(options.folder, options.handbook)
    try:
        count = write(options.folder, options.region)
    except (NotEmpty, UnknownRegion) as error:
        raise Refused([str(error)]) from None
    print(f"wrote {count} files to {options.folder}\nnext: cd {shlex.quote(str(options.folder))} && almanac build && almanac card\n"
          "then put in your own kit and paints: handbook/reference/your-own.md says how")


def schemas(options: Any) -> None:
    """Write JSON Schemas that let an editor complete and check the YAML."""
    own = options.handbook / "site_data" / "schemas"
    out = options.out or own
    owned.folder(out, options.handbook, "schemas", own)
    from generators.facts.schema import schemas as made

    with owned.making(out, options.handbook, "schemas", own) as folder:
        for name, schema in made().items():
            (folder / name).write_text(json.dumps(schema, ensure_ascii=False, indent=2) + "\n", encoding="utf-8")
    print(f"wrote schemas to {out}")


_COMMANDS = {"build": build, "serve": serve, "check": check, "work": work, "formulas": formulas, "verdicts": verdicts, "today": today, "card": card,
             "drills": drills, "book": book, "pages": pages, "new": new, "schemas": schemas}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code: 1 where the input is at fault, 2 where there is no answer, 128 and the signal's number where it was stopped."""
    terminal.show_any_letter()
    stopped: list[int] = []
    try:
        with terminal.stopping_plainly() as stopped:
            options = _parser().parse_args(arguments)
            _COMMANDS[options.command](options)
            sys.stdout.flush()
    except (Refused, owned.NotOurs) as refusal:
        for line in refusal.lines:
            print(line, file=sys.stderr)
        return getattr(refusal, "code", 1)
    except BrokenPipeError:
        return terminal.reader_has_gone()
    except OSError as error:
        if not stopped:
            print(f"{error.filename or 'file'}: {error.strerror or error}", file=sys.stderr)
            return 1
    except BaseException:
        if not stopped:  # a stop may come out of other people's code as any error
            raise
    if stopped:
        print("stopped before the end: nothing half made is left", file=sys.stderr)
        return 128 + stopped[0]
    return 0


def run() -> None:
    """The program: one command, and its exit code to the shell."""
    code = main()
    terminal.last_signals_ignored()
    sys.exit(code)


if __name__ == "__main__":
    run()
