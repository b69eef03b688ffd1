"""Where every panel stands when the blank is folded: rigid poses down the fold tree."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray

from ..blank import Blank, Fold
from ..style.design import Stand

__all__ = ["Array", "Pose", "pose_panels"]

Array = NDArray[np.float64]

Pose = tuple[Array, Array]
"""Rotation (3, 3) and offset (3,): a blank point (x, y, z) stands at rotation @ (x, y, z) + offset, mm."""

Bend = Callable[[Fold], tuple[float, float]]
"""Angle (degrees) and shift (mm) of a fold in some state of the box."""


def pose_panels(blank: Blank, stand: Stand, bend: Bend | None = None) -> Mapping[str, Pose]:
    """The pose of every panel of a blank.

    A folded panel turns about its crease, which lies in the middle of the board, and then leaves it by the shift
    along its own outward normal.

    Args:
        blank: The blank.
        stand: How its root stands.
        bend: Angle and shift of each fold; None takes the finished box.
    """
    root = blank.panels[0]
    u, v = np.array(stand.u), np.array(stand.v)
    rotation = np.column_stack((u, v, np.cross(u, v)))
    at = np.array((*stand.at, 0.0))
    poses: dict[str, Pose] = {root.name: (rotation, np.array(stand.origin) - rotation @ at)}
    for fold in blank.folds:
        angle, shift = (fold.angle, fold.shift) if bend is None else bend(fold)
        turn, px, py = _turn(blank, fold, angle)
        parent_rotation, parent_offset = poses[fold.parent]
        rotation = parent_rotation @ turn
        pivot = np.array((px, py, 0.0))
        offset = parent_offset + parent_rotation @ pivot - rotation @ (pivot + (0.0, 0.0, shift))
        poses[fold.child] = (rotation, offset)
    return poses


def _turn(blank: Blank, fold: Fold, angle: float) -> tuple[Array, float, float]:
    """Rotation about the crease that lifts the child toward the inside, and a point of the crease."""
    (px, py), (qx, qy) = fold.line
    length = math.hypot(qx - px, qy - py)
    ux, uy = (qx - px) / length, (qy - py) / length
    # The child must lie left of the axis, so that a positive turn lifts it to +z.
    points = blank.by_name[fold.child].outline.points
    side = sum(ux * (y - py) - uy * (x - px) for x, y in points)
    if side < 0:
        ux, uy = -ux, -uy
    c, s = _cos_sin(angle)
    one = 1.0 - c
    turn = np.array(
        (
            (c + ux * ux * one, ux * uy * one, uy * s),
            (ux * uy * one, c + uy * uy * one, -ux * s),
            (-uy * s, ux * s, c),
        )
    )
    return turn, px, py


def _cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine, exact at quarter turns so that a square box stays square to the last bit."""
    exact = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), -90.0: (0.0, -1.0), -180.0: (-1.0, 0.0)}
    if degrees in exact:
        return exact[degrees]
    radians = math.radians(degrees)
    return math.cos(radians), math.sin(radians)
