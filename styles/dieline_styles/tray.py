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
    Parameter,
    Path,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Style,
    choice,
    length,
    polygon,
)

from .tray_body import CORNER_PLAY, FLUTES, LEAST_WASTE, TrayBody, sheet_of, upward

__all__ = ["GLUED_TRAY", "WORDS", "GluedTray", "laps"]

_LEAST_LAP = 10.0
"""mm. Narrowest lap that can be glued or stitched, besides the boards that it passes at the corner."""

_USUAL_LAP = 35.0


def _end(order: Order) -> float:
    """Inside width of the walls that the laps are joined to, mm."""
    return order.B.value if _lap_on(order) == 0 else order.L.value


def _lap_on(order: Order) -> int:
    """The axis along which the walls run that carry the laps: 0 for front and back, 1 for left and right."""
    return 0 if order.options.get("lap_on", "L") == "L" else 1


def _widest_lap(order: Order) -> float:
    """Two laps that all but meet; a tray too narrow for any is refused by its size."""
    least = 2.0 * (_LEAST_LAP + order.thickness + 1.0)
    order.need("BL"[_lap_on(order)], least, "two laps of at least 10 mm are joined to each end")
    return _end(order) / 2 - 1.0


_LAP_ON = choice(
    "lap_on",
    "Which walls carry the laps; the others are the ends that the laps are joined to.",
    {"L": "front and back, which run along L", "B": "left and right, which run along B"},
    "L",
)

_LAP_SIDE = choice(
    "lap_side",
    "On which side of the ends the laps are joined.",
    {"inside": "inside, so that the outside is smooth", "outside": "outside, so that the inside is smooth"},
    "inside",
)

_LAPS: tuple[Parameter, ...] = (
    choice("joint", "How the laps are joined.", {"glued": "glued", "stitched": "stitched with wire"}, "glued"),
    length(
        "lap_width",
        "Length of the laps from their crease.",
        lambda order: min(
            _USUAL_LAP, max(round(0.4 * _end(order), 1), _LEAST_LAP + order.thickness), _widest_lap(order)
        ),
        lambda order: min(_LEAST_LAP + order.thickness, _widest_lap(order)),
        _widest_lap,
        why="a lap needs 10 mm to be joined, and two of them share an end",
    ),
    length(
        "lap_taper",
        "How far the free end of a lap is cut back at the base and at the rim (at most a sixth of its wall's height).",
        lambda order: min(3.0, round(order.H.value / 8, 1)),
        0.0,
        lambda order: order.H.value / 6,
        why="the lap must keep most of its edge",
    ),
    CORNER_PLAY,
)


def laps(side: str = "") -> tuple[Parameter, ...]:
    """The options of laps; where their side is fixed, it is no option."""

    def least(order: Order) -> float:
        inside = (side or order.choice("lap_side")) == "inside"
        return order.number("corner_play") + (order.thickness / 2 if inside else 0.0)

    def usual(order: Order) -> float:
        inside = (side or order.choice("lap_side")) == "inside"
        beside = 0.0 if inside else order.number("corner_play") + order.thickness / 2
        return max(upward(least(order)), min(round(LEAST_WASTE - beside, 2), order.H.value / 8))

    foot = length(
        "lap_foot",
        "How far a lap begins above the crease of its wall (at most a quarter of the wall's height).",
        usual,
        least,
        lambda order: max(usual(order), order.H.value / 4),
        why="a lap inside stands on the base, one outside passes its bend, and it needs its length",
        source="at least 3/32 in of waste between two knives: die maker, graphicdies.com/how-small",
    )
    return (_LAP_ON, *(() if side else (_LAP_SIDE,)), *_LAPS, foot)


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
        super().__init__(order, _lap_on(order), over)
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
