"""Slit locks, tongues through a flap, front tongues: they hold, by as much as stated, and what would not is caught."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from carton_trials import SIZES, carton, faults, named, points_of, reshaped

from dieline.errors import OptionError, SizeError
from dieline.fold.states import motion_faults
from dieline.linetypes import Meaning
from dieline.testing import conform
from dieline_styles.tuck_end import STYLES

LOCKS = ["slit-lock-carton", "tongue-lock-carton", "tongue-front-carton"]


@pytest.mark.parametrize("code", LOCKS)
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize("code", LOCKS)
@pytest.mark.parametrize("lids", ["reverse", "straight"])
@pytest.mark.parametrize("creases", ["offset", "one"])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds_and_locks(code: str, lids: str, creases: str, size: str, board: str) -> None:
    result = carton(code, size, board, lids=lids, creases=creases)
    assert result.failures == ()
    assert result.folded.locks
    assert all(catch > 0 for _, catch in result.folded.locks)


@pytest.mark.parametrize("code", LOCKS)
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_the_way_in_is_free_at_every_angle(code: str, size: str, board: str) -> None:
    """But for what is declared: ears that spring past the shoulders, barbs that bend through the slot."""
    result = carton(code, size, board)
    (motion,) = result.design.motions
    ends = ("bottom", "top")
    declared = {
        "slit-lock-carton": {(f"{end} tuck", f"{end} dust flap {n}") for end in ends for n in (2, 4)},
        "tongue-lock-carton": {(f"{end} tongue", f"{end} slot flap") for end in ends},
        "tongue-front-carton": set(),
    }[code]
    assert set(motion.free) == declared
    dense = replace(result.design, motions=(replace(motion, samples=60),))
    assert list(motion_faults(dense, result.job.board.thickness)) == []


# ---------------------------------------------------------------------- slit lock


def test_ears_catch_by_the_slit_less_what_is_hidden() -> None:
    """e - max(c, 0.5) on each side; a board and a clearance less where the tuck keeps clear of the lap."""
    result = carton("slit-lock-carton", "300x200x250", "B", slit_length=25.0)
    catches = dict(result.folded.locks)
    assert catches["top slit at top dust flap 2"] == pytest.approx(24.0)
    assert catches["top slit at top dust flap 4"] == pytest.approx(24.0)
    assert catches["bottom slit at bottom dust flap 4"] == pytest.approx(24.0 - 3.0 - 1.0)


def test_the_slits_are_cut_beyond_the_crease_by_a_board_and_a_half() -> None:
    """Cut, not creased, and the crease runs only between them."""
    result = carton("slit-lock-carton", "300x200x250", "B", lids="straight", slit_length=25.0)
    drawing = result.drawings[0]
    creases = [stroke for stroke in drawing.strokes if stroke.name == "top lid – top tuck"]
    assert [stroke.meaning for stroke in creases] == [Meaning.CREASE]
    assert creases[0].path.length == pytest.approx(300 - 2 * (25 + 1))
    assert named(result, "top slit beyond the crease") == pytest.approx(1.5 * 3 + 0.2)
    slits = [stroke for stroke in drawing.strokes if stroke.name == "slit"]
    assert all(stroke.meaning is Meaning.CUT for stroke in slits)
    lengths = sorted(round(stroke.path.length, 6) for stroke in slits)
    assert lengths == [4.7] * 4 + [25.0] * 4


def test_ears_cut_on_the_crease_itself_run_into_the_dust_flaps() -> None:
    """The offset is the whole trick: with none, or a board and a little, the ears have no room under the shoulders."""
    result = carton("slit-lock-carton", "300x200x250", "B", lids="straight")
    slit = sorted({y for _, y in points_of(result, "top tuck")})[1]
    for offset in (0.1, 1.4 * 3):
        design = reshaped(result.design, "top tuck", {("y", slit): slit - 4.7 + offset})
        assert "top dust flap 2 runs into top tuck" in faults(design, result)


def test_without_shoulders_the_lid_is_not_locked() -> None:
    locked = carton("slit-lock-carton", "300x200x250", "B")
    plain = carton("0211", "300x200x250", "B")
    without = {name: points_of(plain, name) for name in ("top dust flap 2", "top dust flap 4")}
    design = locked.design
    piece = design.pieces[0]
    panels = tuple(
        plain.design.pieces[0].blank.by_name[panel.name] if panel.name in without else panel
        for panel in piece.blank.panels
    )
    design = replace(design, pieces=(replace(piece, blank=replace(piece.blank, panels=panels)),))
    text = faults(design, locked)
    assert "lock 'top slit at top dust flap 2': top tuck does not strike top dust flap 2" in text


def test_slits_keep_half_of_the_crease() -> None:
    with pytest.raises(OptionError, match=r"slit_length.*half of the crease must stay"):
        carton("slit-lock-carton", "60x40x120", "carton-0.4", slit_length=16.0)


# ---------------------------------------------------------------------- tongue through a flap


def test_barbs_reach_beyond_the_slot() -> None:
    """A barb and a half board wide, less the clearance of the slot: 1.5 t - c, at least 1.5 mm - c."""
    for size, board, catch in (("60x40x120", "carton-0.4", 1.2), ("300x200x250", "B", 3.5), ("400x300x300", "C", 4.5)):
        result = carton("tongue-lock-carton", size, board)
        assert {round(value, 6) for _, value in result.folded.locks} == {catch}


def test_the_slot_opens_onto_the_crease_and_breaks_it() -> None:
    result = carton("tongue-lock-carton", "150x100x180", "E", tongue_width=50.0)
    runs = [stroke for stroke in result.drawings[0].strokes if stroke.name == "panel 3 – top slot flap"]
    # The flap keeps a clearance of 0.5 at each end, the slot is a clearance wider than the tongue at each end.
    assert [stroke.path.length for stroke in runs] == pytest.approx([(149 - 51) / 2] * 2)
    gaps = [stroke for stroke in result.drawings[0].strokes if stroke.name == "gap"]
    assert len(gaps) == 2


def test_the_neck_lets_the_lid_lie_down_on_the_flap() -> None:
    """Barbs that begin a board above the play run into the flap."""
    result = carton("tongue-lock-carton", "300x200x250", "B")
    ys = sorted({y for _, y in points_of(result, "top tongue")})
    neck, full = ys[1], ys[2]
    assert neck - ys[0] == pytest.approx(1.5 * 3 + 1.0 + 1.5)
    design = reshaped(result.design, "top tongue", {("y", neck): neck - 3.5, ("y", full): full - 3.5})
    assert "top slot flap runs into top tongue" in faults(design, result)


def test_a_tongue_without_barbs_does_not_lock() -> None:
    result = carton("tongue-lock-carton", "300x200x250", "B")
    xs = sorted({round(x, 6) for x, _ in points_of(result, "top tongue")})
    left, right = xs[0], xs[-1]
    design = reshaped(result.design, "top tongue", {("x", left): left + 4.5, ("x", right): right - 4.5})
    assert "lock 'top tongue': top tongue does not strike top slot flap" in faults(design, result)


# ---------------------------------------------------------------------- front tongue


def test_the_front_tongue_catches_along_its_whole_reach() -> None:
    result = carton("tongue-front-carton", "300x200x250", "B", tongue_reach=9.0)
    assert result.folded.locks == (("top tongue", 9.0),)
    assert named(result, "top tongue length") == pytest.approx(9 + 1.5 * 3 + 1)
    assert named(result, "top lid length") == pytest.approx(200 + 2 * 3 + 1)


def test_the_slot_is_where_the_tongue_comes_in() -> None:
    """As far below the lid as the front flap is long, a board and the play of both sides high."""
    result = carton("tongue-front-carton", "300x200x250", "B", front_length=30.0, slot_play=2.0, tongue_width=80.0)
    (slot,) = result.design.pieces[0].blank.by_name["panel 3"].holes
    x0, y0, x1, y1 = slot.bounds
    assert x1 - x0 == pytest.approx(80 + 2 * 1.0)
    assert y1 - y0 == pytest.approx(3 + 2 * 2.0)
    assert (y0 + y1) / 2 == pytest.approx(250 + 1.5 * 3 - 30)


def test_a_slot_in_another_place_stops_the_tongue() -> None:
    result = carton("tongue-front-carton", "300x200x250", "B")
    piece = result.design.pieces[0]
    panels = tuple(
        replace(panel, holes=tuple(hole.moved(0.0, 4.0) for hole in panel.holes)) for panel in piece.blank.panels
    )
    design = replace(result.design, pieces=(replace(piece, blank=replace(piece.blank, panels=panels)),))
    text = faults(design, result)
    assert "panel 3 runs into top tongue" in text
    assert "swing the top tongue into its slot: panel 3 passes through top tongue" in text


def test_a_front_tongue_that_the_turning_lid_would_draw_out_is_refused() -> None:
    with pytest.raises((SizeError, OptionError), match=r"draw the tongue out|lid rises before it locks"):
        carton("tongue-front-carton", "60x30x160", "B", front_length=60.0, tongue_reach=3.0, slot_play=4.0)


def test_steps_are_named_in_the_order_of_the_hand() -> None:
    (motion,) = carton("tongue-front-carton").design.motions
    names = [step.name for step in motion.steps if "bottom" not in step.name]
    assert names == [
        "fold the top dust flaps in",
        "bring the top lid down, its front flap held off",
        "swing the top tongue into its slot",
        "press the top front flap against the wall",
    ]
    held = [step.bends["top front flap"][0] for step in motion.steps if "top front flap" in step.bends]
    assert all(before < after for before, after in pairwise(held))
    assert math.isclose(held[-1], 90.0)
