"""The folded panels as slabs of board, and how near or how deep each two of them are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..blank import Blank, Panel
from ..geometry.arc import Point
from ..style.design import Design
from .pose import Array, Bend, Pose, pose_panels

__all__ = ["CHORD_FOLDED", "Slab", "Slabs", "stand_up"]

CHORD_FOLDED = 0.05
"""mm. Chord tolerance of arcs in the folded model: a twentieth of a millimetre decides no clash that board feels."""


@dataclass(frozen=True)
class Slab:
    """One folded panel.

    Attributes:
        name: Name of the panel, with the name of its piece in front where there are several.
        panel: The flat panel.
        piece: Index of its piece in the design.
        flat: Its outline flattened, (m, 2), mm.
        rotation: (3, 3).
        offset: (3,), mm.
        half: Half the board thickness, mm.
    """

    name: str
    panel: Panel | None
    piece: int
    flat: Array
    rotation: Array
    offset: Array
    half: float

    @cached_property
    def corners(self) -> Array:
        """Corners in space, (2m, 3): the outer side first, then the inner side, mm."""
        middle = self.flat @ self.rotation[:, :2].T + self.offset
        up = self.rotation[:, 2] * self.half
        return np.concatenate((middle - up, middle + up))

    @cached_property
    def hull(self) -> tuple[Array, Array]:
        """Outward normals (e, 2) and offsets (e,) of the convex hull of the outline: inside is n·p ≤ c."""
        points = _hull(self.flat)
        ahead = np.roll(points, -1, axis=0) - points
        length = np.hypot(ahead[:, 0], ahead[:, 1])
        normals = np.column_stack((ahead[:, 1], -ahead[:, 0])) / length[:, None]
        return normals, np.einsum("ij,ij->i", normals, points)


@dataclass(frozen=True)
class Slabs:
    """All folded panels of a design, with what clash and measuring need.

    Attributes:
        items: The slabs.
        thickness: Board thickness, mm.
    """

    items: tuple[Slab, ...]
    thickness: float

    @cached_property
    def starts(self) -> Array:
        """Where the corners of each slab begin in ``corners``."""
        counts = [2 * len(item.flat) for item in self.items]
        return np.concatenate(([0], np.cumsum(counts)[:-1]))  # type: ignore[return-value]  # indices, whole numbers

    @cached_property
    def corners(self) -> Array:
        """Corners of all slabs, (N, 3), mm."""
        return np.concatenate([item.corners for item in self.items])

    @cached_property
    def low(self) -> Array:
        """Least corner of each slab's bounding box, (n, 3), mm."""
        return np.minimum.reduceat(self.corners, self.starts, axis=0)  # type: ignore[arg-type,no-any-return]

    @cached_property
    def high(self) -> Array:
        """Greatest corner of each slab's bounding box, (n, 3), mm."""
        return np.maximum.reduceat(self.corners, self.starts, axis=0)  # type: ignore[arg-type,no-any-return]

    def index(self, name: str) -> int:
        """Index of a slab by its name."""
        return next(i for i, item in enumerate(self.items) if item.name == name)

    def with_box(self, low: Array, high: Array) -> Slabs:
        """The same slabs and, as the last one, the free space of a box."""
        size = high - low
        flat = np.array(((0.0, 0.0), (size[0], 0.0), (size[0], size[1]), (0.0, size[1])))
        middle = low + np.array((0.0, 0.0, size[2] / 2))
        box = Slab("the inside", None, -1, flat, np.eye(3), middle, size[2] / 2)
        return Slabs((*self.items, box), self.thickness)

    def gaps(self) -> Mapping[tuple[int, int], float]:
        """For each pair (i < j) whose bounding boxes meet: how far some face of one keeps off the other, mm.

        Negative is how deep they overlap as their faces see it; 0 is touching. Convex hulls stand for the outlines,
        so a negative value is a reason to look closer, a value of 0 or more is proof that they do not overlap.
        """
        low, high = self.low, self.high
        near = np.all((low[:, None] <= high[None]) & (low[None] <= high[:, None]), axis=2)
        np.fill_diagonal(near, False)
        starts = self.starts.astype(int)
        ends = [*starts[1:].tolist(), len(self.corners)]
        found: dict[tuple[int, int], float] = {}
        for i, item in enumerate(self.items):
            others = np.flatnonzero(near[i]).tolist()
            if not others:
                continue
            corners = np.concatenate([self.corners[starts[j] : ends[j]] for j in others])
            local = (corners - item.offset) @ item.rotation
            counts = np.cumsum([0, *(ends[j] - starts[j] for j in others)][:-1])
            normals, limits = item.hull
            beside = np.minimum.reduceat(local[:, :2] @ normals.T - limits, counts, axis=0).max(axis=1)
            above = np.minimum.reduceat(local[:, 2], counts) - item.half
            below = -item.half - np.maximum.reduceat(local[:, 2], counts)
            gap = np.maximum(np.maximum(above, below), beside)
            for j, value in zip(others, gap.tolist(), strict=True):
                pair = (i, j) if i < j else (j, i)
                found[pair] = max(value, found.get(pair, -np.inf))
        return found


def stand_up(design: Design, thickness: float, bends: Sequence[Bend | None] | None = None) -> Slabs:
    """The slabs of a design in its finished state, or in another.

    Args:
        design: The design.
        thickness: Board thickness, mm.
        bends: For each piece, angle and shift of each fold; None takes the finished box.
    """
    items: list[Slab] = []
    several = len(design.pieces) > 1
    for number, piece in enumerate(design.pieces):
        poses = pose_panels(piece.blank, piece.stand, bends[number] if bends else None)
        items += _slabs(piece.blank, poses, number, thickness, f"{piece.name}: " if several else "")
    return Slabs(tuple(items), thickness)


def _slabs(blank: Blank, poses: Mapping[str, Pose], piece: int, thickness: float, prefix: str) -> list[Slab]:
    return [
        Slab(
            prefix + panel.name,
            panel,
            piece,
            np.array(panel.outline.flatten(CHORD_FOLDED)),
            *poses[panel.name],
            thickness / 2,
        )
        for panel in blank.panels
    ]


def _hull(flat: Array) -> Array:
    """Convex hull of an outline, counter-clockwise (Andrew's monotone chain); an outline that is convex stays itself."""
    points: list[Point] = [(x, y) for x, y in flat.tolist()]
    if _convex(points):
        return flat
    points.sort()

    def half(run: list[Point]) -> list[Point]:
        kept: list[Point] = []
        for p in run:
            while len(kept) > 1 and _left(kept[-2], kept[-1], p) <= 0:
                kept.pop()
            kept.append(p)
        return kept[:-1]

    return np.array(half(points) + half(points[::-1]))


def _convex(points: list[Point]) -> bool:
    count = len(points)
    return all(_left(points[i - 2], points[i - 1], points[i]) > 0 for i in range(count))


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
