"""The snap-lock bottom: four flaps that lock into each other by hand, without glue."""

from __future__ import annotations

import math

from dieline.style import Closed, Face, Lock, Order, Parameter, Quantity, Role, Sheet, Step, length, polygon, rounded

from .carton import clearance
from .end import End
from .hinge import PARAMETERS as HINGE
from .hinge import Hinge, inside_length, level_of
from .snap_plan import RISE, SnapPlan
from .tube import Tube

__all__ = ["PARAMETERS", "SNAP", "SnapLockEnd"]

_LEGS, _SIDES, _TONGUE = 0.0, 1.0, 2.0
"""Layers of the flap with the legs, of the side flaps and of the flap with the tongue."""

_LEAST_STEP = 0.05
"""mm. No tool follows a shorter step in an outline."""


def _least_hole(order: Order) -> float:
    """In seven boards the tongue rises by three at 27 degrees."""
    return 7.0 * order.thickness


def _beside_hole(order: Order) -> float:
    """What must be left between opening and wall: 6 mm for the tongue to lie on, 5 for a side flap's nose."""
    t, c = order.thickness, order.number("clearance")
    return max(6.0 + 2 * c + t, max(t, c) + c + 5.0)


def _widest_hole(order: Order) -> float:
    """Both flaps must still carry the tongue."""
    return max(_least_hole(order), order.B.value - 2 * _beside_hole(order))


def _usual_hole(order: Order) -> float:
    t = order.thickness
    usual = 12 * t if order.board.corrugated and t > 2.5 else max(8 * t, 4.0)
    return max(_least_hole(order), min(max(round(usual, 1), round(0.1 * order.B.value, 1)), _widest_hole(order)))


def _longest_catch(order: Order) -> float:
    """The tongue must not reach the wall of the flap that it lies on, not even flat, nor be longer than it is wide."""
    t, hole = order.thickness, order.number("tongue_hole")
    stretch = math.hypot(hole - t, RISE * t) - (hole - t)
    room = (order.B.value - hole) / 2 - 2 * order.number("clearance") - stretch
    return max(6.0, min(room, order.number("tongue_width")))


