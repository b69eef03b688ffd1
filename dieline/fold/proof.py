"""The folded proof: the blank is put up as slabs of board, searched for clashes, and measured."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..blank import Fold, Panel
from ..board import Board
from ..geometry.tolerance import CONTACT, SIZE_EXACT
from ..style.design import Design
from ..units import format_mm
from .clash import Clash, find_clashes
from .held import crease_faults, joint_faults
from .measure import Space, clear_space, free_space, open_slit, outside_size
from .pose import Array
from .slab import Slabs, stand_up

__all__ = ["FoldReport", "prove_folded"]

Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldReport:
    """What the folded box measured.

    Attributes:
        inside: L, B and H between the walls, mm.
        clear: The same with laps and tucks counted, mm.
        outside: Over everything, mm.
        clashes: Slabs that run into each other; empty when the proof holds.
        open_faces: Name of each face that should be shut and is not, with the width of its widest opening, mm.
        failures: One line for each failure: which panel, by how much, what to change; empty when the proof holds.
    """

    inside: Triple
    clear: Triple
    outside: Triple
    clashes: tuple[Clash, ...]
    open_faces: tuple[tuple[str, float], ...]
    failures: tuple[str, ...]


def prove_folded(design: Design, board: Board, house_give: float | None = None) -> FoldReport:
    """Fold a design and measure it.

    Args:
        design: The design.
        board: Its board; the design thickness is the slabs' thickness.
        house_give: How far the plant lets a crease give, in thicknesses; None takes the board's value.
    """
    t = board.thickness
    slabs = stand_up(design, t)
    tall = design.inside.height
    space, clear = free_space(slabs, tall), clear_space(slabs, tall)
    failures: list[str] = []
    several = len(design.pieces) > 1
    for piece in design.pieces:
        prefix = f"{piece.name}: " if several else ""
        failures += crease_faults(piece.blank, board, house_give, prefix)
        failures += joint_faults(slabs, piece.blank, prefix)
    clashes = _clashes(design, slabs, space)
    failures += [
        f"{clash.a} runs into {clash.b} by {format_mm(clash.depth, 3)} mm; shorten, narrow or move one of them"
        for clash in clashes
    ]
    open_faces = []
    for shut in design.closed:
        slit = open_slit(slabs, shut, space)
        if slit > 0.0:
            open_faces.append((shut.face.value, slit))
            failures.append(f"the {shut.face.value} stays open by {format_mm(slit)} mm; lengthen or widen its flaps")
    failures += _size_faults(design, space)
    return FoldReport(
        inside=_triple(space.size),
        clear=_triple(clear.size),
        outside=_triple(outside_size(slabs)),
        clashes=tuple(clashes),
        open_faces=tuple(open_faces),
        failures=tuple(failures),
    )


def _clashes(design: Design, slabs: Slabs, space: Space) -> list[Clash]:
    """Clashes between slabs, and of slabs with the inside space that they must leave free."""
    count = len(slabs.items)
    folds: dict[tuple[int, int], Fold] = {}
    allowed: dict[tuple[int, int], float] = {}
    index = {slab.name: i for i, slab in enumerate(slabs.items)}
    several = len(design.pieces) > 1
    for piece in design.pieces:
        prefix = f"{piece.name}: " if several else ""
        parents: dict[str, str] = {}
        for fold in piece.blank.folds:
            i, j = sorted((index[prefix + fold.parent], index[prefix + fold.child]))
            folds[i, j] = fold
            parents[fold.child] = fold.parent
        for joint in piece.blank.joints:
            # The corner itself, and the wall that the lap hangs on: what presses there presses at one place.
            ends = {joint.a, joint.b, parents.get(joint.a, joint.a)}
            for a in ends:
                for b in ends:
                    if a < b:
                        i, j = sorted((index[prefix + a], index[prefix + b]))
                        allowed[i, j] = max(allowed.get((i, j), 0.0), joint.crush)
    if not np.all(np.isfinite(space.low)) or not np.all(np.isfinite(space.high)) or np.any(space.size <= 0):
        return find_clashes(slabs, folds, allowed)
    intruders = [(i, count) for i, slab in enumerate(slabs.items) if _may_intrude(slab.panel)]
    return find_clashes(slabs.with_box(space.low, space.high), folds, allowed, intruders)


def _may_intrude(panel: Panel | None) -> bool:
    return panel is not None and panel.intrudes


def _size_faults(design: Design, space: Space) -> list[str]:
    faults = []
    for name, measured, asked, stretch in zip(
        "LBH", space.size.tolist(), design.inside[:3], design.stretch, strict=True
    ):
        assert asked is not None
        if abs(measured - asked - stretch) > SIZE_EXACT + CONTACT:
            extra = f" and the house's {format_mm(stretch)} mm" if stretch else ""
            faults.append(
                f"inside {name} measures {format_mm(measured, 3)} mm folded, not {format_mm(asked, 3)} mm{extra}; "
                "the style or a house size is at fault"
            )
    return faults


def _triple(values: Array) -> Triple:
    a, b, c = (round(float(value), 9) for value in values)
    return a, b, c
