"""The tray with glued corners: laps on two opposite walls hold the other two, from inside or from outside."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    Joint,
    JointKind,
    Motion,
    Order,
    Path,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Style,
    polygon,
)

from .lap_options import lap_axis, laps
from .tray_body import FLUTES, TrayBody, sheet_of

__all__ = ["GLUED_TRAY", "WORDS", "GluedTray", "laps"]


class GluedTray(TrayBody):
    """Works out a tray with laps and lays it on a sheet.

    Laps outside: the holding walls are a board longer than the base at both ends, and the laps lie on the ends. Laps
    inside: the base is a board longer, the laps lie against the ends, and it is between the laps that the inside is
    exact.

    Args:
        order: The order, or the part of it that this tray is; it must hold the options ``laps()``.
        over: The tray that it goes over as a lid, if it is one.
    """

    def __init__(self, order: Order, over: TrayBody | None = None) -> None:
        super().__init__(order, lap_axis(order), over)
        self.laps_inside = order.options.get("lap_side", "inside") == "inside"
        self.record(1.0 if self.laps_inside else 0.0, order.H + order.t / 2)
        wall = order.span(self.along, 0, 0) if self.laps_inside else order.span(self.along, 1, 1)
        self.wall = order.size("wall length" if self.axis == 0 else "wall breadth", wall)
        clear = Quantity.named("c", self.play)
        end = order.span(self.across, 0, 0) if self.laps_inside else self.across - 2 * clear
        self.end = order.size("end width", end)
        self.reach = self.lap_widths()

    def lap_widths(self) -> dict[Face, float]:
        """Length of the laps of each holding wall from their crease, mm."""
        return dict.fromkeys(self.holding, self.order.size("lap width", self.order.as_set("lap_width")))

    def foot(self, side: Face) -> float:
        """How far the laps of a holding wall begin above its crease, mm: less on a low one, but never in the base."""
        least = self.play + (self.order.thickness / 2 if self.laps_inside else 0.0)
        return max(least, min(self.order.number("lap_foot"), self.height(side) / 4))

    def height(self, side: Face) -> float:  # noqa: ARG002  # trays with walls of several heights ask for it
        """Height of a wall from its crease to its rim, mm."""
        return self.tall

    def thickest(self, holding: bool) -> float:
        """Boards of a wall where it is thickest."""
        return 1.0 if holding else 2.0

    @property
    def outside(self) -> tuple[float, float]:
        """Outside length and breadth with the laps, mm."""
        t = self.order.thickness
        sides = [self.base[0] + t, self.base[1] + t]
        sides[self.axis] = (self.base[self.axis] if self.laps_inside else self.wall) + t
        return sides[0], sides[1]

    @property
    def stretch(self) -> tuple[float, float, float]:
        """How far house sizes and rounding make the inside larger than asked, mm."""
        order, t = self.order, self.order.thickness
        sides = [self.base[0] - t - order.L.value, self.base[1] - t - order.B.value]
        sides[self.axis] = (self.wall if self.laps_inside else self.base[self.axis]) - t - self.along.value
        return sides[0], sides[1], self.tall - t / 2 - order.H.value

    def outermost(self, side: Face) -> str:
        """The panel that stands farthest out at a wall."""
        return self._at(side, lapped=not self.laps_inside)

    def innermost(self, side: Face) -> str:
        """The panel that stands farthest in at a wall."""
        return self._at(side, lapped=self.laps_inside)

    def _at(self, side: Face, *, lapped: bool) -> str:
        return self.corner(self.holding[0], side, "lap") if lapped and side in self.ends else self.name(side)

    # ------------------------------------------------------------------ laying out

    def lay(self, sheet: Sheet) -> None:
        """Lay base, walls, laps and joints."""
        self.lay_base(sheet)
        for side in self.ends:
            self.lay_wall(
                sheet, side, self.end_outline(side), k=float(self.laps_inside), stage=3 if self.laps_inside else 1
            )
        for side in self.holding:
            self.lay_wall(sheet, side, self.wall_outline(side), stage=2)
            for end in self.ends:
                self._lay_lap(sheet, side, end)

    def wall_outline(self, side: Face) -> Path:
        """Outline of a holding wall, in its frame: where it is longer than the base, it begins as high as its laps."""
        half, base, foot, high = self.wall / 2, self.base[self.axis] / 2, self.foot(side), self.height(side)
        if self.laps_inside:
            return polygon([(-half, 0.0), (half, 0.0), (half, high), (-half, high)])
        left, right = [(-half, foot), (-base, foot), (-base, 0.0)], [(base, 0.0), (base, foot)]
        return polygon([*left, *right, (half, foot), (half, high), (-half, high)])

    def end_outline(self, side: Face) -> Path:
        """Outline of an end, in its frame."""
        half, high = self.end / 2, self.height(side)
        return polygon([(-half, 0.0), (half, 0.0), (half, high), (-half, high)])

    def lap_outline(self, side: Face, by: float) -> list[Point]:
        """Outline of a lap of a holding wall, from the foot of its crease round to the rim, each point as distance from
        the crease and height on the wall; ``by`` mm smaller all round for the glue.
        """
        high, reach, foot = self.height(side) - by, self.reach[side] - by, self.foot(side) + by
        cut = min(self.order.number("lap_taper"), self.height(side) / 6)
        return [(by, foot), (reach, foot + cut), (reach, high - cut), (by, high)]

    def _lay_lap(self, sheet: Sheet, side: Face, end: Face) -> None:
        frame, out = self.frame(side), 1.0 if end.far else -1.0
        name, crease = self.corner(side, end, "lap"), out * self.wall / 2
        outline = self.lap_outline(side, 0.0)
        sheet.panel(
            name,
            polygon([frame.point(crease + out * u, v) for u, v in outline]),
            face=self.face(end),
            k=self.boards(end) + (0.0 if self.laps_inside else 1.0),
            role=Role.LAP,
        )
        line = frame.point(crease, outline[0][1]), frame.point(crease, outline[-1][1])
        sheet.fold(self.name(side), name, line, stage=1 if self.laps_inside else 3)
        self._join(sheet, side, end, name, crease, out)

    def _join(self, sheet: Sheet, side: Face, end: Face, name: str, crease: float, out: float) -> None:
        """The glue of a lap: it begins where the end does."""
        t, frame = self.order.thickness, self.frame(side)
        edge = min(2.0, self.reach[side] / 10, self.height(side) / 10)
        begin = edge + max(t / 2, (self.base[1 - self.axis] - self.end) / 2)
        zone = [(max(u, begin), v) for u, v in self.lap_outline(side, edge)]
        play = min(abs(self._mismatch), self.order.house.step)
        sheet.join(
            Joint(
                kind=JointKind.GLUED if self.order.choice("joint") == "glued" else JointKind.STITCHED,
                a=name,
                b=self.name(end),
                zone=polygon([frame.point(crease + out * u, v) for u, v in zone]).counter_clockwise(),
                a_inside=not self.laps_inside,
                b_inside=self.laps_inside,
                play=play,
                crush=self.order.crush + play,
            )
        )

    @property
    def _mismatch(self) -> float:
        """By how much a lap misses its end, mm; 0 unless the house or rounding says otherwise."""
        base, t = self.base[self.axis], self.order.thickness
        return (base - self.wall) / 2 - t if self.laps_inside else (self.wall - base) / 2 - t

    # ------------------------------------------------------------------ proofs

    def shut(self) -> tuple[Closed, ...]:
        """What must be shut; outside laps lie behind a slit beside each end."""
        between = self.base[1 - self.axis] - self.order.thickness
        return self.closed(max(0.0, (between - self.end) / 2))

    def put_up(self, piece: str = "") -> Motion:
        """How it is put up: the laps last where they lie outside, first where they lie inside."""
        laps = [self.corner(side, end, "lap") for side in self.holding for end in self.ends]
        ends = ("fold up the ends", [self.name(side) for side in self.ends])
        walls = ("fold up the walls", [self.name(side) for side in self.holding])
        if self.laps_inside:
            return self.motion([("fold the laps in", laps), walls, ends], piece)
        return self.motion([ends, walls, ("fold the laps over the ends", laps)], piece)


WORDS = {
    True: "Fold the laps in, fold up the walls that carry them, then the ends, and join the ends to the laps.",
    False: "Fold up the ends, then the walls, fold the laps round the ends and join them.",
}
"""How a tray is put up, laps inside or not."""


def build(order: Order) -> Design:
    """One tray, open at the top."""
    order.need("H", order.thickness + 8.0, "a lower wall cannot be folded and joined")
    tray, sheet = GluedTray(order), sheet_of(order, "tray")
    tray.lay(sheet)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tray.stand),),
        inside=order.inside,
        crease=tray.crease,
        sizes=tuple(order.ledger.lines),
        closed=tray.shut(),
        stretch=tray.stretch,
        motions=(tray.put_up(),),
        words=(WORDS[tray.laps_inside],),
    )


GLUED_TRAY = Style(
    code="glued-tray",
    title="tray with glued corners",
    group="tray",
    summary="A base with four walls; laps on two opposite walls are glued or stapled to the other two, inside or "
    "outside. Open at the top.",
    use="Trays for bottles, cans, produce and shelf goods; the body of telescopes, boxes with cover and drawers.",
    parameters=(*laps(), FLUTES),
    build=build,
    example="300x200x60",
    thickness=(0.3, 9.0),
    assembly="MA",
    source="construction of our own; corner laps glued or stapled as in design-style trays (trade association's list "
    "of types, wellpappe-wissen.de)",
)
