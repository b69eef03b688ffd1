"""How finished pieces come to their places: a lid over its base, a drawer into its sleeve."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..errors import StyleError
from ..geometry.tolerance import CLASH_VOLUME, CONTACT
from ..style.design import Design, Slide, Stand
from .clash import overlap_volume
from .near import face_gaps
from .pose import Array
from .slab import Slabs, prefixes

__all__ = ["apart", "slide_faults"]


def slide_faults(design: Design, slabs: Slabs) -> Iterator[str]:
    """One line for each two panels that pass through each other while a piece slides to its place.

    Args:
        design: The design.
        slabs: Its slabs, every piece in its place.
    """
    limit = CLASH_VOLUME * slabs.thickness**3
    for slide in design.slides:
        prefix, way = _placed(design, slide)[2], np.array(slide.start)
        moves = np.array([item.name.startswith(prefix) for item in slabs.items])
        for i, j, first, last in _in_the_way(slabs, moves, way):
            for share in np.linspace(last, first, slide.samples + 2)[1:-1].tolist():
                moved = replace(slabs.items[i], offset=slabs.items[i].offset + way * share)
                if overlap_volume(moved, slabs.items[j]) > limit:
                    struck = f"{slabs.items[j].name} strikes {moved.name}"
                    yield f"{slide.name}: {struck}; give it more room, or shorten one of them"
                    break


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


def _in_the_way(slabs: Slabs, moves: NDArray[np.bool_], way: Array) -> Iterator[tuple[int, int, float, float]]:
    """Pairs (moving, resting) of slabs that no face keeps apart on some part of the way, and that part of it.

    A face keeps two slabs apart as long as all corners of the other lie beyond it, and while one of them moves
    straight its distance from the nearest of them changes evenly. So each face says exactly from where to where on the
    way it does not, and where none does is what they have in common: nothing is passed over between two samples.
    """
    i, j = np.nonzero(moves[:, None] & ~moves)
    first, last = np.zeros(len(i)), np.ones(len(i))
    for seen, other, towards in ((i, j, -1.0), (j, i, 1.0)):
        gaps, rates = _gaps_on_the_way(slabs, seen, other, way * towards)
        with np.errstate(divide="ignore", invalid="ignore"):
            meet = (-CONTACT - gaps) / rates
        never = ((np.abs(rates) < 1e-12) & (gaps >= -CONTACT)).any(axis=1)
        first = np.maximum(first, np.where(rates < -1e-12, meet, 0.0).max(axis=1))
        last = np.where(never, -1.0, np.minimum(last, np.where(rates > 1e-12, meet, 1.0).min(axis=1)))
    for k in np.flatnonzero(last > first).tolist():
        yield int(i[k]), int(j[k]), float(first[k]), float(last[k])


def _gaps_on_the_way(slabs: Slabs, seen: NDArray[np.intp], other: NDArray[np.intp], way: Array) -> tuple[Array, Array]:
    """How far the nearest corner of the other slab lies beyond each face of one, and how that grows on the way, mm."""
    rotations, offsets = slabs.poses
    faces = slabs.faces.of(seen)
    along = way @ rotations[seen]
    rates = np.column_stack(((along[:, None, :2] * faces.normals).sum(axis=2), along[:, 2], -along[:, 2]))
    return face_gaps(slabs.corners[other], rotations[seen], offsets[seen], faces), rates
