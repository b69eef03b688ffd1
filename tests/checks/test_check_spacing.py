"""What faces what, and how near, on small drawings whose distances can be seen."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dieline.checks.spacing import Facing, measure_spacing
from dieline.drawing.model import Drawing, Side
from dieline.drawing.strokes import Stroke, StrokeRole
from dieline.geometry.path import Path, circle, line, obround, polygon, polyline, rectangle, rounded
from dieline.linetypes import Meaning

SHEET = rectangle(0, 0, 200, 100)


def _drawing(*strokes: Stroke, outline: Path = SHEET) -> Drawing:
    edge = Stroke(Meaning.CUT, outline, "outline", StrokeRole.OUTLINE)
    x0, y0, x1, y1 = outline.bounds
    return Drawing(name="body", width=x1 - x0, height=y1 - y0, side=Side.INSIDE, strokes=(*strokes, edge))


def _hole(path: Path) -> Stroke:
    return Stroke(Meaning.CUT, path, "cut-out", StrokeRole.HOLE)


def _slit(*points: tuple[float, float], meaning: Meaning = Meaning.CUT) -> Stroke:
    return Stroke(meaning, polyline(points), "slit", StrokeRole.SLIT)


def _facing(*strokes: Stroke, outline: Path = SHEET, reach: float = 10.0) -> tuple[Facing, ...]:
    return measure_spacing(_drawing(*strokes, outline=outline), reach).facing


def _turned(path: Path, degrees: float, x: float = 100.0, y: float = 50.0) -> Path:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    points = tuple((x + (px - x) * c - (py - y) * s, y + (px - x) * s + (py - y) * c) for px, py in path.points)
    return Path(points, path.bulges, path.closed)


@given(gap=st.floats(0.1, 9.9), angle=st.floats(-180, 180), turn_one=st.booleans())
def test_two_cut_outs_at_any_angle(gap: float, angle: float, turn_one: bool) -> None:
    a, b = rectangle(80, 40, 100, 60), rectangle(100 + gap, 45, 120 + gap, 70)
    a, b = _turned(a, angle), _turned(b, angle)
    (pair,) = _facing(_hole(a.reversed() if turn_one else a), _hole(b), outline=rectangle(0, -100, 300, 200))
    assert pair.distance == pytest.approx(gap, abs=1e-9)
    assert pair.overlap == pytest.approx(15.0)
    assert not pair.waste
    assert pair.parallel


@given(width=st.floats(0.2, 9.9), mirrored=st.booleans())
def test_a_slot_is_waste_and_a_strip_is_board(width: float, mirrored: bool) -> None:
    slot = polygon(
        [(0, 0), (200, 0), (200, 100), (100 + width, 100), (100 + width, 40), (100, 40), (100, 100), (0, 100)]
    )
    strip = polygon([(0, 0), (200, 0), (200, 50), (60 + width, 50), (60 + width, 100), (60, 100), (60, 50), (0, 50)])
    for outline, waste in ((slot, True), (strip, False)):
        (pair,) = _facing(outline=outline.mirrored(50.0) if mirrored else outline)
        assert pair.distance == pytest.approx(width)
        assert pair.waste is waste
        assert pair.strokes == (0, 0)


def test_the_place_lies_between_the_two() -> None:
    (pair,) = _facing(_hole(rectangle(20, 20, 40, 40)), _hole(rectangle(43, 30, 60, 60)))
    assert pair.place == pytest.approx((41.5, 35.0))


@pytest.mark.parametrize("lean", [2.0, 9.5, 20.0])
def test_a_tapered_slot_is_as_narrow_as_its_end(lean: float) -> None:
    corners = [(100.5 + lean, 100), (100.5, 50), (99.5, 50), (99.5 - lean, 100)]
    (pair,) = _facing(outline=polygon([(0, 0), (200, 0), (200, 100), *corners, (0, 100)]))
    assert pair.distance == pytest.approx(1.0)
    assert pair.waste
    assert not pair.parallel


def test_a_notch_without_an_end_is_no_slot() -> None:
    assert _facing(outline=polygon([(0, 0), (200, 0), (200, 100), (110, 100), (100, 50), (90, 100), (0, 100)])) == ()


@pytest.mark.parametrize("gap", [0.5, 1.5, 6.0])
def test_a_round_hole_near_an_edge(gap: float) -> None:
    pairs = _facing(_hole(circle((100, 20 + gap), 20)))
    assert pairs[0].distance == pytest.approx(gap, abs=0.06)
    assert not pairs[0].waste


@pytest.mark.parametrize("gap", [0.5, 4.0])
def test_two_round_holes(gap: float) -> None:
    pairs = _facing(_hole(circle((60, 50), 15)), _hole(circle((90 + gap, 50), 15)))
    assert pairs[0].distance == pytest.approx(gap, abs=0.11)


@pytest.mark.parametrize(
    "path",
    [
        circle((100, 50), 3),
        obround((100, 50), 40, 20),
        rounded([(80, 30), (120, 30), (120, 70), (80, 70)], [0.6] * 4),
        rounded([(80, 30), (120, 30), (120, 70), (80, 70)], [9.0] * 4),
    ],
)
def test_a_round_corner_does_not_face_itself(path: Path) -> None:
    assert _facing(_hole(path)) == ()


def test_the_round_end_of_a_slot_is_no_narrower_than_the_slot() -> None:
    slot = rounded(
        [(0, 0), (200, 0), (200, 100), (106, 100), (106, 40), (100, 40), (100, 100), (0, 100)],
        [0, 0, 0, 0, 3, 3, 0, 0],
    )
    assert [pair.distance for pair in _facing(outline=slot)] == pytest.approx([6.0])


def test_an_open_cut_that_stops_short_of_another() -> None:
    (pair,) = _facing(_slit((60, 50), (198.5, 50)))
    assert pair.distance == pytest.approx(1.5)
    assert pair.place == pytest.approx((199.25, 50.0))


def test_an_open_cut_that_starts_on_another() -> None:
    assert _facing(_slit((60, 50), (200, 50))) == ()
    assert _facing(_slit((60, 50), (200, 50)), _slit((60, 50), (60, 20))) == ()


def test_two_slits_side_by_side_whichever_way_they_run() -> None:
    for second in (((40, 52), (80, 52)), ((80, 52), (40, 52))):
        (pair,) = _facing(_slit((30, 50), (70, 50)), _slit(*second))
        assert pair.distance == pytest.approx(2.0)
        assert pair.overlap == pytest.approx(30.0)


def test_creases_and_knives_are_told_apart() -> None:
    crease = Stroke(Meaning.CREASE, line((20, 5), (180, 5)), "a – b", StrokeRole.FOLD)
    (pair,) = _facing(crease)
    assert sorted(pair.kinds) == [0, 2]
    assert pair.distance == pytest.approx(5.0)
    # A crease that is not quite parallel to the edge does not run beside it.
    assert _facing(Stroke(Meaning.CREASE, line((20, 5), (180, 9)), "a – b", StrokeRole.FOLD)) == ()


def test_what_lies_farther_than_the_reach_is_not_listed() -> None:
    strokes = _hole(rectangle(20, 20, 40, 40)), _hole(rectangle(45, 20, 60, 40))
    assert len(_facing(*strokes, reach=5.0)) == 1
    assert _facing(*strokes, reach=4.99) == ()


def test_two_slits_in_line_keep_the_distance_of_their_ends() -> None:
    pairs = _facing(_slit((20, 50), (60, 50)), _slit((60, 53), (100, 53)))
    assert {(pair.distance, pair.overlap) for pair in pairs} == {(3.0, 0.0)}


def test_corners_of_cut_outs_that_only_point_at_each_other_do_not_face() -> None:
    assert _facing(_hole(rectangle(20, 20, 40, 40)), _hole(rectangle(43, 43, 60, 60))) == ()


def test_a_drawing_without_strokes() -> None:
    empty = Drawing(name="body", width=1, height=1, side=Side.INSIDE, strokes=())
    assert measure_spacing(empty, 10.0).facing == ()
