"""The tuck closure: a lid on one L wall, its tuck inside the other, dust flaps on the B walls."""

from __future__ import annotations

import math

from dieline.style import Closed, Face, Order, Parameter, Path, Point, Sheet, Step, length, rounded, switch

from .carton import clearance
from .dust import DUST, dust_names, dust_outline, dust_step, hang_dust, need_dust
from .end import End
from .hinge import PARAMETERS as HINGE
from .hinge import Hinge, inside_length, level_of
from .tube import Tube

__all__ = ["PARAMETERS", "TUCK", "TuckEnd", "least_tuck", "over_bend", "swing_rise", "swing_room"]


_SWING = 1.1
"""The rise is worked out for small angles; a tuck half as long as B leans more, by less than a tenth."""


def least_tuck(t: float) -> float:
    """Shortest tuck: it is a board and a half longer than it reaches into the box, and must reach in 5 mm."""
    return max(8.0, 1.5 * t + 5.0)


def swing_rise(order: Order, long_: float) -> float:
    """How far a tuck comes to stand behind its last place while it swings in, mm.

    It is the chord of an arc round the lid's crease: its ends go by the front wall, its middle comes nearer by the
    rise of the arc; and it leans where it passes the dust flaps, up to a board and a half below that crease.

    Args:
        order: The order.
        long_: Length of the tuck, mm.
    """
    return (long_**2 + 9 * order.thickness**2) / (8 * (order.B.value - order.number("clearance")))


def swing_room(order: Order, long_: float) -> float:
    """Room for a tuck to swing in by, behind its last place, mm: the rise and half a clearance, at least two."""
    c, rise = order.number("clearance"), swing_rise(order, long_)
    return max(2 * c, math.ceil(10 * max(rise + c / 2, _SWING * rise)) / 10)


def over_bend(long_: float, deep: float, shift: float) -> float:
    """How far a tuck is bent beyond the square while it swings in, degrees: its tip then just clears the wall.

    Args:
        long_: Length of the tuck, mm.
        deep: From the lid's crease to the tuck's, mm.
        shift: How far the lid leaves its crease, mm.
    """
    return math.degrees(math.asin(min(0.5, max(0.0, long_ - 2 * shift) / (2 * deep))))


def _usual_tuck(order: Order) -> float:
    most = 60.0 if order.board.corrugated else 25.0
    usual = min(most, max(10.0, round(0.18 * order.B.value + 6.0, 1)))
    # There may be another tuck in the same wall, at the other end.
    half = (order.H.value - order.number("clearance")) / 2 + 1.5 * order.thickness
    return max(least_tuck(order.thickness), min(usual, half, _longest_tuck(order)))


def _longest_tuck(order: Order) -> float:
    return min(0.5 * order.B.value, order.H.value + 1.5 * order.thickness - order.number("clearance"))


def _setback(order: Order) -> float:
    return swing_room(order, order.number("tuck_length"))


def _widest_notch(order: Order) -> float:
    behind = 2 * (order.number("tuck_length") - order.thickness - 1.0)
    return min(order.L.value / 2, behind, order.H.value / 2)


