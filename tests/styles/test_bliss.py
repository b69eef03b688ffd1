"""The three-piece box: sizes by their rules, pieces that meet, and trials that must fail."""

from __future__ import annotations

import pytest
from piece_trials import faults, moved_piece, named, proved, resized

from dieline.blank import Face
from dieline.errors import SizeError
from dieline.fold.slab import stand_up
from dieline.testing import conform
from dieline_styles.bliss import BLISS


def test_it_passes_the_suite() -> None:
    assert conform(BLISS) > 40


@pytest.mark.parametrize("flanges", ["ends", "body"])
@pytest.mark.parametrize("top", ["meet", "open"])
@pytest.mark.parametrize(("size", "board"), [("400x300x200", "E"), ("300x200x150", "C"), ("600x400x250", "BC")])
def test_both_kinds_hold_at_every_tried_size(flanges: str, top: str, size: str, board: str) -> None:
    result = proved(BLISS, size, board, flanges=flanges, top=top)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size


def test_pieces_have_the_sizes_of_their_rules() -> None:
    ends = proved(BLISS, "400x300x200", "C", flap_gap=0.0)
    assert named(ends, "body length") == 400 + 2 * 4
    assert named(ends, "bottom breadth") == 300 + 3 * 4
    assert named(ends, "side height") == 200 + 2 * 4
    assert named(ends, "end width") == 300 + 4
    assert ends.folded.outside == (400 + 8, 300 + 16, 200 + 12)
    body = proved(BLISS, "400x300x200", "C", flanges="body", clearance=0.5)
    assert named(body, "body length") == 400 + 3 * 4
    assert named(body, "bottom breadth") == 300 + 4
    assert named(body, "end width") == 300 - 1
    assert body.folded.outside == (400 + 16, 300 + 8, 200 + 8)


def test_one_end_stands_twice_and_makes_both_faces() -> None:
    """Drawn once; what it makes is turned with it: its left flange is at the front, then at the back."""
    result = proved(BLISS)
    assert [piece.count for piece in result.design.pieces] == [1, 2]
    assert len(result.drawings) == 2
    slabs = stand_up(result.design, 4.0)
    faces = {item.name: item.panel.face for item in slabs.items if item.panel is not None}
    assert (faces["end 1: panel"], faces["end 2: panel"]) == (Face.LEFT, Face.RIGHT)
    assert (faces["end 1: left flange"], faces["end 2: left flange"]) == (Face.FRONT, Face.BACK)
    assert (faces["end 1: bottom flange"], faces["end 2: bottom flange"]) == (Face.BOTTOM, Face.BOTTOM)


# ---------------------------------------------------------------------- trials that must fail


@pytest.mark.parametrize("flanges", ["ends", "body"])
@pytest.mark.parametrize("by", [(0.0, 2.0, 0.0), (2.0, 0.0, 0.0), (0.0, 0.0, -2.0)])
def test_an_end_out_of_its_place_is_found(flanges: str, by: tuple[float, float, float]) -> None:
    """Two millimetres along any axis: it strikes, or a flange no longer lies on what it is joined to."""
    result = proved(BLISS, flanges=flanges)
    text = faults(moved_piece(result.design, 1, by), result)
    assert any(told in text for told in ("runs into", "measures 2 mm, not 0 mm", "measures 398 mm folded, not 400 mm"))


def test_flanges_of_the_two_ends_must_not_meet() -> None:
    """Each is drawn out to half of L and two millimetres more."""
    result = proved(BLISS, "120x300x200", "C")
    design = resized(result.design, "left flange", (60 - named(result, "flange") + 2 + 2, 0, 0, 0), piece=1)
    design = resized(design, "right flange", (0, 0, 60 - named(result, "flange") + 2 + 2, 0), piece=1)
    text = faults(design, result)
    assert "end 1: right flange runs into end 2: left flange" in text
    assert "end 1: left flange runs into end 2: right flange" in text


def test_a_side_flange_too_far_down_strikes_the_bottom_flange() -> None:
    """Both may reach to their common corner; where each is as wide as the end, they are in each other's way."""
    result = proved(BLISS)
    design = resized(result.design, "left flange", (0, 4.6, 0, 0), piece=1)
    design = resized(design, "bottom flange", (4.6, 0, 0, 0), piece=1)
    assert "left flange runs into end 1: bottom flange" in faults(design, result)


def test_a_top_that_stops_short_stays_open() -> None:
    result = proved(BLISS)
    design = resized(result.design, "back top", (0, 0, 0, -10))
    assert "the top stays open" in faults(design, result)


@pytest.mark.parametrize(("size", "name"), [("400x40x200", "B"), ("40x300x200", "L"), ("400x300x30", "H")])
def test_what_leaves_no_room_for_flanges_is_refused(size: str, name: str) -> None:
    with pytest.raises(SizeError, match=f"size, {name}"):
        proved(BLISS, size, "C")
