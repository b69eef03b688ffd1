"""The ears on the tuck of a mailer: where they go, how large they are, and what must make room for them."""

from __future__ import annotations

import math

from dieline.style import OptionError, Order, Parameter, Path, Point, Quantity, choice, format_mm, length, rounded

from .hinged_lid import mouth_room, over_bend, tuck_limits
from .roll_options import LEAST_SLOT

__all__ = [
    "EARS",
    "TUCK",
    "WHERE",
    "accept_ears",
    "ear_outline",
    "ears_of",
    "low_flap",
    "pocket",
    "record_ears",
    "tuck_side",
]


def ears_of(order: Order) -> str:
    """Where the ears go: ``gap``, ``along`` or ``none``."""
    return order.choice("ears") if "ears" in order.options else "none"


def _gap_fault(order: Order) -> str:
    """Why ears cannot go into the gap at this size; empty if they can."""
    least = 20.0 + 4 * order.number("clearance")
    if order.H.value < least:
        return f"H must be at least {format_mm(least)} mm: a corner flap and an ear stand one above the other"
    if order.H.value > order.B.value:
        return f"H must be at most B {format_mm(order.B.value)} mm: ears so high do not swing into the gap"
    return ""


def accept_ears(order: Order) -> None:
    """Refuse ears in the gap where they cannot be.

    Raises:
        OptionError: With the reason.
    """
    fault = _gap_fault(order) if ears_of(order) == "gap" else ""
    if fault:
        raise OptionError("options.ears", "gap", fault, "choose along or none")


WHERE = choice(
    "ears",
    "Where the ears on the tuck go.",
    {
        "gap": "into the gap of the double side walls",
        "along": "inside, along the side walls",
        "none": "nowhere: a plain tuck",
    },
    lambda order: "none" if _gap_fault(order) else "gap",
)


def _usual_tuck(order: Order) -> float:
    share = 0.35 if ears_of(order) == "gap" else 0.45
    least, most = tuck_limits(order)
    usual = min(max(round(0.6 * order.H.value, 1), 30.0), round(share * order.B.value, 1), most)
    # A tuck that ends just under its ears has a step that no knife follows: it ends with them.
    ears = _usual_height(order, usual)
    return max(least, ears if ears_of(order) == "gap" and ears < usual < ears + 3.0 else usual)


TUCK = length(
    "tuck_depth",
    "Length of the tuck from its crease.",
    _usual_tuck,
    lambda order: tuck_limits(order)[0],
    lambda order: tuck_limits(order)[1],
    why="it must reach in 8 mm, keep off the floor, and not be bent over too far to go in",
)


def _highest(order: Order, tuck: float) -> float:
    """Ears end with the tuck; in the gap they leave a corner flap of 8 mm, or a quarter of H, under them."""
    if ears_of(order) != "gap":
        return tuck
    high, c = order.H.value, order.number("clearance")
    return max(5.0, min(tuck, high + order.thickness / 2 - 3 * c - max(8.0, 0.25 * high)))


def _usual_height(order: Order, tuck: float) -> float:
    return min(max(round(0.5 * order.H.value, 1), 20.0), _highest(order, tuck))


def _most_height(order: Order) -> float:
    return _highest(order, order.number("tuck_depth"))


def _least_height(order: Order) -> float:
    return min(order.number("ear_relief") + 6.0, _most_height(order))


def _least_relief(order: Order) -> float:
    return order.thickness / 2 + max(order.number("clearance"), order.number("lid_play"))


def _slope(tuck: float, deep: float) -> float:
    """How much an ear's upper edge drops for each mm of length: the tuck is bent over so far, and a degree more."""
    return math.tan(math.radians(over_bend(tuck, deep) + 1.0))


def _longest(order: Order) -> float:
    slope = _slope(order.number("tuck_depth"), order.B.value + order.thickness)
    nose = (order.number("ear_height") - order.number("ear_relief") - 3.0) / slope
    return max(5.0, min(0.35 * order.B.value, nose))


