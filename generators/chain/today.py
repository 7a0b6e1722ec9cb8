"""The day's chain: from what a person knows to every answer. Names and formulas; the sums and limits stand where they are declared."""

from __future__ import annotations

from functools import cache

from generators.chain.known import UNITS
from generators.chain.links import Answer, Case, Chain, Choose, Each, Fold, Lookup, Pick, Step
from generators.situation import READINGS
from generators.table import Rounding
from generators.verdicts import DECLARED

_TIMING = (
    Step("share-by-weight", "thinner-by-volume", {"weight-share": "timings.weight-share", "density": "density-mixed", "thinner-density": "coating.thinner_weight"}),
    Pick("share", "first", ("timings.share", "share-by-weight")),
    Step("viscosity-as-timed", "cup-viscosity", {"time": "timings.time", "cup": "timings.cup"}),
    Step("viscosity", "warmed-viscosity", {"viscosity": "viscosity-as-timed", "temperature": "timings.temperature", "wanted-temperature": "pot-temperature", "viscosity-slope": "slope"}, squares=True),
)
_TWO_TIMINGS = {"first-viscosity": "viscosity-first", "trial-thinner": "share-timed", "trial-viscosity": "viscosity-now", "wanted-viscosity": "viscosity-limit"}
_LAW = {"first-viscosity": "law-first", "trial-thinner": "law-share", "trial-viscosity": "law-last"}
_WANTED, _AFTER = {**_LAW, "wanted-viscosity": "law-wanted"}, {**_LAW, "thinner": "share-next"}
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
    Step("density-base-of", {"volume-mix": "base-of-mix", "weight-mix": "base-of-mix-by-weight"},
         {"ratio": "coating.ratio", "weight-ratio": "coating.ratio", "mix-density": "coating.density", "hardener-density": "coating.hardener_density"}, by="coating.pair"),
    Pick("density-base", "first", ("density-base-of", "coating.density")),
    Step("ratio-by-weight", {"weight-base": "volume-ratio", "weight-mix": "volume-ratio"}, {"weight-ratio": "coating.ratio", "base-density": "density-base", "hardener-density": "coating.hardener_density"}, by="coating.pair"),
    Pick("ratio", "first", ("ratio-by-weight", "coating.ratio")),
    Step("density-of-both", {"volume-base": "mix-density", "weight-base": "mix-density"}, {"ratio": "ratio", "base-density": "coating.density", "hardener-density": "coating.hardener_density"}, by="coating.pair"),
    Pick("density-mixed", "first", ("density-of-both", "coating.density")),
    Fold("temperature-timed", "timings", "temperature", "last"),
    Pick("pot-read", "first", ("paint-temperature", "temperature-timed")),
    Pick("pot-temperature", "likely", ("pot-read",)),
    Pick("slope", "first", ("coating.viscosity_slope", "class.viscosity_slope", "limits.viscosity_slope")),
    Each("timings", _TIMING),
    Fold("viscosity-first", "timings", "viscosity", "first"), Fold("viscosity-now", "timings", "viscosity", "last"), Fold("share-timed", "timings", "share", "last"),
    Fold("cup-used", "timings", "cup", "last"),
    Step("viscosity-limit", "cup-viscosity", {"time": "kit.limit", "cup": "kit.cup"}),
    # What the laws go through: two timings; or one, and a first dose as this paint was measured to thin. Then the watch's error of the one stands in what is wanted.
    Pick("viscosity-began", "likely", ("viscosity-first",)), Pick("viscosity-likely", "likely", ("viscosity-now",)),
    Step("viscosity-learned", {"learned": "viscosity-by-steepness"}, {"first-viscosity": "viscosity-began", "thinner": "limits.first_dose", "steepness": "coating.steepness"}, by="pot-laws"),
    Step("wanted-learned", {"learned": "viscosity-scaled"}, {"viscosity": "viscosity-limit", "wanted": "viscosity-began", "given": "viscosity-first"}, by="pot-laws"),
    Case("law-first", "pot-laws", {"two": "viscosity-first", "learned": "viscosity-began"}), Case("law-last", "pot-laws", {"two": "viscosity-now", "learned": "viscosity-learned"}),
    Case("law-share", "pot-laws", {"two": "share-timed", "learned": "limits.first_dose"}), Case("law-wanted", "pot-laws", {"two": "viscosity-limit", "learned": "wanted-learned"}),
    # Three laws of dilution: the middle one likely, the others the ends. One timing of a paint that nobody measured: how steeply paints thin.
    Step("share-line", {"two": "thinner-by-share-line", "learned": "thinner-by-share-line"}, _WANTED, by="pot-laws", squares=True),
    Step("share-least-law", {"two": "thinner-for-viscosity", "learned": "thinner-for-viscosity"}, _WANTED, by="pot-laws", squares=True),
    Step("share-most-law", {"two": "thinner-by-crowding", "learned": "thinner-by-crowding"}, _WANTED, by="pot-laws", squares=True),
    Step("share-from-one", {"one": "thinner-by-steepness"}, {"first-viscosity": "viscosity-now", "wanted-viscosity": "viscosity-limit", "steepness-by-paint": "limits.thinning_steepness"}, by="pot-laws"),
    Pick("share-now", "first", ("pot.share_now", "share-timed")),
    Step("share-one-timing", {"one": "share-more"}, {"thinner": "share-now", "dose": "share-from-one"}, by="pot-laws"),
    Pick("share-forecast", "hull", ("share-line", "share-least-law", "share-most-law", "share-one-timing")),
    Pick("share-total", "most", ("share-forecast", "share-now")),
    Step("share-seen", "fall-seen", {"thinner": "share-total", "timed": "share-timed", "first-viscosity": "viscosity-began", "trial-viscosity": "viscosity-likely"}),
    Pick("share-low", "low", ("share-seen",)), Pick("share-likely", "likely", ("share-seen",)), Pick("share-high", "high", ("share-seen",)),
    # The next pour: the least that any law and instrument asks for, or a small dose; never past the likely end, what was timed three times over, the label or the law.
    Step("share-trusted", "share-reach", {"timed": "share-timed", "first-dose": "limits.first_dose", "reach": "limits.timing_reach"}),
    Step("share-small", "share-more", {"thinner": "share-now", "dose": "limits.small_dose"}),
    Pick("share-safe", "most", ("share-low", "share-small")),
    Pick("share-aim", "least", ("share-safe", "share-likely", "share-trusted")),
    Step("share-enough", "share-more", {"thinner": "share-aim", "dose": "limits.small_dose"}),
    Pick("label-most", "low", ("coating.thinner_max",)),
    Step("law-most", {"counts": "law-room"}, {"voc": "coating.voc", "thinner-density": "coating.thinner_density", "limit": "coating.voc_limit"}, by="coating.voc_room"),
    Pick("share-step", "least", ("share-aim", "label-most", "law-most")),
    Pick("share-pour", "most", ("share-step", "share-now")),
    Pick("share-next", "first", ("thinner-wanted", "share-pour")),
    Pick("share-sprayed", "first", ("share-next", "coating.thinner_span")),
    Step("half-band", "half-band", {"low": "share-low", "high": "share-high"}),
    Pick("share-reached", "first", ("law-share", "share-timed")),
    Step("share-in-all", "within-reach", {"thinner": "share-seen", "timed": "share-reached", "reach": "limits.timing_reach"}),
    Step("overshoot", "overshoot-chance", {"dose": "share-next", "low": "share-low", "likely": "share-likely", "high": "share-high"}),
    Step("voc-next", "voc-after-thinning", {"voc": "coating.voc", "thinner": "share-next", "thinner-density": "coating.thinner_density"}),
    Pick("share-poured", "most", ("share-next", "share-now")),
    Step("pour", "thinner-to-add", {"litres": "pot-litres", "thinner-now": "share-now", "thinner": "share-poured"}),
    Step("pour-weight", "weight-of", {"volume": "pour", "density": "coating.thinner_weight"}),
    Step("viscosity-line", {"two": "viscosity-by-share-line", "learned": "viscosity-by-share-line"}, _AFTER, by="pot-laws", squares=True),
    Step("viscosity-least-law", {"two": "thinned-viscosity", "learned": "thinned-viscosity"}, _AFTER, by="pot-laws", squares=True),
    Step("viscosity-most-law", {"two": "viscosity-by-crowding", "learned": "viscosity-by-crowding"}, _AFTER, by="pot-laws", squares=True),
    Pick("viscosity-by-law", "hull", ("viscosity-line", "viscosity-least-law", "viscosity-most-law")),
    Step("viscosity-after-learned", {"learned": "viscosity-scaled"}, {"viscosity": "viscosity-by-law", "wanted": "viscosity-first", "given": "viscosity-began"}, by="pot-laws"),
    Case("viscosity-after", "pot-laws", {"two": "viscosity-by-law", "learned": "viscosity-after-learned"}),
    Pick("cup-shown", "first", ("cup", "cup-used")),
    Step("seconds-after", "cup-time", {"viscosity": "viscosity-after", "cup": "cup-shown"}),
    # The way back: thinner than its kind sprays well, or past the label.
    Step("viscosity-thin-end", "cup-viscosity", {"time": "class.thin_time", "cup": "class.thin_cup"}),
    Pick("viscosity-thin-here", "least", ("viscosity-limit", "viscosity-thin-end")),
    Case("viscosity-thinnest", "class.thin_end", {"told": "viscosity-thin-here"}),  # of a kind whose thin end nobody tells, nothing is called too thin
    Pick("thinnest-likely", "likely", ("viscosity-thinnest",)),
    Step("share-thinnest", {"two": "thinner-by-share-line"}, _TWO_TIMINGS | {"wanted-viscosity": "viscosity-thinnest"}, by="pot-laws"),
    Pick("share-thinnest-likely", "likely", ("share-thinnest",)),
    Pick("share-back-allowed", "least", ("label-most", "law-most")),
    Pick("share-back-thin", "least", ("share-back-allowed", "share-thinnest-likely")),
    Pick("share-back", "first", ("share-back-thin", "share-back-allowed")),  # too thin for the cup: at the least what is allowed
    Step("put-back", "paint-to-add", {"litres": "pot-litres", "thinner-now": "share-now", "thinner": "share-back"}),
    # Two-pack: by either scale, and how long it lasts.
    Pick("batch", "first", ("batch-litres", "pot-litres", "limits.batch_usual")),
    Step("hardener-share", {"two-pack": "part-b"}, {"batch": "batch", "ratio": "ratio"}, by="coating.parts"),
    Step("base-share", {"two-pack": "part-a"}, {"batch": "batch", "ratio": "ratio"}, by="coating.parts"),
    Step("hardener-weight", "weight-of", {"volume": "hardener-share", "density": "coating.hardener_density"}),
    Step("base-weight", "weight-of", {"volume": "base-share", "density": "density-base"}),
    Pick("mix-temperature", "first", ("paint-temperature", "air-temperature")),
    Pick("pot-life-sheet-temperature", "first", ("coating.pot_life_at", "limits.sheet_temperature")),
    Pick("pot-life-sample", "first", ("coating.pot_life_of", "limits.sheet_sample")),
    Step("pot-life-band", {"two-pack": "pot-life-at"}, {"pot-life": "coating.pot_life", "sheet-temperature": "pot-life-sheet-temperature", "temperature": "mix-temperature", "rate": "limits.pot_life_rate",
                                                       "batch": "batch", "sample": "pot-life-sample", "self-heating": "limits.self_heating"}, by="coating.parts"),
    Pick("pot-life", "low", ("pot-life-band",)),
    Step("clean-after", {"two-pack": "clean-minutes"}, {"pot-life": "pot-life", "share": "limits.clean_before_pot_life"}, by="coating.parts"),
    Step("clean-by", {"two-pack": "clean-by-time"}, {"start": "mixed-at", "pot-life": "pot-life", "share": "limits.clean_before_pot_life"}, by="coating.parts"),
    Step("time-to-clean", "time-left", {"now": "now", "then": "clean-by"}),
    Step("time-since-mixed", "time-left", {"now": "mixed-at", "then": "now"}),
    # The gun.
    Step("middle", "middle-distance", {"near": "kit.near", "far": "kit.far"}),
    Pick("gun-distance", "first", ("distance", "middle")),
    Step("fan", "fan-width", {"distance": "gun-distance", "fan-angle": "kit.fan_angle"}),
    Lookup("half-height-named", "half-height", {"word": "kit.pattern"}),
    Pick("half-height-read", "likely", ("kit.half_height",)),
    Pick("half-height", "first", ("half-height-read", "half-height-named")),
    Step("spacing", "stroke-spacing", {"fan-width": "fan", "half-height-share": "half-height"}),
    Pick("gun-step", "first", ("step", "spacing")),
    Step("gun-step-share", "step-share", {"step": "gun-step", "fan-width": "fan"}),
    Lookup("evenness-named", "evenness", {"word": "kit.pattern", "at": "gun-step-share"}),
    Pick("step-share-likely", "likely", ("gun-step-share",)),
    Each("places", (Step("film-there", "film-across", {"place": "places.at", "edge": "places.edge", "step-share": "step-share-likely", "half-height-share": "half-height-read"}),)),
    Fold("film-thinnest", "places", "film-there", "least"), Fold("film-thickest", "places", "film-there", "most"),
    Step("evenness-measured", "film-evenness", {"thinnest": "film-thinnest", "thickest": "film-thickest"}),
    Pick("evenness-share", "first", ("evenness-measured", "evenness-named")),
    Step("flow-thinned", "flow-at-viscosity", {"flow": "kit.flow", "limit-viscosity": "viscosity-limit", "viscosity": "viscosity-after", "power": "kit.flow_power"}),
    Pick("gun-flow", "first", ("flow", "flow-thinned", "kit.flow")),
    Pick("landing-fall", "first", ("kit.efficiency_fall", "limits.efficiency_fall")),
    Step("efficiency-there", "efficiency-at-distance", {"transfer-efficiency": "kit.transfer_efficiency", "fall": "landing-fall", "distance": "gun-distance", "middle": "middle"}),
    Pick("efficiency", "least", ("efficiency-there", "surface.lands")),
    Step("solids-mixed", "thinned-solids", {"volume-solids": "coating.volume_solids", "thinner": "share-sprayed"}),
    Step("coverage", "spreading-rate", {"volume-solids": "solids-mixed", "dry-film": "coating.dry_film", "transfer-efficiency": "efficiency"}),
    Step("runs", "runs-times", {"thinner": "share-next", "first-viscosity": "viscosity-first", "viscosity": "viscosity-after"}),
    Step("film-wet", "wet-film", {"dry-film": "coating.dry_film", "volume-solids": "coating.volume_solids", "thinner": "share-sprayed"}),
    # The thinnest film: by the crew's own hand where comb readings were learnt from, else by a trained hand at this step.
    Lookup("low-usual", "hand-low", {"word": "kit.pattern", "at": "step-share-likely"}),
    Lookup("low-spreads", "hand-spreads", {"word": "kit.pattern", "at": "step-share-likely"}, "most"),
    Step("low-measured", "low-share", {"scatter": "kit.hand_scatter", "spreads": "low-spreads"}),
    Pick("low-share", "first", ("low-measured", "low-usual")),
    Step("film-least", "least-film", {"wet-film": "film-wet", "low-share": "low-share"}),
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
_NOT_SO = ("past-label", "asked-past-label", "not-this-kit", "not-by-law", "past-law")
ANSWERS = (
    Answer("allowed", "May it be sprayed at all", "coating.name", ("allowed",), kind="word", gate=False),
    Answer("spray", "May I spray now", "spray-word", ("spray",), kind="word"),
    _figure("pot", "Pour into the pot", "pour", "pot", "mL", 5, "down", "fl oz", 0.25, dash=_NOT_SO),
    _figure("thinner-in-all", "Thinner in all, likely", "share-in-all", "pot", "%", 0.5, "down", dash=_NOT_SO),
    _figure("pour-to", "Pour to, where the label allows it", "share-aim", "dose", "%", 0.5, "down"),
    _figure("in-all-band", "How sure, either way", "half-band", "dose", "%", 0.5, "up"),
    _figure("next-total", "Pour to", "share-pour", "pot", "%", 0.5, "down", dash=_NOT_SO),
    _figure("pour-weight", "Pour, on the scale", "pour-weight", "pot", "g", 1, "down", "oz", 0.1, dash=_NOT_SO),
    _figure("overshoot", "Chance that it ends thinner than wanted", "overshoot", "pot", "%", 1, "up", dash=_NOT_SO),
    _figure("put-back", "Unthinned paint to put back", "put-back", "put-back", "mL", 10, "up", "fl oz", 0.5),
    _figure("solids", "Volume solids of the mix", "solids-mixed", "after-dose", "%", 0.5, "down", dash=("past-label",)),
    _figure("film-after", "Wet film after the dose", "film-wet", "after-dose", "µm", 1, "up", "mil", 0.1, dash=("past-label",)),
    _figure("teeth-after", "Last wet tooth after the dose", "tooth-wet", "after-dose", "µm", 1, "nearest", "mil", 0.1, dash=("past-label",)),
    _figure("dry-tooth-after", "First dry tooth after the dose", "tooth-dry", "after-dose", "µm", 1, "nearest", "mil", 0.1, dash=("past-label",)),
    _figure("covers", "A litre (gallon) of the mix covers", "coverage", "after-dose", "m²/L", 0.1, "down", "ft²/gal", 5, dash=("past-label",)),
    _figure("runs", "Runs, against unthinned", "runs", "after-dose", "×", 0.1, "up", dash=("past-label",)),
    _figure("voc-mixed", "VOC ready to use", "voc-next", "after-dose", "g/L", 1, "up", dash=("past-label",)),
    _figure("keeps", "Minutes that the mix keeps", "pot-life", "mix-warmth", "min", 5, "down", dash=("cold-mix", "hot-mix")),
    _figure("clean-after", "Out of the gun after", "clean-after", "mix-warmth", "min", 5, "down", dash=("cold-mix", "hot-mix")),
    _figure("base", "Base for the batch", "base-share", "allowed", "mL", 1, "nearest", "fl oz", 0.05),
    _figure("hardener", "Hardener for the batch", "hardener-share", "allowed", "mL", 1, "nearest", "fl oz", 0.05),
    _figure("base-weight", "Base, on the scale", "base-weight", "allowed", "g", 1, "nearest", "oz", 0.05),
    _figure("hardener-weight", "Hardener, on the scale", "hardener-weight", "allowed", "g", 1, "nearest", "oz", 0.05),
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
    _figure("least-film", "Thinnest, at 95 places in 100", "film-least", ("pot", "evenness"), "µm", 5, "down", "mil", 0.25, dash=_NOT_SO),
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
    _figure("litres", "Litres (Quarts) through the gun", "litres", "pot", "L", 0.1, "up", "qt", 0.1, dash=_NOT_SO),
    _figure("drift", "Mist lands within", "drift-length", "drift", "m", 1, "up", "ft", 1),
)

_TEXTS = ("coating.name", "coating.hardener", "coating.stop", "coating.family", "coating.voc_rule", "coating.voc_room", "coating.window", "coating.parts", "coating.cup", "coating.mask", "coating.gloves",
          "kit.cup", "kit.pattern", "pot-timed", "comb", "rain", "pot.share_now", "coating.thinner_span", "coating.thinner_weight", "limits.thinning_steepness", "pot-laws", "places", "coating.pair", "class.thin_cup",
          "class.thin_end", "ground.moisture_max", "ground.moisture_good")


@cache
def chain() -> Chain:
    """The day's chain, checked: no name that nothing gives."""
    held = frozenset({*UNITS, *READINGS, *_TEXTS, "timings"})
    return Chain(LINKS, DECLARED, ANSWERS, held, {"timings": ("share", "weight-share", "time", "cup", "temperature"), "places": ("at", "edge")})
