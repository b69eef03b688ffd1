"""Which slabs come near each other, for all pairs and any number of positions at once."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..geometry.tolerance import CONTACT
from .pose import Array

__all__ = ["Faces3", "Layers", "boxes_of", "face_gaps", "near_pairs", "overlapping"]


Numbers = NDArray[np.intp]


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

    def of(self, numbers: Numbers) -> Faces3:
        """The faces of some of the slabs, in this order."""
        return Faces3(self.normals[numbers], self.limits[numbers], self.halves[numbers])


class Layers(NamedTuple):
    """Slabs in space, as their corners in the middle of the board and the way from there to its inner side.

    Attributes:
        middle: (..., n, k, 3), mm.
        up: (..., n, 3), mm.
    """

    middle: Array
    up: Array

    @property
    def corners(self) -> Array:
        """Corners of the slabs, (..., n, 2k, 3): the outer side first, then the inner side, mm."""
        up = self.up[..., None, :]
        return np.concatenate((self.middle - up, self.middle + up), axis=-2)


def boxes_of(layers: Layers) -> tuple[Array, Array]:
    """Least and greatest corner of each slab's bounding box, (..., n, 3), mm."""
    reach = np.abs(layers.up)
    return layers.middle.min(axis=-2) - reach, layers.middle.max(axis=-2) + reach


def overlapping(low: Array, high: Array) -> NDArray[np.bool_]:
    """Which bounding boxes do more than touch, (..., n, n): what keeps the boxes apart keeps the slabs apart."""
    starts = low + CONTACT
    begins = starts[..., :, None, 0] < high[..., None, :, 0]
    begins &= starts[..., :, None, 1] < high[..., None, :, 1]
    begins &= starts[..., :, None, 2] < high[..., None, :, 2]
    return begins & begins.swapaxes(-1, -2)


def face_gaps(corners: Array, rotations: Array, offsets: Array, faces: Faces3) -> Array:
    """How far each face of each slab keeps off another slab, (n, m + 2): those along its hull, then top and foot, mm.

    The greatest is how far the two are apart as these faces see it: negative is how deep they overlap, which is a
    reason to look closer; 0 or more is proof that they do not.

    Args:
        corners: Corners of the other slabs, (n, k, 3), mm.
        rotations: (n, 3, 3).
        offsets: (n, 3), mm.
        faces: The slabs' faces.
    """
    local = (corners - offsets[:, None, :]) @ rotations
    beside = (local[:, :, :2] @ faces.normals.transpose(0, 2, 1)).min(axis=1) - faces.limits
    above = local[:, :, 2].min(axis=1) - faces.halves
    below = -faces.halves - local[:, :, 2].max(axis=1)
    return np.column_stack((beside, above, below))


def near_pairs(
    layers: Layers,
    rotations: Array,
    offsets: Array,
    faces: Faces3,
    stirred: NDArray[np.bool_],
    skip: Collection[tuple[int, int]],
) -> list[tuple[int, int, int, float]]:
    """Every pair of slabs whose bounding boxes overlap in some position, in order: (position, i, j, gap), i < j.

    Args:
        layers: The slabs in each position, (s, n, ...).
        rotations: (s, n, 3, 3).
        offsets: (s, n, 3), mm.
        faces: The slabs' faces.
        stirred: Which slabs are looked at in each position, with all others, (s, n).
        skip: Pairs (i < j) that are not looked at.
    """
    near = overlapping(*boxes_of(layers))
    near &= np.tri(near.shape[1], k=-1, dtype=bool).T
    near &= stirred[:, :, None] | stirred[:, None]
    for pair in skip:
        near[:, *pair] = False
    at, i, j = np.nonzero(near)

    def beyond(seen: Numbers, other: Numbers) -> Array:
        others = Layers(layers.middle[at, other], layers.up[at, other])
        gaps = face_gaps(others.corners, rotations[at, seen], offsets[at, seen], faces.of(seen))
        return gaps.max(axis=1)  # type: ignore[no-any-return]  # numpy's own annotation is Any

    gaps = np.maximum(beyond(i, j), beyond(j, i))
    return list(zip(at.tolist(), i.tolist(), j.tolist(), gaps.tolist(), strict=True))
