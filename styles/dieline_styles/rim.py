"""The rolled rim: the top edges of an open box turned in double, against the inside of its walls."""

from __future__ import annotations

import math

from dieline.style import Order, Parameter, Quantity, Sheet, Step, length

from .end import End
from .hinge import PARAMETERS as HINGE
from .hinge import Hinge, inside_length, level_of
from .tube import Tube

__all__ = ["PARAMETERS", "RIM", "RimEnd"]

_LEAN = 0.03
"""How far the sides of the rims lean back for each mm of depth, so that they go down between each other."""


def _deepest(order: Order) -> float:
    return min(0.6 * order.H.value, 0.75 * min(order.L.value, order.B.value))


RIM: tuple[Parameter, ...] = (
    length(
        "rim_depth",
        "How far the rim is turned down inside the walls.",
        lambda order: min(40.0, round(0.3 * order.H.value, 1), _deepest(order)),
        lambda order: min(5.0 + 2 * order.thickness, _deepest(order)),
        _deepest,
        why="a narrower strip does not stay turned in; a deeper one leaves no room for the lap, or to swing in",
    ),
    length(
        "rim_gap",
        "Room between the rim and the wall that it is turned down on.",
        lambda order: round(0.25 * order.thickness, 2) if order.board.corrugated else 0.1,
        0.0,
        lambda order: order.thickness,
        why="board folded on itself stands off a little; with more the rim stands in the opening",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*HINGE, *RIM)
"""What a carton with this closure declares after the options of the tube."""


class RimEnd(End):
    """An open top with a double rim: on every wall a spine as wide as board and gap, and a rim hanging inside.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
        top: Whether it is at the top.
    """

    def __init__(self, order: Order, *, top: bool) -> None:
        super().__init__(top=top)
        self.order = order
        self.end = "top" if top else "bottom"
        self.clear = order.number("clearance")
        t = order.thickness
        order.need("B", 4 * (t + order.number("rim_gap") + self.clear) + 15.0, "the rims on the B walls need 15 mm")
        order.need("L", 2 * (self.clear + 10.0), "the rims on the L walls need 20 mm")
        bevels = 2 * order.number("lap_width") * math.tan(math.radians(order.number("lap_bevel")))
        least = self.lap_room()[0] + order.number("lap_play") + bevels + 5.0
        order.need("H", least, "the lap ends under the rim, and must keep 5 mm of its outer edge")

    def level(self, wall: int, long: bool) -> float | None:  # noqa: ARG002
        """The spine lies on the edge of the inside space."""
        return level_of(self.order, 0.0)

    def reach(self, wall: int) -> float:  # noqa: ARG002
        """How far the rims hang down inside every wall."""
        return self.order.number("rim_depth")

    def lap_room(self) -> tuple[float, float]:
        """The lap ends under the rim."""
        order, t = self.order, self.order.thickness
        return order.number("rim_depth") + 2 * t + self.clear, 0.0

    def _names(self, tube: Tube, index: int) -> tuple[str, str]:
        number = tube.walls[index].number
        return f"{self.end} spine {number}", f"{self.end} rim {number}"

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang spine and rim on every wall: full on the L walls, between them on the B walls."""
        order, t, c = self.order, self.order.thickness, self.clear
        gap = Quantity.named("rim gap", order.number("rim_gap"))
        spine = order.size(f"{self.end} rim spine", order.t + gap)
        deep = spine + order.size(f"{self.end} rim depth", order.as_set("rim_depth"))
        lean = _LEAN * (deep - spine)
        for index in range(4):
            long = tube.long(index)
            wide = inside_length(tube, long=long)
            back = 0.0 if long else spine + t / 2 + c
            into = c if long else back
            hinge = Hinge(tube, index, self.top)
            first, second = self._names(tube, index)
            edge = [(back, 0.0), (wide - back, 0.0), (wide - back, spine), (back, spine)]
            hinge.hang(sheet, first, edge, (back, wide - back), k=0.0, stage=2 if long else 3)
            rim = [(into, spine), (wide - into, spine), (wide - into - lean, deep), (into + lean, deep)]
            crease = ((into, spine), (wide - into, spine))
            hinge.extend(
                sheet,
                second,
                rim,
                first,
                crease,
                face=tube.walls[index].face,
                k=-1.0,
                stage=2 if long else 3,
                intrudes=True,
            )

    def steps(self, tube: Tube) -> list[Step]:
        """First the rims on the L walls, one after the other where they would meet, then those on the B walls."""
        steps = []
        shift = -level_of(self.order, 0.0) * self.order.thickness
        for pair in ((0, 2), (1, 3)):
            across = inside_length(tube, long=not tube.long(pair[0]))
            meet = 2 * (self.order.number("rim_depth") + 2 * self.order.thickness) >= across
            for group in [(pair[0],), (pair[1],)] if meet else [pair]:
                names = [self._names(tube, index) for index in group]
                bends = {spine: (90.0, shift) for spine, _ in names} | {rim: (90.0, 0.0) for _, rim in names}
                steps.append(Step(f"roll {' and '.join(rim for _, rim in names)} in", bends))
        return steps
