"""What was made on a phone, out of the file that was taken out there: own paints and kits as files of site_data, with their basis and day.

Nothing that was there is touched: a name that is taken is refused. What a file of the handbook may not say is told at its line before anything is written.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generators.facts import model
from generators.facts.load import load
from generators.facts.problem import FactsError, Problem, shown
from generators.facts.schema import figures

_HEAD = re.compile(r'^\{"sprayers-almanac-journal":(\d{1,6}),"sha256":"([0-9a-f]{64})"\}$')
_KINDS: dict[str, tuple[str, type[Any]]] = {"own-paint": ("coatings", model.Coating), "own-kit": ("kits", model.Kit)}
_TWO = ("ratio", "hardener_density", "pot_life", "induction")


def _edits(path: Path) -> list[dict[str, Any]]:
    """Every edit of a taken-out file. FactsError where it is none, or one letter of it changed."""
    name = path.name
    try:
        body = path.read_bytes()
    except OSError as error:
        raise FactsError([Problem(name, 1, "a file of records taken out on a phone", error.strerror or type(error).__name__, "say where it lies")]) from None
    first, _, rest = body.partition(b"\n")
    head = _HEAD.match(first.decode("utf-8", "replace"))
    if head is None:
        raise FactsError([Problem(name, 1, "a file of records taken out on a phone", shown(first[:40].decode("utf-8", "replace")), "take the file out again with the newest edition")])
    if hashlib.sha256(rest).hexdigest() != head[2]:
        raise FactsError([Problem(name, 1, "a whole file", "one whose digest differs", "it changed since it was taken out: take it out again")])
    found = []
    for place, line in enumerate(rest.decode("utf-8").split("\n"), 2):
        if not line:
            continue
        try:
            one = json.loads(line)
        except ValueError:
            raise FactsError([Problem(name, place, "one part of a record", shown(line), "take the file out again")]) from None
        if isinstance(one, dict) and isinstance(one.get("edit"), dict):
            found.append(one["edit"])
    return found


def things(path: Path) -> list[tuple[str, dict[str, tuple[str, str]], str]]:
    """(kind, {entry: (text, unit)}, day) of each own kit and paint that stands in the file: what the newest edit of each field says, of two that did not see each other the later."""
    records: dict[str, dict[str, dict[str, Any]]] = {}
    gone: set[str] = set()
    for edit in sorted(_edits(path), key=lambda one: (one["at"], one["dev"], one["n"])):
        if edit["field"] in ("~gone", "~erased"):
            (gone.add if edit["field"] == "~erased" or edit["text"] == "yes" else gone.discard)(edit["rec"])
        elif not edit["row"]:
            records.setdefault(edit["rec"], {})[edit["field"]] = edit
    found = []
    for rec, fields in records.items():
        kind = fields.get("~kind", {}).get("text", "")
        if kind in _KINDS and rec not in gone:
            held = {name: (str(one["text"]).strip(), str(one["unit"])) for name, one in fields.items() if not name.startswith("~") and str(one["text"]).strip()}
            found.append((kind, held, max(one["when"] for one in fields.values())[:10]))
    return found


def _value(held: Mapping[str, tuple[str, str]], entry: str) -> str | None:
    """An entry as a file says it: its figure with the unit that stood beside it."""
    if entry not in held:
        return None
    text, unit = held[entry]
    plain = unit.replace("Δ", "")
    return f"{text} {unit}" if plain and plain != "1" and not re.search(r"[A-Za-zµ°%]", text) else text


def data_of(kind: str, held: Mapping[str, tuple[str, str]], day: str, classes: Mapping[str, Any], source: str = "") -> dict[str, Any]:
    """The keys and values of its file. What its class says for it, where nobody typed it, has the basis common practice."""
    shape = _KINDS[kind][1]

    def said(entry: str) -> str:
        return held.get(entry, ("", ""))[0]

    basis = said("basis") or ("measured" if kind == "own-kit" else "published")
    out: dict[str, Any] = {"name": said("name"), "basis": basis, **({"source": source} if source else {}), "date": day}
    cup = said("cup")
    timed = f"{_value(held, 'seconds')} in {cup}" if "seconds" in held else None
    for name in figures(shape):
        entry = {"limit": "seconds", "supplied": "seconds", "nozzles": "nozzle"}.get(name, name.replace("_", "-"))
        value = timed if entry == "seconds" else _value(held, entry)
        if value is not None:
            out[name] = [value] if name == "nozzles" else value
    if kind == "own-kit":
        return {**out, "stages": said("stages"), "pattern": said("pattern"), "nozzles": out.get("nozzles", []), **({"notes": said("notes")} if said("notes") else {})}
    out["class"] = said("class")
    own = classes.get(out["class"])
    water = said("thin-with").lower() == "water" or (not said("thin-with") and own is not None and own.family in ("waterborne", "mineral"))
    out["thin_with"] = said("thin-with") or ("water" if water else "the thinner of its data sheet")
    if water:
        out["thinner_density"] = "0 g/L"
    if "nozzle" not in out and own is not None:
        out["nozzle"] = {"value": f"{own.nozzle_coarse.value:g} {own.nozzle_coarse.unit}", "basis": "common practice"}
    out["uses"] = [own.label.lower() if own is not None else "all"]
    trial = {"thinner": _value(held, "trial-thinner") if said("trial-thinner") else None, "time": f"{_value(held, 'trial-seconds')} in {cup}" if said("trial-seconds") else None}
    if any(trial.values()):  # half a first dose is told, not dropped
        out["trial"] = {name: value for name, value in trial.items() if value is not None}
    if any(name.replace("_", "-") in held for name in _TWO):
        out["two_pack"] = {name: _value(held, name.replace("_", "-")) for name in _TWO if name.replace("_", "-") in held}
    if said("hardener"):
        out["hardener"] = said("hardener")
    return {**out, **({"notes": said("notes")} if said("notes") else {})}


def _yaml(data: Mapping[str, Any], kind: str, day: str) -> str:
    """The file's text. Every text is written as JSON writes it, which YAML reads as it is."""
    lines = [f"# yaml-language-server: $schema=../schemas/{'coating' if kind == 'own-paint' else 'kit'}.json", f"# Typed on a phone, {day}: read it against the tin before others rely on it."]
    return "\n".join([*lines, *(f"{name}: {json.dumps(value, ensure_ascii=False)}" for name, value in data.items())]) + "\n"


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60].strip("-")


