"""Telescopes on tubes: half slotted base and cover (0312, 0320)."""

from __future__ import annotations

import math
from dataclasses import replace

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
    State,
    Style,
    choice,
    format_mm,
    length,
)

from . import joint, slotted
from .end import End
from .part import Part
from .slotted_end import FLAP_SETS, SlottedEnd
from .tube import Tube

__all__ = ["CLEARANCE", "STYLES", "closed_walls", "flat_state", "gauges_between", "inside_of", "low_corner", "moved"]

CLEARANCE = length(
    "clearance",
    "By how much the inside of the outer piece is larger than the outside of the inner one, along L and along B.",
    lambda order: max(2.0, order.house.step / 2),
    lambda order: order.house.step / 2,  # rounding may take that much of it
    lambda order: 6.0 + order.thickness,
    why="with more it rattles and the walls no longer carry each other",
    source="1–3 mm: common practice, no source",
)

_SLOTTED = ("flap_crease", "slot_width", "slot_end", "slot_depth", "flap_gap", "inner_flaps", "flutes")

FLAPS: tuple[Parameter, ...] = (
    choice(
        "joint",
        "How the tubes are closed by their maker; laps lie where base and cover do not rub.",
        {"glued": "a lap, glued", "stitched": "a lap, stitched with wire"},
        "glued",
        source="kinds of joint as published in the case code",
    ),
    *(parameter for parameter in joint.PARAMETERS if parameter.name not in ("joint", "lap_side")),
    *(
        replace(parameter, default="one") if parameter.name == "creases" else parameter
        for parameter in slotted.PARAMETERS
        if parameter.name in ("creases", *_SLOTTED)
    ),
    CLEARANCE,
)
"""Options of the tubes and their flaps, shared by base and cover."""


def moved(stand: Stand, by: tuple[float, float, float]) -> Stand:
    """A stand displaced in the box, mm."""
    x, y, z = (a + b for a, b in zip(stand.origin, by, strict=True))
    return replace(stand, origin=(x, y, z))


def low_corner(tube: Tube) -> Point:
    """Least x and y of a tube's inside as it stands by itself: house sizes and rounding move the corner off 0, mm."""
    root, (along, across, _) = tube.walls[1].face, tube.stretch
    return (
        -along if root in (Face.FRONT, Face.RIGHT) else 0.0,
        -across if root in (Face.BACK, Face.RIGHT) else 0.0,
    )


def inside_of(tube: Tube) -> Point:
    """Inside of a tube along its L and its B panels, as its panels make it, mm."""
    t = tube.order.thickness
    return tube.crease_size[0] - t, tube.crease_size[1] - t


def gauges_between(inner: tuple[str, Tube], outer: tuple[str, Tube], expected: Point) -> tuple[Gauge, ...]:
    """The clearance between the walls of two tubes, one in the other, on all four sides.

    Args:
        inner: Name of the inner piece as it stands in the box, and its tube.
        outer: The outer one.
        expected: Clearance on either side along L, and along B, mm.
    """
    around = {wall.face: wall.name for wall in outer[1].walls}
    return tuple(
        Gauge(
            name=f"clearance at the {wall.face.value}",
            a=f"{inner[0]}: {wall.name}",
            b=f"{outer[0]}: {around[wall.face]}",
            a_inside=False,
            expected=expected[wall.face.axis],
        )
        for wall in inner[1].walls
    )


def flat_state(tube: Tube, piece: str) -> State:
    """A tube as it leaves the gluer; with the lap outside it is the first wall that leans, over the last one."""
    state = replace(tube.glued_flat(), name=f"{piece}, glued flat", piece=piece)
    if not tube.outside:
        return state
    t, first = tube.order.thickness, tube.walls[0]
    lean = math.degrees(math.asin(min(1.0, t / (tube.width[0] - t))))
    return replace(state, bends={**state.bends, first.name: (180.0 - lean, t), tube.walls[3].name: (180.0, t)})


def build(order: Order) -> Design:
    """A half slotted base, and a half slotted cover that slides over it down to the depth h."""
    t = order.thickness
    least = max(order.number("slot_width") - t + 5.0, 3.0)
    order.need("B", least, "the flaps on the B panels must keep 5 mm between their slots")
    order.need("H", _least_depth(order), "the lap must keep 5 mm of its outer edge")
    deep = _depth(order)
    base_order = Part(order, "base", order.L, order.B, order.H, {"lap_side": "inside"})
    base = Tube(base_order, SlottedEnd(base_order, FLAP_SETS["0201"], top=False), End(top=True))
    clear = Quantity.named("clearance", order.number("clearance"))
    (long, broad), (x, y) = inside_of(base), low_corner(base)
    cover_order = Part(
        order,
        "cover",
        Quantity.named("base outside L", long + 2 * t) + clear,
        Quantity.named("base outside B", broad + 2 * t) + clear,
        deep,
        # A lap inside the cover would rub on the base.
        {"lap_side": "outside"},
    )
    cover = Tube(cover_order, End(top=False), SlottedEnd(cover_order, FLAP_SETS["0201"], top=True))
    pieces = tuple(_piece(order, tube, name) for tube, name in ((base, "base"), (cover, "cover")))
    wide, (over_x, over_y) = inside_of(cover), low_corner(cover)
    play = (wide[0] - long - 2 * t) / 2, (wide[1] - broad - 2 * t) / 2
    # It rests on the rim of the base, with the same play on opposite sides.
    rest = order.H.value + base.stretch[2] - deep.value - cover.stretch[2]
    down = moved(cover.stand, (x - t - play[0] - over_x, y - t - play[1] - over_y, rest))
    return Design(
        style=order.style,
        pieces=(pieces[0], replace(pieces[1], stand=down)),
        inside=order.inside,
        crease=Size(*base.crease_size),
        sizes=tuple(order.ledger.lines),
        closed=_closed(base, cover),
        stretch=base.stretch,
        facts=_facts(order, base, cover),
        states=tuple(flat_state(tube, name) for tube, name in ((base, "base"), (cover, "cover"))),
        slides=(Slide(name="slide the cover over the base", piece="cover", start=(0.0, 0.0, deep.value + t)),),
        gauges=gauges_between(("base", base), ("cover", cover), play),
        words=("Close the flaps of base and cover; the cover slides over the base until it rests on its rim.",),
    )


