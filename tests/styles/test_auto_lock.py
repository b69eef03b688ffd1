"""The auto-lock bottom: its movement, the glued flat box, its locks, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from bottom_trials import Bends, box, opened, overlaps, seen_from, spoiled
from carton_trials import named

from dieline.errors import OptionError, SizeError
from dieline.pipeline import Result
from dieline_styles.auto_lock import AutoLockEnd
from dieline_styles.auto_plan import AutoPlan, linkage
from dieline_styles.tube import Tube

SIZES = (
    ("60x40x120", "carton-0.4"),
    ("90x30x150", "carton-0.5"),
    ("50x50x80", "carton-0.8"),
    ("60x60x90", "carton-0.5"),
    ("150x100x200", "E"),
    ("200x200x200", "B"),
    ("400x300x300", "C"),
)
THIN = 0.02
"""mm. Board so thin that only the movement counts."""


@pytest.mark.parametrize("lap_end", ["left", "right"])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds(lap_end: str, size: str, board: str) -> None:
    """Erected, glued and flat, opened in full board from 60 degrees to the square, and both locks."""
    result = box("0706", size, board, lap_end=lap_end)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert len(result.folded.locks) == 2
    assert result.folded.states == ("glued flat",)


# ---------------------------------------------------------------- the movement


def test_the_linkage_at_its_ends() -> None:
    """Square: flaps at 90, glued corner flat with them. Flat: flaps up against the walls, corner folded back."""
    assert linkage(90.0) == pytest.approx((90.0, 0.0), abs=1e-6)
    assert linkage(0.0) == pytest.approx((135.0 + 45.0, 180.0))
    folds = [linkage(corner) for corner in range(0, 91, 5)]
    assert all(a[0] > b[0] and a[1] > b[1] for a, b in pairwise(folds))


def _pure(result: Result, corner: float, thickness: float = THIN) -> Bends:
    """All folds with the corner so far open, no board to be in the way: a corner's glue lies a board below its flap."""
    fold, back = linkage(corner)
    bends: dict[str, tuple[float, float]] = {
        "panel 1": (180.0 - corner, 0.0),
        "panel 3": (corner, 0.0),
        "panel 4": (180.0 - corner, 0.0),
        "lap": (corner, -thickness),
    }
    for number in (1, 3):
        bends[f"bottom main flap {number}"] = (fold, -thickness)
    for number in (2, 4):
        bends[f"bottom side flap {number}"] = (fold, 0.0)
        bends[f"bottom glued corner {number}"] = (-back, 0.0)
    return bends


@pytest.mark.parametrize(("size", "board"), SIZES)
def test_the_glue_stays_where_it_is_through_the_whole_movement(size: str, board: str) -> None:
    """With one crease line and exactly 45 degrees, flap and glued corner never slide on each other."""
    result = box("0706", size, board)
    zone = next(j for j in result.design.pieces[0].blank.joints if j.a == "bottom glued corner 2").zone
    places = [
        seen_from(result, _pure(result, corner), "bottom glued corner 2", "bottom main flap 1", list(zone.points))
        for corner in range(85, 0, -5)
    ]
    assert all(np.abs(place - places[0]).max() < 1e-9 for place in places)
    assert np.abs(places[0][:, 2] + THIN).max() < 1e-9


def _moving(result: Result) -> dict[int, set[frozenset[str]]]:
    """What runs into what at which angle, in thin board; the lap, which only lies on its wall, left out."""
    found = {
        corner: {pair for pair in overlaps(result, _pure(result, corner), THIN) if "lap" not in pair}
        for corner in range(85, 4, -5)
    }
    return {corner: pairs for corner, pairs in found.items() if pairs}


@pytest.mark.parametrize(("size", "board"), SIZES)
def test_nothing_is_in_the_way_from_the_square_to_flat(size: str, board: str) -> None:
    assert _moving(box("0706", size, board)) == {}


def _with(**changes: float) -> type[AutoLockEnd]:
    """The bottom with some sizes of its plan changed."""

    class Spoiled(AutoLockEnd):
        def plan(self, tube: Tube) -> AutoPlan:
            return replace(super().plan(tube), **changes)

    return Spoiled


