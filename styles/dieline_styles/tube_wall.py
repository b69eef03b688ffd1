"""The outline of one wall of a tube: slots taken out of its corners, notches out of its raw edges."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from dieline.style import Path, Point

from .end import Wall

if TYPE_CHECKING:
    from .tube import Tube

__all__ = ["wall_outline"]


def wall_outline(tube: Tube, wall: Wall) -> Path:
    """The wall with the slots' ends taken out of its corners, counter-clockwise from the lower left."""
    left = right = None
    for other in tube.walls:
        if abs(other.x1 - wall.x0) < 1e-9:
            left = other
        elif abs(other.x0 - wall.x1) < 1e-9:
            right = other
    corners = (
        _corner(tube, wall, wall.x0, left, 0),
        tube.ends[0].edge(tube, wall.index),
        _back(_corner(tube, wall, wall.x1, right, 0)),
        _corner(tube, wall, wall.x1, right, 1),
        tube.ends[1].edge(tube, wall.index),
        _back(_corner(tube, wall, wall.x0, left, 1)),
    )
    steps = [step for corner in corners for step in corner]
    bulges = tuple([bulge for _, bulge in steps])
    return Path(tuple([point for point, _ in steps]), bulges if any(bulges) else (), closed=True)


def _corner(tube: Tube, wall: Wall, x: float, other: Wall | None, end: int) -> list[tuple[Point, float]]:
    """A corner from the upright side to the crease: each point with the bulge of the step that follows it."""
    y = (wall.low, wall.high)[end]
    if other is None or tube.ends[end].level(wall.index, wall.long) is None:
        return [((x, y), 0.0)]
    slot, depth, round_end = tube.ends[end].slot()
    if not slot:
        return [((x, y), 0.0)]
    inward = slot / 2 if x == wall.x0 else -slot / 2
    up = 1.0 if end == 1 else -1.0
    bottom = (min(wall.high, other.high) - depth) if end == 1 else (max(wall.low, other.low) + depth)
    if round_end:
        shoulder = bottom + up * slot / 2
        bulge = math.tan(math.pi / 8) * (1.0 if inward * up > 0 else -1.0)
        corner = [((x, bottom), bulge), ((x + inward, shoulder), 0.0)]
        return corner if abs(shoulder - y) < 1e-9 else [*corner, ((x + inward, y), 0.0)]
    if abs(bottom - y) < 1e-9:
        return [((x, y), 0.0)]
    return [((x, bottom), 0.0), ((x + inward, bottom), 0.0), ((x + inward, y), 0.0)]


def _back(corner: list[tuple[Point, float]]) -> list[tuple[Point, float]]:
    """The same corner walked the other way."""
    if len(corner) == 1:
        return corner
    bulges = [-bulge for _, bulge in corner[:-1]]
    return [(point, bulge) for (point, _), bulge in zip(corner[::-1], [*bulges[::-1], 0.0], strict=True)]
