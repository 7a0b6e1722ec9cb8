"""Plausible data sheets by the hundred: a paint is made up from its parts, and its sheet follows from them, as a maker's laboratory would have it.

The oracle is the recipe: volumes of solids, solvent and water that fill a litre, each with its own density. Nothing of the project's
relations is used. Figures are then rounded and written as sheets write them, in either system of units.
Densities of parts and usual films are common practice, no source.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable

CLASSES = {  # family, classes, (solids by volume), (density of solids), (VOC share of the volume), (density of solvent), dry film µm, thinner
    "water": (("waterborne-trim-enamel", "wall-matt", "waterborne-primer", "opaque-stain", "masonry"), (0.30, 0.46), (1.35, 2.3), (0.004, 0.09), (0.93, 1.03), (24, 48), "water"),
    "clear": (("waterborne-clear",), (0.26, 0.36), (1.08, 1.2), (0.03, 0.1), (0.93, 0.98), (18, 35), "water"),
    "stain": (("thin-stain",), (0.10, 0.25), (1.1, 1.4), (0.01, 0.07), (0.93, 0.98), (6, 18), "water"),
    "alkyd": (("alkyd-enamel",), (0.48, 0.66), (1.25, 1.9), None, (0.77, 0.80), (28, 45), "white spirit"),
    "metal": (("metal-primer",), (0.42, 0.58), (1.7, 2.6), None, (0.78, 0.87), (35, 60), "white spirit"),
    "shellac": (("shellac-primer",), (0.22, 0.36), (1.4, 2.4), None, (0.79, 0.80), (20, 35), "denatured alcohol"),
    "epoxy": (("two-pack-epoxy",), (0.48, 0.75), (1.5, 2.4), None, (0.83, 0.90), (45, 120), "epoxy thinner"),
    "oil": (("oil-finish",), (0.35, 0.9), (0.93, 1.05), None, (0.76, 0.80), (6, 20), "white spirit"),
    "lime": (("mineral",), (0.16, 0.4), (2.0, 2.5), (0.0005, 0.01), (0.95, 1.0), (20, 60), "water"),
}


def _pick(chance: random.Random, span: tuple[float, float]) -> float:
    return chance.uniform(*span)


def _percent(chance: random.Random, share: float) -> str:
    whole = round(share * 100)
    return chance.choice([f"{whole} %", f"{whole}%", f"{whole} ± 2 %", f"{share * 100:.1f} %", f"{whole} percent", f"{whole - 1}–{whole + 1} %", f"{share * 100:.1f}".replace(".", ",") + " %"])


def _density(chance: random.Random, kg: float) -> str:
    return chance.choice([f"{kg:.2f} kg/L", f"{kg:.2f} g/cm³", f"{kg:.2f} ± 0.05 kg/L", f"{kg * 8.3454:.1f} lb/gal", f"{kg * 8.3454:.2f} lbs/gal", f"{kg * 1000:.0f} g/L"])


def _voc(chance: random.Random, grams: float) -> str:
    return chance.choice([f"{grams:.0f} g/L", f"<{math.ceil(grams / 5 + 0.01) * 5} g/L", f"max. {math.ceil(grams) + 1} g/L", f"{grams / 119.826:.2f} lb/gal"])


def _film(chance: random.Random, microns: float) -> str:
    return chance.choice([f"{microns:.0f} µm", f"{microns:.0f} microns", f"{microns - 4:.0f}–{microns + 4:.0f} µm", f"{microns / 25.4:.1f} mils"])


def _degrees(chance: random.Random, celsius: float) -> str:
    return chance.choice([f"{celsius:.0f} °C", f"{celsius * 1.8 + 32:.0f} °F", f"{celsius:.0f}C", f"{celsius * 1.8 + 32:.0f}F"])


def _hours(chance: random.Random, hours: float) -> str:
    return chance.choice([f"{hours:.0f} h", f"{hours:.0f} hours", f"{hours:.0f}-{hours + 2:.0f} hours", f"{hours * 60:.0f} min"])


def _times(chance: random.Random, kinematic: float) -> tuple[str, float] | None:
    """A time in a cup that reads this viscosity: the standards' own laws, written down here anew (ASTM D1200, ISO 2431, ASTM D4212)."""
    cups: list[tuple[str, Callable[[float], float], float, float]] = [
        ("ford-4", lambda t: 3.85 * (t - 4.49), 20, 100), ("iso-4", lambda t: 1.37 * t - 200 / t, 30, 100), ("iso-6", lambda t: 6.9 * t - 570 / t, 30, 100), ("zahn-2", lambda t: 3.5 * (t - 14), 20, 80)]
    fits = []
    for name, law, low, high in cups:
        a, b = low, high
        if law(a) <= kinematic <= law(b):
            for _ in range(50):
                a, b = ((a + b) / 2, b) if law((a + b) / 2) < kinematic else (a, (a + b) / 2)
            fits.append((name, a))
    return chance.choice(fits) if fits else None


