"""The summary of a family: CSV, XLSX and a page; and the rows that failed, ready to mend and run again."""

from __future__ import annotations

import csv
import io
import itertools
from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from ..errors import InputError
from .plan import Failure
from .store import replace_file
from .table import Table

__all__ = ["FAILED", "SUMMARIES", "Summary", "write_failed", "write_summaries"]

SUMMARIES = ("csv", "xlsx", "html")
FAILED = "failed.csv"

Entries = Iterable[tuple[int, Mapping[str, Any]]]
"""Row number and journal entry of each item that was drawn; gone through several times."""


class Summary:
    """The rows of the summary with names, carried columns and groups of blanks that share a width; made as asked for.

    Args:
        entries: The items that were drawn.
        near: Widths that differ by at most this much from the least of their group stand in one group, mm.

    Attributes:
        heads: Every column, and whether it holds nothing but numbers.
        count: How many rows there are.
    """

    def __init__(self, entries: Entries, near: float) -> None:
        self._entries = entries
        self.heads: dict[str, bool] = {}
        widths = array("d")
        for number, entry in entries:
            widths.append(entry["summary"]["blank width"])
            for head, cell in self._row(number, entry, 0, 0).items():
                self.heads[head] = self.heads.get(head, True) and isinstance(cell, int | float | None)
        self.heads.pop("picture", None)
        self.count = len(widths)
        self._widths = np.sort(widths)
        firsts, at = array("d"), 0
        while at < self.count:
            firsts.append(self._widths[at])
            at = int(np.searchsorted(self._widths - firsts[-1], near, "right"))
        self._firsts = np.array(firsts)

    def __iter__(self) -> Iterator[dict[str, Any]]:
        for number, entry in self._entries:
            width = entry["summary"]["blank width"]
            low, high = np.searchsorted(self._widths, width, "left"), np.searchsorted(self._widths, width, "right")
            group = np.searchsorted(self._firsts, width, "right")
            yield self._row(number, entry, int(high - low), int(group))

    def _row(self, number: int, entry: Mapping[str, Any], shared: int, group: int) -> dict[str, Any]:
        summary = dict(entry["summary"])
        picture = summary.pop("picture", "")
        row = {"row": number, "file": entry["name"], **summary, "width shared by": shared, "width group": group}
        return {**row, **entry["extra"], "picture": picture}


def write_summaries(folder: Path, entries: Entries, kinds: Sequence[str], near: float) -> list[Path]:
    """Write the summaries asked for; each appears whole.

    Raises:
        InputError: For a kind that is not known, or XLSX without openpyxl.
        OutputError: If one cannot be written.
    """
    for kind in kinds:
        if kind not in SUMMARIES:
            raise InputError("summary", repr(kind), f"it must be one of {', '.join(SUMMARIES)}")
    if not kinds:
        return []
    summary, written = Summary(entries, near), []
    for kind in kinds:
        path = folder / f"summary.{kind}"
        if kind == "csv":
            replace_file(path, _csv(summary))
        elif kind == "xlsx":
            from .workbook import workbook

            replace_file(path, workbook(summary.heads, _cells(summary), summary.count))
        else:
            from .page import summary_page

            replace_file(path, (part.encode() for part in summary_page(summary.heads, summary, summary.count)))
        written.append(path)
    return written


def _cells(summary: Summary) -> Iterator[list[Any]]:
    return ([row.get(head) for head in summary.heads] for row in summary)


def _csv(summary: Summary) -> Iterator[bytes]:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for cells in itertools.chain([list(summary.heads)], _cells(summary)):
        writer.writerow(["" if cell is None else cell for cell in cells])
        yield out.getvalue().encode()
        out.seek(0)
        out.truncate()


def write_failed(folder: Path, table: Table, failures: Sequence[Failure]) -> None:
    """Write the rows that failed under their own header, with the reason last; without failures there is no file.

    Raises:
        OutputError: If it cannot be written.
    """
    path = folder / FAILED
    if not failures:
        path.unlink(missing_ok=True)
        return
    heads = [head for head in table.heads if table.words[head] != "reason"]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*heads, "reason"])
    for failure in failures:
        cells = [failure.cells.get(head, "") for head in heads]
        writer.writerow([*(f"{cell:g}" if isinstance(cell, float) else cell for cell in cells), failure.reason])
    replace_file(path, out.getvalue().encode())
