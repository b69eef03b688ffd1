"""Puts features on the panels of a design, as holes, marks and notches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import shapely

from .blank import Blank, Mark, Panel
from .errors import OptionError, UnknownNameError
from .features import ACROSS, Feature
from .geometry.arc import Point
from .geometry.path import Path, circle, line, obround, rectangle, rounded
from .geometry.region import region
from .linetypes import Meaning
from .style.design import Design, Piece
from .units import format_mm

__all__ = ["apply_features"]

_LEAST_MARGIN = 1.0
"""mm. Least board between a hole and the edge of its panel: with less there is no edge. What is wise is a finding."""


def apply_features(design: Design, features: Sequence[Feature]) -> Design:
    """The design with the features on its panels.

    Raises:
        UnknownNameError: If a panel is not there.
        OptionError: If a feature does not fit its panel.
    """
    pieces = list(design.pieces)
    for number, feature in enumerate(features, 1):
        where = f"feature {number} ({feature.kind})"
        place, name = _find(pieces, feature.panel, where)
        piece = pieces[place]
        if piece.model is not None:
            raise OptionError(where, f"'{feature.panel}'", "a piece with curved creases takes no features yet")
        blank = piece.blank
        panel = _with_feature(blank, blank.by_name[name], feature, where)
        panels = tuple(panel if other.name == name else other for other in blank.panels)
        pieces[place] = replace(piece, blank=replace(blank, panels=panels))
    return replace(design, pieces=tuple(pieces))


def _find(pieces: Sequence[Piece], wanted: str, where: str) -> tuple[int, str]:
    names: dict[str, tuple[int, str]] = {}
    for place, piece in enumerate(pieces):
        prefix = f"{piece.name}: " if len(pieces) > 1 else ""
        names |= {prefix + panel.name: (place, panel.name) for panel in piece.blank.panels}
    if wanted not in names:
        raise UnknownNameError(f"{where}, panel", wanted, names)
    return names[wanted]


def _with_feature(blank: Blank, panel: Panel, feature: Feature, where: str) -> Panel:
    x0, y0, x1, y1 = panel.outline.bounds
    middle = ((x0 + x1) / 2 + feature.at[0], (y0 + y1) / 2 + feature.at[1])
    if feature.kind == "thumb-notch":
        return replace(panel, outline=_notched(blank, panel, feature, middle, where))
    if feature.kind in ACROSS:
        return replace(panel, marks=(*panel.marks, *_strips(panel, feature, middle, where)))
    shape = _shape(feature, middle, where)
    inner = region(panel.outline, panel.holes).buffer(-_LEAST_MARGIN)
    if not inner.covers(region(shape)):
        raise OptionError(
            where,
            f"{format_mm(feature.width)} x {format_mm(feature.height)} mm at ({format_mm(feature.at[0])}, "
            f"{format_mm(feature.at[1])}) on {panel.name}, {format_mm(x1 - x0)} x {format_mm(y1 - y0)} mm",
            f"it must lie within the panel, {format_mm(_LEAST_MARGIN)} mm off its edges and holes",
            "move it or make it smaller",
        )
    if not feature.left_in:
        return replace(panel, holes=(*panel.holes, shape.counter_clockwise()))
    return replace(panel, marks=(*panel.marks, *_left_in(feature, shape, middle, where)))


def _shape(feature: Feature, middle: Point, where: str) -> Path:
    x, y = middle
    width, height = feature.width, feature.height
    if feature.kind == "hang-hole":
        if width < 1.5 * height + _LEAST_MARGIN:
            raise OptionError(
                f"{where}, width",
                f"{format_mm(width)} mm",
                f"it must be at least {format_mm(1.5 * height + _LEAST_MARGIN)} mm: its hump stands on a slot wider "
                "than itself",
                "make it wider or lower",
            )
        return _hang_hole(middle, width, height)
    if feature.shape == "circle":
        return circle(middle, width / 2)
    if feature.shape == "obround":
        return obround(middle, width, height)
    box = rectangle(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
    if not feature.radius:
        return box
    most = min(width, height) / 2
    if not 0 < feature.radius <= most:
        raise OptionError(f"{where}, radius", format_mm(feature.radius), f"it must be 0 to {format_mm(most)} mm")
    return rounded(box.points, [feature.radius] * 4)


def _hang_hole(middle: Point, width: float, height: float) -> Path:
    """A slot as wide as asked with a half-round hump in the middle; the hump takes the upper half of the height."""
    x, y = middle
    r, hump = height / 4, height / 2
    a = width / 2 - r
    low = y - height / 2
    points = (
        (x - a, low),
        (x + a, low),
        (x + a, low + 2 * r),
        (x + hump, low + 2 * r),
        (x - hump, low + 2 * r),
        (x - a, low + 2 * r),
    )
    return Path(points, (0.0, 1.0, 0.0, 1.0, 0.0, 1.0), closed=True)


def _left_in(feature: Feature, shape: Path, middle: Point, where: str) -> tuple[Mark, Mark]:
    """The slit and the hinge of a piece that stays in."""
    top = middle[1] + feature.height / 2
    upper = [i for i, (p, q, bulge) in enumerate(shape.segments()) if not bulge and p[1] == q[1] == top]
    if not upper:
        raise OptionError(
            where, "left_in", "only a shape with a straight upper edge can stay in", "take it out instead"
        )
    i = upper[0]
    points = shape.points[i + 1 :] + shape.points[: i + 1]
    bulges = (shape.bulges[i + 1 :] + shape.bulges[:i]) if shape.bulges else ()
    name = feature.kind.replace("-", " ")
    return (
        Mark(Meaning.CUT, Path(points, bulges if any(bulges) else ()), name),
        Mark(Meaning.CREASE, line(points[-1], points[0]), name),
    )


def _strips(panel: Panel, feature: Feature, middle: Point, where: str) -> list[Mark]:
    """The perforations of a strip, or one, from edge to edge of the panel."""
    offsets = (0.0,) if feature.kind == "perforation" else (-feature.height / 2, feature.height / 2)
    x0, y0, x1, y1 = panel.outline.bounds
    body = region(panel.outline, panel.holes)
    marks = []
    for offset in offsets:
        if feature.upright:
            ray = shapely.LineString([(middle[0] + offset, y0 - 1), (middle[0] + offset, y1 + 1)])
        else:
            ray = shapely.LineString([(x0 - 1, middle[1] + offset), (x1 + 1, middle[1] + offset)])
        inside = body.intersection(ray)
        if inside.is_empty or inside.geom_type != "LineString" or inside.length < 1.0:
            raise OptionError(where, f"on {panel.name}", "it must run across the panel in one piece", "move it")
        (ax, ay), (bx, by) = inside.coords[0], inside.coords[-1]
        marks.append(Mark(Meaning.PERFORATION, line((ax, ay), (bx, by)), feature.kind.replace("-", " ")))
    return marks


def _notched(blank: Blank, panel: Panel, feature: Feature, middle: Point, where: str) -> Path:
    """The outline with a notch cut into a free straight edge, its bottom half round."""
    across = feature.edge in ("top", "bottom")
    ends = {"top": 3, "bottom": 1, "right": 2, "left": 0}
    level = panel.outline.bounds[ends[feature.edge]]
    along = middle[0] if across else middle[1]
    half, deep = feature.width / 2, feature.height
    x0, y0, x1, y1 = panel.outline.bounds
    most = (y1 - y0 if across else x1 - x0) - _LEAST_MARGIN
    if deep > most:
        must = f"it must be at most {format_mm(most)} mm on {panel.name}"
        raise OptionError(f"{where}, height", f"{format_mm(deep)} mm", must, "make it less deep")
    folded = [fold.line for fold in blank.folds if panel.name in (fold.parent, fold.child)]
    points: list[Point] = []
    bulges: list[float] = []
    done = False
    for p, q, bulge in panel.outline.segments():
        points.append(p)
        bulges.append(bulge)
        (pa, pl), (qa, ql) = ((p[0], p[1]), (q[0], q[1])) if across else ((p[1], p[0]), (q[1], q[0]))
        fits = not bulge and abs(pl - level) < 1e-9 > abs(ql - level) and min(pa, qa) + 1 < along - half
        if done or not fits or max(pa, qa) - 1 < along + half or _on_fold(p, q, folded):
            continue
        done = True
        way = 1.0 if qa > pa else -1.0
        inward = -deep if feature.edge in ("top", "right") else deep
        notch, arcs = _notch(along, half, level, inward, way)
        bulges[-1] = 0.0
        points += notch if across else [(b, a) for a, b in notch]
        bulges += arcs if across else [-arc for arc in arcs]
    if not done:
        raise OptionError(
            where,
            f"{format_mm(feature.width)} mm wide on the {feature.edge} edge of {panel.name}",
            "that edge must be free, straight and long enough",
            "choose another edge, or make it smaller",
        )
    return Path(tuple(points), tuple(bulges) if any(bulges) else (), closed=True)


def _notch(along: float, half: float, level: float, inward: float, way: float) -> tuple[list[Point], list[float]]:
    """Corners of a notch and the bulges of the steps that follow them, in (along, across) coordinates.

    Half round if it is at least half as deep as wide; a flatter one is one arc.
    """
    deep = abs(inward)
    start, end = along - way * half, along + way * half
    # On the way round the panel the notch bends into it: against the turn of the outline.
    turn = -1.0 if (inward < 0) == (way < 0) else 1.0
    if deep >= half - 1e-9:
        foot = level + inward - math.copysign(half, inward)
        if abs(foot - level) < 1e-9:
            return [(start, level), (end, level)], [turn, 0.0]
        return [(start, level), (start, foot), (end, foot), (end, level)], [0.0, turn, 0.0, 0.0]
    return [(start, level), (end, level)], [turn * deep / half, 0.0]


def _on_fold(p: Point, q: Point, lines: Sequence[tuple[Point, Point]]) -> bool:
    """Whether an edge lies on a fold."""
    for (ax, ay), (bx, by) in lines:
        length = math.hypot(bx - ax, by - ay)
        off = [abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in (p, q)]
        if max(off) < 1e-6:
            return True
    return False
