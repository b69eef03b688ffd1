"""Boards: what the blank is cut from. The library is data; a user's board file adds to it or overrides it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .errors import BoardError, InputError, JobError, UnknownNameError
from .textfile import parse_toml, read_text, shipped_table

if TYPE_CHECKING:
    from .paper import Papers

__all__ = ["WALLS", "Board", "Given", "boards", "boards_from_text", "find_board", "read_boards"]

WALLS = ("single", "double", "triple", "solid")
"""Corrugated single, double or triple wall, or solid carton board."""

_NUMBERS = ("calliper", "design", "give", "give_flat", "grammage")
_LISTS = ("flute_height", "flute_pitch")
_BENDING = ("bending_md", "bending_cd")
_STRENGTH = ("papers", "take_up", "adhesive", "ect", "grade", *_BENDING)
_KEYS = frozenset(("name", "wall", "flutes", "note", *_NUMBERS, *_LISTS, *_STRENGTH))
_LEAST_CALLIPER, _GREATEST_CALLIPER = 0.1, 30.0
_DESIGN = 0.7, 1.5
"""Least and greatest design thickness, in callipers: what is beyond is a slip of the decimal point."""


@dataclass(frozen=True, slots=True)
class Given:
    """A value and what it rests on.

    Attributes:
        value: The value, in the unit of its name.
        source: Where it comes from.
        confidence: ``standard``, ``trade practice``, ``derived``, ``definition`` or ``house``.
    """

    value: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One board.

    Attributes:
        name: Its name in the library, ``C`` or ``BC``.
        wall: ``single``, ``double``, ``triple`` or ``solid``.
        flutes: Flute letters from the outside in; empty for solid board.
        calliper: Measured thickness, mm.
        design: Thickness that sizes are worked out with, mm; a plant may design with more than it measures.
        give: How far a crease of up to 120° lets a panel shift along its outward normal, in thicknesses.
        give_flat: The same for a crease folded flat (180°), in thicknesses.
        grammage: g/m², None where not known.
        flute_height: mm, one for each flute.
        flute_pitch: mm, one for each flute.
        sources: What each value rests on.
        note: Anything a user should know.
        papers: Its liners and mediums from the outside in, where known.
        ect: Edge crush resistance as measured, kN/m, where known.
        grade: Its grade of DIN 55468-1, such as ``1.30``; empty where it has none.
        bending: Bending stiffness along and across the machine as measured, N·m, where known.
    """

    name: str
    wall: str
    flutes: tuple[str, ...]
    calliper: Given
    design: Given
    give: float = 0.5
    give_flat: float = 1.0
    grammage: Given | None = None
    flute_height: tuple[float, ...] = ()
    flute_pitch: tuple[float, ...] = ()
    sources: tuple[tuple[str, str, str], ...] = ()
    note: str = ""
    papers: Papers | None = None
    ect: Given | None = None
    grade: str = ""
    bending: tuple[Given, Given] | None = None

    @property
    def thickness(self) -> float:
        """Design thickness t, mm: the one that all sizes are worked out with."""
        return self.design.value

    @property
    def corrugated(self) -> bool:
        """Whether it has flutes."""
        return self.wall != "solid"


@cache
def boards() -> dict[str, Board]:
    """The board library by name, in the order of its file."""
    return _boards(shipped_table("boards"), "boards.toml")


def read_boards(path: Path) -> dict[str, Board]:
    """The boards of a user's file, by name.

    Args:
        path: A TOML file in the form of the library (see docs/boards.md).

    Raises:
        BoardError: If the file cannot be read or is not TOML.
        JobError: If boards in it lack values or hold impossible ones; every problem at once.
    """
    return boards_from_text(read_text(path, "board file"), str(path))


def find_board(name: str, more: Mapping[str, Board] | None = None, *, where: str = "board") -> Board:
    """The board of a name, a user's own before the library's.

    Raises:
        UnknownNameError: With the nearest names, if there is none.
    """
    known = {**boards(), **(more or {})}
    if name in known:
        return known[name]
    for other, board in known.items():
        if other.casefold() == name.casefold():
            return board
    raise UnknownNameError(where, name, known, listed="dieline boards")


def boards_from_text(text: str, source: str) -> dict[str, Board]:
    """The boards that a TOML text describes, by name; see ``read_boards``."""
    return _boards(parse_toml(text, source, "board file"), source)


def _boards(data: Mapping[str, object], source: str) -> dict[str, Board]:
    found: dict[str, Board] = {}
    problems: list[BoardError] = []
    entries = data.get("board")
    if not isinstance(entries, list) or not entries or set(data) - {"board"}:
        raise BoardError(
            source, "holds no [[board]]", "it must hold one [[board]] table for each board, and nothing else"
        )
    for number, entry in enumerate(entries, 1):
        board = _board(entry, f"board {number}", problems)
        if board is not None:
            found[board.name] = board
    if problems:
        raise JobError(source, problems)
    return found


