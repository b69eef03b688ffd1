"""What was read back from a file against the blank it was drawn from: every panel, every line, nothing twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from ..blank import Blank
from ..drawing.corners import CLOSE, outlines_of, same_corners
from ..drawing.model import Side
from ..geometry.path import Path, line
from ..geometry.tolerance import WRITTEN
from ..units import format_mm
from .faces import GRID, Faces, Numbers, Shapes, arrange, by_meaning, flat_points, measure_faces

__all__ = ["by_meaning", "compare", "compare_lengths", "corner_for_corner", "measure_faces"]

_CURE = "draw the file again, or put it right there"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Expected:
    """What the file must hold, where the drawing places it.

    Attributes:
        names: Panels that one face stands for; those joined by a bend that is not drawn are one.
        panels: Their shapes, cut-outs left out.
        marked: Whether marks inside may part them into several faces.
        edges: Every line that must be there: edges of panels and cut-outs, slits, and marks.
    """

    names: list[str]
    panels: Shapes
    marked: npt.NDArray[np.bool_]
    edges: Shapes


def compare(faces: Faces, blank: Blank, side: Side = Side.INSIDE, tolerance: float = WRITTEN) -> list[str]:
    """Everything in which a file differs from the blank, one line for each panel; nothing if they agree.

    Panels are found by place. Their width, height, position and area are compared, then every line of the file with
    every edge and mark of the blank both ways, and lines drawn twice are named.

    Args:
        faces: The faces measured on the file, lower left corner of the blank at the origin.
        blank: What it was drawn from.
        side: The side that the file shows.
        tolerance: By how much a size or a place may be off, mm.
    """
    if tolerance >= CLOSE and corner_for_corner(faces, blank, side):
        return []
    expected = _expect(blank, side)
    facts: list[list[str]] = [[] for _ in expected.names]
    missing = _compare_sizes(faces, expected, tolerance, facts)
    _compare_lines(faces, expected, tolerance, facts)
    _compare_ends(faces, expected, tolerance, facts)
    if faces.doubled:
        middles = np.array([(line.x, line.y) for line in faces.doubled])
        for line, owner in zip(faces.doubled, _nearest(expected, middles), strict=True):
            facts[owner].append(f"a line drawn twice for {_mm(line.length)} mm at {_place(line.x, line.y)}")
    must = f"it must agree with the blank to {format_mm(tolerance, 4)} mm"
    lines = []
    for name, found, gone in zip(expected.names, facts, missing, strict=True):
        if gone:
            lines.append(
                f"{name} – no face of its own – every panel must be enclosed – a line round it is gone or open: {_CURE}"
            )
        elif found:
            lines.append(f"{name} – {'; '.join(found)} – {must} – {_CURE}")
    return lines


def corner_for_corner(faces: Faces, blank: Blank, side: Side) -> bool:
    """Whether each face is one panel, corner for corner, and nothing else is drawn; a no is a reason to look closer.

    Args:
        faces: The faces measured on the file, lower left corner of the blank at the origin.
        blank: What it was drawn from.
        side: The side that the file shows.
    """
    if not faces.tidy or len(faces.polygons) != len(blank.panels):
        return False
    outlines = outlines_of(blank, side, lambda path: flat_points(path.points, path.bulges, True))
    return outlines is not None and same_corners(faces.polygons, outlines)


def compare_lengths(faces: Faces, lengths: Mapping[Any, float]) -> list[str]:
    """Every meaning (or layer) whose strokes are longer or shorter in the file than they should be.

    Faces do not show what a line means; a crease on the knives' layer shows here. Allowed are 0.1 mm and a
    ten-thousandth of the length, for ends that may be off by a hundredth each and for arcs measured by chords.

    Args:
        faces: The faces measured on the file, by the same keys.
        lengths: The lengths as drawn, mm (``Drawing.lengths``).
    """
    lines = []
    for key in sorted({*faces.lengths, *lengths}, key=str):
        found, wanted = faces.lengths.get(key, 0.0), lengths.get(key, 0.0)
        if abs(found - wanted) > 0.1 + 1e-4 * wanted:
            name = getattr(key, "value", key)
            lines.append(
                f"{name} – {_mm(found)} mm of line in the file, {_mm(abs(found - wanted))} too "
                f"{'much' if found > wanted else 'little'} – it must be {_mm(wanted)} mm – "
                f"look for strokes on a wrong layer, or {_CURE}"
            )
    return lines


def _expect(blank: Blank, side: Side) -> _Expected:
    """The panels and lines of a blank, as its drawing places them."""
    root: dict[str, str] = {blank.panels[0].name: blank.panels[0].name}
    for fold in blank.folds:
        root[fold.child] = root[fold.parent] if fold.meaning is None else fold.child
    groups: dict[str, list[int]] = {}
    for number, panel in enumerate(blank.panels):
        groups.setdefault(root[panel.name], []).append(number)
    rings = _placed([panel.outline for panel in blank.panels], blank, side)
    panels = shapely.polygons(rings)
    for number, panel in enumerate(blank.panels):
        if panel.holes:
            panels[number] = shapely.polygons(rings[number], holes=_placed(panel.holes, blank, side))
    slits: list[Shapes] = []
    if len(groups) != len(panels):
        members = [panels[numbers] for numbers in groups.values()]
        panels = np.array([_joined(group) for group in members])
        bends = [fold.line for fold in blank.folds if fold.meaning is None]
        bends += [seam.line for seam in blank.seams if seam.meaning is None]
        slits = _slits(members, panels, _placed([line(*bend) for bend in bends], blank, side))
    marks = [mark.path for panel in blank.panels for mark in panel.marks]
    edges = np.concatenate((shapely.get_rings(panels), *slits))
    return _Expected(
        names=[" + ".join(blank.panels[number].name for number in members) for members in groups.values()],
        panels=panels,
        marked=np.array([any(blank.panels[number].marks for number in members) for members in groups.values()]),
        edges=np.concatenate((edges, _placed(marks, blank, side))) if marks else edges,
    )


def _placed(paths: list[Path] | tuple[Path, ...], blank: Blank, side: Side) -> Shapes:
    """Rings of closed paths and lines of open ones, arcs laid into chords, in the coordinates of the drawing."""
    runs = [flat_points(path.points, path.bulges, path.closed) for path in paths]
    counts = [len(run) for run in runs]
    rows = np.array([point for run in runs for point in run], dtype=np.float64)
    x0, y0, x1, _ = blank.bounds
    rows = rows - (x0, y0) if side is Side.INSIDE else (x1, -y0) + rows * (-1.0, 1.0)
    rows = np.round(rows / GRID) * GRID
    shape = shapely.linearrings if all(path.closed for path in paths) else shapely.linestrings
    found: Shapes = shape(rows, indices=np.repeat(np.arange(len(counts)), counts))
    return found


def _joined(panels: Shapes) -> shapely.Geometry:
    """Panels on both sides of bends that are not drawn, as one shape."""
    if len(panels) == 1:
        return panels[0]
    whole = shapely.union_all(panels)
    seams = shapely.get_num_interior_rings(whole) != shapely.get_num_interior_rings(panels).sum()
    return shapely.union_all(panels, grid_size=GRID) if seams else whole


def _slits(members: list[Shapes], joined: Shapes, bends: Shapes) -> list[Shapes]:
    """Lines between panels of one face that are no bend: they are cut, and may end inside the face."""
    undrawn = shapely.union_all(shapely.buffer(bends, 2 * GRID, cap_style="flat"))
    found = []
    for panels, whole in zip(members, joined, strict=True):
        if len(panels) > 1:
            inner = shapely.difference(shapely.union_all(shapely.get_rings(panels)), shapely.boundary(whole))
            rest = shapely.get_parts(shapely.line_merge(shapely.difference(inner, undrawn)))
            found.append(rest[shapely.length(rest) > 10 * GRID])
    return found


def _compare_sizes(faces: Faces, expected: _Expected, tolerance: float, facts: list[list[str]]) -> list[bool]:
    """Say of each panel in which sizes its faces differ; returns which panels have no face."""
    inside = shapely.point_on_surface(faces.polygons)
    face, panel = shapely.STRtree(expected.panels).query(inside, predicate="within")
    count = len(expected.names)
    box, area = shapely.bounds(faces.polygons)[face], shapely.area(faces.polygons)[face]
    found = np.tile((np.inf, np.inf, -np.inf, -np.inf), (count, 1))
    np.minimum.at(found[:, :2], panel, box[:, :2])
    np.maximum.at(found[:, 2:], panel, box[:, 2:])
    parts = np.bincount(panel, minlength=count)
    wanted = shapely.bounds(expected.panels)
    off = np.abs(found - wanted).max(axis=1)
    areas, wanted_areas = np.bincount(panel, area, count), shapely.area(expected.panels)
    # Edges off by the tolerance change the area by as much along half of the outline.
    area_off = np.abs(areas - wanted_areas) > tolerance * shapely.length(expected.panels) / 2
    parted = (parts > 1) & ~expected.marked
    for number in np.flatnonzero((parts > 0) & ((off > tolerance) | area_off | parted)).tolist():
        told = _size_facts(found[number].tolist(), wanted[number].tolist(), tolerance)
        if area_off[number]:
            much = float(areas[number] - wanted_areas[number])
            told.append(
                f"area {_mm(float(areas[number]))} mm², {_mm(abs(much))} too {'large' if much > 0 else 'small'}"
            )
        if parted[number]:
            told.append(f"parted into {parts[number]} faces")
        facts[number] += told
    return [count == 0 for count in parts.tolist()]


def _size_facts(found: list[float], wanted: list[float], tolerance: float) -> list[str]:
    """In words, how the bounds of a face differ from those of its panel."""
    told = []
    for low, word, less, more in ((0, "wide", "narrow", "wide"), (1, "high", "low", "high")):
        size, much = found[low + 2] - found[low], found[low + 2] - found[low] - (wanted[low + 2] - wanted[low])
        if abs(much) > tolerance:
            told.append(f"{_mm(size)} mm {word}, {_mm(abs(much))} too {more if much > 0 else less}")
    for edge, word in enumerate(("left edge at x", "lower edge at y", "right edge at x", "upper edge at y")):
        if abs(found[edge] - wanted[edge]) > tolerance:
            told.append(f"{word} {_mm(found[edge])}, not {_mm(wanted[edge])}")
    return told


def _compare_lines(faces: Faces, expected: _Expected, tolerance: float, facts: list[list[str]]) -> None:
    """Say of each panel where a line runs that it does not have, and where one of its own is not drawn."""
    drawn, wanted = _pieces(shapely.get_parts(faces.lines)), _pieces(expected.edges)
    drawn_keys, wanted_keys = _keys(drawn), _keys(wanted)
    edges = shapely.multilinestrings(expected.edges)
    for pieces, keys, others, true, words in (
        (drawn, drawn_keys, wanted_keys, edges, "a line {off} mm beside every edge at {place}"),
        (wanted, wanted_keys, drawn_keys, faces.lines, "no line within {off} mm of its edge at {place}"),
    ):
        probes = _probes(pieces, keys, others)
        points = shapely.points(probes)
        shapely.prepare(true)
        lost = ~shapely.dwithin(true, points, tolerance)
        if not lost.any():
            continue
        off = shapely.distance(true, points[lost])
        owners = _nearest(expected, probes[lost])
        for owner in np.unique(owners).tolist():
            worst = np.flatnonzero(owners == owner)[np.argmax(off[owners == owner])]
            x, y = probes[lost][worst].tolist()
            facts[owner].append(words.format(off=_mm(float(off[worst])), place=_place(x, y)))


def _compare_ends(faces: Faces, expected: _Expected, tolerance: float, facts: list[list[str]]) -> None:
    """Say of each panel where a line ends freely, if no mark of the blank ends there."""
    loose = faces.loose
    if len(loose):
        edges = shapely.get_parts(shapely.union_all(expected.edges))
        meant = shapely.multipoints(arrange(edges).loose)
        near = shapely.dwithin(meant, shapely.points(loose), tolerance)
        loose = loose[~near]
    if len(loose):
        for (x, y), owner in zip(loose.tolist(), _nearest(expected, loose).tolist(), strict=True):
            facts[owner].append(f"a line ends loose at {_place(x, y)}")


def _pieces(lines: Shapes) -> Numbers:
    """The straight pieces of some lines: [first end or last end, piece, x or y]."""
    corners, owner = shapely.get_coordinates(lines, return_index=True)
    same = owner[1:] == owner[:-1]
    return np.stack((corners[:-1][same], corners[1:][same]))


def _keys(pieces: Numbers) -> list[complex]:
    """One number for each piece, the same whichever way it runs."""
    steps = np.rint(pieces / GRID)
    ends = steps[..., 0] * 2.0**24 + steps[..., 1]  # whole and exact: no sheet is 2^24 steps, 16 m, high
    keys: list[complex] = (ends.min(axis=0) + 1j * ends.max(axis=0)).tolist()
    return keys


def _probes(pieces: Numbers, keys: list[complex], others: list[complex]) -> Numbers:
    """Both ends and the middle of every piece that the others do not hold just so; most are known at once."""
    known = set(others)
    left = pieces[:, [number for number, key in enumerate(keys) if key not in known]]
    return np.concatenate((left[0], left[1], (left[0] + left[1]) / 2))


def _nearest(expected: _Expected, places: Numbers) -> npt.NDArray[np.int64]:
    """The panel nearest to each place."""
    found: npt.NDArray[np.int64] = shapely.STRtree(expected.panels).nearest(shapely.points(places))
    return found


def _place(x: float, y: float) -> str:
    return f"({_mm(x)}, {_mm(y)})"


def _mm(value: float) -> str:
    return format_mm(value, 3)
