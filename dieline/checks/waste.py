"""The pieces of waste: what falls out of a blank, and what is left between it and the edge of its sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..drawing.model import Drawing
from ..geometry.arc import Point
from .chords import CHORD_SPACING, Loop
from .spacing import Spacing

__all__ = ["WastePiece", "least_width", "waste_pieces"]

_AT_EDGE = CHORD_SPACING + 1e-6
"""mm. A point this near to the edge of the sheet lies on it: an arc that touches it does so between two chord ends."""

_LEAST_AREA = 0.01
"""mm². Less is rounding, not waste."""

_SMALL, _CHORD_SMALL = 15.0, 0.002
"""mm. The arcs of holes up to so large are taken finer, since their width is held against a punch's."""


@dataclass(frozen=True, slots=True)
class WastePiece:
    """One piece of waste.

    Attributes:
        area: Its area, mm².
        inner: Whether it is cut out all round, so that it falls out by itself; otherwise it lies at the edge of the
            sheet and hangs on the trim, where there is any.
        corners: Its outline, arcs as chords.
        parts: The lines and arcs of the drawing that bound it.
        stroke: Index of the stroke that cuts it.
    """

    area: float
    inner: bool
    corners: Sequence[Point]
    parts: frozenset[int]
    stroke: int

    @property
    def place(self) -> Point:
        """A point among its corners, drawing coordinates."""
        count = len(self.corners)
        return sum(x for x, _ in self.corners) / count, sum(y for _, y in self.corners) / count

    @property
    def across(self) -> float:
        """Greatest side of the upright rectangle round it, mm."""
        return _across(self.corners)


def waste_pieces(drawing: Drawing, spacing: Spacing) -> tuple[WastePiece, ...]:
    """Every piece of waste of a blank cut from the smallest sheet that holds it.

    Args:
        drawing: The drawing.
        spacing: What was measured on it.
    """
    found: list[WastePiece] = []
    for loop in spacing.loops:
        if loop.outline:
            found += _pockets(loop, drawing.width, drawing.height)
        else:
            path = drawing.strokes[loop.stroke].path
            corners = loop.points
            if any(loop.arcs) and _across(corners) <= _SMALL:
                corners = path.flatten(_CHORD_SMALL)
            found.append(WastePiece(abs(path.area), True, corners, frozenset(loop.parts), loop.stroke))
    return tuple(found)


def _pockets(loop: Loop, width: float, height: float) -> Iterator[WastePiece]:
    """What lies between the outline and the edge of the sheet, from one touch of the edge to the next."""
    points, parts, count = loop.points, loop.parts, len(loop.points)
    half, whole = width + height, 2 * (width + height)
    sheet = ((0.0, (0.0, 0.0)), (width, (width, 0.0)), (half, (width, height)), (half + width, (0.0, height)))
    touches = [(i, along) for i, (x, y) in enumerate(points) if (along := _along_edge(x, y, width, height)) is not None]
    for number, (b, end) in enumerate(touches):
        a, start = touches[number - 1]
        steps = (b - a) % count or count
        if steps == 1:
            (x0, y0), (x1, y1) = points[a], points[b]
            if abs(x0 - x1) <= _AT_EDGE or abs(y0 - y1) <= _AT_EDGE:
                continue  # a straight edge that lies on the edge of the sheet
        run = [(a + step) % count for step in range(steps + 1)]
        way = (end - start) % whole
        passed = sorted((ahead, corner) for at, corner in sheet if 0.0 < (ahead := (at - start) % whole) < way)
        corners = [*(points[i] for i in reversed(run)), *(corner for _, corner in passed)]
        area = _area(corners)
        if area > _LEAST_AREA:
            yield WastePiece(area, False, corners, frozenset(parts[i] for i in run[:-1]), loop.stroke)


def _along_edge(x: float, y: float, width: float, height: float) -> float | None:
    """How far round the sheet a point lies, counter-clockwise from the lower left; None if it is not on the edge."""
    if y <= _AT_EDGE:
        return x
    if x >= width - _AT_EDGE:
        return width + y
    if y >= height - _AT_EDGE:
        return width + height + (width - x)
    if x <= _AT_EDGE:
        return 2 * width + height + (height - y)
    return None


def _across(points: Sequence[Point]) -> float:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _area(points: Sequence[Point]) -> float:
    total = 0.0
    x0, y0 = points[-1]
    for x1, y1 in points:
        total += x0 * y1 - x1 * y0
        x0, y0 = x1, y1
    return total / 2


def least_width(piece: WastePiece, spacing: Spacing) -> float:
    """The narrowest place of a piece of waste, mm.

    Between two knives that face each other across it if there are any; otherwise across the whole piece.

    Args:
        piece: The piece.
        spacing: What was measured on its drawing.
    """
    across = (pair.distance for pair in spacing.facing if pair.waste and piece.parts.issuperset(pair.parts))
    return min((*across, _calliper_width(piece.corners)))


def _calliper_width(points: Sequence[Point]) -> float:
    """Least distance of two parallel lines that hold all points between them; one lies along a side of the hull."""
    hull = np.array(_hull(points))
    side = np.roll(hull, -1, axis=0) - hull
    normal = np.column_stack((-side[:, 1], side[:, 0])) / np.hypot(side[:, 0], side[:, 1])[:, None]
    across = normal @ hull.T
    return float((across.max(axis=1) - across.min(axis=1)).min())


def _hull(points: Sequence[Point]) -> list[Point]:
    """Convex hull, counter-clockwise (Andrew's monotone chain)."""
    ordered = sorted(set(points))

    def half(run: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for p in run:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], p) <= 0:
                kept.pop()
            kept.append(p)
        return kept[:-1]

    return half(ordered) + half(ordered[::-1])


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
