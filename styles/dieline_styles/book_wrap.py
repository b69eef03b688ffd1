"""The cross-wrap book mailer (0473): hollow bumpers at both ends, overlapping covers held by a tongue in a slot."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import (
    Closed,
    Design,
    Face,
    Lock,
    Motion,
    Order,
    Parameter,
    Path,
    Piece,
    Sheet,
    Size,
    Step,
    Style,
    angle,
    choice,
    length,
    polygon,
    rectangle,
)

from .bumper import SLOT_PLAY, Bumpers, bumper_locks, bumper_steps, lay_bumpers, tab_slots
from .column import Row, lay_row
from .folder import CLEARANCE, FLUTES, stand

__all__ = ["STYLES"]

_TURN = (90.0, 0.0)
_SAMPLES = 2
"""Positions tested in each step besides its end: the box is put up in nine steps."""


def _tongued(order: Order) -> bool:
    return order.choice("lock") == "tongue"


def _widest_overlap(order: Order) -> float:
    """The inner cover must keep off the back, and the tongue needs its room in front of the outer one."""
    least = 2 * (_tongue_room(order) + 10.0) + 10.0 if _tongued(order) else 14.0
    least = max(least, 60.0 if order.choice("bumper_hold") == "tabs" else 30.0)
    order.need("B", least, "the covers must overlap by 10 mm, and tongue and tabs need their room")
    room = order.B.value - 4.0
    if _tongued(order):
        room = min(room, order.B.value - 2 * (_tongue_room(order) + 10.0))
    return room


def _tongue_room(order: Order) -> float:
    """From the outer cover's edge to the far edge of the slot, or to a short tongue's end, mm."""
    return 2 * order.thickness / math.tan(math.radians(order.number("tongue_slope"))) + 8.0


def _longest_tongue(order: Order) -> float:
    """Its end keeps a board and a millimetre off the front wall."""
    edge = (order.B.value - order.number("overlap")) / 2
    return edge - _tongue_room(order) + 8.0 - order.thickness - 1.0


PARAMETERS: tuple[Parameter, ...] = (
    CLEARANCE,
    length(
        "bumper",
        "Width of the hollow between the two walls of each end.",
        lambda order: max(8.0 + order.thickness, min(25.0, round(0.2 * order.L.value, 1))),
        lambda order: 8.0 + order.thickness,
        lambda order: max(60.0, 0.5 * order.L.value),
        why="a narrower bumper cannot be rolled over, and does not save a corner",
    ),
    choice(
        "bumper_hold",
        "What keeps the inner walls of the bumpers from springing in.",
        {"tabs": "two tabs that stand in slots of the base", "none": "nothing but the goods"},
        "tabs",
    ),
    choice(
        "lock",
        "How the covers are held.",
        {"tongue": "a tongue of the outer cover, put through a slot of the inner one", "none": "by tape"},
        "tongue",
        source="tongue and slot: box maker, herculeindustrial.com/products/corrugated/fefco",
    ),
    angle(
        "tongue_slope",
        "How steeply the tongue goes through the slot.",
        45.0,
        30.0,
        60.0,
        why="flatter, the slot grows wide; steeper, the board breaks where it bends",
    ),
    length(
        "overlap",
        "By how much the covers overlap.",
        lambda order: min(max(40.0, 0.3 * order.B.value), max(_widest_overlap(order), 10.0)),
        10.0,
        _widest_overlap,
        why="less is not held, and more leaves the tongue or the inner cover no room",
    ),
    length(
        "tongue_length",
        "Length of the part of the tongue that lies under the inner cover.",
        lambda order: max(8.0, min(30.0, round(_longest_tongue(order), 1))),
        8.0,
        lambda order: max(8.0, _longest_tongue(order)),
        why="a shorter one slips out, a longer one strikes the front",
    ),
    length(
        "tongue_width",
        "Width of the tongue.",
        lambda order: max(15.0, min(80.0, round(0.35 * order.L.value, 1))),
        15.0,
        lambda order: 0.8 * order.L.value,
        why="a narrower one tears, a wider one weakens the inner cover",
    ),
    FLUTES,
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is worked out once.

    Attributes:
        k: Boards between the inner cover and the goods: one if the tongue lies under it.
        lean: How steeply the neck of the tongue goes down, radians.
        bumpers: The bumpers.
    """

    k: int
    lean: float
    bumpers: Bumpers


