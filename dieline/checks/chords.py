"""The strokes of a drawing as straight pieces that know what they belong to and where the board lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import accumulate

from ..drawing.model import Drawing
from ..geometry.arc import Point
from ..geometry.path import Path
from ..linetypes import Meaning

__all__ = ["CHORD_SPACING", "Chords", "Kind", "Loop"]

CHORD_SPACING = 0.05
"""mm. Chord tolerance of arcs here: a fiftieth of the least distance of knives decides nothing."""

_OPEN = -9
"""Stands for the number of parts of a path that is not closed: its last part is no neighbour of its first."""


class Kind(IntEnum):
    """What lies beside a stroke."""

    CREASE = 0
    OPEN = 1
    LOOP = 2


_KINDS = {
    Meaning.CREASE: Kind.CREASE,
    Meaning.CREASE_BACK: Kind.CREASE,
    Meaning.CUT_CREASE: Kind.CREASE,
    Meaning.PERFORATION: Kind.OPEN,
    Meaning.HALF_CUT: Kind.OPEN,
    Meaning.CUT: Kind.OPEN,
}


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed cut, walked with the board on its left.

    Attributes:
        stroke: Index of the stroke in the drawing.
        outline: Whether it is the outline; otherwise what lies within falls out.
        points: Its points, arcs as chords.
        parts: For each chord that begins at a point, the index of its part.
        arcs: Whether that part is an arc.
    """

    stroke: int
    outline: bool
    points: Sequence[Point]
    parts: Sequence[int]
    arcs: Sequence[int]


class Chords:
    """Straight pieces of all strokes, and the lines and arcs (parts) that they make up."""

    def __init__(self) -> None:
        self.ends: list[tuple[float, float, float, float]] = []
        self.starts: list[int] = []  # the first chord of each part
        self.tags: list[tuple[int, int, int, int]] = []  # for each part: kind, stroke, parts of its loop, arc
        self.loops: list[Loop] = []
        self.free_ends: list[tuple[float, float, int]] = []

    def add(self, number: int, drawing: Drawing) -> None:
        """The chords of one stroke, a closed cut turned so that the board is on its left."""
        stroke = drawing.strokes[number]
        kind = _KINDS.get(stroke.meaning)
        if kind is None:
            return
        path = stroke.path
        if path.closed and kind is not Kind.CREASE:
            kind = Kind.LOOP
            path = _board_left(path, outline=stroke.outline)
        points, parts, arcs = self._parts(path)
        size = parts[-1] + 1 - parts[0]
        whole = size if kind is Kind.LOOP else _OPEN
        bent = arcs if len(arcs) == size else dict(zip(parts, arcs, strict=True)).values()
        self.tags += [(kind, number, whole, arc) for arc in bent]
        if kind is Kind.LOOP:
            self.loops.append(Loop(number, stroke.outline, points, parts, arcs))
        elif kind is Kind.OPEN and not path.closed:
            self.free_ends += [(*points[0], number), (*points[-1], number)]

    def _parts(self, path: Path) -> tuple[Sequence[Point], Sequence[int], Sequence[int]]:
        """Adds the chords of a path; its points and, for each chord, its part and whether that is an arc."""
        first, chord = len(self.starts), len(self.ends)
        if path.straight:
            points: Sequence[Point] = path.points
            steps = len(points) if path.closed else len(points) - 1
            parts: Sequence[int] = range(first, first + steps)
            arcs: Sequence[int] = (0,) * steps
            self.starts += range(chord, chord + steps)
        else:
            points = path.flatten(CHORD_SPACING)
            counts, bent = _curved(points, path)
            parts = [first + i for i, count in enumerate(counts) for _ in range(count)]
            arcs = [arc for arc, count in zip(bent, counts, strict=True) for _ in range(count)]
            self.starts += accumulate(counts[:-1], initial=chord)
        ahead = (*points[1:], points[0]) if path.closed else points[1:]
        self.ends += [(*p, *q) for p, q in zip(points, ahead, strict=False)]
        return points, parts, arcs


def _board_left(path: Path, *, outline: bool) -> Path:
    """A closed cut walked with the board on its left: the outline counter-clockwise, cut-outs clockwise."""
    points = path.points if path.straight else path.flatten(CHORD_SPACING)
    return path.reversed() if _clockwise(points) == outline else path


def _clockwise(points: Sequence[Point]) -> bool:
    total = 0.0
    x0, y0 = points[-1]
    for x1, y1 in points:
        total += x0 * y1 - x1 * y0
        x0, y0 = x1, y1
    return total < 0


def _curved(points: Sequence[Point], path: Path) -> tuple[list[int], list[int]]:
    """How many chords each segment of a flattened path has, and which segments are arcs."""
    counts: list[int] = []
    arcs: list[int] = []
    at = 0
    for _, end, bulge in path.segments():
        begin = at
        at += 1
        while bulge and points[at % len(points)] != end:
            at += 1
        counts.append(at - begin)
        arcs.append(int(bulge != 0.0))
    return counts, arcs
