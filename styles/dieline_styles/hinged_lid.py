"""A lid hinged on the back wall, with a tuck that slides in behind the front: its parts, and how it closes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dieline.style import (
    Face,
    Frame,
    Order,
    Parameter,
    Path,
    Point,
    Role,
    Sheet,
    Step,
    length,
    polygon,
    rounded,
    switch,
)

from .roll_end import TURN

__all__ = [
    "CORNERS",
    "LID",
    "NOTCH",
    "Lid",
    "lay_ears",
    "lay_lid",
    "lid_steps",
    "mouth_room",
    "notched",
    "over_bend",
    "tuck_limits",
]


def over_bend(tuck: float, deep: float) -> float:
    """How far the tuck is bent beyond the square while it slides in, degrees: half the angle at which it enters.

    Args:
        tuck: Length of the tuck, mm.
        deep: From the lid's crease to the tuck's, mm.
    """
    return math.degrees(math.asin(min(1.0, tuck / deep))) / 2


def mouth_room(tuck: float, deep: float) -> float:
    """How far what stands behind the tuck must keep away from it, mm: it bulges back by 0.074 T² / D as it slides in.

    Args:
        tuck: Length of the tuck, mm.
        deep: From the lid's crease to the tuck's, mm.
    """
    return 0.085 * tuck**2 / deep


def tuck_limits(order: Order) -> tuple[float, float]:
    """Shortest and longest tuck, mm: it reaches in 8 mm, keeps off the floor, and is bent over 13 degrees at most."""
    c, t = order.number("clearance"), order.thickness
    most = min(order.H.value - 2 * c - t / 2, 0.45 * order.B.value)
    return min(8.0 + t, most), most


LID: tuple[Parameter, ...] = (
    length(
        "lid_play",
        "Play of the closed lid over the spines.",
        0.5,
        0.0,
        1.0,
        why="with more the lid is seen to stand off",
    ),
    length(
        "lid_inset",
        "How far each side of the lid stands back behind the outside of the box.",
        lambda order: max(0.5, round(0.1 * order.thickness, 2)),
        0.0,
        lambda order: order.thickness,
        why="an edge that stands out catches, and one that stands too far back leaves the spine bare",
    ),
)

CORNERS: tuple[Parameter, ...] = (
    length(
        "tuck_taper",
        "How far each side of the tuck narrows toward its end.",
        3.0,
        0.0,
        lambda order: max(3.0, 0.1 * order.L.value),
        why="the tuck must find its way in and still guide",
    ),
    length(
        "tuck_radius",
        "Radius of the tuck's corners.",
        lambda order: min(8.0, round(0.4 * order.number("tuck_depth"), 1)),
        0.0,
        lambda order: order.number("tuck_depth"),
        why="a corner cannot be rounder than the tuck is long",
    ),
)

_STUB = 0.5
"""mm. A straight stub shorter than this beside a corner is no shape that rule can be bent to."""

_MOUTH, _DEEP, _RADIUS = 44.0, 14.0, 10.0


def _widest_notch(order: Order) -> float:
    return 0.5 * order.L.value


def _deepest_notch(order: Order) -> float:
    return min(order.H.value / 2, order.number("tuck_depth") - order.thickness - 2.0)


def _roundest_notch(order: Order) -> float:
    return min(order.number("thumb_notch_depth"), order.number("thumb_notch_width") / 2) - _STUB


NOTCH: tuple[Parameter, ...] = (
    switch(
        "thumb_notch",
        "A notch in the rim of the front, to push the tuck out by.",
        lambda order: order.H.value >= 20.0 and _widest_notch(order) >= _MOUTH and _deepest_notch(order) >= 5.0,
    ),
    length(
        "thumb_notch_width",
        "Width of the thumb notch at the rim.",
        lambda order: max(5.0, min(_MOUTH, _widest_notch(order))),
        5.0,
        lambda order: max(5.0, _widest_notch(order)),
        why="half of the front must stay",
    ),
    length(
        "thumb_notch_depth",
        "Depth of the thumb notch.",
        lambda order: max(3.0, min(_DEEP, math.floor(_deepest_notch(order)))),
        3.0,
        lambda order: max(3.0, _deepest_notch(order)),
        why="the tuck must stay behind it",
    ),
    length(
        "thumb_notch_radius",
        "Radius of the lower corners of the thumb notch.",
        lambda order: min(_RADIUS, _roundest_notch(order)),
        0.0,
        lambda order: _roundest_notch(order),
        why="it cannot be rounder than the notch is deep, or half as wide",
    ),
)


def notched(order: Order, left: float, right: float, tall: float) -> Path:
    """The front wall in its own frame (u along it, v up from the base), with the thumb notch where one is asked for."""
    corners: list[Point] = [(left, 0.0), (right, 0.0), (right, tall)]
    radii = [0.0] * 3
    if order.flag("thumb_notch"):
        middle, half = (left + right) / 2, order.number("thumb_notch_width") / 2
        low, radius = tall - order.number("thumb_notch_depth"), order.number("thumb_notch_radius")
        corners += [(middle + half, tall), (middle + half, low), (middle - half, low), (middle - half, tall)]
        radii += [0.0, radius, radius, 0.0]
    return rounded([*corners, (left, tall)], [*radii, 0.0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Lid:
    """A lid and its tuck, laid out on the blank; places along x in blank coordinates, mm.

    Attributes:
        crease: Blank y of its crease on the back wall.
        hinge: From where to where that crease runs.
        sides: From where to where the lid runs.
        setback: How far above the crease the wider lid begins.
        deep: From its crease to the tuck's.
        tuck: The tuck's left side from the crease to its end: (x, distance from the crease).
        radius: Radius of the tuck's corners.
    """

    crease: float
    hinge: tuple[float, float]
    sides: tuple[float, float]
    setback: float
    deep: float
    tuck: Sequence[Point]
    radius: float

    @property
    def length(self) -> float:
        """Length of the tuck, mm."""
        return self.tuck[-1][1]

    @property
    def tuck_crease(self) -> float:
        """Blank y of the tuck's crease."""
        return self.crease + self.deep


