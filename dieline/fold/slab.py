"""The folded panels as slabs of board, and how near or how deep each two of them are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..blank import Blank, Face, Panel
from ..geometry.arc import Point
from ..style.design import Design, Stand
from .near import Faces3, Layers, boxes_of, face_gaps, overlapping
from .pose import Array, Bend, Pose, pose_panels

__all__ = ["CHORD_FOLDED", "Slab", "Slabs", "prefixes", "slabs_of", "stand_up"]

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
    def hull(self) -> Array:
        """Corners of the convex hull of the outline, counter-clockwise, (m, 2), mm."""
        return _hull(self.flat)


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
    def poses(self) -> tuple[Array, Array]:
        """Rotations (n, 3, 3) and offsets (n, 3) of all slabs."""
        return np.array([item.rotation for item in self.items]), np.array([item.offset for item in self.items])

    @cached_property
    def halves(self) -> Array:
        """Half thickness of each slab, (n,), mm."""
        return np.array([item.half for item in self.items])

    @cached_property
    def hulls(self) -> Array:
        """Hull corners of each slab, (n, m, 2), padded with the last corner."""
        hulls = [item.hull for item in self.items]
        most = max(len(hull) for hull in hulls)
        return np.array([hull if len(hull) == most else _padded(hull, most) for hull in hulls])

    @cached_property
    def layers(self) -> Layers:
        """The hulls in space."""
        rotations, offsets = self.poses
        middle = self.hulls @ rotations[:, :, :2].transpose(0, 2, 1) + offsets[:, None, :]
        return Layers(middle, rotations[:, :, 2] * self.halves[:, None])

    @cached_property
    def corners(self) -> Array:
        """Hull corners in space, (n, 2m, 3): the outer side first, then the inner side, mm."""
        return self.layers.corners

    @cached_property
    def boxes(self) -> tuple[Array, Array]:
        """Least and greatest corners of the slabs' bounding boxes, (n, 3) each, mm."""
        return boxes_of(self.layers)

    @property
    def low(self) -> Array:
        """Least corner of each slab's bounding box, (n, 3), mm."""
        return self.boxes[0]

    @property
    def high(self) -> Array:
        """Greatest corner of each slab's bounding box, (n, 3), mm."""
        return self.boxes[1]

    @cached_property
    def spans(self) -> list[tuple[list[float], list[float]]]:
        """Least and greatest corner of each slab's bounding box as plain numbers, mm."""
        return list(zip(self.low.tolist(), self.high.tolist(), strict=True))

    def index(self, name: str) -> int:
        """Index of a slab by its name."""
        return next(i for i, item in enumerate(self.items) if item.name == name)

    def with_box(self, low: Sequence[float], high: Sequence[float]) -> Slabs:
        """The same slabs and, as the last one, the free space of a box."""
        (x, y, z), (length, breadth, height) = low, np.subtract(high, low).tolist()
        flat = np.array(((0.0, 0.0), (length, 0.0), (length, breadth), (0.0, breadth)))
        box = Slab("the inside", None, -1, flat, np.eye(3), np.array((x, y, z + height / 2)), height / 2)
        return Slabs((*self.items, box), self.thickness)

    @cached_property
    def turned(self) -> list[list[list[float]]]:
        """The rotation of each slab without its signs, as plain numbers."""
        return np.abs(self.poses[0]).tolist()  # type: ignore[no-any-return]  # numpy's own annotation is Any

    @cached_property
    def near(self) -> list[tuple[int, int]]:
        """Each pair (i < j) whose bounding boxes do more than touch, in order."""
        i, j = np.nonzero(overlapping(*self.boxes))
        return [(a, b) for a, b in zip(i.tolist(), j.tolist(), strict=True) if a < b]

    def gaps(self, pairs: Sequence[tuple[int, int]] | None = None) -> Mapping[tuple[int, int], float]:
        """For some pairs, or all near ones: how far some face of one keeps off the other, mm.

        Negative is how deep they overlap as their faces see it; 0 is touching. Convex hulls stand for the outlines,
        so a negative value is a reason to look closer, a value of 0 or more is proof that they do not overlap.
        """
        pairs = self.near if pairs is None else pairs
        if not pairs:
            return {}
        rotations, offsets = self.poses
        i, j = np.array(pairs).T
        seen, other = np.concatenate((i, j)), np.concatenate((j, i))
        gaps = face_gaps(self.corners[other], rotations[seen], offsets[seen], self.faces.of(seen))
        return dict(zip(pairs, gaps.max(axis=1).reshape(2, -1).max(axis=0).tolist(), strict=True))

    @property
    def faces(self) -> Faces3:
        """The faces of the hulls."""
        return Faces3(*self.edges, self.halves)

    @cached_property
    def edges(self) -> tuple[Array, Array]:
        """Outward normals (n, m, 2) and offsets (n, m) of the hulls' edges: inside is normal·p ≤ offset."""
        hulls = self.hulls
        ahead = np.concatenate((hulls[:, 1:], hulls[:, :1]), axis=1) - hulls
        length = np.hypot(ahead[:, :, 0], ahead[:, :, 1])
        padding = length < 1e-12
        length[padding] = 1.0
        normals = np.stack((ahead[:, :, 1], -ahead[:, :, 0]), axis=2) / length[:, :, None]
        limits = (normals * hulls).sum(axis=2)
        limits[padding] = np.inf
        return normals, limits


