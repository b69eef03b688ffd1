"""The lines of a picture: outlines of shapes that touch, each line once."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray

from .pose import Array

__all__ = ["contours"]

TOUCH = 0.005
"""mm. Corners nearer than this are one corner, and lie on a line that passes so near: a fiftieth of the finest pen."""


def contours(shapes: NDArray[np.object_]) -> list[shapely.LineString]:
    """The outlines of polygons as lines between the points where they part, from left to right.

    Neighbours share their common edges only to the rounding of their corners; what lies together is drawn once.

    Args:
        shapes: Polygons and multipolygons, mm.
    """
    steps, corners = _steps(shapely.simplify(shapely.boundary(shapes), TOUCH / 2))
    if not len(steps):
        return []
    pairs = np.array(sorted(set(_parted(steps, corners))))
    merged = shapely.line_merge(shapely.multilinestrings(shapely.linestrings(corners[pairs])))
    lines = shapely.simplify(shapely.get_parts(merged), TOUCH / 2)
    return sorted(lines.tolist(), key=lambda line: list(line.coords))


def _steps(outlines: NDArray[np.object_]) -> tuple[NDArray[np.intp], Array]:
    """Every straight step as two numbers of corners, (n, 2), and the corners, (m, 2); near corners have one number."""
    points, of = shapely.get_coordinates(shapely.get_parts(outlines), return_index=True)
    dots = shapely.points(points)
    one, other = shapely.STRtree(dots).query(dots, predicate="dwithin", distance=TOUCH)
    number = np.arange(len(points))
    while True:
        # The least number runs through a cluster, from each corner to its neighbours.
        least = number.copy()
        np.minimum.at(least, one, number[other])
        if np.array_equal(least, number):
            break
        number = least
    within = np.flatnonzero(of[:-1] == of[1:])
    steps = np.column_stack((number[within], number[within + 1]))
    return steps[steps[:, 0] != steps[:, 1]], points


def _parted(steps: NDArray[np.intp], corners: Array) -> Iterator[tuple[int, int]]:
    """Each step parted at the corners that lie on it, as (lesser, greater) number."""
    used = np.unique(steps)
    dots = shapely.STRtree(shapely.points(corners[used]))
    on, which = dots.query(shapely.linestrings(corners[steps]), predicate="dwithin", distance=TOUCH)
    start, way = corners[steps[on, 0]], corners[steps[on, 1]] - corners[steps[on, 0]]
    along = ((corners[used[which]] - start) * way).sum(axis=1)
    order = np.lexsort((used[which], along, on))
    on, number = on[order], used[which][order]
    for k in np.flatnonzero((on[:-1] == on[1:]) & (number[:-1] != number[1:])).tolist():
        a, b = int(number[k]), int(number[k + 1])
        yield (a, b) if a < b else (b, a)
