"""The four-panel tube: the body under every slotted box and every tube carton.

Walls are counted from the lap: wall 0 carries the lap, wall 3 ends in the raw edge that the lap is joined to. On the
blank (seen from the inside) panels are numbered 1 to 4 from left to right, whichever end the lap is on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dieline.style import (
    Blank,
    Closed,
    Face,
    Joint,
    JointKind,
    Lock,
    Mark,
    Meaning,
    Motion,
    Order,
    Path,
    Point,
    Quantity,
    Role,
    Sheet,
    Stand,
    State,
    Step,
    polygon,
    polyline,
)

__all__ = ["End", "Tube", "Wall"]

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


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall of the tube, as laid out on the blank.

    Attributes:
        index: Counted from the lap, 0 to 3.
        name: ``panel 1`` to ``panel 4``, from left to right.
        long: Whether it is an L panel.
        face: The face of the box that it makes.
        x0: Left end, mm.
        x1: Right end, mm.
        low: Height of the bottom crease or raw edge, mm (0 is the inside floor).
        high: Height of the top crease or raw edge, mm.
    """

    index: int
    name: str
    long: bool
    face: Face
    x0: float
    x1: float
    low: float
    high: float

    @property
    def number(self) -> str:
        """The number in its name."""
        return self.name.removeprefix("panel ")


