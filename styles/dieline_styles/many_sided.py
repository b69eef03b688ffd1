"""Tubes with six or eight equal walls, tucked or sealed at their ends.

Walls are counted from the lap: wall 0 is the back and carries the lap, wall n/2 is the front; seen from above they
follow each other clockwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Protocol

from dieline.style import (
    Blank,
    Closed,
    Design,
    Face,
    Frame,
    Gauge,
    Joint,
    JointKind,
    Meaning,
    Motion,
    Order,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Size,
    Stand,
    State,
    Step,
    polygon,
    rectangle,
)

from .fold_ways import FOLD_WAYS

__all__ = ["Prism", "PrismEnd", "Wall", "prism_design"]


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall on the blank.

    Attributes:
        name: ``panel 1`` and so on, from left to right.
        x0: Left end, mm.
        x1: Right end, mm.
        low: Height of its lower crease or raw edge above the inside floor, mm.
        high: Height of its upper crease or raw edge, mm.
    """

    name: str
    x0: float
    x1: float
    low: float
    high: float

    @property
    def number(self) -> str:
        """The number in its name."""
        return self.name.removeprefix("panel ")


class PrismEnd(Protocol):
    """What closes one end, as the tube needs to know it."""

    top: bool

    def level(self, wall: int) -> float | None:
        """Boards between a wall's crease and the inside, less one half; None for a raw edge, half a board up."""

    def hang(self, prism: Prism, sheet: Sheet) -> None:
        """Hang the flaps of this end on the walls."""

    def closed(self, prism: Prism) -> Closed:
        """The face that it shuts."""

    def steps(self, prism: Prism) -> list[Step]:
        """How it is closed once the tube is put up."""


