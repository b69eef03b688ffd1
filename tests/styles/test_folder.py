"""Folders 0401 and 0402: sizes by their rules, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, resized, with_fold

from dieline.errors import SizeError
from dieline.fold.states import motion_faults
from dieline.sizing import House
from dieline.testing import conform
from dieline_styles.folder import STYLES, longest_apart


@pytest.mark.parametrize("code", ["0401", "0402"])
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize(("board", "t"), [("E", 1.5), ("C", 4.0), ("BC", 7.0)])
def test_walls_and_covers_have_the_sizes_of_their_rules(board: str, t: float) -> None:
    """Base L + t by B + t; ends H + t under inner flaps, sides a board higher; covers meet but for the gap."""
    result = proved(STYLES["0401"], "355x205x60", board, flap_gap=1.0)
    assert result.failures == ()
    assert named(result, "base length") == 355 + t
    assert named(result, "base breadth") == 205 + t
    assert named(result, "end height") == 60 + t
    assert named(result, "side height") == 60 + 2 * t
    assert named(result, "cover width") == pytest.approx((205 + t - 1) / 2)
    assert result.folded.inside == (355, 205, 60)
    assert result.folded.outside == pytest.approx((355 + 2 * t, 205 + 2 * t, 60 + 3 * t))


def test_without_inner_flaps_the_top_is_flush_and_the_sides_a_board_lower() -> None:
    result = proved(STYLES["0402"], "355x205x60", "C")
    assert named(result, "side height") == 64
    assert named(result, "end height") == 62
    assert result.folded.outside == (363, 213, 68)
    covers = [panel for panel in result.design.pieces[0].blank.panels if "cover" in panel.name]
    assert len(covers) == 2
    assert all(panel.k == 0 for panel in covers)


def test_inner_flaps_are_short_or_full() -> None:
    short, full = (proved(STYLES["0401"], inner_flaps=how, flap_gap=1.0) for how in ("short", "full"))
    assert named(short, "inner flap") == 60
    assert named(full, "inner flap") == (355 + 4 - 1) / 2
    assert short.failures == full.failures == ()


def test_a_plant_that_rounds_gets_flaps_that_still_meet() -> None:
    """(205 + 1.5) / 2 = 103.25 is rounded down, not to 103.5: two such covers would collide."""
    style = STYLES["0401"]
    result = proved(style, "355x205x60", "E", flap_gap=0.0)
    job = replace(result.job, house=House(name="plant", step=0.5))
    order = style.order(job.size, job.board, job.options, job.house)
    design = style.build(order)
    assert order.ledger.value("cover width") == 103.0
    assert "do not collide" in next(line.derivation for line in design.sizes if line.name == "cover width")


# ---------------------------------------------------------------------- trials that must fail


def test_ends_as_wide_as_the_base_strike_the_sides() -> None:
    result = proved(STYLES["0401"])
    design = resized(result.design, "left end", (0, 2.6, 0, 2.6))
    assert "left end runs into front side" in faults(design, result)


def test_covers_that_overlap_run_into_each_other() -> None:
    result = proved(STYLES["0401"])
    design = resized(result.design, "front cover", (0, 1.5, 0, 0))
    assert "front cover runs into back cover" in faults(design, result)


def test_inner_flaps_longer_than_half_of_l_run_into_each_other() -> None:
    result = proved(STYLES["0401"], inner_flaps="full")
    design = resized(result.design, "left inner flap", (1.5, 0, 0, 0))
    assert "left inner flap runs into right inner flap" in faults(design, result)


def test_covers_that_stop_short_leave_the_top_open() -> None:
    result = proved(STYLES["0402"])
    design = resized(result.design, "front cover", (0, -20, 0, 0))
    assert "the top stays open by 20.6 mm" in faults(design, result)


def test_sides_as_high_as_the_ends_press_on_the_inner_flaps() -> None:
    """The board of the inner flaps must be in the height of the sides."""
    result = proved(STYLES["0401"])
    lowered = with_fold(result.design, "front cover", lambda fold: replace(fold, shift=-4.0, give=4.0))
    assert "runs into front cover" in faults(lowered, result)


def test_covers_closed_before_the_inner_flaps_strike_them() -> None:
    result = proved(STYLES["0401"], inner_flaps="full")
    (motion,) = result.design.motions
    names = [step.name for step in motion.steps]
    assert names[2:] == ["fold the inner flaps in", "close the covers"]
    swapped = replace(motion, steps=(*motion.steps[:2], motion.steps[3], motion.steps[2]))
    assert list(motion_faults(result.design, 4.0)) == []
    told = " ".join(motion_faults(replace(result.design, motions=(swapped,)), 4.0))
    assert "passes through" in told


def test_flaps_without_the_gap_they_swing_through_press_past_each_other() -> None:
    """Two flaps across 29 mm of 9 mm board need 1.5 mm between their ends, not 1 mm."""
    assert longest_apart(20.0, 9.0) == pytest.approx(14.5 - 81 / 116 - 0.05)
    assert longest_apart(200.0, 4.0) == 101.5


@pytest.mark.parametrize(("size", "name"), [("300x20x60", "B"), ("300x200x12", "H"), ("200x300x60", "L")])
def test_what_cannot_be_folded_is_refused(size: str, name: str) -> None:
    with pytest.raises(SizeError, match=f"size.*{name}"):
        proved(STYLES["0401"], size, "C")
