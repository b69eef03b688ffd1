"""The job that a server starts with: given once, or kept in a file that may change at any time."""

from __future__ import annotations

import asyncio
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .bench import Bench
from .errors import RefusalError

__all__ = ["Watched"]


@dataclass(slots=True)
class Watched:
    """The job to begin with.

    Attributes:
        job: The job as plain data; None where it stands in a file.
        path: The file; None where the job was given on the command line. Only its name is told to the page.
    """

    job: Mapping[str, Any] | None = None
    path: Path | None = None
    _leans_on: tuple[Path, ...] = ()  # files beside it; a change of theirs is a change of the job
    _seen: str = ""
    _state: Mapping[str, Any] = field(default_factory=dict)
    _reading: asyncio.Lock = field(default_factory=asyncio.Lock)

    async def state(self, bench: Bench) -> dict[str, Any]:
        """The job as it is now: ``job`` as plain data or None, ``error`` if it cannot be read, and the ``seen`` mark.

        Args:
            bench: The workers, one of which reads the file when it has changed.
        """
        if self.path is None:
            return {"watching": False, "seen": "", "job": self.job}
        watching = {"watching": True, "name": self.path.name}
        async with self._reading:
            try:
                mark = await self._read(bench, self.path)
            except RefusalError as refusal:
                return {**watching, "seen": "", "job": None, "error": refusal.data()}
            return {**watching, "seen": mark, **self._state}

    async def _read(self, bench: Bench, path: Path) -> str:
        """Read the file if it has changed; returns the mark of what was read, taken before it was read."""
        mark = ""
        for _ in range(2):  # once more where it turns out to lean on files that the mark did not cover
            mark = self._mark(path)
            if mark == self._seen:
                break
            status, body = await bench.ask("read", {"path": str(path)})
            answer = json.loads(body)
            leans_on = tuple(map(Path, answer.pop("leans_on", ())))
            self._state = answer if status == 200 else {"job": None, **answer}
            if leans_on == self._leans_on:
                self._seen = mark
                break
            self._leans_on = leans_on
        return mark

    def _mark(self, path: Path) -> str:
        """A mark that changes whenever the file, or one that it leans on, is written."""
        stamps = "_".join(map(_stamp, (path, *self._leans_on)))
        return hashlib.sha256(stamps.encode()).hexdigest()[:16]


def _stamp(path: Path) -> str:
    try:
        found = path.stat()
    except OSError:
        return "gone"
    return f"{found.st_mtime_ns:x}-{found.st_size:x}-{found.st_ino:x}"
