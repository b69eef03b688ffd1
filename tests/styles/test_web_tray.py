"""Trays with web corners: the mirror law of the web, the loop that it closes, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from carton_trials import faults, points_of, reshaped
from tray_trials import BOARDS, named, slab, tray

from dieline.errors import InputError
from dieline.linetypes import Meaning
from dieline.sizing import House
from dieline.testing import conform
from dieline_styles.web_tray import WEB_TRAY


def test_the_style_passes_the_suite() -> None:
    assert conform(WEB_TRAY) > 40


@pytest.mark.parametrize("board", BOARDS[:-1])
@pytest.mark.parametrize("on", ["L", "B"])
@pytest.mark.parametrize("size", ["300x200x60", "400x300x120", "200x100x120"])
def test_every_tried_size_holds(size: str, on: str, board: str) -> None:
    """Six boards more across the webs, two across the walls; the last size has its webs cut short."""
    result = tray(WEB_TRAY, size, board, web_on=on)
    assert result.failures == ()
    t = result.job.board.thickness
    length, breadth, height, _ = result.job.size
    growth = (6, 2) if on == "B" else (2, 6)
    assert result.folded.inside == pytest.approx((length, breadth, height))
    assert result.folded.outside == pytest.approx((length + growth[0] * t, breadth + growth[1] * t, height + t))


def test_the_crease_across_is_one_straight_line_through_the_corner_of_the_creases() -> None:
    """At 45 degrees, through the point where the base crease of the end meets that of the wall."""
    result = tray(WEB_TRAY)
    assert named(result, "base length") == pytest.approx(300 + 5 * 4)
    corner = (named(result, "base length") / 2, named(result, "base breadth") / 2)
    assert len(result.design.pieces[0].blank.seams) == 4
    for seam in result.design.pieces[0].blank.seams:
        for x, y in seam.line:
            assert abs(x) - corner[0] == pytest.approx(abs(y) - corner[1])
        assert seam.meaning is Meaning.CREASE_BACK


def test_the_loop_closes_to_one_board_along_its_normal() -> None:
    """The two images of the crease across differ by a board, straight through the layers."""
    result = tray(WEB_TRAY)
    front, back = slab(result, "front right web"), slab(result, "right front web back")
    for seam in result.design.pieces[0].blank.seams:
        if {seam.a, seam.b} == {"front right web", "right front web back"}:
            for place in seam.line:
                a, b = (part.rotation[:, :2] @ np.array(place) + part.offset for part in (front, back))
                assert b - a == pytest.approx([4.0, 0.0, 0.0])


def test_the_corner_is_one_piece_of_board_but_for_its_relief() -> None:
    """Webs and walls fill the whole rectangle of the blank; each corner loses only the hole at its foot."""
    result = tray(WEB_TRAY, web_foot=3.0)
    blank = result.design.pieces[0].blank
    long, deep = blank.size
    relief = (2 * 4 + 3) * (4 + 3) - 2 * 4 * 4  # up to the feet of both webs, less the corner of the base
    assert blank.area == pytest.approx(long * deep - 4 * relief)


def test_rounding_to_the_plants_step_still_closes() -> None:
    for board in ("carton-0.7", "F", "C-inch"):
        assert tray(WEB_TRAY, "303.3x201.7x61.1", board, House(step=0.5)).failures == ()


def test_webs_that_all_but_meet_are_cut_short_by_an_edge_that_a_knife_can_make() -> None:
    """A twentieth of a millimetre too long for the end: cut by a whole one."""
    for breadth in (135.0, 137.0, 137.1, 137.2, 138.0):
        result = tray(WEB_TRAY, f"300x{breadth:g}x60")
        assert result.failures == ()
        corner = points_of(result, "front right web")
        sides = [math.dist(a, b) for a, b in zip(corner, corner[1:] + corner[:1], strict=True)]
        assert min(sides) >= 1.0 - 1e-9


def test_a_tray_too_narrow_for_two_webs_is_refused() -> None:
    with pytest.raises(InputError, match=r"B.*two webs share each end"):
        tray(WEB_TRAY, "300x30x60")


# ---------------------------------------------------------------------- trials that must fail


def test_without_a_board_of_play_in_the_crease_the_web_tears() -> None:
    result = tray(WEB_TRAY)
    piece = result.design.pieces[0]
    seams = tuple(replace(seam, miss=3.9) for seam in piece.blank.seams)
    tight = replace(result.design, pieces=(replace(piece, blank=replace(piece.blank, seams=seams)),))
    assert "does not close" in faults(tight, result)


def test_a_web_back_that_does_not_leave_its_crease_lies_in_the_end() -> None:
    result = tray(WEB_TRAY)
    piece = result.design.pieces[0]
    folds = [replace(fold, shift=0.0) if fold.angle == 180.0 else fold for fold in piece.blank.folds]
    flat = replace(result.design, pieces=(replace(piece, blank=piece.blank.with_folds(folds)),))
    text = faults(flat, result)
    assert "press 4 mm into each other" in text


def test_webs_that_are_not_cut_short_run_into_each_other() -> None:
    result = tray(WEB_TRAY, "200x100x120")
    assert result.failures == ()
    far = max(x for x, _ in points_of(result, "front right web"))
    design = reshaped(result.design, "front right web", {("x", far): far + 2.0})
    assert "front right web runs into back right web" in faults(design, result)


def test_a_web_that_begins_on_the_crease_stands_in_the_base() -> None:
    result = tray(WEB_TRAY)
    foot = max(y for _, y in points_of(result, "front right web"))
    design = reshaped(result.design, "front right web", {("y", foot): foot + 2.4})
    assert "base runs into front right web" in faults(design, result)
