"""What the plant's machine can take."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..blank import Blank, Fold, Panel, Role
from ..machine import Limit
from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []

_SAME_TOOL = 0.05
"""mm. A tool of 1/4 in cuts a 6.35 mm slot; a size this near to a tool's is that tool's."""


@check("machine-limits", source="the plant's own machine profile")
def machine_limits(inspected: Inspected) -> Iterator[Finding]:
    """A blank, wall, flap, lap, slot or board that the machine of the job cannot take.

    Why: The plant cannot run it, whatever the drawing says.
    Limit: the least and greatest sizes, or the list of tools, of the machine profile; we ship none.
    Fails: 0201 300x200x150 C; machine: flap = [110, 500]
    Passes: 0201 300x200x150 C; machine: flap = [50, 500]
    """
    limits = inspected.machine.limits
    if not limits:
        return
    name = inspected.machine.name or "machine profile"
    places: dict[tuple[str, str, float], list[str]] = {}
    for key, what, place, measured in _sizes(inspected):
        if key in limits:
            places.setdefault((key, what, round(measured, 6)), []).append(place)
    for (key, what, measured), where in places.items():
        bound, value = _beyond(limits[key], measured)
        if bound:
            place = ", ".join(sorted(where))
            yield Finding(
                "machine-limits",
                Severity.ERROR,
                place,
                f"the {what} is {format_mm(measured)} mm; {bound} ({name}); change the size, or run it on another "
                "machine",
                measured,
                value,
                f"machine profile {name}",
            )


def _beyond(limit: Limit, measured: float) -> tuple[str, float | None]:
    """Words for what the machine takes and the number that is broken; empty if it takes the size."""
    if limit.only:
        if min(abs(measured - tool) for tool in limit.only) <= _SAME_TOOL:
            return "", None
        nearest = min(limit.only, key=lambda tool: abs(measured - tool))
        return f"the machine has tools for {', '.join(format_mm(tool) for tool in limit.only)} mm only", nearest
    if measured < limit.least - 1e-6:
        return f"the machine takes at least {format_mm(limit.least)} mm", limit.least
    if measured > limit.most + 1e-6:
        return f"the machine takes at most {format_mm(limit.most)} mm", limit.most
    return "", None


def _sizes(inspected: Inspected) -> Iterator[tuple[str, str, str, float]]:
    """Every size that a machine may limit: its key, what it is, where, and how large, mm."""
    for number, (piece, drawing) in enumerate(zip(inspected.design.pieces, inspected.drawings, strict=True)):
        yield "blank_length", "blank (along x)", piece.name, drawing.width
        yield "blank_width", "blank (along y)", piece.name, drawing.height
        blank = piece.blank
        folds = {fold.child: fold for fold in blank.folds}
        row = blank.panels[0].role is Role.WALL
        for panel in blank.panels:
            name = inspected.panel_name(number, panel.name)
            if panel.role is Role.WALL:
                across, along = panel.size if row else _across_and_along(panel, folds.get(panel.name))
                yield "panel", "width of the wall", name, across
                yield "depth", "height of the wall", name, along
            fold = folds.get(panel.name)
            if fold is None or fold.meaning is None:
                continue
            if panel.role is Role.FLAP:
                yield "flap", "length of the flap", name, _reach(blank, panel, fold)
            elif panel.role is Role.LAP:
                yield "lap", "width of the lap", name, _reach(blank, panel, fold)
    slot = inspected.design.facts.get("slot width")
    if slot is not None:
        yield "slot", "width of the slots", "slots", slot
    yield "board", "thickness of the board", f"board {inspected.board.name}", inspected.board.calliper.value


def _across_and_along(panel: Panel, fold: Fold | None) -> tuple[float, float]:
    """Width of a wall along its crease and height away from it, mm."""
    width, height = panel.size
    if fold is None:
        return width, height
    (px, py), (qx, qy) = fold.line
    return (width, height) if abs(qx - px) >= abs(qy - py) else (height, width)


def _reach(blank: Blank, panel: Panel, fold: Fold) -> float:
    """How far a panel and what only bends on from it reach from the crease, mm."""
    (px, py), (qx, qy) = fold.line
    length = math.hypot(qx - px, qy - py)
    nx, ny = (py - qy) / length, (qx - px) / length
    names = {panel.name}
    for bend in blank.folds:
        if bend.meaning is None and bend.parent in names:
            names.add(bend.child)
    return max(abs((x - px) * nx + (y - py) * ny) for name in names for x, y in blank.by_name[name].outline.flatten())
