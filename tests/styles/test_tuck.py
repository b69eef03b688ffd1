"""Tuck ends: dimensions by their rules, the way the tuck swings in, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from carton_trials import SIZES, carton, faults, named, points_of, reshaped

from dieline.blank import Face
from dieline.errors import InputError, SizeError
from dieline.fold.states import motion_faults
from dieline.testing import conform
from dieline_styles.tuck_end import STYLES


@pytest.mark.parametrize("code", ["straight-tuck", "0211"])
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize("code", ["straight-tuck", "0211"])
@pytest.mark.parametrize("creases", ["offset", "one"])
@pytest.mark.parametrize("lid_on", ["back", "front"])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds(code: str, creases: str, lid_on: str, size: str, board: str) -> None:
    """Erected, glued flat and while it closes; the inside is exact."""
    result = carton(code, size, board, creases=creases, lid_on=lid_on)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size


def test_walls_are_as_high_as_what_hangs_on_them() -> None:
    """H + (k + k + 1) t between creases: a lid counts one board, a dust flap none, a raw edge half a board."""
    straight = carton("straight-tuck", "60x40x120", "carton-0.4")
    heights = [named(straight, f"panel {number} height") for number in (1, 2, 3, 4)]
    assert heights == pytest.approx([121.2, 120.4, 120.4, 120.4])
    reverse = carton("0211", "60x40x120", "carton-0.4")
    heights = [named(reverse, f"panel {number} height") for number in (1, 2, 3, 4)]
    assert heights == pytest.approx([120.8, 120.4, 120.8, 120.4])


def test_lid_tuck_and_dust_flap_have_the_lengths_of_their_rules() -> None:
    """Lid B - c; tuck 0.18 B + 6; dust flap 0.6 B + 8, at most half of L less c."""
    result = carton("0211", "60x40x120", "carton-0.4")
    assert named(result, "top lid length") == pytest.approx(40 - 0.3)
    assert named(result, "top tuck length") == pytest.approx(13.2)
    assert named(result, "top dust flap length") == pytest.approx(60 / 2 - 0.3)
    assert named(carton("0211", "200x40x120", "carton-0.4"), "top dust flap length") == pytest.approx(32.0)
    lid = next(line for line in result.design.sizes if line.name == "top lid length")
    assert lid.derivation == "B 40 - c 0.3"


def test_the_tuck_keeps_clear_of_the_lap() -> None:
    """Inside the wall that carries the lap it begins a board and two clearances in, elsewhere one clearance."""
    result = carton("0211", "300x200x250", "B")
    blank = result.design.pieces[0].blank
    assert blank.by_name["top tuck"].size[0] == pytest.approx(300 - 2 * 1.0)
    assert blank.by_name["bottom tuck"].size[0] == pytest.approx(300 - (3.0 + 2 * 1.0) - 1.0)


def test_the_front_slit_is_the_clearance_and_half_a_board() -> None:
    """That much is declared open at the tuck's crease, and no less would do."""
    result = carton("0211", "300x200x250", "B")
    assert {shut.face for shut in result.design.closed} == {Face.TOP, Face.BOTTOM}
    for shut in result.design.closed:
        assert shut.seam == pytest.approx(1.0 + 1.5)
    tighter = tuple(replace(shut, seam=shut.seam - 0.1) for shut in result.design.closed)
    assert "stays open by 2.5 mm" in faults(replace(result.design, closed=tighter), result)


def test_a_thumb_notch_is_cut_into_the_wall_opposite_the_lid() -> None:
    plain, notched = (carton("0211", "60x40x120", "carton-0.4", thumb_notch=on) for on in (False, True))
    assert notched.failures == ()
    for name, bites in (("panel 3", True), ("panel 1", True), ("panel 2", False)):
        before, after = (result.design.pieces[0].blank.by_name[name] for result in (plain, notched))
        radius = notched.order.number("thumb_notch_width") / 2
        missing = math.pi * radius**2 / 2 if bites else 0.0
        assert before.area - after.area == pytest.approx(missing)


def test_both_tucks_in_one_wall_need_their_height() -> None:
    """2 (T - 1.5 t) + c."""
    options = {"tuck_length": 30.0, "clearance": 1.0}
    assert carton("straight-tuck", "150x100x52", "B", **options).failures == ()
    with pytest.raises(SizeError, match="must not meet"):
        carton("straight-tuck", "150x100x51.9", "B", **options)
    assert carton("0211", "150x100x51.9", "B", **options).failures == ()


