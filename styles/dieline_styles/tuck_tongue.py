"""The tongue lock: the lid's tongue goes down through a slot at the crease of a flap that the wall opposite carries."""

from __future__ import annotations

import math

from dieline.style import Closed, Face, Lock, Order, Parameter, Path, Sheet, Step, length, rounded

from .carton import clearance
from .dust import DUST, dust_outline, dust_step, hang_dust, need_dust
from .end import End
from .hinge import PARAMETERS as HINGE
from .hinge import Hinge, inside_length, level_of
from .tube import Tube
from .tuck import over_bend, swing_room

__all__ = ["PARAMETERS", "TONGUE", "TONGUE_WIDTH", "TongueEnd"]

TONGUE_WIDTH = length(
    "tongue_width",
    "Width of the tongue.",
    lambda order: max(15.0, round(order.L.value / 3, 1)),
    lambda order: min(15.0, order.L.value / 2),
    lambda order: order.L.value / 2,
    why="a narrower tongue tears out, a wider one leaves the flap no board beside its slot",
)


def _barb(order: Order) -> float:
    return max(1.5, 1.5 * order.thickness)


def _neck(order: Order) -> float:
    """From the tongue's crease to its barbs: through the flap, and the play under it, mm."""
    return 1.5 * order.thickness + order.number("tongue_play")


def _least_tongue(order: Order) -> float:
    return _neck(order) + 0.3 + max(6.0, order.thickness)


def _slot_depth(order: Order) -> float:
    """The slot begins at the crease and makes room for the tongue to swing in, mm."""
    c = order.number("clearance")
    return 1.5 * order.thickness + c + swing_room(order, order.number("tongue_length"))


def _most(order: Order) -> float:
    return 0.5 * min(order.B.value, order.H.value)


