"""Fan, strokes, what lands, and areas, by hand. Where a law names no source it is geometry or a balance of volume."""

from __future__ import annotations

import math

import numpy as np

from laws_by_hand.law import area_under, halving, law, slope_of


@law("film-across", "0 to 20 1", mostly={"place": "0 to 1 1", "step_share": "30 to 80 %", "half_height_share": "35 to 75 %"},
     also=({"place": 0.5, "edge": 0, "step_share": 50, "half_height_share": 50}, {"place": 0, "edge": 0, "step_share": 100, "half_height_share": 50},
           *({"place": place, "edge": edge, "step_share": 25, "half_height_share": 50} for place in (0, 1.3, 2, 4) for edge in (0, 1))),
     place="0 to 4 1", edge="0 to 1 1", step_share="20 to 110 %", half_height_share="20 to 95 %")
def _(place, edge, step_share, half_height_share):
    """Seven rounded strokes, one in the middle and three to either side; each a parabola to the power at which its half-height width is what was measured (common practice, no source)."""
    share = half_height_share / 100
    roundness = halving(lambda power: 0.5 - (1 - share**2) ** power, 1e-3, 1e3)
    here = place * step_share / 100 - edge / 2  # in widths of the fan: an edge is half a fan back
    away = [abs(here - stroke * step_share / 100) for stroke in (-3, -2, -1, 0, 1, 2, 3)]
    return sum((1 - (2 * one) ** 2) ** roundness for one in away if one < 0.5)


@law("film-evenness", "0 to 100 %", mostly={"thinnest": "0.2 to 1 1", "thickest": "1 to 2 1"}, thinnest="0 to 20 1", thickest="0.01 to 20 1")
def _(thinnest, thickest):
    """The least, in hundredths of the most."""
    return thinnest / (thickest / 100)


@law("efficiency-at-distance", "1 to 100 %", mostly={"fall": "0 to 15 %", "distance": "100 to 400 mm", "middle": "150 to 250 mm"},
     transfer_efficiency="5 to 100 %", fall="-20 to 60 %", distance="50 to 1000 mm", middle="50 to 1000 mm")
def _(transfer_efficiency, fall, distance, middle):
    """A straight line, so much less for each 100 mm farther, and no more than all of it lands (common practice, no source)."""
    return min(100.0, transfer_efficiency - (distance - middle) / 100 * fall)


@law("flow-at-viscosity", "1 to 5000 mL/min", mostly={"limit_viscosity": "100 to 300 mm²/s", "viscosity": "50 to 200 mm²/s"},
     flow="5 to 1000 mL/min", limit_viscosity="1 to 5000 mm²/s", viscosity="1 to 5000 mm²/s", power="0 to 1.2 1")
def _(flow, limit_viscosity, viscosity, power):
    """So many times thicker, to a power, so much less (common practice: own weighings)."""
    return flow / (viscosity / limit_viscosity) ** power


@law("fan-width", "1 to 3000 mm", distance="25 to 1000 mm", fan_angle="5 to 110 deg")
def _(distance, fan_angle):
    """Two triangles side by side: tan(θ/2) = (1 − cos θ)/sin θ."""
    turn = fan_angle / 180 * math.pi
    return 2 * distance * (1 - math.cos(turn)) / math.sin(turn)


@law("fan-angle", "1 to 150 deg", fan_width="10 to 1000 mm", distance="25 to 1000 mm")
def _(fan_width, distance):
    """The angle at which the triangle is so wide, by halving."""
    return halving(lambda turn: 2 * distance * math.sin(math.radians(turn / 2)) - fan_width * math.cos(math.radians(turn / 2)), 0.0, 179.9)


@law("stroke-spacing", "2 to 1000 mm", fan_width="10 to 1000 mm", half_height_share="20 to 100 %")
def _(fan_width, half_height_share):
    """So many hundredths of the fan (common practice, no source)."""
    return half_height_share * fan_width / 100


