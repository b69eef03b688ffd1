"""Options of trays whose walls lean out, and how their edges run in the flat."""

from __future__ import annotations

import math

from dieline.style import Order, Parameter, angle, choice, length

from .tray_body import CORNER_PLAY, FLUTES, LEAST_WASTE

__all__ = ["LEANING", "SPARE", "below_rim", "edge_splay", "lean_axis", "wall_leans"]

SPARE = 2.0
"""Degrees. How much farther than it must the lower edge of a lap leaves the end beside it in the flat."""

_MOST_LEAN = 30.0
"""Degrees. Beyond it thick board overlaps itself in the flat, at the lower corner."""

_LEAST_STEP = 0.2
"""mm. A smaller step in an edge is not worth a knife."""

_LEAST_LAP = 10.0
"""mm. Narrowest lap that can be glued or stitched, besides the board that it passes at the corner."""


def lean_axis(order: Order) -> int:
    """The axis along which the walls run that carry the laps."""
    return 0 if order.choice("lap_on") == "L" else 1


def _end(order: Order) -> float:
    """Width of the ends at the floor, inside, mm."""
    return order.B.value if lean_axis(order) == 0 else order.L.value


def _least_lap(order: Order) -> float:
    return _LEAST_LAP + order.thickness


def below_rim(order: Order) -> float:
    """How far a lap ends below the rim of its wall, so that it is level with the rim of the leaning end, mm."""
    lean, end_lean = wall_leans(order)
    below = order.thickness * (1.5 * math.sin(end_lean) - 0.5 * math.sin(lean))
    sunk = below / (math.cos(lean) * math.cos(edge_splay(end_lean, lean)))
    return sunk if sunk > _LEAST_STEP else 0.0


def _longest_lap(order: Order) -> float:
    """Two laps share an end, and a lap keeps a third of its crease as its outer edge."""
    least = 2.0 * (_LEAST_LAP + 2 * order.thickness)
    order.need("BL"[lean_axis(order)], least, "two laps of at least 10 mm are joined to each end")
    lean, end_lean = wall_leans(order)
    wall, end = edge_splay(end_lean, lean), edge_splay(lean, end_lean)
    narrows = (math.tan(wall + end + math.radians(SPARE)) + math.tan(end) + 0.08) / 0.7
    low = order.number("lap_foot") + below_rim(order) + _least_lap(order) * narrows
    order.need("H", low * math.cos(lean) + 0.01, "the edges of the laps lean together before these are 10 mm long")
    slant = order.H.value / math.cos(lean) - order.number("lap_foot") - below_rim(order)
    return min(_end(order) / 2 - 1.0, slant / narrows)


def wall_leans(order: Order) -> tuple[float, float]:
    """How far the holding walls and the ends lean out, radians."""
    both = math.radians(order.number("lean_front")), math.radians(order.number("lean_side"))
    return both if lean_axis(order) == 0 else (both[1], both[0])


def edge_splay(other: float, own: float) -> float:
    """How far the edge of a wall that leans by ``own`` leans sideways in the flat, the next one by ``other``."""
    return math.atan(math.tan(other) * math.cos(own))


def _foot(order: Order) -> float:
    return max(order.number("corner_play"), min(LEAST_WASTE, order.H.value / 10))


LEANING: tuple[Parameter, ...] = (
    angle("lean_front", "How far front and back lean out from the vertical.", 10.0, 0.0, _MOST_LEAN),
    angle("lean_side", "How far left and right lean out from the vertical.", 10.0, 0.0, _MOST_LEAN),
    choice(
        "lap_on",
        "Which walls carry the laps; the others are the ends that the laps are joined to.",
        {"L": "front and back, which run along L", "B": "left and right, which run along B"},
        "L",
    ),
    choice("joint", "How the laps are joined.", {"glued": "glued", "stitched": "stitched with wire"}, "glued"),
    CORNER_PLAY,
    length(
        "lap_foot",
        "How far a lap begins above the crease of its wall.",
        _foot,
        lambda order: order.number("corner_play"),
        lambda order: max(_foot(order), order.H.value / 4),
        why="it passes the bend of the base, and it needs its length",
        source="at least 3/32 in of waste between two knives: die maker, graphicdies.com/how-small",
    ),
    length(
        "lap_width",
        "Length of the laps, away from their crease.",
        lambda order: max(_least_lap(order), min(35.0, round(0.35 * _end(order), 1), _longest_lap(order))),
        lambda order: min(_least_lap(order), _longest_lap(order)),
        _longest_lap,
        why="a lap needs 10 mm to be joined; its edges lean together, and two of them share an end",
    ),
    FLUTES,
)
