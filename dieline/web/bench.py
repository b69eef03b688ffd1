"""The workers of a server: a few processes that are started early, waited for no longer than agreed, and replaced."""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from .errors import RefusalError

__all__ = ["Bench"]

WORK_SECONDS = 10.0
"""How long a worker may take for one answer. A box takes milliseconds; a fitment with hundreds of cells a second."""

LATER_SECONDS = 1.5
"""When the other workers start: side by side with the first they would only keep the first picture back."""

MOST_WAITING = 200
"""Questions that may wait for a worker; more are sent away at once."""

_START = "import sys; sys.path[:] = sys.argv[1:]; from dieline.web.worker import serve; serve()"


@dataclass(slots=True, eq=False)
class Bench:
    """Starts workers and hands out questions.

    Attributes:
        workers: How many.
        seconds: How long one answer may take.
    """

    workers: int = 2
    seconds: float = WORK_SECONDS
    _free: asyncio.Queue[asyncio.subprocess.Process | None] = field(default_factory=asyncio.Queue)
    _all: set[asyncio.subprocess.Process] = field(default_factory=set)
    _waiting: int = 0
    _rest: asyncio.Task[None] | None = None

    async def open(self) -> None:
        """Start the first worker; the others follow once it has had the time to load and to draw the first box."""
        self._free.put_nowait(await self._start())
        self._rest = asyncio.create_task(self._start_others())

    async def _start_others(self) -> None:
        await asyncio.sleep(LATER_SECONDS)
        for _ in range(self.workers - 1):
            self._free.put_nowait(await self._start())

    async def close(self) -> None:
        """End the workers."""
        if self._rest is not None:
            self._rest.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await self._rest
        for worker in list(self._all):
            await self._end(worker)

    async def ask(self, verb: str, data: Mapping[str, Any]) -> tuple[int, bytes]:
        """The HTTP status and body that a worker answers.

        Raises:
            RefusalError: If too many wait already, or the worker takes too long or dies.
        """
        if self._waiting >= MOST_WAITING:
            raise RefusalError.of(503, "busy", "server", f"{MOST_WAITING} questions wait already", "", "try again")
        self._waiting += 1
        try:
            worker = await self._free.get()
        finally:
            self._waiting -= 1
        try:
            worker = await self._fit(worker)
            return await asyncio.wait_for(_answered(worker, verb, data), self.seconds)
        except TimeoutError:
            await self._end(worker)
            worker = None
            what = f"it takes more than {self.seconds:g} s"
            raise RefusalError.of(504, "time", "order", what, "", "make it smaller or simpler") from None
        except (OSError, EOFError):
            await self._end(worker)
            worker = None
            what = "the style ended the process that drew it"
            raise RefusalError.of(500, "style", "order", what, "", "it is at fault, not your order") from None
        except BaseException:
            await self._end(worker)  # its answer would be taken for that of the next question
            worker = None
            raise
        finally:
            self._free.put_nowait(worker)

    async def _fit(self, worker: asyncio.subprocess.Process | None) -> asyncio.subprocess.Process:
        """The worker, or a new one where it has ended since its last answer."""
        if worker is not None and worker.returncode is None:
            return worker
        await self._end(worker)
        return await self._start()

    async def _start(self) -> asyncio.subprocess.Process:
        worker = await asyncio.create_subprocess_exec(
            sys.executable,
            "-P",
            "-c",
            _START,
            *(os.path.abspath(folder) for folder in sys.path),
            stdin=asyncio.subprocess.PIPE,
            stdout=asyncio.subprocess.PIPE,
            start_new_session=True,  # Ctrl-C is for the server, which then ends its workers
        )
        self._all.add(worker)
        return worker

    async def _end(self, worker: asyncio.subprocess.Process | None) -> None:
        if worker is None:
            return
        self._all.discard(worker)
        with contextlib.suppress(ProcessLookupError):
            worker.kill()
        await worker.wait()


async def _answered(worker: asyncio.subprocess.Process, verb: str, data: Mapping[str, Any]) -> tuple[int, bytes]:
    assert worker.stdin is not None
    assert worker.stdout is not None
    worker.stdin.write(json.dumps({"verb": verb, "data": data}).encode() + b"\n")
    await worker.stdin.drain()
    head = (await worker.stdout.readline()).split()
    if len(head) != 2:
        raise EOFError
    return int(head[0]), await worker.stdout.readexactly(int(head[1]))
