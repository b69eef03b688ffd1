"""The tray whose walls lean out: an unfolded frustum with laps, corrected for the thickness of the board."""

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
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Step,
    Style,
    polygon,
)

from .lean_options import LEANING, SPARE, below_rim, edge_splay, lean_axis, wall_leans
from .tray_body import TrayBody, sheet_of

__all__ = ["TAPERED_TRAY", "TaperedTray"]


class TaperedTray(TrayBody):
    """Works out a tray with leaning walls; laps outside on the ends.

    Args:
        order: The order.
    """

    def __init__(self, order: Order) -> None:
        super().__init__(order, lean_axis(order))
        t = order.thickness
        self.lean, self.end_lean = wall_leans(order)
        leans = (self.end_lean, self.lean) if self.axis == 0 else (self.lean, self.end_lean)
        # The crease lies in the middle of the board, beyond the inside edge where floor and wall meet.
        beyond = [Quantity.named("g", t / 2 * math.tan(math.pi / 4 - lean / 2)) for lean in leans]
        self.base = (
            order.size("base length", order.L + 2 * beyond[0]),
            order.size("base breadth", order.B + 2 * beyond[1]),
        )
        self.slant = order.size("wall height", self._slant(self.lean, beyond[1 - self.axis]))
        self.end_slant = order.size("end height", self._slant(self.end_lean, beyond[self.axis]))
        self.tall = self.slant * math.cos(self.lean)
        self.turn = math.degrees(math.acos(math.sin(self.lean) * math.sin(self.end_lean)))
        """How far a lap is folded, degrees: less than a right angle, since the walls open out."""
        self.reach = order.size("lap width", order.as_set("lap_width"))
        self.foot = order.number("lap_foot")
        self.sunk = below_rim(order)
        """How far a lap's crease ends below the rim, mm: it lies a board outside the end, whose rim leans."""

    def _slant(self, lean: float, beyond: Quantity) -> Quantity:
        """From the crease to the rim: its inner edge comes to lie at H."""
        if not lean:
            return self.order.H + beyond
        return self.order.H / math.cos(lean) + beyond

    @property
    def stretch(self) -> tuple[float, float, float]:
        """How far house sizes and rounding make the inside larger than asked, mm."""
        order, t = self.order, self.order.thickness
        leans = (self.end_lean, self.lean) if self.axis == 0 else (self.lean, self.end_lean)
        sides = [
            drawn - t * math.tan(math.pi / 4 - lean / 2) - asked.value
            for drawn, lean, asked in zip(self.base, leans, (order.L, order.B), strict=True)
        ]
        rims = [
            (slant - t / 2 * math.tan(math.pi / 4 - lean / 2)) * math.cos(lean)
            for slant, lean in ((self.slant, self.lean), (self.end_slant, self.end_lean))
        ]
        return sides[0], sides[1], min(rims) - order.H.value

    def corner_at(self, side: Face, v: float, k: float) -> float:
        """Where, on the middle of a wall at ``v`` above its crease, the middle of layer k of the wall beside it passes,
        from the middle of the wall, mm.
        """
        t = self.order.thickness
        own, other, wide = self.lean, self.end_lean, self.between[self.axis]
        if side in self.ends:
            own, other, wide = other, own, self.between[1 - self.axis]
        at_floor = wide / 2 - t / 2 * math.tan(other) + (k + 0.5) * t / math.cos(other)
        return at_floor + v * math.cos(own) * math.tan(other)

    # ------------------------------------------------------------------ laying out

    def lay(self, sheet: Sheet) -> None:
        """Lay base, walls, laps and joints."""
        self.lay_base(sheet)
        t, turn = self.order.thickness, math.radians(self.turn)
        # The edge of an end is cut square, the wall that it stands beside is not square to it.
        back = (self.play + t / 2 / math.tan(turn)) / math.cos(self.end_lean)
        for side in self.ends:
            foot, rim = (self.corner_at(side, v, -0.5) - back for v in (0.0, self.end_slant))
            end = [(-foot, 0.0), (foot, 0.0), (rim, self.end_slant), (-rim, self.end_slant)]
            self.lay_wall(sheet, side, end, angle=90.0 - math.degrees(self.end_lean))
        for side in self.holding:
            self.lay_wall(sheet, side, self._wall(side), stage=2, angle=90.0 - math.degrees(self.lean))
            for end_face in self.ends:
                self._lay_lap(sheet, side, end_face)

    def _wall(self, side: Face) -> list[Point]:
        """A holding wall: it reaches out to the laps, but its foot only as far as the base."""
        base, foot, high = self.base[self.axis] / 2, self.foot, self.slant
        low, rim = self.corner_at(side, foot, 1.0), self.corner_at(side, high, 1.0)
        right = [(base, 0.0), (base, foot), (low, foot), (rim, high)]
        return [*right, *((-u, v) for u, v in right[::-1])]

    def lap_outline(self, by: float, begin: float) -> list[Point]:
        """A lap: place along its crease from the foot, and distance from it; ``by`` mm smaller all round, from
        ``begin`` mm off the crease on, for the glue.
        """
        wall, end = edge_splay(self.end_lean, self.lean), edge_splay(self.lean, self.end_lean)
        crease = (self.slant - self.foot) / math.cos(wall) - self.sunk
        # Folded, the upper edge is level where it drops as far as the corner leans sideways on the end.
        low, high = math.tan(wall + end + math.radians(SPARE)), math.tan(end) + 0.04
        far = self.reach - by
        return [
            (by + begin * low, begin),
            (by + far * low, far),
            (crease - by - far * high, far),
            (crease - by - begin * high, begin),
        ]

    def _lay_lap(self, sheet: Sheet, side: Face, end: Face) -> None:
        frame, out = self.frame(side), 1.0 if end.far else -1.0
        u, splay = self.corner_at(side, self.foot, 1.0), edge_splay(self.end_lean, self.lean)
        s, c = math.sin(splay), math.cos(splay)

        def at(along: float, off: float) -> Point:
            return frame.point(out * (u + along * s + off * c), self.foot + along * c - off * s)

        name, outline = self.corner(side, end, "lap"), [at(*point) for point in self.lap_outline(0.0, 0.0)]
        sheet.panel(name, polygon(outline), k=1.0, role=Role.LAP)
        sheet.fold(self.name(side), name, (outline[0], outline[-1]), angle=self.turn, stage=3)
        edge = min(2.0, self.reach / 10)
        begin = self.order.thickness + self.play + edge
        zone = polygon([at(*point) for point in self.lap_outline(edge, begin)]).counter_clockwise()
        kind = JointKind.GLUED if self.order.choice("joint") == "glued" else JointKind.STITCHED
        sheet.join(Joint(kind=kind, a=name, b=self.name(end), zone=zone, a_inside=True, b_inside=False))

    # ------------------------------------------------------------------ proofs

    def shut(self) -> tuple[Closed, ...]:
        """What must be shut; beside an end a slit stays behind the laps."""
        t, turn = self.order.thickness, math.radians(self.turn)
        return self.closed((self.play + t / 2 / math.tan(turn)) / math.cos(self.end_lean) + t / 2 * math.tan(self.lean))

    def put_up(self) -> Motion:
        """Ends, walls, laps."""
        ends = dict.fromkeys((self.name(side) for side in self.ends), (90.0 - math.degrees(self.end_lean), 0.0))
        walls = dict.fromkeys((self.name(side) for side in self.holding), (90.0 - math.degrees(self.lean), 0.0))
        laps = [self.corner(side, end, "lap") for side in self.holding for end in self.ends]
        return Motion(
            steps=(
                Step("fold up the ends", ends),
                Step("fold up the walls", walls),
                Step("fold the laps over the ends", dict.fromkeys(laps, (self.turn, 0.0))),
            )
        )

    @property
    def mouth(self) -> tuple[float, float]:
        """Inside length and breadth at the rim, mm."""
        leans = (self.end_lean, self.lean) if self.axis == 0 else (self.lean, self.end_lean)
        sides = (self.order.L.value, self.order.B.value)
        long, deep = (s + 2 * self.order.H.value * math.tan(a) for s, a in zip(sides, leans, strict=True))
        return long, deep


def build(order: Order) -> Design:
    """A tray L by B at the floor, wider at the rim."""
    order.need("H", order.thickness + 8.0, "a lower wall cannot be folded and joined")
    tray, sheet = TaperedTray(order), sheet_of(order, "tray")
    tray.lay(sheet)
    long, deep = tray.mouth
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tray.stand),),
        inside=order.inside,
        crease=tray.crease,
        sizes=tuple(order.ledger.lines),
        closed=tray.shut(),
        stretch=tray.stretch,
        facts={"inside length at the rim": long, "inside breadth at the rim": deep},
        motions=(tray.put_up(),),
        words=("Fold up the ends, then the walls, fold the laps round the ends and join them.",),
    )


TAPERED_TRAY = Style(
    code="tapered-tray",
    title="tray with leaning walls",
    group="tray",
    summary="A base with four walls that lean out by angles of their own; laps on two walls are joined outside to the "
    "other two. L and B are measured at the floor. Trays nest.",
    use="Food, plants and tools: trays that are stored in one another and emptied with ease.",
    parameters=LEANING,
    build=build,
    example="300x200x60",
    thickness=(0.3, 7.0),
    assembly="M",
    source="the unfolded frustum of plane geometry, corrected for the board; construction of our own",
)
