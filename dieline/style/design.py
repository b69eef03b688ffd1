"""What a style builds: one or more blanks, how they stand together as a box, and what else must hold of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..blank import Blank, Face
from ..geometry.arc import Point
from ..sizing import SizeLine
from ..units import Size

__all__ = ["Closed", "Design", "Gauge", "Lock", "Motion", "Piece", "Slide", "Stand", "State", "Step"]

Vector = tuple[float, float, float]

Bends = Mapping[str, tuple[float, float]]
"""Angle (degrees) and shift (mm) of folds, each by the name of the panel that hangs on it."""


@dataclass(frozen=True, slots=True)
class Stand:
    """How the root panel of a blank stands in the box.

    The box's inside space is 0..L by 0..B by 0..H, x along L, y along B, z up.

    Attributes:
        at: A point of the root panel, blank coordinates.
        origin: Where that point (in the middle of the board) comes to stand, mm.
        u: The way the blank's x axis runs in the box; a unit vector.
        v: The way the blank's y axis runs; u × v is the way the blank's inside (+z) faces.
    """

    at: Point
    origin: Vector
    u: Vector
    v: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of the design.

    Attributes:
        blank: The flat piece, as it is drawn.
        stand: How its root panel stands in the box.
        count: How many of it make one box.
        more: Stands of the second and further ones, where there are several; the faces that its panels make turn along.
        model: What is folded in the proof in place of ``blank``, where that has curved creases: the same piece with
            its curves laid into narrow strips.
    """

    blank: Blank
    stand: Stand
    count: int = 1
    more: tuple[Stand, ...] = ()
    model: Blank | None = None

    @property
    def name(self) -> str:
        """Name of the piece."""
        return self.blank.name

    @property
    def folded(self) -> Blank:
        """The blank that is folded in the proof."""
        return self.model or self.blank

    @property
    def stands(self) -> tuple[Stand, ...]:
        """Where each of them stands."""
        return (self.stand, *self.more)


@dataclass(frozen=True, slots=True)
class Closed:
    """A face of the box that must be shut.

    Attributes:
        face: The face.
        seam: Widest slit that may stay open in it, mm (flaps that meet leave their gap).
        window: The part of the face that must be shut, as a polygon in the two axes along the face (in the order
            x, y, z); the whole inside rectangle if left out.
    """

    face: Face
    seam: float = 0.0
    window: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Another state that must hold, such as glued and folded flat as it leaves the gluer.

    Attributes:
        name: Its name, ``glued flat``.
        bends: Folds that differ from the finished box.
        rest: What all other folds do: ``finished`` or ``flat``.
        piece: Name of the piece that it speaks of; empty for the only one.
        joints: Panels that carry a glued zone which must lie on its counterpart here too.
        free: Pairs of panels that are not tested against each other here, with good reason.
        slack: How far glued zones may be displaced against each other here, mm.
    """

    name: str
    bends: Bends
    rest: str = "finished"
    piece: str = ""
    joints: tuple[str, ...] = ()
    free: tuple[tuple[str, str], ...] = ()
    slack: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """Something that locks: opened a little, it must strike.

    Attributes:
        name: What it is, ``tongue``.
        opens: How far each fold is turned back from the finished box, degrees, by the panel that hangs on it.
        strikes: The two panels that must then run into each other (names as in the proof, with the piece in front
            where there are several).
        catch: By how much they overlap, mm, as worked out by the style; printed.
    """

    name: str
    opens: Mapping[str, float]
    strikes: tuple[str, str]
    catch: float


@dataclass(frozen=True, slots=True)
class Step:
    """One step of putting the box up: where its folds stand when the step is done.

    Attributes:
        name: What is done, ``roll the left end``.
        bends: Folds that have moved; all others stay where they were.
    """

    name: str
    bends: Bends


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """How a piece is put up, step by step, from the flat blank; sampled, nothing may pass through anything.

    Attributes:
        steps: The steps; folds move evenly from one to the next.
        free: Pairs of panels that are not tested while moving: declared tuck-ins, parts that bend to enter.
        piece: Name of the piece; empty for the only one.
        start: Folds that do not start flat.
        samples: Positions tested in each step, besides its end.
    """

    steps: tuple[Step, ...]
    free: tuple[tuple[str, str], ...] = ()
    piece: str = ""
    start: Bends = field(default_factory=dict)
    samples: int = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """How a finished piece comes to its place: straight, and nothing of the others may be in its way.

    Attributes:
        name: What is done, ``put the lid over the base``.
        piece: Name of the piece that moves; with its number behind it where it stands several times, ``cap 2``.
        start: Where it comes from, seen from its place, mm along x, y and z of the box.
        samples: Positions looked at for each two panels that come into each other's way.
    """

    name: str
    piece: str
    start: Vector
    samples: int = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """A distance between two faces of board that must measure what was worked out.

    Attributes:
        name: What it is, ``clearance along L``.
        a: A panel (with its piece in front where there are several).
        b: Another, parallel to it.
        a_inside: Whether the distance is taken from the inside (+z) of ``a``.
        b_inside: Whether it is taken to the inside of ``b``.
        expected: The distance, mm.
    """

    name: str
    a: str
    b: str
    a_inside: bool = True
    b_inside: bool = True
    expected: float


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
        facts: Further numbers for findings and the drawing (``flap gap``, ``joint gap``), mm.
        hand: ``right``, ``left`` or empty: hand of the knocked-down case.
        words: Anything to print on the drawing (how it closes).
        measures: The sizes that panels of this design bound and that are measured on it: letters of ``LBH``.
        fitment: Whether it goes into a box of the inside size: then all of it must stay within that space.
        states: Other states that must hold.
        locks: What locks, each to be proved by opening it.
        motions: How pieces are put up.
        gauges: Distances that must measure what was worked out.
        slides: How finished pieces come to their places.
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
    measures: str = "LBH"
    fitment: bool = False
    states: tuple[State, ...] = ()
    locks: tuple[Lock, ...] = ()
    motions: tuple[Motion, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    slides: tuple[Slide, ...] = ()
