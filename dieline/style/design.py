"""What a style builds: one or more blanks, and how they stand together as a box."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..blank import Blank, Face
from ..geometry.arc import Point
from ..sizing import SizeLine
from ..units import Size

__all__ = ["Closed", "Design", "Piece", "Stand"]

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Stand:
    """How the root panel of a blank stands in the box.

    The box's inside space is 0..L by 0..B by 0..H, x along L, y along B, z up.

    Attributes:
        at: A point of the root panel, blank coordinates.
        origin: Where that point (in the middle of the board) comes to stand, mm.
        u: The way the blank's x axis runs in the box; a unit vector.
        v: The way the blank's y axis runs; u × v must point into the box.
    """

    at: Point
    origin: Vector
    u: Vector
    v: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of the design.

    Attributes:
        blank: The flat piece.
        stand: How its root panel stands in the box.
        count: How many of it make one box.
    """

    blank: Blank
    stand: Stand
    count: int = 1

    @property
    def name(self) -> str:
        """Name of the piece."""
        return self.blank.name


@dataclass(frozen=True, slots=True)
class Closed:
    """A face of the box that must be shut.

    Attributes:
        face: The face.
        seam: Widest slit that may stay open in it, mm (flaps that meet leave their gap).
    """

    face: Face
    seam: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A box, ready to be folded, measured and drawn.

    Attributes:
        style: Code of the style.
        pieces: The blanks and how each stands.
        inside: The inside size asked for, mm.
        crease: Crease-to-crease size of the walls, mm.
        sizes: Every named dimension with its derivation.
        closed: The faces that must be shut.
        stretch: How far house sizes make the inside larger (or, negative, smaller) than asked along L, B, H, mm.
        facts: Further numbers for findings (``flap gap``, ``joint gap``), mm.
        hand: ``right``, ``left`` or empty: hand of the knocked-down case.
        words: Anything to print on the drawing (how it closes).
    """

    style: str
    pieces: tuple[Piece, ...]
    inside: Size
    crease: Size
    sizes: tuple[SizeLine, ...]
    closed: tuple[Closed, ...] = ()
    stretch: Vector = (0.0, 0.0, 0.0)
    facts: Mapping[str, float] = field(default_factory=dict)
    hand: str = ""
    words: tuple[str, ...] = ()
