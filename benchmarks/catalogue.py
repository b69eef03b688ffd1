"""The whole catalogue: each style at three sizes and two boards, built and proved; and each style's warm median.

Run it as ``python benchmarks/catalogue.py``: 1 if a bound is crossed. Seconds here are of the machine it runs on.
"""

from __future__ import annotations

import statistics
import sys
import time
from dataclasses import replace

from dieline.board import Board
from dieline.cli.lists import example_board
from dieline.errors import DielineError
from dieline.job import Job, make_job
from dieline.pipeline import run
from dieline.registry import iter_styles
from dieline.style.contract import Style
from dieline.testing import boards_for
from dieline.units import Size

TOGETHER, EACH = 10.0, 25.0
"""Bounds: seconds for the whole catalogue, ms for the warm median of one style."""

_ROUNDS = 7


def jobs_of(style: Style) -> list[Job]:
    """The example, one smaller and one larger, on two boards."""
    known = boards_for(style)
    example = example_board(style)
    other: Board = next((board for board in known if board.name != example.name), example)
    jobs = []
    for board in (example, other):
        job = make_job(style.code, style.example, board)
        for factor in (1.0, 0.85, 1.3):
            inside = (round(factor * value, 1) for value in job.size[:3])
            jobs.append(
                replace(job, size=Size(*inside, *(value and round(factor * value, 1) for value in job.size[3:])))
            )
    return jobs


def main() -> int:
    """Print the slowest styles and the time of the whole catalogue."""
    styles = [style for style in iter_styles() if isinstance(style, Style)]
    together, proved, refused, medians = 0.0, 0, 0, {}
    for style in styles:
        jobs = jobs_of(style)
        run(jobs[0])
        for job in jobs:
            start = time.perf_counter()
            try:
                proved += not run(job).failures
            except DielineError:
                refused += 1  # the size is not for this board, and the style says so
            together += time.perf_counter() - start
        medians[style.code] = statistics.median(_timed(jobs[0]) for _ in range(_ROUNDS))
    print(f"{len(styles)} styles, {proved} boxes proved, {refused} refused with a reason: {together:.2f} s")
    print(f"bound {TOGETHER:g} s\n\nslowest, warm median (bound {EACH:g} ms)")
    slowest = sorted(medians, key=lambda code: -medians[code])
    for code in slowest[:8]:
        print(f"  {code:24}{medians[code]:7.1f} ms")
    crossed = together > TOGETHER or medians[slowest[0]] > EACH
    print("a bound is crossed" if crossed else "within the bounds")
    return 1 if crossed else 0


def _timed(job: Job) -> float:
    """One run, ms."""
    start = time.perf_counter()
    run(job)
    return (time.perf_counter() - start) * 1000


if __name__ == "__main__":
    sys.exit(main())
