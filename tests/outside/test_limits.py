"""Each shipped limit against the number as published, its source beside it.

Inches are turned into millimetres here, so that a slip in the data file cannot hide. What is common practice has no
outside to be held against and is listed as such.
"""

from __future__ import annotations

import pytest

from dieline.checks import shipped_limits

INCH = 25.4

PUBLISHED = [
    # Graphic Dies, "how small", graphicdies.com/how-small: rules 3/32 in apart for ejection rubber, .028 in touching;
    # slot from rule 3/32 in; punch with spring 3/32 in, side-out 1/32 in.
    ("knife_distance", 3 / 32 * INCH, "graphicdies.com"),
    ("knives_touching", 0.028 * INCH, "graphicdies.com"),
    ("slot_from_rule", 3 / 32 * INCH, "graphicdies.com"),
    ("punch_sprung", 3 / 32 * INCH, "graphicdies.com"),
    ("punch_side_out", 1 / 32 * INCH, "graphicdies.com"),
    # Rule maker's table, bj-bandsaw-site.pages.dev: 4 pt is .056 in.
    ("crease_rule_width", 0.056 * INCH, "bj-bandsaw"),
    # Craft die note, The Independent p. 13: bend radius of at least 5 mm.
    ("rule_bend_radius", 5.0, "The Independent"),
    # GOST 9142-2014: size a 4–10 mm, lap 20–50 mm, bevel at most 55°.
    ("slot_width_least", 4.0, "GOST 9142-2014"),
    ("slot_width_most", 10.0, "GOST 9142-2014"),
    ("lap_gost_least", 20.0, "GOST 9142-2014"),
    ("lap_gost_most", 50.0, "GOST 9142-2014"),
    ("lap_bevel_most", 55.0, "GOST 9142-2014"),
    # GOST 9142, extract: L:B at most 2.5:1, H:B 0.5:1 to 2:1, H under 100 mm by agreement.
    ("ratio_length_most", 2.5, "GOST 9142"),
    ("ratio_height_least", 0.5, "GOST 9142"),
    ("ratio_height_most", 2.0, "GOST 9142"),
    ("height_agreed", 100.0, "GOST 9142"),
    # Trade glossary, weldmaster.com: slots of 1/4 in (6 mm) and 3/8 in (9 mm).
    ("slot_trade_narrow", 6.0, "weldmaster.com"),
    ("slot_trade_wide", 9.0, "weldmaster.com"),
    # PMMI/FBA B155-TR2.1-2011 and TR2.2-2011 as quoted by the AICC: joint gap 1/8 to 1/2 in, given there as 3 and
    # 12.5 mm; panel +-1/16 in, given as 1.5 mm.
    ("joint_gap_least", 3.0, "PMMI/FBA B155-TR2.1-2011"),
    ("joint_gap_most", 12.5, "PMMI/FBA B155-TR2.1-2011"),
    ("square_most", 1.5, "PMMI/FBA B155-TR2.2-2011"),
    # Case design guide, pkgsolutions.co.uk/kb.
    ("lap_width_least", 25.0, "pkgsolutions.co.uk"),
    ("lap_width_preferred", 30.0, "pkgsolutions.co.uk"),
    ("lap_cut_most", 5.0, "pkgsolutions.co.uk"),
    ("extended_lap_depth", 305.0, "pkgsolutions.co.uk"),
    ("glued_mass_most", 30.0, "pkgsolutions.co.uk"),
    ("stitch_spacing_most", 55.0, "pkgsolutions.co.uk"),
    ("stitch_end_most", 25.0, "pkgsolutions.co.uk"),
    ("flap_gap_taped", 3.0, "pkgsolutions.co.uk"),
    ("flap_gap_meant", 6.0, "pkgsolutions.co.uk"),
    # Box tooling makers: stitched laps 35–40 mm; hand holes 30 x 90 mm.
    ("lap_stitched_least", 35.0, "konetool.com"),
    ("hand_hole_width_least", 90.0, "chinacharmsie.com"),
    ("hand_hole_height_least", 30.0, "chinacharmsie.com"),
    # NMFC Item 222 as quoted at ipack.com: glued lap of at least 1 1/4 in.
    ("lap_us_carrier_least", 1.25 * INCH, "Item 222"),
    # NIOSH, table 2.6: cut-out 115 x 38 mm, board at least 6 mm, front at most 400 mm, height at most 300 mm.
    ("hand_hole_width_best", 115.0, "NIOSH"),
    ("hand_hole_height_best", 38.0, "NIOSH"),
    ("hand_hole_board_least", 6.0, "NIOSH"),
    ("hand_hole_front_most", 400.0, "NIOSH"),
    ("hand_hole_case_height_most", 300.0, "NIOSH"),
    # Cal Poly, digitalcommons.calpoly.edu/it_fac/1: 10–40 % lost to vents and hand holes.
    ("opening_loss_low", 10.0, "calpoly"),
    ("opening_loss_high", 40.0, "calpoly"),
    # ASTM D6804, abstract: one person 40 to 50 lb, given as 18 and 23 kg.
    ("mass_for_one_low", 18.0, "ASTM D6804"),
    ("mass_for_one_high", 23.0, "ASTM D6804"),
    # Makers of packing machines, lantech.com and ipack.com: about 30 % lost by a case out of square.
    ("square_strength_loss", 30.0, "lantech.com"),
    # Die makers: 500 lb per inch of knife (prodies.com); 15 % for rubber, parallel rules within 1/4 in, holes up to
    # 3/8 in count as 2.5 in of rule (contechusa.com).
    ("cutting_force", 500.0, "prodies.com"),
    ("rubber_force", 15.0, "contechusa.com"),
    ("parallel_rules", INCH / 4, "contechusa.com"),
    ("small_hole", 3 / 8 * INCH, "contechusa.com"),
    ("small_hole_rule", 2.5 * INCH, "contechusa.com"),
]

COMMON_PRACTICE = {
    "inside_short",
    "crease_apart_factor",
    "crease_to_edge_least",
    "opening_margin_least",
    "waste_area_least",
}


@pytest.mark.parametrize(("name", "value", "source"), PUBLISHED, ids=[name for name, _, _ in PUBLISHED])
def test_limit_is_as_published(name: str, value: float, source: str) -> None:
    limit = shipped_limits()[name]
    assert limit.value == pytest.approx(value, abs=0.006)
    assert source in limit.source
    assert limit.confidence in ("standard", "trade practice", "doubtful")


def test_everything_else_is_called_common_practice() -> None:
    limits = shipped_limits()
    assert set(limits) == {name for name, _, _ in PUBLISHED} | COMMON_PRACTICE
    for name in COMMON_PRACTICE:
        assert limits[name].confidence == "common practice, no source"
        assert limits[name].by == "common practice"


@pytest.mark.parametrize(
    ("name", "pounds"), [("mass_for_one_low", 40.0), ("mass_for_one_high", 50.0)], ids=["40 lb", "50 lb"]
)
def test_masses_are_the_pounds_they_stand_for(name: str, pounds: float) -> None:
    """The published kilograms are rounded: 40 lb is 18.14 kg, 50 lb is 22.68 kg."""
    assert shipped_limits()[name].value == pytest.approx(pounds * 0.45359237, abs=0.35)
