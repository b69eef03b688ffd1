"""Ends of tubes with six or eight walls: a lid that tucks in over dust flaps, or two covers glued over each other."""

from __future__ import annotations

import math

from dieline.style import (
    Closed,
    Face,
    Joint,
    JointKind,
    Order,
    Path,
    Point,
    Role,
    Sheet,
    Step,
    polygon,
    rectangle,
    rounded,
)

from .carton import clearance, flap_meaning
from .many_sided import Prism
from .tuck import least_tuck, over_bend

__all__ = ["LEAST_DUST", "SealedEnd", "TuckedEnd", "longest_dust"]

LEAST_DUST = 5.0
"""mm. A shorter dust flap holds nothing."""

_EDGE = 3.0
"""mm. Glue keeps so far off an edge, so that none is pressed out."""

_TIP = 3.0
"""mm. The free edge of a dust flap is at least so wide."""

_WASTE = 2.4
"""mm. Narrowest strip of waste that is bent from cutting rule: 3/32 in. Source: Graphic Dies, how small,
graphicdies.com/how-small."""

_Cut = tuple[float, float]
"""One side of a dust flap: how far it starts from the inner corner, and how far it leans back for each mm of length."""


def _cut(order: Order, sides: int, *, cover: bool, tuck: bool) -> _Cut:
    """The side of a dust flap next to another wall.

    It leans back to the bisector of the corner, so that the neighbours' flaps do not meet; next to a cover further, and
    it starts further in, so that a strip of waste stays between the two in the blank; and next to a tuck it starts so
    far back that this can swing in.
    """
    turn = 2 * math.pi / sides
    lean = math.tan(turn / 2)
    start = order.number("clearance")
    if cover:
        lean = max(lean, 1.0 / math.tan(turn))
        side = order.L.value * math.tan(turn / 2)
        start = max(start, min(_WASTE / math.sin(turn), side / 8))
    if tuck:
        t = order.thickness
        back = t + start + order.number("dust_setback")
        start = back / math.sin(turn) + t / 2 / math.tan(turn)
    return start, lean


def longest_dust(order: Order, sides: int, *, tuck: bool) -> float:
    """Longest dust flaps, mm: they keep an edge, and do not meet in the middle.

    Args:
        order: The order, options of the closure settled.
        sides: How many walls.
        tuck: Whether the end is tucked, else sealed.
    """
    side = order.L.value * math.tan(math.pi / sides)
    plain = _cut(order, sides, cover=False, tuck=False)
    beside = [plain, _cut(order, sides, cover=True, tuck=False)]
    if tuck:
        beside.append(_cut(order, sides, cover=False, tuck=True))
    edge = min((side - plain[0] - start - _TIP) / (plain[1] + lean) for start, lean in beside)
    return min(edge, order.L.value / 2 - order.number("clearance"))


