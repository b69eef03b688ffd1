"""Machine profiles: how a plant names its layers, colours and pens, and what its machines can take."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from pathlib import Path

from .errors import BoardError, DielineError, JobError, UnknownNameError
from .linetypes import IN_TURN, LOOKS, TOOL_ORDER, Meaning
from .textfile import line_of, parse_toml, read_text
from .units import parse_length

__all__ = ["LIMITS", "Limit", "MachineProfile", "Pen", "machine_from_text", "read_machine"]

LIMITS: dict[str, str] = {
    "blank_length": "blank across the flutes (x on the drawing)",
    "blank_width": "blank along the flutes (y on the drawing)",
    "panel": "width of a wall",
    "depth": "height of a wall",
    "flap": "length of a flap from its crease",
    "lap": "width of the lap",
    "slot": "width of the slots",
    "board": "thickness of the board",
}
"""The sizes that a machine may limit, each with what it measures."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How one meaning is named on a plant's machine.

    Attributes:
        layer: Layer name, ASCII.
        colour: sRGB as ``#rrggbb``.
        colour_index: DXF colour index, 1 to 255.
        pen: Pen or tool number, where the machine wants one; 0 for none.
        pattern: For what is cut and left in turn: mm cut, mm left; None where the plant has not said.
    """

    layer: str
    colour: str
    colour_index: int
    pen: int = 0
    pattern: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """Least and greatest value of a size, mm.

    Attributes:
        least: Least value.
        most: Greatest value.
        only: The values that the machine owns tools for; empty if any value between will do.
    """

    least: float = -math.inf
    most: float = math.inf
    only: tuple[float, ...] = ()


@dataclass(frozen=True, kw_only=True)
class MachineProfile:
    """One machine, or one die maker.

    Attributes:
        name: Its name; empty for the house profile.
        pens: What each meaning is called.
        limits: What it can take; we ship none.
    """

    name: str = ""
    pens: Mapping[Meaning, Pen] = field(
        default_factory=lambda: {
            meaning: Pen(look.layer, look.colour, look.colour_index) for meaning, look in LOOKS.items()
        }
    )
    limits: Mapping[str, Limit] = field(default_factory=dict)

    @cached_property
    def meanings(self) -> Mapping[str, Meaning]:
        """What each layer stands for, by its name in capitals: of several meanings, the first that a tool acts on."""
        rest = [meaning for meaning in Meaning if meaning not in TOOL_ORDER]
        return {self.pens[meaning].layer.upper(): meaning for meaning in reversed([*TOOL_ORDER, *rest])}


def read_machine(path: Path) -> MachineProfile:
    """The profile of a machine file; see ``machine_from_text``.

    Raises:
        BoardError: If the file cannot be read.
        JobError: With every problem in it.
    """
    return machine_from_text(read_text(path, "machine file"), str(path))


def machine_from_text(text: str, source: str) -> MachineProfile:
    """The profile that a TOML text describes (see docs/machines.md).

    Args:
        text: The text of a machine file.
        source: Where it comes from, for errors.

    Raises:
        BoardError: If the text is not TOML.
        JobError: With every problem in it.
    """
    data = parse_toml(text, source, "machine file")
    problems: list[DielineError] = [
        UnknownNameError(key, key, ("name", "lines", "limits"))
        for key in data
        if key not in ("name", "lines", "limits")
    ]
    pens = _pens(data.get("lines", {}), problems)
    limits = _limits(data.get("limits", {}), problems)
    for problem in problems:
        problem.line = line_of(text, problem.where)
    if problems:
        raise JobError(source, problems)
    return MachineProfile(name=str(data.get("name", Path(source).stem)), pens=pens, limits=limits)


def _pens(tables: object, problems: list[DielineError]) -> dict[Meaning, Pen]:
    pens = dict(MachineProfile().pens)
    if not isinstance(tables, dict):
        problems.append(BoardError("lines", repr(tables), "it must be tables such as [lines.cut]"))
        return pens
    by_word = {_word(meaning): meaning for meaning in Meaning}
    for word, table in tables.items():
        where = f"lines.{word}"
        meaning = by_word.get(word)
        if meaning is None:
            problems.append(UnknownNameError(where, word, by_word))
            continue
        if not isinstance(table, dict) or set(table) - {"layer", "colour", "index", "pen", "pattern"}:
            problems.append(
                BoardError(where, repr(table), "it may hold layer, colour, index, pen and pattern, and nothing else")
            )
            continue
        try:
            pattern = _pattern(meaning, table.get("pattern"), f"{where}.pattern")
        except DielineError as error:
            problems.append(error)
            continue
        house = pens[meaning]
        layer = table.get("layer", house.layer)
        colour = table.get("colour", house.colour)
        index = table.get("index", house.colour_index)
        pen = table.get("pen", 0)
        if not _plain(layer):
            problems.append(BoardError(f"{where}.layer", repr(layer), "it must be a plain ASCII layer name"))
        elif not isinstance(colour, str) or len(colour) != 7 or colour[0] != "#" or not _hex(colour[1:]):
            problems.append(BoardError(f"{where}.colour", repr(colour), "it must be written #rrggbb"))
        elif isinstance(index, bool) or not isinstance(index, int) or not 1 <= index <= 255:
            problems.append(BoardError(f"{where}.index", repr(index), "it must be a DXF colour index, 1 to 255"))
        elif isinstance(pen, bool) or not isinstance(pen, int) or not 0 <= pen <= 99:
            problems.append(BoardError(f"{where}.pen", repr(pen), "it must be a pen number, 0 to 99"))
        else:
            pens[meaning] = Pen(layer, colour, index, pen, pattern)
    _apart(pens, tables, problems)
    return pens


def _pattern(meaning: Meaning, raw: object, where: str) -> tuple[float, float] | None:
    """How much is cut and how much left in turn, mm; None where the file does not say."""
    if raw is None:
        return None
    if meaning not in IN_TURN:
        words = " and ".join(meaning.value for meaning in IN_TURN)
        raise BoardError(where, repr(raw), f"only {words} are cut and left in turn", "leave it out")
    if not isinstance(raw, list) or len(raw) != 2:
        raise BoardError(where, repr(raw), "it must be [mm cut, mm left]")
    cut, left = (parse_length(value, where=where) for value in raw)
    if not (cut > 0 and left > 0):
        raise BoardError(where, repr(raw), "both lengths must be more than 0 mm")
    return cut, left


def _apart(pens: Mapping[Meaning, Pen], tables: Mapping[str, object], problems: list[DielineError]) -> None:
    """Refuse two meanings on one layer, unless the file says that they are one tool; letter case makes no layer."""
    for (one, pen), (other, second) in combinations(pens.items(), 2):
        if pen.layer.casefold() != second.layer.casefold():
            continue
        if (pen.layer, pen.colour_index, pen.pen) == (second.layer, second.colour_index, second.pen):
            continue
        word = next(word for word in (_word(other), _word(one)) if word in tables)
        must = f"{one.value} and {other.value} would be one layer to the machine, and made by one tool"
        cure = "name another layer, or give both the same layer, index and pen if one tool makes both"
        problems.append(BoardError(f"lines.{word}.layer", repr(second.layer), must, cure))


def _word(meaning: Meaning) -> str:
    """The key of a meaning in the file."""
    return meaning.value.replace(" ", "-")


def _plain(layer: object) -> bool:
    """Whether every reader takes it for a layer's name: ASCII, nothing that DXF reserves, no blank at its ends."""
    if not isinstance(layer, str) or not layer or layer != layer.strip() or not layer.isascii():
        return False
    return layer.isprintable() and not set(layer) & set("<>/\\\":;?*|=,'")


def _hex(text: str) -> bool:
    return all(character in "0123456789abcdefABCDEF" for character in text)


def _limits(table: object, problems: list[DielineError]) -> dict[str, Limit]:
    limits: dict[str, Limit] = {}
    if not isinstance(table, dict):
        problems.append(BoardError("limits", repr(table), "it must be a table of sizes"))
        return limits
    for name, raw in table.items():
        where = f"limits.{name}"
        if name not in LIMITS:
            problems.append(UnknownNameError(where, name, LIMITS))
            continue
        try:
            if isinstance(raw, dict) and set(raw) == {"only"} and isinstance(raw["only"], list) and raw["only"]:
                limits[name] = Limit(only=tuple(parse_length(value, where=where) for value in raw["only"]))
                continue
            if not isinstance(raw, list) or len(raw) != 2:
                raise BoardError(where, repr(raw), "it must be [least, greatest], or { only = [sizes] }")
            low, high = (parse_length(value, where=where) for value in raw)
            if low > high:
                raise BoardError(where, repr(raw), "the least must not be more than the greatest")
            limits[name] = Limit(low, high)
        except DielineError as error:
            problems.append(error)
    return limits
