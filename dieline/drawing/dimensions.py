"""Dimension lines outside the blank: a chain of all creases and an overall line along each side, and the slot width.

They are taken from the strokes alone, so they serve every style. Nothing is written inside the blank.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from ..geometry.arc import Point
from ..geometry.path import Path
from ..linetypes import Meaning
from ..units import format_mm
from .model import Drawing
from .notes_text import DESCENT, Notes, text_width
from .strokes import Stroke, StrokeRole

__all__ = ["Chain", "draw_dimensions", "spread", "stations"]

MERGE = 0.05
"""Creases nearer than this stand for one station of a chain, mm: no rule is set finer."""

_FOLDING = (Meaning.CREASE, Meaning.CREASE_BACK, Meaning.CUT_CREASE, Meaning.PERFORATION)

# Distances from the dimension line outwards, in heights of capitals.
_GAP, _TICK, _BASE, _BEND, _LABEL = 0.6, 0.35, 0.45, 1.9, 3.0
_PITCH = 1.4
_END = 0.9
"""What turned numbers keep from the ends of the side, where the overall line's own lines run."""

_HALF = (1.0 - DESCENT) / 2
"""From the middle of a line of text down to its baseline."""


def stations(strokes: Iterable[Stroke], axis: int, extent: float) -> list[float]:
    """Where straight folds cross an axis at a right angle, with both ends of the blank, in order, mm.

    Args:
        strokes: The strokes of the drawing.
        axis: 0 for upright folds (stations along x), 1 for level ones (stations along y).
        extent: Size of the blank along that axis, mm.
    """
    found: set[float] = set()
    for stroke in strokes:
        if stroke.meaning not in _FOLDING or not (stroke.role is StrokeRole.FOLD or len(stroke.path.points) == 2):
            continue
        points = stroke.path.points
        for p, q in pairwise(points):
            if -1e-6 < p[axis] - q[axis] < 1e-6:
                found.add(p[axis])
    kept = [0.0]
    for value in sorted(found):
        if value - kept[-1] > MERGE and extent - value > MERGE:
            kept.append(value)
    return [*kept, extent]