def test_a_glued_edge_of_63_degrees_clears_the_wall_and_one_of_66_does_not() -> None:
    """The limit is the angle whose tangent is 2, 63.4 degrees: steeper, the flap hits the side wall near flat."""
    free, steep, steeper = (
        _moving(spoiled("0706", _with(edge=edge), "150x100x200", "carton-0.4")) for edge in (63.0, 66.0, 70.0)
    )
    assert free == {}
    assert {pair for pair in steep[5] if frozenset(("panel 2", "bottom main flap 1")) == pair}
    assert 10 <= max(steep) <= 25
    assert max(steeper) > max(steep)
    with pytest.raises(OptionError, match="runs into the wall as the box is folded flat"):
        box("0706", "150x100x200", "E", glued_edge=66)


def test_a_far_edge_beyond_45_degrees_hits_the_other_main_flap() -> None:
    """Side flap and free end of the other main flap rise alike, and meet in the bisector of their corner."""
    hits = frozenset(("bottom side flap 2", "bottom main flap 3"))
    for corner in (89.5, 89.0):
        good, bad = (
            spoiled("0706", _with(diagonal=diagonal), "150x100x200", "carton-0.5") for diagonal in (45.0, 47.0)
        )
        assert hits not in overlaps(good, _pure(good, corner), THIN)
        assert hits in overlaps(bad, _pure(bad, corner), THIN)


def test_stepped_creases_would_shift_the_glue_by_a_board() -> None:
    """From the finished box to the flat one; with all creases on one line it stays."""

    class Stepped(AutoLockEnd):
        def level(self, wall: int, long: bool) -> float | None:
            return 0.0 if long else 1.0

    t = 1.5
    one, stepped = (spoiled("0706", end, "150x100x200", "E") for end in (AutoLockEnd, Stepped))
    assert _slide(one) < 1e-9
    assert _slide(stepped) == pytest.approx(t)


def _slide(result: Result) -> float:
    """How far the glued corner slides on its flap between the finished and the flat box, mm."""
    piece, flat = result.design.pieces[0], result.design.states[0]
    finished = {fold.child: (fold.angle, fold.shift) for fold in piece.blank.folds}
    zone = next(j for j in piece.blank.joints if j.a == "bottom glued corner 2").zone
    ends = [
        seen_from(result, bends, "bottom glued corner 2", "bottom main flap 1", list(zone.points))[:, :2]
        for bends in (finished, flat.bends)
    ]
    return float(np.linalg.norm(ends[0] - ends[1], axis=1).max())


# ---------------------------------------------------------------- board of full thickness


@pytest.mark.parametrize(("size", "board"), SIZES)
def test_the_opening_keeps_the_glue_together_in_full_board(size: str, board: str) -> None:
    """At every position of the motion the glued corner lies right on its flap, and where it was glued."""
    result = box("0706", size, board)
    t = result.job.board.thickness
    zone = next(j for j in result.design.pieces[0].blank.joints if j.a == "bottom glued corner 2").zone
    places = [
        seen_from(result, bends, "bottom glued corner 2", "bottom main flap 1", list(zone.points))
        for bends in opened(result)
    ]
    for place in places:
        assert place[:, 2] == pytest.approx(-t)
        assert place[:, :2] == pytest.approx(places[-1][:, :2])


def test_with_the_shifts_of_the_finished_box_flap_and_side_flap_press_on_each_other() -> None:
    """So they cannot be kept: the creases must give the main flap half a board more while the box opens."""
    result = box("0706", "150x100x200", "E")
    press = frozenset(("bottom main flap 1", "bottom side flap 2"))
    good = opened(result)[2]
    assert press not in overlaps(result, good, 1.5)
    kept = {**good, "bottom main flap 1": (good["bottom main flap 1"][0], -0.75)}
    assert press in overlaps(result, kept, 1.5)


def test_the_flat_box_needs_the_room_of_its_five_layers() -> None:
    """Wall, side flap, glued corner, main flap, wall: four boards from wall to wall; with three they clash."""

    class Tight(AutoLockEnd):
        def flat_bends(self, tube: Tube) -> dict[str, tuple[float, float]]:
            t = self.order.thickness
            return super().flat_bends(tube) | dict.fromkeys(("panel 1", "panel 4"), (180.0, 3 * t))

    result = spoiled("0706", Tight, "150x100x200", "E")
    assert any(
        line.startswith("glued flat") and "bottom glued corner 2" in line and "runs into" in line
        for line in result.failures
    )


