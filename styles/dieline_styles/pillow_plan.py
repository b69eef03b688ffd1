"""The geometry of a curved crease: a cylinder folded in a plane, opened out flat, and laid into narrow strips.

A flat sheet is bent to a cylinder and cut by a plane at 45 degrees to its rulings; what is beyond the plane is mirrored
in it. In the flat the plane cuts along a curve; if that is an arc of angle γ against its chord, the bent sheet has the
slope sin α = tan γ across, the fold along the arc has the angle cos θ = -tan² γ, and the mirrored part stands upright.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from dieline.style import Point

__all__ = ["STRIPS", "Arc", "angle_for", "closed_ratio", "edge_angle_of"]

STRIPS = 7
"""Strips that stand for a bent sheet; the middle one is level. More of them change no proof, only its time."""

# Abscissae and weights of Gauss and Legendre, ten points, on the half interval: the integrand is smooth but at 45°.
_GAUSS = (
    (0.14887433898163122, 0.29552422471475287),
    (0.4333953941292472, 0.26926671930999635),
    (0.6794095682990244, 0.21908636251598204),
    (0.8650633666889845, 0.1494513491505806),
    (0.9739065285171717, 0.06667134430868814),
)


def _opened_out(angle: float) -> float:
    """∫ √cos 2γ from 0 to the angle: half the closed width over the radius."""
    half = angle / 2
    return half * math.fsum(
        weight * math.sqrt(math.cos(2 * half * (1.0 + sign * place)))
        for place, weight in _GAUSS
        for sign in (-1.0, 1.0)
    )


def closed_ratio(angle: float) -> float:
    """Closed width over the width of the flat panel, for an arc that meets its chord at an angle (radians)."""
    return _opened_out(angle) / math.sin(angle)


def edge_angle_of(angle: float) -> float:
    """How steep the bent sheet is at its side edges, radians, for an arc that meets its chord at an angle."""
    return math.asin(min(1.0, math.tan(angle)))


def angle_for(rise: float, closed: float, most: float) -> float:
    """The angle of the arc to its chord, radians, at which a rise and a closed width belong together.

    Args:
        rise: Rise of the arc, mm.
        closed: Closed width of the sheet, mm.
        most: Greatest angle looked for, radians.
    """
    low, high = 0.0, most
    goal = rise / closed
    # The rise over the closed width grows with the angle.
    for _ in range(50):
        middle = (low + high) / 2
        if (1.0 - math.cos(middle)) / (2 * _opened_out(middle)) < goal:
            low = middle
        else:
            high = middle
    return (low + high) / 2


@dataclass(frozen=True)
class Arc:
    """The arc in which the ends of a panel are creased; s runs across the panel from its middle.

    Attributes:
        width: Width of the panel, the chord, mm.
        rise: Rise of the arc, mm.
    """

    width: float
    rise: float

    @cached_property
    def angle(self) -> float:
        """Between arc and chord at their ends, radians."""
        return 2 * math.atan2(2 * self.rise, self.width)

    @cached_property
    def radius(self) -> float:
        """Its radius, mm."""
        return self.width / (2 * math.sin(self.angle))

    @property
    def steepness(self) -> float:
        """How steep the bent sheet is at its side edges, radians."""
        return edge_angle_of(self.angle)

    @property
    def closed(self) -> float:
        """Closed width of the panel, mm."""
        return self.width * closed_ratio(self.angle)

    def height(self, s: float) -> float:
        """Height of the arc over its chord, mm."""
        return math.sqrt(self.radius**2 - s * s) - self.radius * math.cos(self.angle)

    def bulge(self, s0: float, s1: float) -> float:
        """Bulge of the arc from one place to another, its rise upward, walked to the right."""
        turn = math.asin(s1 / self.radius) - math.asin(s0 / self.radius)
        return -math.tan(turn / 4)

    @cached_property
    def slopes(self) -> tuple[float, ...]:
        """Angle of each strip of the arc to the chord, radians; falling from left to right."""
        step = 2 * self.angle / (STRIPS - 1)
        return tuple(self.angle - k * step for k in range(STRIPS))

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """Ends of the strips: tangents of the arc at equal angles, its two ends among them, (s, height), mm."""
        step = self.angle / (STRIPS - 1)
        beyond, foot = self.radius / math.cos(step), self.radius * math.cos(self.angle)
        places = [-self.angle + (2 * k - 1) * step for k in range(1, STRIPS)]
        inner = [(beyond * math.sin(place), beyond * math.cos(place) - foot) for place in places]
        return ((-self.width / 2, 0.0), *inner, (self.width / 2, 0.0))

    @cached_property
    def leans(self) -> tuple[float, ...]:
        """How steep each strip of the bent sheet is, degrees; falling from left to right."""
        return tuple(math.degrees(math.asin(math.tan(slope))) for slope in self.slopes)

    @property
    def folds(self) -> tuple[float, ...]:
        """How far the end flap is folded along each strip, degrees."""
        return tuple(math.degrees(math.acos(-(math.tan(slope) ** 2))) for slope in self.slopes)

    def path(self, s0: float, s1: float, y: float, *, up: bool) -> tuple[tuple[Point, Point], float]:
        """The arc between two places as two points and a bulge, its chord at height y, its rise upward or downward."""
        sign = 1.0 if up else -1.0
        ends = (s0, y + sign * self.height(s0)), (s1, y + sign * self.height(s1))
        return ends, sign * self.bulge(s0, s1)
