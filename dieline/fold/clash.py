"""Which slabs run into each other: those that some face keeps apart are done with at once, the rest are intersected."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..geometry.arc import Point
from ..geometry.tolerance import CLASH_VOLUME, CONTACT
from .slab import CHORD_FOLDED, Slab, Slabs

__all__ = ["Clash", "Crease", "find_clashes", "overlap_volume"]

BEND_ZONE = 1.6
"""Board thicknesses round a crease within which two fold neighbours are one bent piece of board, not two slabs."""

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Clash:
    """Two slabs that cannot both be there.

    Attributes:
        a: Name of the first.
        b: Name of the second.
        depth: How far one must move for them to be free, mm; of two in one plane, how far they overlap in it.
        volume: Volume that they share, mm³.
    """

    a: str
    b: str
    depth: float
    volume: float


@dataclass(frozen=True, slots=True)
class Crease:
    """Where two slabs are one board: round this line they may bend into each other.

    Attributes:
        line: Two points of it, blank coordinates.
        angle: How far it is folded, degrees.
        shift: How far the panel leaves it, mm.
    """

    line: tuple[Point, Point]
    angle: float
    shift: float


def find_clashes(
    slabs: Slabs,
    creases: Mapping[Pair, Crease],
    allowed: Mapping[Pair, float],
    skip: Collection[Pair] = (),
) -> list[Clash]:
    """Every pair of slabs that intrude on each other.

    Args:
        slabs: The slabs.
        creases: Pairs (i < j) that are one board, and where.
        allowed: Pairs (i < j) that may press into each other by so many mm.
        skip: Pairs (i < j) that are not tested.
    """
    limit = CLASH_VOLUME * slabs.thickness**3
    found: list[Clash] = []
    doubtful = []
    for pair in slabs.near:
        crease = creases.get(pair)
        if pair not in skip and not (crease and _astride(slabs.items[pair[0]], slabs.items[pair[1]], crease)):
            doubtful.append(pair)
    for pair, gap in slabs.gaps(doubtful).items():
        if gap >= -CONTACT or -gap <= allowed.get(pair, 0.0) + CONTACT:
            continue
        a, b = slabs.items[pair[0]], slabs.items[pair[1]]
        crease = creases.get(pair)
        volume = overlap_volume(a, b) if crease is None else _beyond_bend(a, b, crease, slabs.thickness)
        if volume > limit:
            found.append(Clash(a.name, b.name, _in_plane(a, b) or -gap, volume))
    return found


def _in_plane(a: Slab, b: Slab) -> float:
    """How far two slabs of one plane overlap in it, mm; 0 for slabs of different planes."""
    along = a.rotation[:, 2]
    if (
        abs(abs(float(along @ b.rotation[:, 2])) - 1.0) > 1e-9
        or abs(float(along @ (b.offset - a.offset))) > a.half / 10
    ):
        return 0.0
    from shapely import Polygon, minimum_rotated_rectangle  # only to tell of a clash

    laid = [np.column_stack((slab.flat, np.zeros(len(slab.flat)))) @ slab.rotation.T + slab.offset for slab in (a, b)]
    shapes = [Polygon((corners - a.offset) @ a.rotation[:, :2]).buffer(0) for corners in laid]
    shared = minimum_rotated_rectangle(shapes[0] & shapes[1])
    if shared.geom_type != "Polygon":
        return 0.0
    corners = np.array(shared.exterior.coords)
    return float(np.linalg.norm(np.diff(corners[:3], axis=0), axis=1).min())


def overlap_volume(a: Slab, b: Slab) -> float:
    """Volume that two slabs share, mm³, by an exact solid intersection (manifold3d)."""
    solid: Any = _solid(a) ^ _solid(b)
    return float(solid.volume())


def _solid(slab: Slab, clip: Any = None) -> Any:
    """The slab as a solid; ``clip`` is an optional cross-section to keep."""
    import manifold3d  # only where two slabs are in doubt: most boxes never get here

    contours = [slab.flat]
    if slab.panel is not None:
        contours += [np.array(hole.flatten(CHORD_FOLDED))[::-1] for hole in slab.panel.holes]
    section = manifold3d.CrossSection(contours, manifold3d.FillRule.EvenOdd)
    if clip is not None:
        section = section ^ clip
    matrix = np.column_stack((slab.rotation, slab.offset - slab.rotation[:, 2] * slab.half))
    return manifold3d.Manifold.extrude(section, 2 * slab.half).transform(matrix)


def _astride(a: Slab, b: Slab, crease: Crease) -> bool:
    """Whether two slabs lie on either side of their crease and are not folded back: then they share only the bend."""
    if abs(crease.angle) > 150.0:
        return False
    (px, py), (qx, qy) = crease.line
    length = math.hypot(qx - px, qy - py)
    nx, ny = -(qy - py) / length, (qx - px) / length
    foot = px * nx + py * ny
    one: list[float] = [x * nx + y * ny - foot for x, y in a.flat.tolist()]
    other: list[float] = [x * nx + y * ny - foot for x, y in b.flat.tolist()]
    return min(max(one), max(other)) <= CONTACT and max(min(one), min(other)) >= -CONTACT


def _beyond_bend(a: Slab, b: Slab, crease: Crease, t: float) -> float:
    """Volume that two fold neighbours share outside the bend itself, mm³."""
    reach = BEND_ZONE * t + abs(crease.shift)
    extent = max(float(np.abs(slab.flat).max()) for slab in (a, b))
    clip = _outside_strip(crease.line, reach, extent)
    solid: Any = _solid(a, clip) ^ _solid(b, clip)
    return float(solid.volume())


def _outside_strip(line: tuple[Point, Point], reach: float, extent: float) -> Any:
    """The plane without a strip of ``reach`` mm to either side of a crease line."""
    import manifold3d

    (px, py), (qx, qy) = line
    length = math.hypot(qx - px, qy - py)
    ux, uy = (qx - px) / length, (qy - py) / length
    far = 4 * extent + 4 * reach
    halves = []
    for sign in (1.0, -1.0):
        nx, ny = -uy * sign, ux * sign
        ox, oy = px + nx * reach, py + ny * reach
        corners = np.array(
            [
                (ox - ux * far, oy - uy * far),
                (ox + ux * far, oy + uy * far),
                (ox + ux * far + nx * far, oy + uy * far + ny * far),
                (ox - ux * far + nx * far, oy - uy * far + ny * far),
            ]
        )
        halves.append(manifold3d.CrossSection([corners], manifold3d.FillRule.NonZero))
    return halves[0] + halves[1]
