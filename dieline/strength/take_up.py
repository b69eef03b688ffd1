"""How much longer a medium is than the board that it stands in."""

from __future__ import annotations

import math

from ..board import Board
from ..errors import InputError
from .basis import Basis, basis_of, table

__all__ = ["board_take_up", "sine_take_up", "table_take_up", "tenzer_take_up"]

_STEPS = 200
"""Even. Simpson's rule over a quarter wave is then exact to a millionth for any flute that is made."""


def sine_take_up(height: float, pitch: float) -> float:
    """Length of a pure sine wave over its pitch.

    Args:
        height: Flute height from trough to crest, mm.
        pitch: Flute pitch, mm.

    Example:
        >>> round(sine_take_up(3.65, 7.5), 3)
        1.444
    """
    slope = math.pi * height / pitch
    step = math.pi / 2 / _STEPS
    speeds = [math.sqrt(1.0 + (slope * math.cos(i * step)) ** 2) for i in range(_STEPS + 1)]
    total = speeds[0] + speeds[-1] + 4.0 * sum(speeds[1:-1:2]) + 2.0 * sum(speeds[2:-1:2])
    return total * step / 3.0 / (math.pi / 2)


def tenzer_take_up(height: float, pitch: float) -> float:
    """Take-up by Tenzer's rule.

    Args:
        height: Flute height, mm.
        pitch: Flute pitch, mm.

    Source: H. J. Tenzer, Leitfaden der Papierverarbeitungstechnik (1989).

    Example:
        >>> round(tenzer_take_up(3.65, 7.5), 3)
        1.447
    """
    rule = table("take_up")["tenzer"]
    return float(rule["base"]) + float(rule["slope"]) * height / pitch


def table_take_up(flute: str) -> float:
    """Rounded take-up of a flute from the Japanese association's table.

    Raises:
        InputError: If the table has no such flute.
    """
    listed = table("take_up")["table"]
    if not isinstance(listed.get(flute), float):
        raise InputError("take_up", f"flute {flute}", "the table has A, B and C", "give flute_height and flute_pitch")
    return float(listed[flute])


def board_take_up(board: Board) -> tuple[tuple[float, ...], Basis]:
    """Take-up of each flute of a board, from the outside in, and what it rests on.

    What the board states itself comes first, then Tenzer's rule on its flute height and pitch, then the table.

    Raises:
        InputError: If none of them can be had.
    """
    if board.papers is not None and board.papers.take_up:
        return board.papers.take_up, Basis(text="take-up as stated", source="the board file", confidence="house")
    count = len(board.flutes)
    if len(board.flute_height) == len(board.flute_pitch) == count:
        pairs = zip(board.flute_height, board.flute_pitch, strict=True)
        return tuple(tenzer_take_up(height, pitch) for height, pitch in pairs), basis_of(table("take_up")["tenzer"])
    return tuple(map(table_take_up, board.flutes)), basis_of(table("take_up")["table"], "take-up from a table")
