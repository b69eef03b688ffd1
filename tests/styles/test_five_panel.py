"""The five-panel folder 0410: sizes by their rules, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, resized, with_fold

from dieline.errors import OptionError
from dieline.fold.states import motion_faults
from dieline.testing import conform
from dieline_styles.five_panel import STYLES

FOLDER = STYLES["0410"]


def test_it_passes_the_suite() -> None:
    assert conform(FOLDER) > 40


@pytest.mark.parametrize(("board", "t"), [("E", 1.5), ("C", 4.0), ("BC", 7.0)])
def test_panels_have_the_sizes_of_their_rules(board: str, t: float) -> None:
    """L + (2k + 1) t with the layers 0 to 3 of the end flaps; H + t and H + 2t; B + t; B + 1.5t."""
    result = proved(FOLDER, "600x90x70", board, clearance=0.5)
    assert result.failures == ()
    for k, name in enumerate(("side", "inner top", "bottom", "outer top")):
        assert named(result, f"{name} length") == pytest.approx(600 + (2 * k + 1) * t)
    assert named(result, "front height") == 70 + t
    assert named(result, "back height") == 70 + 2 * t
    assert named(result, "bottom breadth") == 90 + t
    assert named(result, "inner top breadth") == pytest.approx(90 + t / 2 - 0.5)
    assert named(result, "outer top breadth") == pytest.approx(90 + 1.5 * t)
    assert result.folded.inside == (600, 90, 70)
    assert result.folded.outside == pytest.approx((600 + 8 * t, 90 + 2 * t, 70 + 3 * t))


def test_the_outer_top_covers_the_inner_one_and_the_front() -> None:
    """Its raw edge ends level with the outside of the front."""
    result = proved(FOLDER)
    assert result.folded.outside[1] == 90 + 8
    shorter = resized(result.design, "outer top", (0, 0, 0, -60))
    assert "the top stays open" not in faults(shorter, result), "the inner top alone shuts it but for its play"
    shorter = resized(shorter, "inner top", (0, -70, 0, 0))
    assert "the top stays open" in faults(shorter, result)


# ---------------------------------------------------------------------- trials that must fail


@pytest.mark.parametrize(("inner", "outer"), [("inner top", "bottom"), ("bottom", "outer top"), ("front", "inner top")])
def test_each_layer_of_flaps_needs_its_board(inner: str, outer: str) -> None:
    """Shifted in by a board, the flap of one layer lies where that of the next inner one is."""
    result = proved(FOLDER)
    moved = with_fold(result.design, f"{outer} flap left", lambda fold: replace(fold, shift=-4.0, give=4.0))
    text = faults(moved, result)
    assert "runs into" in text
    assert f"{outer} flap left" in text
    assert f"{inner} flap left" in text


def test_flaps_of_front_and_back_that_meet_run_into_each_other() -> None:
    result = proved(FOLDER, "600x90x70", side_flap=46.5)
    design = resized(result.design, "front flap left", (1.5, 0, 0, 0))
    assert "front flap left runs into back flap left" in faults(design, result)


def test_a_back_flap_up_to_its_crease_strikes_the_inner_top() -> None:
    result = proved(FOLDER)
    design = resized(result.design, "back flap left", (0, 0, 0, 4.0))
    assert "back flap left" in faults(design, result)
    assert "inner top" in faults(design, result)


def test_end_flaps_that_are_too_short_leave_the_end_open() -> None:
    result = proved(FOLDER, end_flap=36.0, side_flap=15.0)
    assert result.failures == ()
    design = resized(result.design, "bottom flap left", (-10, 0, 0, 0))
    assert "the left stays open" in faults(design, result)
    with pytest.raises(OptionError, match="with less the ends stand open"):
        proved(FOLDER, end_flap=34.0)


def test_the_layers_close_from_the_inside_out() -> None:
    result = proved(FOLDER)
    (motion,) = result.design.motions
    assert list(motion_faults(result.design, 4.0)) == []
    swapped = replace(motion, steps=(*motion.steps[:4], *motion.steps[:3:-1]))
    assert "passes through" in " ".join(motion_faults(replace(result.design, motions=(swapped,)), 4.0))
