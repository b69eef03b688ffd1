"""The four-panel tube: the body under every slotted box and every tube carton.

Walls are counted from the lap: wall 0 carries the lap, wall 3 ends in the raw edge that the lap is joined to. On the
blank (seen from the inside) panels are numbered 1 to 4 from left to right, whichever end the lap is on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from dieline.style import (
    Face,
    Mark,
    Meaning,
    Order,
    Path,
    Point,
    Quantity,
    Role,
    Sheet,
    Stand,
    State,
)

from .end import End, Wall
from .fold_ways import FOLD_WAYS
from .tube_joint import lay_joint
from .tube_wall import wall_outline

__all__ = ["Tube"]

_LEAST_STEP = 0.05
"""mm. No tool follows a shorter step in an outline."""

_AROUND = (Face.FRONT, Face.LEFT, Face.BACK, Face.RIGHT)
"""The faces met on the way to the right of the blank, seen from the inside."""

_RUNS = {
    Face.FRONT: (-1.0, 0.0, 0.0),
    Face.LEFT: (0.0, 1.0, 0.0),
    Face.BACK: (1.0, 0.0, 0.0),
    Face.RIGHT: (0.0, -1.0, 0.0),
}
"""Which way the blank's x axis runs in the box, by the face of the wall."""


class Tube:
    """Works out the tube and lays its walls and lap on a sheet.

    Args:
        order: The order; it must hold the options of ``joint.parameters``.
        bottom: What closes the bottom.
        top: What closes the top.
    """

    def __init__(self, order: Order, bottom: End, top: End) -> None:
        self.order = order
        self.ends = (bottom, top)
        self.lap_on_long = order.options.get("lap_on", "L") == "L"
        self.lap_left = order.options.get("lap_end", "left") == "left"
        self.joint = str(order.options.get("joint", "glued"))
        self.outside = order.options.get("lap_side", "inside") == "outside" and self.joint != "taped"
        self.width = self._widths()
        self.walls = self._walls()

    # ------------------------------------------------------------------ sizes

    def long(self, index: int) -> bool:
        """Whether a wall is an L panel."""
        return self.lap_on_long == (index % 2 == 0)

    def _name(self, index: int) -> str:
        return f"panel {index + 1 if self.lap_left else 4 - index}"

    def _widths(self) -> tuple[float, ...]:
        order, t = self.order, self.order.t
        inside = [order.L if self.long(index) else order.B for index in range(4)]
        ruled: list[Quantity] = [order.span(size, 0, 0) for size in inside]
        if self.joint == "taped":
            ruled[0] = inside[0] + t / 2
            ruled[3] = inside[3] + 1.5 * t
        elif self.outside:
            ruled[0] = inside[0] + 2 * t
            ruled[3] = inside[3] + t / 2
        else:
            ruled[0] = inside[0] + t / 2
        # Recorded from left to right, as a reader of the drawing meets them.
        widths = [0.0] * 4
        for index in range(4) if self.lap_left else range(3, -1, -1):
            widths[index] = order.size(f"{self._name(index)} width", ruled[index])
        return tuple(widths)

    def _walls(self) -> tuple[Wall, ...]:
        order, t = self.order, self.order.thickness
        levels = [tuple(end.level(index, self.long(index)) for end in self.ends) for index in range(4)]
        heights: dict[int, float] = {}
        rims = [tuple(end.rim(index) for end in self.ends) for index in range(4)]
        same = len(set(levels)) == 1 and len(set(rims)) == 1
        first = ""
        for index in range(4) if self.lap_left else range(3, -1, -1):
            if same and heights:
                heights[index] = next(iter(heights.values()))
                continue
            name = "panel height" if same else f"{self._name(index)} height"
            # Rounded one by one, walls would no longer differ by whole boards, as their flaps lie in the box.
            heights[index] = order.size(name, self._height(levels[index], rims[index]), round_as=first)
            first = first or name
        walls: list[Wall] = []
        x = 0.0
        for place in range(4):
            index = place if self.lap_left else 3 - place
            below = levels[index][0]
            low = -self.ends[0].rim(index) * t if below is None else -(below + 0.5) * t
            walls.append(
                Wall(
                    index,
                    self._name(index),
                    self.long(index),
                    self._face(index),
                    x,
                    x + self.width[index],
                    low,
                    low + heights[index],
                )
            )
            x += self.width[index]
        return tuple(sorted(walls, key=lambda wall: wall.index))

    def _height(self, levels: tuple[float | None, ...], rims: tuple[float, ...]) -> Quantity:
        """A wall's height from crease or raw edge to crease or raw edge."""
        order = self.order
        below, above = levels
        if below is not None and above is not None:
            return order.span(order.H, below, above)
        # A raw edge that stands r boards beyond the inside face counts like a crease at level r - ½.
        reach = [rim if level is None else level + 0.5 for level, rim in zip(levels, rims, strict=True)]
        boards = sum(reach)
        return order.H + boards * order.t if boards else order.H

    def _face(self, index: int) -> Face:
        start = _AROUND.index(Face.BACK if self.lap_on_long else Face.RIGHT)
        return _AROUND[(start + (index if self.lap_left else -index)) % 4]

    # ------------------------------------------------------------------ what closures ask for

    def far_edge(self, index: int) -> float:
        """Where the flap of a wall would end on the side of the joint, measured from the wall's other crease, mm.

        The opposite wall is complete, so its width says where the corner stands.
        """
        return self.width[{0: 2, 3: 1}[index]]

    def trims(self, wall: Wall, slot: float) -> tuple[float, float]:
        """How far a flap keeps from the left and the right end of its wall, so that flaps line up in the box, mm."""
        half = slot / 2
        if wall.index in (1, 2):
            return half, half
        free = self.width[wall.index] - (self.far_edge(wall.index) - half)
        if abs(free) < _LEAST_STEP:
            free = 0.0
        # The free side is the lap's side for wall 0, the raw edge for wall 3.
        left_is_free = (wall.index == 0) == self.lap_left
        return (free, half) if left_is_free else (half, free)

    def at(self, index: int, inside: float) -> float:
        """Where a place on a wall lies on the blank, mm.

        Args:
            index: The wall.
            inside: Distance along the wall's inside: x from wall 3 for walls 0 and 2, y from wall 0 for walls 1 and 3
                (for a lap on an L panel), mm.
        """
        half = self.order.thickness / 2
        wall = self.walls[index]
        onward = 1.0 if self.lap_left else -1.0
        # Every wall is measured from a crease that is complete: 0 and 1 from the one between them, 2 and 3 likewise.
        corner = (wall.x1 if self.lap_left else wall.x0) if index == 0 else (wall.x0 if self.lap_left else wall.x1)
        if index == 0:
            return corner - onward * (self.far_edge(0) - half - inside)
        if index == 2:
            return corner + onward * (self.width[2] - half - inside)
        if index == 1:
            return corner + onward * (inside + half)
        return corner + onward * (self.far_edge(3) - half - inside)

    def centre(self, wall: Wall) -> float:
        """Where the middle of the box's wall lies on the blank, mm: walls 0 and 3 may be drawn shorter or longer."""
        if wall.index in (1, 2):
            return (wall.x0 + wall.x1) / 2
        half = self.far_edge(wall.index) / 2
        left_is_free = (wall.index == 0) == self.lap_left
        return wall.x1 - half if left_is_free else wall.x0 + half

    @property
    def mismatch(self) -> tuple[float, float]:
        """By how much the joint misses along wall 0 and wall 3, mm; 0 unless the house or rounding says otherwise."""
        t, w = self.order.thickness, self.width
        if self.joint == "taped":
            return w[0] - (w[2] - t / 2), w[3] - (w[1] + t / 2)
        if self.outside:
            return w[0] - (w[2] + t), w[3] - (w[1] - t / 2)
        return w[0] - (w[2] - t / 2), w[3] - w[1]

    @property
    def stretch(self) -> tuple[float, float, float]:
        """How much house sizes and rounding make the inside larger along L, B and H, mm."""
        order, t = self.order, self.order.thickness
        along = {self.long(1): self.width[1] - t, self.long(2): self.width[2] - t}
        wall = self.walls[1]
        above = self.ends[1].level(1, self.long(1))
        top = wall.high - (self.ends[1].rim(1) if above is None else above + 0.5) * t
        return along[True] - order.L.value, along[False] - order.B.value, top - order.H.value

    @property
    def crease_size(self) -> tuple[float, float, float]:
        """Crease-to-crease size: the complete L wall, the complete B wall, the height of wall 1, mm."""
        along = {self.long(1): self.width[1], self.long(2): self.width[2]}
        return along[True], along[False], self.walls[1].high - self.walls[1].low

    @property
    def hand(self) -> str:
        """Hand of the knocked-down case: right if the longer panel shows on the right, print side up."""
        if abs(self.order.L.value - self.order.B.value) < 1e-9:
            return ""
        return "left" if self.lap_on_long == self.lap_left else "right"

    def erected(self) -> dict[str, tuple[float, float]]:
        """The folds of walls and lap with the tube put up, its ends open."""
        bends = {self.walls[index].name: (90.0, 0.0) for index in (0, 2, 3)}
        if self.joint != "taped":
            bends["lap"] = (90.0, self.lap_shift)
        return bends

    def flat_walls(self) -> dict[str, tuple[float, float]]:
        """The folds of walls and lap in the glued and flat tube: folded at two opposite corners.

        The lap makes a third layer at the seam, so the last wall leans over it.
        """
        t = self.order.thickness
        bends: dict[str, tuple[float, float]] = {self.walls[0].name: (180.0, t), self.walls[2].name: (0.0, 0.0)}
        if self.joint == "taped":
            return bends | {self.walls[3].name: (180.0, t)}
        reach = self.order.ledger.value("lap width")
        lean = math.degrees(math.asin(min(1.0, t / (self.width[3] - t / 2 - reach))))
        return bends | {self.walls[3].name: (180.0 - lean, t), "lap": (0.0, 0.0)}

    def glued_flat(self) -> State:
        """The tube as it leaves the gluer: folded flat, its ends hanging out."""
        bends = self.flat_walls()
        joints: list[str] = []
        for end in self.ends:
            bends |= end.flat_bends(self)
            joints += end.flat_joints()
        return State(name="glued flat", bends=bends, rest="flat", joints=tuple(joints))

    @property
    def lap_shift(self) -> float:
        """How far the lap leaves its crease, mm: inside, until it lies on wall 3; outside, not at all."""
        return 0.0 if self.outside else -(self.width[0] - (self.width[2] - self.order.thickness))

    @property
    def stand(self) -> Stand:
        """How the root, wall 1, stands in the box."""
        order, t = self.order, self.order.thickness
        wall = self.walls[1]
        # The corner at the left end of the wall, where two mid-planes meet half a board outside the inside.
        x = order.L.value + t / 2 if wall.face in (Face.FRONT, Face.RIGHT) else -t / 2
        y = order.B.value + t / 2 if wall.face in (Face.BACK, Face.RIGHT) else -t / 2
        return Stand((wall.x0, 0.0), (x, y, 0.0), _RUNS[wall.face], (0.0, 0.0, 1.0))

    # ------------------------------------------------------------------ laying out

    def lay(self, sheet: Sheet, *, marks: Sequence[tuple[int, Path | None, Mark | None]] = ()) -> None:
        """Lay walls, lap and joint on a sheet, wall 1 first: it is the root.

        Args:
            sheet: Where to lay them.
            marks: Cut-outs and marks, each with the index of its wall.
        """
        meaning = FOLD_WAYS[str(self.order.options.get("body_crease", "crease"))]
        for index in (1, 0, 2, 3):
            wall = self.walls[index]
            slots = [hole for end in self.ends for hole in end.holes(self, index)]
            sheet.panel(
                wall.name,
                wall_outline(self, wall),
                face=wall.face,
                role=Role.WALL,
                holes=[*slots, *(hole for owner, hole, _ in marks if owner == index and hole is not None)],
                marks=[mark for owner, _, mark in marks if owner == index and mark is not None],
            )
        for parent, child in ((1, 0), (1, 2), (2, 3)):
            sheet.fold(self.walls[parent].name, self.walls[child].name, self._crease(parent, child), meaning=meaning)
        self.join_up(sheet, meaning)
        for end in self.ends:
            end.hang(self, sheet)

    def join_up(self, sheet: Sheet, meaning: Meaning) -> None:
        """Lay what closes the tube round: its joint."""
        lay_joint(self, sheet, meaning)

    def _crease(self, parent: int, child: int) -> tuple[Point, Point]:
        a, b = self.walls[parent], self.walls[child]
        x = a.x1 if abs(a.x1 - b.x0) < 1e-9 else a.x0
        return (x, max(a.low, b.low)), (x, min(a.high, b.high))
