"""Trays with rolled ends: dimensions by their rules, the way the ends roll over, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from carton_trials import faults, named, points_of, reshaped, with_panel
from roll_trials import STYLES, remade, rolled, smooth

from dieline.blank import Face
from dieline.errors import InputError, OptionError, SizeError
from dieline.geometry.path import rectangle
from dieline.style.design import Motion, Step
from dieline.testing import conform
from dieline_styles.roll_options import least_spine, pull

CODES = ["0422", "0425", "0472"]
SIZES = [("300x200x60", "E"), ("220x160x50", "B"), ("600x400x150", "C"), ("120x90x30", "F"), ("400x300x120", "BC")]


@pytest.mark.parametrize("code", CODES)
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 30


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds_and_goes_up_cleanly(code: str, size: str, board: str) -> None:
    """Nothing is declared free: tabs go into real slots."""
    result = rolled(code, size, board)
    assert result.failures == ()
    (motion,) = result.design.motions
    assert motion.free == ()
    assert smooth(result) == []
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert {shut.face for shut in result.design.closed} == set(Face) - {Face.TOP}
    assert all(shut.seam == 0.0 for shut in result.design.closed)


def test_dimensions_of_0422() -> None:
    """With spine w: base L + 2w + t by B + t, end H, inner end H - t/2 - c, wall L + 2w - t by H + t/2."""
    result = rolled("0422", "300x200x60", "C")  # t 4, c 0.6
    assert named(result, "spine width") == pytest.approx(9.2)
    assert named(result, "base length") == pytest.approx(300 + 2 * 9.2 + 4)
    assert named(result, "base breadth") == 204
    assert named(result, "end height") == 60
    assert named(result, "inner end length") == pytest.approx(60 - 2 - 0.6)
    assert named(result, "tab length") == pytest.approx(3.6 + 0.6)
    assert named(result, "wall length") == pytest.approx(300 + 2 * 9.2 - 4)
    assert named(result, "wall height") == 62
    assert named(result, "corner flap length") == 60
    assert result.folded.outside == pytest.approx((300 + 2 * (9.2 + 4), 208, 64))
    width = 2 * (60 + 9.2 + 57.4 + 4.2) + 322.4
    assert result.design.pieces[0].blank.size == pytest.approx((width, 204 + 2 * 62))


def test_slots_begin_at_the_inner_walls_face_and_leave_room_for_the_lifted_spine() -> None:
    """From x = 0 outward: the board, and the clearance or what the spine pulls the wall outward."""
    result = rolled("0422", "600x400x150", "C")
    holes = result.design.pieces[0].blank.by_name["base"].holes
    assert len(holes) == 4
    lefts = [hole.bounds for hole in holes if hole.bounds[2] < 1]
    assert [bounds[2] for bounds in lefts] == pytest.approx([0.0, 0.0])
    assert [bounds[2] - bounds[0] for bounds in lefts] == pytest.approx([4 + pull(9.2, 3.6)] * 2)
    assert [bounds[3] - bounds[1] for bounds in lefts] == pytest.approx([41.0, 41.0])
    assert [(bounds[1] + bounds[3]) / 2 for bounds in lefts] == pytest.approx([100.0, 300.0])
    thin = rolled("0422", "300x200x60", "E").design.pieces[0].blank.by_name["base"].holes[0].bounds
    assert thin[2] - thin[0] == pytest.approx(2.4)  # the narrowest that can be bent from rule


def test_catch_of_tabs_and_flaps() -> None:
    result = rolled("0422", "300x200x60", "C")
    catch = dict(result.folded.locks)
    assert catch["tabs of the left inner wall"] == pytest.approx(0.9 * 4)
    assert catch["front left corner flap under the spine"] == pytest.approx(60 - 2 - 0.6)
    friction = rolled("0425", "300x200x60", "C")
    assert not any("tabs" in name for name, _ in friction.folded.locks)
    assert "riction" in friction.design.words[0]


def test_no_lock_is_claimed_where_a_flap_hardly_rises() -> None:
    """A wall much higher than its flaps are long leans out and takes them along under the spine."""
    high = rolled("0422", "800x80x300", "E")
    assert high.failures == ()
    assert all("tabs" in name for name, _ in high.folded.locks)


def test_the_double_floor() -> None:
    """The floor lies one board above the base, so all walls are a board higher; its halves leave the clearance."""
    result = rolled("0472", "300x200x100", "C")
    assert named(result, "outer height") == 104
    assert named(result, "inner long wall height") == 100
    assert named(result, "floor half") == pytest.approx((204 - 0.6) / 2)
    assert dict(result.folded.gauges)["H at the left rim"] == pytest.approx(100)
    assert dict(result.folded.locks)["front floor under the left inner wall"] == pytest.approx(4 - 0.6)
    with pytest.raises(OptionError, match="even"):
        rolled("0472", "300x200x100", "C", tabs=3)


@pytest.mark.parametrize(
    ("code", "size", "reason"),
    [
        ("0422", "100x200x120", "L.*at least 128.*swing in"),
        ("0422", "300x30x60", "B.*at least 40.*tabs"),
        ("0425", "300x200x10", "H.*at least 13.2.*corner flaps"),
        ("0472", "300x100x90", "H.*at most 85.*swing in"),
    ],
)
def test_what_cannot_be_is_refused_with_the_limit(code: str, size: str, reason: str) -> None:
    with pytest.raises(SizeError, match=reason):
        rolled(code, size, "C")


# ---------------------------------------------------------------------- the spine's law


@pytest.mark.parametrize(("size", "board"), SIZES)
@pytest.mark.parametrize("code", ["0422", "0472"])
def test_the_spine_must_let_the_tabs_down(code: str, size: str, board: str) -> None:
    """w² = (2t)² + tau²: with tabs of 0.9 t it fails at 2.19 t and holds at 2.20 t."""
    t = rolled(code, size, board).job.board.thickness
    narrow = rolled(code, size, board, {"spine width": 2.19 * t})
    assert "passes through" in " ".join(narrow.failures)
    assert "corner flap" in " ".join(narrow.failures)
    enough = rolled(code, size, board, {"spine width": 2.2 * t})
    assert enough.failures == ()
    assert smooth(enough) == []


def test_the_law_is_the_range_of_the_option() -> None:
    assert least_spine(1, 1.0, 0.9) == pytest.approx(math.sqrt(4 + 0.81))
    with pytest.raises(OptionError, match=r"spine.*at least|spine.*8\.77 to 12"):
        rolled("0422", "300x200x60", "C", spine=2.19 * 4)
    assert rolled("0422", "300x200x60", "C", spine=2.2 * 4).failures == ()


def test_deeper_tabs_ask_for_a_wider_spine() -> None:
    """At tau = t the least is the root of 5, 2.236 t."""
    with pytest.raises(OptionError, match="spine"):
        rolled("0422", "300x200x60", "C", tab_depth=4.0, spine=2.2 * 4)
    result = rolled("0422", "300x200x60", "C", tab_depth=4.0, spine=2.24 * 4)
    assert result.failures == ()
    assert smooth(result) == []


# ---------------------------------------------------------------------- trials that must fail


def test_without_slots_the_tabs_strike_the_base() -> None:
    result = rolled("0422", "300x200x60", "E")
    solid = with_panel(result.design, "base", lambda panel: replace(panel, holes=()))
    assert "left inner wall runs into base" in faults(solid, result) or "base runs into" in faults(solid, result)


def test_a_slot_without_room_for_the_lifted_spine_does_not_take_the_tabs() -> None:
    """The board alone is not enough; looked at closely, the tab comes down on the slot's outer edge."""
    result = rolled("0422", "300x200x60", "C", {"slot width": 4.0 + 0.5 * pull(9.2, 3.6)})
    assert any("base passes through left inner wall" in line for line in smooth(result))


