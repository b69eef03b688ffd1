"""What all tube cartons share: options of tube and clearance, and the composition body × bottom × top."""

from __future__ import annotations

import math

from dieline.style import (
    Design,
    Meaning,
    Motion,
    Order,
    Parameter,
    Piece,
    Quantity,
    Sheet,
    Size,
    angle,
    choice,
    length,
)

from .end import End
from .fold_ways import FOLD_WAYS
from .joint import folds_of
from .tube import Tube

__all__ = ["CARTON", "carton_design", "clearance", "flap_meaning"]


def _usual_clearance(order: Order) -> float:
    t = order.thickness
    return 0.3 if t < 1.0 else 0.5 if t < 2.5 else 1.0 if t < 3.5 else 1.5


def _usual_lap(order: Order) -> float:
    t = order.thickness
    usual = 12.0 if t < 1.0 else 20.0 if t < 2.5 else 30.0
    return min(usual, math.floor(0.6 * order.B.value))


def _bevel_room(order: Order) -> float:
    """Steepest bevel at which the lap still keeps a tenth of its length, degrees."""
    return math.degrees(math.atan2(0.45 * (order.H.value - 2 * order.number("lap_play")), order.number("lap_width")))


CARTON: tuple[Parameter, ...] = (
    choice(
        "lap_end",
        "At which end of the blank the lap is, seen from the inside.",
        {"left": "left end", "right": "right end"},
        "left",
    ),
    length(
        "lap_width",
        "Width of the lap from its crease; it is glued inside the last panel.",
        _usual_lap,
        lambda order: 5.0 + order.thickness,
        lambda order: 0.8 * order.B.value,
        why="the lap needs 5 mm to be glued, and must leave room beside it",
    ),
    length(
        "lap_play",
        "How far the lap keeps from the inside floor and lid.",
        lambda order: min(max(order.thickness, 1.0), 0.1 * order.H.value),
        0.0,
        lambda order: 0.2 * order.H.value,
        why="the lap must clear the flaps, and needs its length",
    ),
    angle(
        "lap_bevel",
        "How far the ends of the lap lean back.",
        lambda order: min(15.0, math.floor(_bevel_room(order))),
        0.0,
        _bevel_room,
        why="the lap must keep its outer edge",
    ),
    length(
        "clearance",
        "Play between parts that slide into each other.",
        _usual_clearance,
        0.2,
        lambda order: max(0.5, order.thickness / 2),
        why="with less the parts bind, with more they rattle",
    ),
    choice("body_crease", "How the upright folds are made.", folds_of, "crease"),
    choice("flap_crease", "How the flap folds are made.", folds_of, "crease"),
    choice(
        "flutes",
        "Which way the flutes (or the grain) run.",
        {"vertical": "along H", "horizontal": "round the box"},
        "vertical",
    ),
)


def flap_meaning(order: Order) -> Meaning:
    """How the flap folds of this order are made."""
    return FOLD_WAYS[order.choice("flap_crease")]


def clearance(order: Order) -> Quantity:
    """The clearance c as a quantity, mm."""
    return Quantity.named("c", order.number("clearance"))


def carton_design(order: Order, bottom: End, top: End) -> Design:
    """A four-panel tube with a closure at each end, proved erected, glued flat, and while it is closed."""
    tube = Tube(order, bottom, top)
    sheet = Sheet("body", flutes="y" if order.choice("flutes") == "vertical" else "x")
    tube.lay(sheet)
    ends = (bottom, top)
    blank = sheet.blank()
    drawn = top.drawn(tube, bottom.drawn(tube, blank))
    length_, breadth, height = tube.crease_size
    return Design(
        style=order.style,
        pieces=(Piece(blank=drawn, stand=tube.stand, model=None if drawn is blank else blank),),
        inside=order.inside,
        crease=Size(length_, breadth, height),
        sizes=tuple(order.ledger.lines),
        closed=tuple(shut for end in ends if (shut := end.closed(tube)) is not None),
        stretch=tube.stretch,
        facts={name: value for end in ends for name, value in end.facts(tube).items()},
        hand=tube.hand,
        states=(tube.glued_flat(),),
        locks=tuple(lock for end in ends for lock in end.locks(tube)),
        motions=(
            *bottom.motions(tube),
            Motion(
                start=tube.erected() | bottom.erected(tube) | top.erected(tube),
                steps=tuple(step for end in ends for step in end.steps(tube)),
                free=tuple(pair for end in ends for pair in end.free(tube)),
            ),
            *top.motions(tube),
        ),
    )
