"""Trays with glued corners and the display tray: dimensions by their rules, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from carton_trials import faults, points_of, reshaped
from tray_trials import BOARDS, named, slab, tray

from dieline.errors import InputError, OptionError, SizeError
from dieline.sizing import House
from dieline.style import Face, Size, Style
from dieline.testing import conform
from dieline_styles.display_tray import DISPLAY_TRAY
from dieline_styles.tray import GLUED_TRAY


@pytest.mark.parametrize("style", [GLUED_TRAY, DISPLAY_TRAY], ids=lambda style: style.code)
def test_each_style_passes_the_suite(style: Style) -> None:
    assert conform(style) > 40


@pytest.mark.parametrize("board", BOARDS)
@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("on", ["L", "B"])
@pytest.mark.parametrize("size", ["300x200x60", "400x300x120"])
def test_every_tried_size_holds(size: str, on: str, side: str, board: str) -> None:
    """Inside exact; outside four boards more across the ends with their laps, two across the walls."""
    result = tray(GLUED_TRAY, size, board, lap_on=on, lap_side=side)
    assert result.failures == ()
    t = result.job.board.thickness
    length, breadth, height, _ = result.job.size
    assert result.folded.inside == pytest.approx((length, breadth, height))
    growth = (4, 2) if on == "L" else (2, 4)
    assert result.folded.outside == pytest.approx((length + growth[0] * t, breadth + growth[1] * t, height + t))


def test_base_and_walls_have_the_lengths_of_their_rules() -> None:
    """Laps inside: the base a board longer at each end. Laps outside: the walls that carry them."""
    inside = tray(GLUED_TRAY)
    assert named(inside, "base length") == pytest.approx(300 + 3 * 4)
    assert named(inside, "wall length") == pytest.approx(300 + 4)
    assert named(inside, "end width") == pytest.approx(200 + 4)
    outside = tray(GLUED_TRAY, lap_side="outside", corner_play=1.0)
    assert named(outside, "base length") == pytest.approx(300 + 4)
    assert named(outside, "wall length") == pytest.approx(300 + 3 * 4)
    assert named(outside, "end width") == pytest.approx(200 - 2)
    for result in (inside, outside):
        assert named(result, "base breadth") == pytest.approx(200 + 4)
        assert named(result, "wall height") == pytest.approx(60 + 2)
    derivation = next(line.derivation for line in inside.design.sizes if line.name == "base length")
    assert derivation == "L 300 + (1+1+1) × t 4"


def test_thin_board_keeps_a_slot_that_can_be_stripped() -> None:
    """3/32 in between lap and end, whatever the board (die maker)."""
    for side in ("inside", "outside"):
        result = tray(GLUED_TRAY, board="carton-0.5", lap_side=side)
        lap, end = points_of(result, "front left lap"), points_of(result, "left end")
        gap = min(y for _, y in end) - max(y for _, y in lap)
        assert gap >= 3 / 32 * 25.4
        assert "narrow-slot" not in {finding.check for finding in result.findings}


def test_rounding_to_the_plants_step_still_closes() -> None:
    for board in ("carton-0.7", "F", "C-inch"):
        for side in ("inside", "outside"):
            result = tray(GLUED_TRAY, "303.3x201.7x61.1", board, House(step=0.5), lap_side=side)
            assert result.failures == ()


@pytest.mark.parametrize(
    ("size", "reason"),
    [("300x20x60", "B.*two laps"), ("300x200x8", "H.*folded")],
)
def test_what_cannot_be_is_refused_with_the_least_size(size: str, reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        tray(GLUED_TRAY, size)


# ---------------------------------------------------------------------- trials that must fail


def test_a_lap_inside_that_begins_at_the_crease_runs_into_the_base() -> None:
    result = tray(GLUED_TRAY)
    foot = max(y for x, y in points_of(result, "front left lap") if x == pytest.approx(-152))
    design = reshaped(result.design, "front left lap", {("y", foot): foot + 2.6})
    assert "base runs into front left lap" in faults(design, result)


def test_an_end_as_wide_as_the_base_runs_into_walls_with_laps_outside() -> None:
    result = tray(GLUED_TRAY, lap_side="outside")
    edge = max(y for _, y in points_of(result, "left end"))
    design = reshaped(result.design, "left end", {("y", edge): edge + 0.6 + 1.0, ("y", -edge): -edge - 0.6 - 1.0})
    assert "left end runs into" in faults(design, result)


def test_laps_of_the_wrong_kind_do_not_meet_the_end() -> None:
    """The blank for laps inside, its laps folded over the outside of the ends."""
    result = tray(GLUED_TRAY)
    piece = result.design.pieces[0]
    joints = tuple(replace(joint, a_inside=True, b_inside=False) for joint in piece.blank.joints)
    wrong = replace(result.design, pieces=(replace(piece, blank=replace(piece.blank, joints=joints)),))
    assert "glued joint" in faults(wrong, result)


@pytest.mark.parametrize("more", [1.0, -1.0])
@pytest.mark.parametrize("letter", ["L", "B", "H"])
def test_another_inside_than_the_one_drawn_is_noticed(letter: str, more: float) -> None:
    result = tray(GLUED_TRAY)
    sides = dict(zip("LBH", result.design.inside[:3], strict=True))
    sides[letter] += more
    text = faults(replace(result.design, inside=Size(sides["L"], sides["B"], sides["H"])), result)
    assert f"inside {letter} measures" in text


def test_laps_folded_after_the_ends_would_pass_through_them() -> None:
    """Laps inside go first; the other way round they strike."""
    result = tray(GLUED_TRAY)
    (motion,) = result.design.motions
    laps, walls, ends = motion.steps
    wrong = replace(result.design, motions=(replace(motion, steps=(ends, walls, laps)),))
    assert "passes through" in faults(wrong, result)


# ---------------------------------------------------------------------- display tray


@pytest.mark.parametrize("board", BOARDS[:-1])
@pytest.mark.parametrize("size", ["300x200x180/50", "400x250x300/40", "250x150x100/60"])
def test_every_tried_display_tray_holds(size: str, board: str) -> None:
    result = tray(DISPLAY_TRAY, size, board)
    assert result.failures == ()
    t = result.job.board.thickness
    assert result.folded.outside == pytest.approx(
        (result.job.size.length + 4 * t, result.job.size.breadth + 2 * t, result.job.size.height + t)
    )


def test_front_and_back_stand_as_high_as_ordered() -> None:
    result = tray(DISPLAY_TRAY)
    assert slab(result, "back wall").corners[:, 2].max() == pytest.approx(180)
    assert slab(result, "front wall").corners[:, 2].max() == pytest.approx(50)
    side = slab(result, "left end").corners
    assert side[side[:, 1] > 200][:, 2].max() == pytest.approx(180)
    assert side[side[:, 1] < 0][:, 2].max() == pytest.approx(50)


@pytest.mark.parametrize(("front", "back"), [(20.0, 15.0), (0.0, 0.0), (60.0, 40.0)])
def test_no_lap_shows_above_the_rim_of_a_side(front: float, back: float) -> None:
    """At every corner of a lap the rim of the side stands at least as high as the drop asks."""
    result = tray(DISPLAY_TRAY, front_level=front, back_level=back, lap_drop=2.0)
    assert result.failures == ()
    half, slope = 102.0, (182.0 - 52.0) / (204.0 - front - back)
    for name in ("front left lap", "back left lap", "front right lap", "back right lap"):
        for _, y, z in slab(result, name).corners.tolist():
            along = (y - 100.0) + half - front  # from the foot of the slope
            rim = 50.0 + min(max(along, 0.0) * slope, 130.0)
            assert z <= rim - 2.0 + 1e-6


def test_the_laps_of_the_lowest_front_keep_their_glue() -> None:
    """A tenth of the back's height would be more than the front has: the drop is bound by the front."""
    result = tray(DISPLAY_TRAY, "400x200x400/13", lap_drop=1.3, lap_taper=60.0, lap_foot=90.0)
    assert result.failures == ()
    with pytest.raises(OptionError, match=r"lap_drop.*0 to 1.3 mm"):
        tray(DISPLAY_TRAY, "400x200x400/13", lap_drop=2.0)


def test_a_back_lap_longer_than_the_slope_is_level_with_the_front_beyond_it() -> None:
    result = tray(DISPLAY_TRAY, "180x600x110/32", back_lap=300.0, front_level=400.0, back_level=0.0, lap_drop=2.0)
    assert result.failures == ()
    lap = slab(result, "back left lap").corners
    assert lap[lap[:, 1] < 405][:, 2].max() == pytest.approx(32 - 2)


def test_a_front_as_high_as_the_back_is_no_display_tray() -> None:
    with pytest.raises(SizeError, match="the back stands above the front"):
        tray(DISPLAY_TRAY, "300x200x180/180")
    with pytest.raises(SizeError, match="cannot be joined"):
        tray(DISPLAY_TRAY, "300x200x180/12")


def test_a_side_that_falls_short_of_its_rim_is_noticed() -> None:
    result = tray(DISPLAY_TRAY)
    rim = min(x for x, _ in points_of(result, "left end"))
    design = reshaped(result.design, "left end", {("x", rim): rim + 1.0})
    assert "the left stays open" in faults(design, result)
    assert {shut.face for shut in result.design.closed} == set(Face) - {Face.TOP}
