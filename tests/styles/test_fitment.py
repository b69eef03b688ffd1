"""Pads, liners, partitions, posts and insert trays: their sizes, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, resized

from dieline.errors import JobError
from dieline.geometry.path import Path
from dieline.registry import find_style
from dieline.testing import conform


@pytest.mark.parametrize("code", ["0900", "0904", "0933", "creased-pad", "corner-post", "insert-tray"])
def test_it_passes_the_suite(code: str) -> None:
    assert conform(find_style(code)) > 30


def test_a_pad_is_the_inside_less_its_play() -> None:
    pad = proved(find_style("0900"), "400x300x200", play=3)
    assert pad.drawings[0].width == pytest.approx(397)
    assert pad.drawings[0].height == pytest.approx(297)


def test_a_liner_stands_in_the_box_without_touching_twice() -> None:
    """Four panels whose sum is the way round the inside, through the middle of the board, less its play."""
    liner = proved(find_style("0904"), "300x200x150", play=2)
    t = liner.job.board.thickness
    assert liner.drawings[0].width == pytest.approx(2 * (300 - 2 - t) + 2 * (200 - 2 - t), abs=2 * t)
    assert not liner.failures


@pytest.mark.parametrize(("along", "across"), [(2, 2), (3, 2), (4, 3), (6, 4)])
def test_a_partition_makes_equal_cells_that_fill_the_box(along: int, across: int) -> None:
    cells = proved(find_style("0933"), "400x300x120", cells_along=along, cells_across=across)
    t = cells.job.board.thickness
    assert along * named(cells, "first cell along L") + (along - 1) * t == pytest.approx(400)
    assert across * named(cells, "first cell along B") + (across - 1) * t == pytest.approx(300)
    pieces = {piece.blank.name: piece.count for piece in cells.design.pieces}
    assert pieces == {"long strip": across - 1, "cross strip": along - 1}
    assert not cells.failures


def test_cells_may_have_pitches_of_their_own() -> None:
    cells = proved(find_style("0933"), "400x300x120", cells_along=3, first_cell_along=100, pitch_along=150)
    long = cells.design.pieces[0].blank.panels[0].outline
    slot = named(cells, "slot width")
    edges = sorted({round(x, 3) for x, y in long.points if 0 < x < long.bounds[2]})
    assert len(edges) == 4
    assert edges[1] - edges[0] == pytest.approx(slot, abs=1e-3)
    assert edges[2] - edges[0] == pytest.approx(150, abs=1e-3)


def test_strips_that_are_not_slotted_deep_enough_strike() -> None:
    """Each slot must be half of the height: with less, board is in board when the strips are let down."""
    cells = proved(find_style("0933"), "355x205x120")
    blank = cells.design.pieces[0].blank
    strip = blank.panels[0]
    depth = min(y for x, y in strip.outline.points if 0 < x < strip.outline.bounds[2])
    points = tuple((x, y + 10 if abs(y - depth) < 1e-6 else y) for x, y in strip.outline.points)
    short = replace(strip, outline=Path(points, strip.outline.bulges, closed=True))
    piece = replace(cells.design.pieces[0], blank=replace(blank, panels=(short,)))
    spoiled = replace(cells.design, pieces=(piece, *cells.design.pieces[1:]))
    assert "runs into" in faults(spoiled, cells)


def test_a_strip_longer_than_the_box_is_told() -> None:
    cells = proved(find_style("0933"), "355x205x120")
    assert faults(resized(cells.design, "strip", (5.0, 0.0, 5.0, 0.0)), cells)


def test_goods_that_leave_no_web_between_them_are_refused() -> None:
    tray = find_style("insert-tray")
    assert not proved(tray, "320x220x120", goods_length=73).failures
    with pytest.raises(JobError, match="goods_length – 110 mm"):
        proved(tray, "320x220x120", goods_length=110)


def test_goods_sit_with_their_play_in_round_cut_outs() -> None:
    tray = proved(find_style("insert-tray"), "320x220x120", goods_length=73, goods_play=1)
    holes = [hole for panel in tray.design.pieces[0].blank.panels for hole in panel.holes]
    assert len(holes) == 6
    for hole in holes:
        x0, y0, x1, y1 = hole.bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((74, 74))


def test_a_post_is_as_thick_as_it_says() -> None:
    post = proved(find_style("corner-post"), "380x280x250", post_length=60)
    low, high = zip(
        *((min(x), max(x)) for x in zip(*post.design.pieces[0].blank.panels[0].outline.points, strict=True)),
        strict=True,
    )
    assert high[1] - low[1] == pytest.approx(248)
    assert not post.failures
