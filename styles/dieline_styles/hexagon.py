"""Cartons with six or eight equal walls: tucked, or sealed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from dieline.style import Design, Order, Parameter, Style, choice, length

from .carton import CARTON
from .many_sided import PrismEnd, prism_design
from .many_sided_ends import LEAST_DUST, SealedEnd, TuckedEnd, longest_dust
from .tuck import TUCK

__all__ = ["STYLES"]

_TUBE = {parameter.name: parameter for parameter in CARTON}
_TUCK = {parameter.name: parameter for parameter in TUCK}

_BOTTOM = choice(
    "bottom",
    "How the bottom is closed; the top is tucked.",
    {"tuck": "by a lid that tucks in", "seal": "by two covers glued over each other"},
    "tuck",
)
_LIDS = choice(
    "lids",
    "Whether the lids of top and bottom hang on one wall.",
    {"straight": "on the back wall, with the lap", "reverse": "top on the back wall, bottom on the front wall"},
    "straight",
)


def _parameters(sides: int, *, tuck: bool) -> tuple[Parameter, ...]:
    def widest(order: Order) -> float:
        return 0.8 * order.L.value * math.tan(math.pi / sides)

    def usual(order: Order) -> float:
        t = order.thickness
        return min(12.0 if t < 1.0 else 20.0 if t < 2.5 else 30.0, round(0.75 * widest(order), 1))

    def longest(order: Order) -> float:
        return longest_dust(order, sides, tuck=tuck)

    lap = replace(_TUBE["lap_width"], default=usual, low=lambda o: min(5.0 + o.thickness, widest(o)), high=widest)
    dust = length(
        "dust_length",
        "Length of the dust flaps.",
        lambda order: min(round(0.275 * order.L.value, 1), longest(order)),
        lambda order: min(LEAST_DUST, longest(order)),
        longest,
        why="they must keep an edge, and not meet",
    )
    own = (_BOTTOM, _LIDS, *(_TUCK[name] for name in ("tuck_length", "tuck_radius", "dust_setback"))) if tuck else ()
    return (*(lap if name == "lap_width" else parameter for name, parameter in _TUBE.items()), *own, dust)


def _tucked(sides: int) -> Callable[[Order], Design]:
    def build(order: Order) -> Design:
        top = TuckedEnd(order, sides, top=True, wall=0)
        sealed = order.choice("bottom") == "seal"
        same = order.choice("lids") == "straight"
        bottom: PrismEnd = (
            SealedEnd(order, sides, top=False)
            if sealed
            else TuckedEnd(order, sides, top=False, wall=0 if same else sides // 2)
        )
        tucks = 2 if same and not sealed else 1
        order.need("H", tucks * top.hangs + order.number("clearance"), "what hangs into the box must not meet")
        words = "Dust flaps in, lid over them, tuck in behind the wall"
        return prism_design(order, sides, bottom, top, f"{words}; the bottom is glued." if sealed else f"{words}.")

    return build


def _sealed(order: Order) -> Design:
    ends = SealedEnd(order, 6, top=False), SealedEnd(order, 6, top=True)
    return prism_design(order, 6, *ends, "Dust flaps in, inner cover over them, outer cover glued on it.")


_USE = "Gift and display cartons: sweets, candles, tea; goods of round section in less board than a round box."

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="hexagon-tuck",
            title="hexagonal tuck-end carton",
            group="many-sided",
            summary="A tube of six equal walls; at each end a hexagonal lid over four dust flaps, tucked in "
            "behind the wall opposite. Leaves the gluer flat.",
            use=_USE,
            parameters=_parameters(6, tuck=True),
            build=_tucked(6),
            example="100x100x150",
            thickness=(0.3, 5.0),
            regular=True,
        ),
        Style(
            code="hexagon-seal",
            title="hexagonal seal-end carton",
            group="many-sided",
            summary="A tube of six equal walls; at each end four dust flaps, an inner and an outer hexagonal "
            "cover, glued over each other. Leaves the gluer flat.",
            use="Tight hexagonal cartons for powders, tea and sweets.",
            parameters=_parameters(6, tuck=False),
            build=_sealed,
            example="100x100x150",
            thickness=(0.3, 5.0),
            regular=True,
        ),
        Style(
            code="octagon-tuck",
            title="octagonal tuck-end carton",
            group="many-sided",
            summary="A tube of eight equal walls; at each end an octagonal lid over six dust flaps, tucked in "
            "behind the wall opposite. Leaves the gluer flat.",
            use=_USE,
            parameters=_parameters(8, tuck=True),
            build=_tucked(8),
            example="120x120x150",
            thickness=(0.3, 5.0),
            regular=True,
        ),
    )
}
