"""A piece that was laid out standing, turned to lie in the box another way."""

from __future__ import annotations

from dataclasses import replace

from dieline.style import Blank, Face, Piece

__all__ = ["ALONG_B", "ALONG_L", "UPRIGHT", "Turn", "turned"]

Turn = tuple[tuple[int, float], tuple[int, float], tuple[int, float]]
"""For x, y and z of the box: the axis of the standing piece that runs there, and 1 or -1 for the way it runs."""

ALONG_L: Turn = ((2, 1.0), (0, -1.0), (1, -1.0))
"""A tube that runs along L: its L panels become top and bottom, the one with the lap the bottom."""

ALONG_B: Turn = ((1, 1.0), (2, 1.0), (0, 1.0))
"""A tube that runs along B: its L panels become left and right."""

UPRIGHT: Turn = ((0, 1.0), (1, 1.0), (2, 1.0))
"""As it was laid out."""

_Vector = tuple[float, float, float]


def turned(piece: Piece, turn: Turn, by: _Vector) -> Piece:
    """The piece turned about the origin and then moved, mm; its panels make the faces that they come to lie on."""

    def way(old: _Vector) -> _Vector:
        x, y, z = (sign * old[axis] for axis, sign in turn)
        return x, y, z

    x, y, z = (a + b for a, b in zip(way(piece.stand.origin), by, strict=True))
    stand = replace(piece.stand, origin=(x, y, z), u=way(piece.stand.u), v=way(piece.stand.v))
    return replace(piece, blank=_faced(piece.blank, turn), stand=stand)


def _faced(blank: Blank, turn: Turn) -> Blank:
    faces = {
        face: next(other for other in Face if other.axis == new and other.far == (face.far == (sign > 0)))
        for face in Face
        for new, (axis, sign) in enumerate(turn)
        if axis == face.axis
    }
    return replace(
        blank, panels=tuple(replace(p, face=faces[p.face]) if p.face is not None else p for p in blank.panels)
    )
