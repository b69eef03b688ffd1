"""The front tongue: the lid's front flap hangs outside the wall opposite, its tongue goes in through that wall."""

from __future__ import annotations

import math

from dieline.style import Closed, Face, Lock, Order, Parameter, Path, Sheet, Step, length, polygon, rounded

from .carton import clearance
from .dust import DUST, dust_outline, dust_step, hang_dust, need_dust
from .end import End
from .hinge import PARAMETERS as HINGE
from .hinge import Hinge, inside_length, level_of
from .tube import Tube
from .tuck_tongue import TONGUE_WIDTH

__all__ = ["FRONT", "PARAMETERS", "FrontTongueEnd"]


def _ligament(order: Order) -> float:
    """Board that must stay above the slot, mm."""
    return 15.0 if order.board.corrugated else 10.0


def _least_front(order: Order) -> float:
    return max(15.0, 1.5 * order.thickness + order.number("clearance") + _ligament(order))


def _deepest(order: Order) -> float:
    """Further in, the tongue would have to be turned too far to find its slot."""
    return 0.6 * order.number("front_length") - order.thickness


def _into(order: Order) -> float:
    """Length of the tongue: through the wall and the play before it, mm."""
    return order.number("tongue_reach") + 1.5 * order.thickness + order.number("clearance")


def _off(order: Order) -> float:
    """How far the front flap is held off the upright when the tongue's end is at the wall, radians."""
    before = order.thickness / 2 + order.number("clearance")
    return math.asin(min(0.9, (_into(order) - before) / order.number("front_length")))


def _aim(order: Order, off: float) -> float:
    """How far the tongue leans so that it points at the middle of its slot, radians.

    Args:
        order: The order.
        off: How far the front flap is held off the upright, radians.
    """
    down, away = order.number("front_length"), order.thickness + order.number("clearance")
    return math.atan2(down * (1 - math.cos(off)), down * math.sin(off) + away)


def _usual_play(order: Order) -> float:
    """The tongue leans while it goes in: its thickness then takes more of the slot."""
    t, lean = order.thickness, _aim(order, _off(order))
    room = t / 2 * (math.tan(lean) + 1 / math.cos(lean) - 1)
    # Bent in two straight stages, it is a little off the best aim between them.
    astray = 0.2 * (t + order.number("clearance")) ** 2 / order.number("front_length") + 0.05
    return max(order.number("clearance"), math.ceil(10 * (room + astray)) / 10)


def _greatest_play(order: Order) -> float:
    """With more the lid, turning on its crease, would draw the tongue out before it strikes the wall."""
    return 0.6 * order.number("tongue_reach") * order.B.value / order.number("front_length")