class _End:
    """What both ends have in common: the dust flaps.

    Args:
        order: The order.
        sides: How many walls.
        top: Whether it is the top.
        covers: The walls that carry a cover.
        tuck: The wall that a tuck goes behind; None for none.
    """

    def __init__(self, order: Order, sides: int, *, top: bool, covers: tuple[int, ...], tuck: int | None) -> None:
        self.order, self.sides, self.top = order, sides, top
        self.covers, self.tucked = covers, tuck
        self.end = "top" if top else "bottom"
        self.clear = order.number("clearance")
        self.face = Face.TOP if top else Face.BOTTOM
        short = LEAST_DUST - longest_dust(order, sides, tuck=tuck is not None)
        if short > 0:
            # A longer side gives the flaps more length than it is longer by.
            more = short * 2 * max(1.0, 1.0 / math.tan(2 * math.pi / sides)) / math.tan(math.pi / sides)
            order.need("L", order.L.value + more, f"the dust flaps need {LEAST_DUST:g} mm and an edge")

    def dust(self, wall: int) -> bool:
        """Whether a dust flap hangs on a wall."""
        return wall not in self.covers and wall != self.tucked

    def _dust_name(self, prism: Prism, wall: int) -> str:
        return f"{self.end} dust flap {prism.walls[wall].number}"

    def _hang_dust(self, prism: Prism, sheet: Sheet) -> None:
        reach = self.order.size(f"{self.end} dust flap length", self.order.as_set("dust_length"))
        for wall in filter(self.dust, range(self.sides)):
            ends: list[_Cut] = []
            for other in ((wall - 1) % self.sides, (wall + 1) % self.sides):
                ends.append(_cut(self.order, self.sides, cover=other in self.covers, tuck=other == self.tucked))
            (left, lean_left), (right, lean_right) = ends
            outline = [
                (left, 0.0),
                (prism.side - right, 0.0),
                (prism.side - right - lean_right * reach, reach),
                (left + lean_left * reach, reach),
            ]
            self._hang(
                prism, sheet, self._dust_name(prism, wall), wall, polygon(outline), (left, prism.side - right), k=0.0
            )

    def _hang(
        self,
        prism: Prism,
        sheet: Sheet,
        name: str,
        wall: int,
        outline: Path,
        crease: tuple[float, float],
        *,
        k: float,
        stage: int = 2,
    ) -> None:
        frame = prism.frame(wall, top=self.top)
        sheet.panel(name, outline.placed(frame), face=self.face, k=k, role=Role.FLAP)
        line = frame.point(crease[0], 0.0), frame.point(crease[1], 0.0)
        sheet.fold(prism.walls[wall].name, name, line, meaning=flap_meaning(self.order), stage=stage)

    def _cover(self, prism: Prism, sheet: Sheet, name: str, wall: int, deep: float, *, k: float, stage: int) -> None:
        """Hang a cover; on the wall with the lap it starts where that wall does."""
        corners: list[Point] = prism.cover(deep)
        first = corners[0][0] + (0.0 if wall else prism.width - prism.first)
        outline = polygon([(first, 0.0), *corners[1:]])
        self._hang(prism, sheet, name, wall, outline, (first, corners[1][0]), k=k, stage=stage)

    def _dust_step(self, prism: Prism) -> Step:
        names = [self._dust_name(prism, wall) for wall in filter(self.dust, range(self.sides))]
        return Step(f"fold the {self.end} dust flaps in", dict.fromkeys(names, (90.0, 0.0)))


