"""The octagon with two long, two short and four corner sides: offsets, corners and edges."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import Face, Point

from .edge import Edge

__all__ = ["HALF", "SIDES", "SIN", "Octagon"]

HALF = math.tan(math.radians(22.5))
"""tan 22.5°: a side grows by twice this for each mm that the octagon is offset outward, once at either end."""

SIN = math.sqrt(0.5)
"""Sine and cosine of the 45 degrees by which each wall is turned against the next."""

SIDES: tuple[tuple[str, Face | None], ...] = (
    ("front", Face.FRONT),
    ("front right", None),
    ("right", Face.RIGHT),
    ("back right", None),
    ("back", Face.BACK),
    ("back left", None),
    ("left", Face.LEFT),
    ("front left", None),
)
"""The eight sides counter-clockwise from above, each with the face that it makes; corner sides make none."""


@dataclass(frozen=True, slots=True)
class Octagon:
    """A rectangle with its corners cut off at 45 degrees.

    Attributes:
        x: Its least x, mm.
        y: Its least y, mm.
        length: Along x, mm.
        breadth: Along y, mm.
        corner: How much of each side a corner cuts off, mm.
    """

    x: float
    y: float
    length: float
    breadth: float
    corner: float

    def grown(self, by: float) -> Octagon:
        """All eight sides moved outward by so many mm."""
        corner = self.corner + by * (1.0 - HALF)
        return Octagon(self.x - by, self.y - by, self.length + 2 * by, self.breadth + 2 * by, corner)

    @property
    def points(self) -> tuple[Point, ...]:
        """The corners counter-clockwise; the first two are the ends of the front side."""
        x0, y0, x1, y1, a = self.x, self.y, self.x + self.length, self.y + self.breadth, self.corner
        return (
            (x0 + a, y0),
            (x1 - a, y0),
            (x1, y0 + a),
            (x1, y1 - a),
            (x1 - a, y1),
            (x0 + a, y1),
            (x0, y1 - a),
            (x0, y0 + a),
        )

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The sides in the order of ``SIDES``, each from its first to its second corner."""
        return tuple(zip(self.points, self.points[1:] + self.points[:1], strict=True))

    def apart(self, face: Face | None) -> float:
        """From the middle to a side that makes this face, or to a corner side, mm."""
        if face is None:
            return ((self.length + self.breadth) / 2 - self.corner) / math.sqrt(2.0)
        return (self.breadth if face.axis == 1 else self.length) / 2

    @property
    def sides(self) -> tuple[float, float, float]:
        """Length of the sides along x, along y and across the corners, mm."""
        return self.length - 2 * self.corner, self.breadth - 2 * self.corner, self.corner * math.sqrt(2.0)
