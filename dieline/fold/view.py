"""The folded view: a design put up in board of its real thickness and drawn as one sees it, hidden parts left out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from ..errors import InputError
from ..geometry.arc import Point
from ..linetypes import Meaning
from ..style.design import Design
from .contour import contours
from .hidden import GRID, SLIVER_WIDTH, visible_parts, without_needles
from .pose import Array, Bend
from .skin import Patch, Skin, patches
from .slab import CHORD_FOLDED, Slab, stand_up

__all__ = ["View", "ViewFace", "ViewLine", "folded_view"]

LIGHT = (-0.35, 0.75, 0.55)
"""The way to the lamp, as the viewer sees it: from the left, from above and from behind the viewer."""

JOINT_GRID = 8 * GRID
"""mm. Faces that run on into each other are one surface where their edges agree to this."""

Shapes = NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class ViewFace:
    """What is seen of one flat piece of board.

    Attributes:
        rings: Outlines (counter-clockwise) and holes (clockwise) of its visible parts, mm on paper, y up.
        skin: Whether it is the outside, the inside or a raw edge of the board.
        panel: Name of its panel; the piece's name in front where there are several.
        shade: How much light falls on it, 0 to 1.
    """

    rings: tuple[tuple[Point, ...], ...]
    skin: Skin
    panel: str
    shade: float

    @property
    def area(self) -> float:
        """Visible area on paper, mm²."""
        return math.fsum(_ring_area(ring) for ring in self.rings)


@dataclass(frozen=True, slots=True)
class ViewLine:
    """A visible line.

    Attributes:
        points: Its corners, mm on paper, y up.
        meaning: What is done to the board along it where it is a mark inside a panel; None for an edge of the board.
    """

    points: tuple[Point, ...]
    meaning: Meaning | None = None


@dataclass(frozen=True, slots=True)
class View:
    """A folded box as one sees it, true to scale, the lower left corner of the picture at the origin.

    Attributes:
        faces: The visible faces; they do not overlap and together fill the silhouette.
        lines: Edges and marks to draw on top of them.
        width: Width of the picture, mm.
        height: Height of the picture, mm.
        origin: Where the corner 0, 0, 0 of the box's inside space lies in the picture, mm.
    """

    faces: tuple[ViewFace, ...]
    lines: tuple[ViewLine, ...]
    width: float
    height: float
    origin: Point


def folded_view(
    design: Design,
    thickness: float,
    *,
    turn: float = 30.0,
    tilt: float = 25.0,
    bends: Sequence[Bend | None] | None = None,
) -> View:
    """A design as seen from far away (no perspective), in its finished state or in another.

    Args:
        design: The design.
        thickness: Board thickness, mm.
        turn: How far the viewer has walked round from the front to the right, degrees.
        tilt: How far the viewer looks down, degrees, -90 to 90; negative looks up from below.
        bends: For each piece, angle and shift of each fold; None takes the finished box.

    Raises:
        InputError: If an angle is no number, or ``tilt`` is beyond straight down or up.
    """
    across = _camera(turn, tilt)
    slabs = stand_up(design, thickness, bends)
    found = patches(slabs, design, bends, across[2])
    normals = np.array([patch.normal for patch in found]) @ across.T
    seen = visible_parts(_pictures(found, across), _planes(found, normals, across))
    light = np.array(LIGHT) / math.hypot(*LIGHT)
    shades = 0.5 + 0.5 * (normals @ light)
    drawn = np.flatnonzero(~shapely.is_empty(seen)).tolist()
    x0, y0, x1, y1 = shapely.total_bounds(seen)
    corner = np.array((x0, y0))
    faces = tuple(
        ViewFace(
            tuple(_rings(seen[i], corner)),
            found[i].skin,
            slabs.items[found[i].slab].name,
            round(float(shades[i]), 6),
        )
        for i in drawn
    )
    edges = [
        ViewLine(_points(line, corner)) for line in contours(_surfaces((found[i].surface, seen[i]) for i in drawn))
    ]
    marks = [
        ViewLine(_points(line, corner), meaning)
        for i in drawn
        for meaning, line in _mark_lines(found[i], slabs.items[found[i].slab], seen[i], across)
    ]
    return View(faces, (*edges, *marks), float(x1 - x0), float(y1 - y0), (-float(x0), -float(y0)))


def _camera(turn: float, tilt: float) -> Array:
    """Rows: the ways to the right, up, and toward the viewer, in the coordinates of the box."""
    if not math.isfinite(turn):
        raise InputError("turn", f"{turn:g}", "it must be an angle in degrees")
    if not -90.0 <= tilt <= 90.0:
        raise InputError("tilt", f"{tilt:g}", "it must be from -90 (from below) to 90 degrees (from above)")
    ct, st = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    ci, si = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    return np.array(((ct, st, 0.0), (-st * si, ct * si, ci), (st * ci, -ct * ci, si)))


def _pictures(found: Sequence[Patch], across: Array) -> Shapes:
    """The patches as polygons in the picture."""
    quads = [i for i, patch in enumerate(found) if len(patch.rings) == 1 and len(patch.rings[0]) == 4]
    shapes = np.empty(len(found), dtype=object)
    if quads:
        shapes[quads] = shapely.polygons(np.array([found[i].rings[0] for i in quads]) @ across[:2].T)
    for i in sorted(set(range(len(found))).difference(quads)):
        outline, *holes = (ring @ across[:2].T for ring in found[i].rings)
        shapes[i] = shapely.Polygon(outline, holes)
    return shapes


def _planes(found: Sequence[Patch], normals: Array, across: Array) -> Array:
    """For each patch a, b and c: it lies at a·x + b·y + c toward the viewer, (n, 3)."""
    points = np.array([patch.rings[0][0] for patch in found]) @ across.T
    slopes = -normals[:, :2] / normals[:, 2:]
    rest = points[:, 2] - np.einsum("ij,ij->i", slopes, points[:, :2])
    return np.column_stack((slopes, rest))


def _surfaces(seen: Iterable[tuple[int, shapely.Geometry]]) -> Shapes:
    """The visible parts of each smooth surface as one shape."""
    surfaces: dict[int, list[shapely.Geometry]] = {}
    for surface, part in seen:
        surfaces.setdefault(surface, []).append(part)
    joined = [
        group[0] if len(group) == 1 else shapely.union_all(group, grid_size=JOINT_GRID) for group in surfaces.values()
    ]
    return without_needles(np.array(joined, dtype=object))[0]


def _mark_lines(
    patch: Patch, slab: Slab, seen: shapely.Geometry, across: Array
) -> Iterator[tuple[Meaning, shapely.LineString]]:
    """The visible parts of a panel's marks, on the side that is seen."""
    if slab.panel is None or not slab.panel.marks or abs(patch.normal @ slab.rotation[:, 2]) < 1.0 - 1e-9:
        return
    base = slab.offset + patch.normal * slab.half
    for mark in slab.panel.marks:
        points = mark.path.flatten(CHORD_FOLDED)
        if mark.path.closed:
            points.append(points[0])
        flat = np.array(points) @ slab.rotation[:, :2].T + base
        shown = shapely.intersection(shapely.LineString(flat @ across[:2].T), seen, grid_size=GRID)
        if shown.geom_type == "MultiLineString":
            shown = shapely.line_merge(shown)
        for line in shapely.get_parts(shown).tolist():
            if line.geom_type == "LineString" and line.length > SLIVER_WIDTH:
                yield mark.meaning, line


def _rings(seen: shapely.Geometry, corner: Array) -> Iterator[tuple[Point, ...]]:
    """Outline and holes of each visible part, the outline counter-clockwise, first point not repeated."""
    for part in shapely.get_parts(shapely.orient_polygons(seen)).tolist():
        for ring in (part.exterior, *part.interiors):
            yield _points(ring, corner)[:-1]


def _points(line: shapely.LineString, corner: Array) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in (shapely.get_coordinates(line) - corner).tolist())


def _ring_area(ring: Sequence[Point]) -> float:
    return math.fsum(ring[i - 1][0] * ring[i][1] - ring[i][0] * ring[i - 1][1] for i in range(len(ring))) / 2
