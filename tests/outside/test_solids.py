"""The fold model against general-purpose references: solid volumes by manifold3d, clashes by brute force."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import manifold3d
import numpy as np
import pytest

from dieline.board import find_board
from dieline.fold.clash import overlap_volume
from dieline.fold.pose import Array
from dieline.fold.slab import Slab, Slabs, stand_up
from dieline.style.design import Design
from dieline.units import parse_size
from dieline_styles.slotted import STYLES


def _design(style: str, size: str, board: str, **options: Any) -> Design:
    found = STYLES[style]
    return found.build(found.order(parse_size(size), find_board(board), options))


def _solid(slab: Slab) -> Any:
    section = manifold3d.CrossSection([slab.flat], manifold3d.FillRule.EvenOdd)
    matrix = np.column_stack((slab.rotation, slab.offset - slab.rotation[:, 2] * slab.half))
    return manifold3d.Manifold.extrude(section, 2 * slab.half).transform(matrix)


CASES = [("0204", "300x200x150", "C"), ("0204", "120x80x60", "BC"), ("0206", "300x200x150", "E")]


@pytest.mark.parametrize(("style", "size", "board"), CASES)
def test_the_space_inside_is_length_times_breadth_times_height(style: str, size: str, board: str) -> None:
    """What is left of a block just larger than the inside, when all board is taken away, is L·B·H.

    In 0204 and 0206 the inner flaps meet, so floor and lid are flat all over; a taped box has no lap inside.
    """
    design = _design(style, size, board, joint="taped")
    t = find_board(board).thickness
    slabs = stand_up(design, t)
    length, breadth, height = design.inside[:3]
    grow = t / 4
    block = manifold3d.Manifold.cube([length + 2 * grow, breadth + 2 * grow, height + 2 * grow]).translate([-grow] * 3)
    left = block - manifold3d.Manifold.batch_boolean([_solid(slab) for slab in slabs.items], manifold3d.OpType.Add)
    middle = max(left.decompose(), key=lambda part: part.volume())
    assert middle.volume() == pytest.approx(length * breadth * height, rel=2e-3)
    low, high = np.array(middle.bounding_box()).reshape(2, 3)
    # Slits at slot corners let the water a quarter board into them; the walls themselves stand exactly.
    assert np.all(low >= -grow - 1e-9)
    assert np.all(high <= np.array([length, breadth, height]) + grow + 1e-9)


def _axes(a: Slab, b: Slab) -> list[Array]:
    """Every axis that can part two convex prisms: face normals of both, and products of their edges."""
    axes: list[Array] = []
    edges: list[list[Array]] = []
    for slab in (a, b):
        normal = slab.rotation[:, 2]
        along = [slab.rotation[:, :2] @ (q - p) for p, q in zip(slab.flat, np.roll(slab.flat, -1, axis=0), strict=True)]
        axes += [normal, *(np.cross(edge, normal) for edge in along)]
        edges.append([*along, normal])
    axes += [np.cross(u, v) for u, v in itertools.product(*edges)]
    return [axis / np.linalg.norm(axis) for axis in axes if np.linalg.norm(axis) > 1e-9]


def _brute_gap(a: Slab, b: Slab) -> float:
    """Greatest distance by which some axis parts the two; negative if none does."""
    best = -math.inf
    for axis in _axes(a, b):
        one, two = a.corners @ axis, b.corners @ axis
        best = max(best, two.min() - one.max(), one.min() - two.max())
    return float(best)


def _random_slab(rng: random.Random, name: str) -> Slab:
    count = rng.randint(3, 7)
    angles = sorted(rng.uniform(0, 2 * math.pi) for _ in range(count))
    flat = np.array([(rng.uniform(0.9, 1) * 30 * math.cos(angle), 30 * math.sin(angle)) for angle in angles])
    flat = flat[np.argsort(np.arctan2(flat[:, 1], flat[:, 0]))]
    x, y, z, w = (rng.gauss(0, 1) for _ in range(4))
    norm = math.sqrt(x * x + y * y + z * z + w * w)
    x, y, z, w = x / norm, y / norm, z / norm, w / norm
    rotation = np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )
    return Slab(name, None, 0, flat, rotation, np.array([rng.uniform(-25, 25) for _ in range(3)]), rng.uniform(0.2, 8))


def _convex(flat: Array) -> bool:
    turns = [
        float(np.cross(np.append(b - a, 0), np.append(c - b, 0))[2])
        for a, b, c in zip(flat, np.roll(flat, -1, axis=0), np.roll(flat, -2, axis=0), strict=True)
    ]
    return all(turn > 1e-6 for turn in turns)


def test_two_ways_of_finding_clashes_agree_on_random_poses() -> None:
    """Brute force over all separating axes (numpy) against exact intersection (manifold3d), and the fast test between.

    The fast test may call for a closer look where none is needed, but must never call two overlapping slabs free.
    """
    rng = random.Random(11)
    seen = {True: 0, False: 0}
    for _ in range(600):
        a, b = _random_slab(rng, "a"), _random_slab(rng, "b")
        if not _convex(a.flat) or not _convex(b.flat):
            continue
        brute = _brute_gap(a, b)
        volume = overlap_volume(a, b)
        overlaps = volume > 1e-6
        if abs(brute) > 1e-3:
            assert overlaps == (brute < 0)
        fast = Slabs((a, b), 1.0).gaps().get((0, 1))
        if overlaps and volume > 1e-3:
            assert fast is not None
            assert fast < 0
        if fast is not None:
            assert fast <= brute + 1e-9
        seen[overlaps] += 1
    assert min(seen.values()) > 50


def test_a_folded_box_by_brute_force_has_no_clash_but_between_fold_neighbours() -> None:
    design = _design("0202", "300x200x150/60", "BC")
    slabs = stand_up(design, find_board("BC").thickness)
    neighbours = {frozenset((fold.parent, fold.child)) for fold in design.pieces[0].blank.folds}
    for a, b in itertools.combinations(slabs.items, 2):
        if frozenset((a.name, b.name)) not in neighbours:
            assert _brute_gap(a, b) > -1e-6, (a.name, b.name)
