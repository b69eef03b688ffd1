"""Pads, flat and creased: their sizes from the box that they go into, and trials that must fail."""

from __future__ import annotations

import pytest
from piece_trials import faults, named, proved, resized

from dieline.errors import SizeError
from dieline_styles.pad import STYLES

PAD, CREASED = STYLES["0900"], STYLES["creased-pad"]


@pytest.mark.parametrize(("lies", "sides"), [("bottom", (380, 280)), ("front", (380, 150)), ("end", (280, 150))])
def test_a_pad_is_smaller_than_the_face_it_covers_by_its_play(lies: str, sides: tuple[float, float]) -> None:
    result = proved(PAD, "380x280x150", lies=lies, play=3)
    assert not result.failures
    assert result.design.pieces[0].blank.size == pytest.approx([side - 3 for side in sides])


def test_a_pad_larger_than_the_box_is_found() -> None:
    result = proved(PAD)
    assert "2 mm too large along L" in faults(resized(result.design, "pad", (0, 0, 3, 0)), result)


@pytest.mark.parametrize("creases", [1, 2, 3])
@pytest.mark.parametrize("along", ["L", "B"])
def test_a_creased_pad_measures_the_box_less_its_play_over_its_outer_faces(creases: int, along: str) -> None:
    """One, two or three creases: the strip is as long as its panels, the gauges prove what they add up to."""
    result = proved(CREASED, "380x280x150", creases=creases, along=along)
    assert not result.failures
    blank = result.design.pieces[0].blank
    assert len(blank.folds) == creases
    assert blank.size[0] == pytest.approx((380 if along == "L" else 280) - 2)
    panels = {name: y1 - y0 for name, (_, y0, _, y1) in ((p.name, p.outline.bounds) for p in blank.panels)}
    assert blank.size[1] == pytest.approx(sum(panels.values()))


def test_a_front_as_high_as_the_back_runs_into_the_top() -> None:
    result = proved(CREASED, creases=3)
    assert "front runs into top" in faults(resized(result.design, "front", (0, 1.5, 0, 0)), result)


def test_a_top_deeper_than_the_box_is_found() -> None:
    result = proved(CREASED, creases=3)
    assert "2 mm too large along B" in faults(resized(result.design, "top", (0, 0, 0, 3)), result)


def test_a_box_lower_than_what_must_stand_in_it_is_refused() -> None:
    with pytest.raises(SizeError, match="must be 10 mm high"):
        proved(CREASED, "380x280x20")


def test_a_box_shallower_than_the_pad_is_thick_is_refused() -> None:
    with pytest.raises(SizeError, match="as deep as the pad is thick"):
        proved(PAD, "380x280x3")


def test_four_sides_round_the_goods_name_what_they_need() -> None:
    """The derivation of every size is recorded."""
    result = proved(CREASED, creases=3)
    assert named(result, "back height") - named(result, "front height") == pytest.approx(4 / 2 + 0.5)
