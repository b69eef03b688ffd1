"""Circular arcs between two points, given by their bulge.

The bulge of an arc is the tangent of a quarter of its sweep; positive turns to the left (counter-clockwise) on the
way from the first point to the second. 0 is a straight line, 1 a half circle. Open standard usage (DXF).
"""

from __future__ import annotations

import math
from typing import NamedTuple

__all__ = ["Arc", "Point", "arc_area", "arc_between", "arc_bounds", "arc_length", "arc_points"]

Point = tuple[float, float]


class Arc(NamedTuple):
    """A true arc.

    Attributes:
        centre: Centre (x, y), mm.
        radius: Radius, mm.
        start: Angle of the first point seen from the centre, radians.
        sweep: Turned angle on the way to the second point, radians; positive is counter-clockwise.
    """

    centre: Point
    radius: float
    start: float
    sweep: float


def arc_between(p: Point, q: Point, bulge: float) -> Arc:
    """The arc from ``p`` to ``q`` with the given bulge (not 0)."""
    sweep = 4.0 * math.atan(bulge)
    dx, dy = q[0] - p[0], q[1] - p[1]
    # The centre lies beside the chord's middle, by (1 - b²) / 4b of the chord, to the left for a left turn.
    beside = (1.0 - bulge * bulge) / (4.0 * bulge)
    cx = (p[0] + q[0]) / 2.0 - dy * beside
    cy = (p[1] + q[1]) / 2.0 + dx * beside
    return Arc((cx, cy), math.hypot(p[0] - cx, p[1] - cy), math.atan2(p[1] - cy, p[0] - cx), sweep)


def arc_length(p: Point, q: Point, bulge: float) -> float:
    """Length in mm of the line or arc from ``p`` to ``q``."""
    chord = math.hypot(q[0] - p[0], q[1] - p[1])
    if bulge == 0.0:
        return chord
    quarter = math.atan(bulge)
    return chord * 2.0 * quarter / math.sin(2.0 * quarter)


def arc_area(p: Point, q: Point, bulge: float) -> float:
    """Signed area in mm² between the arc and its chord; positive where the arc lies right of the chord."""
    if bulge == 0.0:
        return 0.0
    arc = arc_between(p, q, bulge)
    return arc.radius * arc.radius * (arc.sweep - math.sin(arc.sweep)) / 2.0


def arc_points(p: Point, q: Point, bulge: float, chord: float) -> list[Point]:
    """Points along the line or arc after ``p``, ending with ``q``, no chord farther than ``chord`` mm from the arc.

    Args:
        p: First point.
        q: Last point.
        bulge: Bulge of the way from ``p`` to ``q``.
        chord: Greatest distance between arc and chords, mm.
    """
    if bulge == 0.0:
        return [q]
    arc = arc_between(p, q, bulge)
    step = 2.0 * math.acos(max(0.0, 1.0 - chord / arc.radius)) if chord < arc.radius else math.pi / 2
    count = max(1, math.ceil(abs(arc.sweep) / min(step, math.pi / 4)))
    (cx, cy), radius = arc.centre, arc.radius
    angles = (arc.start + arc.sweep * i / count for i in range(1, count))
    return [*((cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in angles), q]


def arc_bounds(p: Point, q: Point, bulge: float) -> tuple[float, float, float, float]:
    """Exact bounds (least x, least y, greatest x, greatest y) of the line or arc from ``p`` to ``q``."""
    left, right = (p[0], q[0]) if p[0] < q[0] else (q[0], p[0])
    low, high = (p[1], q[1]) if p[1] < q[1] else (q[1], p[1])
    if bulge != 0.0:
        arc = arc_between(p, q, bulge)
        for quarter in range(4):
            turned = (quarter * math.pi / 2 - arc.start) % (2 * math.pi)
            if arc.sweep < 0:
                turned -= 2 * math.pi
            if abs(turned) < abs(arc.sweep):
                x = arc.centre[0] + arc.radius * (1, 0, -1, 0)[quarter]
                y = arc.centre[1] + arc.radius * (0, 1, 0, -1)[quarter]
                left, right, low, high = min(left, x), max(right, x), min(low, y), max(high, y)
    return left, low, right, high
