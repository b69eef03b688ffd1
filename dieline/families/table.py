"""Tables of sizes: CSV, XLSX or TOML with a header in plain words, units per column, and ranges."""

from __future__ import annotations

import csv
import io
import itertools
import json
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..errors import BoardError, InputError
from ..textfile import parse_toml, read_text
from ..units import parse_length

__all__ = ["SIZE_WORDS", "Cell", "Row", "Rows", "Table", "read_table"]

SIZE_WORDS = {
    "length": "length",
    "l": "length",
    "breadth": "breadth",
    "width": "breadth",
    "b": "breadth",
    "height": "height",
    "depth": "height",
    "h": "height",
    "fourth": "fourth",
    "lid height": "fourth",
    "overlap": "fourth",
    "o": "fourth",
}
"""Header words for the sides of the box, each with the side that it names."""

_UNITS = ("mm", "cm", "in", "inch", "inches")
_HEAD = re.compile(r"^(?P<word>.*?)\s*[\[(]?\s*(?P<unit>mm|cm|in|inch|inches)\s*[\])]?$", re.IGNORECASE)
_RANGE = re.compile(
    r"^\s*(?P<low>[^.]+(?:\.\d+)?)\s*\.\.\s*(?P<high>.+?)(?:\s+step\s+(?P<step>.+?))?\s*$", re.IGNORECASE
)
_MOST_IN_RANGE = 100_000

_MOST_IN_ROW = 1_000_000
"""Boxes that the ranges of one row may make together; more is a slip of the pen."""

