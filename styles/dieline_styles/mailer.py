"""Mailers: rolled sides locked in the base, a hinged lid, and a tuck in front with ears or without (0427)."""

from __future__ import annotations

from dataclasses import dataclass

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
    rectangle,
)

from .folder import FLUTES, stand
from .hinged_lid import (
    CORNERS,
    LID,
    NOTCH,
    Lid,
    lay_ears,
    lay_lid,
    lid_steps,
    mouth_room,
    notched,
)
from .mailer_ears import EARS, TUCK, WHERE, accept_ears, ear_outline, ears_of, low_flap, pocket, record_ears, tuck_side
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
from .roll_options import ROLL, flap_outline, flap_rise, need_room

__all__ = ["STYLES"]

_ENDS = (Face.LEFT, Face.RIGHT)


PLAIN: tuple[Parameter, ...] = (*ROLL, *LID, TUCK, *CORNERS, *NOTCH, FLUTES)
EARED: tuple[Parameter, ...] = (*ROLL, WHERE, *LID, TUCK, *CORNERS, *EARS, *NOTCH, FLUTES)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """Places of the mailer, in the box's own x and y, mm.

    Attributes:
        ears: ``gap``, ``along`` or ``none``.
        t: Board.
        c: Clearance.
        spine: Width of the spines.
        back_off: From the inside to the inside face of the inner side walls: none, or the room for ears along them.
        left: Base crease of the left side.
        hinge: Corner-flap creases of the left side.
        front: Base crease of the front wall.
        rear: Base crease of the back wall.
        back: Height of the back wall.
        deep: Depth of the lid, crease to crease.
        tuck: Length of the tuck.
    """

    ears: str
    t: float
    c: float
    spine: float
    back_off: float
    left: float
    hinge: float
    front: float
    rear: float
    back: float
    deep: float
    tuck: float


def build(order: Order) -> Design:
    """Base, front and back with corner flaps, rolled sides, lid, tuck and ears."""
    need_room(order)
    plan = _plan(order)
    sides = _sides(order, plan)
    length_ = order.ledger.value("base length")
    slot = order.size("slot width", order.as_set("slot_width"))
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    holes = [hole for side in sides for hole in slots_of(side, plan.t, slot)]
    base = rectangle(plan.left, plan.front, plan.left + length_, plan.rear)
    sheet.panel("base", base, face=Face.BOTTOM, holes=holes)
    flap, risen = _lay_walls(order, sheet, plan)
    for side in sides:
        lay_roll(sheet, side)
    lid = _lid(order, plan)
    middle = order.L.value / 2
    lay_lid(sheet, lid, "back", middle, (7, 8))
    ears = _lay_ears(order, sheet, lid, plan)
    # Where no spine lies (over the ears, and at its ends) the raw rim of the sides stands half a board lower.
    play = plan.back - sides[0].height - plan.t
    over = play + plan.t / 2 if plan.ears == "gap" else max(play, plan.c)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(length_, plan.rear - plan.front, plan.back),
        sizes=tuple(order.ledger.lines),
        closed=tuple(Closed(face, over if face in _ENDS else 0.0) for face in Face),
        stretch=(
            length_ - 2 * plan.spine - plan.t - 2 * plan.back_off - order.L.value,
            plan.deep - plan.t - order.B.value,
            plan.back - plan.t - order.H.value,
        ),
        locks=(
            *tab_locks(sides, plan.t),
            # Front flaps that stay low under an ear have no spine over them.
            *flap_locks(sides, [(Face.FRONT, "front"), (Face.BACK, "back")], flap, flap_rise(order), risen),
        ),
        motions=(Motion(steps=tuple(_steps(sides, lid, plan.c, ears)), samples=1),),
        words=(_WORDS[plan.ears],),
    )


_WORDS = {
    "gap": "Corner flaps in, front and back up, sides up and rolled over them, tabs into the base; bend the ears, push "
    "tuck and ears down inside the front: the ears go into the side walls. Friction holds the lid.",
    "along": "Corner flaps in, front and back up, sides up and rolled over them, tabs into the base; bend the ears and "
    "push the tuck down inside the front, the ears along the sides. Friction holds the lid.",
    "none": "Corner flaps in, front and back up, sides up and rolled over them, tabs into the base; push the tuck down "
    "inside the front. Friction holds the lid.",
}


def _plan(order: Order) -> _Plan:
    """Settle the places; base, lid and tuck are recorded."""
    t, c, ears = order.thickness, order.number("clearance"), ears_of(order)
    accept_ears(order)
    clear = Quantity.named("c", c)
    spine = order.size("spine width", order.as_set("spine"))
    over = 2 * Quantity.named("spine", spine)
    within = order.L + 2 * (order.t + clear) if ears == "along" else order.L
    long = order.size("base length", within + over + order.t)
    broad = order.size("base breadth", order.B + 2 * order.t + clear)
    wall = order.size("wall length", within + over - order.t, round_as="base length")
    deep = order.size("lid depth", order.span(order.B, 0, 0), round_as="base breadth")
    back = order.size("back height", order.span(order.H, 0, 0))
    tuck = order.size("tuck depth", order.as_set("tuck_depth"))
    record_ears(order)
    # From the back wall, which stands on its crease, all else along B is counted.
    rear = order.B.value + t / 2
    return _Plan(
        ears=ears,
        t=t,
        c=c,
        spine=spine,
        back_off=t + c if ears == "along" else 0.0,
        left=(order.L.value - long) / 2,
        hinge=(order.L.value - wall) / 2,
        front=rear - broad,
        rear=rear,
        back=back,
        deep=deep,
        tuck=tuck,
    )