def test_the_lap_must_lean_by_45_degrees_at_the_bottom() -> None:
    """At the usual 15 it lies under a side flap in the flat box."""

    class Blunt(AutoLockEnd):
        def lap_room(self) -> tuple[float, float]:
            return max(2 * self.order.thickness, 1.0), 15.0

    result = spoiled("0706", Blunt, "150x100x200", "E")
    assert any("glued flat: lap runs into bottom side flap 4" in line for line in result.failures)


# ---------------------------------------------------------------- sizes and locks


def test_the_flaps_have_the_lengths_of_their_rules() -> None:
    """Main flap (B + t)/2 + nose, nose max(6, 4t, B/10); side flap 0.4 B; all creases half a board below the inside."""
    result = box("0706", "150x100x200", "E")
    assert named(result, "bottom main flap length") == pytest.approx(101.5 / 2 + 10.0)
    assert named(result, "bottom side flap length") == pytest.approx(40.0)
    blank = result.design.pieces[0].blank
    assert {blank.by_name[f"panel {n}"].outline.bounds[1] for n in (1, 2, 3, 4)} == {-1.5}
    shifts = {fold.child: fold.shift for fold in blank.folds}
    assert shifts["bottom main flap 1"] == -0.75
    assert shifts["bottom side flap 2"] == 0.75


@pytest.mark.parametrize(
    ("size", "board", "catch"),
    [("60x40x120", "carton-0.4", 5.0), ("150x100x200", "E", 7.75), ("400x300x300", "C", 24.0)],
)
def test_the_noses_catch_past_the_middle(size: str, board: str, catch: float) -> None:
    """Nose less the gap that the bases leave at the middle: max(1, 1.5 t)."""
    assert [value for _, value in box("0706", size, board).folded.locks] == pytest.approx([catch, catch])


def test_noses_that_end_at_the_middle_do_not_lock() -> None:
    result = spoiled("0706", _with(nose=1.0), "150x100x200", "E")
    assert [line for line in result.failures if line.startswith("lock 'bottom nose")]


def test_noses_lie_on_the_other_flap_and_bend_by_themselves() -> None:
    folds = {fold.child: fold for fold in box("0706", "150x100x200", "E").design.pieces[0].blank.folds}
    assert folds["bottom nose rise 1"].meaning is folds["bottom nose 1"].meaning is None
    assert folds["bottom nose rise 1"].angle == pytest.approx(math.degrees(math.asin(1 / 4)))


class _Unglued(AutoPlan):
    def zone(self) -> list[tuple[float, float]]:
        """Out to the corner of the box, where the main flap no longer covers it."""
        return [(self.t, self.relief), (self.t, self.glue), (self.glue - 1.0, self.glue), (self.relief, self.relief)]


def test_glue_where_the_main_flap_does_not_cover_is_found() -> None:
    class Spoiled(AutoLockEnd):
        def plan(self, tube: Tube) -> AutoPlan:
            plan = super().plan(tube)
            wide: dict[str, Any] = {field.name: getattr(plan, field.name) for field in fields(plan)}
            return _Unglued(**{**wide, "edge": 46.0})

    result = spoiled("0706", Spoiled, "60x40x120", "carton-0.4", corner_relief=1.6)
    assert any("glued joint of bottom glued corner 2" in line for line in result.failures)


@pytest.mark.parametrize(("share", "taken"), [(0.75, False), (0.8, False), (0.9, True), (1.0, True), (4.0, True)])
def test_l_must_be_at_least_nine_tenths_of_b(share: float, taken: bool) -> None:
    def drawn(breadth: float, board: str) -> Result:
        return box("0706", f"{share * breadth:g}x{breadth:g}x{breadth:g}", board)

    for breadth, board in ((60.0, "carton-0.5"), (240.0, "B")):
        if taken:
            assert drawn(breadth, board).failures == ()
        else:
            with pytest.raises(SizeError, match="make L the longer side"):
                drawn(breadth, board)


def test_a_box_too_low_to_fold_flat_is_refused() -> None:
    with pytest.raises(SizeError, match="must lie within the walls when the box is folded flat"):
        box("0706", "300x200x80", "E")
