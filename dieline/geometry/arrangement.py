"""Collinear segments brought together: who lies on which part of which line, with nothing doubled.

Segments of many outlines are sorted onto the infinite lines (or circles) that carry them and cut where any of them
begins or ends. Each elementary part then knows every outline that runs along it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product
from typing import NamedTuple

from .arc import Point, arc_between
from .tolerance import CLOSE_POINTS, SAME_LINE

__all__ = ["Carrier", "Carriers", "Part"]

_FINE = 1.0e5
"""Keys are whole numbers of 1e-5 mm (or 1e-5 of a unit vector): coarser than rounding, finer than any tool."""

_MIDWAY = 0.4
"""Farther than this from a whole number, in the unit of the keys, a rounding error may make another key of it."""

Key = tuple[int, int, int, int]
"""Three whole numbers that tell a carrier, and its kind: 0 a line, 1 a circle."""


class Part(NamedTuple):
    """An elementary part of a line or circle.

    Attributes:
        p: Where it begins, on the way of its first owner.
        q: Where it ends.
        bulge: Its bulge, 0 on a line.
        owners: The outlines that run along it (indices as given), in the order they were added.
    """

    p: Point
    q: Point
    bulge: float
    owners: tuple[int, ...]


@dataclass(slots=True)
class Carrier:
    """A line or circle and the segments on it.

    Attributes:
        spans: (from, to, owner, way): where each segment lies along the carrier; way is +1 or -1.
    """

    origin: Point
    along: Point
    radius: float = 0.0
    spans: list[tuple[float, float, int, int]] = field(default_factory=list)

    def at(self, s: float) -> Point:
        """The point at a place along the carrier: mm on a line, radians on a circle."""
        if self.radius:
            return self.origin[0] + self.radius * math.cos(s), self.origin[1] + self.radius * math.sin(s)
        return self.origin[0] + s * self.along[0], self.origin[1] + s * self.along[1]

    def parts(self) -> list[Part]:
        """The elementary parts, in order."""
        spans = self.spans
        low, high, owner, way = spans[0]
        if len(spans) == 1:
            return [self._part(low, high, way, (owner,))]
        if len(spans) == 2 and abs(low - spans[1][0]) + abs(high - spans[1][1]) < SAME_LINE:
            return [self._part(low, high, way, (owner, spans[1][2]))]
        close = CLOSE_POINTS / self.radius if self.radius else CLOSE_POINTS
        stops: list[float] = []
        for stop in sorted([span[0] for span in spans] + [span[1] for span in spans]):
            if not stops or stop - stops[-1] > close:
                stops.append(stop)
        owners: list[tuple[int, ...]] = [()] * len(stops)
        ways = [0] * len(stops)
        for low, high, owner, way in spans:
            # A stop stands for all that are close above it.
            for place in range(bisect_right(stops, low) - 1, bisect_right(stops, high) - 1):
                owners[place] += (owner,)
                ways[place] = ways[place] or way
        return [
            self._part(stops[place], stops[place + 1], way, sharing)
            for place, (way, sharing) in enumerate(zip(ways, owners, strict=True))
            if sharing
        ]

    def _part(self, low: float, high: float, way: int, owners: tuple[int, ...]) -> Part:
        if self.radius:
            bulge = math.tan((high - low) / 4)
            p, q = self.at(low), self.at(high)
            return Part(p, q, bulge, owners) if way > 0 else Part(q, p, -bulge, owners)
        (ox, oy), (ux, uy) = self.origin, self.along
        p, q = (ox + low * ux, oy + low * uy), (ox + high * ux, oy + high * uy)
        return Part(p, q, 0.0, owners) if way > 0 else Part(q, p, 0.0, owners)


class Carriers:
    """All carriers of a drawing; segments are added one by one."""

    def __init__(self) -> None:
        self._by_key: dict[Key, Carrier] = {}

    def __iter__(self) -> Iterator[Carrier]:
        return iter(self._by_key.values())

    def add(self, p: Point, q: Point, bulge: float, owner: int) -> None:
        """Add a segment of the outline ``owner``."""
        if bulge:
            self._add_arc(p, q, bulge, owner)
            return
        (px, py), (qx, qy) = p, q
        if px == qx:  # upright, as half of the edges of most blanks are; level ones are the other half
            ux, uy, c = 0.0, 1.0, -px
        elif py == qy:
            ux, uy, c = 1.0, 0.0, py
        else:
            length = math.hypot(qx - px, qy - py)
            ux, uy = (qx - px) / length, (qy - py) / length
            if ux < -SAME_LINE or (ux < SAME_LINE and uy < 0):
                ux, uy = -ux, -uy
            c = ux * py - uy * px
        key = round(ux * _FINE), round(uy * _FINE), round(c * _FINE), 0
        carrier = self._by_key.get(key) or self._near(key, (ux, uy, c))
        if carrier is None:
            carrier = self._by_key[key] = Carrier((-uy * c, ux * c), (ux, uy))
        (ox, oy), (ux, uy) = carrier.origin, carrier.along
        a, b = (px - ox) * ux + (py - oy) * uy, (qx - ox) * ux + (qy - oy) * uy
        carrier.spans.append((a, b, owner, 1) if a <= b else (b, a, owner, -1))

    def _add_arc(self, p: Point, q: Point, bulge: float, owner: int) -> None:
        arc = arc_between(p, q, bulge)
        (cx, cy), radius = arc.centre, arc.radius
        key = round(cx * _FINE), round(cy * _FINE), round(radius * _FINE), 1
        carrier = self._by_key.get(key) or self._near(key, (cx, cy, radius))
        if carrier is None:
            carrier = self._by_key[key] = Carrier(arc.centre, (1.0, 0.0), radius)
        low, high = sorted((arc.start, arc.start + arc.sweep))
        # The same place on a circle must always have the same angle: begin within one turn from -π.
        turn = 2 * math.pi * math.floor((low + math.pi) / (2 * math.pi) + 1e-9)
        carrier.spans.append((low - turn, high - turn, owner, 1 if bulge > 0 else -1))

    def _near(self, key: Key, numbers: tuple[float, float, float]) -> Carrier | None:
        """The carrier whose numbers are so near to these that only a rounding error parts their keys."""
        i, j, k, kind = key
        a, b, c = numbers
        if abs(a * _FINE - i) <= _MIDWAY and abs(b * _FINE - j) <= _MIDWAY and abs(c * _FINE - k) <= _MIDWAY:
            return None
        around = product((i, i - 1, i + 1), (j, j - 1, j + 1), (k, k - 1, k + 1), (kind,))
        return next((self._by_key[near] for near in around if near in self._by_key), None)
