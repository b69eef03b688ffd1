"""``dieline stack``: will it hold."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..errors import DielineError, InputError, JobError, OutputError
from ..families.store import replace_file
from ..job import Job
from ..load import load_from_data
from ..pipeline import run
from ..stacking import board_rows, stack_answer, stack_pictures
from ..strength.answer_data import answer_data
from ..strength.answer_text import answer_lines, board_lines
from ..strength.boards_table import boards_that_hold
from .draw import Wishes, job_of
from .guard import print_json

__all__ = ["stack_command"]

_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")


def stack_command(
    target: Sequence[str],
    wishes: Wishes,
    load: Sequence[str],
    *,
    boards: bool = False,
    out: Path | None = None,
    report: str = "",
) -> int:
    """Say whether the box of a job bears its load; 1 if it does not.

    Args:
        target: A job file, or a style and a size, as for ``draw``.
        wishes: What is laid over it.
        load: Values of the ``[load]`` table, ``name=value``, laid over the job's.
        boards: Whether the boards that would hold are listed.
        out: Folder for the pictures; None writes none.
        report: ``json`` prints one JSON document.

    Raises:
        InputError: If something is missing or wrong; everything at once.
    """
    result = run(_with_load(job_of(target, wishes), load))
    found = stack_answer(result)
    rows = board_rows(result, found) if boards else []
    files = [] if out is None else _write(stack_pictures(result, found), out)
    if report == "json":
        print_json({**answer_data(found, rows), "files": [str(path) for path in files]})
    else:
        print(f"{result.job.file_name}: {result.design.style} {result.style.title}, {result.design.inside} inside")
        print("\n".join(answer_lines(found)))
        if boards:
            print("\n".join(board_lines(boards_that_hold(rows))))
        for path in files:
            print(f"wrote {path}" if sys.stdout.isatty() else path)
    return 1 if found.verdict == "does not hold" else 0


def _with_load(job: Job, pairs: Sequence[str]) -> Job:
    """The job with values laid over its load."""
    if not pairs:
        return job
    table: dict[str, Any] = job.load.data() if job.load is not None else {}
    given: dict[str, Any] = {}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise InputError("--load", repr(pair), "it must be name=value", "write --load layers=5")
        given[name.strip()] = _plain(value.strip())
    for one, other in (("factors", "schedule"), ("schedule", "factors")):
        if one in given and other not in given:
            table.pop(other, None)  # the two exclude each other: the newer word counts
    problems: list[DielineError] = []
    load = load_from_data({**table, **given}, problems)
    if problems:
        raise JobError("--load", problems)
    return replace(job, load=load)


def _plain(text: str) -> Any:
    """A value as a job file would hold it: a number, true or false, or text."""
    if text in ("true", "false"):
        return text == "true"
    if _NUMBER.fullmatch(text):
        return float(text) if "." in text else int(text)
    return text


def _write(pictures: Iterable[tuple[str, str]], out: Path) -> list[Path]:
    """Write each picture whole or not at all."""
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        must = "it must be a folder that may be written to"
        raise OutputError(str(out), error.strerror or str(error), must) from None
    paths = []
    for name, text in pictures:
        replace_file(out / name, text.encode())
        paths.append(out / name)
    return paths
