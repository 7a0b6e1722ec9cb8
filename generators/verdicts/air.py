"""May I spray, now and here: air, surface, wind, rain, ground, what the survey found, people and flames."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.verdict import Test, Verdict
from generators.verdicts.when import BURNS, INDOORS, WATER

_OLD = (("old-finish", "sound flaking not-sure"),)
_OUT = (("place", "outdoors"),)

# Tests of the air alone, which tables of the surface ask as well.
AIR = (
    Test("air-cold", "air-temperature", "<", "coating.air_min", "stop", "The air is at {air-temperature}; the data sheet wants {coating.air_min} or more.", "Wait for warmer air, or heat the room without a flame."),
    Test("air-hot", "air-temperature", ">", "coating.air_max", "stop", "The air is at {air-temperature}; the data sheet allows {coating.air_max} at most.", "Wait for a cooler hour."),
    Test("damp", "relative-humidity", ">", "coating.humidity_max", "stop", "Humidity is {relative-humidity}; the data sheet allows {coating.humidity_max}.", "Wait for drier air, or dry and warm the room."),
    Test("slow", "stretch", ">", "limits.drying_factor_max", "care", "It dries {stretch} as slowly as the data sheet says; past {limits.drying_factor_max} water paint is left wet too long.", "Warm or dry the air.", when=WATER),
    Test("air-edge-cold", "air-temperature", "<", "air-edge-low", "care", "The air is near the coldest that the data sheet allows ({coating.air_min}).", "Read it again soon, and before the evening."),
    Test("air-edge-hot", "air-temperature", ">", "air-edge-high", "care", "The air is near the warmest that the data sheet allows ({coating.air_max}).", "Read it again soon."),
)
SURFACE = (
    Test("dew", "margin", "<", "limits.dew_margin_min", "stop", "The surface is {margin} over the dew point; {limits.dew_margin_min} is the least.", "Warm the surface, or wait for drier air."),
    Test("surface-cold", "surface-temperature", "<", "coating.air_min", "stop", "The surface is at {surface-temperature}; the data sheet wants {coating.air_min} or more.", "Wait until the surface is warm; measure it where it is coldest."),
    Test("surface-hot", "surface-temperature", ">", "surface-max", "stop", "The surface is at {surface-temperature}, far hotter than the air this paint is meant for.", "Wait for shade, or start on the other side."),
    Test("margin", "margin", "<", "coating.margin_needed", "care", "The surface is {margin} over the dew point; this kind of paint needs {coating.margin_needed} when it is left.", "Finish early enough to dry before the surface cools."),
    Test("surface-warm", "surface-temperature", ">", "coating.air_max", "care", "The surface is at {surface-temperature}, hotter than the air this paint is meant for.", "Work in the shade, in small parts."),
)
OUTSIDE = (
    Test("wind", "wind", ">", "limits.wind_go", "stop", "The wind is {wind}; past {limits.wind_go} mist goes where it wants.", "Wait for a calmer hour, or screen and brush.", "stop", when=_OUT),
    Test("gust", "gust", ">", "limits.wind_go", "stop", "Gusts reach {gust}; past {limits.wind_go} mist goes where it wants.", "Wait for a calmer hour, or screen and brush.", "stop", when=_OUT),
    Test("wind-near", "wind", ">", "limits.wind_max_near_cars", "care", "The wind is {wind}: near cars, windows or neighbours {limits.wind_max_near_cars} is the most.", "Only with nothing near that mist could harm.", when=_OUT),
    Test("rain", "rain-left", "<", "dry-before-rain", "stop", "Rain is due in {rain-left}; this coat needs {dry-before-rain}.", "Start when it stays dry long enough.", when=(("place", "outdoors"), ("rain", "due"))),
    Test("night", "night-low", "<", "limits.not_below_before_dry", "stop", "Tonight falls to {night-low}; not under {limits.not_below_before_dry} before it is dry.", "Start early enough to be dry by night, or wait for a warmer night.", when=_OUT),
    Test("night-cold", "night-low", "<", "coating.air_min", "care", "Tonight falls to {night-low}, under the {coating.air_min} of the data sheet.", "It must be through-dry before the evening.", when=_OUT),
)
GROUND = (
    Test("wet-wood", "moisture", ">", "ground.moisture_max", "stop", "The wood holds {moisture} water; {ground.moisture_max} is the most.", "Let it dry. Rain, washing and rising damp show here first.", when=(("ground", "wood"),)),
    Test("damp-wood", "moisture", ">", "ground.moisture_good", "care", "The wood holds {moisture} water; {ground.moisture_good} or less is good.", "Better wait for a dry week.", when=(("ground", "wood"),)),
)
SURVEY = (
    Test("lead-found", "lead", "is", "yes", "stop", "STOP. The old paint holds lead.", "Do not sand, scrape or burn it. Get licensed or certified help where the law asks.", "stop", when=_OLD),
    Test("lead-untested", "building-year", "<", "region.lead_until", "stop", "STOP. Built in {building-year} and not tested: paint from before {region.lead_until} may hold lead.", "Have it tested before it is rubbed down or coated.", "stop", when=(*_OLD, ("lead", "not-tested"))),
    Test("asbestos-found", "asbestos", "is", "yes", "stop", "STOP. Asbestos was found.", "Leave it alone. A licensed surveyor and the law decide.", "stop"),
    Test("asbestos-untested", "building-year", "<", "region.asbestos_until", "stop", "STOP. Built in {building-year} and not surveyed: textured coatings and boards from before {region.asbestos_until} may hold asbestos.", "Ask for the survey, or have one made.", "stop", when=(*_OLD, ("asbestos", "not-tested"))),
    Test("asbestos-guess", "asbestos", "is", "not-tested", "care", "Nobody has surveyed for asbestos.", "Ask for the survey before you rub or drill anything.", when=_OLD),
    Test("flaking", "old-finish", "is", "flaking", "stop", "The old finish is flaking: new paint comes off with it.", "Take it back to a sound edge first (test for lead before you do)."),
    Test("unsure-finish", "old-finish", "is", "not-sure", "care", "What the old finish is, is not known.", "Try tape and a solvent rub on a hidden spot; look again after a day."),
)
AROUND = (
    Test("people", "people-out", "is", "no", "stop", "STOP. Somebody without a mask is in the mist's way.", "Everybody else out, and down the wind kept clear.", "stop"),
    Test("flames", "flames-out", "is", "no", "stop", "STOP. A flame, pilot, heater or spark is near.", "Put it out, and keep it out until the air is clear.", "stop", when=BURNS),
    Test("flames-water", "flames-out", "is", "no", "care", "A flame, pilot or heater is near: mist and masking burn, and heaters fill the air with water.", "Put it out.", when=WATER),
    Test("vapour", "vapour-share", ">", "limits.explosive_share_act", "stop", "STOP. This pot would bring the room to {vapour-share} of the lower explosive limit; act at {limits.explosive_share_act}.", "More air, less paint at a time, or a brush.", "stop", when=(*INDOORS, *BURNS)),
)
_RULE = Origin(Basis.PUBLISHED, "ufc-3-190-06")

spray = Verdict(
    "spray", "May I spray, now and here", "Do air, surface, weather, ground, survey, people and flames all allow it?",
    tests=(*SURVEY[:4], *AROUND, *SURFACE[:3], *AIR[:3], *OUTSIDE[:2], *OUTSIDE[3:5], GROUND[0], *SURVEY[4:], SURFACE[3], SURFACE[4], *AIR[3:], OUTSIDE[2], OUTSIDE[5], GROUND[1]),
    origin=_RULE, go="Air, surface, weather, ground, survey, people and flames allow it.", notes=("Read again every four hours in a closed room, every hour outdoors, and before dusk.",),
)
surface_room = Verdict(
    "surface-room", "How cold the surface may be", "Does the air itself allow this paint, and can a surface be warm enough?",
    tests=(*AIR[:3], Test("over-air", "lowest-surface", ">", "air-temperature", "stop", "The surface would have to be at {lowest-surface}, warmer than the air at {air-temperature}: it will sweat.", "Wait for drier air, or warm the surface."),
           Test("near-air", "lowest-surface-room", ">", "air-temperature", "care", "Only a surface within {limits.surface_slack} of the air passes.", "Measure the coldest place."), AIR[5]),
    origin=_RULE, go="A surface a little colder than the air passes.",
)

air_surface = Verdict(
    "air-surface", "Do air and surface allow it", "Do this air and this surface allow this paint?",
    tests=(*SURFACE[:3], *AIR[:3], *SURFACE[3:], *AIR[3:]), origin=_RULE, go="Air and surface allow it.", notes=("Only these two: weather, ground, survey, people and flames are asked by the whole verdict.",),
)

ALL = (spray, surface_room, air_surface)
