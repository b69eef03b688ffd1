"""The pillow pack: two panels between curved creases; the end flaps are pressed in and bow both panels out."""

from __future__ import annotations

import math
from functools import lru_cache

from dieline.style import (
    Blank,
    Closed,
    Design,
    Gauge,
    Motion,
    Order,
    Parameter,
    Piece,
    Quantity,
    Size,
    Stand,
    State,
    Step,
    Style,
    format_mm,
    length,
    switch,
)

from .pillow_layout import FLAPS, Pack, edge_cut
from .pillow_plan import STRIPS, Arc, angle_for, closed_ratio

__all__ = ["STYLES"]

_MOST = math.atan(math.sin(math.radians(65.0)))
"""The arc's angle to its chord at which the side edges are 65 degrees steep. At 45 degrees, a rise of 0.207 of the
width, they would lie flat together, which board of any thickness cannot."""

_LEAST_EDGE = math.atan(math.sin(math.radians(17.5)))
"""The same at which the side edges open by 35 degrees only: in sharper ones board lies in board beyond the crease."""

_STRAINED = 0.185
"""Rise over width above which the side edges, steeper than 60 degrees, look strained."""

_LEAST_FLAP = 8.0
"""mm. Shallower end flaps do not hold the pack in shape."""


@lru_cache(maxsize=64)
def _angle(rise: float, closed: float) -> float:
    return angle_for(rise, closed, _MOST)


def _arc(order: Order) -> Arc:
    """The arc that gives the closed breadth and the height, before the house has a say."""
    rise = (order.H.value + order.thickness) / 2
    return Arc(2 * rise / math.tan(_angle(rise, order.B.value) / 2), rise)


def _short(order: Order, arc: Arc) -> float:
    """How far a flap's free edge stays short of the other panel's middle, mm: its own board leans across it, too."""
    lean, t = arc.steepness, order.thickness
    return t / 2 * (1.0 + math.sin(lean) ** 2) / math.cos(lean) + order.number("flap_play")


def _relief(order: Order, side: float) -> float:
    """How far flaps keep from the side edges so that their own sides are so long, mm."""
    arc = _arc(order)
    return (_short(order, arc) + side) / (2 * math.tan(arc.angle))


def _lap_back(order: Order) -> float:
    """How far the lap's ends keep from the chords, mm: inside panel 2 it must clear the leaning flap of panel 1."""
    lean, t = _arc(order).steepness, order.thickness
    inward = edge_cut(lean, t) * math.cos(2 * lean) * math.cos(lean) + 1.5 * t * math.sin(lean)
    return t / 2 / math.cos(lean) + max(0.0, inward) * math.tan(lean) + order.number("flap_play")


def _widest_lap(order: Order) -> float:
    """Its ends lean back at 45 degrees and must leave 10 mm; and it lies on a third of the panel at most, mm."""
    long = order.L.value + order.H.value + 2 * order.thickness
    return min((long - 10.0) / 2 - _lap_back(order), _arc(order).width / 3)


def _widest_notch(order: Order) -> float:
    arc = _arc(order)
    return min(0.6 * (2 * arc.rise - _short(order, arc)), arc.width / 6)


PARAMETERS: tuple[Parameter, ...] = (
    length(
        "flap_play",
        "How far the end flaps keep from the panel opposite.",
        0.5,
        0.0,
        lambda order: max(0.5, order.H.value / 5),
        why="the flaps must snap past each other and close the end",
    ),
    length(
        "corner_relief",
        "How far the end flaps keep from the side edges.",
        lambda order: math.ceil(10 * _relief(order, max(1.0, order.thickness))) / 10,
        lambda order: _relief(order, 0.5),
        lambda order: max(_relief(order, 0.5), _arc(order).width / 6),
        why="in the corners board has no room to be folded into board",
    ),
    length(
        "lap_width",
        "Width of the lap from its crease; it is glued inside panel 2.",
        lambda order: min(12.0, _widest_lap(order)),
        lambda order: min(6.0 + order.thickness, _widest_lap(order)),
        _widest_lap,
        why="the lap needs 5 mm to be glued, and its ends lean back",
    ),
    switch("thumb_notch", "A half-round notch in the outer end flaps, to open by."),
    length(
        "thumb_radius",
        "Radius of the thumb notch.",
        lambda order: min(8.0, _widest_notch(order)),
        lambda order: min(4.0, _widest_notch(order)),
        _widest_notch,
        why="the flap must keep its hold",
    ),
)


def build(order: Order) -> Design:
    """Arc, panels and flaps from the closed breadth and the height; drawn with arcs, folded in strips."""
    _accept(order)
    pack = _pack(order)
    model = pack.model()
    arc, t = pack.arc, order.thickness
    middle = STRIPS // 2 + 1
    stand = Stand((0.0, 0.0), (order.L.value / 2, order.B.value / 2, -t / 2), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))
    ratio = arc.rise / arc.width
    edge = f"The side edges stand at {math.degrees(2 * arc.steepness):.0f} degrees"
    strained = (
        f"; over {_STRAINED:g} of the width the rise of the creases strains the board" if ratio > _STRAINED else ""
    )
    return Design(
        style=order.style,
        pieces=(Piece(blank=pack.blank(), stand=stand, model=model),),
        inside=order.inside,
        crease=Size(pack.chord, arc.closed, 2 * arc.rise),
        sizes=tuple(order.ledger.lines),
        closed=tuple(Closed(end, 0.0, _lens(pack, order)) for end, _ in FLAPS),
        facts={"arc radius": arc.radius, "flap depth in the middle": 2 * arc.rise - pack.short},
        measures="",
        states=(_glued_flat(pack),),
        motions=(_motion(pack, model),),
        gauges=(
            Gauge(
                name="height in the middle",
                a=f"panel 1 strip {middle}",
                b=f"panel 2 strip {middle}",
                expected=2 * arc.rise - t,
            ),
            Gauge(
                name="length in the middle",
                a=f"panel 1 left flap strip {middle}",
                b=f"panel 1 right flap strip {middle}",
                expected=pack.chord - 2 * arc.rise - t,
            ),
            *(
                Gauge(
                    name=f"between the flaps at the {end.value}",
                    a=f"panel 1 {end.value} flap strip {middle}",
                    b=f"panel 2 {end.value} flap strip {middle}",
                    a_inside=False,
                    expected=pack.outset - t,
                )
                for end, _ in FLAPS
            ),
        ),
        words=(
            "L and H are clear in the middle, B from side edge to side edge. Ships glued and flat: press the side "
            "edges together, press the inner end flaps in until they snap, then the outer ones.",
            f"{edge}{strained}.",
        ),
    )


