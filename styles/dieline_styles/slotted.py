"""Slotted boxes: 0200 to 0206, 0209, and every bottom with every top."""

from __future__ import annotations

import math

from dieline.style import (
    Design,
    FourthSize,
    Order,
    Parameter,
    Piece,
    Sheet,
    Size,
    SizeError,
    Style,
    choice,
    format_mm,
    length,
)

from . import joint, openings
from .slotted_end import FLAP_SETS, FlapSet, OpenEnd, SlottedEnd
from .tube import Tube

__all__ = ["STYLES", "combination"]

_USE = "Shipping case for goods of every kind; made on a slotter or cut with a die."


def _slot_width(order: Order) -> float:
    """The narrowest slot in use that is a millimetre wider than the board; on a small box a tenth of B is enough."""
    t = order.thickness
    usual = next((width for width in (6.0, 9.0) if width >= t + 1.0), float(math.ceil(t + 2.0)))
    return min(usual, max(t + 1.0, 2.5, round(0.1 * order.B.value, 1)), _widest_slot(order))


def _widest_slot(order: Order) -> float:
    """Wider, the corner between two walls would stand open."""
    t = order.thickness
    return max(t, min(order.B.value + t - 5.0, max(20.0, 3 * t)))


def _deepest_slot(order: Order) -> float:
    """A finger's breadth past the crease at the most, and never a fifth of the wall."""
    return order.number("slot_width") / 2 + min(25.0, 0.2 * order.H.value)


def _short_flap(order: Order) -> float:
    """Three tenths of B, but long enough to be folded and short enough not to meet."""
    return max(2 * order.thickness, min(round(0.3 * order.B.value, 1), _longest_short_flap(order)))


def _longest_short_flap(order: Order) -> float:
    t = order.thickness
    order.need("B", 3 * t + 2.0, "two short flaps, each two boards long, must not meet")
    return 0.5 * (order.B.value + t) - 1.0


def _sets(style: str) -> tuple[FlapSet | None, FlapSet | None]:
    """Bottom and top flaps of a code; None where the end is open."""
    if "/" in style:
        bottom, top = style.split("/")
        return FLAP_SETS.get(bottom), FLAP_SETS.get(top)
    if style == "0200":
        return FLAP_SETS["0201"], None
    if style == "0209":
        return FLAP_SETS["0201"], FLAP_SETS["0209"]
    return FLAP_SETS[style], FLAP_SETS[style]


def _has(order: Order, outer: str) -> bool:
    return any(flaps is not None and flaps.outer == outer for flaps in _sets(order.style))


def _default_creases(order: Order) -> str:
    """One line for all flaps where the last flap has room to climb over the first, else offset creases."""
    t, across = order.thickness, order.B.value + order.thickness
    if _has(order, "overlap") and (across - (order.inside.fourth or 0.0)) / 2 < 2 * t:
        return "offset"
    if _has(order, "full") and 3 * t > min(25.0, order.B.value / 3):
        return "offset"
    return "one"


def _least_shortfall(order: Order) -> float:
    """On one line the last flap needs room to climb, unless creases give a board and a half."""
    give = order.board.give if order.house.give is None else order.house.give
    return 2 * order.thickness if order.choice("creases") == "one" and give < 1.5 else 0.0


def _usual_shortfall(order: Order) -> float:
    usual = 3 * order.thickness if order.choice("creases") == "one" else 0.0
    return max(_least_shortfall(order), min(usual, _greatest_shortfall(order)))


def _greatest_shortfall(order: Order) -> float:
    """The flaps must still overlap by a board and a millimetre."""
    return max(0.0, (order.B.value - order.thickness / 2) / 2 - 1.0)