def build(order: Order) -> Design:
    """Base with a bumper at each end, two sides, two covers."""
    t, play = order.thickness, order.number("clearance")
    _check(order)
    breadth = order.B.value
    tabs = (breadth / 4, 3 * breadth / 4) if order.choice("bumper_hold") == "tabs" else ()
    overlap = order.size("overlap", order.as_set("overlap"))
    tab = min(40.0, max(10.0, round(0.18 * breadth, 1)))
    k = int(_tongued(order))
    plan = _Plan(k, _lean(order), Bumpers(play, k, tabs, tab))
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    base, front = _lay_wrap(order, sheet, plan)
    lay_bumpers(order, sheet, base, plan.bumpers)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(base.length, base.height, front.height),
        sizes=tuple(order.ledger.lines),
        closed=(
            *(Closed(face) for face in (Face.BOTTOM, Face.FRONT, Face.BACK, Face.TOP)),
            *(Closed(face, play) for face in (Face.LEFT, Face.RIGHT)),
        ),
        stretch=(
            _inside(order, base) - order.L.value,
            base.height - t - breadth,
            front.height - (1 + plan.k) * t - order.H.value,
        ),
        facts={"cover overlap": overlap},
        locks=_locks(order, plan),
        motions=(_motion(order, plan),),
        words=(_words(plan),),
    )


def _lean(order: Order) -> float:
    """The slope at which the neck, as long as it is made, goes down two boards, radians."""
    if not _tongued(order):
        return 0.0
    neck = order.size("tongue neck", 2 * order.t / math.sin(math.radians(order.number("tongue_slope"))))
    return math.asin(min(1.0, 2 * order.thickness / neck))


def _words(plan: _Plan) -> str:
    tabs = " until their tabs snap into the base" if plan.bumpers.tabs else ""
    last = "put the tongue through the slot" if plan.k else "tape them"
    return f"Roll both bumpers in{tabs}; lay the goods in, fold up the sides, close the covers and {last}."


def _check(order: Order) -> None:
    t = order.thickness
    order.need("H", 2 * t + 5.0, "a lower bumper cannot be rolled over")
    order.need("L", 40.0, "the tongue and the two bumpers need it")
    most = 0.95 * order.L.value
    order.at_most("H", most, "a bumper as high as the box is long strikes the other one as it is rolled")


def _inside(order: Order, base: Row) -> float:
    """Length between the inner walls of the two bumpers, mm."""
    return base.length - 2 * order.ledger.value("bumper top") - order.thickness


def _lay_wrap(order: Order, sheet: Sheet, plan: _Plan) -> tuple[Row, Row]:
    """Base, sides and covers in line, and the tongue; returns the base and the front."""
    t, k = order.thickness, plan.k
    bumper, over = order.quantity("bumper"), order.quantity("overlap")
    long = order.size("base length", order.span(order.L, 1, 1) + 2 * bumper)
    order.size("bumper top", bumper + order.t)
    deep = order.size("base breadth", order.span(order.B, 0, 0))
    middle = order.L.value / 2
    base = Row("base", middle - long / 2, middle + long / 2, -t / 2, -t / 2 + deep)
    front = base.below("front", long, order.size("front height", order.span(order.H, 0, k)))
    back = base.above("back", long, order.size("back height", order.span(order.H, 0, k + 1), round_as="front height"))
    wide = order.size("cover width", (order.B + order.t + over) / 2)
    inner, outer = front.below("inner cover", long, wide), back.above("outer cover", long, wide)
    lay_row(sheet, base, None, Face.BOTTOM, holes=tab_slots(order, base, plan.bumpers))
    lay_row(sheet, front, base, Face.FRONT, stage=5)
    # As far from the inner cover's crease as the outer cover's edge comes to lie.
    slot = _tongue_slot(order, inner, plan, deep - wide) if k else ()
    lay_row(sheet, inner, front, Face.TOP, k=k, stage=6, holes=slot)
    lay_row(sheet, back, base, Face.BACK, stage=5)
    lay_row(sheet, outer, back, Face.TOP, k=k + 1, stage=7)
    if k:
        _lay_tongue(order, sheet, outer, plan)
    return base, front