@pytest.mark.parametrize(
    ("size", "reason"),
    [("14x40x120", "L.*dust flaps need 8 mm"), ("60x15x120", "B.*"), ("60x40x6", "H|tuck_length")],
)
def test_what_cannot_be_is_refused_with_the_least_size(size: str, reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        carton("0211", size, "carton-0.4")


# ---------------------------------------------------------------------- the way in


@pytest.mark.parametrize(("size", "board"), SIZES)
@pytest.mark.parametrize("long_tuck", [False, True])
def test_the_tuck_swings_in_at_every_angle(size: str, board: str, long_tuck: bool) -> None:
    """Sampled sixty times as it goes in; also with a tuck half as long as B."""
    half = float(size.split("x")[1]) / 2
    result = carton("0211", size, board, **({"tuck_length": half} if long_tuck else {}))
    (motion,) = result.design.motions
    assert motion.free == ()
    dense = replace(result.design, motions=(replace(motion, samples=60),))
    assert list(motion_faults(dense, result.job.board.thickness)) == []


def test_without_bending_it_over_the_tuck_strikes_the_wall() -> None:
    """The over-bend asin(T / 2D) is not for show."""
    result = carton("0211", "300x200x250", "B")
    (motion,) = result.design.motions
    steps = tuple(
        replace(step, bends={name: (min(angle, 90.0), shift) for name, (angle, shift) in step.bends.items()})
        for step in motion.steps
    )
    square = replace(result.design, motions=(replace(motion, steps=steps),))
    assert "tuck the top lid in: panel 3 passes through top tuck" in faults(square, result)


# ---------------------------------------------------------------------- trials that must fail


def test_dust_flaps_longer_than_half_of_the_box_run_into_each_other() -> None:
    result = carton("0211", "60x40x120", "carton-0.4", dust_length=29.7)
    design = result.design
    for name in ("top dust flap 2", "top dust flap 4"):
        tip = max(y for _, y in points_of(result, name))
        design = reshaped(design, name, {("y", tip): tip + 2.3})
    assert "top dust flap 2 runs into top dust flap 4" in faults(design, result)


def test_a_dust_flap_up_to_the_front_strikes_the_tuck() -> None:
    result = carton("0211", "60x40x120", "carton-0.4")
    crease = [x for x, y in points_of(result, "top dust flap 2") if y == pytest.approx(120.2)]
    front = max(crease)
    wall_end = points_of(result, "panel 2")[1][0]
    design = reshaped(result.design, "top dust flap 2", {("x", front): wall_end - 0.2 - 0.3})
    text = faults(design, result)
    assert "top dust flap 2 runs into top tuck" in text


def test_a_dust_flap_that_begins_on_the_corner_crease_strikes_the_lids_wall() -> None:
    result = carton("0211", "300x200x250", "B")
    corner = points_of(result, "panel 2")[0][0]
    rear = min(x for x, _ in points_of(result, "top dust flap 2"))
    assert rear - corner == pytest.approx(1.5 + 1.0)
    design = reshaped(result.design, "top dust flap 2", {("x", rear): corner})
    assert "panel 1 runs into top dust flap 2" in faults(design, result)


def test_a_full_width_tuck_strikes_the_lap() -> None:
    result = carton("0211", "300x200x250", "B")
    near = max(x for x, _ in points_of(result, "bottom tuck"))
    design = reshaped(result.design, "bottom tuck", {("x", near): near + 3.0 + 1.0})
    assert "lap runs into bottom tuck" in faults(design, result)


def test_lid_and_dust_flaps_on_one_line_without_shift_run_into_each_other() -> None:
    result = carton("0211", "60x40x120", "carton-0.4", creases="one")
    piece = result.design.pieces[0]
    folds = [replace(fold, shift=0.0) if fold.child.startswith("top") else fold for fold in piece.blank.folds]
    design = replace(result.design, pieces=(replace(piece, blank=piece.blank.with_folds(folds)),))
    assert "runs into top lid" in faults(design, result)


def test_with_too_little_room_behind_it_the_tuck_cannot_swing_in() -> None:
    """The dust flaps stand twice the clearance behind the tuck; with none of it they are in its way."""
    result = carton("0211", "300x200x250", "B")
    crease = [x for x, y in points_of(result, "top dust flap 2") if y == pytest.approx(251.5)]
    design = reshaped(result.design, "top dust flap 2", {("x", max(crease)): max(crease) + 1.9})
    text = faults(design, result)
    assert "tuck the top lid in: top dust flap 2 passes through top tuck" in text
    assert "top dust flap 2 runs into top tuck" not in text
