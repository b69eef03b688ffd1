"""The fins on the ridge of a gable top: plain, with a hand hole, or held together by its flap."""

from __future__ import annotations

import math

from dieline.style import (
    Lock,
    Order,
    Parameter,
    Path,
    Point,
    Role,
    Sheet,
    Step,
    choice,
    length,
    obround,
    polygon,
    rectangle,
    rounded,
)

from .back_crease import back_meaning
from .carton import flap_meaning
from .gable_plan import GablePlan
from .hinge import Hinge, inside_length
from .tube import Tube

__all__ = ["FINS", "Fins", "need_fins"]

_BELOW, _ABOVE, _BESIDE = 10.0, 10.0, 15.0
"""mm. What is left of a fin below, above and beside its hand hole; a flap that is turned up needs more above."""


def _least_fin(order: Order) -> float:
    high, handle = order.number("handle_height"), order.choice("handle")
    if handle == "flap":
        return _BELOW + 2 * high + 3.0
    return _BELOW + high + _ABOVE if handle == "hole" else 10.0


def _least_flap(order: Order) -> float:
    """It goes through two boards, and must catch behind them."""
    return max(15.0, 4 * order.thickness + 5.0)


FINS: tuple[Parameter, ...] = (
    choice(
        "handle",
        "How the fins on the ridge are held together and carried.",
        {
            "none": "plain fins, to be stapled, glued or sealed",
            "hole": "a hand hole through both",
            "flap": "a flap of one fin goes through the hand hole of the other and is turned up behind it",
        },
        lambda order: "flap" if order.L.value >= 75.0 + 2 * _BESIDE else "none",
    ),
    length(
        "handle_width",
        "Width of the hand hole.",
        lambda order: max(20.0, min(75.0, order.L.value - 2 * _BESIDE)),
        20.0,
        lambda order: max(20.0, order.L.value - 2 * _BESIDE),
        why="fingers must go in, and the fins must keep 15 mm at either end",
    ),
    length(
        "handle_height",
        "Height of the hand hole, and length of its flap.",
        lambda order: max(20.0, _least_flap(order)),
        _least_flap,
        50.0,
        why="fingers need 15 mm, and the flap must catch behind two boards",
    ),
    length(
        "fin_height",
        "Height of the fins on the ridge.",
        lambda order: max(_least_fin(order), min(30.0, round(0.25 * order.B.value, 1))),
        _least_fin,
        lambda order: max(_least_fin(order), order.B.value),
        why="board must be left round the hand hole, and high fins fold over",
    ),
)


def need_fins(order: Order) -> None:
    """Refuse sizes at which the fins have no room for their hand hole.

    Raises:
        SizeError: If L is too small.
    """
    if order.choice("handle") != "none":
        least = order.number("handle_width") + 2 * _BESIDE
        order.need("L", least, "the fins must keep 15 mm beside the hand hole")


