"""Options of the manufacturer's joint, shared by every style on a four-panel tube."""

from __future__ import annotations

import math

from dieline.style import Order, Parameter, angle, choice, length

__all__ = ["PARAMETERS", "folds_of", "walls_of"]

walls_of = {"none": "on no wall", "L": "on the two L panels", "B": "on the two B panels", "all": "on all four panels"}
folds_of = {
    "crease": "creased",
    "perforated": "perforated, easy to fold or to tear",
    "cut-crease": "cut and creased in turn",
}


def _lap_width(order: Order) -> float:
    board = order.board
    if not board.corrugated:
        usual = 15.0
    elif order.choice("joint") == "stitched" or board.wall in ("double", "triple"):
        usual = 40.0
    else:
        usual = 35.0
    return max(5.0 + order.thickness, min(usual, math.floor(0.8 * _other_wall(order))))


def _other_wall(order: Order) -> float:
    """Inside size of the wall that the lap lies on."""
    return order.B.value if order.choice("lap_on") == "L" else order.L.value


def _widest_lap(order: Order) -> float:
    """Up to the far corner of the wall that the lap lies on; a box too small for any lap is refused by its size."""
    if order.choice("joint") == "taped":
        return math.inf
    side = "B" if order.choice("lap_on") == "L" else "L"
    order.need(side, 6.0 + order.thickness, "the lap needs 5 mm to be glued and 1 mm beside it; joint=taped needs none")
    return _other_wall(order) - 1.0


def _bevel_room(order: Order, given_up: float = 0.9) -> float:
    """Steepest bevel at which the lap's outer edge is shorter than its crease by no more than this share, degrees."""
    length_ = order.H.value - 2 * order.number("lap_play")
    return math.degrees(math.atan2(given_up / 2 * length_, order.number("lap_width")))


PARAMETERS: tuple[Parameter, ...] = (
    choice(
        "joint",
        "How the tube is closed by its maker.",
        {
            "glued": "a lap, glued",
            "stitched": "a lap, stitched with wire",
            "taped": "no lap: the edges meet and are taped",
        },
        "glued",
        source="kinds of joint as published in the case code",
    ),
    choice(
        "lap_on",
        "Which panel the joint hangs on.",
        {"L": "an L panel", "B": "a B panel"},
        "L",
        source="both as published in the case code",
    ),
    choice(
        "lap_end",
        "At which end of the blank the lap is, seen from the inside.",
        {"left": "left end", "right": "right end"},
        "left",
    ),
    choice(
        "lap_side",
        "On which side of the last panel the lap is joined.",
        {"inside": "inside the box", "outside": "outside the box, so that the inside is smooth"},
        "inside",
    ),
    length(
        "lap_width",
        "Width of the lap from its crease.",
        _lap_width,
        lambda order: 5.0 + order.thickness,
        _widest_lap,
        why="the lap needs 5 mm to be glued, and must not reach the far corner of the wall that it lies on",
        source="30–35 mm glued, 35–40 mm stitched: trade pages; 20–50 mm GOST 9142-2014; 1 1/4 in: US carrier rule",
    ),
    length(
        "lap_play",
        "How far the lap keeps from the inside floor and lid.",
        lambda order: min(0.5, 0.1 * order.H.value),
        0.0,
        lambda order: 0.2 * order.H.value,
        why="the lap must not stand on the inner flaps, and needs its length",
    ),
    angle(
        "lap_bevel",
        "How far the ends of the lap lean back.",
        lambda order: min(15.0, math.floor(_bevel_room(order, 0.5))),
        0.0,
        lambda order: min(55.0, _bevel_room(order)),
        why="GOST 9142-2014 allows at most 55 degrees, and the lap must keep its outer edge",
    ),
    choice("body_crease", "How the upright folds are made.", folds_of, "crease"),
)
