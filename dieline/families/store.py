"""What is finished already: a journal that survives being killed at any moment, and is the same in the end."""

from __future__ import annotations

import contextlib
import json
import os
from array import array
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import IO, Any

from ..errors import OutputError
from .plan import Item
from .work import Outcome

__all__ = ["JOURNAL", "Journal", "replace_file"]

JOURNAL = ".dieline-family.jsonl"
"""Name of the journal in the family's folder."""

_LONGEST_LINE = 1 << 20
"""Bytes. A line is some hundred long."""

_KEYS = ("name", "digest", "files", "extra", "summary")


class Journal:
    """The journal of one family's folder.

    Each finished item is one line, written after its files lie in place. A line that was cut off in the middle is no
    line; the item is drawn again, to the same bytes. When all is done the journal is written anew in the order of the
    table, so that it too is what an undisturbed run gives.

    Of each item only the place of its line is held; summaries are read from the lines when they are asked for.

    Args:
        folder: The family's folder.
        count: How many items there are.
    """

    def __init__(self, folder: Path, count: int) -> None:
        self.folder = folder
        self.path = folder / JOURNAL
        self._lines = array("q", [-1]) * count  # where the line of each item begins; below 0, there is none
        self._rows = array("q", [0]) * count
        self._before = dict(self._read())
        self._file: IO[bytes] | None = None
        self._reader: IO[bytes] | None = None

    def _read(self) -> Iterator[tuple[str, int]]:
        """Name of each item that was finished before, and where its line begins."""
        at = 0
        try:
            with self.path.open("rb") as file:
                for line in file:
                    if not line.endswith(b"\n"):
                        return
                    with contextlib.suppress(ValueError):
                        entry = json.loads(line)
                        if isinstance(entry, dict) and set(_KEYS) <= set(entry):
                            yield entry["name"], at
                    at += len(line)
        except FileNotFoundError:
            return
        except OSError as error:
            raise self._error(error, "the journal must be readable") from None

    def _error(self, error: OSError, must: str) -> OutputError:
        return OutputError(str(self.path), error.strerror or str(error), must)

    @property
    def fresh(self) -> bool:
        """Whether nothing was finished before, or all of it has been asked for."""
        return not self._before

    def has(self, place: int) -> bool:
        """Whether the item at a place is finished."""
        return self._lines[place] >= 0

    def finished(self, item: Item) -> Mapping[str, Any] | None:
        """The summary of an item that is drawn already and has not changed; None if it must be drawn. Ask once."""
        at = self._before.pop(item.name, -1)
        if at < 0:
            return None
        entry = self._entry(at)
        if entry["digest"] != item.digest:
            return None
        for name, size in entry["files"]:
            try:
                if (self.folder / name).stat().st_size != size:
                    return None
            except OSError:
                return None
        self._lines[item.place], self._rows[item.place] = at, item.row
        summary: Mapping[str, Any] = entry["summary"]
        return summary

    def add(self, outcome: Outcome) -> None:
        """Record a finished item."""
        entry = outcome.item.name, outcome.item.digest, outcome.files, outcome.item.extra, outcome.summary
        line = json.dumps(dict(zip(_KEYS, entry, strict=True))).encode() + b"\n"
        try:
            if self._file is None:
                self._trim()
                self._file = self.path.open("ab")
            at = self._file.tell()
            self._file.write(line)
            self._file.flush()
        except OSError as error:
            raise self._error(error, "the journal must be writable") from None
        self._lines[outcome.item.place], self._rows[outcome.item.place] = at, outcome.item.row

    def _trim(self) -> None:
        """Drop a last line that was cut off, so that the next one begins a line of its own."""
        if self.path.exists():
            with self.path.open("rb+") as file:
                size = file.seek(0, os.SEEK_END)
                start = file.seek(max(0, size - _LONGEST_LINE))
                file.truncate(start + file.read().rfind(b"\n") + 1)

    def close(self) -> None:
        """Close the file; what is recorded stays."""
        for file in (self._file, self._reader):
            if file is not None:
                file.close()
        self._file = self._reader = None

    def finish(self) -> list[str]:
        """Write the journal anew in the order of the table.

        Returns:
            Names of items that were finished once and are no longer in the table, if all items of it were asked for.
        """
        self.close()
        lines = array("q", self._lines)
        replace_file(self.path, self._ordered(lines))
        self.close()
        self._lines = lines
        return sorted(self._before)

    def _ordered(self, lines: array[int]) -> Iterator[bytes]:
        """The lines in the order of the table; where each comes to stand is put in its place."""
        at = 0
        for place, before in enumerate(self._lines):
            if before >= 0:
                line = self._line(before)
                lines[place] = at
                at += len(line)
                yield line

    def __iter__(self) -> Iterator[tuple[int, dict[str, Any]]]:
        """Row and entry (name, digest, files, extra columns, summary) of each finished item, in the table's order."""
        for row, at in zip(self._rows, self._lines, strict=True):
            if at >= 0:
                yield row, self._entry(at)

    def _entry(self, at: int) -> dict[str, Any]:
        entry: dict[str, Any] = json.loads(self._line(at))
        return entry

    def _line(self, at: int) -> bytes:
        try:
            if self._reader is None:
                self._reader = self.path.open("rb")
            if self._reader.tell() != at:
                self._reader.seek(at)
            return self._reader.readline()
        except OSError as error:
            raise self._error(error, "the journal must be readable") from None


def replace_file(path: Path, content: bytes | Iterable[bytes]) -> None:
    """Write a file whole: it has its new content, or its old one, but never half of either.

    Args:
        path: The file.
        content: Its new content, whole or part by part.

    Raises:
        OutputError: If it cannot be written.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with part.open("wb") as file:
            file.writelines([content] if isinstance(content, bytes) else content)
        part.replace(path)
    except BaseException as error:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        if isinstance(error, OSError):
            raise OutputError(str(path), error.strerror or str(error), "it must be a place with room") from None
        raise