def _accept(order: Order) -> None:
    t = order.thickness
    flattest, steepest = (math.tan(angle / 2) / closed_ratio(angle) for angle in (_LEAST_EDGE, _MOST))
    most = math.floor(10 * (steepest * order.B.value - t)) / 10
    order.at_most("H", most, "the side edges must not be steeper than 65 degrees")
    least = math.ceil(10 * (flattest * order.B.value - t)) / 10
    order.need("H", least, "the side edges must open by 35 degrees, or board lies in board there")
    short = _short(order, _arc(order))
    order.need("H", _LEAST_FLAP + short - t, f"the end flaps need {_LEAST_FLAP:g} mm")
    order.need("B", 4 * order.number("corner_relief") + 10.0, "the end flaps need their width between the corners")
    order.need("L", 2 * (6.0 + t + _lap_back(order)) + 10.0 - order.H.value, "the lap needs its length")


def _pack(order: Order) -> Pack:
    t = order.thickness
    plain = _arc(order)
    rise = order.size("arc rise", (order.H + order.t) / 2)
    closed = f"{order.B.text} opened out over the rise {format_mm(rise)}"
    # What the house adds to rise or width changes the arc, and with it the closed breadth.
    arc = Arc(order.size("panel width", Quantity(plain.width, closed)), rise)
    chord = order.size("chord to chord", order.L + 2 * Quantity.named("arc rise", rise) + order.t)
    outset = order.size("arc outset of panel 2", order.t / math.cos(arc.steepness))
    short = order.size("flap shortfall", _short(order, arc))
    give = (order.board.give if order.house.give is None else order.house.give) * t
    return Pack(
        arc=arc,
        chord=chord,
        outset=outset,
        short=short,
        relief=order.size("corner relief", order.as_set("corner_relief")),
        lap=order.size("lap width", order.as_set("lap_width")),
        lap_back=_lap_back(order),
        notch=order.number("thumb_radius") if order.flag("thumb_notch") else 0.0,
        t=t,
        give=give,
    )


def _lens(pack: Pack, order: Order) -> tuple[tuple[float, float], ...]:
    """The end as it must be shut, in y and z of the box: between the panels, but for the reliefs of the corners."""
    arc, t = pack.arc, order.thickness
    y = order.B.value / 2 - sum(_closed_widths(arc)) / 2
    points = []
    for (s, height), wide in zip(arc.corners, (*_closed_widths(arc), 0.0), strict=True):
        inner = height - t / 2 / math.cos(arc.steepness)
        if abs(s) < arc.width / 2 - pack.relief and inner > 0.0:
            points.append((y, inner))
        y += wide
    zero = arc.rise - t / 2
    return (*((y, zero - z) for y, z in points), *((y, zero + z) for y, z in points[::-1]))


def _closed_widths(arc: Arc) -> list[float]:
    return [
        (q[0] - p[0]) * math.cos(math.radians(lean))
        for p, q, lean in zip(arc.corners, arc.corners[1:], arc.leans, strict=False)
    ]


def _glued_flat(pack: Pack) -> State:
    """Both panels flat, the lap folded in between them; panel 2 leans over it."""
    lean = math.degrees(math.asin(pack.t / (pack.arc.width - pack.cut - pack.lap)))
    bends = {"panel 2 strip 1": (180.0 - lean, pack.t), "lap strip 1": (180.0, pack.t)}
    return State(name="glued flat", bends=bends, rest="flat")


def _motion(pack: Pack, model: Blank) -> Motion:
    """With both panels bowed, the flaps are pressed in, each strip about its own crease.

    In truth a flap snaps: between flat and pressed in there is no shape that it could have without being bent.
    """
    start = {fold.child: (fold.angle, fold.shift) for fold in model.folds if "flap" not in fold.child}
    steps = []
    for panel, name in ((1, "inner"), (2, "outer")):
        bends = {strip: (pack.arc.folds[k], 0.0) for end, _ in FLAPS for strip, k in pack.flap_strips(panel, end)}
        steps.append(Step(f"press the {name} flaps in", bends))
    return Motion(start=start, steps=tuple(steps), samples=1)


STYLES: dict[str, Style] = {
    "pillow-pack": Style(
        code="pillow-pack",
        title="pillow pack",
        group="pillow",
        summary="Two panels joined at their sides, their ends creased along arcs; pressing the end flaps in bows "
        "both panels out and shuts the pack without glue. Leaves the gluer flat.",
        use="Gift and sample packs: scarves, jewellery, sachets, sweets.",
        parameters=PARAMETERS,
        build=build,
        example="150x90x24",
        thickness=(0.3, 1.0),
        source="construction of our own: a cylinder folded along a plane curve, the end flap its mirror image, "
        "exact for thin board; proved by folding in strips",
    )
}