TUCK: tuple[Parameter, ...] = (
    length(
        "tuck_length",
        "Length of the tuck from its crease.",
        _usual_tuck,
        lambda order: min(least_tuck(order.thickness), _longest_tuck(order)),
        lambda order: max(least_tuck(order.thickness), _longest_tuck(order)),
        why="it must reach in 5 mm, and beyond half of B it must be bent far over to enter",
    ),
    length(
        "tuck_radius",
        "Radius of the tuck's corners.",
        lambda order: round(0.8 * order.number("tuck_length"), 1),
        lambda order: 0.3 * order.number("tuck_length"),
        lambda order: order.number("tuck_length"),
        why="square corners catch on the walls, and a corner cannot be rounder than the tuck is long",
    ),
    length(
        "dust_setback",
        "How far the dust flaps stand behind the tuck, so that it can swing in.",
        _setback,
        lambda order: _SWING * swing_rise(order, order.number("tuck_length")),
        lambda order: max(_setback(order), order.B.value / 4),
        why="the tuck must slide past them, and they must keep their width",
        source="geometry: rise of the tuck over the arc that its ends swing on",
    ),
    switch("thumb_notch", "A half-round notch in the wall that the tuck goes behind, to open by."),
    length(
        "thumb_notch_width",
        "Width of the thumb notch.",
        lambda order: max(5.0, min(20.0, math.floor(_widest_notch(order)))),
        5.0,
        lambda order: max(5.0, _widest_notch(order)),
        why="the tuck must stay behind it",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*HINGE, *DUST, *TUCK)
"""What a carton with this closure declares after the options of the tube."""


class TuckEnd(End):
    """Dust flaps on the B walls, a lid (layer 1) on one L wall, and its tuck inside the other.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
        top: Whether it closes the top.
        wall: The L wall that carries the lid: 0 (the lap hangs on it) or 2.
    """

    def __init__(self, order: Order, *, top: bool, wall: int = 0) -> None:
        super().__init__(top=top)
        self.order = order
        self.wall = wall
        self.opposite = 2 - wall
        self.end = "top" if top else "bottom"
        self.lid, self.tuck = f"{self.end} lid", f"{self.end} tuck"
        self.clear = order.number("clearance")
        self.back = order.thickness + self.clear + order.number("dust_setback")
        self._accept()

    def _accept(self) -> None:
        """Refuse sizes at which lid, tuck and dust flaps cannot be."""
        order, t, c = self.order, self.order.thickness, self.clear
        need_dust(order, self.back)
        order.need("L", t + 3 * c + 15.0, "the tuck needs 15 mm of width")
        order.need("B", 2 * least_tuck(t), "the tuck needs its length, and must be at most half as long as B is")
        order.need("H", self.hangs + c, "the tuck must not touch the other end")

    # ------------------------------------------------------------------ what the tube asks

    @property
    def hangs(self) -> float:
        """How far the tuck hangs into the box, mm."""
        return self.order.number("tuck_length") - 1.5 * self.order.thickness

    def reach(self, wall: int) -> float:
        """How far the tuck hangs down along the wall that it goes behind."""
        return self.hangs if wall == self.opposite else 0.0

    def level(self, wall: int, long: bool) -> float | None:
        """Dust flaps in layer 0, the lid in layer 1; the wall opposite ends in a raw edge."""
        if not long:
            return level_of(self.order, 0.0)
        return level_of(self.order, 1.0) if wall == self.wall else None

    def rim(self, wall: int) -> float:
        """The raw edge stands half a board up, level with the creases of the dust flaps."""
        return 0.5 if wall == self.opposite else 0.0

    def edge(self, tube: Tube, wall: int) -> list[tuple[Point, float]]:
        """The thumb notch."""
        if wall != self.opposite or not self.order.flag("thumb_notch"):
            return []
        radius = self.order.number("thumb_notch_width") / 2
        place = tube.walls[wall]
        middle, y = tube.centre(place), place.high if self.top else place.low
        onward = -radius if self.top else radius
        return [((middle - onward, y), -1.0), ((middle + onward, y), 0.0)]

    def lap_room(self) -> tuple[float, float]:
        """The lap stays under the dust flaps, on the wall with the raw edge too."""
        return max(self.clear, self.order.number("lap_play")), 0.0

    def closed(self, tube: Tube) -> Closed | None:
        """Shut but for the clearance beside the tuck and the half board by which its crease is rounded."""
        beside = inside_length(tube, long=False) - self.order.ledger.value(f"{self.end} lid length")
        return Closed(Face.TOP if self.top else Face.BOTTOM, max(0.0, beside + self.order.thickness / 2))

    # ------------------------------------------------------------------ laying out

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang dust flaps, lid and tuck."""
        order = self.order
        reach = order.size(f"{self.end} dust flap length", order.as_set("dust_length"))
        broad = inside_length(tube, long=False)
        hang_dust(tube, sheet, [self._dust(index, broad, reach) for index in (1, 3)], top=self.top, lid=self.wall)
        wide = inside_length(tube, long=True)
        deep = order.size(f"{self.end} lid length", order.B - clearance(order))
        hinge = Hinge(tube, self.wall, self.top)
        hinge.hang(sheet, self.lid, self._lid_outline(wide, deep), (0.0, wide), k=1.0, stage=3)
        outline, crease = self._tuck_outline(wide, deep)
        face = tube.walls[self.opposite].face
        hinge.extend(sheet, self.tuck, outline, self.lid, crease, face=face, k=-1.0, stage=4, intrudes=True)

    def dust_names(self, tube: Tube) -> tuple[str, str]:
        """Names of the dust flaps on walls 1 and 3."""
        return dust_names(tube, top=self.top)

    def _dust(self, index: int, broad: float, reach: float) -> list[Point]:  # noqa: ARG002  # the slit lock asks
        return dust_outline(broad, self.clear, reach, front=self.back)

    def _lid_outline(self, wide: float, deep: float) -> list[Point]:
        return [(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)]

    def tuck_sides(self, wide: float) -> tuple[float, float]:
        """From where to where the tuck runs along the wall: inside wall 0 it keeps clear of the lap's edge, mm."""
        c = self.clear
        return (self.order.thickness + 2 * c if self.opposite == 0 else c), wide - c

    def tuck_end(self, wide: float, deep: float, start: float) -> tuple[float, float]:
        """Where the tuck ends and the radius of its corners, mm.

        A straight stub shorter than half a millimetre beside a corner is no shape that rule can be bent to.

        Args:
            wide: Width of the tuck, mm.
            deep: From the lid's crease to the tuck's, mm.
            start: From the lid's crease to where the tuck's sides begin, mm.
        """
        order = self.order
        end = deep + order.size(f"{self.end} tuck length", order.as_set("tuck_length"))
        side, half = end - start, wide / 2 - 1.0
        radius = min(order.number("tuck_radius"), half)
        if side - radius < 0.5:
            radius = side if side <= half else side - 0.5
        return end, radius

    def _tuck_outline(self, wide: float, deep: float) -> tuple[Path, tuple[Point, Point]]:
        s0, s1 = self.tuck_sides(wide)
        end, radius = self.tuck_end(s1 - s0, deep, deep)
        path = rounded([(s0, deep), (s1, deep), (s1, end), (s0, end)], [0.0, 0.0, radius, radius])
        return path, ((s0, deep), (s1, deep))

    # ------------------------------------------------------------------ closing

    @property
    def lid_shift(self) -> float:
        """How far the lid leaves its crease, mm."""
        return (1.0 - level_of(self.order, 1.0)) * self.order.thickness

    def steps(self, tube: Tube) -> list[Step]:
        """Dust flaps in, lid down with its tuck bent over, tuck in, tuck back square."""
        ledger, shift = self.order.ledger, self.lid_shift
        bend = over_bend(ledger.value(f"{self.end} tuck length"), ledger.value(f"{self.end} lid length"), shift)
        # From here on the tip of the tuck is down at the raw edge, and every degree counts.
        near = 90.0 - 2 * bend - 3.0
        return [
            dust_step(tube, top=self.top),
            Step(
                f"bring the {self.end} lid down, its tuck bent",
                {self.lid: (near, shift), self.tuck: (90.0 + bend, 0.0)},
            ),
            Step(f"tuck the {self.end} lid in", {self.lid: (90.0, shift)}),
            Step(f"press the {self.end} lid flat", {self.tuck: (90.0, 0.0)}),
        ]