class TuckedEnd(_End):
    """A lid (layer 1) on one wall over dust flaps (layer 0), its tuck inside the wall opposite.

    Args:
        order: The order, with the options of a tuck.
        sides: How many walls.
        top: Whether it is the top.
        wall: The wall that carries the lid: 0 or sides / 2.
    """

    def __init__(self, order: Order, sides: int, *, top: bool, wall: int) -> None:
        far = (wall + sides // 2) % sides
        super().__init__(order, sides, top=top, covers=(wall,), tuck=far)
        self.wall = wall
        self.lid, self.tuck = f"{self.end} lid", f"{self.end} tuck"
        t = order.thickness
        least = 15.0 + t / math.sin(2 * math.pi / sides) + 3 * self.clear
        order.need("L", least / math.tan(math.pi / sides), "the tuck needs 15 mm of width")
        order.need("L", 2 * least_tuck(t), "the tuck needs its length, and must be at most half as long as the lid")

    @property
    def hangs(self) -> float:
        """How far the tuck hangs into the box, mm."""
        return self.order.number("tuck_length") - 1.5 * self.order.thickness

    def level(self, wall: int) -> float | None:
        """Dust flaps in layer 0, the lid in layer 1; the wall opposite ends in a raw edge."""
        return 1.0 if wall == self.wall else None if wall == self.tucked else 0.0

    def closed(self, prism: Prism) -> Closed:
        """Shut but for the clearance beside the tuck and the half board by which its crease is rounded."""
        return Closed(self.face, self.order.thickness / 2 + self.clear, prism.plan)

    def hang(self, prism: Prism, sheet: Sheet) -> None:
        """Hang dust flaps, lid and tuck."""
        order = self.order
        self._hang_dust(prism, sheet)
        across = order.size(f"{self.end} lid length", order.L - clearance(order)) + prism.across - order.L.value
        self._cover(prism, sheet, self.lid, self.wall, across, k=1.0, stage=3)
        long_ = order.size(f"{self.end} tuck length", order.as_set("tuck_length"))
        start, end = self._tuck_sides(prism)
        radius = min(order.number("tuck_radius"), (end - start) / 2 - 1.0, long_ - 0.5)
        corners = [(start, across), (end, across), (end, across + long_), (start, across + long_)]
        frame = prism.frame(self.wall, top=self.top)
        outline = rounded(corners, [0.0, 0.0, radius, radius]).placed(frame)
        face = prism.face(self.tucked or 0)
        sheet.panel(self.tuck, outline, face=face, k=-1.0, role=Role.FLAP, intrudes=True)
        line = frame.point(start, across), frame.point(end, across)
        sheet.fold(self.lid, self.tuck, line, meaning=flap_meaning(order), stage=4)

    def _tuck_sides(self, prism: Prism) -> tuple[float, float]:
        """Along the wall opposite; inside the wall with the lap it keeps clear of the lap's edge, mm."""
        c = self.clear
        far = 2 * c + self.order.thickness / math.sin(prism.turn) if self.tucked == 0 else c
        return c, prism.side - far

    def steps(self, prism: Prism) -> list[Step]:
        """Dust flaps in, lid down with its tuck bent over, tuck in, tuck back square."""
        value = self.order.ledger.value
        bend = over_bend(value(f"{self.end} tuck length"), value(f"{self.end} lid length"), 0.0)
        near = 90.0 - 2 * bend - 3.0  # from here on the tip of the tuck is down at the raw edge
        return [
            self._dust_step(prism),
            Step(
                f"bring the {self.end} lid down, its tuck bent", {self.lid: (near, 0.0), self.tuck: (90.0 + bend, 0.0)}
            ),
            Step(f"tuck the {self.end} lid in", {self.lid: (90.0, 0.0)}),
            Step(f"press the {self.end} lid flat", {self.tuck: (90.0, 0.0)}),
        ]


class SealedEnd(_End):
    """Dust flaps (layer 0), an inner cover on the front (layer 1), an outer one on the back glued on it (layer 2).

    Args:
        order: The order.
        sides: How many walls.
        top: Whether it is the top.
    """

    def __init__(self, order: Order, sides: int, *, top: bool) -> None:
        super().__init__(order, sides, top=top, covers=(0, sides // 2), tuck=None)
        order.need("L", 10.0 + 3 * _EDGE + 2 * self.clear, "the covers need 10 mm of glue")
        side = 10.0 + 2 * _EDGE
        order.need("L", side / math.tan(math.pi / sides), "the covers need 10 mm of glue")

    def level(self, wall: int) -> float | None:
        """Each cover lies a board higher than what it covers."""
        return 2.0 if wall == 0 else 1.0 if wall == self.covers[1] else 0.0

    def closed(self, prism: Prism) -> Closed:
        """Shut but for the half board beside the lap's crease, where the outer cover begins."""
        return Closed(self.face, 0.0, prism.plan)

    def hang(self, prism: Prism, sheet: Sheet) -> None:
        """Hang dust flaps and both covers, and glue these."""
        order, more = self.order, prism.across - self.order.L.value
        self._hang_dust(prism, sheet)
        # The wall of the outer cover comes up past the inner one, which must end before its inner face.
        inner = order.size(f"{self.end} inner flap", order.L + order.t / 2 - clearance(order)) + more
        outer = order.size(f"{self.end} outer flap", order.L + order.t) + more
        names = [f"{self.end} flap {prism.walls[wall].number}" for wall in self.covers]
        self._cover(prism, sheet, names[1], self.covers[1], inner, k=1.0, stage=3)
        self._cover(prism, sheet, names[0], 0, outer, k=2.0, stage=4)
        zone = rectangle(_EDGE, 2 * _EDGE, prism.side - _EDGE, inner - _EDGE).placed(prism.frame(0, top=self.top))
        sheet.join(
            Joint(
                kind=JointKind.GLUED,
                a=names[0],
                b=names[1],
                zone=zone.counter_clockwise(),
                a_inside=True,
                b_inside=False,
            )
        )

    def steps(self, prism: Prism) -> list[Step]:
        """Dust flaps, the inner cover, the outer one."""
        outer, inner = (f"{self.end} flap {prism.walls[wall].number}" for wall in self.covers)
        return [
            self._dust_step(prism),
            Step(f"fold {inner} over them", {inner: (90.0, 0.0)}),
            Step(f"glue {outer} down", {outer: (90.0, 0.0)}),
        ]
