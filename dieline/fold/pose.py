"""Where every panel stands when the blank is folded: rigid poses down the fold tree."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ..blank import Blank, Fold
from ..style.design import Bends, Stand

__all__ = ["Array", "Pose", "pose_panels", "pose_positions"]

Array = NDArray[np.float64]

Pose = tuple[Array, Array]
"""Rotation (3, 3) and offset (3,): a blank point (x, y, z) stands at rotation @ (x, y, z) + offset, mm."""

_Vector = tuple[float, float, float]
_Rows = tuple[_Vector, _Vector, _Vector]

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
    found = {blank.panels[0].name: _root(stand)}
    for fold in blank.folds:
        found[fold.child] = _folded(
            blank, fold, found[fold.parent], (fold.angle, fold.shift) if bend is None else bend(fold)
        )
    # One array of each kind, whose parts are handed out: many small ones take their time.
    rotations = np.array([rows for rows, _ in found.values()])
    offsets = np.array([offset for _, offset in found.values()])
    return dict(zip(found, zip(rotations, offsets, strict=True), strict=True))


def pose_positions(blank: Blank, stand: Stand, positions: Sequence[Bends]) -> tuple[Array, Array]:
    """The poses of all panels in several positions, each worked out anew only where it has moved.

    Args:
        blank: The blank.
        stand: How its root stands.
        positions: Angle and shift of every fold, by its child, in each position.

    Returns:
        Rotations (s, n, 3, 3) and offsets (s, n, 3), mm, panels in the order of the blank.
    """
    index = {panel.name: i for i, panel in enumerate(blank.panels)}
    hung = [(index[fold.parent], index[fold.child], fold) for fold in blank.folds]
    poses = [_root(stand)] * len(index)
    found: list[list[tuple[_Rows, _Vector]]] = []
    before: Bends = {}
    for bends in positions:
        poses, moved = poses.copy(), [False] * len(index)
        for parent, child, fold in hung:
            bend = bends[fold.child]
            if moved[parent] or before.get(fold.child) != bend:
                poses[child], moved[child] = _folded(blank, fold, poses[parent], bend), True
        found.append(poses)
        before = bends
    rotations = np.array([[rows for rows, _ in poses] for poses in found])
    return rotations, np.array([[offset for _, offset in poses] for poses in found])


def _root(stand: Stand) -> tuple[_Rows, _Vector]:
    """The pose of the root panel."""
    (ux, uy, uz), (vx, vy, vz) = stand.u, stand.v
    rows: _Rows = (
        (ux, vx, uy * vz - uz * vy),
        (uy, vy, uz * vx - ux * vz),
        (uz, vz, ux * vy - uy * vx),
    )
    ax, ay, az = _applied(rows, (*stand.at, 0.0))
    ox, oy, oz = stand.origin
    return rows, (ox - ax, oy - ay, oz - az)


def _folded(
    blank: Blank, fold: Fold, parent: tuple[_Rows, _Vector], bend: tuple[float, float]
) -> tuple[_Rows, _Vector]:
    """The pose of the child of a fold, from its parent's."""
    angle, shift = bend
    turn, px, py = _turn(blank, fold, angle)
    rows = _product(parent[0], turn)
    # The pivot stays where the parent holds it; the panel then leaves it along its own outward normal.
    hx, hy, hz = _applied(parent[0], (px, py, 0.0))
    cx, cy, cz = _applied(rows, (px, py, shift))
    fx, fy, fz = parent[1]
    return rows, (fx + hx - cx, fy + hy - cy, fz + hz - cz)


def _product(a: _Rows, b: _Rows) -> _Rows:
    (a00, a01, a02), (a10, a11, a12), (a20, a21, a22) = a
    (b00, b01, b02), (b10, b11, b12), (b20, b21, b22) = b
    return (
        (a00 * b00 + a01 * b10 + a02 * b20, a00 * b01 + a01 * b11 + a02 * b21, a00 * b02 + a01 * b12 + a02 * b22),
        (a10 * b00 + a11 * b10 + a12 * b20, a10 * b01 + a11 * b11 + a12 * b21, a10 * b02 + a11 * b12 + a12 * b22),
        (a20 * b00 + a21 * b10 + a22 * b20, a20 * b01 + a21 * b11 + a22 * b21, a20 * b02 + a21 * b12 + a22 * b22),
    )


def _applied(rows: _Rows, point: _Vector) -> _Vector:
    x, y, z = point
    (a, b, c), (d, e, f), (g, h, i) = rows
    return a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z


def _turn(blank: Blank, fold: Fold, angle: float) -> tuple[_Rows, float, float]:
    """Rotation about the crease that lifts the child toward the inside, and a point of the crease."""
    (px, py), (qx, qy) = fold.line
    length = math.hypot(qx - px, qy - py)
    ux, uy = (qx - px) / length, (qy - py) / length
    # The child must lie left of the axis, so that a positive turn lifts it to +z.
    side = 0.0
    for x, y in blank.by_name[fold.child].outline.points:
        side += ux * (y - py) - uy * (x - px)
    if side < 0:
        ux, uy = -ux, -uy
    c, s = _cos_sin(angle)
    one = 1.0 - c
    turn: _Rows = (
        (c + ux * ux * one, ux * uy * one, uy * s),
        (ux * uy * one, c + uy * uy * one, -ux * s),
        (-uy * s, ux * s, c),
    )
    return turn, px, py


_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), -90.0: (0.0, -1.0), -180.0: (-1.0, 0.0)}


def _cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine, exact at quarter turns so that a square box stays square to the last bit."""
    if degrees in _QUARTERS:
        return _QUARTERS[degrees]
    radians = math.radians(degrees)
    return math.cos(radians), math.sin(radians)
