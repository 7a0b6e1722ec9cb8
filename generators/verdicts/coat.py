"""The next coat: not before, not after, and only when the touch test passes."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict
from generators.verdicts.when import WATER

next_coat = Verdict(
    "next-coat", "The next coat", "May the next coat go on?",
    tests=(
        Test("touch", "touch-test", "is", "fails", "stop", "The last coat still marks.", "Wait, whatever the clock says."),
        Test("too-late", "now", ">", "coat-latest-at", "stop", "The latest time for the next coat has passed.", "Rub it down first, so that the next coat holds.", when=(("coating.window", "closes"),)),
        Test("cold-dry", "air-temperature", "<", "coating.air_min", "stop", "The air is at {air-temperature}, colder than the {coating.air_min} of the data sheet: no wait helps.", "Warm it, without a flame."),
        Test("damp-dry", "relative-humidity", ">", "coating.humidity_max", "stop", "The air is damper than the data sheet allows: no wait can be told.", "Dry the air."),
        Test("too-early", "now", "<", "coat-earliest-at", "care", "It is too early by the clock.", "Wait until the time shown, then touch it in a corner."),
        Test("slow-dry", "stretch", ">", "limits.drying_factor_max", "care", "It dries {stretch} as slowly as the data sheet says.", "Touch it first; warm or dry the air.", when=WATER),
    ),
    origin=Origin(Basis.COMMON), go="The time has come, and the touch test passes.",
)
drying = Verdict(
    "drying", "How far from the data sheet's air", "Does this air dry the coat in a time that can be told?",
    tests=(
        Test("cold", "air-temperature", "<", "coating.air_min", "stop", "Colder than the data sheet allows: no wait helps.", "Warm it, without a flame."),
        Test("hot", "air-temperature", ">", "coating.air_max", "stop", "Hotter than the data sheet allows.", "Wait for a cooler hour."),
        Test("damp", "relative-humidity", ">", "coating.humidity_max", "stop", "Damper than the data sheet allows.", "Dry the air.", when=WATER),
        Test("much-slower", "stretch", ">", "limits.drying_factor_max", "stop", "More than {limits.drying_factor_max} as slow as the data sheet: wait for better air.", "Warm or dry the air.", when=WATER),
        Test("slow", "stretch", ">", "limits.drying_factor_near", "care", "Slow: touch it first.", "Touch it in a corner before you trust a clock."),
    ),
    origin=Origin(Basis.COMMON), go="Near the data sheet's time.",
)

ALL = (next_coat, drying)
