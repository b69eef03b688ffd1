"""Corner posts: rolled up from one piece, standing in the corners of the box, and trials that must fail."""

from __future__ import annotations

import pytest
from piece_trials import faults, moved_piece, named, proved, resized

from dieline.blank import JointKind
from dieline.errors import OptionError
from dieline_styles.corner_post import STYLES

POST = STYLES["corner-post"]


def test_its_outer_faces_measure_what_was_asked() -> None:
    """Crease to crease a wall is a board less than its outside; the roll starts a board further in."""
    result = proved(POST, "380x280x250", post_length=70, post_breadth=60)
    assert not result.failures
    assert named(result, "third wall width") + 4 == pytest.approx(70)
    assert named(result, "second wall width") + 4 == pytest.approx(60)
    assert named(result, "second wall width") - named(result, "fourth wall width") == pytest.approx(4)
    gauges = {gauge.name: gauge.expected for gauge in result.design.gauges}
    assert gauges["post along L"] == pytest.approx(70)
    assert gauges["post along B"] == pytest.approx(60)
    assert gauges["hollow along B"] == pytest.approx(60 - 3 * 4)


@pytest.mark.parametrize("posts", [1, 2, 3, 4])
def test_each_post_stands_in_its_own_corner(posts: int) -> None:
    result = proved(POST, posts=posts)
    assert not result.failures
    piece = result.design.pieces[0]
    assert piece.count == len(piece.stands) == len({stand.origin for stand in piece.stands}) == posts


def test_the_tail_is_glued_or_stitched_over_its_face() -> None:
    for joint, kind in (("glued", JointKind.GLUED), ("stitched", JointKind.STITCHED)):
        result = proved(POST, joint=joint)
        assert not result.failures
        assert [found.kind for found in result.design.pieces[0].blank.joints] == [kind]


def test_a_tail_too_long_runs_into_the_far_wall() -> None:
    result = proved(POST)
    assert "tail runs into post 1: second wall" in faults(resized(result.design, "tail", (0, 0, 4, 0)), result)


def test_a_wall_higher_than_the_box_is_found() -> None:
    result = proved(POST)
    assert "too large along H" in faults(resized(result.design, "fourth wall", (0, 0, 0, 10)), result)


def test_a_post_through_the_wall_of_the_box_is_found() -> None:
    result = proved(POST)
    assert "too large along L" in faults(moved_piece(result.design, 0, (-3, 0, 0)), result)


def test_posts_that_would_meet_are_refused() -> None:
    with pytest.raises(OptionError, match="side by side"):
        proved(POST, "380x280x250", post_length=195)


def test_a_box_too_small_for_two_posts_is_refused() -> None:
    with pytest.raises(OptionError, match="side by side"):
        proved(POST, "30x280x250")
