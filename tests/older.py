"""Folders as `almanac new` wrote them in earlier editions, taken from this repository's history, with a crew's own things in each."""

from __future__ import annotations

import io
import shutil
import subprocess
import tarfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# Editions whose folders differ in what files and columns they hold.
EDITIONS = ("ef0a482", "3c44301", "7eaccfa", "96834d7", "5c0ecf6", "99a3b6d")
_NOT_SHARED = ("kits", "coatings", "recipes", "templates", "handbook.yaml", "coatings.csv")


def there(edition: str) -> bool:
    """Whether the history is here: a shallow copy has none."""
    return subprocess.run(["git", "cat-file", "-e", f"{edition}^{{commit}}"], cwd=ROOT, capture_output=True, check=False).returncode == 0


def folder(edition: str, target: Path) -> Path:
    """The folder that `almanac new` of that edition made."""
    raw = target.with_name(f".{target.name}-raw")
    packed = subprocess.run(["git", "archive", edition, "site_data", "handbook", "mkdocs.yml", "generators/starter/own"], cwd=ROOT, capture_output=True, check=True).stdout
    with tarfile.open(fileobj=io.BytesIO(packed)) as tar:
        tar.extractall(raw, filter="data")
    for name in _NOT_SHARED:
        place = raw / "site_data" / name
        shutil.rmtree(place) if place.is_dir() else place.unlink(missing_ok=True)
    shutil.copytree(raw / "generators/starter/own", raw, dirs_exist_ok=True)
    shutil.rmtree(raw / "generators")
    raw.rename(target)
    return target


def whole(target: Path) -> Path:
    """Today's stock copied into one folder, as the earlier editions did: whole in itself, with nothing under it."""
    own = ROOT / "generators/starter/own"
    shutil.copytree(ROOT / "site_data", target / "site_data", ignore=lambda folder, names: _NOT_SHARED if Path(folder) == ROOT / "site_data" else ())
    shutil.copytree(ROOT / "handbook", target / "handbook")
    shutil.copyfile(ROOT / "mkdocs.yml", target / "mkdocs.yml")
    shutil.copytree(own, target, dirs_exist_ok=True)
    return target


def lived_in(home: Path) -> dict[str, str]:
    """A crew's years with it: {what they wrote: words that must not get lost}."""
    data = home / "site_data"
    page = home / "handbook/mix/thinning.md"
    page.write_text(page.read_text(encoding="utf-8") + "\nWarm the pot on Mondays, says Ada.\n", encoding="utf-8")
    (home / "handbook/our-yard.md").write_text("# Our yard\n\nThe gate code is with Bo.\n", encoding="utf-8")
    tin = (data / "coatings/my-trim-paint.yaml").read_text(encoding="utf-8")
    (data / "coatings/harbour-green.yaml").write_text("# Mixed by the merchant, card 7\n" + tin.replace("My trim paint", "Harbour Green"), encoding="utf-8")
    limits = (data / "limits.yaml").read_text(encoding="utf-8")
    head, _, rest = limits.partition("dew_margin_min:")
    (data / "limits.yaml").write_text(head + "# Bo got caught out twice\ndew_margin_min:" + rest.replace("3 Δ°C", "4 Δ°C", 1), encoding="utf-8")
    words = data / "words.yaml"
    mine = "\nharbour-mix:  # what Ada calls it\n  uk: harbour mix\n  us: harbor mix\n  meaning: Our own green, two to one.\n"
    words.write_text(words.read_text(encoding="utf-8").rstrip("\n") + mine, encoding="utf-8")
    law = data / "law/noise.csv"
    if law.is_file():
        row = "uk,our-yard,our yard,75,dBA,no turbine after six,,,2026-01-05,measured,,\n"
    elif (law := data / "noise_limits.csv").is_file():
        row = "uk,our yard,75,no turbine after six,2026-01-05,measured,\n"
    else:
        law, row = data / "voc_limits.csv", "uk,our-yard,wb,50,no turbine after six,2026-01-05,measured,\n"
    text = law.read_text(encoding="utf-8")
    law.write_text(text.rstrip("\n") + "\n" + row, encoding="utf-8")
    return {"page": "Warm the pot on Mondays", "new page": "The gate code is with Bo", "paint": "Harbour Green", "note on a paint": "Mixed by the merchant",
            "limit": "4 ", "note on a limit": "Bo got caught out twice",
            "word": "harbor mix", "note on a word": "what Ada calls it", "rule": "no turbine after six"}
