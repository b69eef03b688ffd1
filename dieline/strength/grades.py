"""Board grades of DIN 55468-1, by edition."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from ..board import Board
from ..errors import InputError, UnknownNameError
from ..textfile import shipped_table
from .basis import Basis

__all__ = ["EDITION", "grade_ect", "grades", "grades_for"]

EDITION = "2021"
"""The edition that a grade is looked up in."""

_FINE = frozenset("DEFG")
"""Flutes of which the list does not hold if a board has no others."""


@cache
def grades(edition: str = EDITION) -> Mapping[str, Mapping[str, Any]]:
    """Every grade of an edition with its values: ``walls``, ``ect`` kN/m, ``burst`` kPa and ``puncture`` J.

    Raises:
        UnknownNameError: If there is no such edition.
    """
    editions = {entry["name"]: entry for entry in shipped_table("strength_grades")["edition"]}
    if edition not in editions:
        raise UnknownNameError("edition of DIN 55468-1", edition, editions)
    return {row["name"]: row for row in editions[edition]["grade"]}


@cache
def _source() -> str:
    return next(
        str(entry["source"]) for entry in shipped_table("strength_grades")["edition"] if entry["name"] == EDITION
    )


def grades_for(board: Board) -> Iterator[tuple[str, float]]:
    """Every grade that a board of these walls and flutes may have, with its ECT, kN/m, weakest first."""
    if not board.corrugated or set(board.flutes) <= _FINE:
        return
    walls = "1" if board.wall == "single" else "2+"
    rows = [(name, float(row["ect"])) for name, row in grades().items() if row["walls"] == walls]
    yield from sorted(rows, key=lambda row: (row[1], row[0]))


def grade_ect(grade: str, board: Board) -> tuple[float, Basis]:
    """Least edge crush resistance of a grade, kN/m, and what it rests on.

    Args:
        grade: Such as ``1.30``.
        board: The board that is of this grade.

    Raises:
        UnknownNameError: If there is no such grade.
        InputError: If the grade is one of other walls, or the list does not hold for these flutes.
    """
    where = f"board {board.name}, grade"
    if grade not in grades():
        raise UnknownNameError(where, grade, grades())
    row = grades()[grade]
    if set(board.flutes) <= _FINE:
        must = "the grades do not hold for boards made only of D, E, F or G flute"
        raise InputError(where, f"{grade} on flutes {', '.join(board.flutes)}", must, "give the ECT as measured")
    if (row["walls"] == "1") != (board.wall == "single"):
        must = f"{grade} is a grade of {'single' if row['walls'] == '1' else 'double and more'} wall"
        raise InputError(where, f"{grade} on {board.wall} wall", must, "choose a grade of its walls")
    text = f"least ECT of grade {grade}, DIN 55468-1:{EDITION}; the mean may be 5 % under"
    return float(row["ect"]), Basis(text=text, source=_source(), confidence="published")