def _tongue_slot(order: Order, cover: Row, plan: _Plan, edge: float) -> tuple[Path, ...]:
    """The slot in the inner cover: as wide as the leaning tongue needs to pass a board."""
    t, lean = order.thickness, plan.lean
    wide = order.size("tongue slot width", t / math.tan(lean) + t / math.sin(lean) + SLOT_PLAY)
    long = order.size("tongue slot length", order.as_set("tongue_width") + 2 * SLOT_PLAY)
    # The middle of the neck is in the middle of the inner cover's board.
    y = cover.y1 - (edge - t / math.tan(lean))
    x = (cover.x0 + cover.x1) / 2
    return (rectangle(x - long / 2, y - wide / 2, x + long / 2, y + wide / 2),)


def _lay_tongue(order: Order, sheet: Sheet, cover: Row, plan: _Plan) -> None:
    """Neck and tongue on the edge of the outer cover; the tongue bends by itself where the slot guides it."""
    lean, neck = math.degrees(plan.lean), order.ledger.value("tongue neck")
    long = order.size("tongue length", order.as_set("tongue_length"))
    half = order.size("tongue width", order.as_set("tongue_width")) / 2
    x, y = (cover.x0 + cover.x1) / 2, cover.y1
    sheet.panel("tongue neck", rectangle(x - half, y, x + half, y + neck))
    sheet.fold("outer cover", "tongue neck", ((x - half, y), (x + half, y)), angle=lean, stage=8)
    foot, tip, cut = y + neck, y + neck + long, min(0.5 * long, 0.4 * half)
    right = [(x + half, foot), (x + half, tip - cut), (x + half - cut, tip)]
    sheet.panel("tongue", polygon([*right, *((2 * x - u, v) for u, v in right[::-1])]), face=Face.TOP)
    bend = ((x - half, foot), (x + half, foot))
    sheet.fold("tongue neck", "tongue", bend, angle=-lean, meaning=None, stage=8)


def _locks(order: Order, plan: _Plan) -> tuple[Lock, ...]:
    """The bumpers' tabs; and the tongue, which strikes the inner cover when the outer one is lifted."""
    tabs = bumper_locks(order, plan.bumpers)
    if not plan.k:
        return tabs
    lifted = math.degrees(0.7 * order.thickness / order.ledger.value("cover width"))
    catch = order.ledger.value("tongue length")
    strikes = ("tongue", "inner cover")
    return (*tabs, Lock(name="tongue", opens={"outer cover": lifted}, strikes=strikes, catch=catch))


def _motion(order: Order, plan: _Plan) -> Motion:
    """The bumpers, then the wrap."""
    steps = [
        *bumper_steps(order, plan.bumpers),
        Step("fold up the sides", {"front": _TURN, "back": _TURN}),
        Step("close the inner cover", {"inner cover": _TURN}),
        Step("close the outer cover", {"outer cover": _TURN}),
    ]
    if not plan.k:
        return Motion(steps=tuple(steps), samples=_SAMPLES)
    lean = math.degrees(plan.lean)
    steps.append(Step("put the tongue through the slot", {"tongue neck": (lean, 0.0), "tongue": (-lean, 0.0)}))
    # The tongue is bent by hand to enter the slot; as a stiff board it would pass through its edge.
    free = (("inner cover", "tongue"), ("inner cover", "tongue neck"))
    return Motion(steps=tuple(steps), free=free, samples=_SAMPLES)


STYLES: dict[str, Style] = {
    "0473": Style(
        code="0473",
        title="cross-wrap book mailer with bumper ends",
        group="folder",
        summary="A base with a hollow bumper rolled up at both ends and two overlapping covers wrapped across; a "
        "tongue of the outer cover goes through a slot of the inner one and lies under it.",
        use="Books, frames, framed plates: corners are kept off every wall by the hollow ends.",
        parameters=PARAMETERS,
        build=build,
        example="300x220x40",
        thickness=(1.0, 9.0),
        assembly="M",
        source="international fibreboard case code; double-creased hollow bumpers, tongue and slot as a box maker "
        "publishes them (herculeindustrial.com/products/corrugated/fefco); dimensions of our own",
    )
}
