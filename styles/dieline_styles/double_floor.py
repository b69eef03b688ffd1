"""The tray with a double floor (0472): long walls rolled in with a floor half each, held down by the rolled ends."""

from __future__ import annotations

import math

from dieline.style import (
    Closed,
    Design,
    Face,
    Gauge,
    Lock,
    Motion,
    OptionError,
    Order,
    Parameter,
    Piece,
    Point,
    Quantity,
    Sheet,
    Size,
    Step,
    Style,
    length,
    polygon,
    rectangle,
)

from .folder import FLUTES, stand
from .roll_end import (
    TURN,
    Roll,
    flap_locks,
    flap_name,
    frame_of,
    lay_corner_flaps,
    lay_roll,
    roll_steps,
    tab_locks,
    tabs_along,
)
from .roll_options import ROLL, SLOT, flap_outline, flap_rise, need_room

__all__ = ["STYLES"]

_ENDS, _LONGS = (Face.LEFT, Face.RIGHT), (Face.FRONT, Face.BACK)

PARAMETERS: tuple[Parameter, ...] = (
    *(parameter for parameter in ROLL if parameter is not SLOT),
    length(
        "long_spine",
        "Width of the spine over the long walls, between its two creases.",
        lambda order: max(1.3 * order.thickness, min(3.0, 2.0 * order.thickness)),
        lambda order: order.thickness,
        lambda order: 2.0 * order.thickness,
        why="inner and outer wall lie against each other; a wider spine leaves the wall loose",
        source="geometry: one board and play, and 3 mm where it can be, for two creases are hard to make nearer",
    ),
    FLUTES,
)


def build(order: Order) -> Design:
    """Base, long walls with floor halves, rolled ends whose tabs hold the floor."""
    t = order.thickness
    _accept(order)
    spine = order.size("spine width", order.as_set("spine"))
    long_spine = order.size("long spine width", order.as_set("long_spine"))
    over = Quantity.named("spine", spine)
    long = order.size("base length", order.L + 2 * over + order.t)
    deep = order.size("base breadth", order.span(order.B, 0, 0) + 2 * Quantity.named("long spine", long_spine))
    x, y = (order.L.value - long) / 2, (order.B.value - deep) / 2
    high = order.size("outer height", order.H + order.t)
    inside = order.size(
        "inner long wall height", order.H, round_as="outer height"
    )  # from the spine down to the floor half
    corner = x + spine + t / 2, y + long_spine + t / 2
    ends = _ends(order, (x, y), corner[1], (high, inside), spine)
    wall = order.size("long wall length", order.L + 2 * over - order.t, round_as="base length")
    longs = _longs(order, ((order.L.value - wall) / 2, y), corner[0], (high, inside), long_spine)
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    sheet.panel("base", rectangle(x, y, x + long, y + deep), face=Face.BOTTOM, k=1.0)
    for roll in longs:
        lay_roll(sheet, roll)
    _lay_floors(order, sheet, longs, ends[0])
    flap = _lay_flaps(order, sheet, longs, high)
    for end in ends:
        lay_roll(sheet, end)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order, 1.0)),),
        inside=order.inside,
        crease=Size(long, deep, high),
        sizes=tuple(order.ledger.lines),
        closed=tuple(Closed(face) for face in (Face.BOTTOM, *_LONGS, *_ENDS)),
        stretch=(long - 2 * spine - t - order.L.value, deep - 2 * long_spine - t - order.B.value, 0.0),
        # The outer and inner walls end under the spine: it is the spine that makes the rim.
        measures="LB",
        gauges=tuple(
            Gauge(
                name=f"H at the {roll.face.value} rim",
                a="front floor",
                b=roll.names[1],
                a_inside=False,
                b_inside=False,
                expected=inside,
            )
            for roll in (*ends, *longs)
        ),
        locks=(
            *tab_locks(ends, t, "front floor"),
            *flap_locks(ends, [(roll.face, roll.names[0]) for roll in longs], flap, flap_rise(order)),
            *_floor_locks(order, ends, longs),
        ),
        motions=(Motion(steps=tuple(_steps(order, ends, longs)), samples=1),),
        words=(
            "Fold the corner flaps in, turn up and roll in one long wall with its floor half, then the other; roll the "
            "ends over them and press their tabs in beside the floor.",
        ),
    )


def _accept(order: Order) -> None:
    """Refuse what cannot be rolled."""
    need_room(order)
    order.at_most(
        "H", 0.85 * order.B.value, "the long walls must swing in with their floor halves, one after the other"
    )
    if order.number("tabs") % 2:
        raise OptionError(
            "options.tabs", f"{order.number('tabs'):g}", "it must be even: each tab holds one of the two floor halves"
        )


def _ends(order: Order, corner: Point, near: float, heights: tuple[float, float], spine: float) -> list[Roll]:
    """The rolled ends; they stand on the floor halves.

    Args:
        order: The order.
        corner: Where the base creases of left end and front meet, mm.
        near: Where the inside begins along the ends, mm.
        heights: Of the outer walls, and of the spines' middle over the middle of the floor halves, mm.
        spine: Width of the spines, mm.
    """
    x, y = corner
    t, c, wide = order.thickness, order.number("clearance"), order.B.value
    clear = Quantity.named("c", c)
    drop = order.size("inner end length", order.H - order.t / 2 - clear, round_as="outer height")
    tab = order.size("tab length", order.as_set("tab_depth") + clear)
    return [
        Roll(
            face=face,
            frame=frame_of(face, order.L.value - x if face.far else x),
            outer=(y, wide - y),
            rolled=(near + c, wide - near - c),
            inner=(near + c, wide - near - c),
            height=heights[0],
            spine=spine,
            drop=drop,
            tabs=tabs_along(wide, int(order.number("tabs")), order.number("tab_width")),
            tab=tab,
            depth=drop + tab - (heights[1] - t / 2),
            enclosed=spine / t - 1.0,
            stages=(5, 6 + face.far),
        )
        for face in _ENDS
    ]


