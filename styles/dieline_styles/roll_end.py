"""The rolled double wall: outer wall, spine and inner wall, its tabs in the base, corner flaps shut in between.

The wall is turned up, its spine lies level with the rim, and its inner wall hangs down inside; what stands between the
two (the corner flaps of the neighbouring walls) cannot fall out. The tabs of the inner wall go down into slots in the
base: for that the spine is first lifted by an angle psi, with sin psi = depth of the tabs / width of the spine.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dieline.style import Face, Frame, Lock, Path, Point, Role, Sheet, Step, polygon, rectangle

from .roll_options import ROLL

__all__ = [
    "ROLL",
    "TURN",
    "Roll",
    "corner_frame",
    "flap_locks",
    "flap_name",
    "frame_of",
    "lay_corner_flaps",
    "lay_roll",
    "roll_steps",
    "slots_of",
    "tab_locks",
    "tabs_along",
]

TURN = (90.0, 0.0)
"""A right angle, without leaving the crease."""


def frame_of(face: Face, crease: float) -> Frame:
    """The frame of a wall: u along it (the box's own x or y), v outward from its crease on the base.

    Args:
        face: The face that the wall makes.
        crease: Where the crease lies on the blank: x for left and right, y for front and back, mm.
    """
    out = 1.0 if face.far else -1.0
    if face.axis == 0:
        return Frame((crease, 0.0), (0.0, 1.0), (out, 0.0))
    return Frame((0.0, crease), (1.0, 0.0), (0.0, out))


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """One double wall, laid out; all places along it in the box's own x or y, all lengths away from the base, mm.

    Attributes:
        face: The face that it makes.
        frame: Its frame, see ``frame_of``.
        outer: From where to where the outer wall runs.
        rolled: From where to where spine and inner wall are one.
        inner: From where to where the inner wall runs.
        height: Outer wall, base crease to spine.
        spine: Width of the spine.
        drop: Inner wall, from the spine to its lower edge without tabs.
        tabs: From where to where each tab runs.
        tab: Length of the tabs.
        depth: How deep they go into the board under them.
        k: Boards between the inside and the inner wall.
        enclosed: Boards between inner and outer wall, play counted in.
        stages: When the outer wall is turned up, and when the wall is rolled.
    """

    face: Face
    frame: Frame
    outer: tuple[float, float]
    rolled: tuple[float, float]
    inner: tuple[float, float]
    height: float
    spine: float
    drop: float
    tabs: tuple[tuple[float, float], ...] = ()
    tab: float = 0.0
    depth: float = 0.0
    k: float = 0.0
    enclosed: float = 1.0
    stages: tuple[int, int] = (3, 4)

    @property
    def names(self) -> tuple[str, str, str]:
        """Names of outer wall, spine and inner wall."""
        side = self.face.value
        return f"{side} outer wall", f"{side} spine", f"{side} inner wall"

    @property
    def lift(self) -> float:
        """How far the spine is lifted while the tabs are lowered, degrees."""
        return math.degrees(math.asin(max(0.0, min(1.0, self.depth / self.spine))))


def lay_roll(sheet: Sheet, roll: Roll, on: str = "base") -> None:
    """Hang outer wall, spine and inner wall with its tabs on a panel that is laid down already."""
    outer, spine, inner = roll.names
    out = rectangle(roll.outer[0], 0.0, roll.outer[1], roll.height).placed(roll.frame)
    sheet.panel(outer, out, face=roll.face, k=roll.k + 1.0 + roll.enclosed, role=Role.WALL)
    sheet.fold(on, outer, _across(roll, roll.outer, 0.0), stage=roll.stages[0])
    a, b = roll.rolled
    top, turn = roll.height, roll.height + roll.spine
    sheet.panel(spine, rectangle(a, top, b, turn).placed(roll.frame), face=roll.face, k=roll.k)
    sheet.fold(outer, spine, _across(roll, roll.rolled, top), stage=roll.stages[1])
    sheet.panel(inner, polygon(_inner(roll)).placed(roll.frame), face=roll.face, k=roll.k)
    sheet.fold(spine, inner, _across(roll, roll.rolled, turn), stage=roll.stages[1])


def _across(roll: Roll, ends: tuple[float, float], v: float) -> tuple[Point, Point]:
    return roll.frame.point(ends[0], v), roll.frame.point(ends[1], v)


def _inner(roll: Roll) -> list[Point]:
    """The inner wall, its tabs narrowing a little toward their ends."""
    (a, b), top = roll.inner, roll.height + roll.spine
    low, tip = top + roll.drop, top + roll.drop + roll.tab
    lead = roll.depth / 2
    points = [(a, top), (b, top), (b, low)]
    for first, last in reversed(roll.tabs):
        points += [(last, low), (last, tip - lead), (last - lead, tip), (first + lead, tip), (first, tip - lead)]
        points.append((first, low))
    return [*points, (a, low)]


def tabs_along(side: float, number: int, width: float) -> tuple[tuple[float, float], ...]:
    """Where the tabs of an inner wall stand: each in the middle of an equal share of the wall, mm."""
    centres = [(i + 0.5) * side / number for i in range(number)]
    return tuple((centre - width / 2, centre + width / 2) for centre in centres)


def slots_of(roll: Roll, t: float, width: float) -> list[Path]:
    """The slots in the base for the tabs of a wall, closed paths.

    Each begins at the inner wall's inside face: that edge keeps the wall from springing in, and makes the inside exact.

    Args:
        roll: The wall.
        t: Board thickness, mm.
        width: Width of the slots, mm.
    """
    inner = -(roll.spine + t / 2)
    return [
        polygon([(a - 0.5, inner), (b + 0.5, inner), (b + 0.5, inner + width), (a - 0.5, inner + width)]).placed(
            roll.frame
        )
        for a, b in roll.tabs
    ]


def corner_frame(wall: Face, end: Face, hinge: Point) -> Frame:
    """The frame of a corner flap: u up its wall from the base crease, v away from the end of the wall.

    Args:
        wall: The wall that carries it.
        end: The end of the wall.
        hinge: Where its crease meets the base crease of the wall, blank coordinates.
    """
    return Frame(hinge, (0.0, 1.0 if wall.far else -1.0), (1.0 if end.far else -1.0, 0.0))


def lay_corner_flaps(
    sheet: Sheet, wall: Face, hinges: tuple[float, float], crease: float, outline: Sequence[Point], on: str
) -> None:
    """Hang a corner flap on the left and on the right end of a front or back wall.

    Args:
        sheet: Where.
        wall: The wall.
        hinges: Blank x of their creases, left and right, mm.
        crease: Blank y of the wall's base crease, mm.
        outline: The flap: u up the wall, v away from it; its first and last corners lie on its crease.
        on: Name of the wall's panel.
    """
    for end, x in zip((Face.LEFT, Face.RIGHT), hinges, strict=True):
        frame = corner_frame(wall, end, (x, crease))
        name = flap_name(wall, end)
        sheet.panel(name, polygon(outline).placed(frame), role=Role.FLAP)
        sheet.fold(on, name, (frame.point(*outline[0]), frame.point(*outline[-1])))


def flap_name(wall: Face, end: Face) -> str:
    """Name of the corner flap at one end of a wall."""
    return f"{wall.value} {end.value} corner flap"


def roll_steps(roll: Roll) -> list[Step]:
    """Roll the wall over until its inner wall hangs plumb, then lower it: the tabs go into their slots.

    Each step is meant to be tested in its middle and at its end (``Motion.samples`` 1).
    """
    _, spine, inner = roll.names
    side, lift = roll.face.value, roll.lift
    down = {spine: TURN, inner: TURN}
    over = down if not roll.depth else {spine: (90.0 - lift, 0.0), inner: (90.0 + lift, 0.0)}
    half = {name: (angle / 2, 0.0) for name, (angle, _) in over.items()}
    steps = [Step(f"roll the {side} wall, half way", half), Step(f"roll the {side} wall over", over)]
    return steps if not roll.depth else [*steps, Step(f"press the {side} wall's tabs down", down)]


def tab_locks(rolls: Sequence[Roll], t: float, into: str = "base") -> list[Lock]:
    """The tabs keep the inner walls from springing in: swung in by half a board, they strike the edge of their slots.

    Args:
        rolls: The walls.
        t: Board thickness, mm.
        into: Name of the panel that their tabs go into.
    """
    opens = {roll.names[2]: math.degrees(math.asin(min(0.5, t / 2 / roll.drop))) for roll in rolls}
    return [
        Lock(name=f"tabs of the {roll.names[2]}", opens=opens, strikes=(roll.names[2], into), catch=roll.depth)
        for roll in rolls
    ]


def flap_locks(
    rolls: Sequence[Roll],
    walls: Sequence[tuple[Face, str]],
    flap: Sequence[Point],
    rise: float,
    risen: float = 0.0,
) -> list[Lock]:
    """The corner flaps are shut in: where their wall falls outward, they rise and strike the spines.

    The corner of a flap that lies r from its wall and h above the base rises by r sin a - h (1 - cos a) when the wall
    leans by a. On a wall high for the length of its flaps that is little: there no lock is claimed.

    Args:
        rolls: The rolled ends.
        walls: The walls that carry corner flaps, and the name of each one's panel.
        flap: The flaps, see ``lay_corner_flaps``.
        rise: How far that corner has to rise to strike well, mm.
        risen: From where on, away from their crease, those of the front stand as high as the spine lets them, mm.
    """
    reach = max(v for _, v in flap)
    high = max(u for u, v in flap if v > reach - 1e-9)
    far, start = math.hypot(reach, high), math.atan2(reach, high)
    if high + rise >= far:
        return []
    turn = start - math.acos((high + rise) / far)
    locks = []
    for wall, _ in walls:
        for roll in rolls:
            free = max(abs(roll.rolled[wall.far] - roll.outer[wall.far]), 0.0 if wall.far else risen)
            if far * math.sin(start - turn) > free + rise:
                flap_, spine = flap_name(wall, roll.face), roll.names[1]
                opens = {name: math.degrees(turn) for _, name in walls}
                locks.append(
                    Lock(name=f"{flap_} under the spine", opens=opens, strikes=(flap_, spine), catch=reach - free)
                )
    return locks
