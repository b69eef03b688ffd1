"""Hand holes, vents and tear strips on the walls of a tube."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import combinations

from dieline.style import (
    Mark,
    Meaning,
    OptionError,
    Order,
    Parameter,
    Path,
    choice,
    count,
    format_mm,
    length,
    line,
    obround,
    switch,
)

from .end import Wall
from .joint import walls_of
from .tube import Tube

__all__ = ["PARAMETERS", "openings"]


_RIM = 5.0
"""mm. Board that must stay between an opening and the folded floor or lid; findings say what is wise."""


def _if_used(option: str, limit: Callable[[Order], float], otherwise: float) -> Callable[[Order], float]:
    """A limit that only counts where the feature is asked for."""
    return lambda order: limit(order) if order.choice(option) != "none" else otherwise


def _narrowest(order: Order, option: str) -> float:
    """Inside size of the narrowest wall that carries the feature."""
    walls = order.choice(option)
    return order.L.value if walls == "L" else order.B.value


def _usual_drop(order: Order) -> float:
    """A quarter of the way down and 60 mm at the most; on a low wall in its middle."""
    middle = (order.H.value - order.number("hand_hole_height")) / 2
    return max(_RIM, min(max(10.0, min(60.0, 0.25 * order.H.value)), middle))


def _most_vents(order: Order) -> float:
    return max(1.0, _narrowest(order, "vents") // 15.0) if order.choice("vents") != "none" else math.inf


def _widest_vent(order: Order) -> float:
    return _narrowest(order, "vents") / max(1.0, order.number("vent_count")) - 10.0


def _tallest_vent(order: Order) -> float:
    return order.H.value - 20.0


def _strip_room(order: Order) -> float:
    """How far the middle of the tear strip keeps from the inside floor and lid, mm."""
    return order.number("tear_strip_width") / 2 + _RIM


def _usual_vent(usual: float, limit: Callable[[Order], float]) -> Callable[[Order], float]:
    """The usual size, less where the wall has no room for it."""
    return lambda order: max(3.0, min(usual, limit(order))) if order.choice("vents") != "none" else usual


PARAMETERS: tuple[Parameter, ...] = (
    choice("hand_holes", "Walls with a hand hole.", walls_of, "none"),
    length(
        "hand_hole_width",
        "Length of the hand hole, along the wall.",
        115.0,
        20.0,
        _if_used("hand_holes", lambda order: _narrowest(order, "hand_holes") - 20.0, math.inf),
        why="10 mm of wall must stay beside it",
        source="115 x 38 mm: published ergonomic guide (NIOSH)",
    ),
    length(
        "hand_hole_height",
        "Height of the hand hole.",
        38.0,
        10.0,
        _if_used("hand_holes", lambda order: min(order.number("hand_hole_width"), order.H.value - 2 * _RIM), math.inf),
        why="it is no taller than it is wide, and 5 mm of wall must stay above and below",
        source="115 x 38 mm: published ergonomic guide (NIOSH)",
    ),
    length(
        "hand_hole_drop",
        "From the inside top down to the upper edge of the hand hole.",
        _usual_drop,
        _if_used("hand_holes", lambda _: _RIM, 0.0),
        _if_used("hand_holes", lambda order: order.H.value - order.number("hand_hole_height") - _RIM, math.inf),
        why="5 mm of wall must stay above and below the hole",
    ),
    switch("hand_hole_left_in", "Leave the piece in, hinged at its upper edge, instead of stripping it."),
    choice("vents", "Walls with vents.", walls_of, "none"),
    length(
        "vent_width",
        "Width of each vent.",
        _usual_vent(25.0, _widest_vent),
        3.0,
        _if_used("vents", _widest_vent, math.inf),
        why="10 mm of wall must stay between vents",
    ),
    length(
        "vent_height",
        "Height of each vent.",
        lambda order: _usual_vent(order.number("vent_width"), _tallest_vent)(order),
        3.0,
        _if_used("vents", _tallest_vent, math.inf),
        why="10 mm of wall must stay above and below",
    ),
    switch("tear_strip", "A strip between two perforations round all four walls, to open the case by."),
    length(
        "tear_strip_width",
        "Width of the tear strip.",
        12.0,
        5.0,
        lambda order: order.H.value - 2 * _RIM if order.flag("tear_strip") else math.inf,
        why="5 mm of wall must stay above and below",
    ),
    length(
        "tear_strip_height",
        "From the inside floor up to the middle of the tear strip.",
        lambda order: order.H.value / 2,
        lambda order: _strip_room(order) if order.flag("tear_strip") else 0.0,
        lambda order: order.H.value - _strip_room(order) if order.flag("tear_strip") else math.inf,
        why="5 mm of wall must stay above and below the strip",
    ),
)
# The count stands before the width, whose range depends on it.
PARAMETERS = (
    *PARAMETERS[:6],
    count(
        "vent_count",
        "How many vents stand side by side on each wall.",
        lambda order: min(2.0, _most_vents(order)),
        1,
        _most_vents,
        why="each needs at least 15 mm of wall",
    ),
    *PARAMETERS[6:],
)


def openings(tube: Tube) -> list[tuple[int, Path | None, Mark | None]]:
    """Every cut-out and mark that the options ask for, each with the index of its wall."""
    _apart(tube.order)
    return [*_hand_holes(tube), *_vents(tube), *_tear_strip(tube)]


def _apart(order: Order) -> None:
    """Refuse openings that lie over each other on one wall.

    Raises:
        OptionError: Naming the two and where they lie.
    """
    height = order.H.value
    bands: list[tuple[str, str, float, float]] = []
    if order.choice("hand_holes") != "none":
        top = height - order.number("hand_hole_drop")
        bands.append(("hand_holes", order.choice("hand_holes"), top - order.number("hand_hole_height"), top))
    if order.choice("vents") != "none":
        half = order.number("vent_height") / 2
        bands.append(("vents", order.choice("vents"), height / 2 - half, height / 2 + half))
    if order.flag("tear_strip"):
        middle, half = order.number("tear_strip_height"), order.number("tear_strip_width") / 2
        bands.append(("tear_strip", "all", middle - half, middle + half))
    for (one, walls, low, high), (other, others, bottom, top) in combinations(bands, 2):
        if (walls == others or "all" in (walls, others)) and low < top and bottom < high:
            raise OptionError(
                f"options.{other}",
                f"lies {format_mm(bottom)} to {format_mm(top)} mm above the floor",
                f"it must keep clear of {one}, {format_mm(low)} to {format_mm(high)} mm",
                "move one of them, or put them on other walls",
            )


def _chosen(tube: Tube, option: str) -> Iterator[Wall]:
    walls = tube.order.choice(option)
    for wall in tube.walls:
        if walls == "all" or walls == ("L" if wall.long else "B"):
            yield wall


def _hand_holes(tube: Tube) -> Iterator[tuple[int, Path | None, Mark | None]]:
    order = tube.order
    width, height = order.number("hand_hole_width"), order.number("hand_hole_height")
    if order.flag("hand_hole_left_in") and order.choice("hand_holes") != "none" and width - height < _RIM - 1e-9:
        raise OptionError(
            "options.hand_hole_left_in",
            f"leaves a hinge of {format_mm(width - height)} mm",
            "the hole must be at least 5 mm wider than tall, for its upper edge to be a hinge",
            "lower hand_hole_height, or strip the piece",
        )
    y = order.H.value - order.number("hand_hole_drop") - height / 2
    for wall in _chosen(tube, "hand_holes"):
        shape = obround((tube.centre(wall), y), width, height)
        if not order.flag("hand_hole_left_in"):
            yield wall.index, shape, None
            continue
        # The outline without its upper straight is cut, the upper straight is the hinge.
        points = shape.points
        cut = Path((points[3], points[0], points[1], points[2]), (shape.bulges[3], 0.0, shape.bulges[1]))
        yield wall.index, None, Mark(Meaning.CUT, cut, "hand hole")
        yield wall.index, None, Mark(Meaning.CREASE, line(points[2], points[3]), "hand hole")


def _vents(tube: Tube) -> Iterator[tuple[int, Path | None, Mark | None]]:
    order = tube.order
    number = int(order.number("vent_count"))
    for wall in _chosen(tube, "vents"):
        inside = order.L.value if wall.long else order.B.value
        pitch = inside / number
        for i in range(number):
            x = tube.centre(wall) + (i - (number - 1) / 2) * pitch
            yield (
                wall.index,
                obround((x, order.H.value / 2), order.number("vent_width"), order.number("vent_height")),
                None,
            )


def _tear_strip(tube: Tube) -> Iterator[tuple[int, Path | None, Mark | None]]:
    order = tube.order
    if not order.flag("tear_strip"):
        return
    half = order.number("tear_strip_width") / 2
    for wall in tube.walls:
        for side in (-half, half):
            y = order.number("tear_strip_height") + side
            yield wall.index, None, Mark(Meaning.PERFORATION, line((wall.x0, y), (wall.x1, y)), "tear strip")
