"""The day's chain: from what a person knows to every answer. Names and formulas; the sums and limits stand where they are declared."""

from __future__ import annotations

from functools import cache

from generators.chain.known import UNITS
from generators.chain.links import Answer, Chain, Choose, Each, Fold, Lookup, Pick, Step
from generators.situation import READINGS
from generators.table import Rounding
from generators.verdicts import DECLARED

_TIMING = (
    Step("share-by-weight", "thinner-by-volume", {"weight-share": "timings.weight-share", "density": "coating.density", "thinner-density": "coating.thinner_weight"}),
    Pick("share", "first", ("timings.share", "share-by-weight")),
    Step("viscosity-as-timed", "cup-viscosity", {"time": "timings.time", "cup": "timings.cup"}),
    Step("viscosity-as-it-is", "warmed-viscosity", {"viscosity": "viscosity-as-timed", "temperature": "timings.temperature", "wanted-temperature": "paint-temperature", "viscosity-slope": "class.viscosity_slope"}),
    Pick("viscosity", "first", ("viscosity-as-it-is", "viscosity-as-timed")),
)
_AIR = {"air-temperature": "air-temperature", "relative-humidity": "relative-humidity"}

LINKS = (
    # Air and surface.
    Step("dew-point", "dew-point", _AIR),
    Step("margin", "dew-margin", {**_AIR, "surface-temperature": "surface-temperature"}),
    Step("dew-lowest", "warmer-by", {"temperature": "dew-point", "difference": "coating.margin_needed"}),
    Pick("lowest-surface", "most", ("dew-lowest", "coating.air_min")),
    Step("lowest-surface-room", "warmer-by", {"temperature": "lowest-surface", "difference": "limits.surface_slack"}),
    Step("surface-max", "warmer-by", {"temperature": "coating.air_max", "difference": "limits.surface_over_air"}),
    Step("air-edge-low", "warmer-by", {"temperature": "coating.air_min", "difference": "limits.air_edge"}),
    Step("air-edge-high", "colder-by", {"temperature": "coating.air_max", "difference": "limits.air_edge"}),
    Step("stretch", {"waterborne": "drying-stretch", "mineral": "drying-stretch", "solvent": "cure-stretch", "oil": "cure-stretch", "two-pack": "cure-stretch"}, _AIR, by="coating.family"),
    # Warmth never makes a coat earlier than the data sheet says, and cold never makes its window later.
    Pick("stretch-later", "most", ("stretch", "limits.sheet_stretch")),
    Pick("stretch-sooner", "least", ("stretch", "limits.sheet_stretch")),
    Step("coat-wait", "stretched-wait", {"hours": "coating.recoat_after", "stretch": "stretch-later"}),
    Step("coat-window", "stretched-wait", {"hours": "coating.recoat_before", "stretch": "stretch-sooner"}),
    Step("coat-earliest-at", "time-after", {"start": "last-coat-at", "wait": "coat-wait"}),
    Step("coat-latest-at", "time-after", {"start": "last-coat-at", "wait": "coat-window"}),
    Step("rain-left", "time-left", {"now": "now", "then": "rain-at"}),
    Pick("dry-before-rain", "most", ("coat-wait", "limits.rain_lead")),
    # The pot.
    Each("timings", _TIMING),
    Fold("viscosity-first", "timings", "viscosity", "first"), Fold("viscosity-now", "timings", "viscosity", "last"), Fold("share-timed", "timings", "share", "last"),
    Fold("cup-used", "timings", "cup", "last"),
    Step("viscosity-limit", "cup-viscosity", {"time": "kit.limit", "cup": "kit.cup"}),
    Step("share-two-timings", "thinner-for-viscosity", {"first-viscosity": "viscosity-first", "trial-thinner": "share-timed", "trial-viscosity": "viscosity-now", "wanted-viscosity": "viscosity-limit"}),
    Step("share-one-timing", "thinner-by-steepness", {"first-viscosity": "viscosity-first", "wanted-viscosity": "viscosity-limit", "steepness": "limits.thinning_steepness"}),
    Pick("share-forecast", "first", ("share-two-timings", "share-one-timing")),
    Pick("share-now", "first", ("pot.share_now", "share-timed")),
    Pick("share-total", "most", ("share-forecast", "share-now")),
    Pick("share-step", "least", ("share-total", "coating.thinner_max", "pot.first_dose")),
    Pick("share-next", "first", ("thinner-wanted", "share-step")),
    Pick("share-sprayed", "first", ("share-next", "coating.thinner_span")),
    Step("voc-next", "voc-after-thinning", {"voc": "coating.voc", "thinner": "share-next", "thinner-density": "coating.thinner_density"}),
    Step("pour", "thinner-to-add", {"litres": "pot-litres", "thinner-now": "share-now", "thinner": "share-next"}),
    Step("viscosity-after", "thinned-viscosity", {"first-viscosity": "viscosity-first", "trial-thinner": "share-timed", "trial-viscosity": "viscosity-now", "thinner": "share-next"}),
    Pick("cup-shown", "first", ("cup", "cup-used")),
    Step("seconds-after", "cup-time", {"viscosity": "viscosity-after", "cup": "cup-shown"}),
    Pick("mix-temperature", "first", ("paint-temperature", "air-temperature")),
    Step("pot-life", {"two-pack": "pot-life-now"}, {"pot-life": "coating.pot_life", "sheet-temperature": "limits.sheet_temperature", "temperature": "mix-temperature"}, by="coating.parts"),
    Step("clean-by", {"two-pack": "clean-by-time"}, {"start": "mixed-at", "pot-life": "pot-life", "share": "limits.clean_before_pot_life"}, by="coating.parts"),
    Step("time-to-clean", "time-left", {"now": "now", "then": "clean-by"}),
    Step("time-since-mixed", "time-left", {"now": "mixed-at", "then": "now"}),
    # The gun.
    Step("middle", "middle-distance", {"near": "kit.near", "far": "kit.far"}),
    Pick("gun-distance", "first", ("distance", "middle")),
    Step("fan", "fan-width", {"distance": "gun-distance", "fan-angle": "kit.fan_angle"}),
    Lookup("half-height", "half-height", {"word": "kit.pattern"}),
    Step("spacing", "stroke-spacing", {"fan-width": "fan", "half-height-share": "half-height"}),
    Pick("gun-step", "first", ("step", "spacing")),
    Step("gun-step-share", "step-share", {"step": "gun-step", "fan-width": "fan"}),
    Lookup("evenness-share", "evenness", {"word": "kit.pattern", "at": "gun-step-share"}),
    Pick("gun-flow", "first", ("flow", "kit.flow")),
    Pick("efficiency", "least", ("kit.transfer_efficiency", "surface.lands")),
    Step("film-wet", "wet-film", {"dry-film": "coating.dry_film", "volume-solids": "coating.volume_solids", "thinner": "share-sprayed"}),
    Step("speed-wanted", "gun-speed", {"flow": "gun-flow", "transfer-efficiency": "efficiency", "wet-film": "film-wet", "stroke-spacing": "gun-step"}),
    Pick("stroke", "first", ("stroke-length", "limits.stroke_length")),
    Step("stroke-seconds", "stroke-seconds", {"length": "stroke", "gun-speed": "speed-wanted"}),
    Step("beat", "stroke-beat", {"gun-speed": "speed-wanted", "stroke-length": "stroke", "turn": "limits.turn_time"}),
    Lookup("tooth-wet", "comb", {"word": "comb", "at": "film-wet"}),
    Lookup("tooth-dry", "comb-next", {"word": "comb", "at": "film-wet"}),
    Step("litres", "paint-for-area", {"area": "area", "wet-film": "film-wet", "transfer-efficiency": "efficiency"}),
    # The room.
    Step("spraying", "pot-minutes", {"pot": "pot-litres", "flow": "gun-flow"}),
    Pick("room-mixing", "first", ("mixing", "limits.room_mixing")),
    Step("voc-mix", "voc-after-thinning", {"voc": "coating.voc", "thinner": "share-sprayed", "thinner-density": "coating.thinner_density"}),
    Step("vapour", "room-vapour", {"paint": "pot-litres", "voc": "voc-mix", "spraying": "spraying", "volume": "room-volume", "air-changes": "air-changes", "mixing": "room-mixing"}),
    Step("vapour-share", "explosive-share", {"concentration": "vapour", "explosive-limit": "coating.solvent_lel", "molar-mass": "coating.solvent_molar_mass", "temperature": "air-temperature"}),
    Step("mist", "mist-level", {"flow": "gun-flow", "solids": "limits.mist_solids", "transfer-efficiency": "efficiency", "airborne": "limits.mist_airborne", "spraying": "spraying", "volume": "room-volume",
                                "air-changes": "air-changes", "mixing": "room-mixing"}),
    Step("mist-factor", "protection-needed", {"concentration": "mist", "limit": "region.mist_limit"}),
    Step("clear-after", "clearing-time", {"air-changes": "air-changes", "removal": "limits.clearing", "mixing": "room-mixing"}),
    Step("droplet-fall", "settling-speed", {"droplet-diameter": "limits.droplet", "density": "limits.droplet_density"}),
    Step("drift-length", "drift-distance", {"settling-speed": "droplet-fall", "height": "limits.drift_height", "wind": "wind"}),
    Choose("spray-word", (((("place", "outdoors"),), "outdoors"),), "indoors"),
)


