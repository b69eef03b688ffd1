"""What holds slabs together: creases and seams, along which they are one board, and joints, where they may press."""

from __future__ import annotations

from dataclasses import dataclass

from ..blank import Blank
from ..style.design import Design
from .clash import Crease, Pair
from .pose import Bend
from .slab import Slabs, prefixes

__all__ = ["Bonds", "bonds_of", "design_bonds"]


@dataclass(frozen=True, slots=True)
class Bonds:
    """Pairs of slabs (i < j) that belong together.

    Attributes:
        creases: Pairs that are one board, and where.
        allowed: Pairs at joints that may press into each other by so many mm.
    """

    creases: dict[Pair, Crease]
    allowed: dict[Pair, float]


def bonds_of(blank: Blank, index: dict[str, int], prefix: str = "", bend: Bend | None = None) -> Bonds:
    """The bonds within one piece.

    Args:
        blank: The piece.
        index: Index of each slab by its name.
        prefix: What stands before its panels' names.
        bend: Angle and shift of its folds; None takes the finished box.
    """
    creases: dict[Pair, Crease] = {}
    allowed: dict[Pair, float] = {}
    parents: dict[str, str] = {}
    for fold in blank.folds:
        angle, shift = (fold.angle, fold.shift) if bend is None else bend(fold)
        creases[_pair(index[prefix + fold.parent], index[prefix + fold.child])] = Crease(fold.line, angle, shift)
        parents[fold.child] = fold.parent
    for seam in blank.seams:
        # How far a seam is folded follows from its loop; it is looked at as if it were folded flat.
        creases[_pair(index[prefix + seam.a], index[prefix + seam.b])] = Crease(seam.line, 180.0, seam.miss)
    for joint in blank.joints:
        # The corner itself, and the wall that the lap hangs on: what presses there presses at one place.
        ends = sorted({joint.a, joint.b, parents.get(joint.a, joint.a)})
        for place, a in enumerate(ends):
            for b in ends[place + 1 :]:
                pair = _pair(index[prefix + a], index[prefix + b])
                allowed[pair] = max(allowed.get(pair, 0.0), joint.crush)
    return Bonds(creases, allowed)


def design_bonds(design: Design, slabs: Slabs) -> Bonds:
    """The bonds within all pieces of a design."""
    index = {slab.name: i for i, slab in enumerate(slabs.items)}
    whole = Bonds({}, {})
    for number, piece in enumerate(design.pieces):
        for prefix in prefixes(design, number):
            one = bonds_of(piece.folded, index, prefix)
            whole.creases.update(one.creases)
            whole.allowed.update(one.allowed)
    return whole


def _pair(i: int, j: int) -> Pair:
    return (i, j) if i < j else (j, i)