EARS: tuple[Parameter, ...] = (
    length(
        "ear_relief",
        "How far below the tuck's crease the ears begin.",
        lambda order: max(LEAST_SLOT, _least_relief(order)),
        _least_relief,
        lambda order: max(LEAST_SLOT, _least_relief(order)) + 5.0,
        why="they go in under the closed lid, and what is cut out above them must be strippable",
    ),
    length(
        "ear_height",
        "From the tuck's crease down to the lower edge of the ears.",
        lambda order: max(_least_height(order), _usual_height(order, order.number("tuck_depth"))),
        _least_height,
        _most_height,
        why="lower ears do not guide; they end with the tuck, and in the gap a corner flap stands under them",
    ),
    length(
        "ear_length",
        "Length of the ears.",
        lambda order: min(
            0.3 * order.B.value,
            max(25.0, round(0.6 * order.H.value, 1)),
            3 * order.number("ear_height"),
            _longest(order),
        ),
        lambda order: min(10.0, _longest(order)),
        _longest,
        why="a short ear does not hold; a long one comes to a point, because its upper edge slopes to clear the lid",
    ),
)


def record_ears(order: Order) -> None:
    """Record the sizes of the ears, where there are any."""
    if ears_of(order) != "none":
        for name in ("ear relief", "ear height", "ear length"):
            order.size(name, order.as_set(name.replace(" ", "_")))


def pocket(order: Order) -> float:
    """Room behind an ear in its gap, mm: two clearances, and what it swings back by as the tuck slides in."""
    ledger = order.ledger
    return 2 * order.number("clearance") + mouth_room(ledger.value("tuck depth"), ledger.value("lid depth"))


def tuck_side(order: Order) -> tuple[Point, ...]:
    """The left side of the tuck, blank x and distance from its crease; the ears hang on its upper part.

    Ears in the gap stand in its middle, those along the sides at the edge of the inside. The width is recorded.
    """
    t, c, taper, where = order.thickness, order.number("clearance"), order.number("tuck_taper"), ears_of(order)
    tuck = order.ledger.value("tuck depth")
    spine = Quantity.named("spine", order.ledger.value("spine width"))
    ruled = {"gap": order.L + spine + order.t, "along": order.L + order.t, "none": order.L - 2 * Quantity.named("c", c)}
    upper = (order.L.value - order.size("tuck width", ruled[where], round_as="base length")) / 2
    if where == "none":
        return (upper, 0.0), (upper + taper, tuck)
    high = order.ledger.value("ear height")
    if tuck <= high:
        return (upper, 0.0), (upper, tuck)
    if where == "along":
        return (upper, 0.0), (upper, high), (upper + taper, tuck)
    # Under the ears it keeps clear of the corner flaps.
    return (upper, 0.0), (upper, high), (c - t, high), (c - t + taper, tuck)


def ear_outline(order: Order) -> tuple[Path, tuple[float, float]]:
    """The ear (u down the tuck from its crease, v away from it), and from where to where its crease runs, mm.

    Its upper edge slopes, or it would strike the lid while the tuck is bent over.
    """
    start, high, long, tuck, deep = (
        order.ledger.value(name) for name in ("ear relief", "ear height", "ear length", "tuck depth", "lid depth")
    )
    top = start + long * _slope(tuck, deep)
    points = [(start, 0.0), (top, long), (high, long), (high, 0.0)]
    return rounded(points, [0.0, 0.0, 0.6 * min(long, high - top), 0.0]), (start, high)


def low_flap(order: Order, flap: list[Point]) -> tuple[list[Point], float]:
    """A front corner flap that stays under the ear, and rises behind it where it is long enough.

    Args:
        order: The order.
        flap: The full flap, see ``roll_options.flap_outline``.

    Returns:
        The flap, and from where on it stands full height, mm from its crease: its length where it nowhere does.
    """
    (low, _), (foot, reach), (nose, _), (high, _) = flap
    clear = Quantity.named("c", order.number("clearance"))
    ear = Quantity.named("ear", order.ledger.value("ear height"))
    under = order.size("front flap height", order.H + order.t - ear - 2 * clear)
    behind = order.ledger.value("ear length") + order.thickness + clear.value + pocket(order)
    risen = behind + 0.3 * (high - under)
    if reach - risen < 10.0 or nose <= under:
        lead = min(order.number("corner_flap_lead"), 0.2 * (under - low))
        return [(low, 0.0), (low + lead, reach), (under - lead, reach), (under, 0.0)], reach
    return [(low, 0.0), (foot, reach), (nose, reach), (high, risen), (under, behind), (under, 0.0)], risen
