"""The pot: thin enough, never past the label, and how long it lasts."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict

_PRACTICE = Origin(Basis.COMMON)

LAW = Test("past-law", "voc-next", ">", "coating.voc_limit", "stop", "With {share-next} thinner it holds {voc-next} VOC; the law allows {coating.voc_limit} for its category.", "Less thinner: warm the paint, or take the other kit.", "stop",
           when=(("coating.voc_room", "counts"),), spare=True)

pot = Verdict(
    "pot", "What to do to the paint", "Is it thin enough for this kit, inside its label?",
    tests=(
        Test("past-label", "share-now", ">", "coating.thinner_max", "stop", "There is {share-now} thinner in it; its label allows {coating.thinner_max}.", "Do not spray it: the film and the law both fail. Add unthinned paint of the same batch."),
        LAW,
        Test("not-this-kit", "share-total", ">", "coating.thinner_max", "stop", "Not with this kit: it needs {share-total} thinner, and {coating.thinner_max} is allowed.", "Warm the paint (water bath, lid loose, no flame, never mixed two-pack), or take the other kit."),
        Test("too-thick", "viscosity-now", ">", "viscosity-limit", "care", "Still too thick for this kit: pour, stir, wait, and time it again.", "Pour the dose, stir, wait for the bubbles, time it again."),
        Test("not-timed", "pot-timed", "is", "sheet", "care", "Nobody has timed this pot: these are the data sheet's figures.", "Time it in the cup."),
        Test("cup-refused", "coating.cup", "is", "refused", "care", "A cup means nothing for this paint.", "Spray a test card, and judge by that."),
    ),
    origin=_PRACTICE, go="Thin enough for this kit.", notes=("Seconds stand in the cup named; the model is a forecast until the cup has spoken.",),
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
life = Verdict(
    "pot-life", "Is the mix still good", "Was the two-pack mixed a short enough while ago?",
    tests=(
        Test("set", "time-to-clean", "<", "limits.nothing_left", "stop", "Its time in the gun is over: it was to be out by now.", "Out of the gun at once, and clean. Never thin a setting mix.", when=(("coating.parts", "two-pack"),)),
        Test("standing", "time-since-mixed", "<", "coating.induction", "stop", "It has to stand {coating.induction} after mixing.", "Wait, stir, then begin.", when=(("coating.parts", "two-pack"),), spare=True),
    ),
    origin=_PRACTICE, go="It is still good.",
)

ALL = (pot, after_dose, life)
