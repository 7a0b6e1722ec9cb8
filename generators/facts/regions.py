"""A region is a file in site_data/regions: whose law, whose coin and units, which words, whom to ask, whom to phone.

A handbook may bring its own: the file's name is the region's name. What the rules themselves say stands in
site_data/law (see `generators.facts.law`), by the same names.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints

from generators import layers
from generators.basis import CITED
from generators.facts import kinds
from generators.facts.model import Day, Fact, Name, Sourced, Text
from generators.facts.problem import Problem, shown
from generators.facts.read import Tree, read_yaml

FOLDER = "site_data/regions"
_OLD = "site_data/regions.yaml"
# A name of a region is an address, a file and the beginning of its districts' names.
NAME = re.compile(r"[a-z]{2,12}")


class Phone(Sourced):
    """One number to call, with the hours it answers and where it was read."""

    call: Text
    hours: Text
    where: Text | None = None
    checked: Day

    def __str__(self) -> str:
        """As a page prints it: the number, its hours, how far it can be trusted."""
        return f"{self.call}{f' in {self.where}' if self.where else ''}, {self.hours} [{self.basis}, checked {self.checked}]"


class Phones(Fact):
    """Whom to call when somebody is hurt."""

    emergency: list[Phone] = Field(min_length=1)
    poison: list[Phone] = Field(min_length=1)


class Masks(Fact):
    """Keys of rows in site_data/law/masks.csv: what a half mask, a full mask and air-fed kit count for here."""

    half: Name
    half_gas: Name
    full: Name
    air_fed: Name


class Region(Sourced):
    """Whose law holds and whom to ask. What is written here carries the day it was checked."""

    title: Name
    coin: Annotated[str, StringConstraints(min_length=1, max_length=4)]
    system: Literal["metric", "us"]
    words: Literal["uk", "us"]
    under: Name | None = None
    masks_like: Name | None = None
    label_category: Literal["voc_category", "voc_category_us"] | None = None
    air_at: kinds.Temperature
    districts: dict[str, Name] = Field(default_factory=dict)
    masks: Masks | None = None
    checked: Day
    law: list[Text] = Field(min_length=1)
    ask: list[Text] = Field(min_length=1)
    lead: Text
    asbestos: Text
    waste: Text
    fire: Text
    noise: Text
    phones: Phones | None = None

    def _phone(self, kind: str) -> str:
        told = "; ".join(str(one) for one in getattr(self.phones, kind)) + ". " if self.phones else ""
        return f"{told}Your own: ______"

    @property
    def emergency(self) -> str:
        """Numbers for an emergency as one line, with room for the crew's own."""
        return self._phone("emergency")

    @property
    def poison(self) -> str:
        """Numbers for advice on poisons as one line, with their hours and room for the crew's own."""
        return self._phone("poison")


# What a region of an old regions.yaml did not say.
_UNSAID: dict[str, dict[str, Any]] = {
    "uk": {"coin": "£", "system": "metric", "words": "uk", "air_at": "20 °C", "label_category": "voc_category",
           "masks": {"half": "half-mask-p3", "half_gas": "half-mask-gas-p3", "full": "full-mask-p3", "air_fed": "powered-hood-th3"},
           "fire": "DSEAR, and the fire service", "noise": "The noise regulations, HSE, and an occupational health service."},
    "eu": {"coin": "€", "system": "metric", "words": "uk", "air_at": "20 °C", "label_category": "voc_category",
           "fire": "the national rules under Directive 1999/92/EC, and the fire service", "noise": "The national rules under Directive 2003/10/EC, and an occupational health service."},
    "us": {"coin": "$", "system": "us", "words": "us", "air_at": "25 °C", "label_category": "voc_category_us",
           "fire": "OSHA, the fire code and the local fire marshal", "noise": "OSHA's noise rule, your state, and an audiologist.",
           "masks": dict.fromkeys(("half", "half_gas"), "apr-half-mask-incl-filtering-facepiece") | {"full": "apr-full-facepiece", "air_fed": "sar-continuous-full"}},
}