class Prism:
    """Works out the tube and lays its walls and lap on a sheet.

    Args:
        order: The order.
        sides: How many walls: 6 or 8.
        bottom: What closes the bottom.
        top: What closes the top.
    """

    def __init__(self, order: Order, sides: int, bottom: PrismEnd, top: PrismEnd) -> None:
        self.order, self.sides, self.ends = order, sides, (bottom, top)
        self.turn = 2 * math.pi / sides
        half = math.tan(self.turn / 2)
        # Middle to middle a wall is longer than inside by half a board's mitre at either end.
        self.width = order.size("panel width", half * (order.L + order.t))
        # The lap's crease lets it in by half a board, the crease itself gives the other half.
        first = Quantity.named("panel width", self.width) - order.t / (2 * math.sin(self.turn))
        self.first = order.size(f"{self._name(0)} width", first, round_as="panel width")
        self.side = self.width - order.thickness * half
        self.across = self.side / half
        self.walls = self._walls()

    # ------------------------------------------------------------------ sizes

    def _name(self, index: int) -> str:
        return f"panel {index + 1 if self.order.choice('lap_end') == 'left' else self.sides - index}"

    def _walls(self) -> tuple[Wall, ...]:
        order, t = self.order, self.order.thickness
        heights: dict[tuple[float, float], float] = {}
        walls, x, first = [], 0.0, ""
        for index in range(self.sides):
            below, above = (0.0 if level is None else level for level in (end.level(index) for end in self.ends))
            if (below, above) not in heights:
                name = f"{self._name(index)} height"
                # Rounded one by one, walls would no longer differ by whole boards, as their flaps lie in the box.
                heights[below, above] = order.size(name, order.span(order.H, below, above), round_as=first)
                first = first or name
            low, wide = -(below + 0.5) * t, self.width if index else self.first
            walls.append(Wall(self._name(index), x, x + wide, low, low + heights[below, above]))
            x += wide
        return tuple(walls)

    @property
    def opposite(self) -> int:
        """The wall opposite the one with the lap: the front."""
        return self.sides // 2

    @property
    def tall(self) -> float:
        """Inside height as the walls are really drawn, mm."""
        above = self.ends[1].level(1) or 0.0
        return self.walls[1].high - (above + 0.5) * self.order.thickness

    def face(self, index: int) -> Face | None:
        """The face of the box that a wall makes; slanting walls make none."""
        quarter = self.sides / 4
        if index % quarter:
            return None
        right, left = (Face.RIGHT, Face.LEFT) if self.order.choice("lap_end") == "left" else (Face.LEFT, Face.RIGHT)
        return (Face.BACK, right, Face.FRONT, left)[int(index // quarter)]

    @property
    def plan(self) -> tuple[Point, ...]:
        """Corners of the inside seen from above, counter-clockwise from the left end of the front, mm."""
        x, y = (self.order.L.value - self.side) / 2, 0.0
        corners = []
        for index in range(self.sides):
            corners.append((x, y))
            x, y = x + self.side * math.cos(index * self.turn), y + self.side * math.sin(index * self.turn)
        return tuple(corners)

    def frame(self, index: int, *, top: bool) -> Frame:
        """The frame of (u, v) at one end of a wall: u along it from its inner corner, v away from its crease."""
        wall = self.walls[index]
        # The right end of every wall is complete.
        start = wall.x1 - self.side - (self.width - self.side) / 2
        return Frame((start, wall.high if top else wall.low), (1.0, 0.0), (0.0, 1.0 if top else -1.0))

    def cover(self, deep: float) -> list[Point]:
        """Outline of a flap that covers the end, in the frame of its wall: over the middle of all walls, to a depth.

        Args:
            deep: Where it is cut off before the wall opposite, v, mm.
        """
        beyond = (self.width - self.side) / 2
        x, y = -beyond, 0.0
        corners = []
        for index in range(self.sides):
            corners.append((x, y))
            x, y = x + self.width * math.cos(index * self.turn), y + self.width * math.sin(index * self.turn)
        far = self.sides // 2
        back = (self.across + self.order.thickness - deep) / math.tan(self.turn)
        right, left = corners[far][0] + back, corners[far + 1][0] - back
        return [*corners[:far], (right, deep), (left, deep), *corners[far + 2 :]]

    # ------------------------------------------------------------------ laying out

    def lay(self, sheet: Sheet) -> None:
        """Lay walls and lap on a sheet, the front first: it is the root; then the ends."""
        meaning = FOLD_WAYS[self.order.choice("body_crease")]
        front = self.opposite
        for index in (*range(front, -1, -1), *range(front + 1, self.sides)):
            wall, face = self.walls[index], self.face(index)
            outline = rectangle(wall.x0, wall.low, wall.x1, wall.high)
            # A slanting wall cuts a corner off the space between the others; that is what this box is.
            sheet.panel(wall.name, outline, face=face, role=Role.WALL, intrudes=face is None)
        for parent, child in (
            *((i, i - 1) for i in range(front, 0, -1)),
            *((i, i + 1) for i in range(front, self.sides - 1)),
        ):
            a, b = (self.walls[index] for index in sorted((parent, child)))
            line = (a.x1, max(a.low, b.low)), (a.x1, min(a.high, b.high))
            names = self.walls[parent].name, self.walls[child].name
            sheet.fold(*names, line, angle=math.degrees(self.turn), meaning=meaning)
        self._lay_lap(sheet, meaning)
        for end in self.ends:
            end.hang(self, sheet)

    @property
    def lap_shift(self) -> float:
        """How far the lap leaves its crease, mm: until it lies inside the last wall."""
        return (self.width - self.first) * math.sin(self.turn) - self.order.thickness

    def _lay_lap(self, sheet: Sheet, meaning: Meaning) -> None:
        order, t = self.order, self.order.thickness
        reach = order.size("lap width", order.as_set("lap_width"))
        lean = reach * math.tan(math.radians(order.number("lap_bevel")))
        play = order.number("lap_play")
        low, high = play, self.tall - play
        outline = polygon([(0.0, low), (0.0, high), (-reach, high - lean), (-reach, low + lean)])
        sheet.panel("lap", outline, k=-1.0, role=Role.LAP, intrudes=True)
        give = (order.board.give if order.house.give is None else order.house.give) * t + order.house.step
        line = (0.0, low), (0.0, high)
        angle = math.degrees(self.turn)
        sheet.fold(self.walls[0].name, "lap", line, angle=angle, shift=self.lap_shift, meaning=meaning, give=give)
        edge = min(2.0, reach / 10)
        near = edge + t / 2  # it first passes the end of the last wall
        zone = polygon(
            [
                (-near, low + near),
                (-near, high - near),
                (edge - reach, high - lean - near),
                (edge - reach, low + lean + near),
            ]
        )
        sheet.join(Joint(kind=JointKind.GLUED, a="lap", b=self.walls[-1].name, zone=zone.counter_clockwise()))

    # ------------------------------------------------------------------ states

    def erected(self) -> dict[str, tuple[float, float]]:
        """The folds of walls and lap with the tube put up, its ends open."""
        bends = {wall.name: (math.degrees(self.turn), 0.0) for i, wall in enumerate(self.walls) if i != self.opposite}
        return bends | {"lap": (math.degrees(self.turn), self.lap_shift)}

    def glued_flat(self) -> State:
        """As it leaves the gluer: folded at two opposite corners, the last wall leaning over the lap."""
        t, last = self.order.thickness, self.walls[-1].name
        reach = self.order.ledger.value("lap width")
        lean = math.degrees(math.asin(min(1.0, t / (self.width - t / 2 - reach))))
        bends = {self.walls[self.opposite - 2].name: (180.0, t), last: (180.0 - lean, t)}
        return State(name="glued flat", bends=bends, rest="flat")

    @property
    def stand(self) -> Stand:
        """How the front, the root, stands in the box."""
        t, front = self.order.thickness, self.walls[self.opposite]
        x = (self.order.L.value + self.width) / 2
        return Stand((front.x0, 0.0), (x, -t / 2, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def prism_design(order: Order, sides: int, bottom: PrismEnd, top: PrismEnd, words: str) -> Design:
    """A many-sided tube with a closure at each end, proved erected, glued flat, and while it is closed."""
    prism = Prism(order, sides, bottom, top)
    sheet = Sheet("body", flutes="y" if order.choice("flutes") == "vertical" else "x")
    prism.lay(sheet)
    blank, stand = sheet.blank(), prism.stand
    if order.choice("lap_end") == "right":
        blank, stand = _mirrored(blank), _mirrored_stand(stand, order.L.value)
    t = order.thickness
    gauges = [
        Gauge(name=f"across {one.name} and {other.name}", a=one.name, b=other.name, expected=prism.across)
        for one, other in zip(prism.walls, prism.walls[sides // 2 :], strict=False)
    ]
    return Design(
        style=order.style,
        pieces=(Piece(blank=blank, stand=stand),),
        inside=order.inside,
        crease=Size(prism.across + t, prism.across + t, prism.walls[1].high - prism.walls[1].low),
        sizes=tuple(order.ledger.lines),
        closed=(bottom.closed(prism), top.closed(prism)),
        stretch=(prism.across - order.L.value, prism.across - order.B.value, prism.tall - order.H.value),
        facts={"side inside": prism.side, "across the corners inside": prism.side / math.sin(prism.turn / 2)},
        measures="BH" if sides % 4 else "LBH",
        states=(prism.glued_flat(),),
        motions=(Motion(start=prism.erected(), steps=(*bottom.steps(prism), *top.steps(prism))),),
        gauges=tuple(gauges),
        words=(f"Size L = B is across the flats, inside. {words}",),
    )


def _mirrored(blank: Blank) -> Blank:
    """The blank with left and right changed."""

    def over(point: Point) -> Point:
        return -point[0], point[1]

    return replace(
        blank,
        panels=tuple(replace(panel, outline=panel.outline.mirrored().counter_clockwise()) for panel in blank.panels),
        folds=tuple(replace(fold, line=(over(fold.line[0]), over(fold.line[1]))) for fold in blank.folds),
        joints=tuple(replace(joint, zone=joint.zone.mirrored().counter_clockwise()) for joint in blank.joints),
    )


def _mirrored_stand(stand: Stand, length: float) -> Stand:
    """Where the mirrored root stands: the box is mirrored, too."""
    (x, y), (ox, oy, oz) = stand.at, stand.origin
    return replace(stand, at=(-x, y), origin=(length - ox, oy, oz))