def _sides(order: Order, plan: _Plan) -> list[Roll]:
    """The rolled sides; with ears in the gap their spines end behind the ears."""
    t, c = plan.t, plan.c
    clear, play = Quantity.named("c", c), Quantity.named("lid play", order.number("lid_play"))
    high = order.size("side height", order.H - play, round_as="back height")
    drop = order.size("inner side length", order.H - play - order.t / 2 - clear, round_as="back height")
    tab = order.size("tab length", order.as_set("tab_depth") + clear)
    first = plan.front + t / 2 + c  # a clearance behind the front wall
    into = first
    if plan.ears == "gap":
        tuck = plan.rear - plan.deep  # its middle
        into = tuck + t / 2 + max(c, mouth_room(plan.tuck, plan.deep))
        first = max(into, tuck + order.ledger.value("ear length") + pocket(order))
    last = plan.rear - t / 2 - c
    tabs = tabs_along(order.B.value, int(order.number("tabs")), order.number("tab_width"))
    return [
        Roll(
            face=face,
            frame=frame_of(face, order.L.value - plan.left if face.far else plan.left),
            outer=(plan.front, plan.rear),
            rolled=(first, last),
            inner=(into, last),
            height=high,
            spine=plan.spine,
            drop=drop,
            tabs=tabs,
            tab=tab,
            depth=drop + tab - (high - t / 2),
            k=plan.back_off / t,
            enclosed=plan.spine / t - 1.0,
            stages=(3, 4 + face.far),
        )
        for face in _ENDS
    ]


def _lay_walls(order: Order, sheet: Sheet, plan: _Plan) -> tuple[list[Point], float]:
    """Front and back with their corner flaps; returns the full flap, and from where on the front ones are as high."""
    t, c = plan.t, plan.c
    hinges = plan.hinge, order.L.value - plan.hinge
    tall = order.size("front height", order.H + order.t / 2, round_as="back height")
    flap = flap_outline(order, order.ledger.value("side height") - t / 2 - c)
    back = rectangle(hinges[0], 0.0, hinges[1], plan.back)
    front = notched(order, *hinges, tall)
    for wall, y, panel in ((Face.FRONT, plan.front, front), (Face.BACK, plan.rear, back)):
        frame = frame_of(wall, y)
        sheet.panel(wall.value, panel.placed(frame), face=wall, k=0.0 if wall.far else 1.0 + c / t, role=Role.WALL)
        sheet.fold("base", wall.value, (frame.point(hinges[0], 0.0), frame.point(hinges[1], 0.0)), stage=2)
    lay_corner_flaps(sheet, Face.BACK, hinges, plan.rear, flap, "back")
    low, risen = low_flap(order, flap) if plan.ears == "gap" else (flap, 0.0)
    lay_corner_flaps(sheet, Face.FRONT, hinges, plan.front, low, "front")
    return flap, risen


def _lid(order: Order, plan: _Plan) -> Lid:
    """Lid and tuck; the tuck is as wide as ears and side walls leave it."""
    base = Quantity.named("base", order.ledger.value("base length"))
    wide = order.size("lid length", base + order.t - 2 * order.quantity("lid_inset"))
    left = (order.L.value - wide) / 2
    side = tuck_side(order)
    return Lid(
        crease=plan.rear + plan.back,
        hinge=(plan.hinge, order.L.value - plan.hinge),
        sides=(left, order.L.value - left),
        setback=plan.t / 2,
        deep=plan.deep,
        tuck=side,
        radius=order.number("tuck_radius") if plan.ears == "none" or len(side) > 2 else 0.0,
    )


def _lay_ears(order: Order, sheet: Sheet, lid: Lid, plan: _Plan) -> tuple[str, ...]:
    """Hang the ears, where there are any; returns their names."""
    if plan.ears == "none":
        return ()
    outline, crease = ear_outline(order)
    lay_ears(sheet, lid, outline, order.L.value / 2, crease, inside=plan.ears == "along", stage=6)
    return tuple(f"{face.value} ear" for face in _ENDS)


def _steps(sides: list[Roll], lid: Lid, clear: float, ears: tuple[str, ...]) -> list[Step]:
    """Flaps, front and back, sides up; one side is rolled after the other; ears, tuck and lid."""
    flaps = [flap_name(wall, end) for wall in (Face.FRONT, Face.BACK) for end in _ENDS]
    return [
        Step("fold the corner flaps in", dict.fromkeys(flaps, TURN)),
        Step("fold front and back up", {"front": TURN, "back": TURN}),
        Step("turn the sides up", {side.names[0]: TURN for side in sides}),
        *(step for side in sides for step in roll_steps(side)),
        *lid_steps(lid, clear, ears),
    ]


_SOURCE = "construction of our own, proved by folding"

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="0427",
            title="roll-end mailer with tuck front",
            group="tray",
            summary="The sides roll over the corner flaps and lock in the base; the lid tucks in behind the front, and "
            "its ears go into the double side walls, or along them. No glue; friction holds the lid.",
            use="Mailing and gift boxes that ship flat and are put up by hand.",
            parameters=EARED,
            build=build,
            example="300x200x60",
            thickness=(1.0, 7.5),
            assembly="M",
            source=f"international fibreboard case code; {_SOURCE}, after a maker's description "
            "(actionboxinc.com/box_folders.html)",
        ),
        Style(
            code="roll-end-lid",
            title="roll-end box with hinged lid",
            group="tray",
            summary="The sides roll over the corner flaps and lock in the base; a lid on the back tucks in behind the "
            "front, without ears. No glue; friction holds the lid.",
            use="Boxes opened often: samples, tools, presentation of goods.",
            parameters=PLAIN,
            build=build,
            example="220x160x50",
            thickness=(1.0, 7.5),
            assembly="M",
            source=_SOURCE,
        ),
    )
}
