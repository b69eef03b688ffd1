"""The octagonal box 0350 against classical geometry, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from piece_trials import faults, named, proved, with_fold

from dieline.errors import SizeError
from dieline.fold.slab import Slabs, stand_up
from dieline.testing import conform
from dieline_styles.octagon import STYLES
from dieline_styles.octagon_plan import HALF, Octagon

BOX = STYLES["0350"]

SILVER = 1.0 + math.sqrt(2.0)
"""Distance across a regular octagon's flats, in sides (the silver ratio)."""


def test_it_passes_the_suite() -> None:
    assert conform(BOX) > 40


def test_a_regular_octagon_has_its_classical_size() -> None:
    """Side s, across flats s (1 + sqrt 2), area 2 (1 + sqrt 2) s², all angles 135 degrees."""
    side = 100.0
    across = side * SILVER
    octagon = Octagon(0.0, 0.0, across, across, side / math.sqrt(2.0))
    assert octagon.sides == pytest.approx((side, side, side))
    assert shapely.Polygon(octagon.points).area == pytest.approx(2 * SILVER * side**2)
    ways = [np.subtract(b, a) / side for a, b in octagon.edges]
    turns = [float(np.degrees(np.arccos(a @ b))) for a, b in zip(ways, [*ways[1:], ways[0]], strict=True)]
    assert turns == pytest.approx([45.0] * 8)


@pytest.mark.parametrize("by", [3.0, 10.0])
def test_a_side_grows_by_twice_the_tangent_of_22_5_degrees(by: float) -> None:
    """Moved outward, each side is longer by tan 22.5 = sqrt 2 - 1 at either end: shapely's mitred offset agrees."""
    assert math.sqrt(2.0) - 1.0 == pytest.approx(HALF)
    octagon = Octagon(0.0, 0.0, 500.0, 300.0, 80.0)
    grown = octagon.grown(by)
    assert [b - a for a, b in zip(octagon.sides, grown.sides, strict=True)] == pytest.approx([2 * by * HALF] * 3)
    offset = shapely.Polygon(octagon.points).buffer(by, join_style="mitre", mitre_limit=10)
    assert offset.symmetric_difference(shapely.Polygon(grown.points)).area < 1e-6


def _inside(slabs: Slabs, piece: str) -> shapely.Geometry:
    """What is free between the walls of a piece, seen from above: the plane behind all inner faces."""
    free = shapely.box(-1000, -1000, 2000, 2000)
    for item in slabs.items:
        if item.name.startswith(piece) and item.name.endswith("wall"):
            normal = item.rotation[:2, 2]
            point = (item.offset + item.rotation[:, :2] @ item.flat[0])[:2] + normal * item.half
            along = np.array((-normal[1], normal[0])) * 5000
            corners = (point - along, point + along, point + along + normal * 5000, point - along + normal * 5000)
            free = free.intersection(shapely.Polygon(corners))
    return free


@pytest.mark.parametrize(("size", "corner"), [("400x400x300", None), ("600x400x300", 90.0), ("300x500x200", 60.0)])
@pytest.mark.parametrize(("board", "t"), [("E", 1.5), ("C", 4.0), ("BC", 7.0)])
def test_the_folded_walls_leave_exactly_the_octagon_free(size: str, corner: float | None, board: str, t: float) -> None:
    """Tube: L by B with the corners cut off. Trays: that, a board and half the clearance farther out all round."""
    result = proved(BOX, size, board, clearance=2.0, **({"corner": corner} if corner else {}))
    assert result.failures == ()
    length, breadth, _, _ = result.design.inside
    cut = result.order.number("corner")
    octagon = Octagon(0.0, 0.0, length, breadth, cut)
    slabs = stand_up(result.design, t)
    for piece, wanted in (("tube", octagon), ("tray 1", octagon.grown(t + 1)), ("tray 2", octagon.grown(t + 1))):
        apart = _inside(slabs, piece).symmetric_difference(shapely.Polygon(wanted.points))
        assert apart.area < 1e-6, piece


def test_panels_have_the_sizes_of_their_rules() -> None:
    """Inside side + t tan 22.5; the wall that carries the lap is half a board's diagonal shorter."""
    result = proved(BOX, "600x400x300", "C", corner=100.0)
    more = 4 * HALF
    assert named(result, "long panel width") == pytest.approx(400 + more)
    assert named(result, "short panel width") == pytest.approx(200 + more)
    assert named(result, "corner panel width") == pytest.approx(100 * math.sqrt(2) + more)
    assert named(result, "first panel width") == pytest.approx(400 + more - 2 * math.sqrt(2))
    assert named(result, "tray long edge") == pytest.approx(400 + more + (2 * 4 + 2) * HALF)
    assert named(result, "tray corner wall overhang") == pytest.approx(4 * math.sqrt(2))


def test_the_clearance_is_the_same_on_all_eight_sides_of_both_trays() -> None:
    result = proved(BOX, clearance=3.0)
    assert [measure for _, measure in result.folded.gauges] == pytest.approx([1.5] * 16)
    assert len({name for name, _ in result.folded.gauges}) == 16


# ---------------------------------------------------------------------- trials that must fail


def test_walls_folded_by_less_than_45_degrees_do_not_close() -> None:
    result = proved(BOX)
    design = with_fold(result.design, "back left wall", lambda fold: replace(fold, angle=44.0))
    assert "glued joint of tube: lap and tube: back left wall" in faults(design, result)


def test_a_lap_on_the_crease_of_a_wall_drawn_full_would_miss_by_half_a_board() -> None:
    result = proved(BOX)
    design = with_fold(result.design, "lap", lambda fold: replace(fold, shift=0.0))
    assert "the faces press 2 mm into each other" in faults(design, result)


def test_a_tray_lap_needs_the_overhang_of_its_wall() -> None:
    """Without the board's diagonal between wall and lap it would lie in the straight wall, not on it."""
    result = proved(BOX)
    design = with_fold(result.design, "front right lap 1", lambda fold: replace(fold, shift=-2.0), piece=1)
    assert "press 2 mm into each other" in faults(design, result)


@pytest.mark.parametrize(
    ("size", "why"),
    [
        ("50x50x300", "a corner wall must carry the joint"),
        ("400x400x300/15", "cut at 45"),
        ("400x400x90/45", "5 mm apart"),
    ],
)
def test_what_cannot_be_is_refused(size: str, why: str) -> None:
    with pytest.raises(SizeError, match=why):
        proved(BOX, size, "C")
