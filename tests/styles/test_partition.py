"""Slotted partitions 0933: pitches, slots, and trials that must fail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from piece_trials import faults, moved_piece, named, proved, with_panel

from dieline.blank import Panel
from dieline.board import find_board
from dieline.errors import JobError, OptionError
from dieline.geometry.path import Path
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.style.design import Design
from dieline.units import parse_size
from dieline_styles.partition import STYLES

PARTITION = STYLES["0933"]


def _middles(result: Result, piece: int) -> list[float]:
    """Where the slots of a strip are, as drawn, from the wall of the box."""
    outline = result.design.pieces[piece].blank.panels[0].outline
    tall = outline.bounds[3]
    places = sorted({x for x, y in outline.points if 1e-6 < y < tall - 1e-6})
    end = float(result.design.pieces[piece].stand.origin[piece])
    return [end + (a + b) / 2 for a, b in zip(places[::2], places[1::2], strict=True)]


@pytest.mark.parametrize(("cells", "across"), [(2, 2), (3, 2), (4, 3), (5, 4)])
def test_n_by_m_cells_take_one_strip_less_each_way(cells: int, across: int) -> None:
    result = proved(PARTITION, "400x300x150", "B", cells_along=cells, cells_across=across)
    assert not result.failures
    assert [piece.count for piece in result.design.pieces] == [across - 1, cells - 1]
    assert len(_middles(result, 0)) == cells - 1
    assert len(_middles(result, 1)) == across - 1


def test_equal_cells_are_what_the_strips_leave_of_the_box() -> None:
    """n cells and n - 1 boards make up the inside."""
    result = proved(PARTITION, "400x300x150", "B", cells_along=4, cells_across=3)
    middles = _middles(result, 0)
    cell = (400 - 3 * 3) / 4
    assert middles == pytest.approx([cell + 1.5, 2 * cell + 4.5, 3 * cell + 7.5], abs=0.01)
    assert [b - a for a, b in pairwise(middles)] == pytest.approx([cell + 3] * 2, abs=0.01)


def test_given_pitches_are_kept_and_the_last_cell_takes_what_is_left() -> None:
    result = proved(PARTITION, "400x300x150", "B", cells_along=5, cells_across=3, first_cell_along=60, pitch_along=90)
    assert not result.failures
    assert _middles(result, 0) == pytest.approx([61.5, 151.5, 241.5, 331.5])
    gauges = [gauge for gauge in result.design.gauges if gauge.name.endswith("along L")]
    assert [gauge.expected for gauge in gauges] == pytest.approx([87.0] * 3)


def test_the_slots_stand_where_the_other_strips_do() -> None:
    """Where a strip stands in the box is read off the design, not off the formula."""
    result = proved(PARTITION, "400x300x150", "B", cells_along=4, cells_across=3, first_cell_across=80)
    long, cross = result.design.pieces
    assert _middles(result, 0) == pytest.approx([stand.origin[0] for stand in cross.stands])
    assert _middles(result, 1) == pytest.approx([stand.origin[1] for stand in long.stands])


def _deepened(design: Design, by: float) -> Design:
    """The cross strip with slots deeper by so much; with a negative depth, shallower."""
    depth = next(line.value for line in design.sizes if line.name == "slot depth")

    def change(panel: Panel) -> Panel:
        points = tuple((x, y + by if abs(y - depth) < 1e-6 else y) for x, y in panel.outline.points)
        return replace(panel, outline=Path(points, closed=True))

    return with_panel(design, "strip", change, piece=1)


def test_slots_too_shallow_leave_the_strips_in_each_other() -> None:
    result = proved(PARTITION, depth_play=0)
    assert not result.failures
    assert "runs into" in faults(_deepened(result.design, -1.0), result)
    assert not faults(_deepened(result.design, 1.0), result)


def test_a_strip_beside_its_slots_is_found() -> None:
    result = proved(PARTITION)
    found = faults(moved_piece(result.design, 1, (1.5, 0, 0)), result)
    assert "runs into" in found
    assert "cell 2 along L measures" in found


def test_slots_narrower_than_the_board_are_found() -> None:
    """Slots of the board's own width go together, narrower ones do not."""
    result = proved(PARTITION, slot_play=0)
    assert not result.failures

    def narrowed(panel: Panel) -> Panel:
        return replace(panel, outline=_narrower(panel.outline, 0.2))

    assert "runs into" in faults(with_panel(result.design, "strip", narrowed, piece=1), result)


def _narrower(outline: Path, by: float) -> Path:
    """One slot drawn narrower from its right side."""
    inner: Sequence[float] = sorted({x for x, y in outline.points if 1e-6 < y < outline.bounds[3] - 1e-6})
    right = inner[-1]
    return Path(tuple((x - by if abs(x - right) < 1e-9 else x, y) for x, y in outline.points), closed=True)


def test_the_two_slots_at_a_crossing_are_as_deep_as_the_strips_are_high() -> None:
    result = proved(PARTITION, "355x205x120", height_play=4, depth_play=2)
    assert 2 * named(result, "slot depth") == pytest.approx(named(result, "strip height") + 2)
    assert named(result, "strip height") == pytest.approx(116)


def test_the_drawing_says_where_the_slots_are() -> None:
    result = proved(PARTITION, "400x300x150", "B", cells_along=3, first_cell_along=100, end_play=2)
    assert any("long strip: slots" in line and "middles 100.5," in line for line in result.design.words)


@pytest.mark.parametrize(
    ("options", "why"),
    [
        ({"cells_along": 10, "first_cell_along": 40}, "8 boards wide"),
        ({"cells_along": 3, "first_cell_along": 300}, "in the other cells too"),
        ({"cells_along": 4, "first_cell_along": 60, "pitch_along": 150}, "in the last cell too"),
    ],
)
def test_cells_too_narrow_to_hold_are_refused(options: dict[str, object], why: str) -> None:
    with pytest.raises((OptionError, JobError), match=why):
        run(Job(style="0933", size=parse_size("355x205x120"), board=find_board("C"), options=options), PARTITION)


def test_a_box_too_narrow_for_two_cells_is_refused() -> None:
    with pytest.raises(OptionError, match="choose a larger size"):
        proved(PARTITION, "60x205x120")