def take(root: Path, path: Path, source: str = "") -> list[Path]:
    """Write each own kit and paint of the file into site_data, all of them or none. FactsError with every problem."""
    made = things(path)
    facts, problems, files = load(root), [], {}
    for kind, held, day in made:
        folder = _KINDS[kind][0]
        data = data_of(kind, held, day, facts.classes, source)
        guard = facts.protection.get(data.get("class", ""))
        if guard is not None and guard.stop:  # a stop that the class carries is written down; one that its hardener forces is put on by the reader of the file
            data["stops"] = [guard.stop]
        slug = _slug(data["name"])
        where = f"site_data/{folder}/{slug or 'own'}.yaml"
        if not slug:
            problems.append(Problem(path.name, 1, f"a name for every own {'paint' if kind == 'own-paint' else 'kit'}", shown(data["name"]), "name it on the phone, and take the file out again"))
        elif where in files or (root / where).exists() or slug in (facts.coatings if folder == "coatings" else facts.kits):
            problems.append(Problem(where, 1, "a name that is not there yet", shown(data["name"]), "nothing was written over: rename it on the phone, or move the old file away"))
        elif data["basis"] == "published" and not source:
            problems.append(Problem(where, 1, "the data sheet as a source", f"{data['name']!r} from its data sheet, and no source", "put the sheet into site_data/sources.yaml, and say --source KEY"))
        files[where] = _yaml(data, kind, day)
    if not files:
        problems.append(Problem(path.name, 1, "an own kit or paint", "none in the file", "make one on the phone under *A paint of your own*"))
    if not problems:
        problems = _tried(root, files)
    if problems:
        raise FactsError(problems)
    written = []
    for where, text in files.items():
        (root / where).parent.mkdir(parents=True, exist_ok=True)
        with (root / where).open("x", encoding="utf-8") as file:
            file.write(text)
        written.append(root / where)
    return written


def _tried(root: Path, files: Mapping[str, str]) -> list[Problem]:
    """The problems of the handbook with these files in it, read in a copy that is thrown away."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(root / "site_data", Path(folder) / "site_data")
        for where, text in files.items():
            (Path(folder) / where).write_text(text, encoding="utf-8", newline="\n")
        try:
            load(Path(folder))
        except FactsError as error:
            return error.problems
    return []
