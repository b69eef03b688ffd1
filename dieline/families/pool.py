"""Work spread over all cores: bounded, restarted where a worker is killed, stopped at once by Ctrl-C."""

from __future__ import annotations

import contextlib
import gc
import itertools
import multiprocessing
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import resource_tracker
from typing import Any, TypeVar

from ..errors import OutputError

__all__ = ["chunked", "pooled"]

_CHUNK = 8
"""Items handed to a worker at once: less talk between processes, and still a quick stop."""

_RESTARTS = 3
"""How often a pool whose worker was killed is started anew."""

T = TypeVar("T")
R = TypeVar("R")


def pooled(work: Callable[[Sequence[T]], Sequence[R]], items: Iterable[T], count: int, where: str) -> Iterator[R]:
    """What a function makes of items, in the order in which workers finish.

    Args:
        work: The function; it is given some items at once, and must be one that another process can load.
        items: The items; they are taken as they are needed.
        count: How many workers.
        where: Name of the place, for the error.

    Raises:
        OutputError: If workers are killed again and again.
    """
    waiting = chunked(items)
    again: list[Sequence[T]] = []
    lost = 0
    while True:
        pending: dict[Future[Sequence[R]], Sequence[T]] = {}
        pool = ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), _begin_work)
        try:
            while True:
                with _interrupts_held():
                    while len(pending) < 3 * count:
                        chunk = again.pop() if again else next(waiting, ())
                        if not chunk:
                            break
                        pending[pool.submit(work, chunk)] = chunk
                if not pending:
                    return
                done, _ = wait(pending, return_when=FIRST_COMPLETED)
                for future in done:
                    made = future.result()
                    del pending[future]
                    yield from made
        except BrokenProcessPool:
            # A worker was killed from outside: what it had is made again by another.
            lost += 1
            if lost > _RESTARTS:
                raise OutputError(where, "workers are killed again and again", "", "is there enough memory?") from None
            again.extend(pending.values())
        finally:
            _end(pool)


def chunked(items: Iterable[T]) -> Iterator[Sequence[T]]:
    """Items in the portions that are handed to a worker at once."""
    source = iter(items)
    while chunk := list(itertools.islice(source, _CHUNK)):
        yield chunk


def _begin_work() -> None:
    """Leave Ctrl-C to the parent, which stops its workers in order, and look for garbage seldom: little is made."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(100_000, 50, 50)


@contextlib.contextmanager
def _interrupts_held() -> Iterator[None]:
    """Keep Ctrl-C waiting while workers are started: they inherit that, and are not struck while they load."""
    if not hasattr(signal, "pthread_sigmask"):  # a system that has no signals to hold
        yield
        return
    resource_tracker.ensure_running()  # it starts with the first worker otherwise, and would let signals through
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _end(pool: ProcessPoolExecutor) -> None:
    """Stop a pool at once; its workers write nothing half."""
    workers: Iterable[Any] = list((getattr(pool, "_processes", None) or {}).values())
    keeper: Any = getattr(pool, "_executor_manager_thread", None)
    pool.shutdown(wait=False, cancel_futures=True)
    for worker in workers:
        with contextlib.suppress(OSError, ValueError):
            worker.terminate()
    for worker in workers:
        with contextlib.suppress(OSError, ValueError, AssertionError):
            worker.join(1.0)
    if keeper is not None:
        keeper.join(1.0)  # else the interpreter, on its way out, may wake it through a pipe that it has just closed
