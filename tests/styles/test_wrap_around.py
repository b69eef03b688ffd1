"""The wrap-around case 0406: sizes by their rules, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, resized, with_fold

from dieline.errors import OptionError, SizeError
from dieline.fold.states import motion_faults
from dieline.testing import conform
from dieline_styles.wrap_around import STYLES

CASE = STYLES["0406"]


def test_it_passes_the_suite() -> None:
    assert conform(CASE) > 40


def test_panels_have_the_sizes_of_their_rules() -> None:
    """Outer flaps on bottom and top lie over the inner ones: those two panels are a board longer at both ends."""
    result = proved(CASE, "355x205x120", "C")
    assert result.failures == ()
    assert named(result, "bottom length") == 355 + 3 * 4
    assert named(result, "side length") == 355 + 4
    assert named(result, "back height") == 120 + 4
    assert named(result, "top breadth") == 205 + 2 * 4
    assert named(result, "front height") == pytest.approx(120 + 2 - 0.6)
    assert named(result, "outer flap") == (120 + 4) / 2
    assert result.folded.inside == (355, 205, 120)
    assert result.folded.outside == (355 + 16, 205 + 12, 120 + 8)


def test_the_outer_flaps_meet_across_the_shorter_side_of_the_end() -> None:
    flat, tall = proved(CASE, "300x200x100"), proved(CASE, "300x100x200")
    for result, outer in ((flat, "bottom"), (tall, "front")):
        panel = result.design.pieces[0].blank.by_name[f"{outer} flap left"]
        assert panel.k == 1
        assert panel.size[0] == 52
        assert result.failures == ()


@pytest.mark.parametrize("outer", ["bottom", "sides"])
@pytest.mark.parametrize(("size", "board"), [("355x205x120", "E"), ("200x200x200", "BC"), ("120x60x40", "B")])
def test_either_pair_of_flaps_may_be_the_outer_one(outer: str, size: str, board: str) -> None:
    assert proved(CASE, size, board, outer_flaps=outer).failures == ()


def test_longer_panels_are_cut_back_beside_the_slots() -> None:
    """Bottom and top stand out past front and back by a board; beside the slots they end where these end."""
    result = proved(CASE, "355x205x120", "C", slot_width=8.0)
    blank = result.design.pieces[0].blank
    side, bottom = blank.by_name["back"].outline.bounds, blank.by_name["bottom"].outline
    assert side[0] - bottom.bounds[0] == 4
    low = [x for x, y in bottom.points if abs(y - bottom.bounds[1]) < 1e-9]
    assert min(low) == pytest.approx(side[0])
    assert (
        sorted({round(y - bottom.bounds[1], 6) for x, y in bottom.points if abs(x - bottom.bounds[0]) < 1e-9})[0] == 4
    )


# ---------------------------------------------------------------------- trials that must fail


def test_inner_flaps_up_to_the_creases_strike_bottom_and_top() -> None:
    result = proved(CASE)
    design = resized(result.design, "front flap left", (0, 0, 0, 2.6))
    assert "runs into front flap left" in faults(design, result)


def test_outer_flaps_longer_than_half_of_the_end_run_into_each_other() -> None:
    result = proved(CASE)
    design = resized(result.design, "bottom flap left", (2, 0, 0, 0))
    assert "bottom flap left runs into top flap left" in faults(design, result)


def test_bottom_and_top_as_short_as_the_sides_press_the_flaps_together() -> None:
    result = proved(CASE)
    moved = with_fold(result.design, "bottom flap left", lambda fold: replace(fold, shift=-4.0, give=4.0))
    assert "bottom flap left runs into front flap left" in faults(moved, result)


def test_a_front_as_high_as_the_back_strikes_the_top() -> None:
    result = proved(CASE)
    design = resized(result.design, "front", (0, 2.0, 0, 0))
    assert "front runs into top" in faults(design, result)


def test_the_lap_must_hang_a_board_before_the_front() -> None:
    result = proved(CASE)
    pressed = with_fold(result.design, "lap", lambda fold: replace(fold, shift=-1.0))
    assert "press 1 mm into each other" in faults(pressed, result)
    apart = with_fold(result.design, "lap", lambda fold: replace(fold, shift=1.0))
    assert "stay 1 mm apart" in faults(apart, result)


def test_outer_flaps_folded_first_are_in_the_way_of_the_inner_ones() -> None:
    result = proved(CASE)
    (motion,) = result.design.motions
    assert list(motion_faults(result.design, 4.0)) == []
    swapped = replace(motion, steps=(*motion.steps[:3], motion.steps[4], motion.steps[3]))
    assert "passes through" in " ".join(motion_faults(replace(result.design, motions=(swapped,)), 4.0))


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OptionError, match="inner flaps must go down between the walls"):
        proved(CASE, slot_width=4.0)
    with pytest.raises(SizeError, match="10 mm between their slots"):
        proved(CASE, "300x10x200", "C")
