"""Cartons with locking bottoms and gable tops: every style through the suite, and what each is put together from."""

from __future__ import annotations

import pytest
from bottom_trials import box, opened

from dieline.blank import Face
from dieline.errors import SizeError
from dieline.testing import conform
from dieline_styles.closures import CLOSURES, parameters_of
from dieline_styles.ready_glued import STYLES

SHARE = {
    "0215": 0.35,
    "0216": 0.35,
    "snap-lock-carrier": 0.35,
    "0711": 0.25,
    "0713": 0.2,
    "0706": 0.2,
    "gable-carton": 0.25,
}
"""Share of random sizes that each must take: locking bottoms refuse narrow boxes, auto-locks flat and short ones."""


@pytest.mark.parametrize("code", STYLES)
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code], sizes=60, least_share=SHARE[code]) > 20


def test_the_codes_are_those_that_may_be_used() -> None:
    assert set(STYLES) == {"0215", "0216", "0706", "0711", "0713", "snap-lock-carrier", "gable-carton"}


@pytest.mark.parametrize("code", STYLES)
def test_every_style_says_how_it_is_put_up(code: str) -> None:
    result = box(code, STYLES[code].example, "E")
    ends = {word.split(":")[0] for word in result.design.words}
    assert ends == {"bottom", "top"}


def test_the_flap_of_the_handle_is_only_spoken_of_where_there_is_one() -> None:
    spoken = {
        handle: "flap of one" in box("gable-carton", "200x130x130", "E", handle=handle).design.words[1]
        for handle in ("none", "hole", "flap")
    }
    assert spoken == {"none": False, "hole": False, "flap": True}


@pytest.mark.parametrize("code", STYLES)
def test_every_style_is_proved_glued_flat_and_locked(code: str) -> None:
    result = box(code, STYLES[code].example, "E")
    assert result.folded.states == ("glued flat",)
    assert result.folded.locks
    assert all(catch > 0 for _, catch in result.folded.locks)


def test_bottoms_that_lock_cannot_be_the_end_that_is_closed_last() -> None:
    for name in ("snap", "auto"):
        assert not CLOSURES[name].top
        assert not CLOSURES[name].last
        assert CLOSURES[name].why


def test_the_tops_are_those_of_other_cartons() -> None:
    for code in ("0215", "0713"):
        names = set(box(code, "200x130x160", "E").design.pieces[0].blank.by_name)
        assert {"top lid", "top tuck", "top dust flap 2", "top dust flap 4"} <= names
    for code in ("0216", "0711"):
        names = set(box(code, "300x200x250", "C").design.pieces[0].blank.by_name)
        assert {f"top flap {number}" for number in (1, 2, 3, 4)} <= names
    for code in ("snap-lock-carrier", "gable-carton"):
        assert "top roof 1" in box(code, "200x130x130", "E").design.pieces[0].blank.by_name
    tray = box("0706", "400x120x100", "E").design.pieces[0].blank
    assert not [panel for panel in tray.panels if panel.face is Face.TOP]


def test_the_lid_can_hang_on_either_wall() -> None:
    for lid_on, parent in (("back", "panel 1"), ("front", "panel 3")):
        blank = box("0713", "200x130x160", "E", lid_on=lid_on).design.pieces[0].blank
        assert next(fold.parent for fold in blank.folds if fold.child == "top lid") == parent


@pytest.mark.parametrize("code", ["0711", "0713", "0706"])
def test_an_auto_lock_bottom_opens_before_anything_else_is_closed(code: str) -> None:
    result = box(code, STYLES[code].example, "E")
    last = opened(result)[-1]
    assert last["panel 1"] == (90.0, 0.0)
    assert last["bottom main flap 1"][0] == pytest.approx(90.0)
    after = result.design.motions[1].start
    assert after["bottom main flap 1"] == (90.0, -0.75)
    assert after["bottom side flap 2"] == (90.0, 0.75)


def test_options_of_bottom_top_and_tube_are_declared_once() -> None:
    for style in STYLES.values():
        names = [parameter.name for parameter in style.parameters]
        assert len(names) == len(set(names))
    tube = {parameter.name for parameter in parameters_of(())}
    assert tube <= {parameter.name for parameter in STYLES["0706"].parameters}


def test_a_gable_needs_l_of_at_least_b() -> None:
    with pytest.raises(SizeError, match="L ≥ B"):
        box("snap-lock-carrier", "100x150x120", "E")


def test_the_other_end_of_the_lap_mirrors_the_blank() -> None:
    for code in STYLES:
        left, right = (box(code, STYLES[code].example, "E", lap_end=end).drawings[0] for end in ("left", "right"))
        assert left.width == pytest.approx(right.width)
        assert left.height == pytest.approx(right.height)
