"""Paths in the words of SVG: coordinates flipped to y down, arcs as true arcs."""

from __future__ import annotations

import math
from itertools import repeat

from ..geometry.path import Path

__all__ = ["Pencil", "Words"]

_HALF_CIRCLE = 1e-6
"""A bulge nearer than this to 1 is a half circle."""


class Words(dict[float, str]):
    """Coordinates along one axis as written; those of a box repeat, so each is worked out once.

    Args:
        sign: 1 where the file's axis runs as the drawing's does, -1 where it runs the other way.
        start: Where the file's axis begins on the drawing, mm.
    """

    __slots__ = ("sign", "start")

    def __init__(self, sign: float, start: float) -> None:
        super().__init__()
        self.sign, self.start = sign, start

    def __missing__(self, value: float) -> str:
        text = f"{self.sign * (value - self.start):.4f}"
        word = self[value] = _trimmed(text) if text[-1] == "0" else text
        return word


class Pencil:
    """Writes drawing coordinates as SVG coordinates.

    Args:
        left: Drawing x of the page's left edge, mm.
        top: Drawing y of the page's upper edge, mm.

    Attributes:
        xs: The word for each x of the drawing.
        ys: The word for each y of the drawing.
    """

    def __init__(self, left: float, top: float) -> None:
        self.xs, self.ys = Words(1.0, left), Words(-1.0, top)

    @staticmethod
    def number(value: float, digits: int = 4) -> str:
        """A number without needless zeros."""
        return _trimmed(f"{value:.{digits}f}")

    def path(self, path: Path) -> str:
        """The path as path data."""
        points, bulges, xs, ys = path.points, path.bulges, self.xs, self.ys
        x, y = points[0]
        before_x, before_y = xs[x], ys[y]
        if len(points) == 2 and not bulges and not path.closed:
            x, y = points[1]
            word_x, word_y = xs[x], ys[y]
            if word_x == before_x:
                return f"M{before_x} {before_y}V{word_y}"
            if word_y == before_y:
                return f"M{before_x} {before_y}H{word_x}"
            return f"M{before_x} {before_y}L{word_x} {word_y}"
        words = [f"M{before_x} {before_y}"]
        for (x, y), bulge in zip(points[1:], bulges or repeat(0.0), strict=False):
            word_x, word_y = xs[x], ys[y]
            if bulge:
                words.append(self._arc((before_x, before_y), (word_x, word_y), bulge))
            elif word_x == before_x:
                words.append(f"V{word_y}")
            elif word_y == before_y:
                words.append(f"H{word_x}")
            else:
                words.append(f"L{word_x} {word_y}")
            before_x, before_y = word_x, word_y
        if path.closed:
            if bulges and bulges[-1]:
                x, y = points[0]
                words.append(self._arc((before_x, before_y), (xs[x], ys[y]), bulges[-1]))
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


def _trimmed(text: str) -> str:
    """A decimal without needless zeros."""
    text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