def _longs(order: Order, corner: Point, near: float, heights: tuple[float, float], spine: float) -> list[Roll]:
    """The rolled long walls, see ``_ends``; they run under the inner ends, which hold their floor halves down."""
    hinge, y = corner
    t, long = order.thickness, order.L.value
    under = t - order.number("clearance")
    return [
        Roll(
            face=face,
            frame=frame_of(face, order.B.value - y if face.far else y),
            outer=(hinge, long - hinge),
            rolled=(near - under, long - near + under),
            inner=(near - under, long - near + under),
            height=heights[0],
            spine=spine,
            drop=heights[1],
            enclosed=spine / t - 1.0,
            stages=(2, 3 + face.far),
        )
        for face in _LONGS
    ]


def _lay_floors(order: Order, sheet: Sheet, longs: list[Roll], end: Roll) -> None:
    """A floor half on each inner long wall, folded the other way, notched at both ends for the tabs."""
    c, t = order.number("clearance"), order.thickness
    near = end.rolled[0] - c  # where the inside begins along B
    gap, between = Quantity.named("c", c), Quantity.named("inside B", order.B.value - 2 * near)
    deep = order.size("floor half", (between + order.t - gap) / 2)
    for roll in longs:
        (a, b), top = roll.inner, roll.height + roll.spine + roll.drop
        left, right = a + t - c, b - t + c  # the inside faces of the inner ends
        foot = top + t / 2 - near
        places = [(p, q) for p, q in end.tabs if q < order.B.value / 2]
        notches = [(foot + p - 0.5, foot + q + 0.5) for p, q in places]
        outline: list[Point] = [(a, top), (b, top)]
        for low, far in notches:
            outline += [(b, low), (right, low), (right, far), (b, far)]
        outline += [(b, top + deep), (a, top + deep)]
        for low, far in reversed(notches):
            outline += [(a, far), (left, far), (left, low), (a, low)]
        name = f"{roll.face.value} floor"
        sheet.panel(name, polygon(outline).placed(roll.frame), face=Face.BOTTOM)
        line = roll.frame.point(a, top), roll.frame.point(b, top)
        sheet.fold(roll.names[2], name, line, angle=-90.0, stage=roll.stages[1])


def _lay_flaps(order: Order, sheet: Sheet, longs: list[Roll], high: float) -> list[Point]:
    """The corner flaps on the outer long walls; returns their outline."""
    flap = flap_outline(order, high - order.thickness / 2 - order.number("clearance"))
    for roll in longs:
        crease = roll.frame.point(0.0, 0.0)[1]
        lay_corner_flaps(sheet, roll.face, roll.outer, crease, flap, roll.names[0])
    return flap


def _floor_locks(order: Order, ends: list[Roll], longs: list[Roll]) -> list[Lock]:
    """Lifted at its free edge, a floor half strikes the inner ends that stand on it."""
    t, c = order.thickness, order.number("clearance")
    turn = math.degrees(math.asin(min(0.5, (c + t / 2) / order.ledger.value("floor half"))))
    opens = {f"{roll.face.value} floor": turn for roll in longs}
    return [
        Lock(
            name=f"{floor} under the {end.names[2]}",
            opens=opens,
            strikes=(floor, end.names[2]),
            catch=t - c,
        )
        for floor in opens
        for end in ends
    ]


def _steps(order: Order, ends: list[Roll], longs: list[Roll]) -> list[Step]:
    """Flaps; one long wall with its floor half after the other; then the ends.

    A floor half is rolled in with its free edge held up by three boards and pressed down then: squarely bent it would
    come in over the other half's edge.
    """
    flaps = [flap_name(roll.face, end.face) for roll in longs for end in ends]
    up = math.degrees(math.asin(min(0.5, 3 * order.thickness / order.ledger.value("floor half"))))
    floors = {roll: f"{roll.face.value} floor" for roll in longs}
    return [
        Step("fold the corner flaps in", dict.fromkeys(flaps, TURN)),
        Step("turn the long walls up", {roll.names[0]: TURN for roll in longs}),
        Step("fold the floor halves back", dict.fromkeys(floors.values(), (-90.0 - up, 0.0))),
        *(
            step
            for roll, floor in floors.items()
            for step in (*roll_steps(roll), Step(f"press the {floor} down", {floor: (-90.0, 0.0)}))
        ),
        Step("turn the ends up", {end.names[0]: TURN for end in ends}),
        *(step for end in ends for step in roll_steps(end)),
    ]


STYLES: dict[str, Style] = {
    "0472": Style(
        code="0472",
        title="tray with double floor",
        group="tray",
        summary="The long walls roll in and carry a floor half each, which double the base; the rolled ends stand on "
        "the floor and lock it. No glue.",
        use="Heavy goods in an open tray: all four walls and the floor are double.",
        parameters=PARAMETERS,
        build=build,
        example="300x200x100",
        thickness=(1.0, 7.5),
        assembly="M",
        source="international fibreboard case code; construction of our own, proved by folding, after a maker's "
        "description (herculeindustrial.com/products/corrugated/fefco)",
    )
}
