"""States of a box: exact at both ends, stage by stage between, and only the flaps asked for lifted."""

from __future__ import annotations

import math

import pytest

from dieline.blank import Blank, Face, Fold
from dieline.board import find_board
from dieline.errors import InputError
from dieline.fold.motion import opened, stage_bends
from dieline.style.sheet import Sheet
from dieline.units import parse_size
from dieline_styles.slotted import STYLES


def _blank(style: str) -> Blank:
    found = STYLES[style]
    return found.build(found.order(parse_size("300x200x150"), find_board("C"))).pieces[0].blank


def _fold(blank: Blank, child: str) -> Fold:
    return next(fold for fold in blank.folds if fold.child == child)


def _tray() -> Blank:
    """A base with one wall up and one hanging down, a lid on the first, and a tuck that bends without a crease."""
    sheet = Sheet("tray")
    sheet.panel("base", [(0, 0), (100, 0), (100, 60), (0, 60)], face=Face.BOTTOM)
    sheet.hang("wall", "base", ((100, 60), (0, 60)), [(0, 0), (100, 0), (100, 40), (0, 40)], face=Face.BACK)
    sheet.hang(
        "skirt", "base", ((0, 0), (100, 0)), [(0, 0), (100, 0), (100, 20), (0, 20)], angle=-90.0, face=Face.FRONT
    )
    lid = [(0, 0), (100, 0), (100, 60), (0, 60)]
    sheet.hang("lid", "wall", ((100, 100), (0, 100)), lid, face=Face.TOP, shift=1.5, stage=2)
    tuck = [(0, 0), (100, 0), (100, 15), (0, 15)]
    sheet.hang("tuck", "lid", ((100, 160), (0, 160)), tuck, angle=80.0, stage=3)
    sheet.hang("lip", "tuck", ((100, 175), (0, 175)), tuck, angle=10.0, meaning=None, stage=3)
    return sheet.blank()


@pytest.mark.parametrize("style", ["0201", "0203", "0200"])
def test_the_ends_are_exact(style: str) -> None:
    """Progress 0 is flat and 1 is the very angles and shifts of the blank, to the last bit."""
    blank = _blank(style)
    flat, finished = stage_bends(blank, 0.0), stage_bends(blank, 1.0)
    for fold in blank.folds:
        assert flat(fold) == (0.0, 0.0)
        assert finished(fold) == (fold.angle, fold.shift)


def test_stages_follow_each_other() -> None:
    """Half-way through three stages the first is done, the second half done, the third not begun."""
    blank = _blank("0201")
    assert {fold.stage for fold in blank.folds} == {1, 2, 3}
    half = stage_bends(blank, 0.5)
    for fold in blank.folds:
        share = {1: 1.0, 2: 0.5, 3: 0.0}[fold.stage]
        assert half(fold) == pytest.approx((fold.angle * share, fold.shift * share))


def test_a_bend_without_a_crease_moves_with_its_stage() -> None:
    """The last flap of a full overlap box climbs over the first only while it is closed itself."""
    blank = _blank("0203")
    climbing = next(fold for fold in blank.folds if fold.meaning is None)
    stages = len({fold.stage for fold in blank.folds})
    before = (climbing.stage - 1) / stages
    assert stage_bends(blank, before)(climbing) == (0.0, 0.0)
    angle, _ = stage_bends(blank, before + 0.5 / stages)(climbing)
    assert angle == pytest.approx(climbing.angle / 2)


@pytest.mark.parametrize("progress", [-0.01, 1.01, math.nan, math.inf])
def test_progress_beyond_the_ends_is_refused(progress: float) -> None:
    """The error names the range."""
    with pytest.raises(InputError, match=r"progress – .* must be from 0 \(flat\) to 1"):
        stage_bends(_blank("0201"), progress)


def test_a_blank_without_folds_has_no_stages() -> None:
    """A pad is as flat as it is finished."""
    sheet = Sheet("pad")
    sheet.panel("pad", [(0, 0), (10, 0), (10, 10), (0, 10)])
    stage_bends(sheet.blank(), 0.5)


def test_only_the_flaps_of_the_face_are_lifted() -> None:
    """Top flaps turn back by the angle; walls, lap and bottom flaps stay where they are."""
    blank = _blank("0201")
    bend = opened(blank, {Face.TOP}, 110.0)
    for fold in blank.folds:
        if blank.by_name[fold.child].face is Face.TOP:
            assert bend(fold) == pytest.approx((fold.angle - 110.0, 0.0))
        else:
            assert bend(fold) == (fold.angle, fold.shift)


def test_lifted_by_nothing_is_closed() -> None:
    """Opened by 0 degrees every fold keeps its own angle and shift, to the last bit."""
    blank = _blank("0203")
    bend = opened(blank, {Face.TOP, Face.BOTTOM}, 0.0)
    assert [bend(fold) for fold in blank.folds] == [(fold.angle, fold.shift) for fold in blank.folds]


def test_what_is_lifted_slackens_in_step() -> None:
    """Half-way back the shift is half, and so is a bend that is not creased; a creased tuck stays bent."""
    blank = _tray()
    bend = opened(blank, [Face.TOP], 45.0)
    assert bend(_fold(blank, "lid")) == pytest.approx((45.0, 0.75))
    assert bend(_fold(blank, "tuck")) == (80.0, 0.0)
    assert bend(_fold(blank, "lip")) == pytest.approx((5.0, 0.0))
    assert bend(_fold(blank, "wall")) == (90.0, 0.0)


def test_a_flap_folded_outward_is_lifted_the_other_way() -> None:
    """Back means back toward flat, whichever way the flap was folded."""
    blank = _tray()
    assert opened(blank, [Face.FRONT], 30.0)(_fold(blank, "skirt")) == pytest.approx((-60.0, 0.0))


@pytest.mark.parametrize("angle", [-1.0, 361.0, math.nan])
def test_an_angle_that_no_flap_turns_is_refused(angle: float) -> None:
    """The error names the range."""
    with pytest.raises(InputError, match=r"angle – .* must be from 0 \(closed\) to 360"):
        opened(_blank("0201"), {Face.TOP}, angle)
