"""A stock page, or one entry of a stock file, made the crew's own."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from generators import layers
from generators.nearest import near
from generators.starter.pieces import blocks, cells, entries, row_text


class NoSuchPage(Exception):
    """Nothing in the stock has that name, or it is theirs already; `lines` tell it. Nothing was written."""

    def __init__(self, *lines: str) -> None:
        self.lines = list(lines)
        super().__init__("\n".join(lines))


def _name(asked: str) -> str:
    """The file's name, however it was called: mix/thinning, mix/thinning.html, limits.yaml, law/lead.csv."""
    asked = asked.strip().replace("\\", "/").removeprefix("./").removesuffix(".html")
    base = layers.stock()
    for name in (asked, f"handbook/{asked}", f"handbook/{asked}.md", f"site_data/{asked}", f"site_data/{asked}.yaml", f"site_data/{asked}.csv"):
        if (base / name).is_file() and ".." not in name.split("/") and name.split("/")[0] in ("handbook", "site_data", "mkdocs.yml"):
            return name
    known = [path.relative_to(base / "handbook").with_suffix("").as_posix() for path in sorted((base / "handbook").rglob("*.md"))]
    known += [path.relative_to(base / "site_data").as_posix() for path in sorted((base / "site_data").rglob("*")) if path.suffix in (".yaml", ".csv")]
    raise NoSuchPage(f"wanted a page or a file of the stock; came {asked!r}; {near(asked, known)}")


def take_over(root: Path, asked: str, chosen: Sequence[str] = ()) -> tuple[str, str]:
    """Copy it into the crew's folder: (the name of the file, what that means). NoSuchPage if not.

    Of a file of named entries or of rows with a key, only the entries chosen: the rest goes on coming from the stock.
    """
    if layers.under(root) is None:
        raise NoSuchPage(f"{root}: wanted a folder that lies over the stock; came one that holds its own copy of everything; `almanac upgrade` carries it over")
    name = _name(asked)
    if layers.below(root, name) is None:
        raise NoSuchPage(f"{name}: wanted a page or a file of the stock; came one of which each crew has its own; write it yourself")
    text, own = (layers.stock() / name).read_text(encoding="utf-8"), root / name
    if layers.joined(name):
        there = blocks(text)
        mine = entries(own.read_text(encoding="utf-8")) if own.is_file() else {}
        made = _add(own, name, chosen, list(there), [there.get(one, "") for one in chosen], mine, f"# Ours, laid over the stock's {name}.\n")
    elif key := layers.key_of(name):
        heads, data, _ = cells(text)
        at = [heads.index(column) for column in key]
        named = {" ".join(row[index] for index in at): row for row in data}
        before = {" ".join(row[index] for index in at): "" for row in cells(own.read_text(encoding="utf-8"))[1]} if own.is_file() else {}
        made = _add(own, name, chosen, list(named), [row_text(named[one]) if one in named else "" for one in chosen], before, row_text(heads) + "\n")
    elif os_there(own):
        raise NoSuchPage(f"{name}: wanted a page that still comes from the stock; came one that is yours already; change it where it lies")
    else:
        own.parent.mkdir(parents=True, exist_ok=True)
        own.write_text(text, encoding="utf-8", newline="\n")
        return name, "it is yours now: what the stock changes there no longer reaches your readers. `almanac upgrade` tells you each time"
    return name, f"yours now: {', '.join(made)}. All else in that file goes on coming from the stock"


def os_there(path: Path) -> bool:
    """True for a file, a folder or a link of that name."""
    return path.exists() or path.is_symlink()


def _add(own: Path, name: str, chosen: Sequence[str], known: Sequence[str], texts: Sequence[str], before: dict[str, str], head: str) -> list[str]:
    if not chosen:
        raise NoSuchPage(f"{name}: wanted which entries of it are to be yours, behind its name; came none; there are: " + ", ".join(f'"{one}"' if " " in one else one for one in known))
    wrong = [f"{name}: wanted an entry of it; came {one!r}; {near(one, known)}" for one in chosen if one not in known]
    wrong += [f"{name}: wanted an entry that still comes from the stock; came {one!r}, which is yours already; change it where it lies" for one in chosen if one in before]
    if wrong:
        raise NoSuchPage(*wrong)
    own.parent.mkdir(parents=True, exist_ok=True)
    text = own.read_text(encoding="utf-8") if own.is_file() else head
    own.write_text(text.rstrip("\n") + "\n" + "\n".join(texts) + "\n", encoding="utf-8", newline="\n")
    return list(chosen)
