"""Mailers and the shoe box: dimensions by their rules, the way the lid closes, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from carton_trials import faults, named, points_of, reshaped, with_panel
from roll_trials import STYLES, dense, remade, rolled, smooth

from dieline.blank import Face
from dieline.errors import OptionError, SizeError
from dieline.fold.states import motion_faults
from dieline.geometry.path import Path, polygon
from dieline.style.design import Design
from dieline.testing import conform
from dieline_styles.hinged_lid import mouth_room, over_bend
from dieline_styles.roll_options import least_spine

SIZES = [("300x200x60", "E"), ("220x160x50", "B"), ("400x300x120", "C"), ("150x110x40", "F"), ("400x300x120", "BC")]
KINDS = [("0427", "gap"), ("0427", "along"), ("0427", "none"), ("roll-end-lid", ""), ("0441", "")]


def options(ears: str) -> dict[str, object]:
    return {"ears": ears} if ears else {}


@pytest.mark.parametrize("code", ["0427", "roll-end-lid", "0441"])
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 25


@pytest.mark.parametrize(("code", "ears"), KINDS)
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds_and_closes_cleanly(code: str, ears: str, size: str, board: str) -> None:
    """Nothing is declared free while it is put up and closed; all six faces are shut but for the plays declared."""
    result = rolled(code, size, board, **options(ears))
    assert result.failures == ()
    (motion,) = result.design.motions
    assert motion.free == ()
    assert smooth(result, 30) == []
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert {shut.face for shut in result.design.closed} == set(Face)


def test_dimensions_of_the_mailer() -> None:
    """Front k = 1 + c/t: base L + 2w + t by B + 2t + c, lid B + t deep, back H + t, sides H less the lid's play."""
    result = rolled("0427", "300x200x60", "C")  # t 4, c 0.6, w 9.2
    assert named(result, "base length") == pytest.approx(322.4)
    assert named(result, "base breadth") == pytest.approx(200 + 8 + 0.6)
    assert named(result, "lid depth") == 204
    assert named(result, "back height") == 64
    assert named(result, "front height") == 62
    assert named(result, "side height") == 59.5
    assert named(result, "inner side length") == pytest.approx(59.5 - 2 - 0.6)
    assert named(result, "lid length") == pytest.approx(322.4 + 4 - 2 * 0.5)
    assert named(result, "tuck width") == pytest.approx(300 + 9.2 + 4)  # to the middle of both gaps
    assert named(result, "front flap height") == pytest.approx(60 + 4 - named(result, "ear height") - 2 * 0.6)
    assert result.folded.outside == pytest.approx((300 + 2 * 13.2, 200 + 12 + 0.6, 68))


def test_ears_along_the_sides_move_the_sides_out() -> None:
    """By a board and a clearance each; the tuck is as wide as the inside and half a board to each side."""
    result = rolled("0427", "300x200x60", "C", ears="along")
    assert named(result, "base length") == pytest.approx(322.4 + 2 * 4.6)
    assert named(result, "tuck width") == 304
    blank = result.design.pieces[0].blank
    assert blank.by_name["left ear"].face is Face.LEFT
    assert blank.by_name["left inner wall"].k == pytest.approx(1 + 0.6 / 4)


def test_the_spine_ends_behind_the_ear() -> None:
    """Behind the ear by two clearances and the room that it swings back by; the inner wall by that room alone."""
    result = rolled("0427", "300x200x60", "C")
    ear, tuck = named(result, "ear length"), named(result, "tuck depth")
    room = mouth_room(tuck, 204)
    assert min(y for _, y in points_of(result, "left spine")) == pytest.approx(ear - 2 + 2 * 0.6 + room)
    assert min(y for _, y in points_of(result, "left inner wall")) == pytest.approx(max(0.6, room))


def test_an_ears_upper_edge_slopes_by_the_over_bend_and_a_degree() -> None:
    result = rolled("0427", "300x200x60", "E")
    points = points_of(result, "right ear")
    hinge = min(x for x, _ in points)
    top = min(y for x, y in points if x == pytest.approx(hinge))
    nose = max(x for x, _ in points)
    drop = min(y for x, y in points if x == pytest.approx(nose)) - top
    assert math.degrees(math.atan(drop / (nose - hinge))) == pytest.approx(over_bend(36, 201.5) + 1.0)


