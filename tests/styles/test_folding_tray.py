"""Trays that are glued flat: the linkage at their corners, the states, the way up, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from carton_trials import faults, points_of, reshaped
from numpy.typing import NDArray
from tray_trials import BOARDS, images, named, tray

from dieline.errors import SizeError
from dieline.fold.pose import Bend, pose_panels
from dieline.fold.slab import slabs_of
from dieline.fold.states import motion_faults
from dieline.linetypes import Meaning
from dieline.pipeline import Result
from dieline.style import Style
from dieline.style.design import Bends
from dieline.testing import conform
from dieline_styles.folding_corner import SLIP, linkage
from dieline_styles.folding_tray import FOUR_CORNER_TRAY
from dieline_styles.lidded_tray import SIX_CORNER_TRAY

Vector = NDArray[np.float64]

STYLES = [FOUR_CORNER_TRAY, SIX_CORNER_TRAY]


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.code)
def test_each_style_passes_the_suite(style: Style) -> None:
    assert conform(style) > 25


@pytest.mark.parametrize("board", BOARDS[:-1])
@pytest.mark.parametrize("flat", ["in", "out"])
@pytest.mark.parametrize(("size", "creased"), [("300x200x60", "L"), ("400x300x90", "L"), ("200x300x60", "B")])
def test_every_tried_size_holds(size: str, creased: str, flat: str, board: str) -> None:
    """Erect, glued flat, and pulled up; inside exact."""
    result = tray(FOUR_CORNER_TRAY, size, board, creased=creased, flat=flat)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert result.folded.states == ("glued flat",)


@pytest.mark.parametrize("board", BOARDS[:-1])
@pytest.mark.parametrize("size", ["300x220x80", "300x200x60", "420x300x120"])
def test_every_tried_lidded_tray_holds(size: str, board: str) -> None:
    result = tray(SIX_CORNER_TRAY, size, board)
    assert result.failures == ()
    assert [value for _, value in result.folded.gauges] == pytest.approx([1.0, 1.0, 1.0])


# ---------------------------------------------------------------------- the linkage


def _turned(axis: Vector, vector: Vector, angle: float) -> Vector:
    """A vector turned about a unit axis, right-handed (Rodrigues)."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return np.asarray(vector * c + np.cross(axis, vector) * s + axis * (axis @ vector) * (1 - c))


@pytest.mark.parametrize("creased", [0.0, 5.0, 30.0, 45.0, 60.0, 89.0, 90.0, 91.0, 120.0, 150.0, 180.0])
def test_the_linkage_closes_the_loop_round_a_corner(creased: float) -> None:
    """Without board: up along both walls the corner's edge is one line, and the lap lies on its triangle.

    A corner at the back right of the base: the foot of the creased wall runs to -x, that of the lapped wall to -y.
    """
    x, y = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    triangle, end, lap = linkage(creased)
    across = _turned(x, (y - x) / math.sqrt(2), creased)
    over_wall = _turned(-across, _turned(x, y, creased), triangle)
    over_end = _turned(-y, x, end)
    assert over_wall == pytest.approx(over_end, abs=1e-9)
    lies = _turned(over_end, y, lap)
    assert lies == pytest.approx((across - over_end * (across @ over_end)) * math.sqrt(2), abs=1e-9)


def _bend(bends: Bends) -> Bend:
    return lambda fold: bends[fold.child]


def _slip(result: Result, bends: Bends) -> float:
    """By how much a lap has moved on its triangle since the tray stood erect, mm."""
    triangle, lap = "front left triangle", "left front lap"
    place = points_of(result, lap)[0]
    seen = []
    for state in ({}, bends):
        places = [(triangle, (0.0, 0.0)), (triangle, (1.0, 0.0)), (triangle, (0.0, 1.0)), (lap, place)]
        origin, u, v, on = images(result.design, state, places)
        seen.append(((on - origin) @ (u - origin), (on - origin) @ (v - origin)))
    return math.dist(*seen)


@pytest.mark.parametrize("flat", ["in", "out"])
@pytest.mark.parametrize("board", ["carton-0.5", "C"])
def test_flat_a_lap_slips_on_its_triangle_by_no_more_than_the_best_start_leaves(flat: str, board: str) -> None:
    """0.71 board, the least there is; a crease that begins at the middle of the lapped wall would leave a whole one."""
    result = tray(FOUR_CORNER_TRAY, board=board, flat=flat)
    (state,) = result.design.states
    assert _slip(result, state.bends) == pytest.approx(SLIP * result.job.board.thickness)
    assert result.design.facts["slip of the laps when flat"] == pytest.approx(SLIP * result.job.board.thickness)


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.code)
def test_on_the_way_up_a_lap_slips_by_less_than_two_boards(style: Style) -> None:
    result = tray(style)
    (motion,) = result.design.motions
    at = dict(motion.start)
    for step in motion.steps:
        at |= dict(step.bends)
        assert _slip(result, at) < 2.0 * 4.0


# ---------------------------------------------------------------------- sizes


