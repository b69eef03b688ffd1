"""Regular hexagon and octagon cartons against polygons that shapely measures.

Source: construction of the regular polygon in its circle, Euclid, Elements IV.15 (a hexagon's side is the radius).
"""

from __future__ import annotations

import math

import pytest
import shapely

from dieline.board import find_board
from dieline.fold.slab import stand_up
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.units import parse_size
from dieline_styles.hexagon import STYLES

CODES = {"hexagon-tuck": 6, "hexagon-seal": 6, "octagon-tuck": 8}


def _proved(code: str) -> Result:
    job = Job(style=code, size=parse_size(STYLES[code].example), board=find_board("E"), options={})
    return run(job, STYLES[code])


def _regular(sides: int, across: float) -> shapely.Polygon:
    """A regular polygon struck in a circle and scaled until it is so wide between two opposite sides."""
    turns = [2 * math.pi * k / sides + math.pi / sides for k in range(sides)]
    unit = shapely.Polygon([(math.cos(turn), math.sin(turn)) for turn in turns])
    by = across / (2 * shapely.Point(0, 0).distance(unit.exterior))
    return shapely.affinity.scale(unit, by, by, origin=(0, 0))


def test_the_side_of_a_hexagon_is_the_radius_of_its_circle() -> None:
    """The polygon that the others are held against keeps the theorem."""
    hexagon = _regular(6, 100.0)
    side = hexagon.exterior.length / 6
    assert side == pytest.approx(shapely.hausdorff_distance(shapely.Point(0, 0), hexagon))


@pytest.mark.parametrize(("code", "sides"), CODES.items())
def test_the_side_inside_is_that_of_the_regular_polygon(code: str, sides: int) -> None:
    result = _proved(code)
    polygon = _regular(sides, result.design.inside.length)
    assert result.design.facts["side inside"] == pytest.approx(polygon.exterior.length / sides, abs=0.02)
    corners = 2 * float(shapely.hausdorff_distance(shapely.Point(0, 0), polygon))
    assert result.design.facts["across the corners inside"] == pytest.approx(corners, abs=0.02)


@pytest.mark.parametrize(("code", "sides"), CODES.items())
def test_the_folded_walls_enclose_the_regular_polygon(code: str, sides: int) -> None:
    """The plane behind every folded wall's inner face, cut together by shapely, is the polygon."""
    result = _proved(code)
    free: shapely.Geometry = shapely.box(-1000, -1000, 1000, 1000)
    walls = [
        item for item in stand_up(result.design, result.job.board.thickness).items if item.name.startswith("panel ")
    ]
    assert len(walls) == sides
    for wall in walls:
        normal = wall.rotation[:2, 2]
        point = (wall.offset + wall.rotation[:, :2] @ wall.flat[0])[:2] + normal * wall.half
        along = (-normal[1] * 3000, normal[0] * 3000)
        corners = [
            (point[0] + f * along[0] + g * normal[0] * 3000, point[1] + f * along[1] + g * normal[1] * 3000)
            for f, g in ((-1, 0), (1, 0), (1, 1), (-1, 1))
        ]
        free = free.intersection(shapely.Polygon(corners))
    polygon = _regular(sides, result.design.inside.length)
    assert free.area == pytest.approx(polygon.area, rel=1e-3)
    assert free.length == pytest.approx(polygon.length, rel=1e-3)