def test_the_thumb_notch_is_44_wide_14_deep_and_round_by_10() -> None:
    plain, notched = (rolled("0427", "300x200x60", "E", thumb_notch=on) for on in (False, True))
    missing = (panel.design.pieces[0].blank.by_name["front"].area for panel in (plain, notched))
    before, after = missing
    assert before - after == pytest.approx(44 * 14 - 2 * (100 - math.pi * 100 / 4))
    assert rolled("0427", "300x200x18", "E", ears="none").order.flag("thumb_notch") is False


def test_friction_alone_holds_lid_and_ears() -> None:
    """So no lock is claimed for them: what is proved to catch are tabs and corner flaps."""
    for code, ears in KINDS:
        result = rolled(code, "300x200x100", "E", **options(ears))
        assert "Friction holds the lid." in result.design.words[0]
        names = [name for name, _ in result.folded.locks]
        assert names
        assert all("tabs" in name or "corner flap" in name for name in names)


def test_front_corner_flaps_are_held_where_they_rise_behind_the_ears() -> None:
    held = rolled("0427", "300x200x60", "E")
    assert any("front left corner flap" in name for name, _ in held.folded.locks)
    low = rolled("0427", "300x200x60", "E", corner_flap=40)
    assert low.failures == ()
    assert not any("front" in name for name, _ in low.folded.locks)


def test_the_shoe_box_has_three_double_walls() -> None:
    """Front: base B + 2t + c + its spine deep, so that the tuck stands at the edge of the inside."""
    result = rolled("0441", "300x200x100", "C")
    assert named(result, "front spine width") == pytest.approx(1.5 * 4)
    assert named(result, "base breadth") == pytest.approx(200 + 8 + 0.6 + 6)
    assert named(result, "tuck width") == pytest.approx(300 - 1.2)
    assert len(result.design.pieces[0].blank.by_name["base"].holes) == 6
    assert sum("tabs" in name for name, _ in result.folded.locks) == 3


@pytest.mark.parametrize("board", ["E", "C", "BC"])
def test_the_front_spine_must_let_the_tabs_down(board: str) -> None:
    """Over a single board w² = t² + tau²: with tabs of 0.9 t it fails at 1.33 t and holds at 1.35 t."""
    assert least_spine(0, 1.0, 0.9) == pytest.approx(1.3454, abs=1e-4)
    t = rolled("0441", "300x200x100", board).job.board.thickness
    slot = {"slot width": 1.6 * t}
    narrow = rolled("0441", "300x200x100", board, {"front spine width": 1.33 * t, **slot})
    assert "front" in " ".join(narrow.failures)
    assert "passes through" in " ".join(narrow.failures)
    enough = rolled("0441", "300x200x100", board, {"front spine width": 1.35 * t, **slot})
    assert enough.failures == ()
    assert smooth(enough) == []


@pytest.mark.parametrize(
    ("code", "size", "given", "reason"),
    [
        ("0427", "300x200x20", {"ears": "gap"}, "ears – gap – H must be at least 22.4 mm"),
        ("0427", "300x100x120", {"ears": "gap"}, "ears – gap – H must be at most B 100 mm"),
        ("0427", "300x200x60", {"ear_height": 59.0}, "ear_height.*in the gap a corner flap stands under them"),
        ("0427", "300x200x60", {"tuck_depth": 95.0}, "tuck_depth.*keep off the floor"),
        ("roll-end-lid", "300x200x60", {"thumb_notch_depth": 40.0}, "thumb_notch_depth.*tuck must stay behind"),
    ],
)
def test_what_cannot_be_is_refused_with_the_reason(code: str, size: str, given: dict[str, object], reason: str) -> None:
    with pytest.raises(OptionError, match=reason):
        rolled(code, size, "C", **given)


