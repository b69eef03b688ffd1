"""Poses in a series of positions are those that each position has by itself."""

from __future__ import annotations

import numpy as np

from dieline.board import find_board
from dieline.fold.pose import Bend, pose_panels, pose_positions
from dieline.style.design import Bends
from dieline.units import parse_size
from dieline_styles.mailer import STYLES


def bend_in(bends: Bends) -> Bend:
    return lambda fold: bends[fold.child]


def test_a_series_of_positions_gives_each_its_own_poses() -> None:
    """Bit for bit, whether a panel moves, rides on one that moves, or stays."""
    style = STYLES["0427"]
    (piece,) = style.build(style.order(parse_size("300x200x60"), find_board("E"))).pieces
    blank = piece.blank
    at = {fold.child: (0.0, 0.0) for fold in blank.folds}
    positions = [
        at,
        at | {"left spine": (40.0, 0.0)},
        at | {"left spine": (40.0, 0.0), "back": (90.0, 0.5)},
        at | {"back": (90.0, 0.5), "lid": (12.3, 0.0)},
        at,
    ]
    rotations, offsets = pose_positions(blank, piece.stand, positions)
    assert rotations.shape == (5, len(blank.panels), 3, 3)
    for place, bends in enumerate(positions):
        poses = pose_panels(blank, piece.stand, bend_in(bends))
        for i, panel in enumerate(blank.panels):
            rotation, offset = poses[panel.name]
            assert np.array_equal(rotations[place, i], rotation)
            assert np.array_equal(offsets[place, i], offset)
