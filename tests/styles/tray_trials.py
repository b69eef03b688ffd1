"""What the tests of trays share: a proved tray in one call, and places on its folded panels."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dieline.board import find_board
from dieline.fold.pose import pose_panels
from dieline.fold.slab import Slab, stand_up
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.sizing import House
from dieline.style import Design, Style
from dieline.style.design import Bends
from dieline.units import parse_size

__all__ = ["BOARDS", "images", "named", "slab", "tray"]

BOARDS = ("carton-0.5", "E", "B", "C", "BC")
"""Boards at which every construction was tried by hand before: 0.5, 1.5, 3, 4 and 7 mm."""


def tray(style: Style, size: str = "", board: str = "C", house: House | None = None, **options: object) -> Result:
    """A tray, built and proved."""
    job = Job(
        style=style.code,
        size=parse_size(size or style.example),
        board=find_board(board),
        options=options,
        house=house or House(),
    )
    return run(job, style)


def named(result: Result, name: str) -> float:
    """A recorded dimension."""
    return next(line.value for line in result.design.sizes if line.name == name)


def slab(result: Result, name: str) -> Slab:
    """A folded panel."""
    slabs = stand_up(result.design, result.job.board.thickness)
    return slabs.items[slabs.index(name)]


def images(
    design: Design, bends: Bends, places: Sequence[tuple[str, tuple[float, float]]]
) -> list[NDArray[np.float64]]:
    """Where points of panels, in blank coordinates, stand in some state of the first piece."""
    piece = design.pieces[0]
    poses = pose_panels(piece.blank, piece.stand, lambda fold: bends.get(fold.child, (fold.angle, fold.shift)))
    return [poses[name][0] @ np.array([x, y, 0.0]) + poses[name][1] for name, (x, y) in places]
