"""One-piece folders: a base with four walls, the two long ones carrying covers that meet on top (0401, 0402)."""

from __future__ import annotations

import math
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
    Stand,
    Step,
    Style,
    choice,
    format_mm,
    length,
    rectangle,
)

from .edge import Edge, beyond, hung, shortened

__all__ = ["CLEARANCE", "FLAP_GAP", "FLUTES", "STYLES", "Base", "lay_base", "longest_apart", "meeting", "stand"]

CLEARANCE = length(
    "clearance",
    "Play of each edge that goes down between two walls.",
    lambda order: max(0.5, round(0.15 * order.thickness, 2)),
    0.0,
    lambda order: 0.5 + 0.3 * order.thickness,
    why="with more the corners stand open",
)

FLAP_GAP = length(
    "flap_gap",
    "Gap left between flaps that meet.",
    lambda order: max(0.5, round(0.15 * order.thickness, 2)),
    0.0,
    lambda order: 0.25 * order.B.value,
    why="wider, they would no longer close the box",
    source="at most 3 mm when taped, 6 mm when meant: trade page",
)

FLUTES = choice(
    "flutes",
    "Which way the flutes (or the grain) run in the base.",
    {"L": "along L", "B": "along B"},
    "B",
)

_SHORT = 60.0
"""mm. Inner flaps of 2 to 3 in (50 to 75 mm) are usual in the US. Source: box maker, actionboxinc.com."""


@dataclass(frozen=True, slots=True)
class Base:
    """The panel that the box stands on, as laid out: blank x and y are the box's own x and y.

    Attributes:
        length: Crease to crease along L, mm.
        breadth: Crease to crease along B, mm.
        front: Its front edge; this and the others walked counter-clockwise.
        right: Its right edge.
        back: Its back edge.
        left: Its left edge.
    """

    length: float
    breadth: float
    front: Edge
    right: Edge
    back: Edge
    left: Edge


def lay_base(sheet: Sheet, corner: Point, length_: float, breadth: float, name: str = "base") -> Base:
    """Lay the base, the root of the blank; ``corner`` is where its front left corner lies in box and blank, mm."""
    (x, y), right, back = corner, corner[0] + length_, corner[1] + breadth
    sheet.panel(name, rectangle(x, y, right, back), face=Face.BOTTOM)
    a, b, c, d = (x, y), (right, y), (right, back), (x, back)
    return Base(length_, breadth, (a, b), (b, c), (c, d), (d, a))


def meeting(order: Order, name: str, ruled: Quantity) -> float:
    """Record the length of a flap that meets its like: a plant that rounds must round it down, or the two collide."""
    step = order.house.step
    if step:
        down = math.floor(ruled.value / step + 1e-9) * step
        if down < ruled.value - 1e-9:
            ruled = Quantity(down, f"{ruled.text}, down from {format_mm(ruled.value, 3)} so that they do not collide")
    return order.size(name, ruled)


def longest_apart(across: float, t: float) -> float:
    """Longest flap that does not meet its like across an opening, nor press past it as both swing in, mm.

    The raw edge of a flap stands out farthest just before it lies level, by t² / (4 × the opening, crease to crease).

    Args:
        across: Inside breadth of the opening, mm.
        t: Board thickness, mm.
    """
    return (across + t) / 2 - max(0.5, t**2 / (4 * (across + t)) + 0.05)


def stand(order: Order, k: float = 0.0) -> Stand:
    """A base seen from inside, ``k`` boards under the inside space, blank and box with the same x and y."""
    return Stand((0.0, 0.0), (0.0, 0.0, -(k + 0.5) * order.thickness), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def _longest_inner(order: Order) -> float:
    """Inner flaps that meet in the middle."""
    return (order.L.value + order.thickness - order.number("flap_gap")) / 2


PARAMETERS: tuple[Parameter, ...] = (FLAP_GAP, CLEARANCE, FLUTES)

INNER: tuple[Parameter, ...] = (
    choice(
        "inner_flaps",
        "How far the flaps on the end walls reach under the covers.",
        {"short": "a short way, as inner_flap says", "full": "until they meet: a full double top"},
        "short",
        source="makers differ: short ones (US practice) and full ones are both sold under this number",
    ),
    length(
        "inner_flap",
        "Length of short inner flaps.",
        lambda order: min(_SHORT, round(0.4 * order.L.value, 1)),
        lambda order: min(10.0 + order.thickness, _longest_inner(order)),
        _longest_inner,
        why="a shorter flap is hard to fold, and longer ones collide",
        source="2 to 3 in: box maker, actionboxinc.com/box_folders.html",
    ),
)


def build(order: Order) -> Design:
    """Base, two end walls (with inner flaps, or none) and two side walls with the covers."""
    t, flush = order.thickness, order.style == "0402"
    play = order.number("clearance")
    order.need("B", 2 * play + 3 * t + 10.0, "the end walls go up between the sides, and the covers fold down on them")
    order.need("H", 2 * t + 5.0, "a lower wall cannot be folded")
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    base = lay_base(
        sheet,
        (-t / 2, -t / 2),
        order.size("base length", order.span(order.L, 0, 0)),
        order.size("base breadth", order.span(order.B, 0, 0)),
    )
    tall = _lay_ends(order, sheet, base, play, flush=flush)
    side = _lay_sides(order, sheet, base, flush=flush)
    gap = base.breadth - 2 * order.ledger.value("cover width")
    inside_h = side - t if flush else tall - t
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(base.length, base.breadth, side),
        sizes=tuple(order.ledger.lines),
        closed=(
            Closed(Face.BOTTOM),
            Closed(Face.FRONT),
            Closed(Face.BACK),
            Closed(Face.LEFT, play),
            Closed(Face.RIGHT, play),
            Closed(Face.TOP, gap),
        ),
        stretch=(base.length - t - order.L.value, base.breadth - t - order.B.value, inside_h - order.H.value),
        facts={"cover gap": gap},
        motions=(_motion(order, base, gap, flush=flush),),
        words=(_WORDS[flush],),
    )


