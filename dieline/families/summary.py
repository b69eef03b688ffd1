"""The summary of a family: CSV, XLSX and a page; and the rows that failed, ready to mend and run again."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from ..errors import InputError
from .plan import Failure, Item
from .store import replace_file
from .table import Table

__all__ = ["FAILED", "SUMMARIES", "summary_rows", "write_failed", "write_summaries"]

SUMMARIES = ("csv", "xlsx", "html")
FAILED = "failed.csv"

Rows = Sequence[tuple[Item, Mapping[str, Any]]]


def summary_rows(rows: Rows, near: float) -> list[dict[str, Any]]:
    """The rows of the summary with names, carried columns and groups of blanks that share a width.

    Args:
        rows: Items and what became of them.
        near: Widths that differ by at most this much from the least of their group stand in one group, mm.
    """
    widths = sorted({row["blank width"] for _, row in rows})
    group: dict[float, int] = {}
    first, number = -1.0, 0
    for width in widths:
        if number == 0 or width - first > near:
            number, first = number + 1, width
        group[width] = number
    shared: dict[float, int] = {}
    for _, row in rows:
        shared[row["blank width"]] = shared.get(row["blank width"], 0) + 1
    out = []
    for item, row in rows:
        picture = row.get("picture", "")
        plain = {key: value for key, value in row.items() if key != "picture"}
        out.append(
            {
                "row": item.row,
                "file": item.name,
                **plain,
                "width shared by": shared[row["blank width"]],
                "width group": group[row["blank width"]],
                **item.extra,
                "picture": picture,
            }
        )
    return out


def write_summaries(folder: Path, rows: Rows, kinds: Sequence[str], near: float) -> list[Path]:
    """Write the summaries asked for; each appears whole.

    Raises:
        InputError: For a kind that is not known, or XLSX without openpyxl.
        OutputError: If one cannot be written.
    """
    table = summary_rows(rows, near)
    written = []
    for kind in kinds:
        if kind not in SUMMARIES:
            raise InputError("summary", repr(kind), f"it must be one of {', '.join(SUMMARIES)}")
        path = folder / f"summary.{kind}"
        if kind == "csv":
            content = _csv(table)
        elif kind == "xlsx":
            content = _xlsx(table)
        else:
            from .page import summary_page

            content = summary_page(table).encode()
        replace_file(path, content)
        written.append(path)
    return written


def _heads(table: Sequence[Mapping[str, Any]]) -> list[str]:
    return list(dict.fromkeys(key for row in table for key in row if key != "picture"))


def _csv(table: Sequence[Mapping[str, Any]]) -> bytes:
    heads = _heads(table)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(heads)
    writer.writerows([["" if row.get(head) is None else row.get(head) for head in heads] for row in table])
    return out.getvalue().encode()


def _xlsx(table: Sequence[Mapping[str, Any]]) -> bytes:
    try:
        import openpyxl
    except ModuleNotFoundError:
        raise InputError("summary", "'xlsx'", "writing it needs openpyxl", "pip install 'dieline[family]'") from None
    import datetime

    heads = _heads(table)
    book = openpyxl.Workbook()
    moment = datetime.datetime(1980, 1, 1)  # the same rows must give the same bytes
    book.properties.created = book.properties.modified = moment
    sheet = book.active
    sheet.title = "family"
    sheet.append(heads)
    for row in table:
        sheet.append([row.get(head) for head in heads])
    sheet.freeze_panes = "C2"
    sheet.auto_filter.ref = sheet.dimensions
    out = io.BytesIO()
    book.save(out)
    return _undated(out.getvalue())


def _undated(content: bytes) -> bytes:
    """The same zip with the same date on every entry, and no date of the moment inside."""
    import re

    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            body = old.read(name)
            if name == "docProps/core.xml":
                body = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", b"1980-01-01T00:00:00Z", body)
            new.writestr(entry, body)
    return out.getvalue()


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
