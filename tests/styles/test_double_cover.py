"""The double cover box 0310: one cap in two places, clearances, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from piece_trials import faults, named, proved

from dieline.blank import Face
from dieline.errors import SizeError
from dieline.fold.slab import stand_up
from dieline.testing import conform
from dieline_styles.double_cover import STYLES

BOX = STYLES["0310"]


def test_it_passes_the_suite() -> None:
    assert conform(BOX) > 40


@pytest.mark.parametrize("joint", ["glued", "stitched", "taped"])
@pytest.mark.parametrize(("board", "t"), [("E", 1.5), ("C", 4.0), ("BC", 7.0)])
def test_the_caps_go_over_the_tube_with_the_clearance(joint: str, board: str, t: float) -> None:
    result = proved(BOX, "400x300x400/80", board, clearance=3.0, joint=joint)
    assert result.failures == ()
    assert named(result, "cap base length") == pytest.approx(400 + 2 * t + 3 + t)
    assert named(result, "cap base breadth") == pytest.approx(300 + 2 * t + 3 + t)
    assert named(result, "cap wall height") == pytest.approx(80 + t / 2)
    assert [measure for _, measure in result.folded.gauges] == pytest.approx([1.5] * 8)
    assert result.folded.inside == (400, 300, 400)
    assert result.folded.outside[2] == 400 + 2 * t
    assert result.design.facts["gap between the caps"] == pytest.approx(240)


def test_the_cap_is_drawn_once_and_stands_twice() -> None:
    result = proved(BOX)
    assert [piece.count for piece in result.design.pieces] == [1, 2]
    slabs = stand_up(result.design, 4.0)
    faces = {item.name: item.panel.face for item in slabs.items if item.panel is not None}
    assert (faces["cap 1: base"], faces["cap 2: base"]) == (Face.BOTTOM, Face.TOP)
    assert (faces["cap 1: front wall"], faces["cap 2: front wall"]) == (Face.FRONT, Face.BACK)
    assert (faces["cap 1: left end"], faces["cap 2: left end"]) == (Face.LEFT, Face.LEFT)


# ---------------------------------------------------------------------- trials that must fail


def test_a_cap_with_its_laps_inside_would_rub_on_the_tube() -> None:
    """The laps hang outside; pressed inside the ends they take a board of the clearance that is not there."""
    result = proved(BOX, clearance=0.0)
    assert result.failures == ()
    cap = result.design.pieces[1].blank
    assert all(panel.k >= 1 for panel in cap.panels if panel.name.endswith("lap"))
    shrunk = replace(result.design.pieces[1], stand=replace(result.design.pieces[1].stand, origin=(201.0, 150.0, -2.0)))
    assert "runs into" in faults(replace(result.design, pieces=(result.design.pieces[0], shrunk), slides=()), result)


def test_the_caps_slide_on_from_below_and_above() -> None:
    result = proved(BOX)
    lower, upper = result.design.slides
    assert lower.start[2] < 0 < upper.start[2]
    swapped = replace(result.design, slides=(replace(lower, start=upper.start),))
    assert "set the tube into the lower cap" in faults(swapped, result)


@pytest.mark.parametrize(
    ("size", "why"), [("400x300x250/123", "must stay 5 mm apart"), ("400x300x250/10", "folded and glued")]
)
def test_caps_that_meet_or_cannot_be_folded_are_refused(size: str, why: str) -> None:
    with pytest.raises(SizeError, match=why):
        proved(BOX, size, "C")
    assert proved(BOX, "400x300x250/122", "C").failures == ()
