"""A paint or a kit of one's own, as a short form: its fields, units and spans are those of the files, from the same models."""

from __future__ import annotations

from typing import Any

from generators.facts import model
from generators.facts.schema import figures
from generators.form import Block, Entry, Form
from generators.pages.forms.parts import SCRIPTS, cups, long, number, pick, text

BASES = (("published", "its data sheet"), ("measured", "I measured it"), ("common practice", "common practice"), ("invented", "invented, to try"))
_PAINT = {"volume_solids": "Solids, by volume", "dry_film": "Dry film wanted", "density": "Density", "voc": "VOC", "thinner_max": "Most thinner, of the paint",
          "air_min": "Coldest air", "air_max": "Warmest air", "humidity_max": "Dampest air", "recoat_after": "Next coat after, at 23 °C (73 °F)",
          "thinner_density": "VOC of the thinner itself, unless it is water"}
_MORE = {"recoat_before": "Next coat before", "nozzle": "Nozzle"}
_PAIR = {"hardener_density": "Density of the hardener", "pot_life": "Pot life", "induction": "Stands before use"}
_KIT = {"pot": "Pot", "fan_angle": "Angle of the fan", "near": "Nearest to the work", "far": "Farthest from the work",
        "flow": "Flow, weighed", "transfer_efficiency": "Lands on a flat panel", "noise": "Noise at the ear"}


def _numbers(kind: Any, labels: dict[str, str]) -> tuple[Entry, ...]:
    fields = figures(kind)
    return tuple(number(name.replace("_", "-"), words, fields[name][0].unit) for name, words in labels.items())


def own_paint(facts: Any) -> Form:
    """Twelve fields from the data sheet; a two-pack's second tin, and what only some sheets say, folded."""
    cup = facts.kits[facts.handbook.default_kit].limit.cup
    classes = tuple((key, kind.us_label if facts.handbook.words == "us" else kind.label) for key, kind in facts.classes.items())
    return Form(
        "own-paint", "A paint of your own",
        (
            Block("paint", "From its data sheet", (
                text("name", "Name"), pick("class", "What kind of paint", classes), *_numbers(model.Coating, _PAINT),
                number("seconds", "As supplied, first break after", "s"), pick("cup", "in this cup", cups(facts), start=cup),
            ), hint="Two parts? Say the hardener below, from the second tin: not said counts as isocyanate, which is a stop."),
            Block("second", "The second tin, of two parts", (
                pick("hardener", "Hardener", (("none", "none"), ("isocyanate", "isocyanate"), ("amine", "amine"), ("acid", "acid"), ("other", "other, not isocyanate"))),
                text("ratio", "Base to hardener, such as 4:1"), *_numbers(model.TwoPack, _PAIR),
            ), fold=True),
            Block("more", "More that some sheets say", (
                text("thin-with", "Thin with"), *_numbers(model.Coating, _MORE), number("trial-thinner", "After thinner", "%"), number("trial-seconds", "first break after", "s"),
                pick("basis", "These figures are from", BASES, start="published"), long("notes", "Notes"),
            ), fold=True),
        ),
        ("name",), (*SCRIPTS, "own-form"), outputs=(("own", "In use", "paint"),),
    )


def own_kit(facts: Any) -> Form:
    """Twelve fields of a turbine, gun and pot."""
    return Form(
        "own-kit", "A kit of your own",
        (
            Block("kit", "Turbine, gun and pot", (
                text("name", "Name"), number("stages", "Stages of the turbine", "1"), number("seconds", "Thickest that it sprays well", "s"),
                pick("cup", "in this cup", cups(facts), start=facts.kits[facts.handbook.default_kit].limit.cup),
                pick("pattern", "Shape of the fan across", (("taper", "thick in the middle, falling evenly"), ("bell", "round, like a bell"), ("flat-core", "flat in the middle"))),
                *_numbers(model.Kit, _KIT), number("nozzle", "Nozzle", "mm"),
            ), hint="Fan, distance and flow: measure them on a test card. Not sure of the shape? The test card page shows all three."),
            Block("more", "More", (pick("basis", "These figures are", BASES[1:], start="measured"), long("notes", "Notes")), fold=True),
        ),
        ("name",), (*SCRIPTS, "own-form"), outputs=(("own", "In use", "kit"),),
    )
