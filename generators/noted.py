"""Which facts of which paint a page, a table or a file rests on: noted while it is made, so that after a change only what rests on it need be made anew.

A key is (paint, field of its file) where somebody read the field itself, or (paint, region, name) where the chain looked at a fact that it was told of a paint.
What is worked once and used by many keeps its notes, and hands them on to each that asks for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

T = TypeVar("T")
Key = tuple[str, ...]
STRANGER = "?"  # a tin that was never given a name here: whatever was read of it may have changed

_open: list[set[Key]] = []
_keys: dict[Key, Key] = {}  # each once in memory, in however many notes it stands
_paints: dict[int, str] = {}


def of_paints(coatings: Mapping[str, Any]) -> None:
    """From now on these tins are known by their names."""
    _paints.clear()
    _paints.update({id(tin): slug for slug, tin in coatings.items()})


def read(tin: Any, field: str) -> None:
    """Somebody read a field of a tin."""
    if _open:
        _open[-1].add(_once((_paints.get(id(tin), STRANGER), field)))


def _once(key: Key) -> Key:
    return _keys.setdefault(key, key)


def add(keys: Iterable[Key]) -> None:
    """What is used now rests on these."""
    if _open:
        _open[-1].update(keys)


@contextmanager
def noting() -> Iterator[set[Key]]:
    """What is read inside; whoever is noted outside of it rests on it too."""
    mine = set[Key]()
    _open.append(mine)
    try:
        yield mine
    finally:
        _open.pop()
        add(mine)


@contextmanager
def apart() -> Iterator[None]:
    """What is read inside is noted by nobody: its outcome is compared by value, piece by piece."""
    _open.append(set())
    try:
        yield
    finally:
        _open.pop()


@dataclass(frozen=True)
class Kept:
    """Something worked once, and what it rests on."""

    value: Any
    rests: frozenset[Key]


def kept(make: Callable[[], Any]) -> Kept:
    """What `make` gives, with its notes."""
    with noting() as rests:
        value = make()
    return Kept(value, frozenset(rests))


def once(store: dict[Any, Kept], key: Any, make: Callable[[], Any]) -> Any:
    """What `make` gives, worked once for a store, and rested on by each that asks."""
    if key not in store:
        store[key] = kept(make)
    else:
        add(store[key].rests)
    return store[key].value


class worked_once(Generic[T]):
    """A property that is worked at its first use, and rested on by every user."""

    def __init__(self, method: Callable[[Any], T]) -> None:
        self.method, self.__doc__ = method, method.__doc__

    def __get__(self, owner: Any, kind: Any = None) -> T:
        return once(owner.__dict__.setdefault("_noted", {}), self.method.__name__, lambda: self.method(owner))  # type: ignore[no-any-return]


class Told(dict[str, Any]):
    """Facts by name, of which some are of one paint: whoever looks at one of those rests on it."""

    def __init__(self, facts: Mapping[str, Any], paint: str = "", region: str = "", names: frozenset[str] = frozenset()) -> None:
        dict.update(self, facts)  # as it stands: a copy looks at nothing
        self.paint, self.region, self.names = paint, region, names

    def like(self, facts: Mapping[str, Any]) -> Told:
        """Others under the same names."""
        return Told(facts, self.paint, self.region, self.names)

    def _look(self, name: str) -> None:
        if _open and name in self.names:
            _open[-1].add(_once((self.paint, self.region, name)))

    def _look_at_all(self) -> None:
        if _open:
            _open[-1].update(_once((self.paint, self.region, name)) for name in self.names)

    def __getitem__(self, name: str) -> Any:
        self._look(name)
        return dict.__getitem__(self, name)

    def get(self, name: str, default: Any = None) -> Any:  # type: ignore[override]
        self._look(name)
        return dict.get(self, name, default)

    def __contains__(self, name: object) -> bool:
        self._look(str(name))
        return dict.__contains__(self, name)

    def items(self) -> Any:
        self._look_at_all()
        return dict.items(self)

    def values(self) -> Any:
        self._look_at_all()
        return dict.values(self)
