"""The shapes and the movement of the four flaps of an auto-lock bottom."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import Point

__all__ = ["AutoPlan", "linkage", "nose_gap", "rise_length", "short_of_middle"]


def short_of_middle(t: float) -> float:
    """How far a main flap ends short of the middle of the box, where it has no nose, mm."""
    return max(1.0, 1.5 * t)


def rise_length(t: float) -> float:
    """Length of the strip on which a nose rises by a board, mm."""
    return max(4 * t, 3.0)


def nose_gap(t: float) -> float:
    """How far a nose keeps off the middle of the box along its crease, mm."""
    return max(0.5, 0.75 * t)


def linkage(corner: float) -> tuple[float, float]:
    """How the flaps at a glued corner move with it: a linkage of four creases that meet in one point.

    Args:
        corner: Inside angle between the two walls, degrees: 90 in the box, 0 folded flat.

    Returns:
        How far both flaps are folded in from their walls (90 to 180), and how far the glued corner is folded back on
        its flap along the diagonal (0 to 180), degrees.

    Source: spherical trigonometry of the corner; the diagonal halves the right angle at the flap's end.
    """
    half = math.radians(corner / 2)
    rise = math.acos(min(1.0, math.cos(math.pi / 4) / math.cos(half)))
    fold = math.acos(max(-1.0, -math.sqrt(2.0) * math.sin(rise)))
    back = math.pi - math.acos(max(-1.0, 2 * math.cos(2 * half) - 1.0))
    return math.degrees(fold), math.degrees(back)


@dataclass(frozen=True, slots=True, kw_only=True)
class AutoPlan:
    """The flaps of one glued corner; the other one is the same, turned by half a turn.

    The main flap is given as (a, v): a along its crease from the glued corner, v the depth. The side flap is given as
    (b, v) likewise. The corner is where the middles of two walls meet.

    Attributes:
        wide: Inside size along the main flap's crease, mm.
        broad: Inside size along the side flap's crease, mm.
        t: Board thickness, mm.
        c: Clearance, mm.
        nose: How far the nose reaches past the middle of the box, mm.
        glue: Depth of the side flap, and of its glued corner, mm.
        far: Where the main flap ends at its far wall, mm.
        relief: How far flaps and glued corner keep off the corner of the box, mm.
        edge: How the main flap's edge on the glued side leans from its crease, degrees.
        diagonal: How the far edge of the side flap leans from its crease, degrees.
    """

    wide: float
    broad: float
    t: float
    c: float
    nose: float
    glue: float
    far: float
    relief: float
    edge: float = 60.0
    diagonal: float = 45.0

    @property
    def middle(self) -> float:
        """Depth at which a main flap reaches the middle of the box."""
        return (self.broad + self.t) / 2

    @property
    def base(self) -> float:
        """Depth of the main flap where it ends short of the middle."""
        return self.middle - short_of_middle(self.t)

    @property
    def bend(self) -> float:
        """Depth at which the nose begins to rise, to lie on the other main flap."""
        return self.base - rise_length(self.t)

    @property
    def lean(self) -> float:
        """How steeply it rises, degrees: by one board."""
        return math.degrees(math.asin(self.t / rise_length(self.t)))

    @property
    def inner(self) -> float:
        """Where the nose ends, along the crease: the other half belongs to the other flap's nose."""
        return (self.wide + self.t) / 2 - nose_gap(self.t)

    @property
    def tip(self) -> float:
        """Depth of the nose."""
        return self.middle + self.nose

    def glued_edge(self, v: float) -> float:
        """Where the main flap ends on the glued side, at a depth."""
        return self.relief + v / math.tan(math.radians(self.edge))

    def main(self) -> list[Point]:
        """The main flap without its nose."""
        return [
            (self.relief, 0.0),
            (self.glued_edge(self.bend), self.bend),
            (self.inner, self.bend),
            (self.inner, self.base),
            (self.far - 0.18 * self.base, self.base),
            (self.far, 0.62 * self.base),
            (self.far, 0.0),
        ]

    def rise(self) -> list[Point]:
        """The strip on which the nose rises; a slit parts it from the rest of the flap."""
        low, high = self.bend, self.base
        return [(self.glued_edge(low), low), (self.glued_edge(high), high), (self.inner, high), (self.inner, low)]

    def nosed(self) -> list[Point]:
        """The nose."""
        cut = 0.3 * min(self.nose, self.nose_width)
        return [
            (self.glued_edge(self.base), self.base),
            (self.glued_edge(self.tip - cut), self.tip - cut),
            (self.glued_edge(self.tip) + cut, self.tip),
            (self.inner - cut, self.tip),
            (self.inner, self.tip - cut),
            (self.inner, self.base),
        ]

    def side(self) -> list[Point]:
        """The side flap without its glued corner."""
        end, d, r = self.broad + self.t / 2 - self.c, self.glue, self.relief
        return [(r, 0.0), (end, 0.0), (end - d / math.tan(math.radians(self.diagonal)), d), (d, d), (r, r)]

    def corner(self) -> list[Point]:
        """Its glued corner, beyond the diagonal crease."""
        d, r = self.glue, self.relief
        return [(r, r), (d, d), (self._free(d), d)]

    def _free(self, v: float) -> float:
        """The free edge of the glued corner, which leans off the neighbour flap in the blank."""
        return self.relief + (v - self.relief) * math.tan(math.radians(3.0))

    def zone(self) -> list[Point]:
        """The glued area, on the side flap's corner, as far as the main flap covers it before its nose rises."""
        off = min(1.5, 0.1 * self.glue)
        beside, near = off * math.sqrt(2.0), 1 / math.tan(math.radians(self.edge))
        start, deep = self._free(self.glue) + off, self.glue - off
        corner: list[Point] = [(start, start + beside), (deep - beside, deep), (start, deep)]
        covered = _kept(corner, -near, 1.0, self.relief + off)
        return _kept(covered, -1.0, 0.0, off - self.bend)

    @property
    def nose_width(self) -> float:
        """Width of the nose where it ends."""
        return self.inner - self.glued_edge(self.tip)

    @property
    def catch(self) -> float:
        """How deep the nose lies on the other main flap."""
        return self.tip - (self.broad + self.t - self.base)


def _kept(points: list[Point], a: float, b: float, least: float) -> list[Point]:
    """The part of a convex polygon where a·x + b·y is at least so much."""
    kept: list[Point] = []
    for p, q in zip(points, points[1:] + points[:1], strict=True):
        over, next_over = a * p[0] + b * p[1] - least, a * q[0] + b * q[1] - least
        if over >= 0:
            kept.append(p)
        if over * next_over < 0:
            share = over / (over - next_over)
            kept.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    return kept
