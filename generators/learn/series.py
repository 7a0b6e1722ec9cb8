"""Measurements found in the records, and what each of them is fitted to: a figure of a kit, of a paint or of the crew's paces."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd

from generators import units
from generators.learn import fit
from generators.learn.fit import Fit
from generators.quantity import read

# What is read from each line of a log, with the unit it is wanted in.
_WANTED = {"seconds": "s", "thinner": "%", "paint-temperature": "°C", "litres-out": "L", "litres-back": "L", "done": "m²", "first-seconds": "s", "dose": "%", "dose-seconds": "s",
           "pot-before": "g",
           "pot-after": "g", "trigger": "s", "board-before": "g", "board-after": "g", "board-pot": "g", "board-distance": "mm", "fan-place": "mm", "fan-film": "µm", "fan-wide": "mm", "wet-film": "µm"}


@dataclass
class Series:
    """All that was measured with one kit, or of one paint: columns of floats, NaN where nothing was written."""

    rows: pd.DataFrame
    skipped: list[str] = field(default_factory=list)


def _number(text: str, typed_in: str, unit: str) -> float:
    try:
        return float(read(text, typed_in or unit).to(unit).likely)
    except units.UnitError:
        return math.nan


def series(standing: pd.DataFrame) -> Series:
    """One row for each line of each log: its figures, and the kit, paint and cup of its record. What cannot be read is told."""
    if standing.empty:
        return Series(pd.DataFrame())
    kinds = standing[standing["field"] == "~kind"].set_index("record")["text"]
    logs = standing[standing["record"].map(kinds).eq("log")]
    skipped, rows = [], []
    for record, one in logs.groupby("record", sort=True):
        shared = {str(row.field): row for row in one[one["row"] == ""].itertuples()} | {str(row.field): row for row in one.itertuples() if row.field in ("kit", "coating", "cup", "date")}
        for line, cells in one.groupby("row", sort=True):
            found: dict[str, Any] = {"record": record, "row": line, "when": str(cells["when"].min())}
            for cell in cells.itertuples():
                unit = _WANTED.get(str(cell.field))
                if unit is None:
                    continue
                value = _number(str(cell.text), str(cell.unit), unit)
                if math.isnan(value):
                    skipped.append(f"{record}: {cell.field} {cell.text!r} cannot be read as {unit}")
                found[str(cell.field)] = value
            if len(found) > 3:
                for name in ("kit", "coating", "cup"):
                    found[name] = str(shared[name].text) if name in shared else ""
                rows.append(found)
    frame = pd.DataFrame(rows)
    for name in (*_WANTED, "kit", "coating", "cup"):
        if name not in frame:
            frame[name] = "" if name in ("kit", "coating", "cup") else math.nan
    return Series(frame, skipped)


def _viscosity(formulas: Mapping[str, Any], cup: str, seconds: Any) -> Any:
    formula = formulas["cup-viscosity"]
    if cup not in formula.choice.options:
        return np.full(np.shape(seconds), math.nan)
    return formula.column({"cup": cup, "time": np.nan_to_num(np.asarray(seconds, float), nan=0.0)})


def kit_fits(rows: pd.DataFrame, kit: Any, formulas: Mapping[str, Any], density: Any, gap: float = 0.0) -> dict[str, Fit]:
    """Flow at the kit's own limit and its power of viscosity, efficiency and its fall with distance, the fan's half-height share, and how the film
    scatters by hand: readings of one day's log belong together. `gap`: µm from one tooth of the comb to the next.
    """
    found: dict[str, Fit] = {}
    pots = rows[rows["pot-before"].notna() & rows["pot-after"].notna() & rows["trigger"].notna()]
    weighed = [{"weight-lost": one["pot-before"] - one["pot-after"], "density": density(one["coating"]), "time": one["trigger"]} for _, one in pots.iterrows()]
    flows = np.array([float(formulas["flow-by-weight"].column(one)) for one in weighed])
    thick = np.array([float(_viscosity(formulas, one["cup"], one["dose-seconds"] if math.isfinite(one["dose-seconds"]) else one["first-seconds"])) for _, one in pots.iterrows()])
    limit = float(_viscosity(formulas, kit.limit.cup, kit.limit.seconds))
    found["flow"] = fit.at("flow", "mL/min", np.log(thick / limit), flows, 0.0) if len(flows) else fit.ratio("flow", "mL/min", [])
    found["flow_power"] = fit.slope("flow_power", "%", np.log(thick), 100 * np.log(flows), 0.35, "the logs of viscosity", -1.0, 60.0) if len(flows) else fit.ratio("flow_power", "%", [])
    boards = rows[rows["board-before"].notna() & rows["board-after"].notna() & rows["board-pot"].notna()]
    landed = [float(100 * (one["board-after"] - one["board-before"]) / one["board-pot"]) for _, one in boards.iterrows()]
    far = [float(one["board-distance"]) for _, one in boards.iterrows()]
    found["transfer_efficiency"] = fit.ratio("transfer_efficiency", "%", landed, 1.35)
    if np.ptp([one for one in far if math.isfinite(one)] or [0.0]) >= 50:  # boards at two distances: what lands in the middle of the kit's reach, where the chain takes it for
        there = fit.at("transfer_efficiency", "%", [one / 100 for one in far], landed, (kit.near.to("mm") + kit.far.to("mm")) / 200, 1.35)
        found["transfer_efficiency"] = there if there.known else found["transfer_efficiency"]
    found["efficiency_fall"] = fit.slope("efficiency_fall", "%", [one / 100 for one in far], landed, 0.5, "the distances, in 100 mm,", -1.0, 12.0)
    fans = rows[rows["fan-place"].notna() & rows["fan-film"].notna()]
    wide = float(fans["fan-wide"].dropna().iloc[-1]) if fans["fan-wide"].notna().any() else math.nan
    found["half_height"] = fit.half_height("half_height", list(fans["fan-place"]), list(fans["fan-film"]), wide) if math.isfinite(wide) else fit.ratio("half_height", "%", [])
    combed = rows[rows["wet-film"].notna()]
    found["hand_scatter"] = fit.scatter("hand_scatter", [list(some) for _, some in combed.groupby("record")["wet-film"]], gap)
    return found


def coating_fits(rows: pd.DataFrame, formulas: Mapping[str, Any]) -> dict[str, Fit]:
    """How steeply a paint thins, and how its viscosity falls with warmth."""
    doses = rows[rows["first-seconds"].notna() & rows["dose"].notna() & rows["dose-seconds"].notna()]
    steep: list[float] = []
    for _, one in doses.iterrows():
        before, after = (float(_viscosity(formulas, one["cup"], one[name])) for name in ("first-seconds", "dose-seconds"))
        steep.append(float(formulas["steepness-seen"].column({"first-viscosity": before, "viscosity": after, "thinner": one["dose"]})))
    warm = rows[rows["first-seconds"].notna() & rows["paint-temperature"].notna()]
    thick = np.log([float(_viscosity(formulas, one["cup"], one["first-seconds"])) for _, one in warm.iterrows()]) if len(warm) else np.array([])
    fell = sum(math.isfinite(one) for one in steep)
    steepness = fit.ratio("steepness", "1", steep, 1.6)
    if fell < fit.LEAST and fell < len(steep):
        steepness = replace(steepness, why=f"{steepness.why}; {len(steep) - fell} had no thinner in it or ran no faster after it: time the pot as supplied, and again after a dose")
    elif steepness.known and not (steepness.next_low >= 0.5 and steepness.next_high <= 20):
        steepness = replace(steepness, why="they lie where no paint does: look at the doses and the cup")
    slope = fit.slope("viscosity_slope", "1/K", list(warm["paint-temperature"]), list(thick), 5.0, "the paint's temperatures, in °C,", -1.0, 0.02)
    if slope.known and not (slope.low >= -0.03 and slope.high <= 0.12):
        slope = replace(slope, why="it would change faster than any paint does: look at the thermometer and the cup")
    return {"steepness": steepness, "viscosity_slope": slope}


def kit_drift(rows: pd.DataFrame, formulas: Mapping[str, Any], density: Any) -> str:
    """What a flow that moves says about a kit; empty where nothing moves."""
    pots = rows[rows["pot-before"].notna() & rows["pot-after"].notna() & rows["trigger"].notna()].sort_values("when")
    if len(pots) < 6:
        return ""
    flows = [(one["pot-before"] - one["pot-after"]) / density(one["coating"]) / one["trigger"] for _, one in pots.iterrows()]
    moved = fit.drift(range(len(flows)), flows)
    if not moved:
        return ""
    way = "more" if moved > 0 else "less"
    cause = "a worn nozzle or needle lets more through" if moved > 0 else "a tired turbine, a clogged filter or a dirty nozzle lets less through"
    return f"the last pots flow {abs(math.expm1(moved)):.0%} {way} than those before: {cause}. Look at the kit before writing this down."