def test_a_flat_tray_is_as_large_as_its_base_or_as_its_creased_walls() -> None:
    """Laid in: the base and what stands out at its folds. Out flat: the creased walls in full."""
    for flat, deep in (("in", 204 + 4 * 4), ("out", 204 + 2 * 62)):
        result = tray(FOUR_CORNER_TRAY, flat=flat)
        (state,) = result.design.states
        piece = result.design.pieces[0]
        poses = pose_panels(piece.blank, piece.stand, _bend(state.bends))
        corners = np.concatenate([part.corners for part in slabs_of(piece.blank, poses, 0, 4.0)])
        assert np.ptp(corners[:, 1]) <= deep + 1e-6
        assert np.ptp(corners[:, 2]) == pytest.approx({"in": 5 * 4, "out": 3 * 4}[flat])


def test_the_creases_across_begin_inside_or_outside_by_half_a_board() -> None:
    """Where the crease, made longer, meets the foot of its wall: the middle of the lapped wall, and half a board."""
    for flat, start in (("in", -2.0), ("out", 2.0)):
        result = tray(FOUR_CORNER_TRAY, flat=flat)
        fold = next(fold for fold in result.design.pieces[0].blank.folds if fold.child == "back right triangle")
        foot = named(result, "base breadth") / 2
        assert [x + y - foot for x, y in fold.line] == pytest.approx([named(result, "base length") / 2 + start] * 2)
        assert fold.meaning is (Meaning.CREASE_BACK if flat == "in" else Meaning.CREASE)


@pytest.mark.parametrize(
    ("style", "size", "options", "reason"),
    [
        (FOUR_CORNER_TRAY, "300x200x160", {"flat": "out"}, "L.*twice as long as high"),
        (FOUR_CORNER_TRAY, "300x110x60", {"flat": "in"}, "B.*must not meet"),
        (FOUR_CORNER_TRAY, "300x200x15", {}, "H.*glued beyond"),
        (SIX_CORNER_TRAY, "300x220x140", {}, "L.*hinge"),
    ],
)
def test_what_does_not_lie_flat_is_refused(style: Style, size: str, options: dict[str, Any], reason: str) -> None:
    with pytest.raises(SizeError, match=reason):
        tray(style, size, **options)


@pytest.mark.parametrize("apart", [0.0, 0.03, 0.49, 0.51, 2.0])
def test_a_lap_and_its_overhang_begin_together_or_a_step_apart_that_a_knife_can_make(apart: float) -> None:
    """Laid in, a lap begins its play and its distance from the crease across above the foot: here 1 mm and 4 mm."""
    result = tray(FOUR_CORNER_TRAY, corner_play=1.0, lap_off=4.0, lap_foot=5.0 - apart, flat="in")
    assert result.failures == ()
    foot = -named(result, "base length") / 2
    lap = max(x for x, _ in points_of(result, "left front lap"))
    overhang = max(x for x, y in points_of(result, "left end") if y == pytest.approx(-106.0))
    assert foot - lap == pytest.approx(5.0)
    assert overhang - lap == pytest.approx(apart if apart > 0.5 else 0.0)


def test_a_tray_too_narrow_to_lay_its_walls_in_is_shipped_with_them_out() -> None:
    assert tray(FOUR_CORNER_TRAY, "300x110x60").order.choice("flat") == "out"
    assert tray(FOUR_CORNER_TRAY, "300x200x60").order.choice("flat") == "in"


# ---------------------------------------------------------------------- trials that must fail


def test_walls_that_rise_without_their_linkage_strike() -> None:
    """The creased walls turned up by themselves, the lapped ones still on the base."""
    result = tray(FOUR_CORNER_TRAY, flat="out")
    (motion,) = result.design.motions
    walls = dict.fromkeys(("front wall", "back wall"), (90.0, 0.0))
    wrong = replace(motion, steps=(replace(motion.steps[0], bends=walls),), samples=3)
    found = list(motion_faults(replace(result.design, motions=(wrong,)), 4.0))
    assert any("passes through" in line for line in found)


def test_a_lap_that_reaches_over_the_crease_across_does_not_let_the_tray_lie_flat() -> None:
    result = tray(FOUR_CORNER_TRAY, flat="out")
    low = {round(x, 6) for x, _ in points_of(result, "left front lap")}
    foot, tip = sorted(low)[-1], sorted(low)[-2]
    design = reshaped(result.design, "left front lap", {("x", foot): foot + 6.0, ("x", tip): foot + 6.0})
    text = faults(design, result)
    assert "left front lap" in text
    assert "front wall" in text


def test_too_little_room_for_the_boards_that_lie_on_each_other_is_noticed() -> None:
    result = tray(FOUR_CORNER_TRAY)
    (state,) = result.design.states
    tight = {name: (angle, shift * 0.7) for name, (angle, shift) in state.bends.items()}
    text = faults(replace(result.design, states=(replace(state, bends=tight),)), result)
    assert "glued flat" in text


def test_a_lid_made_too_small_strikes_the_laps_of_the_tray() -> None:
    """Half a board taken off the lid's depth."""
    result = tray(SIX_CORNER_TRAY)
    design = result.design
    for name in ("lid front", "lid left triangle", "lid right triangle"):
        moves = {("y", place): place - 2.0 for place in {py for _, py in points_of(result, name)}}
        design = reshaped(design, name, moves)
    piece = design.pieces[0]
    folds = [
        replace(fold, line=((a[0], a[1] - 2.0), (b[0], b[1] - 2.0)))
        if "lid front" in (fold.parent, fold.child)
        else fold
        for fold in piece.blank.folds
        for a, b in [fold.line]
    ]
    design = replace(design, pieces=(replace(piece, blank=piece.blank.with_folds(folds)),))
    assert "runs into lid front" in faults(design, result)
