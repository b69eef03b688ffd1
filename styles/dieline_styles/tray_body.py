"""What all trays have in common: a base with four walls round it, standing on its base or turned over as a lid.

A tray's blank is laid out round the middle of its base: x to the right along L, y up along B. Two opposite walls hold
the corners with what hangs on them (laps, webs): they are the holding walls; the other two are the ends, whatever
their length.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from dieline.style import (
    Closed,
    Face,
    Frame,
    Motion,
    Order,
    Path,
    Point,
    Quantity,
    Role,
    Sheet,
    Size,
    Stand,
    Step,
    choice,
    length,
    polygon,
    rectangle,
)

__all__ = ["CORNER_PLAY", "FLUTES", "LEAST_WASTE", "TURN", "TrayBody", "sheet_of", "upward"]

TURN = (90.0, 0.0)
"""A right angle, without leaving the crease."""

LEAST_WASTE = 2.4
"""mm. Narrowest waste between two knives. Source: 3/32 in, die maker, graphicdies.com/how-small."""

CORNER_PLAY = length(
    "corner_play",
    "Play of each raw edge that goes up beside another wall or stands on the base.",
    lambda order: max(0.5, round(0.15 * order.thickness, 2)),
    0.25,
    lambda order: 0.5 + 0.3 * order.thickness,
    why="with less the edges jam, with more the corners stand open",
)

FLUTES = choice(
    "flutes",
    "Which way the flutes (or the grain) run in the base; they stand upright in the walls that they run into.",
    {"L": "along L", "B": "along B"},
    "B",
)

_WALLS = {Face.FRONT: "front wall", Face.BACK: "back wall", Face.LEFT: "left end", Face.RIGHT: "right end"}
_TURNED_OVER = {Face.LEFT: Face.RIGHT, Face.RIGHT: Face.LEFT, Face.BOTTOM: Face.TOP}
"""Where a wall of a lid stands: it is turned over about the middle of its short way, so front stays front."""


def upward(value: float) -> float:
    """The next hundredth of a millimetre: a default must not be rounded to under its least value."""
    return math.ceil(value * 100.0 - 1e-9) / 100.0


def sheet_of(order: Order, name: str) -> Sheet:
    """An empty sheet with the flutes as ordered."""
    return Sheet(name, flutes="x" if order.choice("flutes") == "L" else "y")


class TrayBody:
    """Base and walls of a tray; what holds the corners is added by its kinds.

    Args:
        order: The order, or the part of it that this tray is.
        holding: The axis along which the holding walls run: 0 for front and back, 1 for left and right.
        over: The tray that it goes over as a lid, if it is one.
    """

    def __init__(self, order: Order, holding: int, over: TrayBody | None = None) -> None:
        self.order = order
        self.over = over
        self.holding = (Face.FRONT, Face.BACK) if holding == 0 else (Face.LEFT, Face.RIGHT)
        self.ends = (Face.LEFT, Face.RIGHT) if holding == 0 else (Face.FRONT, Face.BACK)
        self.along = order.L if holding == 0 else order.B
        self.across = order.B if holding == 0 else order.L
        self.axis = holding
        self.play = order.number("corner_play")
        self.base = (0.0, 0.0)
        self.tall = 0.0

    # ------------------------------------------------------------------ names and places

    def face(self, side: Face) -> Face:
        """The face of the box that a wall makes, by its place on the blank."""
        return _TURNED_OVER.get(side, side) if self.over else side

    def name(self, side: Face) -> str:
        """Name of a wall, or of the base, by its place on the blank."""
        return ("top" if self.over else "base") if side is Face.BOTTOM else _WALLS[self.face(side)]

    def corner(self, wall: Face, end: Face, what: str) -> str:
        """Name of what hangs on a wall at its corner with an end, by their places on the blank."""
        return f"{self.face(wall).value} {self.face(end).value} {what}"

    def boards(self, side: Face) -> float:
        """Boards between the inside of the box and the inside of this tray."""
        return self.over.thickest(self.over.axis == side.axis) if self.over else 0.0

    def thickest(self, holding: bool) -> float:
        """Boards of the walls, where they are thickest: the ends (at their laps) or the holding walls."""
        raise NotImplementedError

    def frame(self, side: Face) -> Frame:
        """The frame of a wall: u along it from its middle, the way of the blank's x or y, v from its crease outward."""
        out = 1.0 if side.far else -1.0
        crease = out * self.base[side.axis] / 2
        if side.axis == 0:
            return Frame((crease, 0.0), (0.0, 1.0), (out, 0.0))
        return Frame((0.0, crease), (1.0, 0.0), (0.0, out))

    @property
    def stand(self) -> Stand:
        """How the base stands in the box; a lid lies on the rim of what it goes over."""
        inside, t = (self.over or self).order.inside, self.order.thickness
        x, y = inside.length / 2, inside.breadth / 2
        if self.over:
            return Stand((0.0, 0.0), (x, y, self.over.tall), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
        return Stand((0.0, 0.0), (x, y, -t / 2), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))

    @property
    def between(self) -> tuple[float, float]:
        """Inside length and breadth of this tray as drawn, mm."""
        return self.order.L.value + self.stretch[0], self.order.B.value + self.stretch[1]

    @property
    def stretch(self) -> tuple[float, float, float]:
        """How far house sizes and rounding make the inside larger than asked, mm."""
        raise NotImplementedError

    @property
    def crease(self) -> Size:
        """Crease-to-crease size of base and walls, mm."""
        return Size(*self.base, self.tall)

    # ------------------------------------------------------------------ laying out

    def record(self, boards: float, height: Quantity) -> None:
        """Record the sizes of base and walls.

        Args:
            boards: Boards between the inside and each end.
            height: Height of the walls, from their crease to the raw rim.
        """
        order = self.order
        ruled = [order.span(order.L, 0, 0), order.span(order.B, 0, 0)]
        ruled[self.axis] = order.span(self.along, boards, boards)
        name = self.name(Face.BOTTOM)
        self.base = order.size(f"{name} length", ruled[0]), order.size(f"{name} breadth", ruled[1])
        self.tall = order.size("wall height", height)

    def lay_base(self, sheet: Sheet) -> None:
        """Lay the base, the root of the blank."""
        x, y = self.base[0] / 2, self.base[1] / 2
        name, face = self.name(Face.BOTTOM), self.face(Face.BOTTOM)
        sheet.panel(name, rectangle(-x, -y, x, y), face=face, k=1.0 if self.over else 0.0, role=Role.WALL)

    def lay_wall(
        self,
        sheet: Sheet,
        side: Face,
        outline: Path | Iterable[Point],
        *,
        k: float = 0.0,
        stage: int = 1,
        angle: float = 90.0,
    ) -> None:
        """Hang a wall on the base, as far as the two are one; its outline is given in its frame.

        Args:
            sheet: Where.
            side: Its place on the blank.
            outline: Its outline.
            k: Boards between the inside of this tray and it.
            stage: When it is folded up.
            angle: How far, degrees.
        """
        path = outline if isinstance(outline, Path) else polygon(outline)
        frame, name = self.frame(side), self.name(side)
        foot = [u for u, v in path.points if abs(v) < 1e-9]
        half = self.base[1 - side.axis] / 2
        crease = frame.point(max(min(foot), -half), 0.0), frame.point(min(max(foot), half), 0.0)
        sheet.panel(name, path.placed(frame), face=self.face(side), k=self.boards(side) + k, role=Role.WALL)
        sheet.fold(self.name(Face.BOTTOM), name, crease, angle=angle, stage=stage)

    # ------------------------------------------------------------------ proofs

    def closed(self, slit: float = 0.0) -> tuple[Closed, ...]:
        """The base and the walls must be shut, but for a slit beside each end, mm."""
        ends = [Closed(self.face(side), slit) for side in self.ends]
        return (Closed(self.face(Face.BOTTOM)), *(Closed(self.face(side)) for side in self.holding), *ends)

    def motion(self, steps: Iterable[tuple[str, Iterable[str]]], piece: str = "") -> Motion:
        """Putting it up: what is done, and the panels that are then turned up at a right angle."""
        return Motion(piece=piece, steps=tuple(Step(what, dict.fromkeys(names, TURN)) for what, names in steps))