@law("stroke-film", "0.5 to 1000 µm", flow="10 to 1000 mL/min", transfer_efficiency="5 to 100 %", gun_speed="0.02 to 2 m/s", stroke_spacing="10 to 600 mm")
def _(flow, transfer_efficiency, gun_speed, stroke_spacing):
    """Cubic millimetres that land in a minute over the square millimetres that the gun goes over."""
    landed = flow * 1000 * transfer_efficiency / 100
    covered = gun_speed * 1000 * 60 * stroke_spacing
    return 1000 * landed / covered


@law("landed-volume", "0 to 1000 L", sprayed="0 to 1000 L", transfer_efficiency="5 to 100 %")
def _(sprayed, transfer_efficiency):
    """What leaves the gun, less what flies by."""
    return sprayed - sprayed * (100 - transfer_efficiency) / 100


@law("material-saving", "0 to 100 %", mostly={"transfer_efficiency_before": "10 to 40 %", "transfer_efficiency_after": "40 to 100 %"},
     also=({"transfer_efficiency_before": 50, "transfer_efficiency_after": 50},),
     transfer_efficiency_before="5 to 100 %", transfer_efficiency_after="5 to 100 %")
def _(transfer_efficiency_before, transfer_efficiency_after):
    """A litre on the surface takes so many litres through the gun, now and then."""
    if transfer_efficiency_after <= transfer_efficiency_before:
        return "no better"
    now, then = 100 / transfer_efficiency_before, 100 / transfer_efficiency_after
    return 100 * (now - then) / now


@law("gun-speed", "0.01 to 3 m/s", mostly={"wet_film": "50 to 150 µm", "stroke_spacing": "80 to 300 mm"}, flow="10 to 1000 mL/min", transfer_efficiency="5 to 100 %", wet_film="5 to 1000 µm",
     stroke_spacing="10 to 600 mm")
def _(flow, transfer_efficiency, wet_film, stroke_spacing):
    """Square metres that a minute's paint covers, over the width of a stroke, in metres a second."""
    metres = flow / 1e6 * transfer_efficiency / 100 / (wet_film / 1e6)
    return metres / (stroke_spacing / 1000) / 60


@law("stroke-beat", "0.1 to 400 1/min", gun_speed="0.01 to 3 m/s", stroke_length="0.1 to 10 m", turn="0 to 5 s")
def _(gun_speed, stroke_length, turn):
    """Sixty seconds, shared out."""
    return 60 / (stroke_length / gun_speed + turn)


@law("paint-for-area", "0 to 5000 L", area="0.01 to 5000 m²", wet_film="5 to 1000 µm", transfer_efficiency="5 to 100 %")
def _(area, wet_film, transfer_efficiency):
    """A square metre of a thousand micrometres is a litre; and what flies by comes on top."""
    return area * wet_film / 1000 * 100 / transfer_efficiency


@law("pot-minutes", "0 to 2000 min", pot="0.05 to 100 L", flow="10 to 1000 mL/min")
def _(pot, flow):
    """Millilitres by millilitres a minute."""
    return 1000 * pot / flow


@law("flow-by-weight", "1 to 2000 mL/min", weight_lost="1 to 5000 g", density="0.6 to 3 kg/L", time="5 to 600 s")
def _(weight_lost, density, time):
    """Grams by grams a millilitre, by the minute."""
    return weight_lost / density / (time / 60)


@law("transfer-efficiency", "1 to 100 %", mostly={"board_gain": "20 to 50 g", "pot_loss": "60 to 100 g", "flight_loss": "0 to 15 %"},
     also=({"board_gain": 100, "pot_loss": 80, "flight_loss": 0}, {"board_gain": 79, "pot_loss": 80, "flight_loss": 5}), board_gain="0.1 to 5000 g", pot_loss="1 to 10000 g", flight_loss="0 to 60 %")
def _(board_gain, pot_loss, flight_loss):
    """What the board gained of what was left to land (published: the board and the pot on one scale)."""
    could = pot_loss * (100 - flight_loss) / 100
    return "more landed than left" if board_gain >= could else 100 * board_gain / could


@law("transfer-efficiency-dry", "1 to 100 %", mostly={"board_gain": "10 to 25 g", "pot_loss": "60 to 100 g", "weight_solids": "40 to 60 %"},
     also=({"board_gain": 50, "pot_loss": 80, "weight_solids": 50},),
     board_gain="0.05 to 5000 g", pot_loss="1 to 10000 g", weight_solids="2 to 100 %")
