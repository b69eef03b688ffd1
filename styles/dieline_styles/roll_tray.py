"""Open trays with rolled ends: 0422 with tabs in the base, 0425 whose ends are held by friction."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    Gauge,
    Motion,
    Order,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Size,
    Step,
    Style,
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
    slots_of,
    tab_locks,
    tabs_along,
)
from .roll_options import ROLL, SLOT, TABS, flap_outline, flap_rise, need_room

__all__ = ["STYLES"]

_ENDS, _WALLS = (Face.LEFT, Face.RIGHT), (Face.FRONT, Face.BACK)


def build(order: Order) -> Design:
    """Base, two walls with corner flaps, two rolled ends."""
    t, tabs = order.thickness, order.style == "0422"
    need_room(order)
    spine = order.size("spine width", order.as_set("spine"))
    over = Quantity.named("spine", spine)
    long = order.size("base length", order.L + 2 * over + order.t)
    deep = order.size("base breadth", order.span(order.B, 0, 0))
    x, y = (order.L.value - long) / 2, (order.B.value - deep) / 2
    ends = _ends(order, x, y, spine, tabs=tabs)
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    slot = order.size("slot width", order.as_set("slot_width")) if tabs else 0.0
    holes = [slot_ for end in ends for slot_ in slots_of(end, t, slot)]
    sheet.panel("base", rectangle(x, y, x + long, y + deep), face=Face.BOTTOM, holes=holes)
    flap = _lay_walls(order, sheet, (y, y + deep), over)
    for end in ends:
        lay_roll(sheet, end)
    high = ends[0].height
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(long, deep, high),
        sizes=tuple(order.ledger.lines),
        closed=tuple(Closed(face) for face in (Face.BOTTOM, *_WALLS, *_ENDS)),
        stretch=(long - 2 * spine - t - order.L.value, deep - t - order.B.value, 0.0),
        # The outer and the inner wall end under the spine: it is the spine that makes the rim.
        measures="LB",
        gauges=tuple(
            Gauge(name=f"H at the {end.face.value} rim", a="base", b=end.names[1], b_inside=False, expected=high)
            for end in ends
        ),
        locks=(
            *(tab_locks(ends, t) if tabs else ()),
            *flap_locks(ends, [(wall, f"{wall.value} wall") for wall in _WALLS], flap, flap_rise(order)),
        ),
        motions=(Motion(steps=tuple(_steps(ends)), samples=1),),
        words=(_WORDS[tabs],),
    )


_WORDS = {
    True: "Fold the corner flaps in and the walls up, turn up one end, roll it over the flaps and press its tabs into "
    "the base; then the other end.",
    False: "Fold the corner flaps in and the walls up, turn up one end and roll it over the flaps down to the base; "
    "then the other end. Friction holds the inner walls.",
}


def _ends(order: Order, x: float, y: float, spine: float, *, tabs: bool) -> list[Roll]:
    """The two rolled ends; their sizes are recorded."""
    t, c, wide = order.thickness, order.number("clearance"), order.B.value
    clear = Quantity.named("c", c)
    high = order.size("end height", order.H)
    ruled = order.H - order.t / 2 - clear if tabs else order.H - order.t / 2
    drop = order.size("inner end length", ruled, round_as="end height")
    tab = order.size("tab length", order.as_set("tab_depth") + clear) if tabs else 0.0
    depth = drop + tab - (high - t / 2) if tabs else 0.0
    near, far = y + t / 2, wide - y - t / 2  # the inside faces of the walls
    play = c if tabs else 0.0
    return [
        Roll(
            face=face,
            frame=frame_of(face, order.L.value - x if face.far else x),
            outer=(y, wide - y),
            rolled=(near + c, far - c),
            inner=(near + play, far - play),
            height=high,
            spine=spine,
            drop=drop,
            tabs=tabs_along(wide, int(order.number("tabs")), order.number("tab_width")) if tabs else (),
            tab=tab,
            depth=depth,
            enclosed=spine / t - 1.0,
            stages=(3, 4 + face.far),
        )
        for face in _ENDS
    ]


def _lay_walls(order: Order, sheet: Sheet, creases: tuple[float, float], spine: Quantity) -> list[Point]:
    """The walls along L with their corner flaps; returns the outline of the flaps."""
    t, c = order.thickness, order.number("clearance")
    long = order.size("wall length", order.L + 2 * spine - order.t, round_as="base length")
    tall = order.size("wall height", order.H + order.t / 2, round_as="end height")
    left = (order.L.value - long) / 2
    hinges = left, left + long
    flap = flap_outline(order, order.H.value - t / 2 - c)
    for wall, y in zip(_WALLS, creases, strict=True):
        name, frame = f"{wall.value} wall", frame_of(wall, y)
        panel = polygon([(hinges[0], 0.0), (hinges[1], 0.0), (hinges[1], tall), (hinges[0], tall)])
        sheet.panel(name, panel.placed(frame), face=wall, role=Role.WALL)
        sheet.fold("base", name, (frame.point(hinges[0], 0.0), frame.point(hinges[1], 0.0)), stage=2)
        lay_corner_flaps(sheet, wall, hinges, y, flap, name)
    return flap


def _steps(ends: list[Roll]) -> list[Step]:
    """Flaps, walls, outer ends; then one end is rolled after the other."""
    flaps = [flap_name(wall, end) for wall in _WALLS for end in _ENDS]
    return [
        Step("fold the corner flaps in", dict.fromkeys(flaps, TURN)),
        Step("fold the walls up", {f"{wall.value} wall": TURN for wall in _WALLS}),
        Step("turn the ends up", {end.names[0]: TURN for end in ends}),
        *(step for end in ends for step in roll_steps(end)),
    ]


_SOURCE = "international fibreboard case code; construction of our own, proved by folding, after a maker's description"

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="0422",
            title="roll-end tray, locked in the base",
            group="tray",
            summary="An unbroken base; the ends roll over the corner flaps of the walls, and two tabs of each inner "
            "end go into slots in the base. No glue.",
            use="Open trays that are put up by hand: produce, parts, shop displays.",
            parameters=(*ROLL, FLUTES),
            build=build,
            example="300x200x60",
            thickness=(1.0, 7.5),
            assembly="M",
            source=f"{_SOURCE} (actionboxinc.com/box_folders.html)",
        ),
        Style(
            code="0425",
            title="open tray with double ends",
            group="tray",
            summary="The ends roll over the corner flaps of the walls and make double beams; the inner ends stand on "
            "the base between the walls and are held by friction.",
            use="Heavy open trays whose ends carry the stack.",
            parameters=(*(p for p in ROLL if p not in (*TABS, SLOT)), FLUTES),
            build=build,
            example="400x300x120",
            thickness=(1.0, 7.5),
            assembly="M",
            source=f"{_SOURCE} (herculeindustrial.com/products/corrugated/fefco)",
        ),
    )
}
