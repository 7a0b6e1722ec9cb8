"""`almanac learn`: what the records taken out of phones say about kits and paints, and, when asked, into the files of facts."""

from __future__ import annotations

import itertools
import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

import click

from generators import layers, owned
from generators.cli.shared import Asked, Refused, command, facts_of

# What a fit may change, and the unit its file says it in; the rest is told and written nowhere.
_WRITTEN = {"kits": ("flow", "flow_power", "transfer_efficiency", "efficiency_fall", "half_height", "hand_scatter"), "coatings": ("steepness", "viscosity_slope")}
_PATH = click.Path(path_type=Path)


@command("learn", "what your own records say of kits and paints, and into site_data", "almanac learn records.jsonl --pictures learned", json=True)
@click.argument("files", type=_PATH, nargs=-1, required=True, metavar="FILE…")
@click.option("--pictures", type=_PATH, metavar="FOLDER", help="Draw each fit into a new folder.")
@click.option("--write", "write_down", is_flag=True, help="Write what the records say into the files of kits and paints, comments kept.")
def learn(asked: Asked, files: tuple[Path, ...], pictures: Path | None, write_down: bool) -> None:
    """Read records, fit them with their spread, say what changes; write it down only with --write."""
    from generators import formulas
    from generators.chain import last
    from generators.learn import records, series

    facts = facts_of(asked)
    catalogue = formulas.catalogue(facts)
    for path in files:
        if not path.is_file():
            raise Refused([f"wanted a file taken out of a phone; came {str(path)!r}, which is not there; take one out on the records page"])
    try:
        found = series.series(records.standing(list(files)))
    except records.RecordsError as error:
        raise Refused([str(error)]) from error

    def density(coating: str) -> float:
        tin = facts.coatings.get(coating)
        return float(tin.density.to("kg/L")) if tin else 1.2

    teeth = [tooth.to("µm") for tooth in facts.combs[0].teeth] if facts.combs else [0.0, 0.0]
    gap = min(second - first for first, second in itertools.pairwise(teeth))
    told: list[dict[str, Any]] = []
    lines = [f"left out: {one}" for one in found.skipped]
    changes: dict[tuple[str, str], dict[str, Any]] = {}
    for slug, kit in facts.kits.items():
        rows = found.rows[found.rows["kit"] == slug] if len(found.rows) else found.rows
        if not len(rows):
            continue
        for name, one in series.kit_fits(rows, kit, catalogue, density, gap).items():
            stood = getattr(kit, name)
            told.append(_told(slug, one, float(stood.to(one.unit)) if stood is not None else None))
            if one.known:
                changes.setdefault(("kits", slug), {})[name] = one
        if warning := series.kit_drift(rows, catalogue, density):
            lines.append(f"{slug}: {warning}")
    for slug, tin in facts.coatings.items():
        rows = found.rows[found.rows["coating"] == slug] if len(found.rows) else found.rows
        if len(rows):
            lines += [] if tin.stops else [said for said in [last.said(tin.name, last.work(catalogue, last.fields_of(facts, slug), last.pots_of(rows)))] if said]
            stands = {"steepness": tin.steepness, "viscosity_slope": tin.viscosity_slope or facts.classes[tin.class_key].viscosity_slope}
            for name, one in series.coating_fits(rows, catalogue).items():
                told.append(_told(slug, one, float(stands[name].to(one.unit)) if stands[name] is not None else None))
                if one.known:
                    changes.setdefault(("coatings", slug), {})[name] = one
    if pictures is not None:
        _draw(asked, pictures, told)
    if write_down:
        _write(asked, changes, facts.handbook.date)
    if asked.json:
        print(json.dumps([{key: value for key, value in one.items() if key != "fit"} for one in told], ensure_ascii=False, indent=2))
        return
    for line in [*lines, *(_line(one) for one in told)] or ["nothing measured in these records: weigh a pot, time a dose, spray a board"]:
        print(line)
    if changes and not write_down:
        asked.say("nothing is written yet: add --write, and the files of kits and paints take these figures")


def _told(owner: str, one: Any, before: float | None) -> dict[str, Any]:
    numbers = {"likely": one.likely, "low": one.low, "high": one.high} if one.known else {"why": one.why}
    return {"of": owner, "figure": one.name, "unit": one.unit, "count": one.count, "before": before, **numbers, "fit": one}


def _line(one: dict[str, Any]) -> str:
    name, unit = f"{one['of']}: {one['figure'].replace('_', ' ')}", "" if one["unit"] == "1" else f" {one['unit']}"
    if "why" in one:
        return f"{name}: no figure: {one['why']}"
    before = f"; the handbook said {one['before']:.3g}{unit}" if one["before"] is not None else ""
    apart = f", {one['likely'] / one['before'] - 1:+.0%}".replace("-", "−") if one["before"] else ""
    return f"{name}: {one['likely']:.3g}{unit} ({one['low']:.3g} to {one['high']:.3g}, from {one['count']}){before}{apart}"


def _draw(asked: Asked, folder: Path, told: list[dict[str, Any]]) -> None:
    from generators.learn.pictures import page, picture

    owned.folder(folder, asked.handbook, "learn")
    with owned.making(folder, asked.handbook, "learn") as made:
        (made / "index.html").write_text(page([picture(one["of"], one["fit"], one["before"]) for one in told]), encoding="utf-8", newline="\n")
    asked.say(f"drew {len(told)} fits in {folder}")


def _write(asked: Asked, changes: dict[tuple[str, str], dict[str, Any]], date: str) -> None:
    """All files or none: the new ones are read and checked in a copy first, then each takes its place in one step."""
    from generators.facts import FactsError
    from generators.formulas.own_cups import open_handbook
    from generators.learn import change

    site_data = Path("site_data")
    texts, missing = {}, []
    for (folder, slug), fits in changes.items():
        place = site_data / folder / f"{slug}.yaml"
        if (asked.handbook / place).is_file():
            texts[place] = change.write(asked.handbook / place, {key: one for key, one in fits.items() if key in _WRITTEN[folder]}, str(date))
        else:
            missing.append(f"{place.as_posix()}: wanted a file of this handbook's own to write into; came a row of a sheet, or a file of the stock; write {slug} as a file first, then learn again")
    if missing:
        raise Refused(missing)
    with tempfile.TemporaryDirectory() as temporary:
        copy = Path(temporary)
        shutil.copytree(asked.handbook / site_data, copy / site_data)
        if (asked.handbook / layers.SETTINGS).is_file():  # what lies over the stock is read over it
            shutil.copy(asked.handbook / layers.SETTINGS, copy)
        for place, text in texts.items():
            (copy / place).write_text(text, encoding="utf-8", newline="\n")
        try:
            open_handbook(copy, asked.region)
        except FactsError as error:
            raise Refused([f"nothing was written, since the new figures do not pass: {problem}" for problem in error.problems]) from error
    for place, text in texts.items():
        path = asked.handbook / place
        aside = path.with_suffix(".yaml.new")
        aside.write_text(text, encoding="utf-8", newline="\n")
        aside.replace(path)
        asked.say(f"wrote {', '.join(changes[place.parent.name, place.stem])} into {path}")


COMMANDS = (learn,)