def _piece(order: Order, tube: Tube, name: str) -> Piece:
    sheet = Sheet(name, flutes="y" if order.choice("flutes") == "vertical" else "x")
    tube.lay(sheet)
    return Piece(blank=sheet.blank(), stand=tube.stand)


def _closed(base: Tube, cover: Tube) -> tuple[Closed, ...]:
    """Floor and lid by their flaps, the walls by the base; where slots reach into them, their corners stand open."""
    shut = [end.closed(tube) for end, tube in ((base.ends[0], base), (cover.ends[1], cover))]
    walls = () if base.order.number("slot_depth") else closed_walls(base)
    return (*(one for one in shut if one is not None), *walls)


def closed_walls(tube: Tube) -> tuple[Closed, ...]:
    """The four walls of a tube; rounding may leave its joint a step short of closing."""
    slit = max(abs(miss) for miss in tube.mismatch)
    return tuple(Closed(face, slit) for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT))


def _facts(order: Order, base: Tube, cover: Tube) -> dict[str, float]:
    slot = order.number("slot_width")
    facts = {"slot width": slot, "lap width": base.order.ledger.value("lap width")}
    for end, tube in (("bottom", base), ("top", cover)):
        across, along = tube.crease_size[1], tube.crease_size[0]
        facts[f"{end} outer flap gap"] = across - 2 * tube.order.ledger.value(f"{end} outer flap")
        facts[f"{end} inner flap gap"] = along - 2 * tube.order.ledger.value(f"{end} inner flap")
    return facts


def _least_depth(order: Order) -> float:
    """Height of a tube at which its lap keeps 5 mm of its outer edge, and the walls their creases beside the slots."""
    bevels = 2 * order.number("lap_width") * math.tan(math.radians(order.number("lap_bevel")))
    return max(bevels + 2 * order.number("lap_play") + 5.0, 3.0 + order.number("slot_depth"))


def _depth(order: Order) -> Quantity:
    """Inside depth of the cover: h, or for the full telescope down to the underside of the base."""
    t = order.thickness
    whole = order.H + 2 * order.t
    if order.style == "0320":
        rise = order.quantity("rise")
        order.need("H", _least_depth(order) + rise.value - 2 * t, "the lap of the cover must keep 5 mm of its edge")
        return whole - rise
    h, least = order.inside.fourth or 0.0, _least_depth(order)
    where, what = "size, fourth size (h)", f"{format_mm(h)} mm"
    if h < least - 1e-9:
        raise SizeError(where, what, f"it must be at least {format_mm(least)} mm: the lap must keep 5 mm of its edge")
    if h > whole.value + 1e-9:
        most = format_mm(order.H.value + 2 * t)
        raise SizeError(where, what, f"it must be at most {most} mm: a deeper cover reaches under the base")
    return Quantity.named("h", h)


def _usual_depth(size: Size, t: float) -> float:
    """Two fifths of H, but enough for the lap of a low cover."""
    return max(round(0.4 * size.height, 1), min(35.0 + t, size.height + 2 * t))


def _style(code: str, title: str, summary: str, own: tuple[Parameter, ...], fourth: FourthSize | None) -> Style:
    return Style(
        code=code,
        title=title,
        group="telescope",
        summary=summary,
        use="Tall and heavy goods: the base is filled open, the cover slid over it and strapped.",
        parameters=(*FLAPS, *own),
        build=build,
        example="400x300x250",
        thickness=(1.0, 9.0),
        long_first=True,
        fourth=fourth,
        assembly="MA",
        source="international fibreboard case code; construction as a box maker publishes it "
        "(herculeindustrial.com/products/corrugated/fefco)",
    )


_RISE = length(
    "rise",
    "How far the cover's rim ends above the underside of the base.",
    0.0,
    0.0,
    lambda order: order.H.value / 3,
    why="a cover that reaches over less than two thirds of the base is no full telescope",
)

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        _style(
            "0312",
            "half slotted box with half slotted cover",
            "Two half slotted tubes: the cover, flaps up, slides over the base, flaps down, as deep as h.",
            (),
            FourthSize("h", "depth of the cover, inside", _usual_depth),
        ),
        _style(
            "0320",
            "full telescope half slotted box",
            "Two half slotted tubes: the cover slides over the full depth of the base, which doubles all four walls.",
            (_RISE,),
            None,
        ),
    )
}
