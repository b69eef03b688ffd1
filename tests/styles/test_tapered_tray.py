"""The tray with leaning walls against the classical unfolded frustum, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from carton_trials import faults, points_of, reshaped
from numpy.typing import NDArray
from tray_trials import BOARDS, named, slab, tray

from dieline.board import find_board
from dieline.errors import InputError, OptionError
from dieline.sizing import House
from dieline.style import Size
from dieline.testing import conform
from dieline_styles.tapered_tray import TAPERED_TRAY

Vector = NDArray[np.float64]

PAIRS = [(0.0, 0.0), (10.0, 10.0), (5.0, 20.0), (20.0, 5.0), (30.0, 30.0), (0.0, 25.0)]
"""Leans of front and back, and of left and right, degrees."""


def test_the_style_passes_the_suite() -> None:
    assert conform(TAPERED_TRAY) > 40


@pytest.mark.parametrize("board", BOARDS)
@pytest.mark.parametrize("lean", PAIRS)
@pytest.mark.parametrize("on", ["L", "B"])
@pytest.mark.parametrize("size", ["300x200x60", "200x150x100"])
def test_every_tried_size_holds(size: str, on: str, lean: tuple[float, float], board: str) -> None:
    """Inside exact at the floor; nothing stands above the rim."""
    result = tray(TAPERED_TRAY, size, board, lap_on=on, lean_front=lean[0], lean_side=lean[1])
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert result.folded.outside[2] == pytest.approx(result.job.size.height + result.job.board.thickness)


# ---------------------------------------------------------------------- classical geometry


def _frustum(size: Size, front: float, side: float) -> tuple[Vector, Vector]:
    """The four corners of the floor and of the mouth, front left first, going round to the right, (4, 3)."""
    length, breadth, height, _ = size
    dx, dy = height * math.tan(math.radians(side)), height * math.tan(math.radians(front))
    floor = np.array([(0, 0, 0), (length, 0, 0), (length, breadth, 0), (0, breadth, 0)], dtype=float)
    out = np.array([(-dx, -dy, height), (dx, -dy, height), (dx, dy, height), (-dx, dy, height)])
    return floor, floor + out


def _angle(a: Vector, b: Vector) -> float:
    return math.degrees(math.acos(float(a @ b) / float(np.linalg.norm(a) * np.linalg.norm(b))))


@pytest.mark.parametrize("lean", PAIRS)
def test_without_board_the_blank_is_the_unfolded_frustum(lean: tuple[float, float]) -> None:
    """Widths at the mouth, slant heights and the gap at each corner, from distances between corners in space."""
    size = Size(300.0, 200.0, 60.0)
    floor, mouth = _frustum(size, *lean)
    c = find_board("C")
    paper = replace(c, name="paper", design=replace(c.design, value=1e-7))
    options = {"lean_front": lean[0], "lean_side": lean[1], "corner_play": 0.25}
    style = replace(TAPERED_TRAY, thickness=(0.0, 1.0))
    blank = style.build(style.order(size, paper, options)).pieces[0].blank
    front, end = blank.by_name["front wall"].outline.points, blank.by_name["left end"].outline.points
    slant = np.linalg.norm((mouth[0] + mouth[1]) / 2 - (floor[0] + floor[1]) / 2)
    assert np.ptp([y for _, y in front]) == pytest.approx(slant, abs=1e-5)
    low = min(y for _, y in front)
    assert np.ptp([x for x, y in front if y < low + 1e-6]) == pytest.approx(
        float(np.linalg.norm(mouth[1] - mouth[0])), abs=1e-5
    )
    far = min(x for x, _ in end)
    wide = np.ptp([y for x, y in end if x < far + 1e-6])
    play = 2 * 0.25 / math.cos(math.radians(lean[1]))
    assert wide + play == pytest.approx(float(np.linalg.norm(mouth[3] - mouth[0])), abs=1e-5)
    # The corner of the blank stays open by what the three angles at the corner of the floor lack of a full turn.
    edge = mouth[0] - floor[0]
    gap = 360.0 - 90.0 - _angle(edge, floor[1] - floor[0]) - _angle(edge, floor[3] - floor[0])
    lap = next(fold for fold in blank.folds if fold.child == "front left lap").line
    (x0, y0), (x1, y1) = sorted(lap, key=lambda point: -point[1])
    crease = math.degrees(math.atan2(y0 - y1, x0 - x1))  # upright would be 90
    rim, foot = (next(p for p in end if abs(p[0] - x) < 1e-6 and p[1] < 0) for x in (far, max(x for x, _ in end)))
    side = math.degrees(math.atan2(foot[1] - rim[1], foot[0] - rim[0]))
    assert crease - side == pytest.approx(gap, abs=1e-4)


@pytest.mark.parametrize("lean", PAIRS)
@pytest.mark.parametrize("board", ["E", "BC"])
def test_folded_from_board_its_walls_lie_in_the_planes_of_the_frustum(lean: tuple[float, float], board: str) -> None:
    """Floor and mouth as ordered: the inner faces of the four walls go through the frustum's faces."""
    result = tray(TAPERED_TRAY, board=board, lean_front=lean[0], lean_side=lean[1])
    floor, mouth = _frustum(result.job.size, *lean)
    for name, corner in (("front wall", 0), ("right end", 1), ("back wall", 2), ("left end", 3)):
        a, b, c = floor[corner], floor[(corner + 1) % 4], mouth[corner]
        normal = np.cross(b - a, c - a)
        wall = slab(result, name)
        inner = wall.corners[len(wall.flat) :]
        assert (inner - a) @ normal / np.linalg.norm(normal) == pytest.approx(np.zeros(len(inner)), abs=1e-6)
        assert inner[:, 2].max() == pytest.approx(60.0)