def test_an_inner_front_longer_than_the_box_is_deep_cannot_be_rolled() -> None:
    with pytest.raises(SizeError, match=r"B.*at least 208.*swing in"):
        rolled("0441", "300x150x200", "C")


def test_a_box_too_low_or_too_high_for_ears_in_the_gap_gets_none() -> None:
    assert rolled("0427", "300x200x20", "C").order.choice("ears") == "none"
    assert rolled("0427", "300x100x120", "C").order.choice("ears") == "none"
    assert rolled("0427", "300x200x60", "C").order.choice("ears") == "gap"


# ---------------------------------------------------------------------- trials that must fail


def closed_densely(design: Design, thickness: float) -> str:
    return " | ".join(motion_faults(dense(design, 30), thickness))


def test_without_bending_it_over_the_tuck_strikes_the_front() -> None:
    for code in ("0427", "roll-end-lid", "0441"):
        result = rolled(code, "300x200x60", "E")
        (motion,) = result.design.motions
        square = {step.name: {"tuck": (90.0, 0.0)} for step in motion.steps if "tuck" in step.bends}
        text = closed_densely(remade(result.design, square), 1.5)
        assert "front" in text
        assert "passes through" in text
        assert "tuck" in text


def test_an_ear_with_a_square_upper_edge_strikes_the_lid() -> None:
    result = rolled("0427", "300x200x60", "E", ear_relief=1.25)

    def squared(panel_points: tuple[tuple[float, float], ...]) -> Path:
        x0, x1 = min(x for x, _ in panel_points), max(x for x, _ in panel_points)
        y0, y1 = min(y for _, y in panel_points), max(y for _, y in panel_points)
        return polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])

    design = with_panel(result.design, "right ear", lambda panel: replace(panel, outline=squared(panel.outline.points)))
    text = closed_densely(design, 1.5)
    assert "lid passes through right ear" in text or "right ear passes through lid" in text


def test_a_spine_that_reaches_to_the_front_is_in_the_ears_way() -> None:
    result = rolled("0427", "300x200x60", "E")
    start = min(y for _, y in points_of(result, "left spine"))
    design = reshaped(result.design, "left spine", {("y", start): start - 10.0})
    text = faults(design, result)
    assert "left spine" in text
    assert "left ear" in text


def test_a_spine_just_behind_the_ear_is_struck_as_it_swings_in() -> None:
    """In the closed box there is room; on the way the ear needs the pocket."""
    size = "222x277x200"
    result = rolled("0427", size, "E")
    start = min(y for _, y in points_of(result, "left spine"))
    nose = named(result, "ear length") - 0.75
    design = reshaped(result.design, "left spine", {("y", start): nose + 0.1})
    assert "left spine runs into" not in faults(design, result)
    text = closed_densely(design, 1.5)
    assert "left spine passes through left ear" in text or "left ear passes through left spine" in text


def test_inner_walls_that_reach_to_the_inside_front_are_in_the_tucks_way() -> None:
    """The tuck bulges back by 0.074 T² / D on its way."""
    result = rolled("0427", "300x200x120", "E", tuck_depth=69)
    start = min(y for _, y in points_of(result, "left inner wall"))
    design = reshaped(result.design, "left inner wall", {("y", start): 0.0})
    assert "left inner wall passes through tuck" in closed_densely(design, 1.5)


def test_a_full_front_corner_flap_is_in_the_ears_way() -> None:
    result = rolled("0427", "300x200x60", "E")
    x0, y0, x1, y1 = result.design.pieces[0].blank.by_name["front left corner flap"].outline.bounds
    full = polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    design = with_panel(result.design, "front left corner flap", lambda panel: replace(panel, outline=full))
    text = faults(design, result)
    assert "front left corner flap" in text
    assert "left ear" in text


def test_a_lid_a_millimetre_short_does_not_shut_or_fit() -> None:
    """Its tuck then stands in the inside."""
    result = rolled("0441", "300x200x100", "E")
    assert result.failures == ()
    short = rolled("0441", "300x200x100", "E", {"lid depth": 200.5})
    assert short.folded.inside[1] == pytest.approx(199.0)
