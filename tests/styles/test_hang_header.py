"""The header of the five-panel carton, the ends of many-sided cartons: sizes, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from piece_trials import faults, named, proved, resized, with_fold

from dieline.errors import OptionError
from dieline_styles.five_panel_carton import STYLES
from dieline_styles.hexagon import STYLES as MANY_SIDED

CARTON = STYLES["five-panel-carton"]


@pytest.mark.parametrize("header", ["none", "single", "double"])
@pytest.mark.parametrize("lap_end", ["left", "right"])
@pytest.mark.parametrize("outer_on", ["front", "back"])
def test_it_closes_whatever_hangs_over_it(header: str, lap_end: str, outer_on: str) -> None:
    assert not proved(CARTON, "", "E", header=header, lap_end=lap_end, outer_on=outer_on).failures


def test_the_header_stands_above_the_closed_top_by_its_height() -> None:
    """From the inside floor: the inside height, three layers of the top, the header."""
    carton = proved(CARTON, "120x80x160", "E", header_height=50)
    fifth = carton.design.pieces[0].blank.by_name["fifth panel"]
    assert fifth.outline.bounds[3] == pytest.approx(160 + 3 * 1.5 + 50)


def test_the_hang_hole_is_a_slot_with_a_hump_on_it() -> None:
    """Slot 32 × 6 with round ends, and a half circle of 6 mm radius on it, in the middle of the header."""
    carton = proved(CARTON, "120x80x160", "E", hole_width=32, hole_height=12, header_height=40)
    (hole,) = carton.design.pieces[0].blank.by_name["fifth panel"].holes
    assert hole.area == pytest.approx((32 - 6) * 6 + math.pi * 9 + math.pi * 36 / 2)
    x0, y0, x1, y1 = hole.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((32, 12))
    assert (y0 + y1) / 2 == pytest.approx(160 + 3 * 1.5 + 20)


def test_the_hole_in_the_lining_is_the_mirror_image_in_the_crease() -> None:
    carton = proved(CARTON, "120x80x160", "E", header="double")
    panels = carton.design.pieces[0].blank.by_name
    (hole,), (other,) = panels["fifth panel"].holes, panels["header lining"].holes
    crease = panels["header lining"].outline.bounds[1]
    assert other.area == pytest.approx(hole.area)
    assert other.bounds[1] == pytest.approx(2 * crease - hole.bounds[3])
    assert other.bounds[0] == pytest.approx(hole.bounds[0])


def test_a_lining_folded_to_the_front_is_pressed_into_the_header() -> None:
    carton = proved(CARTON, "", "E", header="double")
    wrong = with_fold(carton.design, "header lining", lambda fold: replace(fold, angle=180.0, shift=1.5))
    assert "press" in faults(wrong, carton)


def test_a_fifth_panel_that_does_not_lie_on_the_back_is_found() -> None:
    carton = proved(CARTON, "", "E")
    assert "stay" in faults(with_fold(carton.design, "fifth panel", lambda fold: replace(fold, angle=88.0)), carton)


def test_a_hole_wider_than_the_header_is_refused() -> None:
    with pytest.raises(OptionError, match="board must stay beside it"):
        proved(CARTON, "120x80x160", "E", hole_width=115)


def test_dust_flaps_of_a_hexagon_that_are_too_long_meet() -> None:
    carton = proved(MANY_SIDED["hexagon-tuck"], "", "E")
    assert "runs into top dust flap 3" in faults(resized(carton.design, "top dust flap 3", (0, 0, 0, 40)), carton)


def test_a_tuck_wider_than_the_wall_strikes_the_next_one() -> None:
    carton = proved(MANY_SIDED["hexagon-tuck"], "", "E")
    assert "panel 3 runs into top tuck" in faults(resized(carton.design, "top tuck", (0, 0, 3, 0)), carton)


def test_waste_between_lid_and_dust_flap_can_be_cut() -> None:
    """The strip between the two is at least as wide as cutting rule bends: nothing is found narrower."""
    for code in ("hexagon-tuck", "hexagon-seal", "octagon-tuck"):
        carton = proved(MANY_SIDED[code], "", "E")
        assert not [finding for finding in carton.findings if finding.check == "narrow-slot"]
        assert named(carton, "top dust flap length") > 10
