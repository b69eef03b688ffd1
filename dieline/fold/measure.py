"""What is measured on the folded box: inside, clear space, outside, and slits in faces that should be shut."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely


from ..geometry.tolerance import CONTACT
from ..style.design import Closed
from .pose import Array
from .slab import Slab, Slabs

__all__ = ["Space", "clear_space", "free_space", "open_slit", "outside_size"]


@dataclass(frozen=True, slots=True)
class Space:
    """A box-shaped space between walls.

    Attributes:
        low: Its least corner, (3,), mm; minus infinity where no wall stands.
        high: Its greatest corner, (3,), mm; infinity where no wall stands.
    """

    low: Array
    high: Array

    @property
    def size(self) -> Array:
        """Length, breadth and height, mm."""
        return self.high - self.low


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
    low, high = np.full(3, -np.inf), np.full(3, np.inf)
    for i, slab in enumerate(slabs.items):
        panel = slab.panel
        if panel is None or panel.face is None or (panel.intrudes and not intruders):
            continue
        axis = panel.face.axis
        if abs(abs(slab.rotation[axis, 2]) - 1.0) > 1e-9:
            continue
        if panel.face.far:
            high[axis] = min(high[axis], slabs.low[i, axis])
        else:
            low[axis] = max(low[axis], slabs.high[i, axis])
    # An open end: the rim of the walls bounds the space.
    rims = [i for i, slab in enumerate(slabs.items) if slab.panel is not None and _upright(slab)]
    for axis in range(3):
        if np.isinf(high[axis]) and rims:
            high[axis] = slabs.high[rims, axis].min() if axis == 2 else high[axis]
        if np.isinf(low[axis]) and rims:
            low[axis] = slabs.low[rims, axis].max() if axis == 2 else low[axis]
    if np.isinf(high[2]):
        high[2] = low[2] + tall
    return Space(low, high)


def _upright(slab: Slab) -> bool:
    panel = slab.panel
    return panel is not None and panel.face is not None and panel.face.axis != 2 and not panel.intrudes


def outside_size(slabs: Slabs) -> Array:
    """Length, breadth and height over everything, (3,), mm."""
    return slabs.high.max(axis=0) - slabs.low.min(axis=0)  # type: ignore[no-any-return]


def open_slit(slabs: Slabs, shut: Closed, space: Space) -> float:
    """Width of the widest opening in a face that should be shut, beyond the seam allowed; 0 if it is shut, mm.

    Cut-outs (hand holes, vents) are meant, so they do not count.
    """
    axis = shut.face.axis
    first, second = (other for other in range(3) if other != axis)
    x0, y0, x1, y1 = (
        space.low[first] + CONTACT,
        space.low[second] + CONTACT,
        space.high[first] - CONTACT,
        space.high[second] - CONTACT,
    )
    makers = [(i, slab) for i, slab in enumerate(slabs.items) if slab.panel is not None and slab.panel.face is shut.face]
    for i, slab in makers:
        low, high = slabs.low[i], slabs.high[i]
        spans = low[first] <= x0 and low[second] <= y0 and high[first] >= x1 and high[second] >= y1
        if spans and len(slab.flat) == 4:
            return 0.0
    window = shapely.box(x0, y0, x1, y1)
    uncovered = window.difference(shapely.union_all(list(_shadows(makers, first, second))))
    allowed = shut.seam / 2 + 10 * CONTACT
    left = uncovered.buffer(-allowed, join_style="mitre") if not uncovered.is_empty else uncovered
    if left.is_empty:
        return 0.0
    parts = shapely.get_parts(left)
    widths = [2 * shapely.length(shapely.maximum_inscribed_circle(part, tolerance=0.1)) for part in parts]
    return float(max(widths)) + 2 * allowed


def _shadows(makers: Iterable[tuple[int, Slab]], first: int, second: int) -> Iterable[shapely.Geometry]:
    for _, slab in makers:
        corners = slab.corners[:, (first, second)]
        half = len(slab.flat)
        flat = abs(abs(slab.rotation[3 - first - second, 2]) - 1.0) < 1e-9
        yield shapely.Polygon(corners[:half]) if flat else shapely.MultiPoint(corners).convex_hull