def _as_was(data: dict[str, Any], key: str) -> dict[str, Any]:
    """An entry of an old regions.yaml in the shape of a region's file. Its limit of mist is read by `law`; its phones were blanks."""
    said = {name: value for name, value in data.items() if name not in ("mist_limit", "emergency", "poison")}
    return {**_UNSAID.get(key, {}), **said}


def read_regions(reader: Any) -> dict[str, Region]:
    """Every region by its name, in name order. Problems are told to `reader`, with their lines.

    An old handbook has one regions.yaml in place of the folder: it still reads.
    """
    root: Path = reader.root
    trees: dict[str, tuple[Tree, dict[str, Any], tuple[str, ...]]]
    names: set[str]
    found: dict[str, Region] = {}
    if layers.under(root) or (root / FOLDER).is_dir():
        trees, names = {}, set()
        for name, path in layers.listed(root, FOLDER).items():
            where = f"{FOLDER}/{name}"
            if path.suffix != ".yaml":
                reader.problems.append(Problem(where, 1, "a file that ends in .yaml", shown(path.name), "rename it, or keep it elsewhere"))
            elif not NAME.fullmatch(path.stem):
                reader.problems.append(Problem(where, 1, "a region's name of 2 to 12 small letters", shown(path.stem), "rename the file, for example de.yaml"))
            else:
                names.add(path.stem)  # also of a file that cannot be read: what names it is not told as well
                if tree := read_yaml(path, root, reader.problems):
                    trees[path.stem] = (tree, tree.data, ())
    elif (root / _OLD).is_file():
        old = read_yaml(root / _OLD, root, reader.problems)
        trees, names = {}, set(old.data if old else ())
        for key, data in (old.data if old else {}).items():
            assert old is not None
            if isinstance(data, dict) and key in _UNSAID:
                trees[key] = (old, _as_was(data, key), (key,))
            else:
                reader.tell(old, (key,), "uk, eu or us, with keys and values", shown(key), f"put a region of your own into {FOLDER}/{key}.yaml")
    else:
        reader.problems.append(Problem(FOLDER, 1, "a folder with a file for each region", "no folder", "add it, as `almanac new` writes it"))
        trees, names = {}, set()
    for key, (tree, data, at) in trees.items():
        if not at:
            reader.trees[f"regions/{key}"] = tree
        region = reader.parse(Region, tree, at, data)
        if not region:
            continue
        _cited(reader, tree, at, region)
        for column in ("under", "masks_like"):
            if (other := getattr(region, column)) and (other not in names or other == key):
                reader.tell(tree, (*at, column), f"another region with a file in {FOLDER}", shown(other), "write one of: " + ", ".join(sorted(names - {key})))
        for district in region.districts:
            if not re.fullmatch(rf"{key}(-[a-z0-9]+)+", district):
                reader.tell(tree, (*at, "districts", district), f"a district's name that begins with {key}-", shown(district), f"write, for example, {key}-north")
        found[key] = region
    reader.names["regions"] = names
    return found


def _cited(reader: Any, tree: Tree, at: tuple[str, ...], region: Region) -> None:
    """The file and each number to call name a source that exists, where their basis wants one."""
    known = reader.names["sources.yaml"]
    said: list[tuple[tuple[Any, ...], Sourced]] = [((*at, "source"), region)]
    for kind in ("emergency", "poison") if region.phones else ():
        said += [((*at, "phones", kind, index, "source"), one) for index, one in enumerate(getattr(region.phones, kind))]
    for keys, one in said:
        if one.basis in CITED and one.source not in known:
            reader.tell(tree, keys, f"a source in sources.yaml for a {one.basis} value", shown(one.source), "name it, or add it to sources.yaml")
