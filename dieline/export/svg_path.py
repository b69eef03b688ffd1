"""Paths in the words of SVG: coordinates flipped to y down, arcs as true arcs."""

from __future__ import annotations

import math

from ..geometry.arc import Point
from ..geometry.path import Path

__all__ = ["Pencil"]

_HALF_CIRCLE = 1e-6
"""A bulge nearer than this to 1 is a half circle."""


class Pencil:
    """Writes drawing coordinates as SVG coordinates.

    Args:
        left: Drawing x of the page's left edge, mm.
        top: Drawing y of the page's upper edge, mm.
    """

    def __init__(self, left: float, top: float) -> None:
        self.left, self.top = left, top
        self._xs: dict[float, str] = {}
        self._ys: dict[float, str] = {}

    @staticmethod
    def number(value: float, digits: int = 4) -> str:
        """A number without needless zeros."""
        text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text

    def point(self, point: Point) -> tuple[str, str]:
        """The words for a point; coordinates of box blanks repeat, so each is worked out once."""
        x, y = point
        word_x, word_y = self._xs.get(x), self._ys.get(y)
        if word_x is None:
            word_x = self._xs[x] = self.number(x - self.left)
        if word_y is None:
            word_y = self._ys[y] = self.number(self.top - y)
        return word_x, word_y

    def path(self, path: Path) -> str:
        """The path as path data."""
        bulges = path.bulges
        x, y = before = self.point(path.points[0])
        if not bulges and len(path.points) == 2:
            end_x, end_y = self.point(path.points[1])
            onward = f"V{end_y}" if end_x == x else f"H{end_x}" if end_y == y else f"L{end_x} {end_y}"
            return f"M{x} {y}{onward}"
        words = [f"M{x} {y}"]
        for i, point in enumerate(path.points[1:]):
            x, y = end = self.point(point)
            if bulges and bulges[i]:
                words.append(self._arc(before, end, bulges[i]))
            elif x == before[0]:
                words.append(f"V{y}")
            elif y == before[1]:
                words.append(f"H{x}")
            else:
                words.append(f"L{x} {y}")
            before = end
        if path.closed:
            if bulges and bulges[-1]:
                words.append(self._arc(before, self.point(path.points[0]), bulges[-1]))
            words.append("Z")
        return "".join(words)

    def _arc(self, p: tuple[str, str], q: tuple[str, str], bulge: float) -> str:
        """An arc command between points as written, so that radius and chord fit each other.

        A half circle gets a radius a trifle too small, which SVG widens to half the chord exactly: a trifle too
        large, the arc would lose a tenth of a millimetre of its length.
        """
        chord = math.hypot(float(q[0]) - float(p[0]), float(q[1]) - float(p[1]))
        size = abs(bulge)
        if abs(size - 1.0) < _HALF_CIRCLE:
            radius = self.number(math.floor(chord * 5000.0) / 10000.0)
        else:
            radius = self.number(chord * (1.0 + size * size) / (4.0 * size), 8)
        large = 1 if size > 1.0 + _HALF_CIRCLE else 0
        sweep = 0 if bulge > 0 else 1  # y runs down, so a left turn is against the direction of positive angles
        return f"A{radius} {radius} 0 {large} {sweep} {q[0]} {q[1]}"
