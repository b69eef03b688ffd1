"""The gable top: classical geometry, loops that close, the seam, the handle's lock, and trials that must fail."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from bottom_trials import Bends, box, opened, poses_of
from carton_trials import faults, named

from dieline.board import find_board
from dieline.drawing.strokes import StrokeRole
from dieline.errors import OptionError, SizeError
from dieline.job import Job
from dieline.linetypes import Meaning
from dieline.pipeline import Result, run
from dieline.style.design import Design
from dieline.style.order import Order
from dieline.units import parse_size
from dieline_styles.carton import carton_design
from dieline_styles.end import End
from dieline_styles.gable import GableEnd
from dieline_styles.gable_plan import GablePlan, gable_linkage
from dieline_styles.ready_glued import STYLES

SIZES = (
    ("60x40x120", "carton-0.4"),
    ("90x30x150", "carton-0.5"),
    ("60x60x90", "carton-0.5"),
    ("150x100x200", "E"),
    ("200x200x200", "B"),
    ("400x300x300", "C"),
)


@pytest.mark.parametrize("lap_end", ["left", "right"])
@pytest.mark.parametrize("slope", [30, 45, 60, 65])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds(lap_end: str, slope: float, size: str, board: str) -> None:
    """Erected, glued flat, while it closes, every loop shut, the seam glued; the inside is exact to the eaves."""
    result = box("gable-carton", size, board, lap_end=lap_end, roof_slope=slope, bottom="seal")
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size


@pytest.mark.parametrize("bottom", ["auto", "snap", "seal"])
def test_every_bottom_goes_with_it(bottom: str) -> None:
    assert box("gable-carton", "200x130x130", "E", bottom=bottom).failures == ()


# ---------------------------------------------------------------- classical geometry


@pytest.mark.parametrize("slope", [30.0, 45.0, 60.0])
def test_in_board_without_thickness_the_gusset_comes_to_rest_on_the_ridge(slope: float) -> None:
    """Edge from a corner to the ridge, half of B in from the end: by Pythagoras in the box, and in the blank."""
    breadth = 120.0
    rise = breadth / 2 * math.tan(math.radians(slope))
    in_the_box = math.sqrt((breadth / 2) ** 2 + (breadth / 2) ** 2 + rise**2)
    roof = breadth / 2 / math.cos(math.radians(slope))
    plan = GablePlan(broad=breadth, t=1e-9, c=0.0, slope=slope, roof=roof, fin=10.0, relief=1e-9)
    assert math.hypot(plan.crease_at(roof), roof) == pytest.approx(in_the_box)
    assert plan.crease_at(roof) == pytest.approx(breadth / 2)


def test_the_roof_is_half_of_b_over_the_cosine_and_the_ridge_as_high_as_it_rises() -> None:
    result = box("gable-carton", "150x100x200", "E", roof_slope=40, handle="none", bottom="seal")
    assert named(result, "top roof slope") == pytest.approx(50 / math.cos(math.radians(40)))
    poses = poses_of(result, _finished(result))
    rotation, offset = poses["top roof 1"]
    blank = result.design.pieces[0].blank
    tops = [rotation @ (x, y, 0.0) + offset for x, y in blank.by_name["top roof 1"].outline.points]
    eaves, ridge = min(point[2] for point in tops), max(point[2] for point in tops)
    assert ridge - eaves == pytest.approx(50 * math.tan(math.radians(40)))


def test_the_gussets_crease_lies_lower_than_the_roofs_by_a_boards_cosine() -> None:
    blank = box("gable-carton", "150x100x200", "E").design.pieces[0].blank
    tops = [blank.by_name[f"panel {number}"].outline.bounds[3] for number in (1, 2, 3, 4)]
    assert tops[0] == tops[2]
    assert tops[1] == tops[3] == pytest.approx(tops[0] - 1.5 * math.cos(math.radians(45)))


@pytest.mark.parametrize("slope", [30.0, 45.0, 65.0])
def test_the_linkage_at_its_ends(slope: float) -> None:
    """Upright: webs square to the roofs, flat with their gussets. Down: gussets as far in as the roofs."""
    assert gable_linkage(0.0, slope) == pytest.approx((0.0, 90.0, 0.0), abs=1e-6)
    gusset, web, back = gable_linkage(90.0 - slope, slope)
    assert gusset == pytest.approx(90.0 - slope)
    assert web == pytest.approx(180.0)
    assert math.cos(math.radians(back)) == pytest.approx(-(math.cos(math.radians(slope)) ** 2))


# ---------------------------------------------------------------- loops


def _finished(result: Result) -> dict[str, tuple[float, float]]:
    return {fold.child: (fold.angle, fold.shift) for fold in result.design.pieces[0].blank.folds}


def _gape(result: Result, bends: Bends) -> float:
    """How far apart web and gusset bring the edge between them, at the worst, mm."""
    poses = poses_of(result, bends)
    worst = 0.0
    for seam in result.design.pieces[0].folded.seams:
        edge = np.array(seam.line)
        one, other = (edge @ poses[name][0][:, :2].T + poses[name][1] for name in (seam.a, seam.b))
        worst = max(worst, float(np.linalg.norm(one - other, axis=1).max()))
    return worst


@pytest.mark.parametrize("slope", [30, 45, 60])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_web_and_gusset_meet_within_the_bend_of_one_board(slope: float, size: str, board: str) -> None:
    """The crease between them folds far back; in the bend that takes, both ends of it differ by under a board."""
    result = box("gable-carton", size, board, roof_slope=slope, bottom="seal")
    assert _gape(result, _finished(result)) < 0.75 * result.job.board.thickness


def test_the_loops_stay_closed_all_the_way_down() -> None:
    result = box("gable-carton", "200x130x130", "carton-0.4", bottom="seal", handle="none")
    assert len(result.design.motions) == 2
    assert all(_gape(result, bends) < 1.5 * 0.4 for bends in opened(result, 1))


def _level(order: Order) -> Design:
    class Level(GableEnd):
        def level(self, wall: int, long: bool) -> float | None:
            return super().level(wall, False)

    return carton_design(order, End(top=False), Level(order))


def _run(build: Callable[[Order], Design], size: str, board: str) -> Result:
    style = replace(STYLES["gable-carton"], build=build, long_first=False)
    return run(Job(style=style.code, size=parse_size(size), board=find_board(board)), style)


def test_with_all_creases_on_one_line_web_and_gusset_do_not_meet() -> None:
    result = _run(_level, "150x100x200", "E")
    assert any("does not close" in line for line in result.failures)
    stepped = box("gable-carton", "150x100x200", "E")
    assert _gape(result, _finished(result)) > 1.25 * _gape(stepped, _finished(stepped))


# ---------------------------------------------------------------- seam


def test_at_the_joint_the_web_is_glued_below_a_lap_of_the_roof() -> None:
    """The lap makes a layer more there: the web lies two boards below the roof, all others one."""
    result = box("gable-carton", "150x100x200", "E", bottom="seal")
    joints = {(joint.a, joint.b) for joint in result.design.pieces[0].blank.joints}
    assert ("top roof lap", "top web 1-4") in joints
    poses = poses_of(result, _finished(result))
    normal, offset = poses["top roof 1"][0][:, 2], poses["top roof 1"][1]
    for web, boards in (("top web 1-2", 1), ("top roof lap", 1), ("top web 1-4", 2)):
        outline = result.design.pieces[0].blank.by_name[web].outline.points
        places = [poses[web][0] @ (x, y, 0.0) + poses[web][1] for x, y in outline]
        assert [float((place - offset) @ normal) for place in places] == pytest.approx([boards * 1.5] * len(places))


def test_a_web_at_the_joint_that_lay_as_high_as_the_others_would_press_into_the_lap() -> None:
    result = box("gable-carton", "150x100x200", "E", bottom="seal")
    piece = result.design.pieces[0]
    lifted = piece.blank.with_folds(
        replace(fold, shift=fold.shift - 1.5) if fold.child == "top web 1-4" else fold for fold in piece.blank.folds
    )
    spoiled = replace(result.design, pieces=(replace(piece, blank=lifted),))
    assert "glued joint of top roof lap and top web 1-4" in faults(spoiled, result)


# ---------------------------------------------------------------- handle


def test_the_flap_of_one_fin_locks_the_other() -> None:
    result = box("gable-carton", "200x130x130", "E")
    catches = dict(result.folded.locks)
    assert catches["top handle flap"] == pytest.approx(20.0 - 2 * 1.5)
    blank = result.design.pieces[0].blank
    meanings = {fold.child: fold.meaning for fold in blank.folds}
    assert meanings["top handle strip"] is Meaning.CREASE
    assert meanings["top handle flap"] is None
    assert not blank.by_name["top fin 1"].holes
    assert len(blank.by_name["top fin 3"].holes) == 1


def test_a_flap_that_is_only_pushed_through_does_not_lock() -> None:
    result = box("gable-carton", "200x130x130", "E")
    piece = result.design.pieces[0]
    straight = piece.blank.with_folds(
        replace(fold, angle=0.0) if fold.child == "top handle flap" else fold for fold in piece.blank.folds
    )
    spoiled = replace(result.design, pieces=(replace(piece, blank=straight),), motions=())
    assert "lock 'top handle flap': top handle flap does not strike top fin 3" in faults(spoiled, result)


@pytest.mark.parametrize(("handle", "holes"), [("none", 0), ("hole", 2), ("flap", 1)])
def test_fins_as_asked(handle: str, holes: int) -> None:
    result = box("gable-carton", "200x130x130", "E", handle=handle)
    blank = result.design.pieces[0].blank
    assert result.failures == ()
    assert sum(len(blank.by_name[f"top fin {number}"].holes) for number in (1, 3)) == holes


def test_creases_that_fold_away_from_the_inside_are_made_from_the_other_side() -> None:
    blank = box("gable-carton", "200x130x130", "E").design.pieces[0].blank
    back = {fold.child for fold in blank.folds if fold.meaning is Meaning.CREASE_BACK}
    assert back == {"top fin 1", "top fin 3", "top web 1-4", "bottom glued corner 2", "bottom glued corner 4"}
    assert {seam.meaning for seam in blank.seams} == {Meaning.CREASE_BACK}
    plain = box("gable-carton", "200x130x130", "E", back_crease="crease").design.pieces[0].blank
    assert Meaning.CREASE_BACK not in {fold.meaning for fold in plain.folds}


# ---------------------------------------------------------------- corners


def test_in_carton_board_the_creases_meet_in_the_corners() -> None:
    """Nothing is cut out there; only what is folded in the proof leaves the corner, where the board gives, away."""
    result = box("gable-carton", "200x130x130", "carton-0.5")
    piece = result.design.pieces[0]
    assert not [stroke for stroke in result.drawings[0].strokes if stroke.role is StrokeRole.GAP]
    assert piece.model is not None
    left_out = piece.blank.area - piece.model.area
    assert 0 < left_out < 3 * (2 * 0.5) ** 2
    assert piece.blank.folds == piece.model.folds
    assert piece.blank.joints == piece.model.joints


def test_in_corrugated_board_holes_take_what_would_be_crushed() -> None:
    """Each as large as is stripped without trouble: 30 mm²."""
    result = box("gable-carton", "200x130x130", "E")
    gaps = [stroke.path.area for stroke in result.drawings[0].strokes if stroke.role is StrokeRole.GAP]
    assert len(gaps) == 3
    assert all(abs(area) >= 30.0 for area in gaps)
    assert result.design.pieces[0].model is None
    assert not [finding for finding in result.findings if finding.check == "small-waste"]


@pytest.mark.parametrize("corners", ["closed", "hole"])
@pytest.mark.parametrize("slope", [30, 65])
def test_either_way_holds(corners: str, slope: float) -> None:
    for size, board in SIZES:
        assert box("gable-carton", size, board, roof_corners=corners, roof_slope=slope, bottom="seal").failures == ()


# ---------------------------------------------------------------- limits


def test_l_must_be_at_least_b() -> None:
    """The two gussets reach half of B in from each end, and would meet under the ridge."""
    with pytest.raises(SizeError):
        box("gable-carton", "190x200x200", "B")

    def narrow(order: Order) -> Design:
        order.need = lambda *_: None  # type: ignore[method-assign]  # to see what the refusal saves us from
        return carton_design(order, End(top=False), GableEnd(order))

    result = _run(narrow, "190x200x200", "B")
    assert any("top gusset 2 runs into top gusset 4" in line for line in result.failures)


def test_slopes_beyond_what_was_tried_are_refused() -> None:
    with pytest.raises(OptionError, match="30 to 65 deg"):
        box("gable-carton", "200x130x130", "E", roof_slope=70)


def test_a_hand_hole_wider_than_the_fin_is_refused() -> None:
    with pytest.raises(OptionError, match="must keep 15 mm at either end"):
        box("gable-carton", "200x130x130", "E", handle_width=180)
