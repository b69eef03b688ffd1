"""Options of the auto-lock bottom, and the sizes that they leave room for."""

from __future__ import annotations

import math

from dieline.style import Order, Parameter, angle, length

from .auto_plan import short_of_middle

__all__ = ["AUTO", "half_across"]


def _least_relief(order: Order) -> float:
    return max(1.2 * order.thickness, 1.0)


def _usual_relief(order: Order) -> float:
    """Three boards; less where the side flaps, which must reach past it to the noses, have no room."""
    t = order.thickness
    reach = (half_across(order) + short_of_middle(t)) / math.tan(math.radians(60.0))
    room = (order.B.value - order.number("clearance") - t / 2) / 2 - reach
    return max(_least_relief(order), min(max(1.0, 3 * t), math.floor(10 * room) / 10))


def half_across(order: Order) -> float:
    """Depth at which a main flap reaches the middle."""
    return (order.B.value + order.thickness) / 2


def _longest_nose(order: Order) -> float:
    return max(4.0, 0.2 * order.B.value)


def _shortest_nose(order: Order) -> float:
    """Past the gap between the two bases it must catch by 3 mm."""
    return short_of_middle(order.thickness) + 3.0


def _least_glue(order: Order) -> float:
    """The side flap must reach the nose, and be deep enough to glue."""
    slope = math.tan(math.radians(order.number("glued_edge")))
    reach = order.number("corner_relief") + (half_across(order) + short_of_middle(order.thickness)) / slope
    return max(reach, 10.0 if order.thickness < 1.0 else 12.0)


def _deepest_glue(order: Order) -> float:
    """The two side flaps lie in one layer, and each must have a far edge."""
    c = order.number("clearance")
    return min((order.B.value - c - order.thickness / 2) / 2, order.L.value / 2 - c)


AUTO: tuple[Parameter, ...] = (
    length(
        "corner_relief",
        "How far the flaps of the auto-lock bottom keep off the corners that are folded.",
        _usual_relief,
        _least_relief,
        lambda order: max(1.5, 4 * order.thickness),
        why="five layers meet there in the flat box; wider, the corner stands open",
    ),
    angle(
        "glued_edge",
        "How the edge of the main flaps leans from its crease on the glued side.",
        60.0,
        50.0,
        63.0,
        why="steeper than 63.4 (its tangent is 2) it runs into the wall as the box is folded flat",
        source="geometry of the opening corner, proved by folding",
    ),
    length(
        "nose_length",
        "How far the noses of the main flaps reach past the middle.",
        lambda order: max(
            _shortest_nose(order), min(max(6.0, 4 * order.thickness, 0.1 * order.B.value), _longest_nose(order))
        ),
        _shortest_nose,
        lambda order: max(_shortest_nose(order), _longest_nose(order)),
        why="3 mm must catch, and a long nose needs a long box",
    ),
    length(
        "glue_depth",
        "Depth of the side flaps, on whose corners the glue goes.",
        lambda order: max(_least_glue(order), min(round(0.4 * order.B.value, 1), _deepest_glue(order))),
        _least_glue,
        lambda order: max(_least_glue(order), _deepest_glue(order)),
        why="they must be glued and reach the noses, and must not meet in the middle",
    ),
)