def _(board_gain, pot_loss, weight_solids):
    """What the board holds of the solids that left."""
    solids = pot_loss / 100 * weight_solids
    return "more landed than left" if board_gain >= solids else 100 * board_gain / solids


@law("distance-film", "10 to 400 %", also=({"distance": 100, "drift": -100}, {"distance": 100, "drift": -150}), distance="50 to 500 mm", drift="-200 to 300 mm")
def _(distance, drift):
    """The same paint over a fan that is wider by as much as the gun is farther."""
    wider = (distance + drift) / distance
    return 100 / wider if wider > 0 else "in the wall"


def steepness(turn):
    """How fast a spot runs along a wall as its ray turns, read off four places: in distances of the pivot for each radian."""
    return slope_of(lambda angle: math.sin(angle) / math.cos(angle), turn, 1e-3)


@law("arc-film", "0 to 100 %", distance="50 to 500 mm", pivot="0 to 2000 mm", swing="0 to 60 deg")
def _(distance, pivot, swing):
    """Thinner by how much farther the nozzle is along its ray, and by how much faster the spot runs than in the middle (its slope read off four places)."""
    turn = math.radians(swing)
    ray = math.hypot(pivot + distance, (pivot + distance) * math.tan(turn)) - pivot
    return 100 * distance / ray * steepness(0.0) / steepness(turn)


@law("swing-film", "0 to 100 %", swing="0 to 60 deg")
def _(swing):
    """By the speed of the spot alone."""
    return 100 * steepness(0.0) / steepness(math.radians(swing))


@law("arc-reach", "0 to 6000 mm", distance="50 to 500 mm", pivot="0 to 2000 mm", swing="0 to 60 deg")
def _(distance, pivot, swing):
    """The side of a triangle whose long side is the ray."""
    high = distance + pivot
    ray = high / math.cos(math.radians(swing))
    return math.sqrt(max(0.0, ray**2 - high**2)) if swing > 1 else high * math.tan(math.radians(swing))


@law("tilt-ratio", "1 to 1000 ×", mostly={"tilt": "1 to 20 deg", "fan_angle": "20 to 80 deg"}, also=({"tilt": 40, "fan_angle": 100}, {"tilt": 34, "fan_angle": 106}), tilt="0 to 45 deg",
     fan_angle="5 to 110 deg")
def _(tilt, fan_angle):
    """Each degree of the fan holds as much paint, and lies over as much wall as its two rays are apart: the slope at the far edge over that at the near one. So flat that a twentieth is left: off."""
    near, far = math.radians(fan_angle / 2 - tilt), math.radians(fan_angle / 2 + tilt)
    if math.cos(far) <= 1 / 20:
        return "misses the wall"

    def spread(turn):
        return slope_of(math.tan, turn, 1e-2 * math.cos(turn))

    return spread(far) / spread(near)


@law("louvre-area-factor", "0.3 to 100 ×", mostly={"slat_thickness": "3 to 8 mm", "slat_pitch": "20 to 60 mm"}, slat_width="10 to 200 mm", slat_thickness="1 to 40 mm", slat_pitch="5 to 200 mm")
def _(slat_width, slat_thickness, slat_pitch):
    """Round one slat by a tape, for each pitch of the face."""
    return "overlap" if slat_thickness >= slat_pitch else (slat_width + slat_thickness + slat_width + slat_thickness) / slat_pitch


@law("piece-area", "0 to 500000 m²", width="0.01 to 100 m", height="0.01 to 100 m", edge="0 to 500 mm", faces="1 to 2 1", profile="0.5 to 20 ×")
def _(width, height, edge, faces, profile):
    """Its faces, and a strip round it."""
    strip = edge / 1000
    return faces * width * height * profile + strip * width + strip * width + strip * height + strip * height


@law("panelled-area", "0 to 500000 m²", width="0.01 to 100 m", height="0.01 to 100 m", edge="0 to 500 mm", faces="1 to 2 1", panels="1 to 60 1", panel_width="10 to 3000 mm",
     panel_height="10 to 3000 mm", moulding="0 to 100 mm")
