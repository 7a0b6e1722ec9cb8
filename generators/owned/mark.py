"""The mark of a folder that we filled: the command, and the name and digest of all that was put there."""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterator
from pathlib import Path

MARK = ".almanac-made.json"
OF_THE_SYSTEM = {".DS_Store", "Thumbs.db", "desktop.ini"}  # laid everywhere by file browsers; carried over


def digest(path: Path) -> str:
    """Sixteen hexadecimal digits. Line ends do not count: a copy by way of git on Windows is still ours."""
    return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()[:16]


def entries(folder: Path) -> Iterator[Path]:
    """Every file and link; links are not followed."""
    for here, folders, files in os.walk(folder):
        place = Path(here)
        yield from (place / name for name in files)
        yield from (place / name for name in folders if (place / name).is_symlink())


def mark(folder: Path, command: str) -> None:
    """Write down what lies in `folder` now as made by `command`."""
    files = {path.relative_to(folder).as_posix(): digest(path) for path in sorted(entries(folder)) if path.name != MARK and path.is_file()}
    (folder / MARK).write_text(json.dumps({"made by": f"almanac {command}", "files": files}, ensure_ascii=False, indent=0) + "\n", encoding="utf-8", newline="\n")


def mark_unfinished(folder: Path) -> None:
    """A folder that is being filled: if we are killed, the next one may take it away."""
    (folder / MARK).write_text('{"made by": "", "files": {}}\n', encoding="utf-8", newline="\n")


def marked(folder: Path) -> tuple[str, dict[str, str | None]] | None:
    """(the command, or "" for one not finished; {path: digest, or None for any}) of a folder that is ours; None for one that is not."""
    try:
        found = json.loads((folder / MARK).read_text(encoding="utf-8"))
        return str(found["made by"]).removeprefix("almanac "), {**found["files"], MARK: None}
    except (OSError, ValueError, KeyError, TypeError):
        pass
    return _marked_before(folder)


def _marked_before(folder: Path) -> tuple[str, dict[str, str | None]] | None:
    """The same for a site of before there were marks: by the list in its sw.js."""
    try:
        text = (folder / "sw.js").read_text(encoding="utf-8")
        listed = re.search(r'^const FILES = (\{.*\});$', text, re.MULTILINE)
        if listed and re.search(r'^const EDITION = "[0-9a-f]{16}";$', text, re.MULTILINE) and "manifest.webmanifest" in (names := json.loads(listed[1])):
            tables = [path.relative_to(folder).as_posix() for path in (folder / "tables").rglob("*.csv")]
            return "build", {**dict.fromkeys([*names, *tables, "sw.js", "_headers", "search/search_index.js", "sitemap.xml", "sitemap.xml.gz", MARK])}
    except (OSError, ValueError):
        pass
    return None


def schemas(folder: Path) -> tuple[str, dict[str, str | None]] | None:
    """The same for site_data/schemas, which bears no mark: a crew keeps it among its sources, and merges it there. What is a schema is ours; the rest are strangers."""
    found = [path.name for path in folder.iterdir() if _is_schema(path)]
    return ("schemas", dict.fromkeys([*found, MARK])) if found else None


def _is_schema(path: Path) -> bool:
    try:
        return bool(json.loads(path.read_text(encoding="utf-8")).get("$schema", "").startswith("https://json-schema.org/"))
    except (OSError, ValueError, AttributeError):
        return False


def strangers(folder: Path, files: dict[str, str | None]) -> list[str]:
    """What lies in a folder of ours and is not ours: new, or changed since."""
    found = []
    for path in entries(folder):
        name = path.relative_to(folder).as_posix()
        if path.name in OF_THE_SYSTEM:
            continue
        if name not in files or path.is_symlink() or not path.is_file():
            found.append(f"{name}, which no build made")
        elif files[name] is not None and digest(path) != files[name]:
            found.append(f"{name}, which was changed since it was built")
    return sorted(found)
