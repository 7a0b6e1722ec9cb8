"""Reads what an audit says, as JSON: `judge.py python|npm FILE`. Exit 1 where something known can be mended by a newer version and is not excused below."""

from __future__ import annotations

import json
import sys
from pathlib import Path

# (package, weakness): why it may stay, and until when. A line past its day counts no more.
EXCUSED: dict[tuple[str, str], tuple[str, str]] = {}


def of_python(told: dict) -> list[tuple[str, str, bool, str]]:
    """(package, weakness, mendable, how) from pip-audit."""
    return [(one["name"], weak["id"], bool(weak["fix_versions"]), "take " + " or ".join(weak["fix_versions"]) if weak["fix_versions"] else "no mended version yet")
            for one in told["dependencies"] for weak in one.get("vulns", ())]


def of_npm(told: dict) -> list[tuple[str, str, bool, str]]:
    """The same from npm."""
    return [(name, f"{one['severity']}: {', '.join(str(via.get('url', via)) if isinstance(via, dict) else via for via in one['via'])}", bool(one["fixAvailable"]),
             "npm has a mended version" if one["fixAvailable"] else "no mended version yet") for name, one in told["vulnerabilities"].items()]


def main() -> int:
    """One line for each weakness."""
    from datetime import date

    kind, path = sys.argv[1], Path(sys.argv[2])
    try:
        told = json.loads(path.read_text(encoding="utf-8"))
        found = of_python(told) if kind == "python" else of_npm(told)
    except (OSError, ValueError, KeyError, TypeError) as error:
        print(f"audit of {kind}: NOT CHECKED: the list of weaknesses could not be read ({type(error).__name__})", file=sys.stderr)
        return 0
    bad = 0
    for name, weakness, mendable, how in found:
        why, until = EXCUSED.get((name, weakness), ("", ""))
        excused = until >= date.today().isoformat()
        bad += mendable and not excused
        print(f"audit of {kind}: {name}: {weakness}; {how}{f'; excused until {until}: {why}' if excused else ''}")
    print(f"audit of {kind}: {len(found)} weaknesses known, {bad} of them to be mended now")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
