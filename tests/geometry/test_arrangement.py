"""Segments that lie on one line are one line, however they were drawn, and each part knows who runs along it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dieline.geometry.arrangement import Carriers, Part


def _parts(carriers: Carriers) -> list[Part]:
    return [part for carrier in carriers for part in carrier.parts()]


def test_a_flap_narrower_than_its_wall_shares_only_its_own_width() -> None:
    carriers = Carriers()
    carriers.add((100, 50), (0, 50), 0.0, 0)
    carriers.add((5, 50), (95, 50), 0.0, 1)
    parts = _parts(carriers)
    assert [part.owners for part in parts] == [(0,), (0, 1), (0,)]
    assert [abs(part.q[0] - part.p[0]) for part in parts] == pytest.approx([5, 90, 5])


def test_each_part_runs_the_way_of_its_first_owner() -> None:
    carriers = Carriers()
    carriers.add((10, 0), (0, 0), 0.0, 0)
    (part,) = _parts(carriers)
    assert (part.p, part.q) == ((10, 0), (0, 0))


@given(st.floats(0, math.pi), st.floats(-400, 400), st.floats(-1e-9, 1e-9))
def test_rounding_errors_do_not_part_what_lies_on_one_line(angle: float, offset: float, noise: float) -> None:
    """Whatever the slope and the place, two segments a rounding error apart share their overlap."""
    ux, uy = math.cos(angle), math.sin(angle)
    ox, oy = -uy * offset, ux * offset
    carriers = Carriers()
    carriers.add((ox, oy), (ox + 100 * ux, oy + 100 * uy), 0.0, 0)
    carriers.add((ox + 80 * ux + noise, oy + 80 * uy - noise), (ox + 20 * ux - noise, oy + 20 * uy + noise), 0.0, 1)
    assert sorted(len(part.owners) for part in _parts(carriers)) == [1, 1, 2]


def test_lines_a_hundredth_apart_stay_two() -> None:
    carriers = Carriers()
    carriers.add((0, 0), (10, 0), 0.0, 0)
    carriers.add((0, 0.01), (10, 0.01), 0.0, 1)
    assert all(len(part.owners) == 1 for part in _parts(carriers))


@given(st.floats(-math.pi, math.pi), st.floats(0.1, 1.2))
def test_arcs_on_one_circle_are_brought_together_whichever_way_they_run(start: float, sweep: float) -> None:
    p = (50 * math.cos(start), 50 * math.sin(start))
    q = (50 * math.cos(start + sweep), 50 * math.sin(start + sweep))
    bulge = math.tan(sweep / 4)
    carriers = Carriers()
    carriers.add(p, q, bulge, 0)
    carriers.add(q, p, -bulge, 1)
    (part,) = _parts(carriers)
    assert part.owners == (0, 1)
    assert part.bulge == pytest.approx(bulge)
    assert math.dist(part.p, p) < 1e-9
