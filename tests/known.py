"""Write generators/starter/known.txt anew from the history of this repository: once for each edition, before it goes out.

Every state of every page and fact that was ever committed counts, and the starter's own files too.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from generators.starter.pieces import pieces  # noqa: E402


def git(*arguments: str) -> bytes:
    return subprocess.run(["git", *arguments], cwd=ROOT, capture_output=True, check=True).stdout


def blobs() -> dict[str, str]:
    """{digest of git's: name} of each state."""
    told = git("log", "--format=", "--raw", "--no-abbrev", "--no-renames", "-m", "--", "handbook", "site_data", "mkdocs.yml", "generators/starter/own").decode()
    found = {}
    for line in told.splitlines():
        match = re.match(r":\d+ \d+ \w+ (\w+) \w\t(.+)", line)
        if match and set(match[1]) != {"0"} and match[2].endswith((".md", ".yaml", ".yml", ".csv")):
            found[match[1]] = match[2]
    return found


def main() -> None:
    found: set[str] = set()
    for blob, name in blobs().items():
        found |= pieces(name, git("cat-file", "blob", blob).decode("utf-8"))
    lines = sorted(found)
    text = "\n".join("".join(lines[at : at + 16]) for at in range(0, len(lines), 16)) + "\n"
    (ROOT / "generators/starter/known.txt").write_text(text, encoding="utf-8")
    print(f"{len(lines)} digests of files, entries, rows and notes")


if __name__ == "__main__":
    main()
