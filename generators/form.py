"""The Form: a frozen list of what a record holds. It is printed empty, filled in by hand, or kept on a device by a script."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Entry:
    """One line to fill in. `unit` makes it a number with a US twin; `short` puts it into the short form; `start` is what it begins with.

    `options` are (value, words) of a choice; `of` is the block whose lines a "line" chooses among.
    """

    name: str
    label: str
    kind: Literal["text", "long", "number", "choice", "date", "time", "tick", "line", "photo"] = "text"
    unit: str = ""
    options: tuple[tuple[str, str], ...] = ()
    short: bool = False
    start: str = ""
    of: str = ""


@dataclass(frozen=True)
class Block:
    """Entries under one head. `many` is the word for one of them where it can be repeated (surface, reading), else empty. `fold`: closed on a screen until it is wanted; paper shows it.

    `rest` is (the first entry that a line keeps in a fold of its own, with all behind it; what that fold is called).
    `rows` are the lines that an empty form begins with, each with what stands in it already, by entry.
    """

    name: str
    title: str
    entries: tuple[Entry, ...]
    many: str = ""
    hint: str = ""
    fold: bool = False
    rest: tuple[str, str] = ("", "")
    rows: tuple[dict[str, str], ...] = ({},)

    @property
    def parted(self) -> tuple[tuple[Entry, ...], tuple[Entry, ...]]:
        """The entries of a line that stand open, and those in its fold."""
        at = next((place for place, one in enumerate(self.entries) if one.name == self.rest[0]), len(self.entries))
        return self.entries[:at], self.entries[at:]


@dataclass(frozen=True)
class Form:
    """A record's kind, its blocks, and the scripts and formulas of ours that bring it to life. `title_from` names the entries a record is called by.

    `actions` are keys that make something of a record, shown once there is one; `toggles` change how any is shown.
    `outputs` are (name, title, block after which it stands); `sum_up` keeps one line of the answer at the foot of the screen.
    `daily` names the entry with the day, where a new day begins a new record; `private` the blocks and entries that a customer's print leaves out.
    """

    kind: str
    title: str
    blocks: tuple[Block, ...]
    title_from: tuple[str, ...]
    scripts: tuple[str, ...] = ()
    formulas: tuple[str, ...] = ()
    actions: tuple[tuple[str, str], ...] = ()
    toggles: tuple[tuple[str, str], ...] = ()
    outputs: tuple[tuple[str, str, str], ...] = ()
    sum_up: bool = False
    daily: str = ""
    private: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        names = [entry.name for block in self.blocks if not block.many for entry in block.entries]
        if len(set(names)) < len(names):
            raise ValueError(f"form {self.kind}: an entry is named twice")
        for block in self.blocks:
            inner = [entry.name for entry in block.entries]
            if len(set(inner)) < len(inner):
                raise ValueError(f"form {self.kind}, {block.name}: an entry is named twice")

    @property
    def has_units(self) -> bool:
        """Whether any entry is a figure that US readers see in another unit."""
        return any(entry.unit not in ("", "1", "×", "%", "s") for block in self.blocks for entry in block.entries)
