"""Sleeves 0501, the drawer in a sleeve, the double slide: sizes by their rules, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from piece_trials import faults, moved_piece, named, proved, resized

from dieline.blank import Face
from dieline.errors import OptionError, SizeError
from dieline.fold.slab import stand_up
from dieline.style.contract import Style
from dieline.testing import conform
from dieline_styles.double_slide import DOUBLE_SLIDE
from dieline_styles.drawer import DRAWER_SLEEVE
from dieline_styles.slide import STYLES

SLEEVE = STYLES["0501"]


@pytest.mark.parametrize("style", [SLEEVE, DRAWER_SLEEVE, DOUBLE_SLIDE], ids=lambda style: style.code)
def test_each_style_passes_the_suite(style: Style) -> None:
    assert conform(style) > 40


# ---------------------------------------------------------------------- the sleeve


@pytest.mark.parametrize(("joint", "first", "last"), [("glued", 0.5, 1.0), ("taped", 0.5, 1.5)])
def test_a_sleeve_is_a_tube_as_long_as_h(joint: str, first: float, last: float) -> None:
    result = proved(SLEEVE, "200x60x150", "C", joint=joint)
    assert result.failures == ()
    assert named(result, "panel 1 width") == 200 + first * 4
    assert named(result, "panel 3 width") == 204
    assert named(result, "panel 4 width") == 60 + last * 4
    assert named(result, "panel height") == 150
    assert result.folded.outside == (208, 68, 150)


@pytest.mark.parametrize(("notches", "count"), [("none", 0), ("one", 2), ("both", 4)])
def test_thumb_notches_are_half_circles_in_both_l_panels(notches: str, count: int) -> None:
    plain, notched = (
        proved(SLEEVE, "200x60x150", "C", thumb_notch=which, notch_radius=14.0) for which in ("none", notches)
    )
    gone = plain.design.pieces[0].blank.area - notched.design.pieces[0].blank.area
    assert gone == pytest.approx(count * math.pi * 14**2 / 2)
    assert notched.failures == ()


def test_no_notch_is_cut_where_the_lap_lies() -> None:
    result = proved(SLEEVE, "200x60x150", "C", lap_on="B", thumb_notch="one", notch_radius=14.0)
    plain = proved(SLEEVE, "200x60x150", "C", lap_on="B")
    assert plain.design.pieces[0].blank.area - result.design.pieces[0].blank.area == pytest.approx(math.pi * 98)
    assert result.failures == ()


# ---------------------------------------------------------------------- the drawer


@pytest.mark.parametrize("drawer", ["glued", "rolled"])
@pytest.mark.parametrize("notch", ["none", "one", "both"])
@pytest.mark.parametrize(("size", "board"), [("200x120x50", "E"), ("300x200x80", "B"), ("400x250x60", "C")])
def test_both_kinds_of_drawer_hold(drawer: str, notch: str, size: str, board: str) -> None:
    result = proved(DRAWER_SLEEVE, size, board, drawer=drawer, thumb_notch=notch)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size


def test_the_sleeve_is_as_long_as_the_drawer_and_larger_by_the_clearance() -> None:
    """Opening B + 2t + c by H + t: the drawer's base lies in it, its rim stands c lower than the top."""
    t, c = 3.0, 2.0
    result = proved(DRAWER_SLEEVE, "300x200x80", "B", clearance=c)
    assert named(result, "drawer wall height") == 80 - c + t / 2
    assert named(result, "sleeve panel height") == 300 + 4 * t
    assert named(result, "sleeve panel 3 width") == 200 + 2 * t + c + t
    assert named(result, "sleeve panel 2 width") == 80 + t + t
    gauges = dict(result.folded.gauges)
    assert gauges["play at the front"] == gauges["play at the back"] == c / 2
    assert gauges["play under the drawer"] == 0
    assert gauges["height over the base"] == 80
    assert result.folded.outside == (312, 200 + 4 * t + c + t, 80 + 3 * t)


def test_a_rolled_drawer_keeps_its_locks() -> None:
    result = proved(DRAWER_SLEEVE, "300x200x80", "B", drawer="rolled")
    assert any("tabs" in name for name, _ in result.folded.locks)


