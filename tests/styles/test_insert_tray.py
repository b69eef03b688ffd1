"""The insert tray: cut-outs in even rows, legs held by the box, and trials that must fail."""

from __future__ import annotations

import math

import pytest
from piece_trials import faults, named, proved, resized

from dieline.errors import OptionError
from dieline_styles.insert_tray import STYLES

TRAY = STYLES["insert-tray"]


def test_round_cut_outs_are_larger_than_the_goods_by_the_play() -> None:
    """3 × 2 mugs of 80 mm: six full circles of 81.5 mm, as their areas say."""
    result = proved(TRAY, goods_along=3, goods_across=2, goods_length=70, goods_play=1.5)
    assert not result.failures
    holes = result.design.pieces[0].blank.by_name["platform"].holes
    assert len(holes) == 6
    assert [hole.area for hole in holes] == pytest.approx([math.pi * (71.5 / 2) ** 2] * 6, rel=1e-6)


def test_square_cut_outs_have_their_sizes_and_rounded_corners() -> None:
    """A rectangle less four corners: (4 - pi) r² goes off its area."""
    result = proved(TRAY, goods="square", goods_length=70, goods_breadth=50, goods_play=1, corner_radius=4)
    assert not result.failures
    holes = result.design.pieces[0].blank.by_name["platform"].holes
    assert [hole.area for hole in holes] == pytest.approx([71 * 51 - (4 - math.pi) * 16] * len(holes), rel=1e-6)


def test_cut_outs_stand_at_equal_pitches_with_half_a_web_at_the_edges() -> None:
    result = proved(TRAY, goods_along=3, goods_across=2, goods_length=70)
    platform = result.design.pieces[0].blank.by_name["platform"]
    x0, y0, x1, y1 = platform.outline.bounds
    middles = sorted({round((a + c) / 2, 6) for a, _, c, _ in (hole.bounds for hole in platform.holes)})
    pitch = (x1 - x0) / 3
    assert middles == pytest.approx([x0 + pitch / 2, x0 + 1.5 * pitch, x0 + 2.5 * pitch])
    rows = sorted({round((b + d) / 2, 6) for _, b, _, d in (hole.bounds for hole in platform.holes)})
    assert rows == pytest.approx([y0 + (y1 - y0) / 4, y0 + 3 * (y1 - y0) / 4])
    assert named(result, "web along L") == pytest.approx(pitch - 71, abs=0.01)


def test_it_stands_in_the_box_at_the_height_asked() -> None:
    result = proved(TRAY, "320x220x120", platform_height=75, play=3)
    assert not result.failures
    assert named(result, "leg height") == pytest.approx(75 - 4 / 2)
    assert named(result, "platform length") == pytest.approx(320 - 3 - 4)
    assert named(result, "platform breadth") == pytest.approx(220 - 3 - 4)


def test_legs_as_broad_as_the_platform_run_into_each_other() -> None:
    result = proved(TRAY)
    assert "front leg runs into left leg" in faults(resized(result.design, "left leg", (0, 6, 0, 6)), result)


def test_legs_longer_than_the_box_is_high_are_found() -> None:
    result = proved(TRAY)
    assert "too large along H" in faults(resized(result.design, "left leg", (70, 0, 0, 0)), result)


def test_goods_too_wide_for_their_number_are_refused() -> None:
    with pytest.raises(OptionError, match="web must stay"):
        proved(TRAY, goods_along=4, goods_length=75)


def test_round_goods_have_one_size() -> None:
    with pytest.raises(OptionError, match="their diameter"):
        proved(TRAY, goods_length=60, goods_breadth=50)


def test_a_box_too_low_for_legs_is_refused() -> None:
    with pytest.raises(OptionError, match="legs under 10 mm"):
        proved(TRAY, "320x220x15")
