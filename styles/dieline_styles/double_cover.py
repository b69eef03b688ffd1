"""The double cover box (0310): a tube open at both ends, and two equal caps that go over it."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    FourthSize,
    Gauge,
    Order,
    Parameter,
    Piece,
    Point,
    Quantity,
    Sheet,
    Size,
    SizeError,
    Slide,
    Stand,
    Style,
    Value,
    choice,
    format_mm,
    length,
)

from . import joint
from .end import End
from .part import Part
from .tray import GluedTray, laps
from .tube import Tube
from .tube_telescope import CLEARANCE, closed_walls, flat_state, inside_of, low_corner

__all__ = ["STYLES"]

_APART = 5.0
"""mm. Caps that meet would carry the load in place of the tube, and could not be pulled off."""

_FLIPPED = {Face.FRONT: Face.BACK, Face.BACK: Face.FRONT}
"""Where a wall of the upper cap stands: it is turned over about the long axis."""


def _end(order: Order) -> float:
    """Width of a cap's ends, mm."""
    return order.B.value + 2 * order.thickness


PARAMETERS: tuple[Parameter, ...] = (
    *(parameter for parameter in joint.PARAMETERS if parameter.name != "lap_side"),
    CLEARANCE,
    length(
        "cap_lap",
        "Length of the caps' laps, glued or stapled outside on their ends.",
        lambda order: min(35.0, max(12.0 + order.thickness, 0.4 * _end(order)), 0.45 * _end(order)),
        lambda order: min(10.0 + order.thickness, 0.45 * _end(order)),
        lambda order: 0.45 * _end(order),
        why="a lap needs 10 mm to be glued, and two of them share an end",
    ),
    choice(
        "flutes",
        "Which way the flutes (or the grain) run in the tube.",
        {"vertical": "along H, to carry the stack", "horizontal": "round the box"},
        "vertical",
        source="flutes of a tube run along H: trade association",
    ),
)


def build(order: Order) -> Design:
    """Tube and cap; the cap stands twice, below as it is drawn and above turned over."""
    t, depth = order.thickness, _depth(order)
    order.need("B", 4 * t + 20.0, "the caps' ends need room for two laps")
    tube_order = Part(order, "tube", order.L, order.B, order.H, {"lap_side": "inside"})
    tube = Tube(tube_order, End(top=False), End(top=True))
    clear = Quantity.named("clearance", order.number("clearance"))
    (long, broad), (x, y), tall = inside_of(tube), low_corner(tube), tube.crease_size[2]
    # Laps outside: nothing in the cap rubs on the tube.
    fixed: dict[str, Value] = {"lap_side": "outside", "lap_on": "L", "lap_width": order.number("cap_lap")}
    fixed |= {"joint": "stitched" if order.choice("joint") == "stitched" else "glued", "flutes": "B"}
    outside = Quantity.named("tube outside L", long + 2 * t), Quantity.named("tube outside B", broad + 2 * t)
    cap = GluedTray(Part(order, "cap", outside[0] + clear, outside[1] + clear, depth, fixed, laps("outside")))
    sheet, cap_sheet = Sheet("tube", flutes="y" if order.choice("flutes") == "vertical" else "x"), Sheet("cap")
    tube.lay(sheet)
    cap.lay(cap_sheet)
    play = (cap.between[0] - long - 2 * t) / 2, (cap.between[1] - broad - 2 * t) / 2
    middle = x + long / 2, y + broad / 2
    below = Stand((0.0, 0.0), (*middle, -t / 2), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    above = Stand((0.0, 0.0), (*middle, tall + t / 2), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    off = depth.value + t
    return Design(
        style=order.style,
        pieces=(
            Piece(blank=sheet.blank(), stand=tube.stand),
            Piece(blank=cap_sheet.blank(), stand=below, more=(above,), count=2),
        ),
        inside=order.inside,
        crease=Size(long + t, broad + t, tall),
        sizes=tuple(order.ledger.lines),
        closed=(Closed(Face.BOTTOM), Closed(Face.TOP), *closed_walls(tube)),
        stretch=tube.stretch,
        facts={"gap between the caps": tall - 2 * (cap.tall - t / 2)},
        states=(flat_state(tube, "tube"),),
        motions=(cap.put_up("cap"),),
        gauges=tuple(_gauges(tube, cap, play)),
        slides=(
            Slide(name="set the tube into the lower cap", piece="cap 1", start=(0.0, 0.0, -off), samples=4),
            Slide(name="put the upper cap over the tube", piece="cap 2", start=(0.0, 0.0, off), samples=4),
        ),
        words=("Open the tube, set it into one cap, fill it, put the other cap on and strap it.",),
    )


def _depth(order: Order) -> Quantity:
    """Inside depth of a cap, h; the two caps do not meet.

    Raises:
        SizeError: With the limit and its reason.
    """
    depth, least = order.inside.fourth or 0.0, 10.0 + order.thickness
    most = (order.H.value - _APART) / 2
    order.need("H", 2 * least + _APART, "two caps must not meet, and each must be deep enough to be folded")
    where, what = "size, fourth size (h)", f"{format_mm(depth)} mm"
    if depth < least - 1e-9:
        raise SizeError(
            where, what, f"it must be at least {format_mm(least)} mm: a lower wall cannot be folded and glued"
        )
    if depth > most + 1e-9:
        must = f"it must be at most {format_mm(most)} mm: the caps must stay {format_mm(_APART)} mm apart"
        raise SizeError(where, what, must)
    return Quantity.named("h", depth)


def _usual_depth(size: Size, t: float) -> float:
    return max(10.0 + t, min(100.0, round(0.3 * size.height, 1), (size.height - _APART) / 2))


def _gauges(tube: Tube, cap: GluedTray, expected: Point) -> list[Gauge]:
    """The clearance between tube and both caps on all four sides."""
    walls = {wall.face: wall.name for wall in tube.walls}
    return [
        Gauge(
            name=f"clearance at the {face.value} of the {where} cap",
            a=f"tube: {walls[face]}",
            b=f"cap {number}: {cap.innermost(turn.get(face, face))}",
            a_inside=False,
            expected=expected[face.axis],
        )
        for number, where, turn in ((1, "lower", {}), (2, "upper", _FLIPPED))
        for face in walls
    ]


STYLES: dict[str, Style] = {
    "0310": Style(
        code="0310",
        title="double cover box",
        group="telescope",
        summary="A four-panel tube without flaps, and two equal tray caps over its ends; the caps do not meet. "
        "Corners of the caps are glued or stapled, the whole is strapped.",
        use="Tall or heavy goods: the tube is set over them on the lower cap, then the upper cap is put on.",
        parameters=PARAMETERS,
        build=build,
        example="400x300x400",
        thickness=(1.0, 9.0),
        long_first=True,
        fourth=FourthSize("h", "depth of the caps, inside", _usual_depth),
        assembly="M",
        source="international fibreboard case code; construction as a box maker and a supplier publish it "
        "(herculeindustrial.com/products/corrugated/fefco, verpackungen.de/info/stuelpschachtel)",
    )
}
