"""What the page draws of a result: strokes and panels of each blank, where its creases cross, which sizes made it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from ..blank import Blank, Panel
from ..drawing.dimensions import stations
from ..drawing.model import Drawing, Side, draw_blank
from ..export.svg_path import Pencil
from ..geometry.path import Path
from ..linetypes import LOOKS, TOOL_ORDER, Meaning
from ..pipeline import Result
from ..sizing import SizeLine
from .solid import solid_piece
from .steps import steps_of

__all__ = ["looks", "panel_groups", "scene_data"]

_EXACT = 0.011
"""mm. A panel and a named dimension that agree to this are the same size as drawn."""

_PLACE = re.compile(r"(?P<panel>.*) at x (?P<x>-?[\d.]+), y (?P<y>-?[\d.]+)")


def scene_data(result: Result) -> dict[str, Any]:
    """Everything that the page needs to draw and fold a result, seen from the inside, lengths in mm.

    Args:
        result: The result; it may have failed a proof.
    """
    design = result.design
    flat = [_seen_from_inside(result, number) for number in range(len(design.pieces))]
    return {
        "thickness": result.job.board.thickness,
        "looks": looks(flat),
        "pieces": [
            _piece(piece.blank, drawing, design.sizes) | {"solid": solid_piece(piece, panel_groups(piece.blank))}
            for piece, drawing in zip(design.pieces, flat, strict=True)
        ],
        "steps": steps_of(design),
        "measures": design.measures,
        "spots": [_spot(result, finding.place) for finding in result.findings],
    }


def looks(drawings: Iterable[Drawing]) -> list[dict[str, Any]]:
    """The line kinds in use, in tool order, as the legend shows them; the glue zone last where there is one."""
    used = {stroke.meaning for drawing in drawings for stroke in drawing.strokes}
    kinds = [meaning for meaning in TOOL_ORDER if meaning in used]
    if any(drawing.zones for drawing in drawings):
        kinds.append(Meaning.GLUE)
    return [
        {
            "meaning": meaning.value,
            "words": LOOKS[meaning].words,
            "colour": LOOKS[meaning].colour,
            "dash": LOOKS[meaning].dash,
        }
        for meaning in kinds
    ]


def panel_groups(blank: Blank) -> dict[str, str]:
    """For each panel the one that it counts as: parts that only bend into each other are one panel on the drawing."""
    head = {panel.name: panel.name for panel in blank.panels}
    for fold in blank.folds:
        if fold.meaning is None:
            head[fold.child] = head[fold.parent]
    return head


def _seen_from_inside(result: Result, number: int) -> Drawing:
    drawing = result.drawings[number]
    return drawing if drawing.side is Side.INSIDE else draw_blank(result.design.pieces[number].blank)


def _piece(blank: Blank, drawing: Drawing, sizes: Sequence[SizeLine]) -> dict[str, Any]:
    pencil = Pencil(0.0, drawing.height)
    x0, y0, _, _ = blank.bounds
    return {
        "name": blank.name,
        "width": drawing.width,
        "height": drawing.height,
        "flutes": blank.flutes,
        "strokes": [
            {
                "meaning": stroke.meaning.value,
                "name": stroke.name,
                "role": stroke.role.value,
                "d": pencil.path(stroke.path),
            }
            for stroke in drawing.strokes
        ],
        "zones": [{"name": name, "d": pencil.path(path)} for name, path in drawing.zones],
        "panels": list(_panels(blank, lambda path: pencil.path(path.moved(-x0, -y0)), sizes)),
        "stations": [
            [round(place, 4) for place in stations(drawing.strokes, 0, drawing.width)],
            [
                round(drawing.height - place, 4) + 0.0
                for place in reversed(stations(drawing.strokes, 1, drawing.height))
            ],
        ],
    }


def _panels(blank: Blank, path: Any, sizes: Sequence[SizeLine]) -> Iterator[dict[str, Any]]:
    groups: dict[str, list[Panel]] = {}
    for name, head in panel_groups(blank).items():
        groups.setdefault(head, []).append(blank.by_name[name])
    for name, panels in groups.items():
        x0, y0, x1, y1 = zip(*(panel.outline.bounds for panel in panels), strict=True)
        width, height = max(x1) - min(x0), max(y1) - min(y0)
        rings: list[Path] = [ring for panel in panels for ring in (panel.outline, *panel.holes)]
        first = panels[0]
        yield {
            "name": name,
            "d": "".join(map(path, rings)),
            "width": round(width, 6),
            "height": round(height, 6),
            "role": first.role.value,
            "face": first.face.value if first.face else "",
            "boards": first.k,
            "across": _told_by(name, width, sizes),
            "along": _told_by(name, height, sizes),
        }


def _told_by(panel: str, measure: float, sizes: Sequence[SizeLine]) -> int | None:
    """The named dimension that says how a panel's width or height came about; None where no name fits it.

    It must measure the same, and share a word with the panel's name; the one that shares most words is taken.
    """
    words = set(panel.replace(",", "").split())
    best, most = None, 0
    for number, line in enumerate(sizes):
        if abs(line.value - measure) > _EXACT:
            continue
        common = words & set(line.name.replace(",", "").split())
        strange = {word for word in line.name.split() if word.isdigit()} - words
        if common and not strange and not all(word.isdigit() for word in common) and len(common) > most:
            best, most = number, len(common)
    return best


def _spot(result: Result, place: str) -> dict[str, Any] | None:
    """Where on the blanks a finding lies: piece, panel, and the point seen from the inside, y down, if it names one."""
    found = _PLACE.fullmatch(place)
    name = found["panel"] if found else place
    several = len(result.design.pieces) > 1
    for number, piece in enumerate(result.design.pieces):
        panel = name.removeprefix(f"{piece.name}: ") if several else name
        whole = panel == piece.name
        if not whole and (panel not in piece.blank.by_name or (several and panel == name)):
            continue
        drawing = result.drawings[number]
        spot: dict[str, Any] = {"piece": number, "panel": "" if whole else panel_groups(piece.blank)[panel]}
        if found:
            x, y = float(found["x"]), float(found["y"])
            spot["at"] = [drawing.width - x if drawing.side is Side.PRINT else x, drawing.height - y]
        return spot
    return None
