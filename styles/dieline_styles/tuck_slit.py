"""The slit lock: a tuck whose crease is slit at both ends; its ears catch under shoulders of the dust flaps."""

from __future__ import annotations

import math

from dieline.style import Lock, Order, Parameter, Path, Point, length, rounded

from .dust import dust_outline
from .hinge import inside_length
from .tube import Tube
from .tuck import PARAMETERS as TUCK_PARAMETERS
from .tuck import TuckEnd

__all__ = ["PARAMETERS", "SLIT", "SlitLockEnd"]


def _hidden(order: Order) -> float:
    """How far the shoulder ends before the inner end of the slit, mm."""
    return max(order.number("clearance"), 0.5)


def _least_slit(order: Order) -> float:
    """On the side of the lap the tuck is narrower by a board and a clearance; 2 mm must catch there too."""
    return max(4.0, order.thickness + order.number("clearance") + _hidden(order) + 2.0)


def _longest_slit(order: Order) -> float:
    return min(order.L.value / 4, order.number("dust_length") - 3.0)


SLIT: tuple[Parameter, ...] = (
    length(
        "slit_length",
        "Length of the slits at the ends of the tuck's crease.",
        lambda order: max(
            _least_slit(order), min(max(6.0, round(0.12 * order.L.value, 1)), 25.0, _longest_slit(order))
        ),
        _least_slit,
        lambda order: max(_least_slit(order), _longest_slit(order)),
        why="2 mm must catch, and half of the crease must stay",
    ),
    length(
        "slit_play",
        "How far the ears lie under the dust flaps when the lid is shut.",
        0.2,
        0.0,
        lambda order: max(0.5, order.thickness / 2),
        why="with more the lid rises before it locks",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*TUCK_PARAMETERS, *SLIT)
"""What a carton with this closure declares after the options of the tube."""


class SlitLockEnd(TuckEnd):
    """A tuck end that locks.

    The slits lie beyond the crease by a board and a half: the ears, which stand up from the folded tuck as high as
    the slit allows, then end just under the dust flaps. On the crease itself they would have to crush by as much.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
        top: Whether it closes the top.
        wall: The L wall that carries the lid: 0 or 2.
    """

    def _accept(self) -> None:
        super()._accept()
        order = self.order
        slit = order.number("slit_length")
        order.need("L", 4 * slit, "half of the tuck's crease must stay between the slits")
        least = _least_slit(order) + 3.0
        if order.number("dust_length") < least:
            order.need("B", (least - 8.0) / 0.6, "the dust flaps need a shoulder for the lock, and 3 mm more")

    @property
    def beyond(self) -> float:
        """How far the slit lies beyond the crease, mm."""
        return 1.5 * self.order.thickness + self.order.number("slit_play")

    def _slits(self, wide: float) -> tuple[float, float]:
        """Inner ends of the two slits, s."""
        inward = self.clear + self.order.number("slit_length")
        return inward, wide - inward

    def _dust(self, index: int, broad: float, reach: float) -> list[Point]:  # noqa: ARG002
        order = self.order
        shoulder = order.number("slit_length") + self.clear + order.thickness / 2 - _hidden(order)
        return dust_outline(broad, self.clear, reach, front=self.back, shoulder=shoulder)

    def _lid_outline(self, wide: float, deep: float) -> list[Point]:
        a, b = self._slits(wide)
        end = deep + self.beyond
        return [(0.0, 0.0), (wide, 0.0), (wide, end), (b, end), (b, deep), (a, deep), (a, end), (0.0, end)]

    def _tuck_outline(self, wide: float, deep: float) -> tuple[Path, tuple[Point, Point]]:
        order = self.order
        order.size(f"{self.end} slit length", order.as_set("slit_length"))
        order.size(f"{self.end} slit beyond the crease", 1.5 * order.t + order.quantity("slit_play"))
        s0, s1 = self.tuck_sides(wide)
        a, b = self._slits(wide)
        slit = deep + self.beyond
        end, radius = self.tuck_end(s1 - s0, deep, slit)
        corners = [(s0, slit), (a, slit), (a, deep), (b, deep), (b, slit), (s1, slit), (s1, end), (s0, end)]
        return rounded(corners, [0.0] * 6 + [radius, radius]), ((a, deep), (b, deep))

    def free(self, tube: Tube) -> list[tuple[str, str]]:
        """The ears spring past the shoulders by a board when the lid is pushed shut or pulled open."""
        return [(self.tuck, name) for name in self.dust_names(tube)]

    def locks(self, tube: Tube) -> list[Lock]:
        """Lifted by the play and a quarter of a board, each ear is under its shoulder."""
        order, t = self.order, self.order.thickness
        deep = order.ledger.value(f"{self.end} lid length")
        lift = math.degrees(math.atan2(order.number("slit_play") + t / 4, deep))
        s0, s1 = self.tuck_sides(inside_length(tube, long=True))
        a, b = self._slits(inside_length(tube, long=True))
        # Wall 1 stands at the greater end of s, wall 3 at the lesser.
        catches = s1 - b - _hidden(order), a - s0 - _hidden(order)
        return [
            Lock(name=f"{self.end} slit at {name}", opens={self.lid: lift}, strikes=(self.tuck, name), catch=catch)
            for name, catch in zip(self.dust_names(tube), catches, strict=True)
        ]
