"""The room: how much mask, how much vapour, and where the mist goes."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict
from generators.verdicts.when import BURNS, INDOORS, WATER

_PRACTICE = Origin(Basis.COMMON)

mask = Verdict(
    "mask", "How much mask", "Does a half mask cover the mist of this room?",
    tests=(
        Test("no-mask", "mist-factor", ">", "region.full_mask", "stop", "Mist at {mist-factor} the limit: more than a full or powered mask covers ({region.full_mask}).", "More air, less paint at a time, or a brush.", "stop", when=INDOORS),
        Test("half-mask", "mist-factor", ">", "region.half_mask", "care", "Mist at {mist-factor} the limit: more than a half mask covers ({region.half_mask}). Powered or air-fed.", "More air brings it down.", when=INDOORS),
    ),
    origin=_PRACTICE, go="A half mask with particle filters, fit tested, at the least.",
    notes=("A screening figure, within three times either way. The safety data sheet, section 8, and a competent person decide.",),
)
room_air = Verdict(
    "room-air", "Vapour that can burn", "Does this pot keep the room far under what burns?",
    tests=(
        Test("burns", "vapour-share", ">", "limits.explosive_share_act", "stop", "STOP. {vapour-share} of the lower explosive limit; act at {limits.explosive_share_act}.", "No more spraying, no switch touched, ventilate, out.", "stop", when=BURNS),
        Test("burns-water", "vapour-share", ">", "limits.explosive_share_act", "care", "Were all of its solvent in the air at once, that were {vapour-share} of the lower explosive limit; act at {limits.explosive_share_act}.", "Bring in more air, and keep flames out. A water paint gives its solvent off over hours; section 9 of the safety data sheet decides.", when=WATER),
        Test("breathe", "coating.family", "is", "solvent oil two-pack waterborne mineral", "care", "Far under what burns is still many times what may be breathed.", "Never take the mask off for this figure."),
    ),
    origin=_PRACTICE, go="Little in it can burn. The mask stays on for the mist.",
)
drift = Verdict(
    "drift", "Where the mist lands", "Does it come down within a car's length?",
    tests=(
        Test("travels", "drift-length", ">", "limits.drift_act", "stop", "A {limits.droplet} droplet drifts {drift-length}: whatever is down the wind gets it.", "Screen, wait for calm, or brush.", "stop", when=(("place", "outdoors"),)),
        Test("near", "place", "is", "outdoors", "care", "It lands within a car's length: sheet it.", "Sheet what is down the wind. Never a safe distance."),
    ),
    origin=_PRACTICE, go="Indoors the walls keep it: sheet the room.",
)

ALL = (mask, room_air, drift)
