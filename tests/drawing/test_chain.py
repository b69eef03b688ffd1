"""Loose segments become long runs; runs follow each other by short ways."""

from __future__ import annotations

import random

import pytest

from dieline.drawing.chain import Step, chain_loops, chain_runs, order_paths, travel
from dieline.geometry.arc import Point
from dieline.geometry.path import line, rectangle


def _step(p: Point, q: Point) -> Step:
    return p, q, 0.0


def test_a_crease_in_pieces_is_one_run_and_corners_part_runs() -> None:
    pieces = [_step((20, 0), (10, 0)), _step((0, 0), (10, 0)), _step((20, 0), (20, 5))]
    runs = chain_runs(pieces)
    assert sorted(path.length for path in runs) == [5, 20]


def test_runs_do_not_jump_gaps() -> None:
    assert len(chain_runs([_step((0, 0), (10, 0)), _step((16, 0), (26, 0))])) == 2


def test_loops_close_and_straight_steps_become_one() -> None:
    square = [
        _step((0, 0), (4, 0)),
        _step((4, 0), (10, 0)),
        _step((10, 0), (10, 10)),
        _step((10, 10), (0, 10)),
        _step((0, 10), (0, 0)),
    ]
    (loop,) = chain_loops(square[::-1])
    assert loop.closed
    assert len(loop.points) == 4
    assert loop.area == 100


def test_two_squares_that_touch_at_a_corner_are_two_loops() -> None:
    parts = [_step(p, q) for box in (rectangle(0, 0, 5, 5), rectangle(5, 5, 9, 9)) for p, q, _ in box.segments()]
    assert sorted(path.area for path in chain_loops(parts)) == [16, 25]


def test_free_edges_that_do_not_close_are_an_error() -> None:
    with pytest.raises(ValueError, match="do not close"):
        chain_loops([_step((0, 0), (1, 0)), _step((1, 0), (1, 1))])


def test_arcs_keep_their_bulge_in_a_loop() -> None:
    half: list[Step] = [_step((0, 0), (10, 0)), ((10, 0), (0, 0), 1.0)]
    (loop,) = chain_loops(half)
    assert loop.area == pytest.approx(3.14159265 * 12.5)


def test_ordering_keeps_every_run_and_shortens_the_way() -> None:
    rng = random.Random(4)
    paths = [line((x, y), (x + 10, y)) for x, y in ((rng.uniform(0, 900), rng.uniform(0, 600)) for _ in range(40))]
    order, backwards, _ = order_paths(paths, (0, 0))
    assert sorted(order) == list(range(40))
    walked = [paths[i].reversed() if back else paths[i] for i, back in zip(order, backwards, strict=True)]
    assert travel(walked) < 0.5 * travel(paths)
