"""What closes every answer: the hardener, the tin's own stops, and the law."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict

_HOUSE = Origin(Basis.COMMON)
_BOOTH = "Use an isocyanate-free coating, or send the work to a booth with trained people. The safety data sheet, the law and a competent person decide."

allowed = Verdict(
    "allowed", "May this paint be sprayed at all", "Is there a hazard or a law that no weather mends?",
    tests=(
        Test("isocyanate-tin", "coating.hardener", "is", "isocyanate", "stop", "STOP. Isocyanate, or a two-pack whose file does not say what its hardener is: its mist gives asthma for life.", _BOOTH, "stop"),
        Test("isocyanate-read", "hardener", "is", "isocyanate", "stop", "STOP. The hardener holds isocyanate: its mist gives asthma for life, and it has no warning smell.", _BOOTH, "stop"),
        Test("hard-stop", "coating.stop", "not", "none", "stop", "STOP. This tin carries a hard stop of its own.", "Read the stop sign on its page. No setting takes it away.", "stop"),
        Test("voc-law", "coating.voc_counted", ">", "coating.voc_limit", "stop", "{coating.voc_counted} VOC; {coating.voc_limit} is the most that the law allows for its category.", "Choose a paint inside the limit, or ask whether its category is right.", "stop",
             when=(("coating.voc_rule", "limited"),), spare=True),
    ),
    origin=_HOUSE, go="No stop is known for this tin. Its safety data sheet still comes first.",
    notes=("A two-pack whose file names no hardener counts as isocyanate. A reading can add this stop and never take one away.",),
)

ALL = (allowed,)
