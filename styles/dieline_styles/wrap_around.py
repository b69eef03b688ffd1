"""The wrap-around case (0406): closed round the goods along L, its ends shut by minor and major flaps."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import (
    Closed,
    Design,
    Face,
    Joint,
    JointKind,
    Motion,
    Order,
    Parameter,
    Piece,
    Quantity,
    Role,
    Sheet,
    Size,
    Step,
    Style,
    choice,
    length,
    polygon,
)

from .column import Row, lay_end_flaps, lay_row
from .folder import CLEARANCE, FLUTES, longest_apart, meeting, stand

__all__ = ["STYLES"]

_KNIVES = 3.0
"""mm. What is cut off beside a raw edge must be wide enough to be cut and stripped."""


def _outer(order: Order) -> float:
    """The side of the end face that the outer flaps meet across, mm."""
    return order.H.value if order.choice("outer_flaps") == "bottom" else order.B.value


def _inner(order: Order) -> float:
    """The side of the end face that the inner flaps reach along, mm."""
    return order.B.value if order.choice("outer_flaps") == "bottom" else order.H.value


def _longest_inner(order: Order) -> float:
    """Inner flaps must not meet."""
    return longest_apart(_inner(order), order.thickness)


def _shortest_inner(order: Order) -> float:
    return min(10.0 + order.thickness, _longest_inner(order))


def _usual_lap(order: Order) -> float:
    usual = 15.0 if not order.board.corrugated else 40.0 if order.board.wall != "single" else 35.0
    return max(5.0 + order.thickness, min(usual, math.floor(0.8 * order.H.value)))


PARAMETERS: tuple[Parameter, ...] = (
    CLEARANCE,
    choice(
        "outer_flaps",
        "Which end flaps are folded last and meet.",
        {"bottom": "those on bottom and top", "sides": "those on front and back"},
        lambda order: "bottom" if order.B.value >= order.H.value else "sides",
    ),
    length(
        "flap_gap",
        "Gap left between outer flaps that meet.",
        0.0,
        0.0,
        lambda order: 0.25 * _outer(order),
        why="wider, the flaps would no longer close the ends",
        source="at most 3 mm when taped, 6 mm when meant: trade page",
    ),
    length(
        "inner_flap",
        "Length of the inner flaps.",
        lambda order: max(_shortest_inner(order), min((_outer(order) + order.thickness) / 2, _longest_inner(order))),
        lambda order: _shortest_inner(order),
        _longest_inner,
        why="a shorter flap is hard to fold and to glue, and longer ones collide",
        source="as long as the outer ones, half of the shorter side of the end face: trade practice",
    ),
    length(
        "slot_width",
        "Width of the slots between flaps.",
        lambda order: max(order.thickness + 2 * order.number("clearance"), 3.0),
        lambda order: order.thickness + 2 * order.number("clearance"),
        lambda order: max(order.thickness + 2 * order.number("clearance"), 10.0, 2 * order.thickness),
        why="the inner flaps must go down between the walls; wide slots leave the corners open",
        source="4–10 mm GOST 9142-2014; cut with a die it may be narrower",
    ),
    length(
        "lap_width",
        "Width of the lap from its crease; it is glued outside the front.",
        _usual_lap,
        lambda order: 5.0 + order.thickness,
        lambda order: order.H.value,
        why="the lap needs 5 mm to be glued, and the wall that it lies on ends at H",
        source="30–35 mm glued: trade pages; 20–50 mm GOST 9142-2014",
    ),
    FLUTES,
)


@dataclass(frozen=True, slots=True)
class _Ends:
    """What an end flap needs to know.

    Attributes:
        side: Boards between the flaps on the two sides and the goods.
        flat: Boards between the flaps on bottom and top and the goods.
        slot: Slot width, mm.
        outer: Length of the outer flaps, mm.
        inner: Length of the inner flaps, mm.
    """

    side: int
    flat: int
    slot: float
    outer: float
    inner: float


def _ends(order: Order) -> _Ends:
    flat = 1 if order.choice("outer_flaps") == "bottom" else 0
    across = order.H if flat else order.B
    outer = meeting(order, "outer flap", (across + order.t - order.quantity("flap_gap")) / 2)
    inner = order.size("inner flap", order.as_set("inner_flap"))
    return _Ends(1 - flat, flat, order.size("slot width", order.as_set("slot_width")), outer, inner)


def build(order: Order) -> Design:
    """Bottom, two sides, top and lap in line; a flap at both ends of each panel but the lap."""
    t, play = order.thickness, order.number("clearance")
    least = order.number("slot_width") - t + 10.0
    order.need("B", least, "the flaps on bottom and top need 10 mm between their slots")
    order.need("H", least, "the flaps on the sides need 10 mm between their slots")
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    ends, rows = _ends(order), _rows(order)
    _lay(order, sheet, rows, ends)
    bottom, back = rows["bottom"], rows["back"]
    gap = (back.height if ends.flat else bottom.height) - 2 * ends.outer
    open_corner = max(0.0, (ends.slot - t) / 2, gap)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(min(bottom.length, back.length), bottom.height, back.height),
        sizes=tuple(order.ledger.lines),
        closed=(
            Closed(Face.BOTTOM),
            Closed(Face.TOP),
            Closed(Face.BACK),
            Closed(Face.FRONT, play),
            Closed(Face.LEFT, open_corner),
            Closed(Face.RIGHT, open_corner),
        ),
        stretch=(
            back.length - (2 * ends.side + 1) * t - order.L.value,
            bottom.height - t - order.B.value,
            back.height - t - order.H.value,
        ),
        facts={"lap width": order.ledger.value("lap width"), "end flap gap": gap},
        motions=(_motion(order, ends, gap),),
        words=("Closed round the goods: sides up, top over, lap glued to the front; then the end flaps.",),
    )


def _rows(order: Order) -> dict[str, Row]:
    """The panels in line, from the raw edge of the front up to the back edge of the top."""
    t = order.thickness
    flat = order.choice("outer_flaps") == "bottom"
    names = ("bottom length", "side length") if flat else ("side length", "bottom length")
    far = order.size(names[0], order.span(order.L, 1, 1))
    near = order.size(names[1], order.span(order.L, 0, 0), round_as=names[0])
    long, side = (far, near) if flat else (near, far)
    middle = order.L.value / 2
    deep = order.size("bottom breadth", order.span(order.B, 0, 0))
    bottom = Row("bottom", middle - long / 2, middle + long / 2, -t / 2, -t / 2 + deep)
    back = bottom.above("back", side, order.size("back height", order.span(order.H, 0, 0)))
    clear = Quantity.named("c", order.number("clearance"))
    front = order.size("front height", order.H + order.t / 2 - clear, round_as="back height")
    # The top reaches over the front as far as the lap.
    top = back.above("top", long, order.size("top breadth", order.span(order.B, 1, 0), round_as="bottom breadth"))
    return {"bottom": bottom, "front": bottom.below("front", side, front), "back": back, "top": top}


def _lay(order: Order, sheet: Sheet, rows: dict[str, Row], ends: _Ends) -> None:
    t, half = order.thickness, ends.slot / 2
    bottom = rows["bottom"]
    # The front's raw edge lies half a board and the play under the top's middle, the lap's crease a board before it.
    rim = half - t / 2 - order.number("clearance")
    rim = rim if rim > _KNIVES / 2 else 0.0
    backs = {"bottom": (half, half), "front": (rim, half), "back": (half, half), "top": (half, half + t)}
    more = abs(bottom.length - rows["back"].length) / 2  # what is longer ends beside the slots where the rest ends
    over = {name: more if ends.flat == int(name in ("bottom", "top")) else 0.0 for name in rows}
    places = {
        "bottom": (None, Face.BOTTOM, 1),
        "front": (bottom, Face.FRONT, 1),
        "back": (bottom, Face.BACK, 1),
        "top": (rows["back"], Face.TOP, 3),
    }
    for name, (on, face, stage) in places.items():
        low, high = backs[name]
        cut = (over[name], low), (over[name], high)
        lay_row(sheet, rows[name], on, face, stage=stage, backs=cut)
    _lay_lap(order, sheet, rows)
    for name, row in rows.items():
        flat = name in ("bottom", "top")
        outer = ends.flat == int(flat)
        reach = ends.outer if outer else ends.inner
        lay_end_flaps(sheet, row, backs[name], reach, k=int(outer), stage=6 if outer else 5)


def _lay_lap(order: Order, sheet: Sheet, rows: dict[str, Row]) -> None:
    """The lap on the top, down outside the front, and its glue."""
    top, front, t = rows["top"], rows["front"], order.thickness
    wide = order.size("lap width", order.as_set("lap_width"))
    lean = min(wide * math.tan(math.radians(15.0)), front.length / 4)
    x0, x1 = front.x0 + min(t, front.length / 8), front.x1 - min(t, front.length / 8)
    x0, x1 = max(x0, top.x0), min(x1, top.x1)
    y = top.y1
    sheet.panel(
        "lap",
        polygon([(x0, y), (x1, y), (x1 - lean, y + wide), (x0 + lean, y + wide)]),
        face=Face.FRONT,
        k=1.0,
        role=Role.LAP,
    )
    sheet.fold("top", "lap", ((x0, y), (x1, y)), stage=4)
    edge = min(2.0, wide / 10)
    low = y + t / 2 + order.number("clearance") + edge  # first it passes the top's own edge and the play
    zone = [
        (x0 + edge, low),
        (x1 - edge, low),
        (x1 - lean - edge, y + wide - edge),
        (x0 + lean + edge, y + wide - edge),
    ]
    sheet.join(Joint(kind=JointKind.GLUED, a="lap", b="front", zone=polygon(zone), a_inside=True, b_inside=False))


def _motion(order: Order, ends: _Ends, gap: float) -> Motion:
    """Round the goods, then the ends; outer flaps that all but touch press past each other as they close."""
    turn = (90.0, 0.0)
    flaps = {
        name: tuple(f"{name} flap {place}" for place in ("left", "right"))
        for name in ("bottom", "top", "front", "back")
    }
    outer, inner = (("bottom", "top"), ("front", "back")) if ends.flat else (("front", "back"), ("bottom", "top"))
    across = order.H.value if ends.flat else order.B.value
    tight = zip(flaps[outer[0]], flaps[outer[1]], strict=True) if gap < order.thickness**2 / across else ()
    return Motion(
        steps=(
            Step("fold up the sides", {"front": turn, "back": turn}),
            Step("fold the top over", {"top": turn}),
            Step("press the lap on", {"lap": turn}),
            Step("fold the inner flaps in", dict.fromkeys((*flaps[inner[0]], *flaps[inner[1]]), turn)),
            Step("fold the outer flaps in", dict.fromkeys((*flaps[outer[0]], *flaps[outer[1]]), turn)),
        ),
        free=tuple(tight),
    )


STYLES: dict[str, Style] = {
    "0406": Style(
        code="0406",
        title="wrap-around case",
        group="folder",
        summary="Bottom, sides and top in one strip, closed round the goods with a lap glued outside the front; the "
        "ends are shut by inner and outer flaps.",
        use="Bottles, cans, cartons that are packed by machine: the blank is fed flat and glued round the load.",
        parameters=PARAMETERS,
        build=build,
        example="355x205x120",
        thickness=(0.5, 9.0),
        assembly="A",
        source="international fibreboard case code; construction as box makers publish it "
        "(actionboxinc.com/box_folders.html, ipack.com/styles-of-shipping-boxes-explained)",
    )
}
