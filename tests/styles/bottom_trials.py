"""What the tests of locking bottoms and gable tops share: a proved carton, one with a spoiled closure, and any pose."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from dieline.board import find_board
from dieline.fold.bonds import bonds_of
from dieline.fold.clash import find_clashes
from dieline.fold.pose import Array, Pose, pose_panels
from dieline.fold.slab import Slabs, slabs_of
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.style.contract import Style
from dieline.style.design import Design
from dieline.style.order import Order
from dieline.units import parse_size
from dieline_styles.carton import carton_design
from dieline_styles.end import End
from dieline_styles.ready_glued import STYLES

__all__ = ["Bends", "box", "opened", "overlaps", "poses_of", "seen_from", "spoiled"]

Bends = Mapping[str, tuple[float, float]]


def box(style: str, size: str, board: str, **options: object) -> Result:
    """A carton, built and proved."""
    return _run(STYLES[style], size, board, options)


def spoiled(style: str, make: Callable[[Order], End], size: str, board: str, **options: object) -> Result:
    """The same tube with another bottom, and an open top, built and looked at."""

    def build(order: Order) -> Design:
        return carton_design(order, make(order), End(top=True))

    return _run(replace(STYLES[style], build=build), size, board, options)


def _run(style: Style, size: str, board: str, options: Mapping[str, object]) -> Result:
    return run(Job(style=style.code, size=parse_size(size), board=find_board(board), options=options), style)


def opened(result: Result, number: int = 0) -> list[Bends]:
    """The positions of one of its motions, one after the other: the bends of all folds."""
    motion = result.design.motions[number]
    at = {fold.child: (0.0, 0.0) for fold in result.design.pieces[0].blank.folds} | dict(motion.start)
    positions: list[Bends] = []
    for step in motion.steps:
        at = at | dict(step.bends)
        positions.append(at)
    return positions


def poses_of(result: Result, bends: Bends) -> Mapping[str, Pose]:
    """Where every panel stands."""
    piece = result.design.pieces[0]
    return pose_panels(piece.folded, piece.stand, lambda fold: bends.get(fold.child, (0.0, 0.0)))


def overlaps(result: Result, bends: Bends, thickness: float) -> set[frozenset[str]]:
    """Pairs of panels, of this thickness, that run into each other; those with a crease between them left out."""
    blank = result.design.pieces[0].folded
    items = slabs_of(blank, poses_of(result, bends), 0, thickness)
    index = {item.name: number for number, item in enumerate(items)}
    creased = set(bonds_of(blank, index).creases)
    found = find_clashes(Slabs(tuple(items), thickness), {}, {}, creased)
    return {frozenset((clash.a, clash.b)) for clash in found}


def seen_from(result: Result, bends: Bends, panel: str, other: str, points: list[tuple[float, float]]) -> Array:
    """Places of one panel (blank coordinates) as another one sees them: along it, and above its middle, (n, 3), mm."""
    poses = poses_of(result, bends)
    rotation, offset = poses[panel]
    world = np.array(points) @ rotation[:, :2].T + offset
    other_rotation, other_offset = poses[other]
    return np.asarray((world - other_offset) @ other_rotation)