def lay_lid(sheet: Sheet, lid: Lid, on: str, middle: float, stages: tuple[int, int]) -> None:
    """Hang lid and tuck on the back wall.

    Args:
        sheet: Where.
        lid: The lid.
        on: Name of the back wall.
        middle: Blank x of its middle line; the tuck is alike on both sides, mm.
        stages: When the tuck is bent, and when the lid is closed.
    """
    (a, b), (left, right), y = lid.hinge, lid.sides, lid.crease
    step, end = y + lid.setback, y + lid.deep
    outline = [(a, y), (b, y), (b, step), (right, step), (right, end), (left, end), (left, step), (a, step)]
    sheet.panel("lid", polygon(outline), face=Face.TOP, role=Role.FLAP)
    sheet.fold(on, "lid", ((a, y), (b, y)), stage=stages[1])
    side = [(x, end + v) for x, v in lid.tuck]
    other = [(2 * middle - x, v) for x, v in side]
    radius = max(0.0, min(lid.radius, math.dist(side[-1], side[-2]) - _STUB, middle - side[-1][0] - _STUB))
    radii = [0.0] * (len(side) - 1) + [radius]
    sheet.panel("tuck", rounded([*side, *other[::-1]], [*radii, *radii[::-1]]), face=Face.FRONT, role=Role.FLAP)
    sheet.fold("lid", "tuck", (side[0], other[0]), stage=stages[0])


def lay_ears(
    sheet: Sheet, lid: Lid, outline: Path, middle: float, feet: tuple[float, float], *, inside: bool, stage: int
) -> None:
    """Hang an ear on each side of the tuck.

    Args:
        sheet: Where.
        lid: The lid.
        outline: The ear: u down the tuck from its crease, v away from it.
        middle: Blank x of the lid's middle line, mm.
        feet: From where to where the ears' creases run down the tuck, mm.
        inside: Whether they stand in the inside of the box and bound it.
        stage: When they are folded.
    """
    x = lid.tuck[0][0]
    for face, place in ((Face.LEFT, x), (Face.RIGHT, 2 * middle - x)):
        frame = Frame((place, lid.tuck_crease), (0.0, 1.0), (1.0 if face.far else -1.0, 0.0))
        name = f"{face.value} ear"
        sheet.panel(name, outline.placed(frame), face=face if inside else None, role=Role.FLAP)
        line = frame.point(feet[0], 0.0), frame.point(feet[1], 0.0)
        sheet.fold("tuck", name, line, stage=stage)


def lid_steps(lid: Lid, clear: float, ears: Sequence[str] = ()) -> list[Step]:
    """Bend the tuck over and the ears in, bring the lid down, and slide the tuck in while it straightens.

    The tuck's end enters where the lid stands asin(T / D) above its place; from there on it goes straight down along
    the front: with x = D sin phi / T it is bent by 90 + phi (1 - x / 2) at the lid angle 90 - phi. Between two steps
    it leaves that line by at most x² T² / 8 D, which is kept under a quarter of the clearance.

    Args:
        lid: The lid.
        clear: Clearance between tuck and front, mm.
        ears: Names of the ears.
    """
    share = lid.length / lid.deep
    enter = math.degrees(math.asin(min(1.0, share)))
    steps = [
        Step("bend the tuck over", {"tuck": (90.0 + enter / 2, 0.0), **dict.fromkeys(ears, TURN)}),
        Step("bring the lid down", {"lid": (90.0 - enter, 0.0)}),
    ]
    parts = max(3, math.ceil(lid.length / math.sqrt(2 * clear * lid.deep)))
    for part in range(parts - 1, 0, -1):
        x = part / parts
        phi = math.degrees(math.asin(min(1.0, x * share)))
        bends = {"lid": (90.0 - phi, 0.0), "tuck": (90.0 + phi * (1.0 - x / 2), 0.0)}
        steps.append(Step(f"slide the tuck in, {1 - x:.0%}", bends))
    return [*steps, Step("press the lid flat", {"lid": TURN, "tuck": TURN})]
