"""The insert tray: a platform on four legs with cut-outs that hold round or square goods apart."""

from __future__ import annotations

import math
from collections.abc import Callable

from dieline.style import (
    Design,
    Gauge,
    Motion,
    OptionError,
    Order,
    Parameter,
    Path,
    Piece,
    Role,
    Sheet,
    Size,
    Stand,
    Step,
    Style,
    choice,
    circle,
    count,
    format_mm,
    length,
    rectangle,
    rounded,
)

from .fitment import PLAY, UNDER, fitment

__all__ = ["STYLES"]

_TURN = (90.0, 0.0)
_LEAST_LEG = 10.0
"""mm. A shorter leg does not stay folded."""


def _platform(order: Order, along: bool) -> float:
    """Size of the platform between its creases, mm."""
    return (order.L if along else order.B).value - order.number("play") - order.thickness


def _pitch(order: Order, along: bool) -> float:
    return _platform(order, along) / order.number("goods_along" if along else "goods_across")


def _widest(order: Order, along: bool) -> float:
    """Widest goods that leave the web between them, mm."""
    return _pitch(order, along) - order.number("web") - order.number("goods_play")


def _round(order: Order) -> bool:
    return order.choice("goods") == "round"


def _most(along: bool) -> Callable[[Order], float]:
    """As many as leave cut-outs of 10 mm between webs."""
    return lambda order: math.floor(_platform(order, along) / (10.0 + order.number("web")) + 1e-9)


def _usual(along: bool) -> Callable[[Order], float]:
    return lambda order: max(1, min(3 if along else 2, _most(along)(order)))


def _web(order: Order) -> float:
    return max(10.0, 3 * order.thickness)


def _longest(order: Order) -> float:
    return min(_widest(order, True), _widest(order, False)) if _round(order) else _widest(order, True)


def _usual_size(most: float) -> float:
    """Goods with half as much web again between them."""
    return max(min(most, 5.0), math.floor(0.8 * most))


PARAMETERS: tuple[Parameter, ...] = (
    PLAY,
    length(
        "platform_height",
        "Height of the top of the platform above the floor.",
        lambda order: min(order.H.value, max(_LEAST_LEG + 1.5 * order.thickness, round(order.H.value / 2, 1))),
        lambda order: _LEAST_LEG + 1.5 * order.thickness,
        lambda order: order.H.value,
        why="legs under 10 mm do not stay folded, and it must fit into the box",
    ),
    choice("goods", "Shape of the goods.", {"round": "round: jars, mugs", "square": "square or oblong"}, "round"),
    length(
        "web",
        "Least width of board between two cut-outs.",
        _web,
        lambda order: max(5.0, 2 * order.thickness),
        why="a narrower web tears or buckles when the goods are pressed in",
    ),
    count(
        "goods_along", "How many goods stand along L.", _usual(True), 1, _most(True), why="webs must stay between them"
    ),
    count(
        "goods_across",
        "How many goods stand along B.",
        _usual(False),
        1,
        _most(False),
        why="webs must stay between them",
    ),
    length("goods_play", "How much larger a cut-out is than the goods.", 1.0, 0.0, 10.0, why="the goods must be held"),
    length(
        "goods_length",
        "Size of the goods along L; the diameter of round ones.",
        lambda order: _usual_size(_longest(order)),
        lambda order: min(5.0, _longest(order)),
        _longest,
        why="the web must stay between two cut-outs",
    ),
    length(
        "goods_breadth",
        "Size of square goods along B.",
        lambda order: order.number("goods_length") if _round(order) else _usual_size(_widest(order, False)),
        lambda order: min(5.0, _widest(order, False)),
        lambda order: _widest(order, False),
        why="the web must stay between two cut-outs",
    ),
    length(
        "corner_radius",
        "Radius of the corners of square cut-outs.",
        lambda order: min(3.0, min(order.number("goods_length"), order.number("goods_breadth")) / 4),
        0.0,
        lambda order: min(order.number("goods_length"), order.number("goods_breadth")) / 2,
        why="the goods must go through",
    ),
    choice("flutes", "Which way the flutes (or the grain) run.", {"length": "along L", "breadth": "along B"}, "length"),
)


