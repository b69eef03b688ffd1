"""The skin of the folded board, cut into flat patches: inner and outer faces, raw edges, and the rounded bends."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from ..blank import Fold
from ..geometry.arc import arc_points
from ..geometry.path import Path
from ..style.design import Design
from .pose import Array, Bend
from .slab import CHORD_FOLDED, Slab, Slabs, prefixes

__all__ = ["Patch", "Skin", "patches"]

FACING = 1e-4
"""Cosine to the viewer below which a patch is seen edge-on: a metre of board would show as a tenth of a millimetre."""

SMOOTH = math.cos(math.radians(46.0))
"""Chords of one arc, and a line that runs on into it, turn by less than this at their joints; a corner by more."""

BEND_STEP = 30.0
"""Degrees. The outer liner round a bend is drawn in an even number of flat steps of about this turn."""

LEAST_BEND = 0.5
"""Degrees. A smaller turn leaves no notch that could be seen."""


class Skin(Enum):
    """What one looks at."""

    OUTSIDE = "outside"
    INSIDE = "inside"
    EDGE = "edge"


@dataclass(frozen=True, slots=True)
class Patch:
    """A flat piece of the skin.

    Attributes:
        rings: Its outline, then its holes, each (n, 3), mm.
        normal: Unit vector away from the board, (3,).
        skin: What it is.
        slab: Index of the slab that it belongs to.
        surface: Patches with one number make one smooth surface: no line is drawn between them.
    """

    rings: tuple[Array, ...]
    normal: Array
    skin: Skin
    slab: int
    surface: int


class _Surfaces:
    """Numbers for smooth surfaces; two that run on into each other become one."""

    def __init__(self) -> None:
        self._first: list[int] = []
        self._known: dict[object, int] = {}

    def new(self) -> int:
        self._first.append(len(self._first))
        return len(self._first) - 1

    def named(self, key: object) -> int:
        if key not in self._known:
            self._known[key] = self.new()
        return self._known[key]

    def root(self, number: int) -> int:
        while self._first[number] != number:
            number = self._first[number]
        return number

    def join(self, a: int, b: int) -> None:
        low, high = sorted((self.root(a), self.root(b)))
        self._first[high] = low


def patches(slabs: Slabs, design: Design, bends: Sequence[Bend | None] | None, toward: Array) -> list[Patch]:
    """The patches of all slabs and bends that face the viewer, slab by slab, then bend by bend.

    A slab gives an inner and an outer face with their holes, and a strip along each step of outline and holes. Two
    slabs that meet in a bend leave a notch on its outer side; there the liner goes round, from face to face.

    Args:
        slabs: The slabs.
        design: The design that they were stood up from.
        bends: For each piece, angle and shift of each fold; None takes the finished box.
        toward: Unit vector to the viewer, (3,).
    """
    surfaces = _Surfaces()
    found: list[Patch] = []
    for index, slab in enumerate(slabs.items):
        found += _faces(slab, index, surfaces, toward)
        found += _edges(slab, index, surfaces, toward)
    at = {slab.name: index for index, slab in enumerate(slabs.items)}
    for number, piece in enumerate(design.pieces):
        bend = bends[number] if bends else None
        for prefix in prefixes(design, number):
            for fold in piece.folded.folds:
                bent = (fold.angle, fold.shift) if bend is None else bend(fold)
                pair = at[prefix + fold.parent], at[prefix + fold.child]
                found += _round_bend(slabs, fold, pair, bent, surfaces, toward)
    return [Patch(patch.rings, patch.normal, patch.skin, patch.slab, surfaces.root(patch.surface)) for patch in found]


def _faces(slab: Slab, index: int, surfaces: _Surfaces, toward: Array) -> Iterator[Patch]:
    """The inner or the outer face, whichever is seen."""
    up = slab.rotation[:, 2]
    facing = float(up @ toward)
    if abs(facing) <= FACING:
        return
    skin, normal = (Skin.INSIDE, up) if facing > 0 else (Skin.OUTSIDE, -up)
    flats = [slab.flat]
    if slab.panel is not None:
        flats += [np.array(hole.flatten(CHORD_FOLDED)) for hole in slab.panel.holes]
    base = slab.offset + normal * slab.half
    rings = tuple(flat @ slab.rotation[:, :2].T + base for flat in flats)
    yield Patch(rings, normal, skin, index, surfaces.named((index, skin)))


def _edges(slab: Slab, index: int, surfaces: _Surfaces, toward: Array) -> Iterator[Patch]:
    """The strips of raw edge that are seen, round the outline and in the holes."""
    if slab.panel is None:
        return
    thick = slab.rotation[:, 2] * slab.half
    across = slab.rotation[:, :2]
    for number, path in enumerate((slab.panel.outline, *slab.panel.holes)):
        flat = slab.flat if number == 0 else np.array(path.flatten(CHORD_FOLDED))
        ahead = np.roll(flat, -1, axis=0) - flat
        beside = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
        normals = (beside if number == 0 else -beside) @ across.T
        seen = normals @ toward > FACING
        if not seen.any():
            continue
        world = flat @ across.T + slab.offset
        strips = np.stack(
            (world - thick, np.roll(world - thick, -1, 0), np.roll(world + thick, -1, 0), world + thick), 1
        )
        smooth = _smooth_joints(path, beside)
        for k in np.flatnonzero(seen).tolist():
            after = (k + 1) % len(flat)
            surface = surfaces.named(_plane(index, normals[k], world[k]))
            if smooth[k] and seen[after]:
                surfaces.join(surface, surfaces.named(_plane(index, normals[after], world[after])))
            yield Patch((strips[k],), normals[k], Skin.EDGE, index, surface)


def _plane(index: int, normal: Array, point: Array) -> tuple[int, ...]:
    """A name for the plane of an edge strip of one slab."""
    x, y, z = normal.tolist()
    # Powers of two, so that no plain size lies on the border of two names.
    return index, round(x * 2**20), round(y * 2**20), round(z * 2**20), round(float(normal @ point) * 2**13)


def _smooth_joints(path: Path, beside: Array) -> list[bool]:
    """For each step of a flattened closed path, whether it runs smoothly on into the next: an arc is on one side."""
    if path.straight:
        return [False] * len(beside)
    curved = [bulge != 0.0 for p, q, bulge in path.segments() for _ in arc_points(p, q, bulge, CHORD_FOLDED)]
    onward = np.roll(beside, -1, axis=0)
    gentle = np.einsum("ij,ij->i", beside, onward) > SMOOTH
    return [bool(gentle[k]) and (curved[k] or curved[(k + 1) % len(curved)]) for k in range(len(curved))]


def _round_bend(
    slabs: Slabs, fold: Fold, pair: tuple[int, int], bent: tuple[float, float], surfaces: _Surfaces, toward: Array
) -> Iterator[Patch]:
    """The liner round the outer side of a bend, and the two ends of the round."""
    angle, shift = bent
    parent, child = slabs.items[pair[0]], slabs.items[pair[1]]
    start, end = np.array(fold.line) @ parent.rotation[:, :2].T + parent.offset
    axis = (end - start) / np.linalg.norm(end - start)
    tips = ((start, -axis), (end, axis))
    if fold.meaning is None:
        _run_on(surfaces, pair, tips)
    if abs(angle) < LEAST_BEND:
        return
    skin, side = (Skin.OUTSIDE, -1.0) if angle > 0 else (Skin.INSIDE, 1.0)
    near, far = surfaces.named((pair[0], skin)), surfaces.named((pair[1], skin))
    spokes = _spokes(parent, child, fold, side, math.radians(abs(angle)), shift)
    for k in range(len(spokes) - 1):
        normal = np.cross(axis, spokes[k + 1] - spokes[k])
        normal *= math.copysign(1.0, float(normal @ (spokes[k] + spokes[k + 1]))) / np.linalg.norm(normal)
        if normal @ toward > FACING:
            quad = np.array((start + spokes[k], end + spokes[k], end + spokes[k + 1], start + spokes[k + 1]))
            yield Patch((quad,), normal, skin, pair[1], near if 2 * k < len(spokes) - 1 else far)
    for point, normal in tips:
        if normal @ toward > FACING:
            ring = point + np.concatenate((np.zeros((1, 3)), spokes))
            surface = surfaces.named(_plane(pair[0], normal, point))
            surfaces.join(surface, surfaces.named(_plane(pair[1], normal, point)))
            yield Patch((ring,), normal, Skin.EDGE, pair[1], surface)


def _run_on(surfaces: _Surfaces, pair: tuple[int, int], tips: Iterable[tuple[Array, Array]]) -> None:
    """Where the board bends without a crease, faces and edges run on without a line."""
    for skin in (Skin.OUTSIDE, Skin.INSIDE):
        surfaces.join(*(surfaces.named((index, skin)) for index in pair))
    for point, normal in tips:
        surfaces.join(*(surfaces.named(_plane(index, normal, point)) for index in pair))


def _spokes(parent: Slab, child: Slab, fold: Fold, side: float, angle: float, shift: float) -> Array:
    """From the crease to the liner, step by step round the bend, (n, 3), mm.

    The liner begins half a board above the crease on the parent and ends as far above it as the shift leaves the child.
    """
    (px, py), (qx, qy) = fold.line
    length = math.hypot(qx - px, qy - py)
    beside = np.array((-(qy - py), qx - px)) / length
    if ((child.flat - (px, py)) @ beside).sum() < 0:
        beside = -beside
    first, onward = side * parent.rotation[:, 2], parent.rotation[:, :2] @ beside
    steps = 2 * max(1, round(math.degrees(angle) / BEND_STEP / 2))
    share = np.linspace(0.0, 1.0, steps + 1)[:, None]
    radius = parent.half + (max(0.0, parent.half - side * shift) - parent.half) * share
    return radius * (np.cos(share * angle) * first + np.sin(share * angle) * onward)