def test_rolled_ends_need_corrugated_board() -> None:
    assert proved(DRAWER_SLEEVE, board="carton-0.5").failures == ()
    with pytest.raises(OptionError, match="take drawer=glued"):
        proved(DRAWER_SLEEVE, board="carton-0.5", drawer="rolled")


def test_the_drawer_slides_in_along_l_and_not_from_the_side() -> None:
    result = proved(DRAWER_SLEEVE)
    (slide,) = result.design.slides
    assert slide.start[0] > 200
    beside = replace(slide, start=(0.0, 200.0, 0.0))
    text = faults(replace(result.design, slides=(beside,)), result)
    assert "push the drawer in: drawer: back wall strikes sleeve" in text or "strikes" in text


def test_a_drawer_as_broad_as_the_sleeve_strikes_it() -> None:
    result = proved(DRAWER_SLEEVE, clearance=0.0)
    assert result.failures == ()
    text = faults(moved_piece(result.design, 0, (0.0, 1.0, 0.0)), result)
    assert "drawer: back wall runs into sleeve" in text


def test_a_drawer_as_high_as_the_sleeve_strikes_it() -> None:
    result = proved(DRAWER_SLEEVE, clearance=2.0)
    taller = resized(result.design, "front wall", (0, 3.0, 0, 0))
    assert "runs into sleeve" in faults(taller, result)


# ---------------------------------------------------------------------- the double slide


@pytest.mark.parametrize(("runs", "double"), [("up", (Face.FRONT, Face.BACK)), ("across", (Face.BOTTOM, Face.TOP))])
@pytest.mark.parametrize(("size", "board"), [("300x200x120", "E"), ("300x200x120", "C"), ("500x120x200", "BC")])
def test_two_sides_are_double_and_four_single(runs: str, double: tuple[Face, ...], size: str, board: str) -> None:
    result = proved(DOUBLE_SLIDE, size, board, outer_runs=runs)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    slabs = stand_up(result.design, result.job.board.thickness)
    walls = [slab.panel.face for slab in slabs.items if slab.panel is not None and slab.panel.name != "lap"]
    assert {face: walls.count(face) for face in Face} == {face: 2 if face in double else 1 for face in Face}
    assert {closed.face for closed in result.design.closed} == set(Face)


def test_the_sleeves_have_the_sizes_of_their_rules() -> None:
    """Inner: B by H, as long as L less the clearance. Outer, upright: L by B + 2t + c, as long as H + 2t."""
    t, c = 4.0, 2.0
    result = proved(DOUBLE_SLIDE, "300x200x120", "C", clearance=c)
    assert named(result, "inner panel 3 width") == 200 + t
    assert named(result, "inner panel 2 width") == 120 + t
    assert named(result, "inner panel height") == 300 - c
    assert named(result, "outer panel 3 width") == 300 + t
    assert named(result, "outer panel 2 width") == 200 + 2 * t + c + t
    assert named(result, "outer panel height") == 120 + 2 * t
    assert dict(result.folded.gauges) == {"play at the front": 1.0, "play at the back": 1.0}


@pytest.mark.parametrize("runs", ["up", "across"])
def test_a_sleeve_out_of_its_place_is_found(runs: str) -> None:
    result = proved(DOUBLE_SLIDE, outer_runs=runs, clearance=1.0)
    for by in ((2.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 2.0)):
        moved = moved_piece(result.design, 1, by)
        along = 2 if runs == "up" else 1
        if by[along]:
            continue  # along its own run the outer sleeve is free
        assert faults(moved, result) != ""


def test_the_outer_sleeve_comes_along_its_own_run() -> None:
    result = proved(DOUBLE_SLIDE)
    (slide,) = result.design.slides
    wrong = replace(result.design, slides=(replace(slide, start=(400.0, 0.0, 0.0)),))
    assert "slide the outer sleeve over the inner one" in faults(wrong, result)


def test_what_leaves_no_room_is_refused() -> None:
    with pytest.raises(SizeError, match="size, L"):
        proved(DOUBLE_SLIDE, "20x200x120")
    with pytest.raises(SizeError, match="size, B"):
        proved(DRAWER_SLEEVE, "200x20x50")
