"""The folded proof: the blank is put up as slabs of board, searched for clashes, and measured."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..blank import Panel
from ..board import Board
from ..geometry.tolerance import CONTACT, SIZE_EXACT
from ..style.design import Design
from ..units import format_mm
from .bonds import design_bonds
from .clash import Clash, find_clashes
from .held import crease_faults, joint_faults, seam_faults
from .measure import Space, clear_space, free_space, open_slit, outside_size
from .slab import Slabs, prefixes, stand_up
from .slide import slide_faults
from .states import gauge_faults, lock_faults, measure_gauge, motion_faults, state_faults

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
        states: Names of the other states that were looked at.
        locks: Name and catch (mm) of each lock that was opened.
        gauges: Name and measure (mm) of each gauge.
    """

    inside: Triple
    clear: Triple
    outside: Triple
    clashes: tuple[Clash, ...]
    open_faces: tuple[tuple[str, float], ...]
    failures: tuple[str, ...]
    states: tuple[str, ...] = ()
    locks: tuple[tuple[str, float], ...] = ()
    gauges: tuple[tuple[str, float], ...] = ()


def prove_folded(design: Design, board: Board, house_give: float | None = None) -> FoldReport:
    """Fold a design and measure it; its other states, locks, motions, slides and gauges too.

    Args:
        design: The design.
        board: Its board; the design thickness is the slabs' thickness.
        house_give: How far the plant lets a crease give, in thicknesses; None takes the board's value.
    """
    t = board.thickness
    slabs = stand_up(design, t)
    space, clear = free_space(slabs, design.inside.height), clear_space(slabs, design.inside.height)
    failures: list[str] = []
    for number, piece in enumerate(design.pieces):
        for prefix in prefixes(design, number):
            failures += crease_faults(piece.folded, board, house_give, prefix)
            failures += joint_faults(slabs, piece.folded, prefix)
            failures += seam_faults(slabs, piece.folded, prefix)
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
    failures += _fit_faults(design, slabs)
    failures += gauge_faults(design, slabs)
    failures += state_faults(design, t)
    failures += lock_faults(design, t)
    failures += motion_faults(design, t)
    failures += slide_faults(design, slabs)
    return FoldReport(
        inside=_known(design, space),
        clear=_known(design, clear),
        outside=_triple(outside_size(slabs)),
        clashes=tuple(clashes),
        open_faces=tuple(open_faces),
        failures=tuple(failures),
        states=tuple(state.name for state in design.states),
        locks=tuple((lock.name, lock.catch) for lock in design.locks),
        gauges=tuple((gauge.name, round(measure_gauge(slabs, gauge) or 0.0, 9)) for gauge in design.gauges),
    )


def _clashes(design: Design, slabs: Slabs, space: Space) -> list[Clash]:
    """Clashes between slabs, and of slabs with the inside space that they must leave free."""
    bonds = design_bonds(design, slabs)
    intruders = {i for i, slab in enumerate(slabs.items) if _may_intrude(slab.panel)}
    # Most boxes keep their inside free of all bounding boxes: then it need not be searched as a slab of its own.
    within = [i for i, span in enumerate(slabs.spans) if i not in intruders and space.holds_part_of(*span)]
    if design.fitment or not within or not all(0 < side < math.inf for side in space.size):
        return find_clashes(slabs, bonds.creases, bonds.allowed)
    skip = {(i, len(slabs.items)) for i in intruders}
    return find_clashes(slabs.with_box(space.low, space.high), bonds.creases, bonds.allowed, skip)


def _fit_faults(design: Design, slabs: Slabs) -> list[str]:
    """A fitment must stay within the inside of the box that it is made for."""
    if not design.fitment:
        return []
    size = np.array(design.inside[:3], dtype=float)
    over = np.maximum(-slabs.low, slabs.high - size).max(axis=0)
    return [
        f"it is {format_mm(by, 3)} mm too large along {letter} for the box that it goes into; make it smaller"
        for letter, by in zip("LBH", over.tolist(), strict=True)
        if by > CONTACT
    ]


def _may_intrude(panel: Panel | None) -> bool:
    return panel is not None and panel.intrudes


def _size_faults(design: Design, space: Space) -> list[str]:
    faults = []
    for name, measured, asked, stretch in zip("LBH", space.size, design.inside[:3], design.stretch, strict=True):
        if asked is None or name not in design.measures:
            continue
        if abs(measured - asked - stretch) > SIZE_EXACT + CONTACT:
            extra = f" and the house's {format_mm(stretch)} mm" if stretch else ""
            faults.append(
                f"inside {name} measures {format_mm(measured, 3)} mm folded, not {format_mm(asked, 3)} mm{extra}; "
                "the style or a house size is at fault"
            )
    return faults


def _known(design: Design, space: Space) -> Triple:
    """A space as measured; what the design does not measure is as asked."""
    sides = zip("LBH", space.size, design.inside[:3], strict=True)
    return _triple([found if letter in design.measures else asked for letter, found, asked in sides])


def _triple(values: Sequence[float]) -> Triple:
    a, b, c = (round(float(value), 9) for value in values)
    return a, b, c
