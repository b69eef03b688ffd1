"""The slotted family: every code, every option, every bottom with every top."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from dieline.errors import InputError
from dieline.job import make_job
from dieline.pipeline import Result, run
from dieline.testing import conform
from dieline_styles.slotted import STYLES, combination

CODES = ["0200", "0201", "0202", "0203", "0204", "0205", "0206", "0209"]


@pytest.mark.parametrize("code", CODES)
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize("pair", list(product(CODES, CODES)), ids="/".join)
def test_every_bottom_goes_with_every_top(pair: tuple[str, str]) -> None:
    result = run(make_job("/".join(pair), "300x200x150", "BC"))
    assert result.failures == ()
    assert result.folded.inside == (300, 200, 150)


def test_a_single_code_is_the_pair_that_it_stands_for() -> None:
    for single, pair in (("0201", "0201/0201"), ("0200", "0201/0200"), ("0209", "0201/0209")):
        one, other = (run(make_job(code, "300x200x150", "C")).drawings[0].digest() for code in (single, pair))
        assert one == other


def test_pairs_of_what_is_no_flap_set_are_not_made() -> None:
    assert combination("0201", "0999") is None
    assert STYLES["0201"].combine is not None
    pair = combination("0201", "0204")
    assert pair is not None
    assert pair.combine is None


def _named(result: Result, name: str) -> float:
    return next(line.value for line in result.design.sizes if line.name == name)


def _flap(result: Result, name: str) -> tuple[float, float]:
    return result.design.pieces[0].blank.by_name[name].size


def test_the_flap_sets_are_as_published(draw: Any) -> None:
    """Lengths by code: meet (B+t)/2, overlap (B+t+o)/2, inner meet (L+t)/2; all flaps of 0201 alike."""
    assert _flap(draw("0201"), "top flap 1")[1] == _flap(draw("0201"), "top flap 2")[1] == 102
    assert _flap(draw("0202", "300x200x150/60"), "bottom flap 1")[1] == 132
    assert _flap(draw("0204"), "top flap 2")[1] == 152
    assert _flap(draw("0204"), "top flap 1")[1] == 102
    assert _flap(draw("0205", "300x200x150/60"), "top flap 2")[1] == 152
    assert _flap(draw("0206"), "top flap 2")[1] == 152
    assert _flap(draw("0206", creases="offset"), "top flap 3")[1] == 204
    short = draw("0209")
    assert 2 * _flap(short, "top flap 1")[1] < 204
    assert 2 * _flap(short, "bottom flap 1")[1] == 204
    names = set(draw("0200").design.pieces[0].blank.by_name)
    assert not [name for name in names if name.startswith("top")]


def test_inner_flaps_that_would_collide_are_cut_back_and_the_derivation_says_so(draw: Any) -> None:
    result = draw("0203")
    line = next(line for line in result.design.sizes if line.name == "top inner flap")
    assert line.value == 152
    assert "cut back from 192" in line.derivation
    long = draw("0203", "600x200x150")
    assert _named(long, "top inner flap") == _named(long, "top outer flap")


def test_the_taped_joint_has_no_lap_and_its_panels_meet(draw: Any) -> None:
    result = draw(joint="taped")
    assert "lap" not in result.design.pieces[0].blank.by_name
    assert (_named(result, "panel 1 width"), _named(result, "panel 4 width")) == (302, 206)
    assert result.folded.clear == result.folded.inside


def test_the_lap_hangs_where_it_is_asked_to(draw: Any) -> None:
    for on, end in product("LB", ("left", "right")):
        result = draw(lap_on=on, lap_end=end)
        blank = result.design.pieces[0].blank
        x0, *_ = blank.by_name["lap"].outline.bounds
        assert (x0 == blank.bounds[0]) == (end == "left")
        neighbour = "panel 1" if end == "left" else "panel 4"
        width = blank.by_name[neighbour].size[0]
        assert width == (302 if on == "L" else 202)
        assert result.design.hand == ("left" if (on == "L") == (end == "left") else "right")


def test_a_lap_outside_leaves_the_inside_smooth(draw: Any) -> None:
    inside, outside = draw(lap_side="inside"), draw(lap_side="outside")
    assert inside.folded.clear == (296, 200, 150)
    assert outside.folded.clear == (300, 200, 150)


def test_one_crease_line_or_each_flap_at_its_own_height(draw: Any) -> None:
    one, offset = draw(), draw(creases="offset")
    assert {line.name for line in one.design.sizes if "height" in line.name} == {"panel height"}
    assert [_named(offset, f"panel {n} height") for n in (1, 2, 3, 4)] == [162, 154, 162, 154]
    assert one.folded.inside == offset.folded.inside == (300, 200, 150)
    shifts = {fold.shift for fold in one.design.pieces[0].blank.folds if "flap" in fold.child}
    assert shifts == {-2.0, 2.0}
    assert {fold.shift for fold in offset.design.pieces[0].blank.folds if "flap" in fold.child} == {0.0}


def test_the_last_flap_climbs_over_the_first_without_a_crease(draw: Any) -> None:
    blank = draw("0202", "300x200x150/60").design.pieces[0].blank
    over = [fold for fold in blank.folds if fold.child.endswith(", over")]
    assert [fold.meaning for fold in over] == [None, None]
    assert all(0 < fold.angle < 15 for fold in over)


def test_without_room_to_climb_the_proof_says_what_the_crease_would_have_to_give(draw: Any) -> None:
    with pytest.raises(InputError, match="climb over the first"):
        draw("0203", shortfall=0, creases="one")
    result = draw("0202", "300x200x150/190", creases="one")
    assert any("must shift by 6 mm, the board gives 2 mm; use offset creases" in line for line in result.failures)
    assert not draw("0202", "300x200x150/190").failures


def test_slots_are_as_wide_and_deep_and_round_as_asked(draw: Any) -> None:
    square, deep, round_ = draw(slot_width=8), draw(slot_width=8, slot_depth=5), draw(slot_width=8, slot_end="round")
    outlines = [result.drawings[0].strokes[-1].path for result in (square, deep, round_)]
    assert not outlines[0].bulges
    assert outlines[0].area - outlines[1].area == pytest.approx(6 * 8 * 5)
    assert sum(bulge != 0 for bulge in outlines[2].bulges) == 12
    assert outlines[0].area - outlines[2].area == pytest.approx(6 * 3.14159265 * 16 / 2)


def test_hand_holes_and_vents_go_where_they_are_asked_for(draw: Any) -> None:
    blank = draw("0201", "400x300x250", hand_holes="B", vents="L", vent_count=3).design.pieces[0].blank
    counts = {panel.name: len(panel.holes) for panel in blank.panels if panel.holes}
    assert counts == {"panel 1": 3, "panel 2": 1, "panel 3": 3, "panel 4": 1}
    left_in = draw("0201", "400x300x250", hand_holes="B", hand_hole_left_in=True).design.pieces[0].blank
    assert [len(panel.marks) for panel in left_in.panels if panel.marks] == [2, 2]


def test_openings_of_opposite_walls_lie_opposite_each_other(draw: Any) -> None:
    """The wall by the lap is drawn half a board short; its hand hole must still face the one across."""
    from dieline.fold.slab import stand_up

    result = draw("0201", "400x300x250", hand_holes="all")
    slabs = {slab.name: slab for slab in stand_up(result.design, 4.0).items}
    centres = {}
    for name in ("panel 1", "panel 2", "panel 3", "panel 4"):
        slab = slabs[name]
        assert slab.panel is not None
        x0, y0, x1, y1 = slab.panel.holes[0].bounds
        centres[name] = slab.rotation[:, :2] @ ((x0 + x1) / 2, (y0 + y1) / 2) + slab.offset
    assert centres["panel 1"][0] == pytest.approx(centres["panel 3"][0])
    assert centres["panel 2"][1] == pytest.approx(centres["panel 4"][1])
    assert {round(float(centre[2]), 6) for centre in centres.values()} == {round(float(centres["panel 1"][2]), 6)}


@pytest.mark.parametrize(
    ("style", "size", "board", "part"),
    [
        ("0201", "300x1x100", "A", "at least"),
        ("0201", "300x200x1", "C", "the walls must keep"),
        ("0201", "2x1x100", "AAA", "at least"),
        ("0202", "300x200x150/500", "C", "o"),
    ],
)
def test_what_cannot_be_made_is_refused_with_the_reason(style: str, size: str, board: str, part: str) -> None:
    with pytest.raises(InputError, match=part):
        run(make_job(style, size, board))


def test_three_metres_and_twenty_millimetres(draw: Any) -> None:
    assert draw("0201", "3000x2000x1500", "AAC").folded.inside == (3000, 2000, 1500)
    assert draw("0201", "20x20x20", "E").folded.inside == (20, 20, 20)
    assert not draw("0201", "3000x20x20", "carton-0.3").failures