FRONT: tuple[Parameter, ...] = (
    length(
        "front_length",
        "Length of the lid's front flap, down to the tongue.",
        lambda order: max(20.0, 4 * order.thickness + 10.0, math.ceil(_least_front(order))),
        _least_front,
        lambda order: max(_least_front(order), min(60.0, order.H.value / 2)),
        why="10 mm of board (15 of corrugated) must stay above the slot",
    ),
    length(
        "tongue_reach",
        "How far the tongue reaches into the box.",
        lambda order: min(max(8.0, 2 * order.thickness), _deepest(order)),
        lambda order: min(max(3.0, order.thickness), _deepest(order)),
        lambda order: _deepest(order),
        why="it must hold behind the wall, and swing in",
    ),
    length(
        "slot_play",
        "Play of the tongue in its slot, above and below.",
        _usual_play,
        _usual_play,
        lambda order: max(_usual_play(order), min(_usual_play(order) + 3.0, _greatest_play(order))),
        why="the tongue leans while it goes in; with more the lid rises before it locks",
        source="geometry: the way of the tongue into the slot",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*HINGE, *DUST, TONGUE_WIDTH, *FRONT)
"""What a carton with this closure declares after the options of the tube."""


class FrontTongueEnd(End):
    """Dust flaps (layer 0), a lid (layer 1) on one L wall, its front flap outside the other, held by a tongue.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
        top: Whether it closes the top.
        wall: The L wall that carries the lid: 0 or 2.
    """

    def __init__(self, order: Order, *, top: bool, wall: int = 0) -> None:
        super().__init__(top=top)
        self.order = order
        self.wall = wall
        self.opposite = 2 - wall
        self.end = "top" if top else "bottom"
        self.lid, self.front, self.tongue = f"{self.end} lid", f"{self.end} front flap", f"{self.end} tongue"
        self.clear, self.play = order.number("clearance"), order.number("slot_play")
        need_dust(order, self.clear)
        order.need("L", 30.0, "the tongue needs 15 mm of width, and board beside its slot")
        pull = self.play * order.number("front_length") / (0.6 * order.number("tongue_reach"))
        order.need("B", pull, "turning on its crease, the lid would draw the tongue out before it strikes the wall")
        order.need("H", self.reach(self.opposite), "board must stay below the slot for the tongue")

    # ------------------------------------------------------------------ what the tube asks

    def reach(self, wall: int) -> float:
        """How far the slot, with half of the board that must stay beside it, takes up the wall opposite."""
        if wall != self.opposite:
            return 0.0
        return self.order.number("front_length") - self.order.thickness + self.play + _ligament(self.order) / 2

    def level(self, wall: int, long: bool) -> float | None:
        """Dust flaps in layer 0, the lid in layer 1; the wall opposite ends in a raw edge."""
        if not long:
            return level_of(self.order, 0.0)
        return level_of(self.order, 1.0) if wall == self.wall else None

    def rim(self, wall: int) -> float:
        """The raw edge stands half a board up, level with the creases of the dust flaps."""
        return 0.5 if wall == self.opposite else 0.0

    def lap_room(self) -> tuple[float, float]:
        """The lap stays under the dust flaps, on the wall with the raw edge too."""
        return max(self.clear, self.order.number("lap_play")), 0.0

    def closed(self, tube: Tube) -> Closed | None:  # noqa: ARG002
        """The lid covers all of it."""
        return Closed(Face.TOP if self.top else Face.BOTTOM)

    def _sides(self, tube: Tube) -> tuple[float, float]:
        """From where to where the tongue runs, s."""
        wide, broad = inside_length(tube, long=True), self.order.number("tongue_width")
        return (wide - broad) / 2, (wide + broad) / 2

    def holes(self, tube: Tube, wall: int) -> list[Path]:
        """The slot for the tongue."""
        if wall != self.opposite:
            return []
        t, c = self.order.thickness, self.clear
        a, b = self._sides(tube)
        # The lid, in layer 1, lies a board above the raw edge, and the tongue the length of the front flap below it.
        middle = t - self.order.number("front_length")
        upper, lower = middle + t / 2 + self.play, middle - t / 2 - self.play
        slot = [(a - c, lower), (b + c, lower), (b + c, upper), (a - c, upper)]
        return [polygon(slot).placed(Hinge(tube, wall, self.top).frame)]

    # ------------------------------------------------------------------ laying out

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang dust flaps, lid, front flap and tongue."""
        order = self.order
        reach = order.size(f"{self.end} dust flap length", order.as_set("dust_length"))
        # No tuck comes in: the dust flaps may reach the front.
        dust = dust_outline(inside_length(tube, long=False), self.clear, reach, front=self.clear)
        hang_dust(tube, sheet, [dust, dust], top=self.top, lid=self.wall)
        wide = inside_length(tube, long=True)
        deep = order.size(f"{self.end} lid length", order.B + 2 * order.t + clearance(order))
        down = order.size(f"{self.end} front flap length", order.as_set("front_length"))
        order.size(f"{self.end} tongue width", order.as_set("tongue_width"))
        into = order.size(
            f"{self.end} tongue length", order.quantity("tongue_reach") + 1.5 * order.t + clearance(order)
        )
        a, b = self._sides(tube)
        face = tube.walls[self.opposite].face
        hinge = Hinge(tube, self.wall, self.top)
        lid = [(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)]
        hinge.hang(sheet, self.lid, lid, (0.0, wide), k=1.0, stage=3)
        low, tip = deep + down, deep + down + into
        radius = min(0.6 * down, 0.8 * a)
        front = rounded([(0.0, deep), (wide, deep), (wide, low), (0.0, low)], [0.0, 0.0, radius, radius])
        # It lies outside the wall and bounds nothing: its lower edge is no rim of the box.
        hinge.extend(sheet, self.front, front, self.lid, ((0.0, deep), (wide, deep)), face=None, k=1.0, stage=4)
        corner = min(0.5 * into, (b - a) / 4)
        tongue = rounded([(a, low), (b, low), (b, tip), (a, tip)], [0.0, 0.0, corner, corner])
        hinge.extend(
            sheet,
            self.tongue,
            tongue,
            self.front,
            ((a, low), (b, low)),
            face=face,
            k=-1.0,
            stage=5,
            intrudes=True,
        )

    # ------------------------------------------------------------------ closing

    def steps(self, tube: Tube) -> list[Step]:
        """Dust flaps in; the lid down, its front flap held off and the tongue aimed at the slot; the tongue in."""
        order = self.order
        shift = (1.0 - level_of(order, 1.0)) * order.thickness
        off = _off(order)
        near = min(off / 2, (order.thickness + self.clear) / order.number("front_length"))
        bends = [
            {self.front: (90.0 - math.degrees(held), 0.0), self.tongue: (90.0 + math.degrees(held - lean), 0.0)}
            for held, lean in ((held, _aim(order, held)) for held in (off + 0.1, near, 0.0))
        ]
        return [
            dust_step(tube, top=self.top),
            Step(f"bring the {self.lid} down, its front flap held off", {self.lid: (90.0, shift)} | bends[0]),
            Step(f"swing the {self.tongue} into its slot", bends[1]),
            Step(f"press the {self.front} against the wall", bends[2]),
        ]

    def locks(self, tube: Tube) -> list[Lock]:
        """The lid lifted by the play of the slot and a quarter of a board: the tongue strikes the wall."""
        order = self.order
        lift, down, angle = self.play + order.thickness / 4, order.number("front_length"), 0.0
        for _ in range(4):  # the front flap swings out while the lid turns, which lowers the tongue again
            angle = math.asin(min(0.9, (lift + down * (1 - math.cos(angle))) / order.B.value))
        wall = tube.walls[self.opposite].name
        return [
            Lock(
                name=self.tongue,
                opens={self.lid: math.degrees(angle)},
                strikes=(self.tongue, wall),
                catch=order.number("tongue_reach"),
            )
        ]
