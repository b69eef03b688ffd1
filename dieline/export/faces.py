"""The faces of strokes that were read back from a file: the linework is noded, and what it encloses is measured.

The strokes come from any reader, as (meaning or layer, points, bulges, closed) in mm. Nothing here shares code with
what was written: arcs are laid into chords anew, and faces know nothing of panels.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import shapely

from ..errors import InputError
from ..linetypes import TOOL_ORDER, Meaning
from ..machine import MachineProfile

__all__ = [
    "GAP",
    "GRID",
    "DoubledLine",
    "FaceBox",
    "Faces",
    "Numbers",
    "Shapes",
    "Written",
    "arrange",
    "by_meaning",
    "flat_points",
    "measure_faces",
]

Point = tuple[float, float]
Written = tuple[Hashable, Sequence[Point], Sequence[float], bool]
"""A stroke as read: its meaning or layer, points in mm, bulges (empty if all is straight), and whether it is closed."""

Numbers = npt.NDArray[np.float64]
Shapes = npt.NDArray[Any]

CHORD = 0.002
"""Greatest distance in mm between an arc and the chords that stand for it: a fifth of what a size may be off."""

GRID = 0.001
"""Coordinates are taken to the nearest multiple of this, mm: a tenth of what a size may be off."""

GAP = 0.005
"""mm. A line that ends this near to another one meets it; half of what a size may be off, and more than the rounding
of a file with three decimals leaves where a line ends on a slanting one."""

DOUBLED = 0.01
"""mm of line drawn twice from which it counts: as much as a size may be off."""


class FaceBox(NamedTuple):
    """Bounds and area of one face of the linework, mm and mm²."""

    x0: float
    y0: float
    x1: float
    y1: float
    area: float


class DoubledLine(NamedTuple):
    """A place where two strokes run over each other: the middle of it, and how long it is, mm."""

    x: float
    y: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Faces:
    """The faces of a drawing's linework.

    Attributes:
        polygons: The faces; a cut-out is a face too, and a hole in the one round it.
        lines: The noded linework.
        loose: Where lines end freely, [end, x or y], mm.
        doubled: Where strokes run over each other.
        lengths: Length of stroke by meaning or layer, mm.
        tidy: Whether every line bounds a face, as it stands in the file, and none is doubled.
    """

    polygons: Shapes
    lines: shapely.Geometry
    loose: Numbers
    doubled: tuple[DoubledLine, ...]
    lengths: Mapping[Any, float]
    tidy: bool

    @property
    def boxes(self) -> list[FaceBox]:
        """Bounds and area of every face, from left to right and then upward."""
        rows = np.column_stack((shapely.bounds(self.polygons), shapely.area(self.polygons)))
        return sorted(FaceBox(*row) for row in rows.tolist())


def by_meaning(strokes: Iterable[Written], profile: MachineProfile, *, where: str = "file") -> list[Written]:
    """Strokes whose layers are exchanged for what they mean.

    Args:
        strokes: Strokes by layer.
        profile: Names of the layers; a name of several meanings stands for the first that a tool acts on.
        where: Name of the file, for the error.

    Raises:
        InputError: If a layer means nothing to the profile.
    """
    meanings = profile.meanings
    found: list[Written] = []
    for layer, points, bulges, closed in strokes:
        meaning = meanings.get(str(layer).upper())
        if meaning is None:
            must = f"it must be a layer of machine profile '{profile.name or 'house'}'"
            raise InputError(
                where, f"strokes on layer '{layer}'", must, "name the profile that the file was written with"
            )
        found.append((meaning, points, bulges, closed))
    return found


def measure_faces(strokes: Iterable[Written]) -> Faces:
    """The faces that strokes part the plane into.

    Strokes of a meaning that no tool acts on (notes, glue, bleed, sheet edge) are left out; strokes known by their
    layer alone all count. Lines that end freely part nothing and change no face.

    Args:
        strokes: The strokes, mm, to three decimals or finer.
    """
    runs: list[Point] = []
    keys: list[Hashable] = []
    owners: list[int] = []
    for key, points, bulges, closed in strokes:
        if isinstance(key, Meaning) and key not in TOOL_ORDER:
            continue
        run = flat_points(points, bulges, closed)
        runs += run
        owners += [len(keys)] * len(run)
        keys.append(key)
    rows = np.rint(np.array(runs, dtype=np.float64).reshape(-1, 2) / GRID) * GRID
    lines = shapely.linestrings(rows, indices=np.array(owners, dtype=np.int64))
    lengths: dict[Hashable, float] = {}
    for key, length in zip(keys, shapely.length(lines).tolist(), strict=True):
        lengths[key] = lengths.get(key, 0.0) + length
    found = arrange(lines)
    return Faces(
        polygons=found.polygons,
        lines=found.lines,
        loose=found.loose,
        doubled=found.doubled,
        lengths=lengths,
        tidy=found.tidy,
    )


class Arranged(NamedTuple):
    """Lines cut where they meet, the faces between them, and what is amiss; see ``Faces``."""

    lines: shapely.Geometry
    polygons: Shapes
    loose: Numbers
    doubled: tuple[DoubledLine, ...]
    tidy: bool


def arrange(lines: Shapes) -> Arranged:
    """The lines cut where they meet, the faces between them, where they end freely, and where they are doubled.

    A line that ends on a slanting one misses it, or passes it, by a rounding error. So where lines end freely, those
    within the gap are drawn to their ends, and what juts out by less is left off.
    """
    noded, doubled = _noded(lines)
    faces, cuts, dangles, _ = shapely.polygonize_full([noded])
    loose: Numbers = np.empty((0, 2))
    whole = bool(shapely.is_empty(cuts) and shapely.is_empty(dangles))
    if not whole:
        parts = shapely.get_parts(noded)
        parts = parts[(_free_ends(parts)[1] == 0) | (shapely.length(parts) > GAP)]
        ends = shapely.points(_free_ends(parts)[0])
        # Two ends that belong together must be drawn to one of the two.
        first, second = shapely.STRtree(ends).query(ends, predicate="dwithin", distance=GAP)
        ends = np.delete(ends, second[first < second])
        noded, more = _noded(shapely.snap(parts, shapely.multipoints(ends), GAP))
        doubled += more
        faces = shapely.polygonize([noded])
        loose = _free_ends(shapely.get_parts(noded))[0]
    return Arranged(noded, shapely.get_parts(faces), loose, doubled, whole and not doubled)


def _free_ends(parts: Shapes) -> tuple[Numbers, npt.NDArray[np.int64]]:
    """The ends that no other part shares, and how many each part has."""
    ends = shapely.get_coordinates(shapely.get_point(parts, [[0], [-1]]))
    places, owner, counts = np.unique(ends, axis=0, return_inverse=True, return_counts=True)
    free = counts[owner.reshape(2, -1)] == 1
    return places[counts == 1], free.sum(axis=0)


def _noded(lines: Shapes) -> tuple[shapely.Geometry, tuple[DoubledLine, ...]]:
    """The lines cut where they meet, each once, and where there was more than one."""
    noded = shapely.union_all(lines)
    twice = float(shapely.length(lines).sum()) - float(shapely.length(noded)) > DOUBLED
    return noded, _doubled(lines) if twice else ()


def flat_points(points: Sequence[Point], bulges: Sequence[float], closed: bool) -> list[Point]:
    """A run of lines and arcs as a run of chords, from end to end; a closed one ends where it began."""
    ends = [*points, points[0]] if closed else list(points)
    if not any(bulges):
        return ends
    flat = [ends[0]]
    for number, bulge in enumerate(bulges):
        if bulge:
            flat += _arc_points(ends[number], ends[number + 1], bulge)
        flat.append(ends[number + 1])
    return flat


def _arc_points(p: Point, q: Point, bulge: float) -> list[Point]:
    """Points on an arc between its ends, the ends left out."""
    half = 2.0 * math.atan(bulge)  # half of the turned angle; the bulge is the tangent of a quarter of it
    across = complex(q[0] - p[0], q[1] - p[1])
    centre = complex(*p) + across * complex(0.5, 0.5 / math.tan(half))
    start = complex(*p) - centre
    step = 2.0 * math.acos(max(0.5, 1.0 - CHORD / abs(start)))
    count = math.ceil(2.0 * abs(half) / step)
    turns = start * np.exp(1j * np.linspace(0.0, 2.0 * half, count + 1)[1:-1]) + centre
    return list(zip(turns.real.tolist(), turns.imag.tolist(), strict=True))


def _doubled(lines: Shapes) -> tuple[DoubledLine, ...]:
    """Every place where two straight pieces run over each other."""
    corners, owner = shapely.get_coordinates(lines, return_index=True)
    same = owner[1:] == owner[:-1]
    pieces = shapely.linestrings(np.stack((corners[:-1][same], corners[1:][same]), axis=1))
    a, b = shapely.STRtree(pieces).query(pieces, predicate="intersects")
    shared = shapely.intersection(pieces[a[a < b]], pieces[b[a < b]])
    shared = shared[shapely.length(shared) > GRID]
    places, lengths = shapely.get_coordinates(shapely.centroid(shared)).tolist(), shapely.length(shared).tolist()
    return tuple(DoubledLine(x, y, length) for (x, y), length in zip(places, lengths, strict=True))
