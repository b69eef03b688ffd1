"""The flat proof: the strokes, taken together, bound exactly the panels, in one piece, with nothing doubled."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from ..blank import Blank
from ..geometry.arc import Point
from ..geometry.path import Path
from ..geometry.tolerance import AREA_RELATIVE, CHORD, MIN_STROKE, NODING
from ..linetypes import Meaning
from ..units import format_mm
from .corners import outlines_of, same_corners
from .model import Drawing
from .strokes import Stroke, StrokeRole

__all__ = ["FlatReport", "prove_flat"]


@dataclass(frozen=True, slots=True)
class FlatReport:
    """What the flat proof found.

    Attributes:
        faces: Faces that the strokes bound.
        area: Area of board, by exact arcs, mm².
        failures: One line for each failure; empty when the proof holds.
        measured: Whether the faces are the panels corner for corner, to 0.002 mm, and no stroke is left over: then
            all that is known of the panels is known of the strokes.
    """

    faces: int
    area: float
    failures: tuple[str, ...]
    measured: bool = False


Geometries = NDArray[np.object_]

_LINES = shapely.GeometryType.MULTILINESTRING


def prove_flat(blank: Blank, drawing: Drawing) -> FlatReport:
    """Prove that the strokes of a drawing are the blank and nothing else.

    Exactly, with true arcs: the outline less what is cut out of it has the area of all panels, so no two panels
    overlap in the flat. By Shapely: the strokes, noded, bound as many faces as there are panels, with their areas;
    none runs over another; no cut crosses a fold.
    """
    failures: list[str] = []
    outlines = [stroke.path for stroke in drawing.strokes if stroke.outline]
    cut_outs = [stroke.path for stroke in drawing.strokes if stroke.role is StrokeRole.GAP]
    if len(outlines) != 1:
        failures.append(f"the blank has {len(outlines)} outlines, not one; the panels do not hang together")
    loose = [path for path in cut_outs if _winding(path, drawing) > 0]
    if loose:
        failures.append(f"{len(loose)} part(s) of the blank are not joined to the rest; hang them on a panel")
    areas = _groups(blank)
    board = sum(areas.values())
    bounded = sum(abs(path.area) for path in outlines) - sum(abs(path.area) for path in cut_outs)
    if abs(board - bounded) > AREA_RELATIVE * board + 1e-6:
        failures.append(
            f"the panels have {format_mm(board)} mm², the outline bounds {format_mm(bounded)} mm²; "
            "two panels overlap in the flat, or a gap between them is not cut"
        )
    failures += _short(drawing)
    faces, faults, measured = _faces(list(areas.values()), blank, drawing)
    failures += faults
    return FlatReport(faces, blank.area, tuple(failures), measured and not failures)


def _winding(path: Path, drawing: Drawing) -> float:
    """Positive for a loop with board inside it; mirrored drawings turn the other way."""
    return path.area if drawing.side.value == "inside" else -path.area


def _short(drawing: Drawing) -> list[str]:
    faults = []
    for stroke in drawing.strokes:
        for p, q, bulge in stroke.path.segments():
            if abs(p[0] - q[0]) < MIN_STROKE and abs(p[1] - q[1]) < MIN_STROKE and bulge == 0.0:
                x, y = format_mm(p[0]), format_mm(p[1])
                faults.append(f"a stroke of {stroke.name} at ({x}, {y}) is shorter than {MIN_STROKE} mm; tools lose it")
    return faults


def _flat(path: Path) -> list[Point]:
    points = path.flatten(CHORD)
    if path.closed:
        points.append(points[0])
    return points


_SHIFT = 1 / math.pi


def _lines(strokes: Sequence[Stroke]) -> shapely.MultiLineString:
    """The strokes in chords, one line for each."""
    points: list[Point] = []
    ends = [0]
    for stroke in strokes:
        points += _flat(stroke.path)
        ends.append(len(points))
    # On the grid a stroke that ends on an upright or level one ends exactly on it. The grid is shifted by no round
    # part of itself: sizes are round numbers, which would else fall midway between its lines and go either way.
    rows = (np.rint(np.array(points) / NODING - _SHIFT) + _SHIFT) * NODING
    return shapely.from_ragged_array(_LINES, rows, (ends, (0, len(strokes))))[0]


def _arranged(lines: shapely.MultiLineString, wanted: int) -> tuple[shapely.Geometry, Geometries, bool]:
    """The strokes noded, the faces that they bound, and whether each stroke bounds one.

    Strokes that end on leaning ones are snapped if need be.
    """
    noded = shapely.union_all([lines])
    faces, cuts, dangles, _ = shapely.polygonize_full([noded])
    polygons: Geometries = shapely.get_parts(faces)
    if len(polygons) != wanted:
        noded = shapely.union_all([lines], grid_size=NODING)
        faces, cuts, dangles, _ = shapely.polygonize_full([noded])
        polygons = shapely.get_parts(faces)
    return noded, polygons, bool(cuts.is_empty and dangles.is_empty)


def _faces(expected: list[float], blank: Blank, drawing: Drawing) -> tuple[int, list[str], bool]:
    """Faces that the parting strokes bound, what is wrong with them, and whether they are the panels just so.

    Args:
        expected: Areas of the panels, mm².
        blank: The blank.
        drawing: Its drawing.
    """
    parting = [stroke for stroke in drawing.strokes if stroke.role.parts]
    inner = [stroke for stroke in drawing.strokes if not stroke.role.parts]
    lines = _lines(parting)
    empty = [stroke for stroke in parting if stroke.role is StrokeRole.GAP]
    noded, polygons, tidy = _arranged(lines, len(expected) + len(empty))
    faults: list[str] = []
    length, whole = lines.length, noded
    if inner:
        marks = _lines(inner)
        length += marks.length
        whole = shapely.union_all([noded, marks], grid_size=NODING)
        faults += _crossings(parting, shapely.get_parts(lines), inner, shapely.get_parts(marks))
    doubled = length - whole.length
    if doubled > MIN_STROKE:
        faults.append(f"{format_mm(doubled)} mm of strokes run over others; a tool would go there twice")
    if tidy and not (inner or faults) and _are_panels(polygons, blank, drawing):
        return len(polygons), faults, True
    areas = sorted(shapely.area(polygons).tolist())
    if len(polygons) != len(expected) + len(empty):
        faults.append(
            f"the strokes bound {len(polygons)} faces, but there are {len(expected)} panels and {len(empty)} gaps; "
            "a stroke is missing or one too many"
        )
    wanted = sorted([*expected, *(abs(stroke.path.area) for stroke in empty)])
    arcs = sum(stroke.path.length for stroke in parting if stroke.path.bulges)
    slack = (arcs * CHORD) + float(shapely.length(noded)) * NODING + 1e-6
    if len(wanted) == len(areas):
        worst = max(abs(area - other) for area, other in zip(areas, wanted, strict=True))
        if worst > slack + AREA_RELATIVE * max(wanted):
            faults.append(f"a face differs from its panel by {format_mm(worst)} mm²; a stroke is out of place")
    return len(polygons), faults, False


def _are_panels(polygons: Geometries, blank: Blank, drawing: Drawing) -> bool:
    if len(polygons) != len(blank.panels):
        return False
    outlines = outlines_of(blank, drawing.side, _flat)
    return outlines is not None and same_corners(polygons, outlines)


def _crossings(parting: Sequence[Stroke], lines: Geometries, inner: Sequence[Stroke], marks: Geometries) -> list[str]:
    """Cuts inside panels that cross a fold or the outline."""
    cuts = [i for i, stroke in enumerate(inner) if stroke.meaning is Meaning.CUT]
    faults = []
    for i in cuts:
        for j in np.flatnonzero(shapely.intersects(lines, marks[i])).tolist():
            faults.append(f"{inner[i].name} meets {parting[j].name}; move it away")
        for j in np.flatnonzero(shapely.intersects(marks, marks[i])).tolist():
            # The slit and the hinge of one hand hole belong together.
            if i != j and inner[i].name.split(" on ")[0] != inner[j].name.split(" on ")[0]:
                faults.append(f"{inner[i].name} meets {inner[j].name}; move one of them")
    return faults


def _groups(blank: Blank) -> dict[str, float]:
    """Area of each panel, panels that only bend into each other taken together, mm²."""
    head = {panel.name: panel.name for panel in blank.panels}
    for fold in blank.folds:
        if fold.meaning is None:
            head[fold.child] = head[fold.parent]
    areas: dict[str, float] = {}
    for name, area in zip(head.values(), blank.areas, strict=True):
        areas[name] = areas.get(name, 0.0) + area
    return areas
