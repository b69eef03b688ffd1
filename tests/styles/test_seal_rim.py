"""Seal ends and rolled rims: layers, lengths, what is glued, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from carton_trials import SIZES, carton, faults, named, points_of, reshaped

from dieline.blank import JointKind
from dieline.errors import InputError, OptionError, SizeError
from dieline.fold.states import motion_faults
from dieline.testing import conform
from dieline_styles.tuck_end import STYLES

CODES = ["seal-end", "seal-end-meeting", "0214"]


@pytest.mark.parametrize("code", CODES)
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("creases", ["offset", "one"])
@pytest.mark.parametrize("outer_on", ["back", "front"])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds(code: str, creases: str, outer_on: str, size: str, board: str) -> None:
    result = carton(code, size, board, creases=creases, outer_on=outer_on)
    assert result.failures == ()
    dense = replace(result.design, motions=tuple(replace(m, samples=30) for m in result.design.motions))
    assert list(motion_faults(dense, result.job.board.thickness)) == []


def test_three_layers_at_each_end() -> None:
    """Between creases: H + t on the minors' walls, + 3 t on the inner major's, + 5 t on the outer major's."""
    result = carton("seal-end", "300x200x250", "B")
    assert [named(result, f"panel {n} height") - 250 for n in (2, 1, 3)] == [3.0, 9.0, 15.0]
    assert named(result, "top inner flap") == 200 + 1.5 - 1.0
    assert named(result, "top outer flap") == 203
    meeting = carton("seal-end-meeting", "300x200x250", "B")
    assert [named(meeting, f"panel {n} height") - 250 for n in (2, 1, 3)] == [3.0, 9.0, 9.0]
    assert named(meeting, "top major flap") == (203 - 0.5) / 2


def test_two_lines_serve_three_layers() -> None:
    """Minors and inner major share a line; the outer major hangs half a board below its own layer."""
    result = carton("seal-end", "300x200x250", "B", creases="one")
    assert [named(result, f"panel {n} height") - 250 for n in (2, 1, 3)] == [6.0, 6.0, 12.0]
    shifts = {fold.child: fold.shift for fold in result.design.pieces[0].blank.folds if fold.child.startswith("top")}
    assert shifts == {"top flap 1": 1.5, "top flap 2": -1.5, "top flap 3": 1.5, "top flap 4": -1.5}


def test_what_is_glued_lies_on_its_counterpart() -> None:
    full = carton("seal-end", "300x200x250", "B").design.pieces[0].blank
    assert {(joint.a, joint.b) for joint in full.joints if joint.kind is JointKind.GLUED and joint.a != "lap"} == {
        ("top flap 3", "top flap 1"),
        ("bottom flap 3", "bottom flap 1"),
    }
    meeting = carton("seal-end-meeting", "300x200x250", "B").design.pieces[0].blank
    assert len(meeting.joints) == 1 + 8


def test_the_outer_flap_a_layer_too_low_runs_into_the_inner_one() -> None:
    result = carton("seal-end", "300x200x250", "B", creases="one")
    piece = result.design.pieces[0]
    folds = [replace(fold, shift=-1.5) if fold.child == "top flap 3" else fold for fold in piece.blank.folds]
    text = faults(replace(result.design, pieces=(replace(piece, blank=piece.blank.with_folds(folds)),)), result)
    assert "top flap 1 runs into top flap 3" in text
    assert "press 3 mm into each other" in text


def test_an_inner_flap_as_long_as_the_outer_one_strikes_its_wall() -> None:
    result = carton("seal-end", "300x200x250", "B")
    edge = max(y for _, y in points_of(result, "top flap 1"))
    design = reshaped(result.design, "top flap 1", {("y", edge): edge + 2.5})
    assert "panel 3 runs into top flap 1" in faults(design, result)


def test_short_majors_leave_the_end_open() -> None:
    result = carton("seal-end-meeting", "300x200x250", "B", minor_length=60.0)
    edge = max(y for _, y in points_of(result, "top flap 1"))
    design = reshaped(result.design, "top flap 1", {("y", edge): edge - 4.0})
    assert "the top stays open by 4.5 mm" in faults(design, result)


def test_minors_longer_than_half_of_the_box_are_refused() -> None:
    with pytest.raises(OptionError, match=r"minor_length.*at half of L they meet"):
        carton("seal-end", "60x40x120", "carton-0.4", minor_length=30.0)


# ---------------------------------------------------------------------- rolled rim


def test_the_rim_is_a_spine_and_a_strip_on_every_wall() -> None:
    """The spine is a board and the gap wide; the strips on the B walls stand between those on the L walls."""
    result = carton("0214", "300x200x150", "B")
    blank = result.design.pieces[0].blank
    assert named(result, "top rim spine") == pytest.approx(3 + 0.75)
    assert named(result, "top rim depth") == 40
    assert blank.by_name["top rim 1"].size == pytest.approx((300 - 2 * 1.0, 40))
    assert blank.by_name["top rim 2"].size == pytest.approx((200 - 2 * (3.75 + 1.5 + 1.0), 40))
    assert result.folded.inside == (300, 200, 150)
    assert result.folded.clear[:2] == pytest.approx((300 - 2 * 3.75, 200 - 2 * 3.75))


def test_the_lap_ends_under_the_rim() -> None:
    """Two boards and a clearance under it; a lap of the usual length strikes it."""
    result = carton("0214", "300x200x150", "B")
    top = max(y for _, y in points_of(result, "lap"))
    assert top == pytest.approx(150 - 40 - 2 * 3 - 1.0)
    design = reshaped(result.design, "lap", {("y", top): 147.0})
    assert "lap runs into top rim 4" in faults(design, result)


def test_full_width_rims_on_all_walls_run_into_each_other() -> None:
    result = carton("0214", "300x200x150", "B")
    xs = sorted({round(x, 6) for x, y in points_of(result, "top rim 2") if y == pytest.approx(151.5 + 3.75)})
    design = reshaped(result.design, "top rim 2", {("x", xs[0]): xs[0] - 5.0, ("x", xs[1]): xs[1] + 5.0})
    assert "top rim 1 runs into top rim 2" in faults(design, result)


def test_deep_rims_are_rolled_one_after_the_other() -> None:
    """Where two rims together are deeper than the box is broad, both cannot be horizontal at once."""
    deep = carton("0214", "100x60x150", "E", rim_depth=40.0)
    shallow = carton("0214", "100x60x150", "E", rim_depth=20.0)
    rolls = [[step.name for step in r.design.motions[0].steps if step.name.startswith("roll")] for r in (deep, shallow)]
    assert [len(names) for names in rolls] == [3, 2]
    assert deep.failures == shallow.failures == ()


@pytest.mark.parametrize("bottom", ["slotted", "seal", "seal-meeting"])
def test_the_bottom_is_taped_or_glued(bottom: str) -> None:
    assert carton("0214", "300x200x150", "B", bottom=bottom).failures == ()


def test_a_box_too_low_for_lap_and_rim_is_refused() -> None:
    with pytest.raises((SizeError, InputError), match="the lap ends under the rim"):
        carton("0214", "300x200x40", "B", rim_depth=20.0)
