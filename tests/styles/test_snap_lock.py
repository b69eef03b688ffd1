"""The snap-lock bottom: its dimensions, what it holds by, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest
from bottom_trials import box, spoiled
from carton_trials import SIZES, named

from dieline.errors import OptionError, SizeError
from dieline.geometry.arc import Point
from dieline_styles.snap_lock import SnapLockEnd
from dieline_styles.snap_plan import SnapPlan
from dieline_styles.tube import Tube


@pytest.mark.parametrize("creases", ["offset", "one"])
@pytest.mark.parametrize("lap_end", ["left", "right"])
@pytest.mark.parametrize(("size", "board"), SIZES)
def test_every_tried_size_holds(creases: str, lap_end: str, size: str, board: str) -> None:
    """Erected, glued flat, while it is put together, and every lock opened; the inside is exact."""
    result = box("0215", size, board, creases=creases, lap_end=lap_end)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert len(result.folded.locks) == 7


def test_each_crease_lies_a_board_below_the_one_before() -> None:
    """Legs, side flaps, tongue's flap: layers 0, 1, 2; so the walls are H + 1, 2, 3 boards less the lid's half."""
    blank = box("0216", "300x200x250", "B").design.pieces[0].blank
    lows = [blank.by_name[f"panel {number}"].outline.bounds[1] for number in (1, 2, 3, 4)]
    assert [low - lows[0] for low in lows] == pytest.approx([0.0, -3.0, -6.0, -3.0])


def test_the_flaps_have_the_lengths_of_their_rules() -> None:
    """150 × 100, t 1.5, c 0.5: hole max(8t, 0.1B), rim (B - hole)/2, noses L/4 - c + 0.15 L, catch 0.2 B."""
    result = box("0215", "150x100x200", "E")
    assert named(result, "bottom tongue width") == 75.0
    assert named(result, "bottom tongue hole") == 12.0
    assert named(result, "bottom leg flap, middle") == pytest.approx(44.0 + 0.75)
    assert named(result, "bottom leg flap, legs") == pytest.approx(44.0 + 12.0 + 20.0 + 0.75)
    assert named(result, "bottom side flap length") == pytest.approx(37.5 - 0.5 + 22.5 + 0.75)
    slope = math.hypot(12.0 - 1.5, 3 * 1.5)
    assert named(result, "bottom tongue flap length") == pytest.approx(100 - 56 + 0.75 + slope + 1.5 + 20.0)


@pytest.mark.parametrize(("size", "board", "catch"), [("60x40x120", "carton-0.4", 8.0), ("300x200x250", "B", 40.0)])
def test_the_tongue_catches_as_far_as_asked(size: str, board: str, catch: float) -> None:
    locks = dict(box("0215", size, board).folded.locks)
    assert locks["bottom tongue on bottom leg flap 1"] == pytest.approx(catch)
    assert dict(box("0215", size, board, tongue_catch=7).folded.locks)[
        "bottom tongue on bottom leg flap 1"
    ] == pytest.approx(7.0)


def test_the_tongue_rises_by_three_boards_and_is_not_creased() -> None:
    folds = {fold.child: fold for fold in box("0215", "150x100x200", "E").design.pieces[0].blank.folds}
    neck, tongue = folds["bottom tongue neck"], folds["bottom tongue"]
    assert neck.meaning is tongue.meaning is None
    assert neck.angle == -tongue.angle == pytest.approx(math.degrees(math.atan2(4.5, 10.5)))


def test_the_locks_hold_in_a_circle() -> None:
    """Each flap rests on the next one, and the last on the first; the tongue's flap cannot be pushed in either."""
    locks = box("0215", "150x100x200", "E").design.locks
    strikes = {lock.strikes for lock in locks}
    assert ("bottom tongue", "bottom leg flap 1") in strikes
    assert ("bottom leg flap 1", "bottom side flap 2") in strikes
    assert ("bottom side flap 2", "bottom tongue flap 3") in strikes
    inward = [lock for lock in locks if min(lock.opens.values()) < 0]
    assert {lock.strikes for lock in inward} == {
        (f"bottom side flap {number}", "bottom tongue flap 3") for number in (2, 4)
    }


def _with(**changes: float) -> type[SnapLockEnd]:
    """The bottom with some sizes of its plan changed."""

    class Spoiled(SnapLockEnd):
        def plan(self, tube: Tube) -> SnapPlan:
            return replace(super().plan(tube), **changes)

    return Spoiled


def _as(kind: type[SnapPlan]) -> type[SnapLockEnd]:
    """The bottom with some shapes of its plan changed."""

    class Spoiled(SnapLockEnd):
        def plan(self, tube: Tube) -> SnapPlan:
            plan = super().plan(tube)
            return kind(**{field.name: getattr(plan, field.name) for field in fields(plan)})

    return Spoiled


class _DeepSides(SnapPlan):
    @property
    def deep(self) -> float:
        return self.xa + 1.0


class _CutLegs(SnapPlan):
    def legs(self) -> list[Point]:
        return SnapPlan.legs(replace(self, rim=self.rim - self.catch - 1.0))


def test_side_flaps_that_meet_in_the_middle_are_found() -> None:
    result = spoiled("0215", _with(nose=75.5), "150x100x200", "E")
    assert any("bottom side flap 2 runs into bottom side flap 4" in line for line in result.failures)


def test_side_flaps_in_the_way_of_the_tongue_are_found() -> None:
    result = spoiled("0215", _as(_DeepSides), "150x100x200", "E")
    assert any("bottom side flap 2 runs into bottom tongue neck" in line for line in result.failures)


def test_legs_that_are_too_long_run_into_the_wall() -> None:
    result = spoiled("0215", _with(leg_end=100.5), "150x100x200", "E")
    assert any("panel 3 runs into bottom leg flap 1" in line for line in result.failures)


def test_a_tongue_without_board_below_it_does_not_lock_and_leaves_the_bottom_open() -> None:
    result = spoiled("0215", _as(_CutLegs), "150x100x200", "E")
    assert any(line.startswith("lock 'bottom tongue on bottom leg flap 1'") for line in result.failures)
    assert any(line.startswith("the bottom stays open") for line in result.failures)


def test_a_box_too_narrow_or_too_long_is_refused() -> None:
    with pytest.raises(SizeError, match="legs beside the tongue must be 15 mm wide"):
        box("0215", "60x60x100", "E")
    with pytest.raises(SizeError, match="more than five times B"):
        box("0215", "400x60x100", "E")
    with pytest.raises(SizeError, match="the opening for the tongue needs board on either side"):
        box("0215", "150x40x100", "C")
    with pytest.raises(OptionError, match="bends too steeply"):
        box("0215", "300x200x250", "B", tongue_hole=20)
