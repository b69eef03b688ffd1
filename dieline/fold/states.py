"""What must hold besides the finished box: other states, locks that catch, steps of putting up, gauges."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..blank import Blank, Fold
from ..errors import StyleError
from ..geometry.tolerance import CLASH_VOLUME, CONTACT, SIZE_EXACT
from ..style.design import Bends, Design, Gauge, Lock, Motion, Piece, State
from ..units import format_mm
from .bonds import bonds_of
from .clash import find_clashes, overlap_volume
from .held import zone_fault
from .near import Layers, near_pairs
from .pose import Array, Bend, pose_panels, pose_positions
from .slab import Slab, Slabs, prefixes, slabs_of, stand_up

__all__ = ["gauge_faults", "lock_faults", "measure_gauge", "motion_faults", "state_faults"]


def _piece(design: Design, name: str, what: str) -> Piece:
    if not name and len(design.pieces) == 1:
        return design.pieces[0]
    for piece in design.pieces:
        if piece.name == name:
            return piece
    raise StyleError(f"style {design.style}", f"{what} speaks of a piece '{name}' that is not there")


def _bend(state: State) -> Bend:
    def bent(fold: Fold) -> tuple[float, float]:
        found = state.bends.get(fold.child)
        if found is not None:
            return found
        return (fold.angle, fold.shift) if state.rest == "finished" else (0.0, 0.0)

    return bent


def _index(slabs: Sequence[Slab]) -> dict[str, int]:
    return {slab.name: i for i, slab in enumerate(slabs)}


def _free(pairs: Sequence[tuple[str, str]], index: Mapping[str, int]) -> set[tuple[int, int]]:
    return {(min(index[a], index[b]), max(index[a], index[b])) for a, b in pairs}


def state_faults(design: Design, thickness: float) -> Iterator[str]:
    """One line for each thing that does not hold in another state of a piece."""
    for state in design.states:
        piece = _piece(design, state.piece, f"the state '{state.name}'")
        blank, bend = piece.folded, _bend(state)
        items = slabs_of(blank, pose_panels(blank, piece.stand, bend), 0, thickness)
        slabs, index = Slabs(tuple(items), thickness), _index(items)
        bonds = bonds_of(blank, index, bend=bend)
        for clash in find_clashes(slabs, bonds.creases, bonds.allowed, _free(state.free, index)):
            yield f"{state.name}: {clash.a} runs into {clash.b} by {format_mm(clash.depth, 3)} mm; change one of them"
        for joint in blank.joints:
            if joint.a in state.joints:
                fault = zone_fault(slabs, joint, "", state.slack)
                if fault:
                    yield f"{state.name}: {joint.kind.value} joint of {joint.a} and {joint.b}: {fault}"


def lock_faults(design: Design, thickness: float) -> Iterator[str]:
    """One line for each lock that does not strike when it is opened a little."""
    limit = CLASH_VOLUME * thickness**3
    lifted: dict[frozenset[tuple[str, float]], Slabs] = {}
    for lock in design.locks:
        opens = frozenset(lock.opens.items())  # what is opened alike stands alike
        slabs = lifted[opens] = lifted.get(opens) or stand_up(design, thickness, _opened(design, lock))
        a, b = (slabs.items[slabs.index(name)] for name in lock.strikes)
        if overlap_volume(a, b) <= limit:
            turned = ", ".join(f"{name} by {angle:g} degrees" for name, angle in lock.opens.items())
            yield (
                f"lock '{lock.name}': {lock.strikes[0]} does not strike {lock.strikes[1]} when {turned} is opened; "
                "it would not hold: let them overlap more"
            )


def _opened(design: Design, lock: Lock) -> dict[str, Bend]:
    """Bends of every piece with the lock's folds turned back."""
    known = set()

    def bend_of(prefix: str) -> Bend:
        def bent(fold: Fold) -> tuple[float, float]:
            turn = lock.opens.get(prefix + fold.child, 0.0)
            known.add(prefix + fold.child)
            return fold.angle - turn, fold.shift

        return bent

    bends = {piece.name: bend_of(prefixes(design, number)[0]) for number, piece in enumerate(design.pieces)}
    for number, piece in enumerate(design.pieces):
        known |= {prefixes(design, number)[0] + fold.child for fold in piece.folded.folds}
    for name in lock.opens:
        if name not in known:
            raise StyleError(f"style {design.style}", f"the lock '{lock.name}' opens '{name}', which hangs on no fold")
    return bends


def motion_faults(design: Design, thickness: float) -> Iterator[str]:
    """One line for each pair of panels that pass through each other while a piece is put up."""
    for motion in design.motions:
        piece = _piece(design, motion.piece, "a motion")
        yield from _moved(piece, motion, thickness)


