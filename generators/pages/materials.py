"""The bill of materials: what the site ships, and what it was made with, each with its version and licence.

As CycloneDX 1.6 (ECMA-424), so that an auditor's tools read it. No time and no serial number stand in it: the same materials give the same bytes.
"""

from __future__ import annotations

import json
import re
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from typing import Any

from packaging.requirements import Requirement

OURSELVES = "sprayers-almanac"
# What lies in the site as it is, and comes from somebody else: {name: (version or "", licence by SPDX, what it is)}.
SHIPPED = {
    "Atkinson Hyperlegible": ("", "OFL-1.1", "the fonts"),
    "lunr": ("2.3", "MIT", "the search index, within the theme's own script"),
}


def licence_of(found: Distribution) -> str:
    """A package's licence in a few words: its SPDX expression, its classifiers, or the first line of what it says; "" where it says nothing."""
    told: Any = found.metadata  # a message of e-mail's kind, whatever its type says
    if told.get("License-Expression"):
        return str(told["License-Expression"])
    classified = [line.rpartition(" :: ")[2] for line in told.get_all("Classifier") or [] if line.startswith("License ::")]
    classified = [one for one in classified if one != "OSI Approved"]
    first = (told.get("License") or "").strip().splitlines()
    return ", ".join(classified) or (first[0][:80] if first else "")


def made_with() -> dict[str, Distribution]:
    """Every package that this one asks for, and what those ask for, as installed here, by name in order."""
    found: dict[str, Distribution] = {}
    waiting = [OURSELVES]
    while waiting:
        name = re.sub(r"[-_.]+", "-", waiting.pop()).lower()
        if name in found:
            continue
        try:
            found[name] = distribution(name)
        except PackageNotFoundError:  # run from a folder that was never installed
            continue
        asked = [Requirement(line) for line in found[name].requires or []]
        waiting += [one.name for one in asked if one.marker is None or one.marker.evaluate({"extra": ""})]
    return dict(sorted(found.items()))


def bill() -> str:
    """The bill as JSON text."""
    parts: list[dict[str, Any]] = []
    for name, (version, licence, what) in SHIPPED.items():
        parts.append({"type": "library", "name": name, **({"version": version} if version else {}), "description": what, "licenses": [{"license": {"id": licence}}]})
    for name, found in made_with().items():
        if name == OURSELVES:
            continue
        purl, said = f"pkg:pypi/{name}@{found.version}", licence_of(found)
        parts.append({"type": "library", "bom-ref": purl, "name": name, "version": found.version, "purl": purl, **({"licenses": [{"license": {"name": said}}]} if said else {})})
    us = {"component": {"type": "application", "name": OURSELVES, "licenses": [{"license": {"id": "MIT"}}]}}
    return json.dumps({"bomFormat": "CycloneDX", "specVersion": "1.6", "version": 1, "metadata": us, "components": parts}, indent=1, ensure_ascii=False) + "\n"
