"""Trays that are glued flat and pulled up: four corners, or six with a hinged lid."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    Meaning,
    Order,
    Parameter,
    Piece,
    Point,
    Sheet,
    Style,
    choice,
    length,
)

from .back_crease import BACK, back_meaning
from .folding_corner import SLIP, CornerRule, Creased, Lapped
from .folding_states import Bends, corner_bends, flat_state, pulled_up, rise
from .tray_body import CORNER_PLAY, FLUTES, LEAST_WASTE, TrayBody, sheet_of

__all__ = ["CORNERS", "FOUR_CORNER_TRAY", "FoldingTray"]

_LEAST_LAP = 10.0
"""mm. Shortest lap that can be glued, besides the boards that it passes at the corner."""

_LEAST_RIM = 5.0
"""mm. Least of a lap's outer edge."""


def _lap_begins(order: Order) -> float:
    """How far up its wall a lap begins, mm."""
    beside = _start(order) + order.thickness / 2 + order.number("corner_play")
    return max(order.number("lap_foot"), beside + order.number("lap_off"))


def _start(order: Order) -> float:
    """How far outside the middle of the lapped walls the 45 degree creases begin, mm."""
    return order.thickness * (0.5 if order.options.get("flat", "out") == "out" else -0.5)


def _longest_lap(order: Order, high: float) -> float:
    """The lap's lower edge rises at 45 degrees until it has 5 mm of its outer edge left, on a wall ``high`` mm high."""
    return high + order.thickness / 2 - _lap_begins(order) - order.number("lap_taper") - _LEAST_RIM


def _least_lap(order: Order) -> float:
    return _LEAST_LAP + order.thickness


def _lap_room(order: Order) -> float:
    """Longest lap of the lowest wall that carries one, mm."""
    high = order.H.value
    least = high - _longest_lap(order, high) + _least_lap(order)
    order.need("H", least, "the laps need 10 mm to be glued beyond the 45 degree creases")
    low = min(high, float(order.options.get("lip", high)))
    return min(_longest_lap(order, low), _across(order) / 2 - 1.0)


def _axis(order: Order) -> int:
    """The axis along which the creased walls run: 0 for front and back, 1 for left and right."""
    return 0 if order.options.get("creased", "L") == "L" else 1


def _across(order: Order) -> float:
    """Width of the lapped walls, inside, mm."""
    return order.B.value if _axis(order) == 0 else order.L.value


def _foot(order: Order) -> float:
    beside = order.number("corner_play") + order.thickness / 2
    return max(order.number("corner_play"), round(LEAST_WASTE - beside, 2))


_CREASED = choice(
    "creased",
    "Which walls carry the 45 degree creases; they must be at least twice as long as high. The others carry the laps.",
    {"L": "front and back, which run along L", "B": "left and right, which run along B"},
    "L",
)


def _least_across(order: Order) -> float:
    """Least inside width of the lapped walls for the creased ones to lie in side by side, mm."""
    return 2.0 * order.H.value + order.thickness + 2.0


_FLAT = choice(
    "flat",
    "How the creased walls lie in the tray as it is shipped flat.",
    {"in": "laid in: as small as the base, five boards high", "out": "out flat: three boards high"},
    lambda order: "in" if _across(order) >= _least_across(order) else "out",
)

CORNERS: tuple[Parameter, ...] = (
    CORNER_PLAY,
    length(
        "lap_off",
        "How far the laps and their glue keep from the 45 degree creases.",
        4.0,
        2.0,
        lambda order: max(4.0, order.H.value / 4),
        why="glue on the crease locks the corner, and the lap needs its length",
    ),
    length(
        "lap_foot",
        "How far the walls with the laps keep their overhang above the crease of their foot.",
        _foot,
        lambda order: order.number("corner_play"),
        lambda order: max(_foot(order), order.H.value / 4),
        why="it passes the bend of the base",
        source="at least 3/32 in of waste between two knives: die maker, graphicdies.com/how-small",
    ),
    length(
        "lap_taper",
        "How far the free end of a lap is cut back at the rim.",
        lambda order: min(3.0, round(order.H.value / 16, 1)),
        0.0,
        lambda order: order.H.value / 8,
        why="the lap must keep its edge",
    ),
    length(
        "lap_width",
        "Length of the laps from their crease.",
        lambda order: max(_least_lap(order), min(30.0, round(0.5 * order.H.value, 1), _lap_room(order))),
        lambda order: min(_least_lap(order), _lap_room(order)),
        _lap_room,
        why="a lap needs 10 mm to be glued, and its lower edge rises with the 45 degree crease",
    ),
    *BACK,
)


