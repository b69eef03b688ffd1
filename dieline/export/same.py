"""Whether two files hold the same strokes: then what was measured on the one holds for the other."""

from __future__ import annotations

from collections.abc import Sequence

from .faces import Written

__all__ = ["same_strokes"]

_CLOSE = 0.001
"""mm. Two writers that round to four and six decimals differ by less; a size may be off by ten times as much."""


def same_strokes(one: Sequence[Written], other: Sequence[Written]) -> bool:
    """Whether two lists of strokes are the same runs in the same order, to a thousandth of a millimetre.

    A bulge counts by how far it moves the middle of its arc. A no may only mean another way of writing (arcs apart
    from lines, another order), and is a reason to measure.

    Args:
        one: Strokes read from one file, mm.
        other: Strokes read from the other.
    """
    if len(one) != len(other):
        return False
    for (key, points, bulges, closed), (other_key, other_points, other_bulges, other_closed) in zip(
        one, other, strict=True
    ):
        if key != other_key or closed != other_closed or len(points) != len(other_points):
            return False
        for (ax, ay), (bx, by) in zip(points, other_points, strict=True):
            if abs(ax - bx) > _CLOSE or abs(ay - by) > _CLOSE:
                return False
        if any(bulges) or any(other_bulges):
            straight = (0.0,) * len(points)
            if not _same_bulges(points, bulges or straight, other_bulges or straight):
                return False
    return True


def _same_bulges(points: Sequence[tuple[float, float]], one: Sequence[float], other: Sequence[float]) -> bool:
    for i, (a, b) in enumerate(zip(one, other, strict=False)):
        (px, py), (qx, qy) = points[i], points[(i + 1) % len(points)]
        # The middle of an arc lies half its chord times the bulge from the middle of the chord.
        if abs(a - b) * max(abs(px - qx), abs(py - qy)) > _CLOSE:
            return False
    return True
