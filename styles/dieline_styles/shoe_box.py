"""The shoe box (0441): left, right and front roll over and lock in the base, a lid on the back tucks in."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dieline.style import (
    Closed,
    Design,
    Face,
    Motion,
    Order,
    Parameter,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Size,
    Step,
    Style,
    count,
    length,
    rectangle,
)

from .folder import FLUTES, stand
from .hinged_lid import CORNERS, LID, Lid, lay_lid, lid_steps, tuck_limits
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
from .roll_options import LEAST_SLOT, ROLL, SLOT, flap_outline, flap_rise, least_spine, need_room, pull

__all__ = ["STYLES"]

_SIDES = (Face.LEFT, Face.RIGHT)


def _least_front(order: Order) -> float:
    return least_spine(0, order.thickness, order.number("tab_depth"))


def _most_tabs(order: Order) -> float:
    return max(1.0, order.L.value // (order.number("tab_width") + 9.0))


def _pulled(order: Order) -> float:
    """How far the lifted spines hold the inner walls outward: over a single board the spine stands steeper."""
    depth = order.number("tab_depth")
    return max(pull(order.number("spine"), depth), pull(order.number("front_spine"), depth))


PARAMETERS: tuple[Parameter, ...] = (
    *(parameter for parameter in ROLL if parameter is not SLOT),
    length(
        "front_spine",
        "Width of the spine over the front, between its two creases.",
        lambda order: max(1.5 * order.thickness, min(3.0, 2.0 * order.thickness)),
        lambda order: _least_front(order),
        lambda order: 2.0 * order.thickness,
        why="nothing stands in the front but its two boards; a narrower spine does not let the tabs down into their "
        "slots, a wider one leaves the wall loose",
        source="geometry: one board and play, and 3 mm where it can be, for two creases are hard to make nearer",
    ),
    count(
        "front_tabs",
        "How many tabs the inner front has.",
        lambda order: min(max(2.0, order.L.value // 250.0), _most_tabs(order)),
        1,
        lambda order: _most_tabs(order),
        why="tabs must keep 8 mm of board between their slots",
    ),
    length(
        "slot_width",
        "Width of the slots in the base, outward from the inner walls' inside face.",
        lambda order: max(LEAST_SLOT, order.thickness + max(order.number("clearance"), _pulled(order))),
        lambda order: order.thickness + _pulled(order),
        lambda order: max(LEAST_SLOT, 2.5 * order.thickness),
        why="the board must go in while the lifted spine holds it a little outward; wider, the slot meets the crease",
        source="geometry: board, and what the lifted spine pulls it outward",
    ),
    *LID,
    length(
        "tuck_depth",
        "Length of the tuck from its crease.",
        lambda order: max(tuck_limits(order)[0], min(max(round(0.5 * order.H.value, 1), 30.0), tuck_limits(order)[1])),
        lambda order: tuck_limits(order)[0],
        lambda order: tuck_limits(order)[1],
        why="it must reach in 8 mm, keep off the floor, and not be bent over too far to go in",
    ),
    *CORNERS,
    FLUTES,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """Places of the shoe box, in the box's own x and y, mm.

    Attributes:
        spines: Width of the spines over the sides, and over the front.
        left: Base crease of the left side.
        hinges: Corner-flap creases, left and right.
        front: Base crease of the front.
        rear: Base crease of the back wall.
        back: Height of the back wall.
    """

    spines: tuple[float, float]
    left: float
    hinges: tuple[float, float]
    front: float
    rear: float
    back: float


def build(order: Order) -> Design:
    """Base, back wall, three rolled walls, lid and tuck."""
    plan = _plan(order)
    t, long = order.thickness, order.ledger.value("base length")
    rolls = _rolls(order, plan)
    slot = order.size("slot width", order.as_set("slot_width"))
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    holes = [hole for roll in rolls for hole in slots_of(roll, t, slot)]
    base = rectangle(plan.left, plan.front, plan.left + long, plan.rear)
    sheet.panel("base", base, face=Face.BOTTOM, holes=holes)
    (left, right), y = plan.hinges, plan.rear
    sheet.panel("back", rectangle(left, y, right, y + plan.back), face=Face.BACK, role=Role.WALL)
    sheet.fold("base", "back", ((left, y), (right, y)), stage=2)
    for roll in rolls:
        lay_roll(sheet, roll)
    flap = _lay_flaps(order, sheet, plan, rolls[2])
    lid = _lid(order, plan)
    lay_lid(sheet, lid, "back", order.L.value / 2, (7, 8))
    fronts = [(Face.FRONT, rolls[2].names[0]), (Face.BACK, "back")]
    # At the ends of the spines the raw rims under the lid stand half a board lower.
    over = max(order.number("lid_play"), order.number("clearance"))
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(long, plan.rear - plan.front, plan.back),
        sizes=tuple(order.ledger.lines),
        closed=tuple(Closed(face, over if face in (*_SIDES, Face.FRONT) else 0.0) for face in Face),
        stretch=(
            long - 2 * plan.spines[0] - t - order.L.value,
            lid.deep - t - order.B.value,
            plan.back - t - order.H.value,
        ),
        locks=(*tab_locks(rolls, t), *flap_locks(rolls[:2], fronts, flap, flap_rise(order))),
        motions=(Motion(steps=tuple(_steps(order, rolls, lid)), samples=1),),
        words=(
            "Corner flaps in, back and front up, sides up and rolled over the flaps, then the front rolled in between "
            "them, all tabs into the base; push the tuck down inside the front. Friction holds the lid.",
        ),
    )


def _plan(order: Order) -> _Plan:
    """Settle the places; the sizes of base and back are recorded."""
    t = order.thickness
    need_room(order)
    order.need("L", 40.0, "the tabs of the inner front need their width")
    order.need("B", order.H.value + 2 * t, "the inner front must swing in before the back wall, and it is as long as H")
    spine = order.size("spine width", order.as_set("spine"))
    front_spine = order.size("front spine width", order.as_set("front_spine"))
    clear, over = Quantity.named("c", order.number("clearance")), 2 * Quantity.named("spine", spine)
    long = order.size("base length", order.L + over + order.t)
    deep = order.size("base breadth", order.B + 2 * order.t + clear + Quantity.named("front spine", front_spine))
    wall = order.size("wall length", order.L + over - order.t, round_as="base length")
    rear = order.B.value + t / 2  # from the back wall, which stands on its crease, all else along B is counted
    return _Plan(
        spines=(spine, front_spine),
        left=(order.L.value - long) / 2,
        hinges=((order.L.value - wall) / 2, (order.L.value + wall) / 2),
        front=rear - deep,
        rear=rear,
        back=order.size("back height", order.span(order.H, 0, 0)),
    )


def _rolls(order: Order, plan: _Plan) -> list[Roll]:
    """The rolled walls: left, right, front."""
    t, c, long, broad = order.thickness, order.number("clearance"), order.L.value, order.B.value
    clear, play = Quantity.named("c", c), Quantity.named("lid play", order.number("lid_play"))
    high = order.size("wall height", order.H - play, round_as="back height")
    drop = order.size("inner wall height", order.H - play - order.t / 2 - clear, round_as="back height")
    tab = order.size("tab length", order.as_set("tab_depth") + clear)
    run = plan.front + t / 2 + c, plan.rear - t / 2 - c  # a clearance off the walls at both ends
    sides = [
        Roll(
            face=face,
            frame=frame_of(face, long - plan.left if face.far else plan.left),
            outer=(plan.front, plan.rear),
            rolled=run,
            inner=run,
            height=high,
            spine=plan.spines[0],
            drop=drop,
            tabs=tabs_along(broad, int(order.number("tabs")), order.number("tab_width")),
            tab=tab,
            depth=drop + tab - (high - t / 2),
            enclosed=plan.spines[0] / t - 1.0,
            stages=(3, 4 + face.far),
        )
        for face in _SIDES
    ]
    number = int(order.number("front_tabs"))
    near = plan.left + plan.spines[0] + t / 2 + c  # a clearance off the inner sides
    between = near, long - near
    front = replace(
        sides[0],
        face=Face.FRONT,
        frame=frame_of(Face.FRONT, plan.front),
        outer=plan.hinges,
        rolled=between,
        inner=between,
        spine=plan.spines[1],
        tabs=tabs_along(long, number, min(order.number("tab_width"), long / number - 9.0)),
        k=1.0 + c / t,
        enclosed=plan.spines[1] / t - 1.0,
        stages=(2, 6),
    )
    return [*sides, front]


def _lay_flaps(order: Order, sheet: Sheet, plan: _Plan, front: Roll) -> list[Point]:
    """The corner flaps of front and back; returns their outline."""
    flap = flap_outline(order, front.height - order.thickness / 2 - order.number("clearance"))
    lay_corner_flaps(sheet, Face.FRONT, plan.hinges, plan.front, flap, front.names[0])
    lay_corner_flaps(sheet, Face.BACK, plan.hinges, plan.rear, flap, "back")
    return flap


def _lid(order: Order, plan: _Plan) -> Lid:
    """The lid over the spines of the sides, and a tuck that goes down between the inner sides."""
    clear, base = order.quantity("clearance"), Quantity.named("base", order.ledger.value("base length"))
    wide = order.size("lid length", base + order.t - 2 * order.quantity("lid_inset"))
    side = (order.L.value - wide) / 2
    edge = (order.L.value - order.size("tuck width", order.L - 2 * clear, round_as="base length")) / 2
    tuck = order.size("tuck depth", order.as_set("tuck_depth"))
    return Lid(
        crease=plan.rear + plan.back,
        hinge=plan.hinges,
        sides=(side, order.L.value - side),
        setback=order.thickness / 2,
        deep=order.size("lid depth", order.span(order.B, 0, 0), round_as="base breadth"),
        tuck=((edge, 0.0), (edge + order.number("tuck_taper"), tuck)),
        radius=order.number("tuck_radius"),
    )


def _steps(order: Order, rolls: list[Roll], lid: Lid) -> list[Step]:
    """Flaps, back and front, sides up; left, right, and then the front are rolled; tuck and lid."""
    flaps = [flap_name(wall, end) for wall in (Face.FRONT, Face.BACK) for end in _SIDES]
    return [
        Step("fold the corner flaps in", dict.fromkeys(flaps, TURN)),
        Step("fold back and front up", {"back": TURN, rolls[2].names[0]: TURN}),
        Step("turn the sides up", {roll.names[0]: TURN for roll in rolls[:2]}),
        *(step for roll in rolls for step in roll_steps(roll)),
        *lid_steps(lid, order.number("clearance")),
    ]


STYLES: dict[str, Style] = {
    "0441": Style(
        code="0441",
        title="shoe box, self-assembling",
        group="tray",
        summary="Three double walls: left, right and front roll over and lock in the base; a lid on the back tucks in "
        "behind the front. No glue; friction holds the lid.",
        use="Shoes and other goods that are looked into and closed again.",
        parameters=PARAMETERS,
        build=build,
        example="300x200x100",
        thickness=(1.0, 7.5),
        assembly="M",
        source="international fibreboard case code; construction of our own, proved by folding, after a maker's "
        "description (herculeindustrial.com/products/corrugated/fefco)",
    )
}