# ---------------------------------------------------------------------- sizes


def test_laps_turn_by_the_angle_between_their_walls() -> None:
    """Less than a right angle, since the walls open out: its cosine is the product of the sines of the leans."""
    result = tray(TAPERED_TRAY, lean_front=20.0, lean_side=30.0)
    fold = next(fold for fold in result.design.pieces[0].blank.folds if fold.child == "front left lap")
    assert math.cos(math.radians(fold.angle)) == pytest.approx(math.sin(math.radians(20)) * 0.5)
    assert named(result, "end height") == pytest.approx(
        60 / math.cos(math.radians(30)) + 2 * math.tan(math.radians(30))
    )


def test_rounding_to_the_plants_step_still_closes() -> None:
    for board in ("carton-0.7", "F", "C-inch"):
        assert tray(TAPERED_TRAY, "303.3x201.7x61.1", board, House(step=0.5), lean_side=17.0).failures == ()


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OptionError, match="0 to 30 deg"):
        tray(TAPERED_TRAY, lean_side=31.0)
    with pytest.raises(InputError, match=r"H.*lean together"):
        tray(TAPERED_TRAY, "300x200x20", lean_side=30.0, lean_front=30.0)


# ---------------------------------------------------------------------- trials that must fail


def test_a_lap_with_a_square_foot_would_be_cut_into_the_end_beside_it() -> None:
    """In the flat the end spreads as it goes out: the lap's foot must lean away from it."""
    result = tray(TAPERED_TRAY, lean_front=25.0, lean_side=25.0)
    points = sorted(points_of(result, "front left lap"), key=lambda point: -point[1])
    hinge, tip = points[0], points[1]
    design = reshaped(result.design, "front left lap", {("y", tip[1]): hinge[1] + 6.0})
    piece = design.pieces[0]
    import shapely

    lap, end = (shapely.Polygon(piece.blank.by_name[name].outline.points) for name in ("front left lap", "left end"))
    plain = shapely.Polygon(points_of(result, "front left lap"))
    assert lap.intersection(end).area > 1.0
    assert plain.intersection(end).area == 0.0


def test_laps_folded_square_do_not_lie_on_the_ends() -> None:
    result = tray(TAPERED_TRAY, lean_front=20.0, lean_side=20.0)
    piece = result.design.pieces[0]
    folds = [replace(fold, angle=90.0) if fold.child.endswith("lap") else fold for fold in piece.blank.folds]
    square = replace(result.design, pieces=(replace(piece, blank=piece.blank.with_folds(folds)),))
    assert "press" in faults(square, result)


def test_an_end_cut_for_upright_walls_strikes_them() -> None:
    """Its upper corners out by what the lean of the walls would be at half the height again."""
    result = tray(TAPERED_TRAY, lean_front=20.0, lean_side=20.0)
    edge = max(y for _, y in points_of(result, "left end"))
    design = reshaped(result.design, "left end", {("y", edge): edge + 4.0, ("y", -edge): -edge - 4.0})
    assert "left end runs into" in faults(design, result)
