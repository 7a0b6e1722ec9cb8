"""The gun: in the kit's reach, even, and no faster than a hand keeps."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict

_PRACTICE = Origin(Basis.COMMON)

distance = Verdict(
    "distance", "Is the gun in its reach", "Is the distance between this kit's nearest and farthest?",
    tests=(
        Test("near", "gun-distance", "<", "kit.near", "care", "At {gun-distance} it is nearer than this kit likes ({kit.near}): stripes.", "Step back."),
        Test("far", "gun-distance", ">", "kit.far", "care", "At {gun-distance} it is farther than this kit likes ({kit.far}): dry, and less lands.", "Step nearer."),
    ),
    origin=_PRACTICE, go="In this kit's reach.",
)
evenness = Verdict(
    "evenness", "Is the film even", "Does this step with this fan leave stripes, even from a perfect hand?",
    tests=(
        Test("stripes", "evenness-share", "<", "limits.evenness_least", "stop", "The thinnest place would be {evenness-share} of the thickest: stripes that anyone sees.", "Step less."),
        Test("low-light", "evenness-share", "<", "limits.evenness_fine", "care", "The thinnest place would be {evenness-share} of the thickest: stripes in a low light.", "Step less, or let a second coat go half a step over."),
    ),
    origin=_PRACTICE, go="Even, from a perfect hand.",
)
speed = Verdict(
    "speed", "Can a hand keep it", "Is the speed one that nobody has to race for?",
    tests=(
        Test("race", "speed-wanted", ">", "limits.reach_speed_max", "care", "{speed-wanted} is faster than anybody keeps even ({limits.reach_speed_max}).", "Close the fluid control a little, and measure the flow again."),
        Test("stripes", "evenness-share", "<", "limits.evenness_least", "stop", "At this step the film stripes: the thinnest place would be {evenness-share} of the thickest.", "Step less."),
    ),
    origin=_PRACTICE, go="A speed that a hand keeps.",
)

ALL = (distance, evenness, speed)