class FoldingTray(TrayBody):
    """A tray whose corners fold flat: creased walls inside, lapped walls outside by the board of their laps.

    Args:
        order: The order.
    """

    def __init__(self, order: Order) -> None:
        super().__init__(order, _axis(order))
        t, c = order.thickness, self.play
        self.record(0.0, order.H + order.t / 2)
        self.reach = order.size("lap width", order.as_set("lap_width"))
        self.rule = CornerRule(
            t=t,
            start=_start(order),
            play=c,
            off=order.number("lap_off"),
            notch=min(LEAST_WASTE, order.H.value / 8),
            foot=order.number("lap_foot"),
            reach=self.reach,
            taper=order.number("lap_taper"),
            crush=order.crush,
            # Laid in, the triangles fold outward; out flat, inward.
            meaning=back_meaning(order) if _start(order) < 0 else Meaning.CREASE,
        )

    def triangle(self, side: Face, end: Face) -> str:
        """Name of the triangle of a creased wall beside a lapped one."""
        return self.corner(side, end, "triangle")

    def lap(self, end: Face, side: Face) -> str:
        """Name of the lap of a lapped wall on a creased one."""
        return self.corner(end, side, "lap")

    @property
    def stretch(self) -> tuple[float, float, float]:
        """How far house sizes and rounding make the inside larger than asked, mm."""
        order, t = self.order, self.order.thickness
        sides = self.base[0] - t - order.L.value, self.base[1] - t - order.B.value
        return *sides, self.tall - t / 2 - order.H.value

    # ------------------------------------------------------------------ laying out

    def lay(self, sheet: Sheet, hinge: Point | None = None) -> None:
        """Lay base, walls, triangles, laps and joints; something may hang on the back wall's rim."""
        self.lay_base(sheet)
        for side in self.holding:
            Creased(
                name=self.name(side),
                on="base",
                frame=self.frame(side),
                half=self.base[self.axis] / 2,
                tall=self.tall,
                triangles=(self.triangle(side, self.ends[0]), self.triangle(side, self.ends[1])),
                face=side,
                hinge=hinge if side is Face.BACK else None,
            ).lay(sheet, self.rule)
        a, b = self.holding
        half = self.base[1 - self.axis] / 2
        for end in self.ends:
            laps = (self.lap(end, a), self.triangle(a, end)), (self.lap(end, b), self.triangle(b, end))
            Lapped(
                name=self.name(end),
                on="base",
                frame=self.frame(end),
                ends=(-half, half),
                laps=laps,
                tall=self.tall,
                face=end,
            ).lay(sheet, self.rule)

    # ------------------------------------------------------------------ states

    def bends(self, creased: float, stacked: float = 1.0) -> Bends:
        """Its folds part of the way between erect and flat; see ``corner_bends``."""
        return corner_bends(
            self.order.thickness * stacked,
            creased,
            [self.name(side) for side in self.holding],
            [self.triangle(side, end) for side in self.holding for end in self.ends],
            [self.name(end) for end in self.ends],
            [self.lap(end, side) for end in self.ends for side in self.holding],
        )

    @property
    def glued(self) -> tuple[tuple[str, str], ...]:
        """Each lap and the triangle that it is glued to."""
        return tuple((self.lap(end, side), self.triangle(side, end)) for end in self.ends for side in self.holding)

    def shut(self) -> tuple[Closed, ...]:
        """What must be shut; the creased walls keep off the lapped ones, and may have a small notch at their foot."""
        rule = self.rule
        slit = max(self.play, rule.low - rule.t / 2 if rule.start < 0 else 0.0)
        walls = [Closed(face, slit) for face in self.holding]
        return (Closed(Face.BOTTOM), *walls, *(Closed(face) for face in self.ends))


def _four_corners(order: Order) -> Design:
    """Glued flat, pulled up by two opposite walls."""
    t, start = order.thickness, 0.0 if order.choice("flat") == "out" else 180.0
    side = "LB"[_axis(order)]
    least = 2.0 * (order.H.value + t + 2.0)
    order.need(side, least, "the walls with the 45 degree creases must be twice as long as high to lie flat")
    if start:
        order.need(
            "BL"[_axis(order)], _least_across(order), "walls that are laid in must not meet; flat=out needs less"
        )
    tray, sheet = FoldingTray(order), sheet_of(order, "tray")
    tray.lay(sheet)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tray.stand),),
        inside=order.inside,
        crease=tray.crease,
        sizes=tuple(order.ledger.lines),
        closed=tray.shut(),
        stretch=tray.stretch,
        facts={"slip of the laps when flat": SLIP * t},
        states=(flat_state(order, tray.bends(start), tray.glued),),
        motions=(pulled_up(tray.bends(start), rise(start, "pull up", tray.bends), tray.glued),),
        words=(
            "Comes glued and flat: pull up the two walls with the 45 degree creases, the other two rise with them.",
        ),
    )


FOUR_CORNER_TRAY = Style(
    code="four-corner-tray",
    title="tray with four corners, glued flat",
    group="tray",
    summary="A base with four walls; two of them have 45 degree creases at the corners, beyond which the laps of the "
    "other two are glued. Shipped glued and flat, pulled up in one movement. Open at the top.",
    use="Bakery, take-away and counter trays that are put up by the hundred without glue or tape.",
    parameters=(_CREASED, _FLAT, *CORNERS, FLUTES),
    build=_four_corners,
    example="300x200x60",
    thickness=(0.3, 4.0),
    assembly="MA",
    source="construction of our own, a four-bar linkage on a sphere at each corner",
)
"""Thicker board than C does not take up what lap and triangle miss each other by."""