class Fins:
    """The two fins, each on its roof.

    Args:
        tube: The tube.
        plan: The gable top.
        roofs: Names of the roofs on walls 0 and 2.
        spans: From where to where each roof runs along its wall.
    """

    def __init__(
        self, tube: Tube, plan: GablePlan, roofs: tuple[str, str], spans: tuple[tuple[float, float], ...]
    ) -> None:
        self.tube, self.plan, self.roofs, self.spans = tube, plan, roofs, spans
        self.order = tube.order
        self.handle = tube.order.choice("handle")
        self.names = f"top fin {tube.walls[0].number}", f"top fin {tube.walls[2].number}"

    @property
    def _hand(self) -> tuple[float, float, float, float]:
        """The hand hole: left, bottom, right and top, the heights from the roof's crease."""
        order, middle = self.order, inside_length(self.tube, long=True) / 2
        half, low = order.number("handle_width") / 2, self.plan.roof + _BELOW
        return middle - half, low, middle + half, low + order.number("handle_height")

    def hang(self, sheet: Sheet) -> None:
        """Hang the fins on their roofs, with the flap where there is one."""
        self._fin(sheet, 1)
        if self.handle == "flap":
            self._flapped(sheet)
        else:
            self._fin(sheet, 0)

    def _fin(self, sheet: Sheet, side: int) -> None:
        (s0, s1), plan = self.spans[side], self.plan
        outline = rectangle(s0, plan.roof, s1, plan.roof + plan.fin)
        self._hang(sheet, side, outline, self._hole())

    def _hang(self, sheet: Sheet, side: int, outline: Path, holes: list[Path]) -> None:
        frame, (s0, s1), roof = Hinge(self.tube, 2 * side, True).frame, self.spans[side], self.plan.roof
        name = self.names[side]
        sheet.panel(name, outline.placed(frame), holes=[hole.placed(frame) for hole in holes], role=Role.FLAP)
        line = frame.point(s0, roof), frame.point(s1, roof)
        sheet.fold(self.roofs[side], name, line, angle=-self.plan.turn, meaning=back_meaning(self.order), stage=3)

    def _hole(self) -> list[Path]:
        """What is cut out of a fin."""
        left, low, right, high = self._hand
        if self.handle == "hole":
            return [obround(((left + right) / 2, (low + high) / 2), right - left, high - low)]
        if self.handle == "flap":
            # The flap goes through half a board round its crease, and swings in.
            c, radius = self.plan.c, 0.4 * (high - low)
            left, low, right, high = left - c, low - c, right + c, high + self.plan.t / 2 + c
            corners = [(left, low), (right, low), (right, high), (left, high)]
            return [rounded(corners, [radius, radius, min(self.plan.t, 3 * c), min(self.plan.t, 3 * c)])]
        return []

    def _flapped(self, sheet: Sheet) -> None:
        """The fin with the flap: its hand hole is cut on three sides, and the flap hangs on what is above.

        The flap first goes through both fins, then turns up behind the other one. So near its crease nothing can be
        creased again: the board turns round the other fin's edge by itself.
        """
        left, low, right, high = self._hand
        (s0, s1), plan = self.spans[0], self.plan
        top, bend = plan.roof + plan.fin, high - 2 * plan.t
        mouth = _flap(left, low, right, high)
        # Round the fin below the crease, then down into the mouth and up again.
        lower = polygon([(s0, high), (s0, plan.roof), (s1, plan.roof), (s1, high), *mouth[-2::-1], mouth[-1]])
        self._hang(sheet, 0, lower, [])
        frame, fin = Hinge(self.tube, 0, True).frame, self.names[0]
        upper, through, up = f"{fin}, above", "top handle strip", "top handle flap"
        sheet.panel(upper, rectangle(s0, high, s1, top).placed(frame), role=Role.FLAP)
        sheet.panel(through, rectangle(left, bend, right, high).placed(frame), role=Role.FLAP)
        sheet.panel(up, polygon([*mouth[:-2], (right, bend), (left, bend)]).placed(frame), role=Role.FLAP)
        ends = {upper: (s0, s1, high), through: (left, right, high), up: (left, right, bend)}
        for parent, child, angle in ((fin, upper, 0.0), (upper, through, 90.0), (through, up, 90.0)):
            a, b, v = ends[child]
            meaning = flap_meaning(self.order) if child == through else None
            line = frame.point(a, v), frame.point(b, v)
            sheet.fold(parent, child, line, angle=angle, meaning=meaning, stage=4)

    def steps(self) -> list[Step]:
        """The flap is pushed through the other fin and turned up behind it."""
        if self.handle != "flap":
            return []
        through, up = "top handle strip", "top handle flap"
        return [
            Step("push the handle flap through", {through: (45.0, 0.0)}),
            Step("push the handle flap through", {through: (90.0, 0.0)}),
            Step("turn the handle flap up", {up: (90.0, 0.0)}),
        ]

    def free(self) -> list[tuple[str, str]]:
        """The flap swings out of the mouth that it is cut from."""
        parts = ("top handle strip", "top handle flap") if self.handle == "flap" else ()
        return [(self.names[0], part) for part in parts]

    def locks(self) -> list[Lock]:
        """One roof lifted: the flap strikes the other fin from behind."""
        if self.handle != "flap":
            return []
        plan = self.plan
        lift = math.degrees(math.atan2(plan.t / 4, plan.roof * plan.sine))
        catch = self.order.number("handle_height") - 2 * plan.t
        strikes = "top handle flap", self.names[1]
        return [Lock(name="top handle flap", opens={self.roofs[0]: lift}, strikes=strikes, catch=catch)]


def _flap(left: float, low: float, right: float, high: float) -> list[Point]:
    """A rectangle with its lower corners cut off, counter-clockwise; the upper ones stand last."""
    cut = 0.4 * (high - low)
    return [(left, low + cut), (left + cut, low), (right - cut, low), (right, low + cut), (right, high), (left, high)]