def _padded(hull: Array, most: int) -> Array:
    return np.concatenate((hull, np.repeat(hull[-1:], most - len(hull), axis=0)))


def stand_up(
    design: Design, thickness: float, bends: Mapping[str, Bend] | Sequence[Bend | None] | None = None
) -> Slabs:
    """The slabs of a design in its finished state, or in another.

    Args:
        design: The design.
        thickness: Board thickness, mm.
        bends: For each piece (by its place in the design), angle and shift of each fold; None takes the finished box.
    """
    items: list[Slab] = []
    for number, piece in enumerate(design.pieces):
        bend = None if bends is None else bends.get(piece.name) if isinstance(bends, Mapping) else bends[number]
        for prefix, stand in zip(prefixes(design, number), piece.stands, strict=True):
            blank = piece.folded if stand is piece.stand else _turned(piece.folded, piece.stand, stand)
            items += slabs_of(blank, pose_panels(blank, stand, bend), number, thickness, prefix)
    return Slabs(tuple(items), thickness)


def _turned(blank: Blank, first: Stand, stand: Stand) -> Blank:
    """The blank with the faces that its panels make where it stands a further time: turned with its stand."""
    ways = [np.column_stack((s.u, s.v, np.cross(s.u, s.v))) for s in (first, stand)]
    turn = ways[1] @ ways[0].T
    faces = {}
    for face in Face:
        out = turn[:, face.axis] * (1.0 if face.far else -1.0)
        axis = int(np.abs(out).argmax())
        faces[face] = next(other for other in Face if other.axis == axis and other.far == (out[axis] > 0))
    panels = (replace(panel, face=faces[panel.face]) if panel.face else panel for panel in blank.panels)
    return replace(blank, panels=tuple(panels))


def prefixes(design: Design, number: int) -> list[str]:
    """What stands before the names of a piece's panels, for each time that the piece stands in the box."""
    piece = design.pieces[number]
    if len(piece.stands) > 1:
        return [f"{piece.name} {place}: " for place in range(1, len(piece.stands) + 1)]
    return [f"{piece.name}: " if len(design.pieces) > 1 else ""]


def slabs_of(blank: Blank, poses: Mapping[str, Pose], piece: int, thickness: float, prefix: str = "") -> list[Slab]:
    """The slabs of one blank in the poses given, their names with a prefix."""
    outlines = [panel.outline.flatten(CHORD_FOLDED) for panel in blank.panels]
    points = np.array([point for outline in outlines for point in outline])
    slabs, start, half = [], 0, thickness / 2
    for panel, outline in zip(blank.panels, outlines, strict=True):
        flat = points[start : start + len(outline)]
        slabs.append(Slab(prefix + panel.name, panel, piece, flat, *poses[panel.name], half))
        start += len(outline)
    return slabs


def _hull(flat: Array) -> Array:
    """Convex hull of an outline, counter-clockwise (Andrew's monotone chain); a convex outline stays itself."""
    points: list[Point] = flat.tolist()
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
    (ax, ay), (bx, by) = points[-2:]
    for cx, cy in points:
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) <= 0:
            return False
        ax, ay, bx, by = bx, by, cx, cy
    return True


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