def test_a_slot_that_begins_farther_in_does_not_hold_the_wall() -> None:
    result = rolled("0422", "300x200x60", "C")
    bounds = [hole.bounds for hole in result.design.pieces[0].blank.by_name["base"].holes]
    wide = tuple(rectangle(x0 - 3.0 * (x0 > 150), y0, x1 + 3.0 * (x1 < 150), y1) for x0, y0, x1, y1 in bounds)
    text = faults(with_panel(result.design, "base", lambda panel: replace(panel, holes=wide)), result)
    assert "lock 'tabs of the left inner wall'" in text


def test_a_corner_flap_as_high_as_the_wall_strikes_the_spine() -> None:
    result = rolled("0422", "300x200x60", "E")
    top = max(y for _, y in points_of(result, "back left corner flap"))
    high = reshaped(result.design, "back left corner flap", {("y", top): top + 0.5 + 0.75})
    text = faults(high, result)
    assert "left spine" in text
    assert "back left corner flap" in text


def test_an_inner_wall_as_long_as_the_outer_runs_into_the_base() -> None:
    result = rolled("0422", "300x200x60", "E", {"inner end length": 60.0})
    assert "base" in " ".join(result.failures)


def test_rolled_at_once_two_high_ends_run_into_each_other() -> None:
    """With 2 (H + t) > L they cross in mid-air; one after the other they do not."""
    result = rolled("0422", "200x160x140", "E")
    assert smooth(result) == []
    (motion,) = result.design.motions
    last: dict[str, tuple[float, float]] = {}
    for step in motion.steps:
        last |= dict(step.bends)
    early = Step("all but the spines", {name: bend for name, bend in last.items() if "spine" not in name})
    assert early.bends
    outer = tuple(step for step in motion.steps if "roll" not in step.name and "press" not in step.name)
    both = Step("roll both", {name: bend for name, bend in last.items() if "spine" in name or "inner" in name})
    design = replace(result.design, motions=(Motion(steps=(*outer, both), samples=20),))
    assert "left inner wall passes through right inner wall" in faults(design, result)


def test_floor_halves_brought_in_square_run_into_each_other() -> None:
    """They are held up a little and pressed down when their wall stands."""
    result = rolled("0472", "300x200x100", "C")
    square = remade(result.design, {"fold the floor halves back": {"back floor": (-90.0, 0.0)}})
    text = faults(replace(square, motions=(replace(square.motions[0], samples=60),)), result)
    assert "front floor passes through back floor" in text


def test_tabs_that_reach_the_base_under_the_floor_strike_it() -> None:
    """Tabs of 0472 go in beside the floor, not through the base."""
    result = rolled("0472", "300x200x100", "C", {"tab length": 3.6 + 0.6 + 4.0})
    assert "base" in " ".join(result.failures)


def test_without_their_notches_the_floor_halves_are_in_the_way_of_the_tabs() -> None:
    result = rolled("0472", "300x200x100", "C")
    x0, y0, x1, y1 = result.design.pieces[0].blank.by_name["front floor"].outline.bounds
    plain = with_panel(result.design, "front floor", lambda panel: replace(panel, outline=rectangle(x0, y0, x1, y1)))
    assert "inner wall" in faults(plain, result)


def test_thin_board_and_very_thick_board_are_refused() -> None:
    for board in ("carton-0.5", "AC"):
        with pytest.raises(InputError, match=r"0422 takes 1 to 7.5 mm"):
            rolled("0422", "300x200x60", board)
