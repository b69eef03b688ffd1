"""Which slabs come near each other, for all pairs and any number of positions at once."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from .pose import Array

__all__ = ["Faces3", "near_pairs"]


class Faces3(NamedTuple):
    """The faces of slabs, each in its own flat frame.

    Attributes:
        normals: Outward normals of the hulls' edges, (n, m, 2).
        limits: Their offsets, (n, m): inside is normal·p ≤ limit.
        halves: Half thickness of each slab, (n,), mm.
    """

    normals: Array
    limits: Array
    halves: Array


def near_pairs(
    corners: Array, rotations: Array, offsets: Array, faces: Faces3, stirred: NDArray[np.bool_] | None = None
) -> list[tuple[int, int, int, float]]:
    """Every pair of slabs whose bounding boxes meet in some position: (position, i, j, gap), i < j.

    The gap is how far some face of one keeps off the other, mm; negative is how deep they overlap as their faces see
    it, which is a reason to look closer; 0 or more is proof that they do not overlap.

    Args:
        corners: Corners of the slabs in each position, (s, n, k, 3), mm.
        rotations: (s, n, 3, 3).
        offsets: (s, n, 3), mm.
        faces: The slabs' faces.
        stirred: Which slabs are looked at in each position, with all others, (s, n); None for all.
    """
    low, high = corners.min(axis=2), corners.max(axis=2)
    near = np.all((low[:, :, None] <= high[:, None]) & (low[:, None] <= high[:, :, None]), axis=3)
    near &= ~np.eye(near.shape[1], dtype=bool)
    if stirred is not None:
        near &= stirred[:, :, None] | stirred[:, None]
    place, seen, other = np.nonzero(near)
    halves = faces.halves[seen]
    local = (corners[place, other] - offsets[place, seen][:, None, :]) @ rotations[place, seen]
    beside = (local[:, :, :2] @ faces.normals[seen].transpose(0, 2, 1)).min(axis=1) - faces.limits[seen]
    above = local[:, :, 2].min(axis=1) - halves
    below = -halves - local[:, :, 2].max(axis=1)
    gap = np.maximum(np.maximum(above, below), beside.max(axis=1))
    found: dict[tuple[int, int, int], float] = {}
    for s, i, j, value in zip(place.tolist(), seen.tolist(), other.tolist(), gap.tolist(), strict=True):
        key = (s, i, j) if i < j else (s, j, i)
        found[key] = max(value, found.get(key, value))
    return [(s, i, j, value) for (s, i, j), value in found.items()]
