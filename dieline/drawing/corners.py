"""Whether faces are the panels of a blank corner for corner: then nothing is left to compare."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy.typing as npt
import shapely

from ..blank import Blank
from ..geometry.arc import Point
from ..geometry.path import Path, bounds_of
from .model import Side

__all__ = ["CLOSE", "outlines_of", "same_corners"]

CLOSE = 0.002
"""mm. The rounding of a file and that of its faces add up to no more; a fifth of what a size may be off."""

_NOWHERE = (math.inf, math.inf)

Outline = Sequence[Point]


def outlines_of(blank: Blank, side: Side, flatten: Callable[[Path], list[Point]]) -> list[Outline] | None:
    """The outlines of all panels where a drawing places them, each of which bounds one face of its linework.

    Args:
        blank: The blank.
        side: The side that the drawing shows.
        flatten: Lays a closed path into chords, as the faces were laid; from its first point back to it.

    Returns:
        None where a panel has holes or marks, or two panels bend into each other without a line: there faces and
        panels are not the same.
    """
    if any(panel.holes or panel.marks for panel in blank.panels):
        return None
    if None in [*(fold.meaning for fold in blank.folds), *(seam.meaning for seam in blank.seams)]:
        return None
    x0, y0, x1, _ = blank.bounds
    if side is Side.INSIDE:
        return [[(x - x0, y - y0) for x, y in flatten(panel.outline)] for panel in blank.panels]
    return [[(x1 - x, y - y0) for x, y in flatten(panel.outline)] for panel in blank.panels]


def same_corners(polygons: npt.NDArray[Any], outlines: Sequence[Outline]) -> bool:
    """Whether each face is one panel, corner for corner and with nothing beside its edges, to 0.002 mm.

    Args:
        polygons: The faces of linework of which every line bounds a face and none is doubled; then a yes proves it:
            every line runs along an edge, and every edge is drawn, once. A no is a reason to look closer.
        outlines: The panels, where the drawing places them.
    """
    if len(polygons) != len(outlines):
        return False
    waiting = [(*bounds_of(outline), outline) for outline in outlines]
    points, start = shapely.get_coordinates(polygons).tolist(), 0
    counts, boxes = shapely.get_num_coordinates(polygons).tolist(), shapely.bounds(polygons).tolist()
    for count, (x0, y0, x1, y1) in zip(counts, boxes, strict=True):
        ring = points[start : start + count - 1]
        start += count
        for place, (u0, v0, u1, v1, outline) in enumerate(waiting):
            # Most differ in the first number already.
            if abs(x0 - u0) <= CLOSE and abs(y0 - v0) <= CLOSE and abs(x1 - u1) <= CLOSE and abs(y1 - v1) <= CLOSE:
                if not _same_ring(ring, outline):
                    return False
                del waiting[place]
                break
        else:
            return False
    return True


def _same_ring(ring: Outline, outline: Outline) -> bool:
    """Whether a face runs round an outline, one way or the other."""
    # Faces are found clockwise, and panels run the other way.
    return _runs_round(ring[::-1], outline) or _runs_round(ring, outline)


def _runs_round(ring: Outline, outline: Outline) -> bool:
    x, y = outline[0]
    for number, (px, py) in enumerate(ring, 1):
        if abs(px - x) <= CLOSE and abs(py - y) <= CLOSE:
            return _runs_along([*ring[number:], *ring[:number]], outline)
    return False


def _runs_along(points: Outline, outline: Outline) -> bool:
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
        beside, square = ux * vy - uy * vx, ux * ux + uy * uy
        if not (beside * beside <= CLOSE * CLOSE * square and 0.0 < ux * vx + uy * vy < square):
            return False
    return qx == math.inf
