"""Half slotted telescopes 0312 and 0320: the cover's size, its clearance, its way on, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, moved_piece, named, proved

from dieline.errors import InputError, SizeError
from dieline.sizing import Allowance, House
from dieline.testing import conform
from dieline_styles.tube_telescope import STYLES


@pytest.mark.parametrize("code", ["0312", "0320"])
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize(("board", "t"), [("E", 1.5), ("C", 4.0), ("BC", 7.0)])
def test_the_cover_is_larger_than_the_base_outside_by_the_clearance(board: str, t: float) -> None:
    """Base outside L + 2t by B + 2t; the cover's complete panels are a board longer than its inside."""
    result = proved(STYLES["0312"], "400x300x250/100", board, clearance=3.0)
    assert result.failures == ()
    assert named(result, "base panel 3 width") == 400 + t
    assert named(result, "cover panel 3 width") == 400 + 2 * t + 3 + t
    assert named(result, "cover panel 2 width") == 300 + 2 * t + 3 + t
    assert named(result, "cover panel height") == 100 + t
    assert dict(result.folded.gauges) == {
        f"clearance at the {side}": 1.5 for side in ("back", "right", "front", "left")
    }
    assert result.folded.inside == (400, 300, 250)


def test_the_full_telescope_ends_level_with_the_underside() -> None:
    """Two layers of flaps below: H + 2t deep inside, H + 4t high outside."""
    result = proved(STYLES["0320"], "400x300x250", "C")
    assert named(result, "cover panel height") == 250 + 2 * 4 + 4
    assert result.folded.outside[2] == 250 + 4 * 4
    raised = proved(STYLES["0320"], "400x300x250", "C", rise=20.0)
    assert named(raised, "cover panel height") == 250 + 2 * 4 + 4 - 20


def test_laps_lie_where_nothing_rubs_on_them() -> None:
    """Inside the base, outside the cover."""
    base, cover = (piece.blank.by_name["lap"] for piece in proved(STYLES["0312"]).design.pieces)
    assert (base.k, cover.k) == (-1, 1)


def test_both_tubes_are_proved_glued_and_flat() -> None:
    assert set(proved(STYLES["0320"]).folded.states) == {"base, glued flat", "cover, glued flat"}


def test_a_house_file_speaks_of_each_piece() -> None:
    """The cover follows the base that the plant really makes."""
    style = STYLES["0312"]
    house = House(name="plant", allowances=tuple(Allowance(size=f"base panel {n} width", add=2.0) for n in (1, 3)))
    job = proved(style).job
    design = style.build(style.order(job.size, job.board, {}, house))
    sizes = {line.name: line.value for line in design.sizes}
    assert sizes["base panel 3 width"] == 406
    assert sizes["cover panel 3 width"] == 406 + 4 + 2 + 4
    result = proved(style)
    assert faults(design, result) == ""


# ---------------------------------------------------------------------- trials that must fail


def test_a_cover_smaller_than_the_base_cannot_go_over_it() -> None:
    """Clearance 0 still goes; a board less on one side does not."""
    result = proved(STYLES["0312"], clearance=0.0)
    assert result.failures == ()
    text = faults(moved_piece(result.design, 1, (0.0, 1.0, 0.0)), result)
    assert "runs into" in text


def test_a_cover_out_of_the_middle_is_measured() -> None:
    result = proved(STYLES["0312"], clearance=3.0)
    text = faults(moved_piece(result.design, 1, (0.5, 0.0, 0.0)), result)
    assert "clearance at the right measures 2 mm, not 1.5 mm" in text
    assert "clearance at the left measures 1 mm, not 1.5 mm" in text


def test_a_cover_that_sits_too_low_or_high_makes_the_wrong_height() -> None:
    result = proved(STYLES["0312"])
    assert "inside H measures 253 mm folded, not 250 mm" in faults(moved_piece(result.design, 1, (0, 0, 3.0)), result)
    assert "runs into" in faults(moved_piece(result.design, 1, (0, 0, -3.0)), result)


def test_the_cover_slides_on_straight_and_not_askew() -> None:
    result = proved(STYLES["0312"])
    (slide,) = result.design.slides
    askew = replace(slide, start=(30.0, 0.0, slide.start[2]), samples=8)
    assert "slide the cover over the base" in faults(replace(result.design, slides=(askew,)), result)


@pytest.mark.parametrize(
    ("size", "why"), [("400x300x250/15", "the lap must keep 5 mm"), ("400x300x250/260", "reaches under the base")]
)
def test_a_cover_too_low_or_too_deep_is_refused(size: str, why: str) -> None:
    with pytest.raises(SizeError, match=why):
        proved(STYLES["0312"], size, "C")


def test_0320_has_no_depth_of_its_own() -> None:
    with pytest.raises(InputError, match="has no fourth size"):
        proved(STYLES["0320"], "400x300x250/100")
