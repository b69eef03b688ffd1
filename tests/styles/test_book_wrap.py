"""The book mailer 0473: sizes by their rules, its two locks, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, with_fold, with_panel

from dieline.errors import SizeError
from dieline.fold.states import lock_faults, motion_faults
from dieline.geometry.path import rectangle
from dieline.testing import conform
from dieline_styles.book_wrap import STYLES

MAILER = STYLES["0473"]


def test_it_passes_the_suite() -> None:
    assert conform(MAILER, sizes=60) > 40


@pytest.mark.parametrize("lock", ["tongue", "none"])
@pytest.mark.parametrize("hold", ["tabs", "none"])
@pytest.mark.parametrize(("size", "board"), [("300x220x40", "E"), ("400x300x80", "C"), ("250x180x60", "BC")])
def test_every_way_of_holding_it_shut_holds(lock: str, hold: str, size: str, board: str) -> None:
    result = proved(MAILER, size, board, lock=lock, bumper_hold=hold)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert {name for name, _ in result.folded.locks} == {
        *(("tongue",) if lock == "tongue" else ()),
        *(("left bumper tabs", "right bumper tabs") if hold == "tabs" else ()),
    }


def test_panels_have_the_sizes_of_their_rules() -> None:
    """Base L + 3t + 2w; bumper top w + t; with the tongue under it every cover lies a board higher."""
    plain = proved(MAILER, "300x220x40", "B", lock="none", bumper=25.0)
    assert named(plain, "base length") == 300 + 3 * 3 + 2 * 25
    assert named(plain, "bumper top") == 25 + 3
    assert named(plain, "bumper height") == 40
    assert named(plain, "front height") == 40 + 3
    assert named(plain, "back height") == 40 + 6
    assert named(plain, "cover width") == (220 + 3 + 66) / 2
    tongued = proved(MAILER, "300x220x40", "B", bumper=25.0)
    assert named(tongued, "bumper height") == 43
    assert named(tongued, "front height") == 46
    assert named(tongued, "back height") == 49


@pytest.mark.parametrize(("slope", "factor"), [(30, 4.0), (45, 2.414), (60, 1.732)])
def test_the_slot_is_as_wide_as_the_leaning_tongue_needs(slope: float, factor: float) -> None:
    """t / tan + t / sin of the slope: the way through a board, and the board itself cut at an angle; 1 mm of play."""
    result = proved(MAILER, board="C", tongue_slope=slope, tongue_length=8.0)
    assert result.failures == ()
    wide = named(result, "tongue slot width")
    assert wide == pytest.approx(4 / math.tan(math.radians(slope)) + 4 / math.sin(math.radians(slope)) + 1)
    if slope != 30:
        assert wide == pytest.approx(factor * 4 + 1, abs=0.01)
    assert named(result, "tongue neck") == pytest.approx(8 / math.sin(math.radians(slope)))


# ---------------------------------------------------------------------- trials that must fail


def test_a_slot_as_wide_as_the_board_pinches_the_tongue() -> None:
    result = proved(MAILER)
    cover = result.design.pieces[0].blank.by_name["inner cover"]
    (slot,) = cover.holes
    x0, y0, x1, y1 = slot.bounds
    middle = (y0 + y1) / 2
    narrow = replace(cover, holes=(rectangle(x0, middle - 2, x1, middle + 2),))
    design = with_panel(result.design, "inner cover", lambda _: narrow)
    assert "inner cover runs into tongue neck" in faults(design, result)


def test_a_tongue_that_does_not_reach_under_the_cover_does_not_hold() -> None:
    result = proved(MAILER)
    design = with_panel(
        result.design,
        "tongue",
        lambda panel: replace(panel, outline=rectangle(*panel.outline.bounds[:3], panel.outline.bounds[1] + 1.0)),
    )
    assert "lock 'tongue'" in " ".join(lock_faults(design, 4.0))
    assert list(lock_faults(result.design, 4.0)) == []


def test_tabs_in_slots_widened_inward_do_not_hold_the_bumper() -> None:
    result = proved(MAILER)

    def widened(panel):  # type: ignore[no-untyped-def]
        holes = []
        for hole in panel.holes:
            x0, y0, x1, y1 = hole.bounds
            holes.append(rectangle(x0 - 6, y0, x1 + 6, y1))
        return replace(panel, holes=tuple(holes))

    design = with_panel(result.design, "base", widened)
    text = " ".join(lock_faults(design, 4.0))
    assert "left bumper tabs" in text
    assert "right bumper tabs" in text


def test_without_lifting_the_bumper_its_tabs_cannot_come_down() -> None:
    """The tops must be lifted by asin(tab / width) first; rolled straight down, the tabs pass through the base."""
    result = proved(MAILER, board="BC", bumper=15.0)
    (motion,) = result.design.motions
    assert list(motion_faults(result.design, 7.0)) == []
    straight = tuple(
        replace(step, bends={name: (min(90.0, max(90.0, angle)), shift) for name, (angle, shift) in step.bends.items()})
        for step in motion.steps
        if "tabs" not in step.name and "tongue" not in step.name
    )
    told = " ".join(motion_faults(replace(result.design, motions=(replace(motion, steps=straight, samples=12),)), 7.0))
    assert "roll the left bumper in" in told
    assert "base" in told


def test_the_outer_cover_must_lie_a_board_over_the_inner_one() -> None:
    result = proved(MAILER, lock="none")
    design = with_fold(result.design, "outer cover", lambda fold: replace(fold, shift=-4.0, give=4.0))
    assert "inner cover runs into outer cover" in faults(design, result)


@pytest.mark.parametrize(
    ("size", "name"), [("300x50x40", "B"), ("300x220x8", "H"), ("60x220x80", "H"), ("35x220x20", "L")]
)
def test_what_cannot_be_is_refused(size: str, name: str) -> None:
    with pytest.raises(SizeError, match=f"size, {name}"):
        proved(MAILER, size, "C")
