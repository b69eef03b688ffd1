"""House files: what a plant has decided about sizes, defaults and rounding."""

from __future__ import annotations

from pathlib import Path

from .errors import DielineError, InputError, JobError, UnknownNameError
from .sizing import Allowance, House
from .textfile import line_of, parse_toml, read_text
from .units import format_mm, parse_length

__all__ = ["house_from_text", "read_house"]

_TABLES = ("name", "allowance", "default", "rounding", "joint", "crease")
_ALLOWANCE = ("size", "style", "board", "add", "set", "same_as", "why")
_DEFAULT = ("option", "value", "style", "board")


def read_house(path: Path) -> House:
    """The house of a file; see ``house_from_text``.

    Raises:
        BoardError: If the file cannot be read.
        JobError: With every problem in it.
    """
    return house_from_text(read_text(path, "house file"), str(path))


def house_from_text(text: str, source: str) -> House:
    """The house that a TOML text describes (see docs/house.md).

    Args:
        text: The text of a house file.
        source: Where it comes from, for errors.

    Raises:
        BoardError: If the text is not TOML.
        JobError: With every problem in it.
    """
    data = parse_toml(text, source, "house file")
    problems: list[DielineError] = [UnknownNameError(key, key, _TABLES) for key in data if key not in _TABLES]
    house = House(
        name=str(data.get("name", Path(source).name)),
        allowances=tuple(
            entry
            for number, table in enumerate(_list(data, "allowance", problems), 1)
            if (entry := _allowance(table, f"allowance {number}", problems)) is not None
        ),
        defaults=tuple(
            default
            for number, table in enumerate(_list(data, "default", problems), 1)
            if (default := _default(table, f"default {number}", problems)) is not None
        ),
        step=_number(data, "rounding", "to", 5.0, "coarser, sizes miss what was asked for", problems),
        crush=_number(data, "joint", "crush", 1.0, "walls cannot be crushed by more than their board", problems),
        give=_number(data, "crease", "give", 3.0, "no crease lets its panel wander further", problems)
        if "crease" in data
        else None,
    )
    for problem in problems:
        problem.line = line_of(text, problem.where)
    if problems:
        raise JobError(source, problems)
    return house


def _list(data: dict[str, object], key: str, problems: list[DielineError]) -> list[dict[str, object]]:
    entries = data.get(key, [])
    if isinstance(entries, list) and all(isinstance(entry, dict) for entry in entries):
        return entries
    problems.append(InputError(key, repr(entries), f"it must be tables headed [[{key}]]"))
    return []


def _allowance(table: dict[str, object], where: str, problems: list[DielineError]) -> Allowance | None:
    before = len(problems)
    problems += [UnknownNameError(f"{where}.{key}", key, _ALLOWANCE) for key in table if key not in _ALLOWANCE]
    texts = {
        key: table.get(key, "*" if key in ("style", "board") else "")
        for key in ("size", "style", "board", "same_as", "why")
    }
    for key, text in texts.items():
        if not isinstance(text, str):
            problems.append(InputError(f"{where}.{key}", repr(text), "it must be text"))
    if not texts["size"]:
        problems.append(
            InputError(f"{where}.size", "is missing", "an allowance must name the dimension that it changes")
        )
    lengths: dict[str, float] = {}
    for key in ("add", "set"):
        if key in table:
            try:
                lengths[key] = parse_length(table[key], where=f"{where}.{key}")  # type: ignore[arg-type]  # it refuses the rest
            except InputError as error:
                problems.append(error)
    if not {"add", "set", "same_as"} & set(table):
        problems.append(InputError(where, "changes nothing", "it must hold add, set or same_as"))
    if len(problems) > before:
        return None
    return Allowance(
        size=str(texts["size"]),
        style=str(texts["style"]),
        board=str(texts["board"]),
        add=lengths.get("add", 0.0),
        put=lengths.get("set"),
        same_as=str(texts["same_as"]),
        why=str(texts["why"]),
    )


def _default(table: dict[str, object], where: str, problems: list[DielineError]) -> tuple[str, str, str, object] | None:
    before = len(problems)
    problems += [UnknownNameError(f"{where}.{key}", key, _DEFAULT) for key in table if key not in _DEFAULT]
    for key in ("option", "value"):
        if key not in table:
            problems.append(InputError(f"{where}.{key}", "is missing", "a default must name an option and its value"))
    if len(problems) > before:
        return None
    return str(table.get("style", "*")), str(table.get("board", "*")), str(table["option"]), table["value"]


def _number(
    data: dict[str, object], table: str, key: str, most: float, why: str, problems: list[DielineError]
) -> float:
    entries = data.get(table, {})
    if not isinstance(entries, dict) or set(entries) - {key}:
        problems.append(InputError(table, repr(entries), f"it must be a table with {key}"))
        return 0.0
    raw = entries.get(key, 0.0)
    try:
        value = parse_length(raw, where=f"{table}.{key}")
    except InputError as error:
        problems.append(error)
        return 0.0
    if not 0.0 <= value <= most:
        problems.append(InputError(f"{table}.{key}", str(raw), f"it must be 0 to {format_mm(most)}: {why}"))
    return value
