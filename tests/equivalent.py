"""Mutants that nobody can catch, by (place, words), and why: the same answer to whatever may be asked, or as good as, or a matter of looks alone. Argued by hand.

Of several with the same words in one place the second is told as "… (2)". One that a test catches all the same is told, and its line should go.
"""

from __future__ import annotations

_CUPS_OWN = "a cup's own seconds, and the viscosities that they mean, stand in the place of this range: tests/test_laws_by_hand.py holds every formula to those"
_HAIR = "a hair that keeps a division from nought: a twentieth more or less of a billionth shows in no digit of a dose"
_DICE = "a second coat thrown with other dice: the same law, and still not the first coat's own throw"
_BEYOND = "strokes that are looked at besides lie beyond the fan's edge and add nothing"
EQUIVALENT = {
    ("fall-seen", "constant hair moved by 5 %"): _HAIR,
    ("share-reach", "constant hair moved by 5 %"): _HAIR,
    ("share-reach", "2 moved in k*t + d*hair**2/(t**2 + hair**2) (2)"): "t³ for t² beside a hair squared: the same with nothing in the pot, and with anything in it the first dose counts nothing",
    ("law-room", "constant hair moved by 5 %"): "a thousandth of a gram in a litre: it counts only where limit and thinner lie nearer together than that, and no sheet weighs so",
    **{(name, f"range of {what}: {end} end drawn in"): _CUPS_OWN
       for name, whats in (("cup-viscosity", ("time", "the answer")), ("cup-time", ("viscosity", "the answer")), *((one, ("first-time", "trial-time", "target-time")) for one in
                           ("thinner-for-target", "dose-uncertainty"))) for what in whats for end in ("low", "high")},
    ("tables.sweep.on_its_side", "and for or: joined.swept is not None and joined.zones is not None and (joined.reasons is not"):
        "an assertion for the reader of types: a swept table always has all three, so that neither word ever stops it",
    ("chain.answers._span", "Add to Sub: float(held.low) + float(held.high)"): "only whether both ends are numbers is asked: a sum and a difference of two are one where both are",
    ("chain.own.own_described", "1000000000.0 moved"): "more seconds than any cup runs, or a tenth more than that",
    **{("tables.room.clearing", f"{share} moved"): "looks only: how far along its line a name is written" for share in (0.6, 0.45, 0.35)},
    ("tables.gun._wave", "Sub to Add: across - 1 - k * share"): "the strokes of a row that is as long to both sides are counted from the other end",
    **{("tables.gun._wave", f"{count} moved"): _BEYOND for count in (8, 9)},
    **{("tables.gun.distance_drift", f"{limit} moved"): "no cell of the axes lies between the limit and one more, and each cell's mark is held to it by hand" for limit in (115, 135)},
    **{("tables.gun.distance_drift", words): "a twentieth of a millimetre more of the room for inches: no distance of the axes lies there" for words in ("0.5 moved", "0.5 moved (2)")},
    **{("tables.gun.wrist_arc", f"{limit} moved"): "no swing of the axis leaves a film between the limit and one more: each cell's mark is held to the limit by hand" for limit in (88, 75)},
    ("tables.gun.stripes", "0.03 moved"): "of the nine shapes of fan none is half as high at 0.03 to 0.033 from the half of its width",
    ("tables.gun.second_coat", "100 moved (2)"): "a hundredth more of a perfect hand's scatter, rounded up to a half: the same with either kit",
    ("tables.room.clearing", "1 moved"): "what is left half a minute before the ninety are over: the same in every digit that is told",
    **{("tables.air.season_chart", f"{share} moved"): "looks only: how far along its line a family's name is written" for share in (0.3, 0.55)},
    ("tables.film.window_chart", "0.3 moved"): "looks only: from how wide a band on its words are written into it",
    ("studies.season.by_month_and_hour", "12 moved (2)"): "a thirteenth month is looked for, and no file has one",
    ("studies.boards.means", "1 moved"): "numpy takes any length under nought for what is left over",
    ("studies.boards.scatter", "1 moved"): "numpy takes any length under nought for what is left over",
    ("studies.overlap._split", "0.28 moved (2)"): "between 0.28 and 0.308 the hump stands over the saddle, so where the saddle ends is not seen",
    ("studies.overlap._split", "1 moved (2)"): "a hump is never more than one: nothing is cut off there",
    **{("studies.overlap.by_hand", words): _DICE for words in ("1 moved", "1 moved (2)", "1 moved (3)", "2 moved", "Add to Sub: SEED + 1", "Add to Sub: SEED + 1 (2)", "Add to Sub: SEED + 1 (3)",
                                                                "Add to Sub: SEED + 2")},
    ("studies.overlap.ideal", "1 moved"): "every tenth of two thousand places is taken, which is neither one nor two",
    **{("studies.overlap.side_by_side", words): _BEYOND for words in ("0.5 moved (2)", "1 moved", "2 moved")},
    ("studies.overlap.side_by_side", "Add to Sub: int(np.ceil(0.5 / spacing)) + 1"): "one stroke too many is looked at on either side even so: what falls away lies beyond the fan's edge",
    ("studies.overlap.side_by_side", "Sub to Add: x - k * spacing"): "the strokes of an endless row are counted from the other end",
    ("studies.tins.cheapest_tins", "1 moved (3)"): "more of a great need is searched and less of it filled at once: the best is the same",
    ("studies.tins.cheapest_tins", "1 moved (4)"): "which tin came last to hold nothing is never asked",
    ("studies.tins.cheapest_tins", "1 moved (6)"): "one step more is searched than is asked for",
    ("studies.tins.cheapest_tins", "1 moved (8)"): "each tin counts as two in every set, so the fewest stay the fewest; what is bought is counted apart",
    ("studies.edge.clock_values", "240 moved"): "a few blocks of four hours are begun earlier, and all of what they hold lies before the first minute",
    ("studies.edge.round_values", "Add to Sub: low + hair"): "a cell that ends where the line begins is looked into: its only stroke is there already, and within a hair no two keep any gap",
    ("studies.edge.round_values", "Sub to Add: high - hair"): "a cell that begins where the line ends is looked into: its only stroke is there already, and within a hair no two keep any gap",
    ("studies.edge.round_values", "1 moved (3)"): "the first cell is taken twice as large, and halved at once: where that cannot be, nothing finer keeps the gap",
    ("studies.marks.chi_squared", "1 moved (4)"): "asked of odd numbers alone, where half of one more and half of two more are the same whole number",
    ("studies.marks.weight", "Add to Sub: 1 + side * bad / 100"): "both sides are asked, too heavy and too light, and the worse is taken: their order is nothing",
    ("studies.visits.plan", "Add to Sub: load + 1"): "after the last load the rack's wait is set, and overwritten by the coat's own before anybody waits",
    ("studies.visits.plan", "1.0 moved (8)"): "mixes are whole: more than one is more than one and a tenth",
    ("studies.dilution.sugar", "5 moved"): "how smoothly a curve runs between seven printed points: under 2 in 10,000 from it anywhere",
    ("studies.dilution.sugar", "3 moved"): "how smoothly a curve runs between seven printed points: under 2 in 10,000 from it anywhere",
    ("studies.dilution.landings", "99.0 moved"): "a stand-in for a paint that runs too fast to be timed: farther off than any, whatever its figure",
    ("pages.card_words.charts_of", "112.0 moved"): "how high a chart of a card is drawn: looks",
}
