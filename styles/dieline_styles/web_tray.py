"""The tray with web (gusset) corners: nothing is cut out there, the board is folded double against the ends.

A web is a square of board with a crease across: one half hangs on the holding wall and turns with it, the other hangs
on the end and is folded back on it. The crease across is one straight line at 45 degrees only where twice the distance
from the web's crease on the end to the corner equals the distance from the end's crease to the web's crease on the
wall. Inside the end that fits for every board; outside it would have to pass through the wall.
"""

from __future__ import annotations

import math

from dieline.style import (
    Closed,
    Design,
    Face,
    Joint,
    JointKind,
    Motion,
    Order,
    Parameter,
    Piece,
    Point,
    Role,
    Sheet,
    Style,
    choice,
    length,
    polygon,
)

from .back_crease import BACK, back_meaning
from .tray_body import CORNER_PLAY, FLUTES, LEAST_WASTE, TrayBody, sheet_of, upward

__all__ = ["WEBS", "WEB_TRAY", "WORDS", "WebTray"]


def _least_foot(order: Order) -> float:
    return upward(order.number("corner_play") + order.thickness / 2)


def _usual_foot(order: Order) -> float:
    """High enough that the waste of the hole is stripped without trouble: (2t + f)(t + f) - 2t² of it."""
    t = order.thickness
    whole = (math.sqrt(9.0 * t * t + 4.0 * _LEAST_HOLE) - 3.0 * t) / 2.0
    return max(_least_foot(order), min(max(LEAST_WASTE, upward(whole)), order.H.value / 8))


WEBS: tuple[Parameter, ...] = (
    choice(
        "web_on",
        "Which walls the webs lie against, folded double.",
        {"B": "left and right, which run along B", "L": "front and back, which run along L"},
        "B",
    ),
    CORNER_PLAY,
    length(
        "web_foot",
        "How far a web begins above the creases of the base: what is below is cut out, a small hole at each corner.",
        _usual_foot,
        _least_foot,
        lambda order: max(_usual_foot(order), order.H.value / 4),
        why="the web stands on the base, and it needs its crease",
        source="at least 3/32 in of waste between two knives: die maker, graphicdies.com/how-small; at least 30 mm² of "
        "it: common practice, no source",
    ),
    *BACK,
)
"""Options of webs."""

_LEAST_HOLE = 30.0
"""mm². Smallest waste that is stripped without trouble."""

_LEAST_CUT = 1.0
"""mm. Shortest edge by which webs that would meet are cut short."""

_LEAST_SEAM = 8.0
"""mm. Shortest crease across a web: a shorter one is lost in the bends of the corner."""


