"""Which part of each flat face is seen from in front: hidden surfaces are taken away exactly, as polygons."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.arc import Point
from .pose import Array

__all__ = ["GRID", "SLIVER_AREA", "SLIVER_WIDTH", "visible_parts", "without_needles"]

GRID = 2.0**-13
"""mm, about a ten-thousandth. Corners in the picture lie on this grid, so that faces that share an edge share it to the
last bit. A power of two: no size in millimetres or inches lies half-way between two of its lines, where the last bit
of a sum would decide."""

SLIVER_WIDTH = 0.01
"""mm. A visible part narrower than this on average is the rounding of two edges that meet, or board seen edge-on to
less than two degrees: no pen is so fine."""

SLIVER_AREA = 0.01
"""mm². A visible part smaller than this is not drawn: it is smaller than any pen."""

_SAME_DEPTH = 1e-4
"""mm. Parallel faces nearer than this, measured toward the viewer, lie in one plane."""

_SAME_LINE = 2e-3
"""mm in the picture. Faces that cross so near to the edge of their overlap only touch there."""

Parts = NDArray[np.object_]


def visible_parts(faces: Parts, planes: Array) -> Parts:
    """The part of each face that no other face hides.

    Faces may pierce each other: of two faces each hides the other only where it is the nearer one, which is a
    straight cut, because both are flat. Of faces in one plane the earlier one is shown.

    Args:
        faces: Shapely polygons in the picture, mm; the faces turned away from the viewer left out.
        planes: (n, 3): each face lies at a·x + b·y + c toward the viewer, mm.

    Returns:
        One polygon or multipolygon for each face, empty where it is hidden; slivers are dropped.
    """
    faces = shapely.set_precision(faces, GRID)
    seen = np.full(len(faces), shapely.Polygon(), dtype=object)
    # What lies behind a hidden face lies behind its hider too, so hidden faces need no further look.
    left = np.flatnonzero(~_wholly_hidden(faces, planes))
    faces, planes = faces[left], planes[left]
    hidden, overlap = _hiding_pairs(faces, planes)
    order = np.argsort(hidden, kind="stable")
    targets, starts = np.unique(hidden[order], return_index=True)
    groups = np.split(overlap[order], starts[1:]) if len(targets) else []
    covers = np.array([shapely.union_all(group, grid_size=GRID) for group in groups], dtype=object)
    faces[targets] = shapely.difference(faces[targets], covers, grid_size=GRID)
    seen[left] = faces
    return _without_slivers(seen)


def _wholly_hidden(faces: Parts, planes: Array) -> NDArray[np.bool_]:
    """Which faces lie wholly behind a single other one."""
    small, large = shapely.STRtree(faces).query(faces, predicate="covered_by")
    ahead = planes[large] - planes[small]
    least, _ = _extremes(faces[small], ahead)
    hidden = np.zeros(len(faces), dtype=bool)
    hidden[small[least > _SAME_DEPTH + _SAME_LINE * np.hypot(ahead[:, 0], ahead[:, 1])]] = True
    return hidden


def _hiding_pairs(faces: Parts, planes: Array) -> tuple[NDArray[np.intp], Parts]:
    """For each pair of which one hides a part of the other: the hidden one, and the part."""
    first, second = shapely.STRtree(faces).query(faces, predicate="intersects")
    apart = first < second
    first, second = first[apart], second[apart]
    shared, of = shapely.get_parts(shapely.intersection(faces[first], faces[second], grid_size=GRID), return_index=True)
    area, length = shapely.area(shared), shapely.length(shared)
    broad = area > 0.5 * _SAME_LINE * length
    shared, first, second = shared[broad], first[of[broad]], second[of[broad]]
    # Positive ahead: the second face is the nearer one there.
    ahead = planes[second] - planes[first]
    steep = np.hypot(ahead[:, 0], ahead[:, 1])
    least, most = _extremes(shared, ahead)
    close = _SAME_DEPTH + _SAME_LINE * steep
    crossing = (least < -close) & (most > close)
    behind = (most > close) & ~crossing
    before = ~behind & ~crossing
    k = np.flatnonzero(crossing)
    lifted, sunk = _split(shared[k], ahead[k], steep[k])
    hidden = np.concatenate((first[behind], second[before], first[k], second[k]))
    return hidden, np.concatenate((shared[behind], shared[before], lifted, sunk))


def _extremes(parts: Parts, planes: Array) -> tuple[Array, Array]:
    """Least and greatest value of a plane over the corners of its polygon."""
    points, of = shapely.get_coordinates(parts, return_index=True)
    if not len(points):
        return np.empty(0), np.empty(0)
    value = np.einsum("ij,ij->i", planes[of, :2], points) + planes[of, 2]
    starts = np.flatnonzero(np.diff(of, prepend=-1))
    return np.minimum.reduceat(value, starts), np.maximum.reduceat(value, starts)


def _split(parts: Parts, planes: Array, steep: Array) -> tuple[Parts, Parts]:
    """Each polygon cut along the line where its plane is 0: the part above 0 and the part below."""
    if not len(parts):
        return parts, parts
    bounds = shapely.bounds(parts)
    middle = (bounds[:, :2] + bounds[:, 2:]) / 2
    reach = np.hypot(bounds[:, 2] - bounds[:, 0], bounds[:, 3] - bounds[:, 1])[:, None] + 1.0
    up = planes[:, :2] / steep[:, None]
    along = np.column_stack((-up[:, 1], up[:, 0])) * 2 * reach
    rise = np.einsum("ij,ij->i", up, middle) + planes[:, 2] / steep
    foot = middle - up * rise[:, None]
    sides = []
    for far in (2 * reach * up, -2 * reach * up):
        half = shapely.polygons(np.stack((foot - along, foot + along, foot + along + far, foot - along + far), axis=1))
        sides.append(_areas(shapely.intersection(parts, half, grid_size=GRID)))
    return sides[0], sides[1]


def _areas(shapes: Parts) -> Parts:
    """What has area in each shape; touching may leave points and lines beside it."""
    mixed = shapely.get_type_id(shapes) == shapely.GeometryType.GEOMETRYCOLLECTION
    shapes[mixed] = [
        shapely.MultiPolygon([part for part in shape.geoms if part.area > 0.0]) for shape in shapes[mixed].tolist()
    ]
    shapes[shapely.area(shapes) == 0.0] = shapely.Polygon()
    return shapes


def _without_slivers(seen: Parts) -> Parts:
    """The visible parts without needles, and without parts that are too thin or too small to be board."""
    parts, of = without_needles(seen)
    area, length = shapely.area(parts), shapely.length(parts)
    broad = (area >= SLIVER_AREA) & (2 * area >= SLIVER_WIDTH * length)
    kept: list[list[shapely.Polygon]] = [[] for _ in seen]
    for i, part in zip(of[broad].tolist(), parts[broad].tolist(), strict=True):
        kept[i].append(part)
    shapes: list[shapely.Geometry] = [
        group[0] if len(group) == 1 else shapely.MultiPolygon(group) if group else shapely.Polygon() for group in kept
    ]
    return np.array(shapes, dtype=object)


def without_needles(shapes: Parts) -> tuple[Parts, NDArray[np.intp]]:
    """The polygons of some shapes without needles and notches too narrow to be seen, and of which shape each is."""
    parts, of = shapely.get_parts(shapes, return_index=True)
    for i in np.flatnonzero(_with_needles(parts)).tolist():
        parts[i] = _blunt(parts[i])
    parts, again = shapely.get_parts(parts, return_index=True)
    return parts, of[again]


def _with_needles(parts: Parts) -> NDArray[np.bool_]:
    """Which polygons have a corner that runs out and straight back again, or a side too short to be seen."""
    found = np.zeros(len(parts), dtype=bool)
    rings, owner = shapely.get_rings(parts, return_index=True)
    points, of = shapely.get_coordinates(rings, return_index=True)
    if not len(points):
        return found
    starts = np.flatnonzero(np.diff(of, prepend=-1))
    closing = np.append(starts[1:], len(points)) - 1
    here = np.delete(np.arange(len(points)), closing)
    before = here - 1
    before[np.searchsorted(here, starts)] = closing - 1
    back, on = points[before] - points[here], points[here + 1] - points[here]
    length = np.hypot(on[:, 0], on[:, 1])
    cross = np.abs(back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0])
    acute = (back * on).sum(axis=1) > 0
    needle = acute & (cross < _SAME_LINE * np.maximum(length, np.hypot(back[:, 0], back[:, 1])))
    found[owner[of[here[needle | (length < _SAME_LINE)]]]] = True
    return found


def _blunt(part: shapely.Polygon) -> shapely.Geometry:
    """A polygon without needles and sides too short to be seen."""
    rings = [_blunt_ring(list(ring.coords)[:-1]) for ring in (part.exterior, *part.interiors)]
    if len(rings[0]) < 3:
        return shapely.Polygon()
    blunt = shapely.Polygon(rings[0], [ring for ring in rings[1:] if len(ring) >= 3])
    return blunt if blunt.is_valid else shapely.set_precision(shapely.make_valid(blunt), GRID)


def _blunt_ring(ring: list[Point]) -> list[Point]:
    k, checked = 0, 0
    while len(ring) >= 3 and checked < len(ring):
        k %= len(ring)
        (ax, ay), (bx, by), (cx, cy) = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
        ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
        before, after = math.hypot(ux, uy), math.hypot(vx, vy)
        back = ux * vx + uy * vy < 0 and abs(ux * vy - uy * vx) < _SAME_LINE * max(before, after)
        if back or after < _SAME_LINE:
            del ring[k]
            k, checked = k - 1, 0
        else:
            k, checked = k + 1, checked + 1
    return ring if len(ring) >= 3 else []