def build(order: Order) -> Design:
    """Platform and legs; its inside is the underside, so that all creases fold the same way as a box's."""
    t = order.thickness
    _accept(order)
    play = order.quantity("play")
    long = order.size("platform length", order.L - play - order.t)
    deep = order.size("platform breadth", order.B - play - order.t)
    tall = order.size("leg height", order.quantity("platform_height") - order.t / 2)
    sheet = Sheet("tray", flutes="x" if order.choice("flutes") == "length" else "y")
    holes = _cut_outs(order, long, deep)
    sheet.panel("platform", rectangle(0.0, 0.0, long, deep), holes=holes)
    back = order.size("leg setback", order.t / 2 + UNDER)
    corners = ((0.0, 0.0), (long, 0.0), (long, deep), (0.0, deep))
    for number, name in enumerate(("front", "right", "back", "left")):
        edge = corners[number], corners[(number + 1) % 4]
        wide = (long, deep)[number % 2]
        start = back if number % 2 else 0.0  # those along B stand between the other two
        outline = rectangle(start, 0.0, wide - start, tall)
        sheet.hang(f"{name} leg", "platform", edge, outline, role=Role.WALL, stage=2 - number % 2)
    half = play.value / 2
    stand = Stand(
        # Its +z is down: seen from above it is turned over about x.
        (0.0, 0.0),
        (half + t / 2, order.B.value - half - t / 2, tall),
        (1.0, 0.0, 0.0),
        (0.0, -1.0, 0.0),
    )
    return fitment(
        order,
        (Piece(blank=sheet.blank(), stand=stand),),
        Size(long, deep, tall),
        gauges=(
            Gauge(
                name="over it along L", a="left leg", b="right leg", a_inside=False, b_inside=False, expected=long + t
            ),
            Gauge(
                name="over it along B", a="front leg", b="back leg", a_inside=False, b_inside=False, expected=deep + t
            ),
        ),
        motions=(
            Motion(
                steps=(
                    Step("fold the legs along B down", {"left leg": _TURN, "right leg": _TURN}),
                    Step("fold the legs along L down", {"front leg": _TURN, "back leg": _TURN}),
                )
            ),
        ),
        words=("Fold all four legs down and put it into the box; the walls of the box hold the legs upright.",),
    )


def _accept(order: Order) -> None:
    t, play = order.thickness, order.number("play")
    for name in "LB":
        order.need(name, 10.0 + order.number("web") + t + play, "one cut-out of 10 mm needs a web round it")
    order.need("H", _LEAST_LEG + 1.5 * t, "legs under 10 mm do not stay folded")
    if _round(order) and "goods_breadth" in order.given:
        raise OptionError(
            "options.goods_breadth",
            format_mm(order.number("goods_breadth")),
            "round goods have one size, their diameter",
            "set goods_length alone, or goods=square",
        )


def _cut_outs(order: Order, long: float, deep: float) -> list[Path]:
    """Cut-outs in even rows: half a web at each edge of the platform, a whole one between them."""
    n, m = round(order.number("goods_along")), round(order.number("goods_across"))
    more = order.quantity("goods_play")
    wide = order.size("cut-out length", order.quantity("goods_length") + more)
    high = wide if _round(order) else order.size("cut-out breadth", order.quantity("goods_breadth") + more)
    order.size("web along L", long / n - wide)
    order.size("web along B", deep / m - high)
    radius = order.number("corner_radius")
    found = []
    for j in range(m):
        for i in range(n):
            x, y = long * (i + 0.5) / n, deep * (j + 0.5) / m
            if _round(order):
                found.append(circle((x, y), wide / 2))
            else:
                box = rectangle(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
                found.append(rounded(box.points, [radius] * 4))
    return found


STYLES: dict[str, Style] = {
    "insert-tray": Style(
        code="insert-tray",
        title="insert tray with cut-outs",
        group="fitment",
        summary="A platform with cut-outs in rows, on four legs folded down; the walls of the box hold the legs "
        "upright, the cut-outs hold the goods apart.",
        use="Jars, mugs, bottles, tins: each stands in its own hole, clear of its neighbours and of the walls.",
        parameters=PARAMETERS,
        build=build,
        example="320x220x120",
        thickness=(0.4, 9.0),
    )
}