PARAMETERS: tuple[Parameter, ...] = (
    *joint.PARAMETERS,
    choice(
        "creases",
        "Where the flap creases lie.",
        {
            "one": "all flaps on one line, as a rotary slotter makes them",
            "offset": "each flap a board lower than the one it covers, as a die makes them",
        },
        _default_creases,
    ),
    choice("flap_crease", "How the flap folds are made.", joint.folds_of, "crease"),
    length(
        "slot_width",
        "Width of the slots between flaps.",
        _slot_width,
        lambda order: order.thickness,
        _widest_slot,
        why="the inner flaps must go down between the walls and keep 5 mm of width; wide slots leave the corners open",
        source="trade widths 6 and 9 mm; 4–10 mm GOST 9142-2014",
    ),
    choice(
        "slot_end",
        "Shape of the slots' ends.",
        {"square": "square", "round": "half round"},
        "square",
    ),
    length(
        "slot_depth",
        "How far the slots reach past the lower of the two creases beside them.",
        lambda order: order.number("slot_width") / 2 if order.choice("slot_end") == "round" else 0.0,
        lambda order: order.number("slot_width") / 2 if order.choice("slot_end") == "round" else 0.0,
        _deepest_slot,
        why="a round end needs half its width, and past 25 mm or a fifth of H the walls lose their creases",
    ),
    length(
        "flap_gap",
        "Gap left between flaps that meet.",
        0.0,
        0.0,
        lambda order: 0.5 * order.B.value,
        why="wider, the flaps would no longer close the box",
        source="at most 3 mm when taped, 6 mm when meant: trade page",
    ),
    choice(
        "inner_flaps",
        "Inner flaps that would be longer than half of L.",
        {"fit": "cut back until they just meet", "equal": "left as long as the outer ones"},
        "fit",
    ),
    length(
        "shortfall",
        "By how much flaps that overlap fully are shorter than the box is broad.",
        _usual_shortfall,
        _least_shortfall,
        _greatest_shortfall,
        why="on one crease line the last flap must climb over the first; at half of B they no longer overlap",
        source="complete overlap less at most 25 mm: trade page",
    ),
    length(
        "short_flap",
        "Length of the short flaps of 0209.",
        _short_flap,
        lambda order: 2 * order.thickness,
        _longest_short_flap,
        why="short flaps do not meet, and a flap must be long enough to be folded",
    ),
    choice(
        "flutes",
        "Which way the flutes (or the grain) run.",
        {"vertical": "along H, to carry the stack", "horizontal": "round the box"},
        "vertical",
        source="flutes run along H in 02xx: trade association",
    ),
    *openings.PARAMETERS,
)


def build(order: Order) -> Design:
    """A tube with the two flap sets that the code names."""
    t = order.thickness
    least = max(order.number("slot_width") - t + 5.0, 3.0)
    order.need("B", least, "the flaps on the B panels must keep 5 mm between their slots")
    order.need("L", least, "the flaps on the L panels must keep 5 mm between their slots")
    order.need("H", 3.0 + 2 * order.number("slot_depth"), "the walls must keep 3 mm between the slots")
    if _has(order, "overlap"):
        _check_overlap(order)
    ends = [
        OpenEnd(top=top) if flaps is None else SlottedEnd(order, flaps, top=top)
        for flaps, top in zip(_sets(order.style), (False, True), strict=True)
    ]
    tube = Tube(order, ends[0], ends[1])
    sheet = Sheet("body", flutes="y" if order.choice("flutes") == "vertical" else "x")
    tube.lay(sheet, marks=openings.openings(tube))
    slot = order.number("slot_width")
    facts = {"slot width": slot, "joint gap at the flaps": slot} if any(_sets(order.style)) else {}
    if tube.joint != "taped":
        facts["lap width"] = order.ledger.value("lap width")
        lap = next(wall for wall in tube.walls if wall.index == 0)
        facts["lap cut below the crease"] = order.number("lap_play") - lap.low
    for end, flaps in zip(("bottom", "top"), _sets(order.style), strict=True):
        if flaps is None:
            continue
        across, along = tube.crease_size[1], tube.crease_size[0]
        outer, inner = order.ledger.value(f"{end} outer flap"), order.ledger.value(f"{end} inner flap")
        facts[f"{end} outer flap gap"] = across - 2 * outer
        facts[f"{end} inner flap gap"] = along - 2 * inner
    length_, breadth, height = tube.crease_size
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tube.stand),),
        inside=order.inside,
        crease=Size(length_, breadth, height),
        sizes=tuple(order.ledger.lines),
        closed=tuple(shut for end in ends if (shut := end.closed(tube)) is not None),
        stretch=tube.stretch,
        facts=facts,
        hand=tube.hand,
    )