_WORDS = {
    False: "Lay the goods on the base; fold up ends and sides, fold the inner flaps in, close the covers, tape them.",
    True: "Lay the goods on the base; fold up ends and sides, close the covers, tape them to each other and the ends.",
}


def _lay_ends(order: Order, sheet: Sheet, base: Base, play: float, *, flush: bool) -> float:
    """The end walls, between the sides; returns their height."""
    t = order.thickness
    back = t / 2 + play
    if flush:
        tall = order.size("end height", order.H + order.t / 2)  # crease to raw rim, level with the inside of the covers
        flap = 0.0
    else:
        tall = order.size("end height", order.span(order.H, 0, 0))
        full = (order.L + order.t - order.quantity("flap_gap")) / 2
        asked = full if order.choice("inner_flaps") == "full" else order.as_set("inner_flap")
        flap = meeting(order, "inner flap", asked)
    for face, edge in ((Face.LEFT, base.left), (Face.RIGHT, base.right)):
        crease, wall = shortened(edge, back, back), f"{face.value} end"
        sheet.hang(wall, "base", crease, hung(crease, tall), face=face, role=Role.WALL)
        if not flush:
            rim = beyond(crease, tall)
            sheet.hang(f"{face.value} inner flap", wall, rim, hung(rim, flap), face=Face.TOP, stage=3)
    return tall


def _lay_sides(order: Order, sheet: Sheet, base: Base, *, flush: bool) -> float:
    """The side walls and their covers; returns the side height."""
    over = 0 if flush else 1
    tall = order.size("side height", order.span(order.H, 0, over), round_as="end height")
    wide = meeting(order, "cover width", (order.B + order.t - order.quantity("flap_gap")) / 2)
    for face, edge in ((Face.FRONT, base.front), (Face.BACK, base.back)):
        wall, rim = f"{face.value} side", beyond(edge, tall)
        sheet.hang(wall, "base", edge, hung(edge, tall), face=face, role=Role.WALL, stage=2)
        sheet.hang(f"{face.value} cover", wall, rim, hung(rim, wide), face=Face.TOP, k=over, stage=4)
    return tall


def _motion(order: Order, base: Base, gap: float, *, flush: bool) -> Motion:
    """Ends, sides, inner flaps, covers; covers that all but touch press past each other as they go down."""
    swing = order.thickness**2 / (2 * base.breadth)  # how far a cover's edge stands out before it lies level
    tight: tuple[tuple[str, str], ...] = (("front cover", "back cover"),) if gap < swing else ()
    inner = (order.L.value + order.thickness) - 2 * order.ledger.value("inner flap") if not flush else swing
    if not flush and inner < order.thickness**2 / (2 * base.length):
        tight += (("left inner flap", "right inner flap"),)
    turn = (90.0, 0.0)
    flaps = () if flush else (Step("fold the inner flaps in", dict.fromkeys(_pair("inner flap"), turn)),)
    return Motion(
        steps=(
            Step("fold up the ends", dict.fromkeys(_pair("end"), turn)),
            Step("fold up the sides", {"front side": turn, "back side": turn}),
            *flaps,
            Step("close the covers", {"front cover": turn, "back cover": turn}),
        ),
        free=tight,
    )


def _pair(what: str) -> tuple[str, str]:
    return f"left {what}", f"right {what}"


_SOURCE = (
    "international fibreboard case code; construction as box makers publish it (actionboxinc.com/box_folders.html)"
)

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="0401",
            title="one-piece folder",
            group="folder",
            summary="A base with four walls; the ends carry inner flaps, the sides carry covers that meet on top.",
            use="Books, frames, garments, flat goods that are laid on and wrapped.",
            parameters=(*PARAMETERS, *INNER),
            build=build,
            example="355x205x60",
            thickness=(0.5, 9.0),
            long_first=True,
            assembly="M",
            source=_SOURCE,
        ),
        Style(
            code="0402",
            title="wrap folder with flush top",
            group="folder",
            summary="As 0401 without inner flaps: the covers lie on the raw edges of the ends and meet flush on top.",
            use="Flat goods of exact height: the box shuts only as well as height and board are true.",
            parameters=PARAMETERS,
            build=build,
            example="355x205x60",
            thickness=(0.5, 9.0),
            long_first=True,
            assembly="M",
            source="international fibreboard case code; difference to 0401 as a box maker publishes it "
            "(herculeindustrial.com/products/corrugated/fefco)",
        ),
    )
}