class Chain:
    """Draws dimensions along one side of the blank, in coordinates u along the side and v away from the blank.

    Args:
        notes: Where the marks go.
        origin: Where u = 0 and v = 0 lie.
        upright: Whether the side is upright: u runs up and v to the left; else u runs right and v up.
        height: Height of capitals, mm.
    """

    def __init__(self, notes: Notes, origin: Point, upright: bool, height: float) -> None:
        self.notes, self.upright, self.h = notes, upright, height
        self.x, self.y = origin

    def point(self, u: float, v: float) -> Point:
        """The point (u, v) on the drawing."""
        return (self.x - v, self.y + u) if self.upright else (self.x + u, self.y + v)

    def row(self, ends: Sequence[float], v: float, start: float) -> None:
        """A dimension line through stations, with its ticks, and the lines that lead to it from ``start``."""
        h, point = self.h, self.point
        line = self.notes.line
        line(point(ends[0], v), point(ends[-1], v))
        tick = _TICK * h
        for u in ends:
            line(point(u, start), point(u, v + 0.5 * h))
            line(point(u - tick, v - tick), point(u + tick, v + tick))

    def along(self, text: str, u: float, v: float) -> None:
        """A number along the dimension line, standing on it."""
        x, y = self.point(u, v + _BASE * self.h)
        self.notes.text(text, x, y, self.h, "middle", 90.0 if self.upright else 0.0)

    def across(self, texts: Sequence[tuple[str, float]], v: float, extent: float) -> float:
        """Numbers too wide for their spans: turned, spread along the line, each at the end of a leader.

        Args:
            texts: Each number and the middle of its span, in order.
            v: The dimension line.
            extent: Length of the side, mm.

        Returns:
            How far out they reach.
        """
        end = min(_END * self.h, extent / 2)
        gaps = len(texts) - 1
        h = min(self.h, (extent - 2 * end) / gaps / _PITCH) if gaps else self.h
        places = spread([u for _, u in texts], _PITCH * h, end, extent - end)
        for (text, middle), u in zip(texts, places, strict=True):
            bend, label = v + _BEND * self.h, v + _LABEL * self.h
            tip = label - 0.3 * self.h
            if abs(u - middle) < 1e-6:
                self.notes.line(self.point(u, v), self.point(u, tip))
            else:
                self.notes.line(self.point(middle, v), self.point(middle, bend), self.point(u, tip))
            x, y = self.point(u, label)
            if self.upright:
                self.notes.text(text, x, y - _HALF * h, h, "end")
            else:
                self.notes.text(text, x + _HALF * h, y, h, "start", 90.0)
        return v + _LABEL * self.h + max(text_width(text, h) for text, _ in texts)

    def draw(self, places: Sequence[float]) -> float:
        """The chain through all stations and the overall line beyond it.

        Returns:
            How far out the dimensions reach, mm.
        """
        h, extent = self.h, places[-1]
        v, start = 2.2 * h, _GAP * h
        if len(places) > 2:
            self.row(places, v, start)
            narrow: list[tuple[str, float]] = []
            for a, b in pairwise(places):
                text = format_mm(b - a)
                if text_width(text, h) + h <= b - a:
                    self.along(text, (a + b) / 2, v)
                else:
                    narrow.append((text, (a + b) / 2))
            start = v + 0.5 * h
            v = self.across(narrow, v, extent) + 0.8 * h if narrow else v + 2.6 * h
        self.row((0.0, extent), v, start)
        text = format_mm(extent)
        if text_width(text, h) + h > extent:
            return self.across([(text, extent / 2)], v, extent) + 0.5 * h
        self.along(text, extent / 2, v)
        return v + 2.0 * h


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places as near to the wanted ones as they can be while a pitch apart and within bounds.

    Neighbours that are too close are taken together and centred on what they want.

    Args:
        wanted: The wanted places, in order.
        pitch: Least distance between two.
        low: Least place.
        high: Greatest place.

    Example:
        >>> spread([10.0, 11.0, 30.0], 4.0, 0.0, 100.0)
        [8.5, 12.5, 30.0]
    """
    blocks: list[tuple[float, int]] = []  # the first place of each run of touching labels, and how many there are
    for value in wanted:
        first, count = value, 1
        while True:
            first = max(low, min(first, high - (count - 1) * pitch))
            if not blocks or blocks[-1][0] + blocks[-1][1] * pitch <= first + 1e-9:
                break
            before, others = blocks.pop()
            first = (before * others + (first - others * pitch) * count) / (others + count)
            count += others
        blocks.append((first, count))
    return [first + i * pitch for first, count in blocks for i in range(count)]


def draw_dimensions(drawing: Drawing, slot: float, h: float) -> tuple[Notes, float, float, float]:
    """The dimensions of a blank: above it along x, left of it along y, a slot below it.

    Args:
        drawing: The cut drawing.
        slot: Width of the slots, mm; 0 for none.
        h: Height of capitals, mm.

    Returns:
        The marks, and how far they reach to the left of the blank, above it and below it, mm.
    """
    notes = Notes("dimensions")
    above = Chain(notes, (0.0, drawing.height), False, h).draw(stations(drawing.strokes, 0, drawing.width))
    left = Chain(notes, (0.0, 0.0), True, h).draw(stations(drawing.strokes, 1, drawing.height))
    at = _open_slot(drawing, slot) if slot > 0 else None
    if at is None:
        return notes, left, above, 0.0
    a, b, y = -2.2 * h, -1.6 * h, -_GAP * h
    for end, outward in ((at, -1.0), (at + slot, 1.0)):
        notes.line((end, y), (end, a))
        notes.line((end + outward * 2.2 * h, b), (end, b))
        notes.fill([(end, b), (end + outward * h, b + 0.22 * h), (end + outward * h, b - 0.22 * h)])
    notes.text(f"slot {format_mm(slot)}", at + slot + 2.6 * h, b - h / 2, h)
    return notes, left, above, 2.4 * h


def _open_slot(drawing: Drawing, slot: float) -> float | None:
    """Left edge of the first slot of that width that opens to the bottom of the blank; None if there is none."""
    outline = next((stroke.path for stroke in drawing.strokes if stroke.outline), None)
    if outline is None:
        return None
    # Walked with the board on its left, the outline goes up along the left edge of a slot; mirrored, down.
    ahead = 1.0 if outline.area > 0 else -1.0
    lefts: list[tuple[float, float]] = []
    rights: list[tuple[float, float]] = []
    for (px, py), (qx, qy), bulge in outline.segments():
        if bulge == 0.0 and -1e-6 < px - qx < 1e-6:
            (lefts if (qy - py) * ahead > 0 else rights).append((px, min(py, qy)))
    for x, low in sorted(lefts):
        for other, foot in rights:
            if abs(other - x - slot) < 1e-6 and not _covered(outline, x, other, max(low, foot)):
                return x
    return None


def _covered(outline: Path, x0: float, x1: float, y: float) -> bool:
    """Whether the outline comes between a slot that begins at height y and the bottom of the drawing."""
    left, right, high = x0 + 1e-6, x1 - 1e-6, y - 1e-6
    for (px, py), (qx, qy), _ in outline.segments():
        if (py < high or qy < high) and (px < right or qx < right) and (px > left or qx > left):
            return True
    return False