TONGUE: tuple[Parameter, ...] = (
    TONGUE_WIDTH,
    length(
        "tongue_play",
        "How far the tongue's barbs lie under the flap when the lid is shut.",
        lambda order: order.number("clearance") + order.thickness / 2,
        lambda order: order.number("clearance"),
        lambda order: order.number("clearance") + 3 * order.thickness,
        why="the barbs need room to spring out, and with more the lid rises before it locks",
    ),
    length(
        "tongue_length",
        "Length of the tongue from its crease.",
        lambda order: max(
            _least_tongue(order), min(max(12.0, round(0.12 * order.B.value + 6.0, 1)), 60.0, _most(order))
        ),
        _least_tongue,
        lambda order: max(_least_tongue(order), _most(order)),
        why="the barbs need 6 mm to slope away; beyond half of B or H the tongue cannot swing in",
    ),
    length(
        "slot_flap_length",
        "Length of the flap with the slot.",
        lambda order: max(_slot_depth(order) + 3.0, min(40.0, round(0.4 * order.B.value, 1))),
        lambda order: _slot_depth(order) + 3.0,
        lambda order: max(_slot_depth(order) + 3.0, 0.8 * order.B.value),
        why="3 mm of board must stay beyond the slot, and the flap lies under the lid",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*HINGE, *DUST, *TONGUE)
"""What a carton with this closure declares after the options of the tube."""


class TongueEnd(End):
    """Dust flaps (layer 0), a flap with a slot (layer 1) on one L wall, a lid with a tongue (layer 2) on the other.

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
        self.lid, self.tongue, self.flap = f"{self.end} lid", f"{self.end} tongue", f"{self.end} slot flap"
        t, c = order.thickness, order.number("clearance")
        self.clear = c
        self.slot_depth = _slot_depth(order)
        self.back = t + c + swing_room(order, order.number("tongue_length"))
        need_dust(order, self.back)
        order.need("L", 30.0 + 4 * _barb(order), "the tongue needs 15 mm of width, and board beside its slot")
        order.need("B", 2 * _least_tongue(order), "the tongue must be at most half as long as B is, to swing in")
        order.need("B", (self.slot_depth + 3.0) / 0.8, "the flap needs 3 mm of board beyond its slot")
        order.need("H", self.hangs + c, "the tongue must not touch the other end")

    # ------------------------------------------------------------------ what the tube asks

    @property
    def hangs(self) -> float:
        """How far the tongue hangs into the box, mm."""
        return self.order.number("tongue_length") - 2.5 * self.order.thickness

    def reach(self, wall: int) -> float:
        """How far the tongue hangs down along the wall opposite."""
        return self.hangs if wall == self.opposite else 0.0

    def level(self, wall: int, long: bool) -> float | None:
        """Dust flaps in layer 0, the flap with the slot in layer 1, the lid in layer 2."""
        return level_of(self.order, 0.0 if not long else 2.0 if wall == self.wall else 1.0)

    def closed(self, tube: Tube) -> Closed | None:
        """Shut but for what the slot leaves beside the tongue, and the half board by which its crease is rounded."""
        beside = inside_length(tube, long=False) - self.order.ledger.value(f"{self.end} tongue crease")
        return Closed(Face.TOP if self.top else Face.BOTTOM, max(0.0, beside + self.order.thickness / 2))

    # ------------------------------------------------------------------ laying out

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang dust flaps, the flap with the slot, the lid and its tongue."""
        order, c = self.order, self.clear
        reach = order.size(f"{self.end} dust flap length", order.as_set("dust_length"))
        dust = dust_outline(inside_length(tube, long=False), c, reach, front=self.back)
        hang_dust(tube, sheet, [dust, dust], top=self.top, lid=self.wall)
        wide = inside_length(tube, long=True)
        order.size(
            f"{self.end} slot depth",
            1.5 * order.t + clearance(order) + swing_room(order, order.number("tongue_length")),
        )
        broad = order.size(f"{self.end} tongue width", order.as_set("tongue_width"))
        a, b = (wide - broad) / 2, (wide + broad) / 2
        long_ = order.size(f"{self.end} slot flap length", order.as_set("slot_flap_length"))
        slope = min(0.3 * long_, wide / 6)
        slot = [(b + c, 0.0), (b + c, self.slot_depth), (a - c, self.slot_depth), (a - c, 0.0)]
        flap = [*slot, (c, 0.0), (c + slope, long_), (wide - c - slope, long_), (wide - c, 0.0)]
        Hinge(tube, self.opposite, self.top).hang(sheet, self.flap, flap, (c, wide - c), k=1.0, stage=3)
        self._hang_lid(tube, sheet, wide, (a, b))

    def _hang_lid(self, tube: Tube, sheet: Sheet, wide: float, sides: tuple[float, float]) -> None:
        order = self.order
        a, b = sides
        deep = order.size(f"{self.end} lid length", order.B + order.t / 2)
        crease = order.size(f"{self.end} tongue crease", order.B - clearance(order))
        hinge = Hinge(tube, self.wall, self.top)
        lid = [(0.0, 0.0), (wide, 0.0), (wide, deep), (b, deep), (b, crease), (a, crease), (a, deep), (0.0, deep)]
        hinge.hang(sheet, self.lid, lid, (0.0, wide), k=2.0, stage=4)
        hinge.extend(
            sheet,
            self.tongue,
            self._tongue(a, b, crease),
            self.lid,
            ((a, crease), (b, crease)),
            face=tube.walls[self.opposite].face,
            k=-1.0,
            stage=5,
            intrudes=True,
        )

    def _tongue(self, a: float, b: float, crease: float) -> Path:
        """Neck, barbs, and a narrower tip with round corners."""
        order = self.order
        barb = _barb(order)
        out = crease + order.size(f"{self.end} tongue neck", 1.5 * order.t + order.quantity("tongue_play"))
        end = crease + order.size(f"{self.end} tongue length", order.as_set("tongue_length"))
        full, tip = out + 0.3, 0.12 * (b - a)
        corners = [
            (a, crease),
            (b, crease),
            (b, out),
            (b + barb, full),
            (b - tip, end),
            (a + tip, end),
            (a - barb, full),
            (a, out),
        ]
        radius = min(0.4 * (end - full), (b - a) / 5)
        return rounded(corners, [0.0, 0.0, 0.0, 0.0, radius, radius, 0.0, 0.0])

    # ------------------------------------------------------------------ closing

    def steps(self, tube: Tube) -> list[Step]:
        """Dust flaps, the flap with the slot; the lid comes down with its tongue bent, which goes into the slot."""
        order, t = self.order, self.order.thickness
        flap, lid = ((k - level_of(order, k)) * t for k in (1.0, 2.0))
        ledger = order.ledger
        bend = over_bend(ledger.value(f"{self.end} tongue length"), ledger.value(f"{self.end} tongue crease"), lid)
        near = 90.0 - 2 * bend - 3.0
        return [
            dust_step(tube, top=self.top),
            Step(f"fold the {self.flap} in", {self.flap: (90.0, flap)}),
            Step(
                f"bring the {self.lid} down, its tongue bent",
                {self.lid: (near, lid), self.tongue: (90.0 + bend, 0.0)},
            ),
            Step(f"push the {self.tongue} through its slot", {self.lid: (90.0, lid)}),
            Step(f"press the {self.lid} flat", {self.tongue: (90.0, 0.0)}),
        ]

    def free(self, tube: Tube) -> list[tuple[str, str]]:  # noqa: ARG002
        """The barbs are wider than the slot: they bend while they go through it."""
        return [(self.tongue, self.flap)]

    def locks(self, tube: Tube) -> list[Lock]:  # noqa: ARG002
        """The lid lifted by the play and a quarter of a board, the tongue left upright: the barbs strike the flap."""
        order = self.order
        lift = order.number("tongue_play") + 0.3 + order.thickness / 4
        angle = math.degrees(math.atan2(lift, order.ledger.value(f"{self.end} tongue crease")))
        return [
            Lock(
                name=self.tongue,
                opens={self.lid: angle, self.tongue: -angle},
                strikes=(self.tongue, self.flap),
                catch=_barb(order) - self.clear,
            )
        ]
