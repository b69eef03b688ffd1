"""The pieces of a design as the page folds them: flat outlines, the fold tree, and where each piece stands."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..blank import Blank, Fold, Panel
from ..geometry.arc import Point
from ..geometry.path import Path
from ..style.design import Piece, Stand

__all__ = ["solid_piece"]

_CHORD = 0.1
"""mm. How far the page's chords may keep off a true arc: no eye sees it."""


def solid_piece(piece: Piece, groups: Mapping[str, str]) -> dict[str, Any]:
    """One piece, ready to be folded: panels with flat outlines, folds by number of panel, and every stand.

    Args:
        piece: The piece.
        groups: For each panel of its drawing the one that it counts as.
    """
    blank = piece.folded
    index = {panel.name: number for number, panel in enumerate(blank.panels)}
    shown = dict(groups) if blank is piece.blank else _shown_as(blank, piece.blank, groups)
    return {
        "panels": [_panel(panel, shown.get(panel.name, "")) for panel in blank.panels],
        "folds": [_fold(blank, fold, index) for fold in blank.folds],
        "stands": [_stand(stand) for stand in piece.stands],
    }


def _panel(panel: Panel, shown: str) -> dict[str, Any]:
    return {
        "name": panel.name,
        "shown": shown,
        "outline": _flat(panel.outline),
        "holes": [_flat(hole) for hole in panel.holes],
        "marks": [{"meaning": mark.meaning.value, "line": _line(mark.path)} for mark in panel.marks],
        "face": panel.face.value if panel.face else "",
        "intrudes": panel.intrudes,
    }


def _flat(path: Path) -> list[float]:
    """Corners one after the other: x, y, x, y …"""
    return [round(value, 5) + 0.0 for point in path.flatten(_CHORD) for value in point]


def _line(path: Path) -> list[float]:
    flat = _flat(path)
    return [*flat, *flat[:2]] if path.closed else flat


def _fold(blank: Blank, fold: Fold, index: Mapping[str, int]) -> dict[str, Any]:
    p, q = _oriented(fold, blank.by_name[fold.child])
    return {
        "parent": index[fold.parent],
        "child": index[fold.child],
        "line": [value + 0.0 for value in (*p, *q)],
        "angle": fold.angle,
        "shift": fold.shift,
        "made": fold.meaning.value if fold.meaning else "",
    }


def _oriented(fold: Fold, child: Panel) -> tuple[Point, Point]:
    """The crease so that the child lies left of it: a positive turn about it then lifts the child to the inside."""
    (px, py), (qx, qy) = fold.line
    side = sum((qx - px) * (y - py) - (qy - py) * (x - px) for x, y in child.outline.points)
    return ((qx, qy), (px, py)) if side < 0 else ((px, py), (qx, qy))


def _stand(stand: Stand) -> dict[str, Any]:
    return {key: [value + 0.0 for value in getattr(stand, key)] for key in ("at", "origin", "u", "v")}


def _shown_as(model: Blank, drawn: Blank, groups: Mapping[str, str]) -> dict[str, str]:
    """For each panel of the folded model the drawn panel that it is a part of."""
    import shapely  # only where curved creases are folded in strips

    from ..geometry.region import region

    regions = {name: region(panel.outline, chord=_CHORD) for name, panel in drawn.by_name.items()}
    shown: dict[str, str] = {}
    for panel in model.panels:
        if panel.name in groups:
            shown[panel.name] = groups[panel.name]
            continue
        inner = region(panel.outline, chord=_CHORD).representative_point()
        nearest = min(regions, key=lambda name: shapely.distance(regions[name], inner))
        shown[panel.name] = groups[nearest]
    return shown
