"""What a slotted partition can be asked for: how many cells, how broad, and the play of slots and strips."""

from __future__ import annotations

import math
from collections.abc import Callable

from dieline.style import Order, Parameter, choice, count, length

__all__ = ["PARAMETERS", "cells_of", "least_tooth"]

_TEETH = 8.0
"""Boards. The narrowest tooth between two slots, or beside one, that still stands up while strips are put together."""

_NARROWEST = 2.4
"""mm. A slot as narrow as rule can be bent to."""


def _side(order: Order, along: bool) -> float:
    return (order.L if along else order.B).value


def least_tooth(order: Order) -> float:
    """The narrowest cell, mm."""
    return _TEETH * order.thickness + order.number("slot_play")


def _most(along: bool) -> Callable[[Order], float]:
    """So many cells of the least width stand in a row, a board between each two."""
    return lambda order: math.floor(
        (_side(order, along) + order.thickness) / (least_tooth(order) + order.thickness) + 1e-9
    )


def _usual(cells: int, along: bool) -> Callable[[Order], float]:
    return lambda order: max(2, min(cells, _most(along)(order)))


def cells_of(order: Order, along: bool) -> float:
    """How many cells stand along L, or along B."""
    return order.number("cells_along" if along else "cells_across")


def _equal(along: bool) -> Callable[[Order], float]:
    """Width of the cells if all are alike, mm."""
    return lambda order: (_side(order, along) - (cells_of(order, along) - 1) * order.thickness) / cells_of(order, along)


def _widest(along: bool) -> Callable[[Order], float]:
    """The first cell may take what the others leave at their least width, mm."""
    return lambda order: _side(order, along) - (cells_of(order, along) - 1) * (order.thickness + least_tooth(order))


def _rest(order: Order, along: bool) -> float:
    """From the middle of the first strip to the other wall of the box, mm."""
    first = order.number("first_cell_along" if along else "first_cell_across")
    return _side(order, along) - first - order.thickness / 2


def _shared(along: bool) -> Callable[[Order], float]:
    """Pitch at which all cells after the first are alike, mm."""
    return lambda order: (_rest(order, along) + order.thickness / 2) / (cells_of(order, along) - 1)


def _least_pitch(along: bool) -> Callable[[Order], float]:
    return lambda order: min(least_tooth(order) + order.thickness, _shared(along)(order))


def _greatest_pitch(along: bool) -> Callable[[Order], float]:
    """The last cell keeps its least width; with one strip there is no pitch, and any is as good, mm."""

    def pitch(order: Order) -> float:
        between = cells_of(order, along) - 2
        last = order.thickness / 2 + least_tooth(order)
        return max((_rest(order, along) - last) / between if between else 0.0, _shared(along)(order))

    return pitch


PARAMETERS: tuple[Parameter, ...] = (
    length(
        "slot_play",
        "How much wider the slots are than the board.",
        lambda order: min(1.0, max(0.7, _NARROWEST - order.thickness)) if order.board.corrugated else 0.3,
        0.0,
        lambda order: max(1.0, 0.5 * order.thickness),
        why="narrower than the board the strips do not go together, and in wide slots they lean",
        source="0.3–1 mm: common practice, no source",
    ),
    count(
        "cells_along",
        "How many cells stand along L.",
        _usual(3, True),
        2,
        _most(True),
        why="each tooth must be 8 boards wide",
    ),
    count(
        "cells_across",
        "How many cells stand along B.",
        _usual(2, False),
        2,
        _most(False),
        why="each tooth must be 8 boards wide",
    ),
    length(
        "first_cell_along",
        "Width along L of the first cell, at the left.",
        _equal(True),
        lambda order: min(least_tooth(order), _widest(True)(order)),
        _widest(True),
        why="each tooth must be 8 boards wide, in the other cells too",
        source="all cells alike",
    ),
    length(
        "pitch_along",
        "From the middle of a strip to the middle of the next along L; the last cell takes what is left.",
        _shared(True),
        _least_pitch(True),
        _greatest_pitch(True),
        why="each tooth must be 8 boards wide, in the last cell too",
        source="all cells after the first alike",
    ),
    length(
        "first_cell_across",
        "Width along B of the first cell, at the front.",
        _equal(False),
        lambda order: min(least_tooth(order), _widest(False)(order)),
        _widest(False),
        why="each tooth must be 8 boards wide, in the other cells too",
        source="all cells alike",
    ),
    length(
        "pitch_across",
        "From the middle of a strip to the middle of the next along B; the last cell takes what is left.",
        _shared(False),
        _least_pitch(False),
        _greatest_pitch(False),
        why="each tooth must be 8 boards wide, in the last cell too",
        source="all cells after the first alike",
    ),
    length(
        "end_play",
        "How much shorter the strips are than the box inside; half of it at each end.",
        lambda order: min(2.0, order.number("slot_play") + 0.05 * min(order.L.value, order.B.value)),
        0.0,
        lambda order: max(4.0, order.thickness),
        why="with more the strips slide about",
        source="1–4 mm: common practice, no source",
    ),
    length(
        "height_play",
        "How much lower the strips are than the box inside.",
        lambda order: min(2.0, 0.1 * order.H.value),
        0.0,
        lambda order: 0.8 * order.H.value,
        why="the strips must part the goods",
    ),
    length(
        "depth_play",
        "How much both slots together are deeper than the strips are high.",
        lambda order: min(1.0, 0.05 * order.H.value),
        0.0,
        lambda order: min(6.0, 0.2 * order.H.value),
        why="with less the strips stand one above the other, with more they hang loose",
        source="0–2 mm: common practice, no source",
    ),
    choice(
        "flutes",
        "Which way the flutes (or the grain) run.",
        {"upright": "along H, to carry the stack", "level": "along the strips"},
        "upright",
        source="flutes of what carries run along H: trade association",
    ),
)
