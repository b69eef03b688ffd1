"""Paths keep arcs exact; Shapely, which knows only chords, agrees within the chord tolerance."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dieline.geometry.arc import arc_between, arc_bounds, arc_points
from dieline.geometry.path import Frame, Path, circle, line, obround, polygon, polyline, rectangle, rounded
from dieline.geometry.region import line_string, region

sides = st.floats(1.0, 500.0)


@given(st.floats(-500, 500), st.floats(-500, 500), sides)
def test_a_circle_has_its_exact_area_length_and_bounds(x: float, y: float, r: float) -> None:
    path = circle((x, y), r)
    assert path.area == pytest.approx(math.pi * r * r, rel=1e-12)
    assert path.length == pytest.approx(2 * math.pi * r, rel=1e-12)
    assert path.bounds == pytest.approx((x - r, y - r, x + r, y + r))


@given(sides, sides, st.floats(0.0, 1.0))
def test_exact_areas_agree_with_shapely_within_the_chords(w: float, h: float, share: float) -> None:
    """Shapely is the outside check: its polygon of chords lies inside the arcs by at most length times tolerance."""
    path = rounded([(0, 0), (w, 0), (w, h), (0, h)], [share * min(w, h) / 2] * 4)
    flat = region(path, chord=0.001)
    assert path.area >= flat.area - 1e-9
    assert path.area == pytest.approx(flat.area, abs=path.length * 0.001 + 1e-9)
    assert line_string(path, chord=0.001).length == pytest.approx(path.length, rel=1e-3)


@given(sides, sides, st.floats(0.05, 3.0))
def test_mirroring_twice_and_reversing_twice_is_nothing(w: float, h: float, bulge: float) -> None:
    path = Path(((0, 0), (w, 0), (w, h)), (0.0, bulge, 0.0), closed=True)
    twice = path.mirrored(7.0).mirrored(7.0)
    assert twice.bulges == path.bulges
    assert np.array(twice.points) == pytest.approx(np.array(path.points))
    assert path.reversed().reversed() == path
    assert path.mirrored().area == pytest.approx(-path.area)
    assert path.reversed().area == pytest.approx(-path.area)
    assert path.moved(3, 4).length == pytest.approx(path.length)


@given(st.floats(-3, 3).filter(lambda b: abs(b) > 1e-3), sides)
def test_points_of_an_arc_lie_on_it(bulge: float, r: float) -> None:
    p, q = (0.0, 0.0), (r, r / 3)
    arc = arc_between(p, q, bulge)
    points = arc_points(p, q, bulge, 0.01)
    assert points[-1] == q
    for point in points:
        assert math.dist(point, arc.centre) == pytest.approx(arc.radius, rel=1e-9)
    x0, y0, x1, y1 = arc_bounds(p, q, bulge)
    for x, y in points:
        assert x0 - 1e-9 <= x <= x1 + 1e-9
        assert y0 - 1e-9 <= y <= y1 + 1e-9


def test_the_bounds_of_an_arc_reach_its_quarter_points() -> None:
    """A half circle over a chord of 10 bulges 5 out: bounds taken from the ends alone would miss it."""
    assert arc_bounds((0, 0), (10, 0), 1.0) == pytest.approx((0, -5, 10, 0))
    assert arc_bounds((0, 0), (10, 0), -1.0) == pytest.approx((0, 0, 10, 5))


def test_an_obround_is_as_wide_and_tall_as_asked_whichever_way_it_lies() -> None:
    for w, h in ((115, 38), (38, 115), (40, 40)):
        path = obround((0, 0), w, h)
        assert path.bounds == pytest.approx((-w / 2, -h / 2, w / 2, h / 2))
        r = min(w, h) / 2
        assert path.area == pytest.approx(w * h - (4 - math.pi) * r * r)
        assert path.area > 0


def test_a_rounded_corner_takes_no_more_room_than_its_sides_have() -> None:
    path = rounded([(0, 0), (10, 0), (10, 4), (0, 4)], [100, 100, 100, 100])
    assert path.bounds == pytest.approx((0, 0, 10, 4))
    assert path.area == pytest.approx(40 - (4 - math.pi) * 4)
    inner = rounded([(0, 0), (10, 0), (10, 10), (5, 5), (0, 10)], [0, 0, 0, 1, 0])
    assert len(inner.points) == 6
    assert inner.area > polygon([(0, 0), (10, 0), (10, 10), (5, 5), (0, 10)]).area


def test_an_open_rounded_path_keeps_its_ends() -> None:
    path = rounded([(0, 0), (10, 0), (10, 10)], [5, 2, 5], closed=False)
    assert (path.points[0], path.points[-1]) == ((0, 0), (10, 10))
    assert path.length == pytest.approx(16 + math.pi)
    with pytest.raises(ValueError, match="radii"):
        rounded([(0, 0), (1, 0)], [1], closed=False)


def test_polygons_drop_points_that_repeat() -> None:
    assert len(polygon([(0, 0), (0, 0), (5, 0), (5, 5), (0, 0)]).points) == 3


def test_a_path_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="bulges"):
        Path(((0, 0), (1, 0)), (0.0, 0.0))
    with pytest.raises(ValueError, match="no area"):
        _ = polyline([(0, 0), (1, 0)]).area
    with pytest.raises(ValueError, match="frame"):
        Frame.outward((1, 1), (1, 1))


def test_an_outward_frame_points_away_from_the_panel() -> None:
    panel = rectangle(0, 0, 10, 5)
    for p, q, _ in panel.segments():
        x, y = Frame.outward(p, q).point(math.dist(p, q) / 2, 0.1)
        assert not shapely.Point(x, y).within(region(panel))
        x, y = Frame.outward(p, q).point(math.dist(p, q) / 2, -0.1)
        assert shapely.Point(x, y).within(region(panel))


def test_a_path_placed_in_a_left_handed_frame_keeps_its_arcs_on_the_right_side() -> None:
    """A flap is drawn along its edge and away from it, a mirrored frame: its round corners must stay round corners."""
    flap = rounded([(0, 0), (20, 0), (20, 10), (0, 10)], [0, 0, 4, 4])
    placed = flap.placed(Frame.outward((0, 0), (20, 0)))
    assert abs(placed.area) == pytest.approx(flap.area)
    assert placed.bounds == pytest.approx((0, -10, 20, 0))


def test_a_line_is_flattened_to_its_ends() -> None:
    assert line((0, 0), (3, 4)).flatten() == [(0, 0), (3, 4)]
    assert line((0, 0), (3, 4)).length == 5