def _moved(piece: Piece, motion: Motion, thickness: float) -> Iterator[str]:
    blank = piece.folded
    names, positions = _positions(blank, motion)
    if not positions:
        return
    rotations, offsets = pose_positions(blank, piece.stand, positions)
    start = {panel.name: (rotations[0, i], offsets[0, i]) for i, panel in enumerate(blank.panels)}
    items = slabs_of(blank, start, 0, thickness)
    first = Slabs(tuple(items), thickness)
    middle = first.hulls[None] @ rotations[:, :, :, :2].transpose(0, 1, 3, 2) + offsets[:, :, None, :]
    layers = Layers(middle, rotations[:, :, :, 2] * (thickness / 2))
    index = _index(items)
    bonds = bonds_of(blank, index)
    skip = set(bonds.creases) | _free(motion.free, index)
    told: set[tuple[int, int]] = set()
    riding: dict[tuple[int, int], Array] = {}
    limit = CLASH_VOLUME * thickness**3
    stirred = _stirred(rotations, offsets)
    for place, i, j, gap in near_pairs(layers, rotations, offsets, first.faces, stirred, skip):
        if gap >= -CONTACT - bonds.allowed.get((i, j), 0.0) or (i, j) in told:
            continue
        seen = _seen_from(rotations[place], offsets[place], i, j)
        if (i, j) in riding and float(np.abs(riding[i, j] - seen).max()) < CONTACT / 1000:
            continue  # one rides on the other: they stand to each other as they did before
        riding[i, j] = seen
        a, b = (replace(items[k], rotation=rotations[place, k], offset=offsets[place, k]) for k in (i, j))
        if overlap_volume(a, b) > limit:
            told.add((i, j))
            yield f"{names[place]}: {a.name} passes through {b.name}; change the order, or shorten one of them"


def _seen_from(rotations: Array, offsets: Array, i: int, j: int) -> Array:
    """The pose of slab j as slab i sees it, (3, 4)."""
    return np.asarray(rotations[i].T @ np.column_stack((rotations[j], offsets[j] - offsets[i])))


def _stirred(rotations: Array, offsets: Array) -> NDArray[np.bool_]:
    """Which slabs stand elsewhere than in the position before, (s, n): two that stay were looked at already."""
    stirred = np.ones(offsets.shape[:2], dtype=bool)
    stirred[1:] = (rotations[1:] != rotations[:-1]).any(axis=(2, 3)) | (offsets[1:] != offsets[:-1]).any(axis=2)
    return stirred


def _positions(blank: Blank, motion: Motion) -> tuple[list[str], list[Bends]]:
    """Every position that is tested: the name of its step, and the bends of all folds."""
    known = {fold.child for fold in blank.folds}
    at = dict.fromkeys(known, (0.0, 0.0)) | dict(motion.start)
    stops: list[tuple[str, Bends]] = [("flat", at)]
    for step in motion.steps:
        strange = set(step.bends) - known
        if strange:
            raise StyleError(blank.name, f"the step '{step.name}' moves '{min(strange)}', which hangs on no fold")
        at = at | dict(step.bends)
        stops.append((step.name, at))
    names: list[str] = []
    positions: list[Bends] = []
    for (_, before), (name, after) in pairwise(stops):
        for part in range(1, motion.samples + 2):
            share = part / (motion.samples + 1)
            names.append(name)
            positions.append(
                {
                    child: (
                        before[child][0] + (after[child][0] - before[child][0]) * share,
                        before[child][1] + (after[child][1] - before[child][1]) * share,
                    )
                    for child in known
                }
            )
    return names, positions


def measure_gauge(slabs: Slabs, gauge: Gauge) -> float | None:
    """The distance that a gauge measures, mm; None if its two panels are not parallel."""
    a, b = slabs.items[slabs.index(gauge.a)], slabs.items[slabs.index(gauge.b)]
    along = a.rotation[:, 2]
    if abs(abs(float(along @ b.rotation[:, 2])) - 1.0) > 1e-9:
        return None
    on_a = a.offset + along * (a.half if gauge.a_inside else -a.half)
    on_b = b.offset + b.rotation[:, 2] * (b.half if gauge.b_inside else -b.half)
    return abs(float((on_b - on_a) @ along))


def gauge_faults(design: Design, slabs: Slabs) -> Iterator[str]:
    """One line for each gauge that does not measure what was worked out."""
    for gauge in design.gauges:
        measured = measure_gauge(slabs, gauge)
        if measured is None:
            yield f"{gauge.name}: {gauge.a} and {gauge.b} are not parallel"
        elif abs(measured - gauge.expected) > SIZE_EXACT + CONTACT:
            yield f"{gauge.name} measures {format_mm(measured, 3)} mm, not {format_mm(gauge.expected, 3)} mm"
