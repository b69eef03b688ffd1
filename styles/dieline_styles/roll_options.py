"""Options of rolled double walls: clearance, tabs and their slots, spine, corner flaps; and what they refuse."""

from __future__ import annotations

import math

from dieline.style import Order, Parameter, Point, count, length

__all__ = [
    "CLEARANCE",
    "FLAPS",
    "LEAST_SLOT",
    "ROLL",
    "SLOT",
    "TABS",
    "flap_outline",
    "flap_rise",
    "least_spine",
    "need_room",
    "pull",
]

LEAST_SLOT = 2.4
"""mm. Narrower waste cannot be bent from rule. Source: Graphic Dies, graphicdies.com/how-small (3/32 in)."""


def least_spine(enclosed: int, t: float, depth: float) -> float:
    """Narrowest spine by which a rigid inner wall can be lowered over what it encloses, mm.

    At width w the wall closes over n boards with w = (n + 1) t; lifted until its tabs stand over their slots it pulls
    the inner wall outwards by w (1 - cos psi), and there the boards are.

    Args:
        enclosed: Boards between outer and inner wall.
        t: Board thickness, mm.
        depth: How deep the tabs go into the base, mm.
    """
    return math.hypot((enclosed + 1) * t, depth)


CLEARANCE = length(
    "clearance",
    "Play of each raw edge that goes down beside board.",
    lambda order: max(0.5, round(0.15 * order.thickness, 2)),
    0.25,
    lambda order: 0.5 + 0.3 * order.thickness,
    why="with less the edges jam, with more the corners stand open",
)

FLAPS: tuple[Parameter, ...] = (
    length(
        "corner_flap",
        "Length of the corner flaps that are shut into the double walls.",
        lambda order: max(_least_flap(order), min(round(0.46 * order.B.value, 1), max(order.H.value, 40.0))),
        lambda order: _least_flap(order),
        lambda order: max(_least_flap(order), order.B.value / 2 - 1.0),
        why="a short flap slips out from under the spine, and two of them share one wall",
    ),
    length(
        "corner_flap_relief",
        "How far the lower edge of a corner flap stays above the base crease of its wall.",
        lambda order: max(LEAST_SLOT, _least_relief(order)),
        lambda order: _least_relief(order),
        lambda order: max(0.3 * order.H.value, LEAST_SLOT, _least_relief(order)),
        why="the flap stands on the base, and what is cut out beside it in the flat blank must be strippable",
    ),
    length(
        "corner_flap_lead",
        "How far the free end of a corner flap narrows, so that it finds its way into the double wall.",
        lambda order: min(3.0, round(0.05 * min(order.H.value, order.number("corner_flap")), 1)),
        0.0,
        lambda order: 0.2 * order.H.value,
        why="the flap must stay under the spine",
    ),
)

TABS: tuple[Parameter, ...] = (
    length(
        "tab_depth",
        "How deep the tabs of the inner walls go into the board under them.",
        lambda order: round(0.9 * order.thickness, 2),
        lambda order: 0.6 * order.thickness,
        lambda order: order.thickness,
        why="a shallow tab slips out, a deeper one stands out underneath",
    ),
    count(
        "tabs",
        "How many tabs each inner wall has.",
        lambda order: 2.0 * math.ceil(order.B.value / 500.0),
        1,
        lambda order: max(2.0, order.B.value // 20.0),
        why="each needs 20 mm of wall",
    ),
    length(
        "tab_width",
        "Width of each tab.",
        lambda order: min(40.0, max(15.0, round(0.18 * order.B.value, 1)), _widest_tab(order)),
        lambda order: min(10.0, _widest_tab(order)),
        lambda order: _widest_tab(order),
        why="tabs must keep 8 mm of board between their slots",
    ),
)

SLOT = length(
    "slot_width",
    "Width of the slots in the base, outward from the inner wall's inside face.",
    lambda order: max(LEAST_SLOT, order.thickness + max(order.number("clearance"), _pull(order))),
    lambda order: order.thickness + _pull(order),
    lambda order: max(LEAST_SLOT, 2.5 * order.thickness),
    why="the board must go in while the lifted spine holds it a little outward; wider, the slot meets the crease",
    source="geometry: board, and what the lifted spine pulls it outward",
)

ROLL: tuple[Parameter, ...] = (
    CLEARANCE,
    *TABS,
    length(
        "spine",
        "Width of the spine over the double walls, between its two creases.",
        lambda order: round(2.3 * order.thickness, 2),
        lambda order: least_spine(1, order.thickness, _tab_depth(order)),
        lambda order: 3.0 * order.thickness,
        why="it goes over two boards, and a narrower one does not let the tabs down into their slots; a wider one "
        "leaves the wall loose",
        source="geometry: spine = 2 boards and play; 2 to 2 boards and 1 mm is common practice, no source",
    ),
    SLOT,
    *FLAPS,
)
"""What a style with rolled left and right walls declares."""


def _widest_tab(order: Order) -> float:
    return max(1.0, order.B.value / order.number("tabs") - 9.0)


def _least_flap(order: Order) -> float:
    return min(15.0, order.B.value / 2 - 1.0)


def _least_relief(order: Order) -> float:
    return order.thickness / 2 + order.number("clearance")


def need_room(order: Order) -> None:
    """Refuse sizes at which an end cannot be rolled, or its tabs and flaps cannot be.

    Raises:
        SizeError: With the least or the greatest size.
    """
    t, c = order.thickness, order.number("clearance")
    order.need("B", 40.0, "the tabs of the rolled walls need their width")
    order.need("H", t + 2 * c + 8.0, "the corner flaps need 8 mm of height in the double walls")
    order.need("L", order.H.value + 2 * t, "the inner wall must swing in over the other end, and it is as long as H")


def flap_outline(order: Order, high: float) -> list[Point]:
    """A corner flap in the frame of its wall (u up the wall, v away from it); its length is recorded.

    Args:
        order: The order.
        high: How high it stands at its crease, mm.
    """
    reach = order.size("corner flap length", order.as_set("corner_flap"))
    lead, low = order.number("corner_flap_lead"), order.number("corner_flap_relief")
    return [(low, 0.0), (low + lead, reach), (high - lead, reach), (high, 0.0)]


def flap_rise(order: Order) -> float:
    """How far the upper corner of a corner flap rises to strike the spine with half a board, mm."""
    return order.number("clearance") + order.number("corner_flap_lead") + order.thickness / 2


def pull(spine: float, depth: float) -> float:
    """How far the lifted spine holds the inner wall outward when its tabs reach their slots, mm.

    Args:
        spine: Width of the spine, mm.
        depth: How deep the tabs go, mm.
    """
    return spine - math.sqrt(spine**2 - depth**2)


def _pull(order: Order) -> float:
    return pull(order.number("spine"), order.number("tab_depth"))


def _tab_depth(order: Order) -> float:
    """How deep the tabs go; a style without tabs lets its inner walls down without lifting the spine."""
    return order.number("tab_depth") if "tab_depth" in order.options else 0.0