Cell = str | float | bool


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table.

    Attributes:
        number: Its number as a person counts it: the header is row 1.
        cells: Its cells by header word, in the order of the columns; empty ones are left out.
    """

    number: int
    cells: dict[str, Cell]


class Rows:
    """Rows held small: as lines of JSON, made into rows again whenever they are gone through.

    Args:
        rows: The rows.
    """

    def __init__(self, rows: Iterable[Row] = ()) -> None:
        lines = io.BytesIO()
        for row in rows:
            lines.write(json.dumps([row.number, row.cells]).encode() + b"\n")
        self._lines = lines.getvalue()

    def __iter__(self) -> Iterator[Row]:
        return (Row(*json.loads(line)) for line in io.BytesIO(self._lines))

    def __bool__(self) -> bool:
        return bool(self._lines)


@dataclass(frozen=True, slots=True)
class Table:
    """A table of sizes.

    Attributes:
        source: Where it comes from.
        heads: The header words as written, in order.
        words: What each column means, by its header: a side, or the header itself in lower case.
        units: Unit of bare numbers in a column, by its header.
        rows: The rows, ranges not yet spread out.
    """

    source: str
    heads: tuple[str, ...]
    words: dict[str, str]
    units: dict[str, str]
    rows: Rows

    def spread(self) -> Iterator[Row]:
        """The rows with every range spread out: ``300..600 step 20`` in a cell makes a row for each value."""
        for row in self.rows:
            spans = {head: self._values(head, cell, row.number) for head, cell in row.cells.items()}
            if all(len(values) == 1 for values in spans.values()):
                yield row
                continue
            count = math.prod(len(values) for values in spans.values())
            if count > _MOST_IN_ROW:
                what = f"its ranges make {count} boxes together"
                cure = "take larger steps, or several rows"
                raise InputError(f"{self.source}: row {row.number}", what, f"at most {_MOST_IN_ROW}", cure)
            for values in itertools.product(*spans.values()):
                yield Row(row.number, dict(zip(spans, values, strict=True)))

    def _values(self, head: str, cell: Cell, number: int) -> Sequence[Cell]:
        match = _RANGE.match(cell) if isinstance(cell, str) and ".." in cell else None
        if match is None:
            return (cell,)
        where = f"{self.source}: row {number}, {head}"
        unit = self.units.get(head, "mm")
        ends = [parse_length(match[key].strip(), where=where, unit=unit) for key in ("low", "high")]
        step = parse_length(match["step"] or "10", where=where, unit=unit if match["step"] else "mm")
        if step <= 0 or ends[1] < ends[0]:
            raise InputError(where, repr(cell), "a range must run upward by a step above 0", "write 300..600 step 20")
        count = math.floor((ends[1] - ends[0]) / step + 1e-9) + 1
        if count > _MOST_IN_RANGE:
            raise InputError(
                where, f"{count} values", f"a range must have at most {_MOST_IN_RANGE}", "take a larger step"
            )
        return [f"{round(ends[0] + place * step, 6):g} mm" for place in range(count)]


def read_table(path: Path) -> Table:
    """The table of a CSV, XLSX or TOML file.

    Raises:
        BoardError: If the file cannot be read.
        InputError: If it holds no table, or its header is doubled or empty.
    """
    suffix = path.suffix.lower()
    if suffix == ".xlsx":
        grid = _xlsx(path)
    elif suffix == ".toml":
        grid = _toml(path)
    elif suffix in (".csv", ".tsv", ".txt"):
        grid = _csv(read_text(path, "table of sizes"), str(path))
    else:
        raise InputError(str(path), f"'{suffix or path.name}'", "a table must be a .csv, .xlsx or .toml file")
    return _table(grid, str(path))


Grid = Iterator[Sequence[Any]]
"""Rows of cells as they stand in the file."""


def _csv(text: str, source: str) -> Grid:
    head = text.split("\n", 1)[0]
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(",;\t", key=head.count))
    try:
        yield from reader
    except csv.Error as error:
        raise InputError(source, f"is no table: {error}", "it must be a CSV file", line=reader.line_num) from None


def _xlsx(path: Path) -> Grid:
    try:
        import openpyxl
    except ModuleNotFoundError:
        raise InputError(
            str(path), "is an XLSX file", "reading it needs openpyxl", "pip install 'dieline[family]'"
        ) from None
    if not path.exists():
        raise BoardError(str(path), "No such file or directory", "it must be a readable table of sizes")
    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    except Exception as error:  # whatever a broken archive makes openpyxl raise
        raise BoardError(str(path), f"is no workbook: {error}", "it must be an XLSX file") from None
    return _sheet(book)


def _sheet(book: Any) -> Grid:
    for row in book.worksheets[0].iter_rows(values_only=True):
        yield ["" if cell is None else cell for cell in row]
    book.close()


def _toml(path: Path) -> Grid:
    """Rows as [[item]] tables, or one [range] table; keys are the header words."""
    data = parse_toml(read_text(path, "table of sizes"), str(path), "table of sizes")
    items = data.get("item", [])
    if isinstance(data.get("range"), dict):
        items = [*items, data["range"]]
    if not isinstance(items, list) or not items or set(data) - {"item", "range"}:
        raise InputError(str(path), "holds no sizes", "it must hold [[item]] tables, or one [range] table")
    heads = list(dict.fromkeys(key for item in items for key in item))
    return iter([heads, *([item.get(head, "") for head in heads] for item in items)])


def _table(grid: Grid, source: str) -> Table:
    first = next((cells for cells in grid if any(str(cell).strip() for cell in cells)), None)
    if first is None:
        raise InputError(source, "is empty", "it must have a header row and a row for each size")
    heads = [str(cell).strip() for cell in first]
    while heads and not heads[-1]:
        heads.pop()
    words: dict[str, str] = {}
    units: dict[str, str] = {}
    for place, head in enumerate(heads, 1):
        if not head:
            raise InputError(f"{source}: row 1, column {place}", "is empty", "every column must have a header")
        if head in words:
            raise InputError(f"{source}: row 1", f"'{head}' twice", "every column must have a header of its own")
        match = _HEAD.match(head)
        bare = match["word"].strip() if match and match["word"].strip() else head
        words[head] = SIZE_WORDS.get(bare.lower(), bare.lower().replace(" ", "_").replace("-", "_"))
        if match and match["word"].strip():
            units[head] = match["unit"].lower()
    for word in ("length", "breadth", "height"):
        doubles = [head for head, meaning in words.items() if meaning == word]
        if len(doubles) > 1:
            raise InputError(f"{source}: row 1", " and ".join(doubles), f"only one column may hold the {word}")
    rows = Rows(_filled(grid, heads))
    if not rows:
        raise InputError(source, "has no rows", "it must have a row for each size")
    return Table(source, tuple(heads), words, units, rows)


def _filled(grid: Grid, heads: Sequence[str]) -> Iterator[Row]:
    """The rows that are not empty."""
    for number, cells in enumerate(grid, 2):
        filled = {head: _clean(cell) for head, cell in zip(heads, cells, strict=False) if str(cell).strip() != ""}
        extra = [str(cell) for cell in cells[len(heads) :] if str(cell).strip()]
        if extra:
            filled["?"] = extra[0]
        if filled:
            yield Row(number, filled)


def _clean(cell: Any) -> Cell:
    if isinstance(cell, bool):
        return cell
    if isinstance(cell, int | float):
        return float(cell)
    return str(cell).strip()