def sheet(seed: int) -> str:
    """One coating file, as a careful reader of an honest sheet would write it."""
    chance = random.Random(seed)
    kind = chance.choice(list(CLASSES))
    classes, solids_span, heavy, voc_span, solvent_span, film_span, thinner = CLASSES[kind]
    solids, heavy_solids, solvent = _pick(chance, solids_span), _pick(chance, heavy), _pick(chance, solvent_span)
    spirit = _pick(chance, voc_span) if voc_span else 1 - solids
    water = 1 - solids - spirit if voc_span else 0.0
    density, voc, film = solids * heavy_solids + spirit * solvent + water * 0.998, spirit * solvent * 1000, _pick(chance, film_span)
    recoat = {"shellac": chance.choice([1, 1, 2]), "alkyd": chance.choice([6, 12, 16, 24]), "metal": chance.choice([4, 6, 12, 16]), "lime": chance.choice([12, 24]), "oil": chance.choice([4, 8, 12, 24]),
              "epoxy": chance.choice([4, 6, 8, 12])}.get(kind, chance.choice([2, 3, 4, 5, 6]))
    most = {"lime": 30, "stain": 0, "oil": 0}.get(kind, chance.choice([5, 10, 10, 15]))
    lines = [f"name: Plausible {kind} {seed}", "basis: invented", f"class: {chance.choice(classes)}", f"volume_solids: {_percent(chance, solids)}", f"dry_film: {_film(chance, film)}",
             f"density: {_density(chance, density)}", f"voc: {_voc(chance, voc)}", f"thin_with: {thinner if most else 'nothing'}", "thinner_density: " + ("0 g/L" if thinner == "water" or not most else f"{solvent * 1000:.0f} g/L"),
             f"thinner_max: {chance.choice([f'{most} %', f'up to {most} %', f'max. {most} %']) if most else '0 %'}", f"air_min: {_degrees(chance, chance.choice([5, 7, 8, 10, 12]))}", f"air_max: {_degrees(chance, chance.choice([25, 28, 30, 35]))}",
             f"humidity_max: {chance.choice([60, 65, 75, 80, 85])} %", f"recoat_after: {_hours(chance, recoat)}", f"nozzle: {chance.choice([0.8, 1.0, 1.2] if kind in ('stain', 'oil', 'clear') else [1.3, 1.4, 1.5, 1.8]):g} mm", "uses: [trim]"]
    if chance.random() < 0.5:
        lines.append(f"mass_solids: {_percent(chance, solids * heavy_solids / density)}")
    if chance.random() < 0.4 and kind not in ("stain", "oil"):
        lines.append(f"coverage: {chance.choice([0.7, 0.8, 1.0]) * 1000 * solids / film:.1f} m²/L")
    if chance.random() < 0.4:
        lines.append(f"wet_film: {film / solids:.0f} µm")
    if water > 0.2 and voc > 15 and chance.random() < 0.5:
        lines[6] = f"voc: {voc:.0f} g/L"
        lines.append(f"voc_less_water: {voc / (1 - water):.0f} g/L")
    if chance.random() < 0.4:
        lines.append(f"touch_dry: {max(0.25, recoat / 4):g} h")
    if chance.random() < 0.3:
        lines.append(f"cured_after: {chance.choice([7, 14, 21])} days")
    if chance.random() < 0.3:
        lines.append(f"recoat_before: {recoat * 8:g} h")
    thick, dose = _pick(chance, (90, 320)), 0.05
    first = _times(chance, thick) if kind not in ("stain", "oil") else None
    if first and most >= 5:
        lines.append(f"supplied: {first[1]:.0f} s in {first[0]}")
        then = _times(random.Random(seed), thick * math.exp(-dose * _pick(chance, (3.5, 9))))
        if then:
            lines.append(f"trial: {{thinner: 5 %, time: {then[1]:.0f} s in {then[0]}}}")
    if kind == "epoxy":
        lines += ["hardener: amine", f'two_pack: {{ratio: "{chance.choice(["4:1", "3:1", "1:1", "5:1"])}", hardener_density: 0.98 kg/L, induction: {chance.choice([5, 15, 30])} min, pot_life: {chance.choice([1, 2, 4, 8])} h}}']
    if kind in ("alkyd", "metal", "oil") and chance.random() < 0.6:
        lines.append(f"sds: {{date: 2025-03-01, codes: [H226, H336], flash_point: {chance.choice([38, 40, 45])} °C, solvents: [{{name: White spirit, share: 25–50 %}}]}}")
    return "\n".join(lines) + "\n"
