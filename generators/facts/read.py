"""Reading files with the line of every value. Nothing here knows what the values mean."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from generators import layers
from generators.facts.problem import Problem, shown
from generators.facts.sheet import BOOKS, SheetError, decoded, place_of, rows_of

MAX_BYTES = 2_000_000
MAX_DEPTH = 20
# The quick reader that PyYAML brings where it was built with one; the other reads the same.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass
class Tree:
    """Plain data from one YAML file, and the line of each value by its path of keys."""

    path: str
    data: Any
    lines: dict[tuple[Any, ...], int] = field(default_factory=dict)
    is_row: bool = False  # one row of a spreadsheet: its keys are columns
    below: Tree | None = None  # the stock's file of the same name, whose entries this one's are laid over

    def line(self, keys: tuple[Any, ...]) -> int:
        """Line of the value at `keys`, or of its nearest parent."""
        while keys and keys not in self.lines:
            keys = keys[:-1]
        return self.lines.get(keys, 1)

    def where(self, keys: tuple[Any, ...]) -> tuple[str, int]:
        """Path and line of the value at `keys`, in whichever layer it stands."""
        if self.below and keys and keys[:1] not in self.lines and keys[:1] in self.below.lines:
            return self.below.path, self.below.line(keys)
        return self.path, self.line(keys)


def text_of(path: Path, root: Path, problems: list[Problem]) -> str | None:
    """The file as text, or None with a problem told. A file too large is told by its size, and not read."""
    base, name = layers.home(path, root)
    try:
        if not path.resolve().is_relative_to(base.resolve()):
            problems.append(Problem(name, 1, "a file inside the handbook folder", "a link that leaves it", "copy the file in"))
            return None
        if path.exists() and not path.is_file():
            problems.append(Problem(name, 1, "a file", "a folder, a pipe or a device of that name", "rename or remove it"))
            return None
        if path.stat().st_size > MAX_BYTES:
            problems.append(Problem(name, 1, f"a file under {MAX_BYTES // 1000} kB", f"{path.stat().st_size // 1000} kB", "split it, or see whether it is the right file"))
            return None
        return "" if path.suffix in BOOKS else decoded(path.read_bytes())
    except UnicodeDecodeError as error:
        problems.append(Problem(name, 1, "text in UTF-8", f"byte {error.object[error.start]:#04x} at {error.start}", "save the file as UTF-8"))
    except (OSError, RuntimeError) as error:  # a ring of links is a RuntimeError before Python 3.13
        error = error if isinstance(error, OSError) else OSError(0, "a ring of links")
        problems.append(Problem(name, 1, "a file that can be read", str(error.strerror or error), "mend the file or its rights"))
    return None


def _plain(node: yaml.Node, keys: tuple[Any, ...], tree: Tree, told: Callable[..., None]) -> Any:
    tree.lines[keys] = node.start_mark.line + 1
    if isinstance(node, yaml.MappingNode):
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            key = str(key_node.value) if isinstance(key_node, yaml.ScalarNode) else ""
            line = key_node.start_mark.line + 1
            if not key:
                told(line, "a plain key", "a key that is a list or a mapping", "write one word and a colon")
            elif key in found:
                told(line, f"one value for {key!r}", "the key a second time", "keep one of the two")
            else:
                found[key] = _plain(value_node, (*keys, key), tree, told)
                tree.lines[(*keys, key)] = line
        return found
    if isinstance(node, yaml.SequenceNode):
        return [_plain(child, (*keys, index), tree, told) for index, child in enumerate(node.value)]
    # Every scalar stays the text that was typed: "1e3", "no" and "12:30" mean what their field says they mean.
    return None if node.tag.endswith(":null") else node.value


def read_yaml(path: Path, root: Path, problems: list[Problem]) -> Tree | None:
    """A mapping with lines, or None with problems told. Anchors, tags and repeated keys are refused.

    A file that the crew holds only in part is laid over the stock's: an entry of theirs first, and one of theirs
    without a value takes the stock's away.
    """
    name = layers.home(path, root)[1]
    path = layers.find(root, name)
    text = text_of(path, root, problems)
    if text is None:
        return None
    own = layers.is_own(path, root)
    stock = layers.below(root, name) if own and layers.joined(name) else None
    if stock and not re.sub(r"(?m)^\s*(#.*)?$", "", text):
        own, path, stock = False, stock, None  # nothing but notes: all is the stock's
        text = text_of(path, root, problems) or ""
    tree, found = _read(name if own or layers.under(root) is None else f"stock: {name}", text)
    problems.extend(found)
    if tree and stock and (beneath := _beneath(stock, root, name, problems)):
        gone = {key for key, value in tree.data.items() if value is None}
        data = {key: value for key, value in {**beneath.data, **tree.data}.items() if key not in gone}
        return Tree(tree.path, data, tree.lines, below=beneath)
    return tree


def _beneath(path: Path, root: Path, name: str, problems: list[Problem]) -> Tree | None:
    text = text_of(path, root, problems)
    tree, found = _read(f"stock: {name}", text) if text is not None else (None, ())
    problems.extend(found)
    return tree


@lru_cache(maxsize=8192)
def _read(name: str, text: str) -> tuple[Tree | None, tuple[Problem, ...]]:
    """What one text says, read once: in `serve` only the file that changed is read again. Nobody changes a Tree."""
    problems: list[Problem] = []

    def told(line: int, wanted: str, came: str, mend: str) -> None:
        problems.append(Problem(name, line, wanted, came, mend))

    def parsed() -> yaml.Node | None:
        depth = 0
        for event in yaml.parse(text, Loader=_LOADER):
            line = event.start_mark.line + 1
            if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
                told(line, "plain values", "an anchor or alias", "write the value out again")
                return None
            tag = getattr(event, "tag", None)
            if tag and tag != "!":
                told(line, "plain values", f"the tag {shown(tag)}", "remove the tag")
                return None
            depth += isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)) - isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent))
            if depth > MAX_DEPTH:
                told(line, "YAML a person could read", "values nested too deep", "flatten the file")
                return None
        node = yaml.compose(text, Loader=_LOADER)
        if not isinstance(node, yaml.MappingNode):
            told(1, "keys and values", "an empty file" if node is None else "something else", "write `key: value` lines")
            return None
        return node

    try:
        node = parsed()
    except (yaml.YAMLError, ValueError) as error:  # a lone surrogate or an impossible escape is a ValueError
        mark = getattr(error, "problem_mark", None)
        came = " ".join(str(getattr(error, "problem", None) or getattr(error, "reason", None) or error).split())
        line = mark.line + 1 if mark else text.count("\n", 0, getattr(error, "position", 0) or 0) + 1
        told(line, "YAML", came, "mend the indent, colon or quote on that line (spaces, no tabs)")
        node = None
    if node is None:
        return None, tuple(problems)
    tree = Tree(name, None)
    tree.data = _plain(node, (), tree, told)
    return tree, tuple(problems)


def read_csv(path: Path, root: Path, columns: tuple[str, ...] | None, problems: list[Problem]) -> list[tuple[int, dict[str, str]]]:
    """(line, row) pairs of a CSV with exactly these columns, or with any; `#` lines are notes.

    Commas, semicolons or tabs, UTF-8 or UTF-16, or a workbook of that name (see `sheet`). A row's line is the one it begins on. Of a
    file whose rows have a key, a crew holds only its own: the stock's come first, but for those whose key it has.
    """
    name = str(Path(layers.home(path, root)[1]).with_suffix(".csv").as_posix())
    mine = place_of(root / name)
    path = mine if os.path.lexists(mine) else layers.find(root, name)
    own, key = _rows(path, root, f"{name.removesuffix('.csv')}{path.suffix}", columns, problems), layers.key_of(name)
    stock = layers.below(root, name) if key and layers.is_own(path, root) else None
    if not stock or key is None:
        return own
    theirs = {tuple(row.get(column, "") for column in key) for _, row in own}
    return [(line, row) for line, row in _rows(stock, root, name, columns, problems) if tuple(row.get(column, "") for column in key) not in theirs] + own


def _rows(path: Path, root: Path, name: str, columns: tuple[str, ...] | None, problems: list[Problem]) -> list[tuple[int, dict[str, str]]]:
    text = text_of(path, root, problems)
    if text is None:
        return []
    rows: list[tuple[int, dict[str, str]]] = []
    head: list[str] | None = None
    before: list[list[str]] = []
    try:
        for line, cells in rows_of(path, None if path.suffix in BOOKS else text):
            if not any(cell.strip() for cell in cells) or cells[0].startswith("#"):
                continue
            if head is None:
                head = [cell.strip() for cell in cells]
                twice = [cell for cell in head if head.count(cell) > 1]
                if twice:
                    problems.append(Problem(name, line, "each column once", shown(twice[0]), "name or remove the second one"))
                    return []
                if columns is not None and tuple(head) not in (columns, (*columns, "doubtful")):
                    problems.append(Problem(name, line, "the columns " + ",".join(columns), shown(",".join(head)), "mend the first line"))
                    return []
            elif cells in before:
                problems.append(Problem(name, line, "each row once", "the same row a second time", "remove one of the two"))
            elif len(cells) != len(head):
                problems.append(Problem(name, line, f"{len(head)} cells", f"{len(cells)}", "add or remove a comma; quote a text that holds one"))
            else:
                before.append(cells)
                rows.append((line, dict(zip(head, (cell.strip() for cell in cells), strict=True))))
    except SheetError as error:
        problems.append(Problem(name, error.line, error.wanted, error.came, error.mend))
    return rows
