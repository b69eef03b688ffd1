"""The six-corner tray: a tray with four corners and a hinged lid with two, glued flat and pulled up."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    Frame,
    Gauge,
    Order,
    Parameter,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Step,
    Style,
    length,
    polygon,
)

from .folding_corner import SLIP, Creased, Lapped
from .folding_states import Bends, corner_bends, flat_state, pulled_up, rise
from .folding_tray import CORNERS, FoldingTray
from .tray_body import FLUTES, LEAST_WASTE, sheet_of

__all__ = ["SIX_CORNER_TRAY"]

_BESIDE = 2.0
"""mm. How far the hinge of the lid keeps from the 45 degree creases."""

_LEAST_HINGE = 30.0
"""mm. Narrowest hinge that carries a lid."""

_SIDES, _CORNERS = (Face.LEFT, Face.RIGHT), ("left", "right")


def _least_lip(order: Order) -> float:
    """Lowest lip on which a lap keeps its glue, mm."""
    return min(25.0 + 2.0 * order.thickness, order.H.value)


PARAMETERS: tuple[Parameter, ...] = (
    length(
        "clearance",
        "By how much the inside of the lid is larger than the outside of the tray, along L; at the front, half of it.",
        lambda order: max(2.0, order.house.step),
        lambda order: order.house.step,
        lambda order: 4.0 + order.thickness + order.house.step,
        why="rounding may take half a step of it at the front, and with more the lid rattles",
    ),
    length(
        "lip",
        "Inside depth of the lid: how far its lips reach over the tray.",
        lambda order: max(_least_lip(order), min(40.0, order.H.value)),
        _least_lip,
        lambda order: max(_least_lip(order), order.H.value),
        why="its laps must be glued, and it must not reach under the tray",
    ),
    *(parameter for parameter in CORNERS if parameter.name != "back_crease"),
    FLUTES,
)


class _Lid:
    """Works out the lid and lays it on the sheet of its tray.

    Args:
        order: The order.
        tray: The tray that carries it.
    """

    def __init__(self, order: Order, tray: FoldingTray) -> None:
        t, clear = order.thickness, Quantity.named("clearance", order.number("clearance"))
        self.tray, self.t = tray, t
        # From the rim of the other walls to the middle of the lid that lies on them: no house size can change that.
        high = tray.tall + t / 2
        self.hinge: Point = (tray.base[0] / 2 + tray.rule.start - tray.tall - _BESIDE, high)
        # Inside, its sides clear the ends, its front clears the laps that lie on the front wall.
        self.wide = order.size("lid width", order.span(order.L, 1, 1) + clear)
        self.deep = order.size("lid depth", order.span(order.B, 0, 2) + clear / 2)
        self.tall = order.size("lip height", order.quantity("lip") + t / 2)
        self.foot = tray.base[1] / 2 + high
        self.relief = max(tray.play, min(LEAST_WASTE, self.deep / 10))

    def lay(self, sheet: Sheet) -> None:
        """Lay lid, front lip, side lips and joints."""
        half, (wide, _), rule = self.wide / 2, self.hinge, self.tray.rule
        back, front = self.foot + self.relief, self.foot + self.deep
        right = [(wide, self.foot), (wide, back), (half, back), (half, front)]
        outline = polygon([*right, *((-x, y) for x, y in right[::-1])])
        sheet.panel("lid", outline, face=Face.TOP, role=Role.FLAP)
        sheet.fold("back wall", "lid", ((-wide, self.foot), (wide, self.foot)), stage=3)
        Creased(
            name="lid front",
            on="lid",
            frame=Frame((0.0, front), (1.0, 0.0), (0.0, 1.0)),
            half=half,
            tall=self.tall,
            triangles=("lid left triangle", "lid right triangle"),
            k=2.0,
            stage=2,
        ).lay(sheet, rule)
        for side, out in zip(_CORNERS, (-1.0, 1.0), strict=True):
            Lapped(
                name=f"lid {side}",
                on="lid",
                frame=Frame((out * half, 0.0), (0.0, 1.0), (out, 0.0)),
                ends=(back, front),
                laps=(None, (f"lid {side} lap", f"lid {side} triangle")),
                tall=self.tall,
                k=1.0,
                stage=2,
            ).lay(sheet, rule)

    @property
    def glued(self) -> tuple[tuple[str, str], ...]:
        """Each lap and the triangle that it is glued to."""
        return tuple((f"lid {side} lap", f"lid {side} triangle") for side in _CORNERS)

    def bends(self, creased: float, stacked: float = 1.0) -> Bends:
        """Folds of its corners part of the way between erect and flat."""
        triangles, laps = [f"lid {side} triangle" for side in _CORNERS], [f"lid {side} lap" for side in _CORNERS]
        return corner_bends(
            self.t * stacked, creased, ["lid front"], triangles, [f"lid {side}" for side in _CORNERS], laps
        )

    def gauges(self) -> tuple[Gauge, ...]:
        """The clearance at both sides and at the front."""
        tray, t = self.tray, self.t
        beside = (self.wide - tray.base[0]) / 2 - t
        before = self.deep - tray.base[1] - 2 * t
        pairs = [(tray.name(face), f"lid {face.value}", beside) for face in _SIDES]
        pairs.append((tray.lap(Face.LEFT, Face.FRONT), "lid front", before))
        return tuple(
            Gauge(name=f"clearance at the {over}", a=a, b=over, a_inside=False, expected=gap) for a, over, gap in pairs
        )


def build(order: Order) -> Design:
    """A tray with four corners, its back wall carrying the lid."""
    t = order.thickness
    least = 2.0 * (order.H.value + _BESIDE) + _LEAST_HINGE
    order.need("L", least, "the lid's hinge lies between the 45 degree creases of the back and must be 30 mm wide")
    order.need("B", 2.0 * (order.number("lap_width") + 1.0), "the laps of the lid need their side")
    tray, sheet = FoldingTray(order), sheet_of(order, "tray")
    lid = _Lid(order, tray)
    tray.lay(sheet, lid.hinge)
    lid.lay(sheet)
    flat, glued = tray.bends(0.0) | lid.bends(0.0) | {"lid": (0.0, 0.0)}, (*tray.glued, *lid.glued)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tray.stand),),
        inside=order.inside,
        crease=tray.crease,
        sizes=tuple(order.ledger.lines),
        closed=(*tray.shut(), Closed(Face.TOP, max(0.0, lid.relief - t / 2))),
        stretch=tray.stretch,
        facts={"slip of the laps when flat": SLIP * t},
        states=(flat_state(order, flat, glued),),
        gauges=lid.gauges(),
        motions=(pulled_up(flat, _steps(tray, lid), glued),),
        words=(
            "Comes glued and flat: pull up the tray, then the corners of the lid; fill it and close the lid over it.",
        ),
    )


def _steps(tray: FoldingTray, lid: _Lid) -> list[Step]:
    """The tray, the corners of the lid, and the lid over the tray."""
    return [
        *rise(0.0, "pull up the tray", tray.bends),
        *rise(0.0, "pull up the corners of the lid", lid.bends),
        *(Step("close the lid", {"lid": (angle, 0.0)}) for angle in (45.0, 75.0, 90.0)),
    ]


SIX_CORNER_TRAY = Style(
    code="six-corner-tray",
    title="tray with hinged lid and six corners, glued flat",
    group="tray",
    summary="A tray with four corners that fold flat and a lid on its back wall with two more; the lid goes over the "
    "tray. Shipped glued and flat, pulled up in two movements.",
    use="Cakes, bakery, gifts and garments: boxes with a lid that need neither glue nor tape where they are filled.",
    parameters=PARAMETERS,
    build=build,
    example="300x220x80",
    thickness=(0.3, 4.0),
    assembly="MA",
    source="construction of our own, a four-bar linkage on a sphere at each corner",
)
