"""The liner 0904: its panels from the box that it lines, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, resized, with_fold

from dieline.errors import SizeError
from dieline_styles.liner import LINER


def test_it_fills_the_box_but_for_its_play() -> None:
    """Over its outer faces it is the inside of the box less the play; back and left run crease to crease."""
    result = proved(LINER, "380x280x250", play=3)
    assert not result.failures
    assert named(result, "back width") == pytest.approx(380 - 3 - 4)
    assert named(result, "left width") == pytest.approx(280 - 3 - 4)
    gauges = {gauge.name: gauge.expected for gauge in result.design.gauges}
    assert gauges["over it along L"] == pytest.approx(377)
    assert gauges["over it along B"] == pytest.approx(277)
    assert gauges["room left along L"] == pytest.approx(380 - 3 - 2 * 4)


def test_it_is_one_strip_as_long_as_its_four_panels() -> None:
    result = proved(LINER)
    widths = [named(result, f"{name} width") for name in ("front", "left", "back", "right")]
    length, height = result.design.pieces[0].blank.size
    assert length == pytest.approx(sum(widths))
    assert height == pytest.approx(named(result, "liner height"))


def test_it_is_a_board_lower_than_the_box_unless_asked_otherwise() -> None:
    assert named(proved(LINER, "380x280x250"), "liner height") == pytest.approx(246)
    assert named(proved(LINER, "380x280x250", height_play=10), "liner height") == pytest.approx(240)


def test_a_front_that_reaches_the_right_panel_is_found() -> None:
    result = proved(LINER)
    assert "front runs into right" in faults(resized(result.design, "front", (1, 0, 0, 0)), result)


def test_a_panel_longer_than_the_box_is_found() -> None:
    result = proved(LINER)
    assert "too large along B" in faults(resized(result.design, "right", (0, 0, 3, 0)), result)


def test_a_panel_that_does_not_stand_square_is_found() -> None:
    result = proved(LINER)
    leaning = with_fold(result.design, "right", lambda fold: replace(fold, angle=80.0))
    assert "not parallel" in faults(leaning, result)


def test_a_box_too_small_to_be_lined_is_refused() -> None:
    with pytest.raises(SizeError, match="10 mm broad"):
        proved(LINER, "100x24x100")
