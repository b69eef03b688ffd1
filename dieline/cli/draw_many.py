"""Several jobs of one run: on all cores where there are many, told in the order they were named."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Generator, Sequence
from contextlib import closing, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from ..errors import DielineError, InputError, OutputError
from ..job import Job
from .bar import Bar
from .draw import Wishes, draw_one, job_of
from .guard import error_data, print_json

__all__ = ["draw_many"]

_FEW = 12
"""Up to so many jobs, starting workers costs more than it saves."""


@dataclass(frozen=True, slots=True)
class _Task:
    """One target: its place among all, its name, and its job."""

    place: int
    target: str
    job: Job


@dataclass(frozen=True, slots=True)
class _Done:
    """What became of a target: exit code, report, what is to be printed, and whether the whole run must stop."""

    place: int
    code: int
    data: dict[str, Any]
    said: str
    told: str
    stop: bool = False


def draw_many(target: Sequence[str], wishes: Wishes, out: Path, report: str) -> int:
    """Draw several job files or drawings; one that is wrong does not keep the others from being drawn.

    A folder that cannot be written, or is full, stops the run.

    Returns:
        The worst exit code.
    """
    tasks, refused = _read(target, wishes, report)
    waiting: dict[int, _Done] = {done.place: done for done in refused}
    reports: list[dict[str, Any]] = []
    worst = 0
    with Bar(report) as bar, closing(_drawn(tasks, out, report)) as drawn:
        while len(reports) < len(target):
            if len(reports) not in waiting:
                done = next(drawn)
                waiting[done.place] = done
                bar.step(len(reports) + len(waiting), len(target))
                continue
            ready = waiting.pop(len(reports))
            sys.stdout.write(ready.said)
            sys.stderr.write(ready.told)
            worst = max(worst, ready.code)
            reports.append(ready.data)
            if ready.stop:
                break  # a full disk, or no folder: the others would fare no better
    if report == "json":
        print_json(reports)
    return worst


def _read(target: Sequence[str], wishes: Wishes, report: str) -> tuple[list[_Task], list[_Done]]:
    """The jobs that can be drawn, and what is said of the targets that hold none."""
    tasks: list[_Task] = []
    refused: list[_Done] = []
    taken: dict[str, str] = {}
    for place, name in enumerate(target):
        try:
            job = job_of([name], wishes)
            other = taken.setdefault(job.file_name.casefold(), name)
            if other != name:
                what = f"would be written as {job.file_name}, as {other} is"
                raise InputError(name, what, "each needs a name of its own", "set name")
            tasks.append(_Task(place, name, job))
        except DielineError as error:
            refused.append(_failed(place, name, error, report))
    return tasks, refused


def _failed(place: int, target: str, error: DielineError, report: str) -> _Done:
    data = {"ok": False, "source": target, "errors": error_data(error)}
    told = "" if report == "json" else f"error: {error}\n"
    return _Done(place, 2, data, "", told, isinstance(error, OutputError))


def _drawn(tasks: Sequence[_Task], out: Path, report: str) -> Generator[_Done, None, None]:
    count = min(os.cpu_count() or 1, len(tasks) // 4)
    if len(tasks) <= _FEW or count < 2:
        for task in tasks:
            yield _draw(task, out, report)
        return
    from ..families.aside import clear_aside, run_mark
    from ..families.pool import pooled

    mark = run_mark()
    try:
        yield from pooled(partial(_draw_chunk, out=out, report=report, mark=mark), tasks, count, str(out))
    finally:
        clear_aside(out, mark)


def _draw_chunk(tasks: Sequence[_Task], out: Path, report: str, mark: str) -> list[_Done]:
    from ..families.aside import folder_aside

    return [_draw(task, out, report, folder_aside(out, mark)) for task in tasks]


def _draw(task: _Task, out: Path, report: str, aside: Path | None = None) -> _Done:
    said, told = io.StringIO(), io.StringIO()
    try:
        with redirect_stdout(said), redirect_stderr(told):
            code, data = draw_one(task.job, out, report, aside)
    except DielineError as error:
        return _failed(task.place, task.target, error, report)
    return _Done(task.place, code, data, said.getvalue(), told.getvalue())
