"""The press for paper: a page makes the same calls, values are kept as they are, and only a mark stands in the Markdown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generators import render


@dataclass(frozen=True)
class Kept:
    """One value that a page asked for: what it is (`kind`), the value, and what the call said of it."""

    kind: str
    value: Any
    said: dict[str, Any]


class Press:
    """Stands in for `generators.render` behind the desk. `kept` grows by one with each call; the mark is its place."""

    one_system = True  # a book is in its region's units: the other system's twins are not even worked

    def __init__(self) -> None:
        self.kept: list[Kept] = []

    def _keep(self, kind: str, value: Any, **said: Any) -> str:
        self.kept.append(Kept(kind, value, said))
        return f'<div data-kept="{len(self.kept) - 1}"></div>'

    def html(self, shown: Any) -> str:
        """A Table, a TextTable or a Chart."""
        return self._keep("shown", shown)

    def formula_html(self, formula: Any, worked: Any, source: Any = None, system: str = "metric") -> str:
        """A formula with its example."""
        return self._keep("formula", formula, worked=worked, source=source, system=system)

    def live_html(self, formula: Any, *_: Any, **__: Any) -> str:
        """Keys have no place on paper: what stays is where to work it by hand."""
        return self._keep("live", formula)

    def stop_html(self, stop: Any) -> str:
        """A hard stop."""
        return self._keep("stop", stop)

    def signs_html(self, codes: tuple[str, ...]) -> str:
        """Safety signs by code."""
        return self._keep("signs", codes)

    def plan_svg(self, name: str, title: str, plan: Any) -> str:
        """The strokes on a surface."""
        return self._keep("picture", render.plan_svg(name, title, plan), width=0.55)

    def fault_svg(self, name: str, title: str, drawing: Any) -> str:
        """A fault from the front and cut through."""
        return self._keep("picture", render.fault_svg(name, title, drawing), width=0.62)

    def form_html(self, form: Any, system: str, coin: str) -> str:
        """A record to fill in."""
        return self._keep("form", form, system=system, coin=coin)

    def origin_html(self, origin: Any, source: Any = None) -> str:
        """Where a value comes from."""
        return self._keep("origin", origin, source=source)
