"""The pieces of waste, held against the sheet less the blank as Shapely cuts it."""

from __future__ import annotations

import math

import pytest
import shapely
from check_examples import look_at

from dieline.checks.spacing import measure_spacing
from dieline.checks.waste import least_width, waste_pieces
from dieline.drawing.model import Drawing, Side
from dieline.drawing.strokes import Stroke, StrokeRole
from dieline.geometry.path import Path, circle, polygon, rectangle, rounded
from dieline.geometry.region import region
from dieline.linetypes import Meaning

EXAMPLES = [
    "0201 300x200x150 C",
    "0200 300x200x150 C",
    "0203 300x200x150 C; lap_end=right",
    "0203 300x200x150 C; creases=offset",
    "0206 300x200x150 BC; joint=taped",
    "0209 300x200x150 E; slot_end=round",
    "0201 300x200x150 C; lap_side=outside; slot_depth=3",
    "0201 120x80x60 A; joint=taped",
]


@pytest.mark.parametrize("example", EXAMPLES)
@pytest.mark.parametrize("side", list(Side))
def test_waste_is_the_sheet_less_the_blank(example: str, side: Side) -> None:
    inspected = look_at(example, side)
    (drawing,), (pieces,) = inspected.drawings, inspected.waste
    outline = next(stroke.path for stroke in drawing.strokes if stroke.outline)
    left = shapely.box(0, 0, drawing.width, drawing.height).difference(region(outline))
    areas = sorted(part.area for part in shapely.get_parts(left) if part.area > 0.01)
    assert sorted(piece.area for piece in pieces) == pytest.approx(areas, rel=2e-3, abs=0.1)


def test_cut_outs_are_waste_that_falls_out() -> None:
    inspected = look_at("0201 300x200x150 C; vents=L; vent_width=10; vent_height=10")
    inner = [piece for piece in inspected.waste[0] if piece.inner]
    assert [piece.area for piece in inner] == pytest.approx([25 * math.pi] * 4)
    assert [piece.across for piece in inner] == pytest.approx([10.0] * 4, abs=0.01)
    assert [least_width(piece, inspected.spacing[0]) for piece in inner] == pytest.approx([10.0] * 4, abs=0.01)


def _waste(outline: Path, *holes: Path) -> list[tuple[float, float, bool]]:
    x0, y0, x1, y1 = outline.bounds
    strokes = [Stroke(Meaning.CUT, hole, "cut-out", StrokeRole.HOLE) for hole in holes]
    strokes.append(Stroke(Meaning.CUT, outline, "outline", StrokeRole.OUTLINE))
    drawing = Drawing(name="body", width=x1 - x0, height=y1 - y0, side=Side.INSIDE, strokes=tuple(strokes))
    spacing = measure_spacing(drawing, 12.0)
    return [(piece.area, least_width(piece, spacing), piece.inner) for piece in waste_pieces(drawing, spacing)]


def test_a_rectangle_leaves_nothing() -> None:
    assert _waste(rectangle(0, 0, 200, 100)) == []


def test_a_cut_corner_leaves_a_triangle() -> None:
    ((area, width, inner),) = _waste(polygon([(0, 0), (200, 0), (200, 70), (160, 100), (0, 100)]))
    assert area == pytest.approx(600.0)
    assert width == pytest.approx(30 * 40 / 50)
    assert not inner


def test_a_disc_leaves_four_corners() -> None:
    found = _waste(circle((50, 50), 50))
    assert [area for area, _, _ in found] == pytest.approx([2500 - 625 * math.pi] * 4, rel=0.02)


def test_a_round_edge_that_touches_the_sheet_parts_the_waste() -> None:
    found = _waste(rounded([(0, 0), (200, 0), (200, 100), (0, 100)], [0, 50, 50, 0]))
    assert [area for area, _, _ in found] == pytest.approx([2500 - 625 * math.pi] * 2, rel=0.02)


def test_width_is_that_of_the_narrowest_neck() -> None:
    """A keyhole: a slot 3 mm wide that opens into a room."""
    outline = polygon(
        [
            *((0, 0), (200, 0), (200, 100), (103, 100), (103, 60), (120, 60)),
            *((120, 30), (80, 30), (80, 60), (100, 60), (100, 100), (0, 100)),
        ]
    )
    ((area, width, _),) = _waste(outline)
    assert area == pytest.approx(3 * 40 + 40 * 30)
    assert width == pytest.approx(3.0)


def test_a_leaning_strip_is_measured_across() -> None:
    c, s = math.cos(0.5), math.sin(0.5)
    strip = polygon([(100 + x * c - y * s, 50 + x * s + y * c) for x, y in ((0, 0), (30, 0), (30, 4), (0, 4))])
    ((area, width, inner),) = _waste(rectangle(0, 0, 200, 100), strip)
    assert (area, width) == pytest.approx((120.0, 4.0))
    assert inner
