"""From rows to items: the job of each row, its name, its digest; collisions found before anything is drawn."""

from __future__ import annotations

import hashlib
import json
import re
from array import array
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..errors import DielineError, InputError
from ..registry import find_style
from ..style.contract import Style
from ..units import format_mm, parse_length
from .table import Row, Table

__all__ = ["DEFAULT_NAMES", "Failure", "Item", "Plan", "plan_items", "safe_name"]

DEFAULT_NAMES = "{style}-{length}x{breadth}x{height}-{board}"
"""Pattern of names, made of columns."""

_SIDES = ("length", "breadth", "height", "fourth")
_KEYS = ("style", "board", "name", "revision", "note", "size_is")
_RESERVED = {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(1, 10)), *(f"lpt{n}" for n in range(1, 10))}
"""Names that one common system keeps for itself, whatever the suffix."""

_LONGEST = 120


@dataclass(frozen=True, slots=True)
class Item:
    """One box to be drawn.

    Attributes:
        row: Number of its row in the table.
        place: Its place among all items, from 0.
        name: Name of its files.
        job: Its job as plain data.
        extra: Columns carried through to the summary.
        digest: Sixteen characters that change when anything of the job or of the extra columns does.
    """

    row: int
    place: int
    name: str
    job: dict[str, Any]
    extra: dict[str, str] = field(default_factory=dict)
    digest: str = ""


@dataclass(frozen=True, slots=True)
class Failure:
    """A row that cannot be drawn.

    Attributes:
        row: Number of the row.
        cells: Its cells as read.
        reason: What is wrong, with the column where one is to blame.
    """

    row: int
    cells: Mapping[str, object]
    reason: str


class Plan:
    """What a table asks for: items, made one by one whenever they are gone through, so that no count of them is held.

    Args:
        table: The table.
        base: A job's data: what rows leave open.
        names: Pattern of names; ``{column}`` stands for a column or a part of the job.

    Attributes:
        failures: The rows that cannot be an item.

    Raises:
        InputError: If two items would have one name, or the pattern names a column that is not there.
    """

    def __init__(self, table: Table, base: Mapping[str, Any], names: str = DEFAULT_NAMES) -> None:
        self.table, self.base, self.names = table, base, names
        self.failures: list[Failure] = []
        self._styles: dict[str, tuple[Style, frozenset[str]]] = {}
        # Names are held as numbers of eight bytes; only where two of them are the same are the names looked at.
        taken = array("q")
        try:
            for row in table.spread():
                try:
                    taken.append(hash(self._job(row)[0]["name"].casefold()))
                except DielineError as error:
                    self.failures.append(Failure(row.number, row.cells, str(error)))
        except DielineError as error:
            must = "every range must be readable before anything is drawn"
            raise InputError(table.source, str(error), must) from None
        self._count = len(taken)
        if len(np.unique(taken)) < self._count:
            self._refuse_doubles()

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[Item]:
        place = 0
        for row in self.table.spread():
            try:
                job, extra = self._job(row)
            except DielineError:
                continue  # told already
            digest = hashlib.sha256(json.dumps([job, extra], sort_keys=True).encode()).hexdigest()[:16]
            yield Item(row.number, place, job["name"], job, extra, digest)
            place += 1

    def _refuse_doubles(self) -> None:
        taken: dict[str, Item] = {}
        for item in self:
            other = taken.setdefault(item.name.casefold(), item)
            if other is not item:
                raise InputError(
                    f"{self.table.source}: rows {other.row} and {item.row}",
                    f"'{item.name}' twice",
                    "every item must have a name of its own, whatever its case",
                    "add a column to --names",
                )

    def _style(self, code: str, row: Row) -> tuple[Style, frozenset[str]]:
        """A style and the names of its options."""
        found = self._styles.get(code)
        if found is None:
            style = find_style(code, where=f"row {row.number}, style")
            found = self._styles[code] = style, frozenset(parameter.name for parameter in style.parameters)
        return found

    def _job(self, row: Row) -> tuple[dict[str, Any], dict[str, str]]:
        """The job of a row, and the columns that are carried along."""
        table = self.table
        job: dict[str, Any] = {key: value for key, value in self.base.items() if key != "name"}
        options = dict(job.get("options", {}))
        sides: dict[str, float] = {}
        extra: dict[str, str] = {}
        if "?" in row.cells:
            what = f"{row.cells['?']!r} beyond the last column"
            raise InputError(f"row {row.number}", what, "it must have a header")
        words = {table.words[head]: (head, cell) for head, cell in row.cells.items()}
        for key in _KEYS:
            if key in words:
                job[key] = _text(words[key][1])
        _, known = self._style(_needed(job, "style", row), row)
        _needed(job, "board", row)
        for word, (head, cell) in words.items():
            if word in _SIDES:
                sides[word] = parse_length(cell, where=f"row {row.number}, {head}", unit=table.units.get(head, "mm"))
            elif word in known:
                unit = table.units.get(head)
                options[word] = f"{cell:g} {unit}" if unit and isinstance(cell, float) else cell
            elif word == "mass":
                job["contents"] = {"mass": cell}
            elif word not in _KEYS or word == "name":
                extra[head] = _text(cell)
        missing = [side for side in _SIDES[:3] if side not in sides]
        if missing and "size" not in job:
            what = f"no {' and no '.join(missing)}"
            raise InputError(f"row {row.number}", what, "every row must have its three sides")
        if not missing:
            size = "x".join(repr(sides[side]).removesuffix(".0") for side in _SIDES[:3])
            job["size"] = size if "fourth" not in sides else f"{size}/{repr(sides['fourth']).removesuffix('.0')}"
        if options:
            job["options"] = options
        job["name"] = _name(self.names, table, row, job, sides)
        return job, extra


