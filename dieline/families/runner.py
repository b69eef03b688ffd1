"""Runs a family on all cores: bounded, resumable, stopped cleanly."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from ..errors import OutputError
from .aside import clear_aside, run_mark
from .pack import pack_files
from .plan import DEFAULT_NAMES, Failure, Item, Plan
from .pool import pooled
from .store import Journal
from .summary import write_failed, write_summaries
from .table import Row, Table, read_table
from .work import Outcome, draw_item

__all__ = ["FamilyResult", "family", "run_items"]

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
    plan = Plan(found, base or {}, names)
    folder = Path(out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        must = "it must be a folder that may be written"
        raise OutputError(str(folder), error.strerror or str(error), must) from None
    for part in folder.rglob(".*.part"):
        part.unlink(missing_ok=True)  # left by a run that was killed
    clear_aside(folder)
    work = _Work(plan, folder, progress)
    with closing(work.journal):
        try:
            work.look_back()
            items = work.waiting()
            for outcome in run_items(items, work.left, folder, by_item=by_item, workers=workers, cluster=cluster):
                work.take(outcome)
        finally:
            clear_aside(folder, run_mark())
        removed = work.journal.finish()
        failures = [*plan.failures, *_failures(found, work.failed)]
        failures.sort(key=lambda failure: failure.row)
        files = write_summaries(folder, work.journal, summaries, near)
        write_failed(folder, found, failures)
        if pack:
            files.append(pack_files(folder, (name for _, entry in work.journal for name, _ in entry["files"])))
    return FamilyResult(
        folder=folder,
        drawn=work.drawn,
        kept=work.kept,
        failures=tuple(failures),
        removed=tuple(removed),
        flagged=work.flagged,
        files=tuple(files),
    )


class _Work:
    """What is done and what is left of a plan.

    Args:
        plan: What is to be drawn.
        folder: The family's folder.
        progress: Called with (done, all) after each item.
    """

    def __init__(self, plan: Plan, folder: Path, progress: Progress | None) -> None:
        self.plan, self.folder, self.progress = plan, folder, progress
        self.journal = Journal(folder, len(plan))
        self.kept = self.drawn = self.flagged = 0
        self.failed: list[Outcome] = []

    @property
    def left(self) -> int:
        """How many items are to be drawn."""
        return len(self.plan) - self.kept

    def look_back(self) -> None:
        """Find what was finished before and has not changed."""
        if self.journal.fresh:
            return
        for item in self.plan:
            summary = self.journal.finished(item)
            if summary is not None:
                self.kept += 1
                self.flagged += bool(summary.get("errors"))

    def waiting(self) -> Iterator[Item]:
        """What is to be drawn."""
        return (item for item in self.plan if not self.journal.has(item.place))

    def take(self, outcome: Outcome) -> None:
        """Record what became of an item.

        Raises:
            OutputError: If the run must stop.
        """
        if outcome.stop:
            cure = "make room and run it again: what is finished is kept"
            raise OutputError(str(self.folder), outcome.reason, "", cure)
        if outcome.reason:
            self.failed.append(outcome)
        else:
            self.journal.add(outcome)
            self.drawn += 1
            self.flagged += bool(outcome.summary.get("errors"))
        if self.progress is not None:
            self.progress(self.kept + self.drawn + len(self.failed), len(self.plan))


def _failures(table: Table, failed: Sequence[Outcome]) -> Iterator[Failure]:
    """The rows of items that could not be drawn."""
    wanted = {outcome.item.row for outcome in failed}
    rows = {row.number: row for row in table.rows if row.number in wanted} if wanted else {}
    for outcome in sorted(failed, key=lambda outcome: outcome.item.place):
        yield Failure(outcome.item.row, _cells(table, rows[outcome.item.row], outcome.item), outcome.reason)


def _cells(table: Table, row: Row, item: Item) -> Mapping[str, object]:
    """The cells of an item's row; where a range was spread, with the sizes of this item in it."""
    sides = re.split("[x/]", str(item.job.get("size", "")))
    found = dict(zip(("length", "breadth", "height", "fourth"), sides, strict=False))
    return {
        head: f"{found[table.words[head]]} mm" if ".." in str(cell) and table.words[head] in found else cell
        for head, cell in row.cells.items()
    }


def run_items(
    items: Iterable[Item],
    number: int,
    folder: Path,
    *,
    by_item: bool = False,
    workers: int | None = None,
    cluster: str = "",
) -> Iterator[Outcome]:
    """Draw items and yield what became of each, in the order they finish.

    Args:
        items: The items; they are taken as they are needed.
        number: How many there are.
        folder: The family's folder.
        by_item: Whether each item has a folder of its own.
        workers: How many processes; all cores if None.
        cluster: Address of a Dask scheduler, or empty.
    """
    if cluster:
        from .cluster import run_on_cluster

        yield from run_on_cluster(items, folder, by_item=by_item, address=cluster)
        return
    count = min(workers or os.cpu_count() or 1, max(1, number // 4))
    if count <= 1:
        for item in items:
            yield draw_item(item, str(folder), by_item)
        return
    work = partial(_draw_chunk, folder=str(folder), by_item=by_item, mark=run_mark())
    yield from pooled(work, items, count, str(folder))


def _draw_chunk(items: Sequence[Item], folder: str, by_item: bool, mark: str) -> list[Outcome]:
    return [draw_item(item, folder, by_item, mark) for item in items]