def _figure(name: str, title: str, shows: str, verdict: str | tuple[str, ...], metric: str, step: float, side: str, us: str = "", us_step: float = 0.0, dash: tuple[str, ...] = ()) -> Answer:
    """A number on its round steps, metric and US."""
    return Answer(name, title, shows, (verdict,) if isinstance(verdict, str) else verdict, (metric, Rounding(side, step)), (us or metric, Rounding(side, us_step or step)), dash=dash)


# Where the paint cannot be sprayed so, no figure for spraying it is told.
_NOT_SO = ("past-label", "not-this-kit", "past-law")
ANSWERS = (
    Answer("allowed", "May it be sprayed at all", "coating.name", ("allowed",), kind="word", gate=False),
    Answer("spray", "May I spray now", "spray-word", ("spray",), kind="word"),
    _figure("pot", "Pour into the pot", "pour", "pot", "mL", 5, "down", "fl oz", 0.25, dash=_NOT_SO),
    _figure("distance", "Gun to work", "gun-distance", "distance", "mm", 5, "nearest", "in", 0.25),
    _figure("fan", "Fan", "fan", "distance", "mm", 5, "nearest", "in", 0.25),
    _figure("step", "Step", "gun-step", ("evenness", "distance"), "mm", 5, "down", "in", 0.25),
    _figure("evenness", "Thinnest of thickest", "evenness-share", ("evenness", "distance"), "%", 1, "down"),
    _figure("speed", "Gun speed", "speed-wanted", ("speed", "distance"), "m/s", 0.01, "nearest", "in/s", 0.5),
    _figure("beat", "Strokes a minute", "beat", ("speed", "distance"), "1/min", 1, "nearest"),
    _figure("stroke-seconds", "Seconds for a stroke", "stroke-seconds", ("speed", "distance"), "s", 0.1, "nearest"),
    _figure("wet-film", "Wet film", "film-wet", "pot", "µm", 5, "nearest", "mil", 0.25, dash=_NOT_SO),
    _figure("teeth", "Last wet tooth", "tooth-wet", "pot", "µm", 1, "nearest", "mil", 0.5, dash=_NOT_SO),
    _figure("dry-tooth", "First dry tooth", "tooth-dry", "pot", "µm", 1, "nearest", "mil", 0.5, dash=_NOT_SO),
    _figure("margin", "Surface over the dew point", "margin", "spray", "Δ°C", 0.5, "down", "Δ°F", 1),
    _figure("lowest-surface", "Coldest surface", "lowest-surface", "surface-room", "°C", 0.5, "up", "°F", 1),
    _figure("seconds-after", "Cup time after the dose", "seconds-after", "after-dose", "s", 1, "up", dash=_NOT_SO),
    Answer("next-coat", "Next coat", "coat-earliest-at", ("next-coat",), kind="time", until=("coat-latest-at",)),
    _figure("coat-wait", "Hours to the next coat", "coat-wait", "drying", "h", 0.5, "up", dash=("cold", "hot", "damp")),
    _figure("pot-life", "Pot life", "pot-life", "pot-life", "min", 5, "down"),
    Answer("clean-by", "Out of the gun by", "clean-by", ("pot-life",), kind="time", until=("clean-by",)),
    Answer("mask", "Mask", "coating.mask", ("mask",), kind="word", gate=False),
    Answer("gloves", "Gloves", "coating.gloves", ("allowed",), kind="word", gate=False),
    _figure("room-air", "Of what burns", "vapour-share", "room-air", "%", 0.1, "up"),
    _figure("clear-after", "Mask on, others out, for", "clear-after", "room-air", "min", 5, "up"),
    _figure("litres", "Litres through the gun", "litres", "pot", "L", 0.1, "up", "qt", 0.1, dash=_NOT_SO),
    _figure("drift", "Mist lands within", "drift-length", "drift", "m", 1, "up", "ft", 1),
)

_TEXTS = ("coating.name", "coating.hardener", "coating.stop", "coating.family", "coating.voc_rule", "coating.voc_room", "coating.window", "coating.parts", "coating.cup", "coating.mask", "coating.gloves",
          "kit.cup", "kit.pattern", "pot-timed", "comb", "rain", "pot.share_now", "pot.first_dose", "coating.thinner_span", "coating.thinner_weight", "limits.thinning_steepness",
          "ground.moisture_max", "ground.moisture_good")


@cache
def chain() -> Chain:
    """The day's chain, checked: no name that nothing gives."""
    held = frozenset({*UNITS, *READINGS, *_TEXTS, "timings"})
    return Chain(LINKS, DECLARED, ANSWERS, held, {"timings": ("share", "weight-share", "time", "cup", "temperature")})