def plan_items(table: Table, base: Mapping[str, Any], names: str = DEFAULT_NAMES) -> tuple[list[Item], list[Failure]]:
    """The items of a table all at once, and the rows that cannot be one; see ``Plan``."""
    plan = Plan(table, base, names)
    return list(plan), plan.failures


def _needed(job: Mapping[str, Any], key: str, row: Row) -> str:
    value = job.get(key)
    if not isinstance(value, str) or not value:
        raise InputError(f"row {row.number}", f"no {key}", f"every row must have a {key}, or --{key} must give one")
    return value


def _text(cell: object) -> str:
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return format_mm(cell, 6) if isinstance(cell, float) else str(cell)


def _name(pattern: str, table: Table, row: Row, job: Mapping[str, Any], sides: Mapping[str, float]) -> str:
    known = {
        **{word: _text(row.cells[head]) for head, word in table.words.items() if head in row.cells},
        **{head: _text(cell) for head, cell in row.cells.items()},
        **{key: str(value) for key, value in job.items() if isinstance(value, str)},
        **{side: format_mm(value) for side, value in sides.items()},
        "row": str(row.number),
    }

    def part(match: re.Match[str]) -> str:
        if match[1] not in known:
            if match[1] in table.words or match[1] in table.words.values() or match[1] in _SIDES:
                return ""
            raise InputError("--names", f"{{{match[1]}}}", f"it must be one of {', '.join(sorted(known))}")
        return known[match[1]]

    return safe_name(re.sub(r"\{([^{}]+)\}", part, pattern))


def safe_name(text: str) -> str:
    """A file name that every system takes: plain letters, no reserved word, no dot or dash at its ends, not too long.

    Example:
        >>> safe_name("0201/0204 – 300x200.5"), safe_name("CON"), safe_name("  ..  ")
        ('0201-0204-300x200.5', 'CON-', 'item')
    """
    name = re.sub(r"[^A-Za-z0-9._-]+", "-", text)
    name = re.sub(r"-{2,}", "-", name).strip("-.")[:_LONGEST].rstrip("-.") or "item"
    return f"{name}-" if name.split(".")[0].lower() in _RESERVED else name