class End:
    """What closes one end of a tube (a closure), as the tube needs to know it; by itself an open end.

    Args:
        top: Whether it is the top.
    """

    def __init__(self, *, top: bool) -> None:
        self.top = top

    def level(self, wall: int, long: bool) -> float | None:  # noqa: ARG002  # closures ask for one or the other
        """Boards between a wall's crease line and the inside, less one half; None for a raw edge."""
        return None

    def rim(self, wall: int) -> float:  # noqa: ARG002
        """How far a raw edge stands beyond the inside face, in boards; 0 is level with it."""
        return 0.0

    def edge(self, tube: Tube, wall: int) -> list[tuple[Point, float]]:  # noqa: ARG002
        """What is cut into a wall's raw edge: points, each with the bulge after it, walked counter-clockwise."""
        return []

    def holes(self, tube: Tube, wall: int) -> list[Path]:  # noqa: ARG002
        """What is cut out of a wall for this end: slots that tongues go into."""
        return []

    def reach(self, wall: int) -> float:  # noqa: ARG002
        """How far something of this end hangs into the box along the inside of a wall, mm."""
        return 0.0

    def slot(self) -> tuple[float, float, bool]:
        """Width of the slots and their depth past the lower crease (mm), and whether their ends are round."""
        return 0.0, 0.0, False

    def lap_room(self) -> tuple[float, float]:
        """How far the lap must keep from the inside face at this end (mm), and the least bevel of its end (degrees)."""
        return 0.0, 0.0

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang the flaps of this end on the walls."""

    def closed(self, tube: Tube) -> Closed | None:  # noqa: ARG002
        """The face that it shuts, if it shuts one."""
        return None

    def steps(self, tube: Tube) -> list[Step]:  # noqa: ARG002
        """How it is closed once the tube is put up, step by step."""
        return []

    def erected(self, tube: Tube) -> dict[str, tuple[float, float]]:  # noqa: ARG002
        """Its folds once the tube is put up, where it closes with the tube."""
        return {}

    def motions(self, tube: Tube) -> list[Motion]:  # noqa: ARG002
        """How it moves by itself: a bottom while the tube is put up, a top after everything else is closed."""
        return []

    def free(self, tube: Tube) -> list[tuple[str, str]]:  # noqa: ARG002
        """Pairs of panels that are not tested against each other while it is closed: declared tuck-ins."""
        return []

    def locks(self, tube: Tube) -> list[Lock]:  # noqa: ARG002
        """What locks in it."""
        return []

    def flat_bends(self, tube: Tube) -> dict[str, tuple[float, float]]:  # noqa: ARG002
        """Its folds in the tube as it leaves the gluer, where they do not lie flat."""
        return {}

    def flat_joints(self) -> list[str]:
        """Panels of it that carry a glued zone which must also meet in the glued and flat state."""
        return []

    def drawn(self, tube: Tube, blank: Blank) -> Blank:  # noqa: ARG002
        """The blank as it is cut, where that differs from the one that is folded in the proof."""
        return blank

    def facts(self, tube: Tube) -> dict[str, float]:  # noqa: ARG002
        """Numbers for findings and the drawing, mm."""
        return {}


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
        meaning = _MEANINGS[str(self.order.options.get("body_crease", "crease"))]
        for index in (1, 0, 2, 3):
            wall = self.walls[index]
            slots = [hole for end in self.ends for hole in end.holes(self, index)]
            sheet.panel(
                wall.name,
                self._outline(wall),
                face=wall.face,
                role=Role.WALL,
                holes=[*slots, *(hole for owner, hole, _ in marks if owner == index and hole is not None)],
                marks=[mark for owner, _, mark in marks if owner == index and mark is not None],
            )
        for parent, child in ((1, 0), (1, 2), (2, 3)):
            sheet.fold(self.walls[parent].name, self.walls[child].name, self._crease(parent, child), meaning=meaning)
        self._lay_joint(sheet, meaning)
        for end in self.ends:
            end.hang(self, sheet)

    def _crease(self, parent: int, child: int) -> tuple[Point, Point]:
        a, b = self.walls[parent], self.walls[child]
        x = a.x1 if abs(a.x1 - b.x0) < 1e-9 else a.x0
        return (x, max(a.low, b.low)), (x, min(a.high, b.high))

    def _outline(self, wall: Wall) -> Path:
        """The wall with the slots' ends taken out of its corners, counter-clockwise from the lower left."""
        left = next((other for other in self.walls if abs(other.x1 - wall.x0) < 1e-9), None)
        right = next((other for other in self.walls if abs(other.x0 - wall.x1) < 1e-9), None)
        corners = (
            self._corner(wall, wall.x0, left, 0),
            self.ends[0].edge(self, wall.index),
            _back(self._corner(wall, wall.x1, right, 0)),
            self._corner(wall, wall.x1, right, 1),
            self.ends[1].edge(self, wall.index),
            _back(self._corner(wall, wall.x0, left, 1)),
        )
        points = tuple(point for corner in corners for point, _ in corner)
        bulges = tuple(bulge for corner in corners for _, bulge in corner)
        return Path(points, bulges if any(bulges) else (), closed=True)

    def _corner(self, wall: Wall, x: float, other: Wall | None, end: int) -> list[tuple[Point, float]]:
        """A corner from the upright side to the crease: each point with the bulge of the step that follows it."""
        y = (wall.low, wall.high)[end]
        if other is None or self.ends[end].level(wall.index, wall.long) is None:
            return [((x, y), 0.0)]
        slot, depth, round_end = self.ends[end].slot()
        if not slot:
            return [((x, y), 0.0)]
        inward = slot / 2 if x == wall.x0 else -slot / 2
        up = 1.0 if end == 1 else -1.0
        bottom = (min(wall.high, other.high) - depth) if end == 1 else (max(wall.low, other.low) + depth)
        if round_end:
            shoulder = bottom + up * slot / 2
            bulge = math.tan(math.pi / 8) * (1.0 if inward * up > 0 else -1.0)
            corner = [((x, bottom), bulge), ((x + inward, shoulder), 0.0)]
            return corner if abs(shoulder - y) < 1e-9 else [*corner, ((x + inward, y), 0.0)]
        if abs(bottom - y) < 1e-9:
            return [((x, y), 0.0)]
        return [((x, bottom), 0.0), ((x + inward, bottom), 0.0), ((x + inward, y), 0.0)]

    def _lay_joint(self, sheet: Sheet, meaning: Meaning) -> None:
        order, t = self.order, self.order.thickness
        first, last = self.walls[0], self.walls[3]
        # Rounding may leave the tube a step short of closing; anything more the house must stand for.
        play = min(max(abs(value) for value in self.mismatch), order.house.step)
        x = first.x0 if self.lap_left else first.x1
        outward = -1.0 if self.lap_left else 1.0
        low, high = self._lap_reach()
        if self.joint == "taped":
            edge = last.x1 if self.lap_left else last.x0
            sheet.join(
                Joint(
                    kind=JointKind.TAPED,
                    a=last.name,
                    b=first.name,
                    zone=polyline([(edge, max(last.low, 0.0)), (edge, min(last.high, order.H.value))]),
                    play=play,
                    crush=order.crush + play,
                )
            )
            return
        reach = order.size("lap width", order.as_set("lap_width"))
        bevels = [max(order.number("lap_bevel"), end.lap_room()[1]) for end in self.ends]
        rise, fall = (reach * math.tan(math.radians(bevel)) for bevel in bevels)
        sheet.panel(
            "lap",
            polygon([(x, low), (x, high), (x + outward * reach, high - fall), (x + outward * reach, low + rise)]),
            face=last.face,
            k=1.0 if self.outside else -1.0,
            role=Role.LAP,
            intrudes=not self.outside,
        )
        give = (order.board.give if order.house.give is None else order.house.give) * t + play
        sheet.fold(first.name, "lap", ((x, low), (x, high)), shift=self.lap_shift, meaning=meaning, give=give)
        edge_play = min(2.0, reach / 10)
        start = edge_play + (t / 2 if self.outside else 0.0)  # outside, the lap first passes the end of its own wall
        zone = polygon(
            [
                (x + outward * start, low + edge_play),
                (x + outward * start, high - edge_play),
                (x + outward * (reach - edge_play), high - fall - edge_play),
                (x + outward * (reach - edge_play), low + rise + edge_play),
            ]
        )
        sheet.join(
            Joint(
                kind=JointKind.GLUED if self.joint == "glued" else JointKind.STITCHED,
                a="lap",
                b=last.name,
                zone=zone.counter_clockwise(),
                a_inside=self.outside,
                b_inside=not self.outside,
                play=play,
                crush=order.crush + play,
            )
        )

    def _lap_reach(self) -> tuple[float, float]:
        """Lower and upper end of the lap's crease: it keeps a little off the inside floor and lid, mm."""
        play, t = self.order.number("lap_play"), self.order.thickness
        first = self.walls[0]
        back = [0.0 if end.level(0, first.long) is None else play for end in self.ends]
        back = [max(least, end.lap_room()[0]) for least, end in zip(back, self.ends, strict=True)]
        below, above = (end.level(0, first.long) for end in self.ends)
        floor = first.low + (self.ends[0].rim(0) if below is None else below + 0.5) * t
        lid = first.high - (self.ends[1].rim(0) if above is None else above + 0.5) * t
        low = first.low if below is None and not back[0] else floor + back[0]
        high = first.high if above is None and not back[1] else lid - back[1]
        return low, high


def _back(corner: list[tuple[Point, float]]) -> list[tuple[Point, float]]:
    """The same corner walked the other way."""
    bulges = [-bulge for _, bulge in corner[:-1]]
    return [(point, bulge) for (point, _), bulge in zip(corner[::-1], [*bulges[::-1], 0.0], strict=True)]


_MEANINGS = {
    "crease": Meaning.CREASE,
    "perforated": Meaning.PERFORATION,
    "cut-crease": Meaning.CUT_CREASE,
}
