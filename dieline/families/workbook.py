"""The summary as a workbook, the same bytes for the same rows; written row by row, so that none is held."""

from __future__ import annotations

import datetime
import re
import tempfile
import zipfile
from collections.abc import Iterable, Iterator
from typing import IO, Any

from ..errors import InputError

__all__ = ["workbook"]

_MOMENT = datetime.datetime(1980, 1, 1)
_PART = 1 << 16


def workbook(heads: Iterable[str], rows: Iterable[list[Any]], count: int) -> Iterator[bytes]:
    """The bytes of an XLSX file with one sheet, part by part.

    Args:
        heads: Its header.
        rows: Its cells.
        count: How many rows there are.

    Raises:
        InputError: Without openpyxl.
    """
    try:
        import openpyxl
        from openpyxl.utils import get_column_letter
    except ModuleNotFoundError:
        raise InputError("summary", "'xlsx'", "writing it needs openpyxl", "pip install 'dieline[family]'") from None
    heads = list(heads)
    book = openpyxl.Workbook(write_only=True)
    book.properties.created = book.properties.modified = _MOMENT
    sheet = book.create_sheet("family")
    sheet.freeze_panes = "C2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(heads))}{count + 1}"
    sheet.append(heads)
    for row in rows:
        sheet.append(row)
    with tempfile.TemporaryFile() as dated, tempfile.TemporaryFile() as file:
        book.save(dated)
        _undated(dated, file)
        file.seek(0)
        while part := file.read(_PART):
            yield part


def _undated(dated: IO[bytes], file: IO[bytes]) -> None:
    """The same zip with the same date on every entry, and no date of the moment inside."""
    with zipfile.ZipFile(dated) as old, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            entry = zipfile.ZipInfo(name, _MOMENT.timetuple()[:6])
            entry.compress_type = zipfile.ZIP_DEFLATED
            with old.open(name) as source, new.open(entry, "w") as target:
                if name == "docProps/core.xml":
                    body = source.read()
                    target.write(re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", b"1980-01-01T00:00:00Z", body))
                    continue
                while part := source.read(_PART):
                    target.write(part)
