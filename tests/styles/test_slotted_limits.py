"""Where slotted boxes end: small and huge sizes, thin and thick boards, every option at its limits."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dieline.board import find_board
from dieline.errors import InputError, OptionError, SizeError
from dieline.house import house_from_text
from dieline.job import make_job
from dieline.pipeline import run


@pytest.mark.parametrize("size", ["300x20x150", "40x16x30", "3000x60x2000"])
@pytest.mark.parametrize("style", ["0201", "0203", "0204", "0206", "0200"])
def test_the_option_of_another_style_never_stands_in_the_way(style: str, size: str) -> None:
    """`short_flap` belongs to 0209: its limits on a narrow box must not refuse a box without short flaps."""
    assert run(make_job(style, size, "A")).failures == ()


def test_the_slots_of_a_small_box_do_not_leave_its_corners_open(draw: Any) -> None:
    for size, board, slot in (
        ("12x11x8", "E", 2.5),
        ("50x40x30", "C", 5),
        ("300x200x150", "C", 6),
        ("90x80x70", "E", 6),
    ):
        assert draw("0201", size, board).order.options["slot_width"] == slot


def test_an_option_that_would_do_nothing_is_not_taken(draw: Any) -> None:
    for style, option in (("0201", "short_flap"), ("0209", "shortfall"), ("0201/0204", "shortfall")):
        with pytest.raises(InputError, match=f"'{option}' is not known"):
            draw(style, **{option: 50})
    assert draw("0203/0209", short_flap=50, shortfall=20).order.options["short_flap"] == 50


def test_short_flaps_that_could_only_meet_are_refused_by_the_size(draw: Any) -> None:
    with pytest.raises(SizeError, match=r"size, B – 13 mm – it must be at least 14 mm .* must not meet"):
        draw("0209", "200x13x100")
    assert not draw("0209", "200x15x100").failures


def test_a_box_too_small_for_a_lap_names_the_least_size_and_the_way_out(draw: Any) -> None:
    with pytest.raises(SizeError, match=r"size, B – 8 mm – it must be at least 10 mm .* joint=taped needs none"):
        draw("0201", "60x8x40")
    with pytest.raises(SizeError, match=r"size, L – 8 mm – it must be at least 10 mm"):
        draw("0201", "8x8x40", lap_on="B")
    assert not draw("0201", "60x8x40", joint="taped").failures


def test_the_lap_of_a_low_box_keeps_at_least_half_of_its_edge(draw: Any) -> None:
    for size in ("600x400x12", "600x400x40", "300x200x150"):
        lap = draw("0201", size).design.pieces[0].blank.by_name["lap"]
        edge = [y for x, y in lap.outline.points if x == lap.outline.bounds[0]]
        assert max(edge) - min(edge) >= 0.5 * lap.size[1]


@pytest.mark.parametrize("overlap", ["0.1", "1", "4.9"])
def test_an_overlap_that_does_not_lie_on_the_other_flap_is_refused(draw: Any, overlap: str) -> None:
    with pytest.raises(SizeError, match=r"fourth size \(o\).* it must be at least 5 mm on board C"):
        draw("0202", f"300x200x150/{overlap}")


def test_the_least_overlap_is_an_overlap_and_no_collision(draw: Any) -> None:
    for style in ("0202", "0205"):
        result = draw(style, "300x200x150/5")
        assert result.ok
        assert not [finding for finding in result.findings if finding.check == "outer-flaps-collide"]


def test_the_greatest_shortfall_still_overlaps(draw: Any) -> None:
    for style in ("0203", "0206"):
        assert draw(style, shortfall=98).ok
        with pytest.raises(OptionError, match="they no longer overlap"):
            draw(style, shortfall=100)


def test_the_give_of_a_board_lets_the_last_flap_climb_as_the_houses_does() -> None:
    board = replace(find_board("C"), give=1.5)
    assert not run(make_job("0203", "300x200x150", board, options={"shortfall": 0, "creases": "one"})).failures


@pytest.mark.parametrize(
    ("options", "match"),
    [
        ({"slot_width": 21}, "slot_width – 21 mm – it must be 4 to 20 mm"),
        ({"slot_depth": 30}, "slot_depth – 30 mm – it must be 0 to 28 mm"),
        ({"hand_holes": "B", "hand_hole_drop": 0}, "hand_hole_drop – 0 mm – it must be 5 to 107 mm"),
        ({"tear_strip": True, "tear_strip_height": 6}, "tear_strip_height – 6 mm – it must be 11 to 139 mm"),
        ({"tear_strip": True, "tear_strip_height": 144}, "tear_strip_height – 144 mm – it must be 11 to 139 mm"),
    ],
)
def test_what_would_cut_into_the_folds_is_out_of_range(draw: Any, options: dict[str, Any], match: str) -> None:
    with pytest.raises(OptionError, match=match):
        draw("0201", **options)


@pytest.mark.parametrize("style", ["0200", "0201", "0203/0209"])
def test_openings_at_their_limits_keep_off_every_edge(style: str) -> None:
    for options in (
        {"hand_holes": "all", "hand_hole_drop": 5},
        {"hand_holes": "all", "hand_hole_height": 115, "hand_hole_drop": 30},
        {"tear_strip": True, "tear_strip_height": 11},
        {"tear_strip": True, "tear_strip_height": 139},
        {"vents": "all", "vent_width": 90, "vent_height": 130},
    ):
        assert run(make_job(style, "300x200x150", "C", options=options)).failures == ()


def test_a_piece_left_in_needs_a_hinge(draw: Any) -> None:
    with pytest.raises(OptionError, match="leaves a hinge of 0 mm"):
        draw("0201", hand_holes="L", hand_hole_width=60, hand_hole_height=60, hand_hole_left_in=True)
    assert not draw("0201", hand_holes="L", hand_hole_width=65, hand_hole_height=60, hand_hole_left_in=True).failures


def test_vents_and_hand_holes_take_a_usual_size_that_fits(draw: Any) -> None:
    vented = draw("0201", "300x35x60", vents="B")
    assert vented.order.options["vent_count"] == 2
    assert vented.order.options["vent_width"] == 7.5
    low = draw("0201", "300x200x60", hand_holes="B")
    assert low.order.options["hand_hole_drop"] == 11
    assert not vented.failures
    assert not low.failures


@pytest.mark.parametrize("size", ["6.5x6.5x6", "25x22x20", "3000x3000x3000", "3000x20x20"])
@pytest.mark.parametrize("board", ["carton-0.3", "E", "C"])
def test_tiny_and_huge_boxes_are_right(size: str, board: str) -> None:
    if size == "6.5x6.5x6" and board != "carton-0.3":
        with pytest.raises(SizeError, match=r"^size, B – 6\.5 mm – it must be at least"):
            run(make_job("0201", size, board))
    else:
        assert run(make_job("0201", size, board)).failures == ()


@pytest.mark.parametrize("board", ["carton-0.3", "C", "AAA"])
def test_a_box_of_3_mm_is_refused_by_its_size(board: str) -> None:
    with pytest.raises(SizeError, match=r"^size, B – 3 mm – it must be at least"):
        run(make_job("0201", "3x3x3", board))


@pytest.mark.parametrize("step", ["0.1", "0.5", "1", "2", "'1/16 in'"])
@pytest.mark.parametrize("style", ["0200", "0201", "0202", "0203", "0204", "0205", "0206", "0209"])
def test_rounding_never_makes_flaps_run_into_each_other(style: str, step: str) -> None:
    """Flaps that meet are rounded down: half a length rounded up on both sides would not go into the box."""
    house = house_from_text(f"[rounding]\nto = {step}", "h")
    for size, board in (("515x197x434", "E"), ("433x243x410", "BC"), ("121x120x121", "C-inch"), ("449x411x225", "F")):
        result = run(make_job(style, size, board, house=house))
        assert result.failures == ()
        assert result.ok
        lines = {line.name: line.value for line in result.design.sizes}
        assert 2 * lines["bottom inner flap"] <= result.design.crease.length + 1e-9


def test_flaps_follow_a_panel_that_the_house_makes_narrower() -> None:
    house = house_from_text(
        "[[allowance]]\nsize='panel 2 width'\nadd=-1\n[[allowance]]\nsize='panel 4 width'\nsame_as='panel 2 width'", "h"
    )
    result = run(make_job("0201", "300x200x150", "C", house=house))
    assert result.failures == ()
    line = next(line for line in result.design.sizes if line.name == "top outer flap")
    assert (line.value, line.derivation) == (101.5, "(B panel 203 - flap gap 0) / 2")
