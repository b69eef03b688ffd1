"""Runs a family on all cores: bounded, resumable, stopped cleanly."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import re
import signal
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import resource_tracker
from pathlib import Path
from typing import Any

from ..errors import OutputError
from .pack import pack_files
from .plan import DEFAULT_NAMES, Failure, Item, plan_items
from .store import Journal
from .summary import write_failed, write_summaries
from .table import Table, read_table
from .work import Outcome, draw_item, ignore_interrupts

__all__ = ["FamilyResult", "family", "run_items"]

_CHUNK = 8
"""Items handed to a worker at once: less talk between processes, and still a quick stop."""

_RESTARTS = 3
"""How often a pool whose worker was killed is started anew."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyResult:
    """What became of a family.

    Attributes:
        folder: Its folder.
        drawn: How many items were drawn now.
        kept: How many were finished before and unchanged.
        failures: Rows that were not drawn.
        removed: Names of items that are no longer in the table; their files are left.
        flagged: How many items have a finding of error level.
        files: Summary files that were written.
    """

    folder: Path
    drawn: int
    kept: int
    failures: tuple[Failure, ...]
    removed: tuple[str, ...]
    flagged: int
    files: tuple[Path, ...]

    @property
    def ok(self) -> bool:
        """Whether every row was drawn and no item has a finding of error level."""
        return not self.failures and not self.flagged


def family(
    table: Path | str | Table,
    out: Path | str,
    *,
    base: Mapping[str, Any] | None = None,
    names: str = DEFAULT_NAMES,
    by_item: bool = False,
    pack: bool = False,
    summaries: Sequence[str] = ("csv", "html"),
    near: float = 5.0,
    workers: int | None = None,
    cluster: str = "",
    progress: Progress | None = None,
) -> FamilyResult:
    """Draw every row of a table into a folder, with a summary; what is finished already is kept.

    With more than one worker, processes are started afresh: a script must call this under
    ``if __name__ == "__main__":``.

    Args:
        table: A file (CSV, XLSX, TOML), or a table read before.
        out: Folder for drawings and summary.
        base: A job's data: what rows leave open (style, board, options, output …).
        names: Pattern of file names, made of columns.
        by_item: Whether each item has a folder of its own.
        pack: Whether all drawings also go into one zip in the end.
        summaries: ``csv``, ``xlsx``, ``html``.
        near: Blanks whose width differs by at most this much stand in one group, mm.
        workers: How many processes; all cores if None.
        cluster: Address of a Dask scheduler to run on instead; ``local`` starts one here.
        progress: Called with (done, all) after each item.

    Raises:
        InputError: If the table cannot be read, or two items would have one name.
        OutputError: If the folder cannot be written or is full; what is finished stays.
    """
    found = table if isinstance(table, Table) else read_table(Path(table))
    items, failures = plan_items(found, base or {}, names)
    folder = Path(out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(
            str(folder), error.strerror or str(error), "it must be a folder that may be written"
        ) from None
    for part in folder.rglob(".*.part"):
        part.unlink(missing_ok=True)  # left by a run that was killed
    journal = Journal(folder)
    summary: dict[int, Mapping[str, Any]] = {}
    for item in items:
        done = journal.finished(item)
        if done is not None:
            summary[item.place] = done
    kept = len(summary)
    waiting = [item for item in items if item.place not in summary]
    try:
        for outcome in run_items(waiting, folder, by_item=by_item, workers=workers, cluster=cluster):
            item = items[outcome.place]
            if outcome.stop:
                raise OutputError(
                    str(folder), outcome.reason, "", "make room and run it again: what is finished is kept"
                )
            if outcome.reason:
                failures.append(Failure(item.row, _cells(found, item), outcome.reason))
            else:
                journal.add(item, outcome)
                summary[item.place] = outcome.summary
            if progress is not None:
                progress(len(summary) + len(failures), len(items))
    finally:
        journal.close()
    removed = journal.finish(items)
    failures.sort(key=lambda failure: failure.row)
    rows = [(item, summary[item.place]) for item in items if item.place in summary]
    files = write_summaries(folder, rows, summaries, near)
    write_failed(folder, found, failures)
    if pack:
        files.append(pack_files(folder, (journal.entries[item.name]["files"] for item, _ in rows)))
    return FamilyResult(
        folder=folder,
        drawn=len(rows) - kept,
        kept=kept,
        failures=tuple(failures),
        removed=tuple(removed),
        flagged=sum(bool(row.get("errors")) for _, row in rows),
        files=tuple(files),
    )


def _cells(table: Table, item: Item) -> Mapping[str, object]:
    """The cells of an item's row; where a range was spread, with the sizes of this item in it."""
    row = next(row for row in table.rows if row.number == item.row)
    sides = re.split("[x/]", str(item.job.get("size", "")))
    found = dict(zip(("length", "breadth", "height", "fourth"), sides, strict=False))
    return {
        head: f"{found[table.words[head]]} mm" if ".." in str(cell) and table.words[head] in found else cell
        for head, cell in row.cells.items()
    }


def run_items(
    items: Sequence[Item], folder: Path, *, by_item: bool = False, workers: int | None = None, cluster: str = ""
) -> Iterator[Outcome]:
    """Draw items and yield what became of each, in the order they finish."""
    if cluster:
        from .cluster import run_on_cluster

        yield from run_on_cluster(items, folder, by_item=by_item, address=cluster)
        return
    count = min(workers or os.cpu_count() or 1, max(1, len(items) // 4))
    if count <= 1:
        for item in items:
            yield draw_item(item, str(folder), by_item)
        return
    yield from _pooled(items, folder, by_item, count)


def _draw_chunk(items: Sequence[Item], folder: str, by_item: bool) -> list[Outcome]:
    return [draw_item(item, folder, by_item) for item in items]


def _pooled(items: Sequence[Item], folder: Path, by_item: bool, count: int) -> Iterator[Outcome]:
    chunks = [items[start : start + _CHUNK] for start in range(0, len(items), _CHUNK)]
    chunks.reverse()
    lost = 0
    while chunks:
        pending: dict[Future[list[Outcome]], Sequence[Item]] = {}
        pool = ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), ignore_interrupts)
        try:
            while chunks or pending:
                with _interrupts_held():
                    while chunks and len(pending) < 3 * count:
                        chunk = chunks.pop()
                        pending[pool.submit(_draw_chunk, chunk, str(folder), by_item)] = chunk
                done, _ = wait(pending, return_when=FIRST_COMPLETED)
                for future in done:
                    outcomes = future.result()
                    del pending[future]
                    yield from outcomes
        except BrokenProcessPool:
            # A worker was killed from outside: what it had is drawn again by another.
            lost += 1
            if lost > _RESTARTS:
                raise OutputError(
                    str(folder), "workers are killed again and again", "", "is there enough memory?"
                ) from None
            chunks.extend(pending.values())
        finally:
            _end(pool)


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
    pool.shutdown(wait=False, cancel_futures=True)
    for worker in workers:
        with contextlib.suppress(OSError, ValueError):
            worker.terminate()
    for worker in workers:
        with contextlib.suppress(OSError, ValueError, AssertionError):
            worker.join(1.0)
