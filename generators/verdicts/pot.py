"""The pot: thin enough, never past the label, and how long it lasts."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict

_PRACTICE = Origin(Basis.COMMON)

LAW = Test("past-law", "voc-next", ">", "coating.voc_limit", "stop", "With {share-next} thinner it holds {voc-next} VOC; the law allows {coating.voc_limit} for its category.", "Less thinner: warm the paint, or take the other kit.", "stop",
           when=(("coating.voc_room", "counts"),), spare=True)

# Thinner was poured in: unthinned paint can thin it back. Where none was, nothing in the tin can.
_THINNED, _AS_SUPPLIED = (("pot-timed", "twice"),), (("pot-timed", "sheet once"),)
AS_SUPPLIED = Test("thin-as-supplied", "viscosity-likely", "<", "thinnest-likely", "care", "Thinner than its kind sprays well, and nobody has thinned it: it will run.",
                   "Read the tin and time it again. Cooler paint is thicker; a smaller nozzle and lighter coats lay less of it. Never thicken it.", when=_AS_SUPPLIED, spare=True)

pot = Verdict(
    "pot", "What to do to the paint", "Is it thin enough for this kit, inside its label?",
    tests=(
        Test("past-label", "share-now", ">", "coating.thinner_max", "stop", "There is {share-now} thinner in it; its label allows {coating.thinner_max}.", "Do not spray it: the film and the law both fail. Add unthinned paint of the same batch."),
        LAW,
        Test("not-this-kit", "share-low", ">", "coating.thinner_max", "stop", "Not with this kit: it needs {share-low} thinner at the least, and {coating.thinner_max} is allowed.", "Warm the paint (water bath, lid loose, no flame, never mixed two-pack), or take the other kit."),
        Test("not-by-law", "share-low", ">", "law-most", "stop", "It needs {share-low} thinner at the least; the VOC limit of its category leaves room for {law-most}.", "Warm the paint, or take the other kit: the law gives no more.", spare=True),
        Test("perhaps-not", "share-likely", ">", "coating.thinner_max", "care", "It likely needs {share-likely} thinner, and {coating.thinner_max} is allowed: it may stay too thick.", "Warm it first, then time it again."),
        Test("asked-past-label", "share-next", ">", "coating.thinner_max", "stop", "{share-next} thinner is asked for; its label allows {coating.thinner_max}.", "Never past the label: warm the paint, or take the other kit."),
        Test("too-thin", "viscosity-likely", "<", "thinnest-likely", "care", "Thinner than its kind sprays well: it will run. {put-back} unthinned paint brings it back.", "Put unthinned paint of the same batch back, stir, and time it again.", when=_THINNED, spare=True),
        AS_SUPPLIED,
        Test("too-thick", "viscosity-now", ">", "viscosity-limit", "care", "Still too thick for this kit: pour, stir, wait, and time it again.", "Pour the dose, stir, wait for the bubbles, time it again."),
        Test("not-timed", "pot-timed", "is", "sheet", "care", "Nobody has timed this pot: these are the data sheet's figures.", "Time it in the cup."),
        Test("cup-refused", "coating.cup", "is", "refused", "care", "A cup means nothing for this paint.", "Spray a test card, and judge by that."),
    ),
    origin=_PRACTICE, go="Thin enough for this kit.", notes=("Seconds stand in the cup named; the model is a forecast until the cup has spoken.",),
)
dose = Verdict(
    "dose", "One pour, or two", "Is this pour likely to be the last?",
    tests=(
        Test("thick-still", "share-likely", ">", "share-enough", "care", "It likely needs {share-likely} in all: this pour is the part that no law and no watch calls too much.", "Pour it, stir, wait, and time it again."),
    ),
    origin=_PRACTICE, go="Likely the last pour. Time it again all the same.", notes=("The label and the law come first: this knows neither.",),
)
after_dose = Verdict(
    "after-dose", "After the dose", "Will it be thin enough then, inside its label?",
    tests=(
        Test("past-label", "share-next", ">", "coating.thinner_max", "stop", "{share-next} thinner is asked for; its label allows {coating.thinner_max}: past the data sheet's maximum thinner.", "Never past the label: warm the paint, or take the other kit."),
        LAW,
        Test("still-thick", "viscosity-after", ">", "viscosity-limit", "care", "Still too thick for this kit.", "Another dose, inside the label."),
        Test("sheet-only", "pot-timed", "is", "sheet", "care", "Nobody has timed this pot: these are the data sheet's figures.", "Time it in the cup."),
    ),
    origin=_PRACTICE, go="Thin enough for this kit.", notes=("A forecast: add, stir, wait, and time it again.",),
)
back = Verdict(
    "put-back", "The way back", "Is there so much thinner in it that unthinned paint has to go back?",
    tests=(
        Test("past-label", "share-now", ">", "coating.thinner_max", "stop", "There is {share-now} thinner in it; its label allows {coating.thinner_max}. {put-back} unthinned paint of the same batch goes back.", "Stir, and time it again. Two-pack: mix what goes back at its ratio first; the oldest mix keeps the clock."),
        Test("past-law", "share-now", ">", "law-most", "stop", "There is {share-now} thinner in it; the VOC limit of its category leaves room for {law-most}. {put-back} unthinned paint of the same batch goes back.", "Stir, and time it again.", spare=True),
        Test("too-thin", "viscosity-likely", "<", "thinnest-likely", "care", "Thinner than its kind sprays well: it will run. {put-back} unthinned paint of the same batch brings it back.", "Stir, and time it again. Two-pack: mix what goes back at its ratio first; the oldest mix keeps the clock.", when=_THINNED, spare=True),
    ),
    origin=_PRACTICE, go="No more thinner in it than it may have: nothing goes back.",
)
warmth = Verdict(
    "mix-warmth", "Is the mix warm enough, and no warmer", "Is the mix inside the temperatures of its data sheet?",
    tests=(
        Test("cold-mix", "mix-temperature", "<", "coating.air_min", "stop", "{mix-temperature}: outside the data sheet's air temperatures.", "Bring it inside them before mixing."),
        Test("hot-mix", "mix-temperature", ">", "coating.air_max", "stop", "{mix-temperature}: outside the data sheet's air temperatures.", "Bring it inside them before mixing."),
    ),
    origin=_PRACTICE, go="Inside its data sheet's temperatures.",
)
life = Verdict(
    "pot-life", "Is the mix still good", "Was the two-pack mixed a short enough while ago?",
    tests=(
        Test("set", "time-to-clean", "<", "limits.nothing_left", "stop", "Its time in the gun is over: it was to be out by now.", "Out of the gun at once, and clean. Never thin a setting mix.", when=(("coating.parts", "two-pack"),)),
        Test("standing", "time-since-mixed", "<", "coating.induction", "stop", "It has to stand {coating.induction} after mixing.", "Wait, stir, then begin.", when=(("coating.parts", "two-pack"),), spare=True),
    ),
    origin=_PRACTICE, go="It is still good.",
)

ALL = (pot, dose, after_dose, back, warmth, life)
