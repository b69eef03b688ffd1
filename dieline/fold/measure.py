"""What is measured on the folded box: inside, clear space, outside, and slits in faces that should be shut."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely

from ..geometry.tolerance import CONTACT
from ..style.design import Closed
from .slab import Slab, Slabs

Triple = tuple[float, float, float]

_ALONG = ((1, 2), (0, 2), (0, 1))
"""The two axes along a face that stands across each."""

SNAP = 1e-6
"""mm. Grid on which shadows are united: plain unions lose area on edges that all but coincide."""

__all__ = ["Space", "clear_space", "free_space", "open_slit", "outside_size"]


@dataclass(frozen=True, slots=True)
class Space:
    """A box-shaped space between walls.

    Attributes:
        low: Its least corner, mm; minus infinity where no wall stands.
        high: Its greatest corner, mm; infinity where no wall stands.
    """

    low: Triple
    high: Triple

    @property
    def size(self) -> Triple:
        """Length, breadth and height, mm."""
        (x0, y0, z0), (x1, y1, z1) = self.low, self.high
        return x1 - x0, y1 - y0, z1 - z0

    def holds_part_of(self, low: Sequence[float], high: Sequence[float]) -> bool:
        """Whether a bounding box does more than touch it from the outside."""
        for least, near, far, greatest in zip(self.low, low, high, self.high, strict=True):
            if near + CONTACT >= greatest or least + CONTACT >= far:
                return False
        return True


def free_space(slabs: Slabs, tall: float) -> Space:
    """The space between the walls: for each face of the box, the innermost board of the panels that make it.

    Panels that may stand in the inside (a lap, a tuck) do not count. Where nothing makes a face, an open top, the
    space ends level with the raw rim of the walls.

    Args:
        slabs: The folded panels.
        tall: Height asked for, which says where an open end of walls without a rim of its own would be, mm.
    """
    return _space(slabs, tall, intruders=False)


def clear_space(slabs: Slabs, tall: float) -> Space:
    """The space that stays free when laps and tucks are counted too."""
    return _space(slabs, tall, intruders=True)


def _space(slabs: Slabs, tall: float, *, intruders: bool) -> Space:
    low, high = [-math.inf] * 3, [math.inf] * 3
    walls: list[tuple[int, list[float], list[float]]] = []
    leaning: list[tuple[Slab, int, bool]] = []
    for slab, turned, (near, far) in zip(slabs.items, slabs.turned, slabs.spans, strict=True):
        panel = slab.panel
        if panel is None or panel.face is None or (panel.intrudes and not intruders):
            continue
        axis, across = panel.face.axis, turned[panel.face.axis][2]
        if not panel.intrudes:
            walls.append((axis, near, far))
        if abs(across - 1.0) > 1e-9:
            if across > 0.3 and not panel.intrudes:
                leaning.append((slab, axis, panel.face.far))
        elif panel.face.far:
            high[axis] = min(high[axis], near[axis])
        else:
            low[axis] = max(low[axis], far[axis])
    for slab, axis, at_far_end in sorted(leaning, key=lambda entry: entry[1]):
        _lean(slab, axis, at_far_end, low, high)
    for axis in range(3):
        # An open end: the rims of the walls beside it bound the space.
        if math.isinf(low[axis]):
            low[axis] = max([near[axis] for across, near, _ in walls if across != axis], default=-math.inf)
        if math.isinf(high[axis]):
            high[axis] = min([far[axis] for across, _, far in walls if across != axis], default=math.inf)
    if math.isinf(high[2]) and math.isfinite(low[2]):
        high[2] = low[2] + tall
    return Space((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _lean(slab: Slab, axis: int, far: bool, low: list[float], high: list[float]) -> None:
    """Bound the space by a leaning panel: a wall where it meets the floor, a roof where it meets the walls.

    Walls come before roofs, so that the walls are known when a roof is looked at.
    """
    normal = slab.rotation[:, 2]
    inner = slab.offset + normal * (slab.half if (normal[axis] < 0) == far else -slab.half)
    others = [other for other in range(3) if other != axis]
    ends = [[low[2]] if axis != 2 and other == 2 else [low[other], high[other]] for other in others]
    places = []
    for first in ends[0]:
        for second in ends[1]:
            beside = sum(
                normal[other] * (value - inner[other])
                for other, value in zip(others, (first, second), strict=True)
                if abs(normal[other]) > 1e-12
            )
            places.append(float(inner[axis] - beside / normal[axis]))
    if any(not math.isfinite(place) for place in places):
        return
    if far:
        high[axis] = min(high[axis], *places)
    else:
        low[axis] = max(low[axis], *places)


def outside_size(slabs: Slabs) -> Triple:
    """Length, breadth and height over everything, mm."""
    x, y, z = (slabs.high.max(axis=0) - slabs.low.min(axis=0)).tolist()
    return x, y, z


def open_slit(slabs: Slabs, shut: Closed, space: Space) -> float:
    """Width of the widest opening in a face that should be shut, beyond the seam allowed; 0 if it is shut, mm.

    Cut-outs (hand holes, vents) are meant, so they do not count.
    """
    first, second = _ALONG[shut.face.axis]
    x0, y0, x1, y1 = (
        space.low[first] + CONTACT,
        space.low[second] + CONTACT,
        space.high[first] - CONTACT,
        space.high[second] - CONTACT,
    )
    makers = [
        (i, slab) for i, slab in enumerate(slabs.items) if slab.panel is not None and slab.panel.face is shut.face
    ]
    for i, slab in makers:
        low, high = slabs.spans[i]
        spans = low[first] <= x0 and low[second] <= y0 and high[first] >= x1 and high[second] >= y1
        if spans and len(slab.flat) == 4:
            return 0.0
    allowed = shut.seam / 2 + 10 * CONTACT
    if shut.window:
        return _slit_in(shapely.Polygon(shut.window), makers, first, second, allowed)
    rectangles = _rectangles(makers, slabs, first, second)
    if rectangles is not None and _covered((x0, y0, x1, y1), rectangles, allowed):
        return 0.0
    return _slit_in(shapely.box(x0, y0, x1, y1), makers, first, second, allowed)


def _slit_in(window: shapely.Polygon, makers: list[tuple[int, Slab]], first: int, second: int, allowed: float) -> float:
    """Width of the widest opening that the shadows of the slabs leave in a window, mm; 0 up to twice ``allowed``."""
    uncovered = window.difference(shapely.union_all(list(_shadows(makers, first, second)), grid_size=SNAP))
    left = uncovered.buffer(-allowed, join_style="mitre") if not uncovered.is_empty else uncovered
    if left.is_empty:
        return 0.0
    parts = shapely.get_parts(left)
    widths = [2 * shapely.length(shapely.maximum_inscribed_circle(part, tolerance=0.1)) for part in parts]
    return float(max(widths)) + 2 * allowed


Rectangle = tuple[float, float, float, float]


def _rectangles(makers: list[tuple[int, Slab]], slabs: Slabs, first: int, second: int) -> list[Rectangle] | None:
    """The shadows of the slabs if all of them are rectangles along the axes, else None."""
    found: list[Rectangle] = []
    for i, slab in makers:
        if len(slab.flat) != 4 or sum([part > 1e-12 for row in slabs.turned[i] for part in row]) != 3:
            return None
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = slab.flat.tolist()
        if not ((ax == dx and bx == cx and ay == by and cy == dy) or (ax == bx and cx == dx and by == cy and ay == dy)):
            return None
        low, high = slabs.spans[i]
        found.append((low[first], low[second], high[first], high[second]))
    return found


def _covered(window: Rectangle, rectangles: list[Rectangle], allowed: float) -> bool:
    """Whether the rectangles, each grown by ``allowed`` on every side, cover the window shrunk by as much.

    That is the same as: nothing wider than twice ``allowed`` stays open (growing and shrinking by a square).
    """
    x0, y0, x1, y1 = window[0] + allowed, window[1] + allowed, window[2] - allowed, window[3] - allowed
    grown = [(a - allowed, b - allowed, c + allowed, d + allowed) for a, b, c, d in rectangles]
    xs = sorted({x0, x1, *(x for a, _, c, _ in grown for x in (a, c) if x0 < x < x1)})
    ys = sorted({y0, y1, *(y for _, b, _, d in grown for y in (b, d) if y0 < y < y1)})
    for left, right in pairwise(xs):
        x = (left + right) / 2
        column = [(b, d) for a, b, c, d in grown if a < x < c]
        for bottom, top in pairwise(ys):
            y = (bottom + top) / 2
            if not any(b < y < d for b, d in column):
                return False
    return True


def _shadows(makers: Iterable[tuple[int, Slab]], first: int, second: int) -> Iterable[shapely.Geometry]:
    for _, slab in makers:
        corners = slab.corners[:, (first, second)]
        half = len(slab.flat)
        flat = abs(abs(slab.rotation[3 - first - second, 2]) - 1.0) < 1e-9
        yield shapely.Polygon(corners[:half]) if flat else shapely.MultiPoint(corners).convex_hull
