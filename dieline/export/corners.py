"""Whether the faces of a file are the panels of the blank corner for corner: then nothing is left to compare."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from ..blank import Blank
from ..drawing.model import Side
from .faces import GRID, Faces, Point, flat_points

__all__ = ["CLOSE", "same_corners"]

CLOSE = 2 * GRID
"""mm. The rounding of the file and that of its faces add up to no more; a fifth of what a size may be off."""

_NOWHERE = (math.inf, math.inf)


def same_corners(faces: Faces, blank: Blank, side: Side) -> bool:
    """Whether each face is one panel, corner for corner and with nothing beside its edges, to 0.002 mm.

    A yes proves the file: every line in it bounds a face and runs along an edge, and every edge is drawn, once. A no
    may only mean that the blank has holes, marks or bends that are not drawn, and is a reason to look closer.

    Args:
        faces: The faces measured on the file, lower left corner of the blank at the origin.
        blank: What it was drawn from.
        side: The side that the file shows.
    """
    panels = blank.panels
    if not faces.tidy or len(faces.polygons) != len(panels) or any(panel.holes or panel.marks for panel in panels):
        return False
    if None in [*(fold.meaning for fold in blank.folds), *(seam.meaning for seam in blank.seams)]:
        return False
    x0, y0, x1, _ = blank.bounds
    outlines = [flat_points(panel.outline.points, panel.outline.bulges, True) for panel in panels]
    if side is Side.INSIDE:
        outlines = [[(x - x0, y - y0) for x, y in outline] for outline in outlines]
    else:
        outlines = [[(x1 - x, y - y0) for x, y in outline] for outline in outlines]
    waiting = {number: _bounds(outline) for number, outline in enumerate(outlines)}
    points, start = shapely.get_coordinates(faces.polygons).tolist(), 0
    for count in shapely.get_num_coordinates(faces.polygons).tolist():
        ring = points[start : start + count - 1]
        start += count
        box = _bounds(ring)
        panel = next((number for number, wanted in waiting.items() if _near(box, wanted)), None)
        if panel is None or not _same_ring(ring, outlines[panel]):
            return False
        del waiting[panel]
    return True


def _bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _near(box: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Whether two bounds are the same; most differ in the first number already."""
    return all(abs(a - b) <= CLOSE for a, b in zip(box, other, strict=True))


def _same_ring(ring: Sequence[Point], outline: Sequence[Point]) -> bool:
    """Whether a face runs round an outline, one way or the other."""
    x, y = outline[0]
    for number, (px, py) in enumerate(ring):
        if abs(px - x) <= CLOSE and abs(py - y) <= CLOSE:
            onward = [*ring[number + 1 :], *ring[: number + 1]]
            return _runs_along(onward, outline) or _runs_along([*onward[-2::-1], onward[-1]], outline)
    return False


def _runs_along(points: Sequence[Point], outline: Sequence[Point]) -> bool:
    """Whether points reach every corner after the first in turn; between two they may only lie on the edge."""
    corners = iter(outline)
    px, py = next(corners)
    qx, qy = next(corners)
    for x, y in points:
        if abs(x - qx) <= CLOSE and abs(y - qy) <= CLOSE:
            px, py = qx, qy
            qx, qy = next(corners, _NOWHERE)
            continue
        ux, uy, vx, vy = qx - px, qy - py, x - px, y - py
        along, length = ux * vx + uy * vy, math.hypot(ux, uy)
        if not (abs(ux * vy - uy * vx) <= CLOSE * length and 0.0 < along < length * length):
            return False
    return qx == math.inf