def _board(entry: Mapping[str, object], where: str, problems: list[BoardError]) -> Board | None:
    before = len(problems)
    name = entry.get("name")
    if not isinstance(name, str) or not name or not name.isascii():
        problems.append(BoardError(f"{where}.name", repr(name), "every board must have a name in plain ASCII"))
        return None
    where = f"{where} '{name}'"
    for key in sorted(set(entry) - _KEYS):
        problems.append(BoardError(f"{where}.{key}", "is not known", f"the keys are {', '.join(sorted(_KEYS))}"))
    wall = entry.get("wall")
    if wall not in WALLS:
        problems.append(BoardError(f"{where}.wall", repr(wall), f"it must be one of {', '.join(WALLS)}"))
    flutes = entry.get("flutes", [])
    if not isinstance(flutes, list) or not all(isinstance(letter, str) for letter in flutes):
        problems.append(BoardError(f"{where}.flutes", repr(flutes), "it must be a list of flute letters"))
        flutes = []
    values = {key: _given(entry[key], f"{where}.{key}", problems) for key in _NUMBERS if key in entry}
    lists = {key: _numbers(entry.get(key, []), f"{where}.{key}", problems) for key in _LISTS}
    calliper = values.get("calliper")
    if calliper is None:
        if "calliper" not in entry:
            problems.append(BoardError(f"{where}.calliper", "is missing", "every board must state its thickness in mm"))
        return None
    for key in ("calliper", "design"):
        value = values.get(key)
        if value is not None and not _LEAST_CALLIPER <= value.value <= _GREATEST_CALLIPER:
            must = f"it must be {_LEAST_CALLIPER} to {_GREATEST_CALLIPER} mm"
            problems.append(BoardError(f"{where}.{key}", f"{value.value} mm", must, "check the unit"))
    strength = _strength(entry, len(flutes), where, problems)
    design = values.get("design")
    if design is not None and not _DESIGN[0] <= design.value / calliper.value <= _DESIGN[1]:
        must = f"it must be {_DESIGN[0]:g} to {_DESIGN[1]:g} times the calliper {calliper.value:g} mm"
        problems.append(BoardError(f"{where}.design", f"{design.value:g} mm", must, "check the decimal point"))
    if len(problems) > before:
        return None
    give, give_flat = values.get("give"), values.get("give_flat")
    return Board(
        name=name,
        wall=str(wall),
        flutes=tuple(flutes),
        calliper=calliper,
        design=values.get("design") or replace(calliper),
        give=give.value if give else 0.5,
        give_flat=give_flat.value if give_flat else 1.0,
        grammage=values.get("grammage"),
        flute_height=lists["flute_height"],
        flute_pitch=lists["flute_pitch"],
        sources=tuple((key, value.source, value.confidence) for key, value in values.items() if value),
        note=str(entry.get("note", "")),
        **strength,
    )


def _strength(entry: Mapping[str, object], flutes: int, where: str, problems: list[BoardError]) -> dict[str, Any]:
    """What a board says of its strength, as fields of ``Board``; most boards say nothing."""
    if not any(key in entry for key in _STRENGTH):
        return {}
    from .paper import papers_from_data

    grade = entry.get("grade", "")
    if not isinstance(grade, str):
        problems.append(BoardError(f"{where}.grade", repr(grade), 'it must be text in quotes, such as "1.30"'))
    stiff = [_given(entry[key], f"{where}.{key}", problems) for key in _BENDING if key in entry]
    if len(stiff) == 1:
        must = "bending stiffness must be stated both along and across the machine"
        problems.append(BoardError(f"{where}.bending", "one of bending_md and bending_cd is missing", must))
    return {
        "papers": papers_from_data(entry, flutes, where, problems),
        "ect": _ect(entry.get("ect"), f"{where}.ect", problems),
        "grade": str(grade),
        "bending": (stiff[0], stiff[1]) if len(stiff) == 2 and all(stiff) else None,
    }


def _ect(raw: object, where: str, problems: list[BoardError]) -> Given | None:
    """An edge crush resistance in kN/m, from a number of kN/m or text with its unit."""
    if raw is None:
        return None
    from .force import ect_in_range, parse_line_force

    table: Mapping[str, Any] = raw if isinstance(raw, Mapping) else {"value": raw}
    try:
        value = ect_in_range(parse_line_force(table.get("value", ""), where=where), where=where)
    except InputError as error:
        problems.append(BoardError(error.where, error.what, error.must, error.cure))
        return None
    return _given({**table, "value": value}, where, problems)


def _given(raw: object, where: str, problems: list[BoardError]) -> Given | None:
    """One value: a bare number (then the house's own), or a table with value, source and confidence."""
    source, confidence = "the user's board file", "house"
    if isinstance(raw, dict):
        source = str(raw.get("source", source))
        confidence = str(raw.get("confidence", confidence))
        raw = raw.get("value")
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not math.isfinite(raw) or raw <= 0:
        problems.append(BoardError(where, repr(raw), "it must be a number above 0, or a table with a value"))
        return None
    return Given(float(raw), source, confidence)


def _numbers(raw: object, where: str, problems: list[BoardError]) -> tuple[float, ...]:
    if isinstance(raw, dict):
        raw = raw.get("value")
    items: Iterable[object] = raw if isinstance(raw, list) else [raw]
    numbers = tuple(float(item) for item in items if isinstance(item, int | float) and not isinstance(item, bool))
    if not isinstance(raw, list) or len(numbers) != len(raw):
        problems.append(BoardError(where, repr(raw), "it must be a list of numbers, one for each flute"))
    return numbers
