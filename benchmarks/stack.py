"""How long an answer takes, warm: without the pallet, with it, and the table of 200 boards."""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable
from dataclasses import replace

from dieline.board import Board, Given, find_board
from dieline.job_file import job_from_data
from dieline.pipeline import Result, run
from dieline.stacking import stack_answer
from dieline.strength.boards_table import rate_boards
from dieline.strength.margin_picture import margin_svg
from dieline.strength.pallet import best_layer

__all__ = ["layers_of", "stack_medians"]

LOAD = {
    "ect": 5.0,
    "box_mass": 0.4,
    "layers": 5,
    "days": 30,
    "humidity": 60,
    "pattern": "column",
    "factors": "handbook",
}


def stack_medians(rounds: int = 50) -> dict[str, float]:
    """Median ms of each question, warm."""
    result, boards = _result(), _boards(200)
    found = stack_answer(result, proof=False)
    on_pallet = _result(pallet="euro")
    return {
        "answer without the pallet": _median(lambda: stack_answer(result, proof=False), rounds),
        "answer with the pallet, layer proved (remembered)": _median(lambda: stack_answer(on_pallet), rounds),
        "table of 200 boards": _median(lambda: rate_boards(found, boards), max(3, rounds // 10)),
        "picture of the margin": _median(lambda: margin_svg(found), max(3, rounds // 10)),
    }


def _result(**more: object) -> Result:
    data = {"style": "0201", "size": "390x290x240", "board": "C", "contents": {"mass": 8.0}, "load": {**LOAD, **more}}
    return run(job_from_data(data))


def _boards(count: int) -> list[Board]:
    plain = find_board("C")
    return [
        replace(plain, name=f"C {number}", ect=Given(3.0 + number / 50.0, "made up for the measurement", "house"))
        for number in range(count)
    ]


def _median(action: Callable[[], object], rounds: int) -> float:
    action()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        action()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def layers_of(count: int = 60) -> tuple[int, float, float]:
    """Layers of 100 to 165 boxes at random, none met before: how many are proved, median and greatest ms."""
    dice, proved = random.Random(1), 0
    times: list[float] = []
    while len(times) < count:
        long = round(dice.uniform(70.0, 140.0), 1)
        short = round(dice.uniform(60.0, long), 1)
        if not 100 < 1200 * 1000 / (long * short) < 165:
            continue
        start = time.perf_counter()
        layer = best_layer((long, short), (1200.0, 1000.0))
        times.append((time.perf_counter() - start) * 1000)
        proved += layer.proved
    return proved, statistics.median(times), max(times)


if __name__ == "__main__":
    for name, median in stack_medians().items():
        print(f"{median:8.2f} ms  {name}")
    proved, median, most = layers_of()
    print(f"{median:8.2f} ms  a layer of 100 to 165 boxes, median of 60; {most:.0f} ms at most; {proved} of 60 proved")
    print("bounds: 5 ms an answer without the pallet, 1000 ms a layer, 100 ms the table")