SNAP: tuple[Parameter, ...] = (
    length(
        "tongue_width",
        "Width of the tongue of the snap-lock bottom.",
        lambda order: round(order.L.value / 2, 1),
        lambda order: 0.35 * order.L.value,
        lambda order: 0.6 * order.L.value,
        why="a narrow tongue tears, a wide one leaves no legs beside it",
    ),
    length(
        "tongue_hole",
        "Width of the opening through which the tongue rises.",
        _usual_hole,
        _least_hole,
        _widest_hole,
        why="in a narrower one the tongue bends too steeply, and the flaps need board on either side of it",
        source="geometry: three boards of rise at 18 to 27 degrees, at 15 in heavy board",
    ),
    length(
        "tongue_catch",
        "How far the tongue lies on the flap that it locks onto.",
        lambda order: min(max(8.0, min(round(0.2 * order.B.value, 1), 40.0)), _longest_catch(order)),
        6.0,
        _longest_catch,
        why="less slips off, more reaches the wall, and a tongue longer than wide bends",
    ),
    length(
        "leg_length",
        "How far the two legs run on beyond that opening, over the side flaps.",
        lambda order: round(0.2 * order.B.value, 1),
        lambda order: 0.1 * order.B.value,
        lambda order: 0.45 * order.B.value,
        why="the legs must lie on the side flaps, and end before the wall",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*HINGE, *SNAP)
"""What a carton with this closure declares after the options of the tube."""


class SnapLockEnd(End):
    """A flap with two legs, two side flaps, and a flap whose tongue comes up onto the first.

    The legs lie on the side flaps, these on the tongue's flap, and the tongue on the legs' flap: each is held by the
    next. The box must be empty while the tongue is pushed in.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
        top: Whether it is at the top.
    """

    def __init__(self, order: Order, *, top: bool = False) -> None:
        super().__init__(top=top)
        self.order = order
        self.end = "top" if top else "bottom"
        self.clear = order.number("clearance")
        self._accept()

    def _accept(self) -> None:
        """Refuse sizes at which the flaps cannot hold each other."""
        order, c = self.order, self.clear
        long_ = order.L.value
        leg = 15.0 if order.board.corrugated else 8.0
        beside = (1.0 - order.number("tongue_width") / long_) / 2
        order.need("L", (leg + 2 * c) / beside, f"the legs beside the tongue must be {leg:g} mm wide")
        order.at_most(
            "L", 5 * order.B.value, "more than five times B the side flaps are long and weak; swap L and B, or tape"
        )
        narrow = order.number("tongue_catch") * long_ / order.number("tongue_width")
        order.need("L", narrow, "the tongue must be as wide as it is long")
        least = order.number("tongue_hole") + 2 * _beside_hole(order)
        order.need("B", least, "the opening for the tongue needs board on either side, to lie on")

    # ------------------------------------------------------------------ what the tube asks

    def layer(self, wall: int) -> float:
        """Boards between the flap of a wall and the inside."""
        return {0: _LEGS, 2: _TONGUE}.get(wall, _SIDES)

    def level(self, wall: int, long: bool) -> float | None:  # noqa: ARG002
        """Each flap lies a board below the one that rests on it."""
        return level_of(self.order, self.layer(wall))

    def lap_room(self) -> tuple[float, float]:
        """The lap stays above the legs."""
        return max(self.clear, self.order.number("lap_play")), 0.0

    def closed(self, tube: Tube) -> Closed | None:  # noqa: ARG002
        """Shut, but for the play beside the tongue."""
        return Closed(Face.TOP if self.top else Face.BOTTOM, self.clear)

    def names(self, tube: Tube) -> tuple[str, str, str, str]:
        """Names of the flaps on walls 0 to 3."""
        kinds = ("leg flap", "side flap", "tongue flap", "side flap")
        first, second, third, fourth = (
            f"{self.end} {kind} {wall.number}" for kind, wall in zip(kinds, tube.walls, strict=True)
        )
        return first, second, third, fourth

    # ------------------------------------------------------------------ laying out

    def plan(self, tube: Tube) -> SnapPlan:
        """The bottom in plan, its sizes recorded."""
        order, t, end = self.order, self.order.t, self.end
        wide, broad = inside_length(tube, long=True), inside_length(tube, long=False)
        half = t.value / 2
        tongue = order.size(f"{end} tongue width", order.as_set("tongue_width"))
        hole = Quantity.named("tongue hole", order.size(f"{end} tongue hole", order.as_set("tongue_hole")))
        rim = order.size(f"{end} leg flap, middle", (order.B - hole) / 2 + t / 2) - half
        legs = min(rim + hole.value + order.number("leg_length"), broad - self.clear)
        leg = order.size(f"{end} leg flap, legs", Quantity(legs, f"middle + {hole.text} + leg length") + t / 2) - half
        deep = (wide - tongue) / 2 - self.clear
        nose = min(deep + 0.15 * wide, wide / 2 - self.clear)
        nosed = Quantity(nose, f"(L - tongue) / 2 - {clearance(order).text} + nose")
        side = order.size(f"{end} side flap length", nosed + t / 2) - half
        ramp = math.hypot(hole.value - t.value, RISE * t.value)
        slope = Quantity(ramp, "slope of the tongue")
        flap = order.B - (rim + hole.value) + t / 2 + slope + t + order.quantity("tongue_catch")
        return SnapPlan(
            wide=wide,
            broad=broad,
            t=t.value,
            c=self.clear,
            tongue=tongue,
            rim=rim,
            foot=rim + hole.value,
            leg_from=self._leg_from(tube),
            leg_end=leg,
            nose=side,
            tip=order.size(f"{end} tongue flap length", flap),
        )

    def _leg_from(self, tube: Tube) -> float:
        """A clearance inside wall 3; where rounding makes wall 0 shorter than that, where the wall begins."""
        start = tube.width[2] - tube.order.thickness / 2 - tube.width[0]
        return start if start > self.clear - _LEAST_STEP else self.clear

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang the four flaps, and the tongue on its own; the tongue bends by itself, so nothing is creased there."""
        plan, c = self.plan(tube), self.clear
        legs, side, flap, other = self.names(tube)
        wide, broad = plan.wide, plan.broad
        Hinge(tube, 0, self.top).hang(sheet, legs, plan.legs(), (plan.leg_from, wide - c), k=_LEGS, stage=2)
        for index, name in ((1, side), (3, other)):
            Hinge(tube, index, self.top).hang(sheet, name, plan.side(), (c, broad - c), k=_SIDES, stage=3)
        hinge = Hinge(tube, 2, self.top)
        hinge.hang(sheet, flap, plan.flap(), (0.0, wide), k=_TONGUE, stage=4)
        face, frame = Face.TOP if self.top else Face.BOTTOM, hinge.frame
        neck, tongue = f"{self.end} tongue neck", f"{self.end} tongue"
        parts = (
            (flap, neck, polygon(plan.neck()), plan.reach, 1.0),
            (neck, tongue, rounded(*plan.end()), plan.ramp, -1.0),
        )
        for parent, name, outline, deep, way in parts:
            sheet.panel(name, outline.placed(frame), face=face, k=-1.0, role=Role.FLAP, intrudes=True)
            line = frame.point(plan.xa, deep), frame.point(plan.xb, deep)
            sheet.fold(parent, name, line, angle=way * plan.slope, meaning=None, stage=5)
        self._plan = plan

    # ------------------------------------------------------------------ closing

    def steps(self, tube: Tube) -> list[Step]:
        """Legs, sides, tongue's flap; then the tongue is pushed up through the opening."""
        t = self.order.thickness
        names = self.names(tube)
        shifts = [(self.layer(index) - level_of(self.order, self.layer(index))) * t for index in range(4)]
        bends = [{name: (90.0, shift)} for name, shift in zip(names, shifts, strict=True)]
        slope = self._plan.slope
        return [
            Step(f"fold {names[0]} in", bends[0]),
            Step("fold the side flaps in under its legs", bends[1] | bends[3]),
            Step(f"fold {names[2]} in under them", bends[2]),
            Step("push the tongue up", {f"{self.end} tongue neck": (slope, 0.0), f"{self.end} tongue": (-slope, 0.0)}),
        ]

    def free(self, tube: Tube) -> list[tuple[str, str]]:
        """The tongue bends to come up through the opening, onto the flap that it locks onto."""
        legs = self.names(tube)[0]
        return [(legs, f"{self.end} tongue neck"), (legs, f"{self.end} tongue")]

    def locks(self, tube: Tube) -> list[Lock]:
        """Every flap, moved out by a quarter of a board, strikes the next; the tongue's flap cannot move in either."""
        plan, tongue = self._plan, f"{self.end} tongue"
        legs, side, flap, other = self.names(tube)

        def turned(arm: float) -> float:
            return math.degrees(math.atan2(plan.t / 4, arm))

        out, inward = turned(plan.broad - plan.rim + plan.catch), -turned(plan.broad - plan.foot)
        sides = dict.fromkeys((side, other), turned(plan.nose))
        locks = [Lock(name=f"{tongue} on {legs}", opens={flap: out}, strikes=(tongue, legs), catch=plan.catch)]
        for name in (side, other):
            for held, opens, strikes, catch in (
                (f"{legs} on {name}", {legs: turned(plan.leg_end)}, (legs, name), plan.deep - plan.c),
                (f"{name} on {flap}", sides, (name, flap), plan.nose),
                (f"{flap} under {name}", {flap: inward}, (name, flap), plan.nose),
            ):
                locks.append(Lock(name=held, opens=opens, strikes=strikes, catch=catch))
        return locks