def _(width, height, edge, faces, panels, panel_width, panel_height, moulding):
    """Its faces, the moulding that goes once round each panel of each face, and a strip round it."""
    round_one = 2 * (panel_width + panel_height) / 1000 * moulding / 1000
    return faces * (width * height + panels * round_one) + (width + height + width + height) * edge / 1000


@law("louvred-area", "0 to 500000 m²", mostly={"width": "0.4 to 2 m", "height": "0.5 to 3 m", "frame": "20 to 150 mm"}, also=({"width": 0.1, "height": 2, "edge": 30, "frame": 60, "area_factor": 3},
     {"width": 2, "height": 0.1, "edge": 30, "frame": 60, "area_factor": 3}), width="0.05 to 100 m", height="0.05 to 100 m", edge="0 to 500 mm", frame="1 to 500 mm", area_factor="0.3 to 100 ×")
def _(width, height, edge, frame, area_factor):
    """A frame of two stiles and two rails, both sides of it, its outer and its inner edge; and slats in what it leaves open."""
    broad, thick = frame / 1000, edge / 1000
    if width <= 2 * broad:
        return "wider than the piece"
    if height <= 2 * broad:
        return "higher than the piece"
    open_width, open_height = width - 2 * broad, height - 2 * broad
    stiles, rails = 2 * height * broad, 2 * open_width * broad
    edges = 2 * (width + height) * thick + 2 * (open_width + open_height) * thick
    return 2 * (stiles + rails) + edges + area_factor * open_width * open_height


@law("turned-area", "0 to 500000 m²", length="0.01 to 2000 m", girth="1 to 5000 mm")
def _(length, girth):
    """Rolled out it is a strip."""
    return length / (1000 / girth)


@law("bars-area", "0 to 500000 m²", run="0.01 to 2000 m", height="0.01 to 100 m", girth="1 to 2000 mm", pitch="5 to 2000 mm", rails="0 to 20 1", rail_girth="0 to 2000 mm")
def _(run, height, girth, pitch, rails, rail_girth):
    """So many bars and so many rails, each rolled out."""
    bars = 1000 * run / pitch
    return bars * height * girth / 1000 + rails * run * rail_girth / 1000


@law("boards-area", "0 to 500000 m²", run="0.01 to 2000 m", height="0.01 to 100 m", board="10 to 2000 mm", gap="0 to 2000 mm", edge="0 to 200 mm", faces="1 to 2 1")
def _(run, height, board, gap, edge, faces):
    """So many boards, each with its faces and two edges."""
    boards = 1000 * run / (board + gap)
    return boards * height * (faces * board + edge + edge) / 1000


@law("lapped-area", "0 to 500000 m²", run="0.01 to 2000 m", height="0.01 to 100 m", exposed="10 to 1000 mm", edge="0 to 100 mm")
def _(run, height, exposed, edge):
    """The face, and a lower edge for each board up the wall."""
    boards = 1000 * height / exposed
    return run * height + boards * run * edge / 1000


def _wave_off(run, height, pitch, depth, faces):
    """The fit by an ellipse that the formula uses is right to a millionth up to waves half as deep again as they are long; for needles it is under four ten-thousandths short."""
    return 0.0 if depth <= 1.5 * pitch else 4e-4 * faces * run * height * 2.5 * depth / pitch


@law("waved-area", "0 to 500000 m²", mostly={"pitch": "60 to 200 mm", "depth": "10 to 60 mm"}, slack=_wave_off,
     also=({"run": 1200, "height": 100, "pitch": 76, "depth": 60, "faces": 2},), run="0.01 to 2000 m", height="0.01 to 100 m", pitch="5 to 1000 mm", depth="0 to 500 mm", faces="1 to 2 1")
def _(run, height, pitch, depth, faces):
    """A sine wave measured along: the length of its curve, bit by bit, over a quarter of a wave."""
    rise = math.pi * depth / pitch
    longer = area_under(lambda turn: np.sqrt(1 + (rise * np.cos(turn)) ** 2), 0.0, math.pi / 2, 200) / (math.pi / 2)
    return faces * run * height * longer