def _check_overlap(order: Order) -> None:
    """Refuse an overlap that is none, or more than the whole opening.

    Raises:
        SizeError: With the limit and its reason.
    """
    overlap, least = order.inside.fourth or 0.0, order.thickness + 1.0
    where, what = "size, fourth size (o)", f"{format_mm(overlap)} mm"
    if overlap > order.B.value:
        must = f"it must be at most B, {format_mm(order.B.value)} mm: flaps cannot overlap more than fully"
        raise SizeError(where, what, must)
    if overlap < least - 1e-9:
        why = "less does not lie on the flap below"
        must = f"it must be at least {format_mm(least)} mm on board {order.board.name}: {why}"
        raise SizeError(where, what, must)


_OVERLAP = FourthSize(
    "o",
    "overlap of the outer flaps",
    lambda size, t: max(min(t + 1.0, size.breadth), min(50.0, round(size.breadth / 4), size.breadth - 3 * t)),
)


_ONLY_FOR = {"shortfall": "full", "short_flap": "short"}
"""Options that speak of one kind of outer flaps only."""


def _style(code: str, title: str, summary: str, *, assembly: str = "MA", source: str = "") -> Style:
    sets = _sets(code)
    return Style(
        code=code,
        title=title,
        group="slotted",
        summary=summary,
        use=_USE,
        parameters=tuple(p for p in PARAMETERS if _ONLY_FOR.get(p.name, "") in ("", *(s.outer for s in sets if s))),
        build=build,
        example="300x200x150",
        long_first=True,
        fourth=_OVERLAP if any(flaps is not None and flaps.outer == "overlap" for flaps in sets) else None,
        assembly=assembly,
        source=source
        or "international fibreboard case code; panels and flaps as box makers and associations publish them",
        combine=(lambda top: combination(code, top)) if "/" not in code else None,
    )


def combination(bottom: str, top: str) -> Style | None:
    """The style of one code's flaps below and another's above, written as the case code does: ``0201/0204``."""
    names = {**{code: flaps.words for code, flaps in FLAP_SETS.items()}, "0200": "no flaps, open"}
    if bottom not in names or top not in names:
        return None
    return _style(
        f"{bottom}/{top}",
        f"slotted case, bottom {bottom}, top {top}",
        f"Bottom as {bottom} ({names[bottom]}), top as {top} ({names[top]}).",
        source="combination of two codes, bottom then top, as the case code itself writes it",
    )


STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        _style(
            "0200", "half slotted case", "Bottom flaps as 0201; the top is a cut edge, open or under a separate cover."
        ),
        _style(
            "0201",
            "regular slotted case",
            "All flaps alike; the outer ones meet in the middle. Taped, glued or stitched.",
        ),
        _style(
            "0202",
            "overlap slotted case",
            "All flaps alike; the outer ones overlap by o and are stitched or glued through.",
        ),
        _style("0203", "full overlap slotted case", "The outer flaps cover the whole opening, one over the other."),
        _style(
            "0204", "centre special slotted case", "Outer flaps meet and inner flaps meet: a full double floor and lid."
        ),
        _style("0205", "centre special overlap slotted case", "Inner flaps meet; the outer ones overlap by o."),
        _style("0206", "special full overlap slotted case", "Inner flaps meet; the outer ones overlap fully."),
        _style("0209", "slotted case with short top flaps", "Bottom as 0201; short top flaps leave the middle open."),
    )
}
