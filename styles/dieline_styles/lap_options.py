"""Options of the laps that hold the corners of a tray."""

from __future__ import annotations

from dieline.style import Order, Parameter, choice, length

from .tray_body import CORNER_PLAY, LEAST_WASTE, upward

__all__ = ["lap_axis", "laps"]

_LEAST_LAP = 10.0
"""mm. Narrowest lap that can be glued or stitched, besides the boards that it passes at the corner."""

_USUAL_LAP = 35.0


def _end(order: Order) -> float:
    """Inside width of the walls that the laps are joined to, mm."""
    return order.B.value if lap_axis(order) == 0 else order.L.value


def lap_axis(order: Order) -> int:
    """The axis along which the walls run that carry the laps: 0 for front and back, 1 for left and right."""
    return 0 if order.options.get("lap_on", "L") == "L" else 1


def _widest_lap(order: Order) -> float:
    """Two laps that all but meet; a tray too narrow for any is refused by its size."""
    least = 2.0 * (_LEAST_LAP + order.thickness + 1.0)
    order.need("BL"[lap_axis(order)], least, "two laps of at least 10 mm are joined to each end")
    return _end(order) / 2 - 1.0


_LAP_ON = choice(
    "lap_on",
    "Which walls carry the laps; the others are the ends that the laps are joined to.",
    {"L": "front and back, which run along L", "B": "left and right, which run along B"},
    "L",
)

_LAP_SIDE = choice(
    "lap_side",
    "On which side of the ends the laps are joined.",
    {"inside": "inside, so that the outside is smooth", "outside": "outside, so that the inside is smooth"},
    "inside",
)

_LAPS: tuple[Parameter, ...] = (
    choice("joint", "How the laps are joined.", {"glued": "glued", "stitched": "stitched with wire"}, "glued"),
    length(
        "lap_width",
        "Length of the laps from their crease.",
        lambda order: min(
            _USUAL_LAP, max(round(0.4 * _end(order), 1), _LEAST_LAP + order.thickness), _widest_lap(order)
        ),
        lambda order: min(_LEAST_LAP + order.thickness, _widest_lap(order)),
        _widest_lap,
        why="a lap needs 10 mm to be joined, and two of them share an end",
    ),
    length(
        "lap_taper",
        "How far the free end of a lap is cut back at the base and at the rim (at most a sixth of its wall's height).",
        lambda order: min(3.0, round(order.H.value / 8, 1)),
        0.0,
        lambda order: order.H.value / 6,
        why="the lap must keep most of its edge",
    ),
    CORNER_PLAY,
)


def laps(side: str = "") -> tuple[Parameter, ...]:
    """The options of laps; where their side is fixed, it is no option."""

    def least(order: Order) -> float:
        inside = (side or order.choice("lap_side")) == "inside"
        return order.number("corner_play") + (order.thickness / 2 if inside else 0.0)

    def usual(order: Order) -> float:
        inside = (side or order.choice("lap_side")) == "inside"
        beside = 0.0 if inside else order.number("corner_play") + order.thickness / 2
        return max(upward(least(order)), min(round(LEAST_WASTE - beside, 2), order.H.value / 8))

    foot = length(
        "lap_foot",
        "How far a lap begins above the crease of its wall (at most a quarter of the wall's height).",
        usual,
        least,
        lambda order: max(usual(order), order.H.value / 4),
        why="a lap inside stands on the base, one outside passes its bend, and it needs its length",
        source="at least 3/32 in of waste between two knives: die maker, graphicdies.com/how-small",
    )
    return (_LAP_ON, *(() if side else (_LAP_SIDE,)), *_LAPS, foot)
