"""How finished pieces come to their places: a lid over its base, a drawer into its sleeve."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from ..errors import StyleError
from ..geometry.tolerance import CLASH_VOLUME, CONTACT
from ..style.design import Design, Piece, Slide, Stand
from .clash import overlap_volume
from .near import Faces3, near_pairs
from .slab import Slabs, prefixes

__all__ = ["apart", "slide_faults"]


def slide_faults(design: Design, slabs: Slabs) -> Iterator[str]:
    """One line for each pair of panels that pass through each other while a piece slides to its place.

    Args:
        design: The design.
        slabs: Its slabs, every piece in its place.
    """
    for slide in design.slides:
        known = _placed(design, slide)[2]
        yield from _slid(slabs, slide, np.array([item.name.startswith(known) for item in slabs.items]))


def apart(design: Design) -> Design:
    """The design with every piece that slides where it starts from."""
    pieces = list(design.pieces)
    for slide in design.slides:
        number, place, _ = _placed(design, slide)
        piece = pieces[number]
        stands = [_moved(stand, slide) if i == place else stand for i, stand in enumerate(piece.stands)]
        pieces[number] = replace(piece, stand=stands[0], more=tuple(stands[1:]))
    return replace(design, pieces=tuple(pieces))


def _placed(design: Design, slide: Slide) -> tuple[int, int, str]:
    """Index of the piece that moves, which of its stands, and what its panels' names begin with."""
    for number in range(len(design.pieces)):
        for place, prefix in enumerate(prefixes(design, number)):
            if prefix == f"{slide.piece}: ":
                return number, place, prefix
    raise StyleError(f"style {design.style}", f"'{slide.name}' moves a piece '{slide.piece}' that is not there")


def _moved(stand: Stand, slide: Slide) -> Stand:
    x, y, z = (a + b for a, b in zip(stand.origin, slide.start, strict=True))
    return replace(stand, origin=(x, y, z))


def _slid(slabs: Slabs, slide: Slide, moves: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> Iterator[str]:
    shares = np.arange(1, slide.samples + 1) / slide.samples
    way = np.array(slide.start)[None, None, :] * shares[:, None, None] * moves[None, :, None]
    rotations, rest = slabs.poses
    offsets = rest[None] + way
    # A piece is only looked at against the others: within itself nothing changes.
    corners = slabs.corners[None] + way[:, :, None, :]
    normals, limits = slabs.edges
    turned = np.broadcast_to(rotations, (slide.samples, *rotations.shape))
    limit, told = CLASH_VOLUME * slabs.thickness**3, set()
    found = near_pairs(
        corners, turned, offsets, Faces3(normals, limits, slabs.halves), np.broadcast_to(moves, offsets.shape[:2])
    )
    for place, i, j, gap in sorted(found, key=lambda entry: (-entry[0], entry[1:])):
        if moves[i] == moves[j] or gap >= -CONTACT or (i, j) in told:
            continue
        a, b = (replace(slabs.items[k], offset=offsets[place, k]) for k in (i, j))
        if overlap_volume(a, b) > limit:
            told.add((i, j))
            yield f"{slide.name}: {a.name} strikes {b.name}; give it more room, or shorten one of them"
