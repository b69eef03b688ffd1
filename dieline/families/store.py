"""What is finished already: a journal that survives being killed at any moment, and is the same in the end."""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import IO, Any

from ..errors import OutputError
from .plan import Item
from .work import Outcome

__all__ = ["JOURNAL", "Journal", "replace_file"]

JOURNAL = ".dieline-family.jsonl"
"""Name of the journal in the family's folder."""


class Journal:
    """The journal of one family's folder.

    Each finished item is one line, written after its files lie in place. A line that was cut off in the middle is no
    line; the item is drawn again, to the same bytes. When all is done the journal is written anew in the order of the
    table, so that it too is what an undisturbed run gives.

    Args:
        folder: The family's folder.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.path = folder / JOURNAL
        self.entries: dict[str, dict[str, Any]] = {entry["name"]: entry for entry in self._read()}
        self._file: IO[str] | None = None

    def _read(self) -> Iterator[dict[str, Any]]:
        try:
            with self.path.open(encoding="utf-8", errors="replace") as file:
                for line in file:
                    if not line.endswith("\n"):
                        return
                    with contextlib.suppress(ValueError):
                        entry = json.loads(line)
                        if isinstance(entry, dict) and {"name", "digest", "files", "summary"} <= set(entry):
                            yield entry
        except FileNotFoundError:
            return
        except OSError as error:
            raise OutputError(str(self.path), error.strerror or str(error), "the journal must be readable") from None

    def finished(self, item: Item) -> Mapping[str, Any] | None:
        """The summary of an item that is drawn already and has not changed; None if it must be drawn."""
        entry = self.entries.get(item.name)
        if entry is None or entry["digest"] != item.digest:
            return None
        for name, size in entry["files"]:
            try:
                if (self.folder / name).stat().st_size != size:
                    return None
            except OSError:
                return None
        summary: Mapping[str, Any] = entry["summary"]
        return summary

    def add(self, item: Item, outcome: Outcome) -> None:
        """Record a finished item."""
        entry = _entry(item, outcome)
        self.entries[item.name] = entry
        try:
            if self._file is None:
                self._trim()
                self._file = self.path.open("a", encoding="utf-8", newline="\n")
            self._file.write(json.dumps(entry) + "\n")
            self._file.flush()
        except OSError as error:
            raise OutputError(str(self.path), error.strerror or str(error), "the journal must be writable") from None

    def _trim(self) -> None:
        """Drop a last line that was cut off, so that the next one begins a line of its own."""
        if self.path.exists():
            with self.path.open("rb+") as file:
                text = file.read()
                whole = text.rfind(b"\n") + 1
                if whole < len(text):
                    file.truncate(whole)

    def close(self) -> None:
        """Close the file; what is recorded stays."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def finish(self, items: Iterable[Item]) -> list[str]:
        """Write the journal anew in the order of the table.

        Returns:
            Names of items that were finished once and are no longer in the table.
        """
        self.close()
        names = [item.name for item in items]
        lines = [json.dumps(self.entries[name]) + "\n" for name in names if name in self.entries]
        replace_file(self.path, "".join(lines).encode())
        known = set(names)
        return sorted(name for name in self.entries if name not in known)


def _entry(item: Item, outcome: Outcome) -> dict[str, Any]:
    return {
        "name": item.name,
        "digest": item.digest,
        "files": [list(file) for file in outcome.files],
        "summary": dict(outcome.summary),
    }


def replace_file(path: Path, content: bytes) -> None:
    """Write a file whole: it has its new content, or its old one, but never half of either.

    Raises:
        OutputError: If it cannot be written.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(content)
        part.replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise OutputError(str(path), error.strerror or str(error), "it must be a place with room") from None