class WebTray(TrayBody):
    """Works out a tray with web corners and lays it on a sheet.

    Between the inside and an end stand two boards: the half of the web that turns with the holding wall (k = 0) and
    the half that is folded back on the end (k = 1).

    Args:
        order: The order, or the part of it that this tray is; it must hold the options ``WEBS``.
        over: The tray that it goes over as a lid, if it is one.
    """

    def __init__(self, order: Order, over: TrayBody | None = None) -> None:
        super().__init__(order, 0 if order.choice("web_on") == "B" else 1, over)
        t = order.thickness
        # Two webs share an end, and above the corner's cut-out they must keep their crease.
        self.foot = order.number("web_foot")
        least = 2 * (self.foot + _LEAST_SEAM + self.play) + 3 * t
        order.need("BL"[self.axis], least, "two webs share each end, and each needs its crease")
        order.need("H", self.foot + _LEAST_SEAM - t / 2, "each web needs its crease")
        self.record(2.0, order.H + order.t / 2)
        self.hinge = order.size("web crease to web crease on the wall", order.span(self.along, 0, 0)) / 2
        self.apart = (self.base[self.axis] / 2 - self.hinge) / 2
        """From one layer at the end to the next, mm: a board, but for house sizes and rounding."""
        # Only so is the crease across one straight line; no house size can change that.
        self.end = self.base[1 - self.axis] / 2 - self.apart

    def thickest(self, holding: bool) -> float:
        """Boards of a wall where it is thickest."""
        return 1.0 if holding else 3.0

    @property
    def outside(self) -> tuple[float, float]:
        """Outside length and breadth, mm."""
        return self.base[0] + self.order.thickness, self.base[1] + self.order.thickness

    @property
    def stretch(self) -> tuple[float, float, float]:
        """How far house sizes and rounding make the inside larger than asked, mm."""
        order, t = self.order, self.order.thickness
        sides = [self.base[0] - t - order.L.value, self.base[1] - t - order.B.value]
        sides[self.axis] = 2 * self.hinge - t - self.along.value
        return sides[0], sides[1], self.tall - t / 2 - order.H.value

    @property
    def cut(self) -> bool:
        """Whether the webs are cut short where two of them would meet on an end."""
        return self._reach < self.tall - 1e-9

    @property
    def _reach(self) -> float:
        """How far up a web keeps its crease across, mm; cut short, it is so by an edge that a knife can make."""
        room = self.base[1 - self.axis] / 2 - self.play - 2 * self.apart
        return self.tall if room >= self.tall else min(room, self.tall - _LEAST_CUT)

    def outermost(self, side: Face) -> str:
        """The panel that stands farthest out at a wall."""
        return self.name(side)

    def innermost(self, side: Face) -> str:
        """The panel that stands farthest in at a wall."""
        return self.corner(self.holding[0], side, "web") if side in self.ends else self.name(side)

    # ------------------------------------------------------------------ laying out

    def lay(self, sheet: Sheet) -> None:
        """Lay base, walls, webs and joints."""
        self.lay_base(sheet)
        for sides, half, k, stage in ((self.ends, self.end, 2.0, 2), (self.holding, self.hinge, 0.0, 3)):
            for side in sides:
                wall = [(-half, 0.0), (half, 0.0), (half, self.tall), (-half, self.tall)]
                self.lay_wall(sheet, side, wall, k=k, stage=stage)
        for side in self.holding:
            for end in self.ends:
                self._lay_web(sheet, side, end)

    def half_web(self, crease: float, corner: float) -> list[Point]:
        """Half a web in the frame of the wall that it hangs on: from the foot of its crease round to the rim.

        Args:
            crease: Where it hangs, from the middle of the wall, mm.
            corner: Where the crease across, made longer, meets the foot of the wall, mm.
        """
        foot, top, reach = self.foot, self.tall, self._reach
        return [(crease, foot), (corner + foot, foot), (corner + reach, reach), (corner + reach, top), (crease, top)]

    def _lay_web(self, sheet: Sheet, side: Face, end: Face) -> None:
        names = self.webs(side, end)
        base_along, base_across = self.base[self.axis] / 2, self.base[1 - self.axis] / 2
        halves = (
            (names[0], side, end.far, self.hinge, base_along, 90.0, 0.0, 0.0),
            (names[1], end, side.far, self.end, base_across, 180.0, self.apart, 1.0),
        )
        for name, on, far, crease, corner, angle, shift, k in halves:
            frame, out = self.frame(on), 1.0 if far else -1.0
            places = [frame.point(out * u, v) for u, v in self.half_web(crease, corner)]
            face, give = self.face(end), shift or None
            sheet.panel(name, polygon(places), face=face, k=self.boards(end) + k, role=Role.FLAP)
            sheet.fold(self.name(on), name, (places[0], places[-1]), angle=angle, shift=shift, stage=1, give=give)
        frame, out = self.frame(side), 1.0 if end.far else -1.0
        ends = [frame.point(out * (base_along + v), v) for v in (self.foot, self._reach)]
        sheet.seam(*names, (ends[0], ends[1]), meaning=back_meaning(self.order), miss=self.apart + 1e-9)
        self._join(sheet, end, side, names)

    def webs(self, side: Face, end: Face) -> tuple[str, str]:
        """Names of the two halves of a web: the one on the holding wall and the one on the end."""
        return self.corner(side, end, "web"), self.corner(end, side, "web back")

    def _join(self, sheet: Sheet, end: Face, side: Face, names: tuple[str, str]) -> None:
        """The web's back is glued to the end, its front to its back."""
        edge = min(2.0, self.tall / 10)
        frame, out = self.frame(end), 1.0 if side.far else -1.0
        corner, low, top = self.base[1 - self.axis] / 2, self.foot + edge, self.tall - edge
        lean = [(corner + v - edge, v) for v in (low, min(self._reach, top))]
        zone = [(self.end + edge, low), *lean, (lean[-1][0], top), (self.end + edge, top)]
        kind, play = JointKind.GLUED, min(abs(self.apart - self.order.thickness), self.order.house.step)
        crush = self.order.crush + play
        path = polygon([frame.point(out * u, v) for u, v in zone]).counter_clockwise()
        sheet.join(
            Joint(
                kind=kind, a=names[1], b=self.name(end), zone=path, a_inside=True, b_inside=True, play=play, crush=crush
            )
        )
        sheet.join(
            Joint(kind=kind, a=names[1], b=names[0], zone=path, a_inside=False, b_inside=False, play=play, crush=crush)
        )

    # ------------------------------------------------------------------ proofs

    def shut(self) -> tuple[Closed, ...]:
        """What must be shut; the end stands clear of the wall, and the web begins a little above the base."""
        return self.closed(max(0.0, self.apart - self.order.thickness / 2))

    def put_up(self, piece: str = "") -> Motion | None:  # noqa: ARG002
        """Wall, web and end move together in a closed loop: no step of it is a fold by itself, so none is sampled."""
        return None


WORDS = (
    "Fold up a wall and the end beside it together, so that the web between them folds double inside the end; glue it "
    "to the end."
)
"""How a tray with webs is put up."""


def build(order: Order) -> Design:
    """One tray, open at the top."""
    tray, sheet = WebTray(order), sheet_of(order, "tray")
    tray.lay(sheet)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tray.stand),),
        inside=order.inside,
        crease=tray.crease,
        sizes=tuple(order.ledger.lines),
        closed=tray.shut(),
        stretch=tray.stretch,
        words=(WORDS,),
    )


WEB_TRAY = Style(
    code="web-tray",
    title="tray with web corners",
    group="tray",
    summary="A base with four walls; the corners are not cut but folded double, as webs, against the inside of two "
    "walls and glued there; only a small hole is left at each foot. Open at the top.",
    use="Trays with closed, strong corners: for baking, produce and fine goods; the body of web-cornered telescopes.",
    parameters=(*WEBS, FLUTES),
    build=build,
    example="300x200x60",
    thickness=(0.3, 5.0),
    assembly="MA",
    source="construction of our own; corners folded as diagonal gussets and glued to the wall as a box maker "
    "publishes it (herculeindustrial.com/products/corrugated/fefco)",
)
