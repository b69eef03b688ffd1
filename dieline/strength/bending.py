"""Bending stiffness of board: as measured, or from the tensile stiffness of its papers as a sandwich."""

from __future__ import annotations

from collections.abc import Sequence

from ..board import Board
from ..paper import Paper
from .basis import Basis

__all__ = ["bending_of", "liner_places", "sandwich"]

_SANDWICH = Basis(
    text="D = Σ S × z² + Σ S × t² / 12, S tensile stiffness of a liner, z its distance from the neutral line",
    source="theory of layered beams (parallel axes); mediums are not counted, which is on the safe side",
    confidence="derived",
    validity="faces do not buckle, core does not shear: an estimate above what a bending test measures",
)


def sandwich(stiffness: Sequence[float], places: Sequence[float], thickness: Sequence[float] = ()) -> float:
    """Bending stiffness of thin faces held apart, N·m.

    Args:
        stiffness: Tensile stiffness of each face, kN/m.
        places: Where the middle of each face lies, mm from anywhere.
        thickness: Thickness of each face, mm; left out, the faces' own bending is not counted.

    Example:
        >>> round(sandwich([1000.0, 1000.0], [0.0, 4.0]), 9)
        8.0
    """
    total = sum(stiffness)
    neutral = sum(s * z for s, z in zip(stiffness, places, strict=True)) / total
    # kN/m × mm² is 1e3 × 1e-6 N·m
    apart = sum(s * (z - neutral) ** 2 for s, z in zip(stiffness, places, strict=True))
    own = sum(s * t * t / 12.0 for s, t in zip(stiffness, thickness or [0.0] * len(places), strict=True))
    return (apart + own) / 1000.0


def liner_places(board: Board) -> list[float]:
    """Where the middle of each liner of a board lies, mm from the middle of the outer one.

    From flute height to flute height; without these, the calliper is shared out evenly.
    """
    count = len(board.flutes)
    heights = board.flute_height if len(board.flute_height) == count else (board.calliper.value / count,) * count
    liners = board.papers.liners if board.papers is not None else ()
    thickness = [paper.thickness or 0.0 for paper in liners] or [0.0] * (count + 1)
    places = [0.0]
    for height, above, below in zip(heights, thickness, thickness[1:], strict=False):
        places.append(places[-1] + height + (above + below) / 2.0)
    return places


def bending_of(board: Board) -> tuple[float, float, Basis] | None:
    """Bending stiffness along and across the machine, N·m, and what it rests on; None where it cannot be had."""
    if board.bending is not None:
        along, across = board.bending
        return along.value, across.value, Basis(text="as measured", source=along.source, confidence=along.confidence)
    if board.papers is None:
        return None
    liners = board.papers.liners
    along_s, across_s = _stiffness(liners, "stiffness_md"), _stiffness(liners, "stiffness_cd")
    if along_s is None or across_s is None:
        return None
    places = liner_places(board)
    thickness = [paper.thickness or 0.0 for paper in liners]
    return sandwich(along_s, places, thickness), sandwich(across_s, places, thickness), _SANDWICH


def _stiffness(liners: Sequence[Paper], key: str) -> list[float] | None:
    found = [getattr(paper, key) for paper in liners]
    return None if None in found else [float(value) for value in found]
