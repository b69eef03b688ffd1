"""The text of every finding, and the numbers beside it."""

from __future__ import annotations

import pytest
from check_examples import look_at

from dieline.checks import Finding, Severity, inspect
from dieline.drawing.model import Side


def _findings(example: str, check: str) -> list[Finding]:
    return [finding for finding in inspect(look_at(example)) if finding.check == check]


MESSAGES = [
    (
        "0201 300x200x150 C; hand_holes=B; hand_hole_drop=23; vents=B; vent_count=1; vent_width=60; vent_height=25",
        "knife-distance",
        "warning: panel 4 at x 929.5, y 194.2: two knives stand 1.5 mm apart, one of 2 such places; rubber needs at "
        "least 2.38 mm (die maker, 3/32 in); move them apart, or leave one out",
    ),
    (
        "0201 300x200x150 C; hand_holes=L; hand_hole_drop=24; vents=L; vent_count=1; vent_width=60; vent_height=25",
        "knife-distance",
        "warning: panel 3 at x 675.5, y 193.8: two knives stand 0.5 mm apart, one of 2 such places; rubber needs at "
        "least 2.38 mm (die maker, 3/32 in), and under 0.71 mm (die maker, 0.028 in) the rules themselves would "
        "meet; move them apart, or leave one out",
    ),
    (
        "0201 300x200x150 E; slot_width=2",
        "narrow-slot",
        "warning: bottom flap 2 at x 335.8, y 50.4: the waste between two knives is 2 mm wide, one of 6 such places; "
        "a slot bent from rule has at least 2.38 mm (die maker, 3/32 in); widen it, or make it a single cut",
    ),
    (
        "0201 300x200x150 C; hand_holes=B; hand_hole_left_in=yes; hand_hole_drop=5",
        "crease-distance",
        "warning: panel 2 at x 439, y 255.5: two creases lie 9 mm apart, one of 2 such places; a matrix needs at least "
        "10.84 mm, 2 x (calliper + rule) (common practice); move one of them",
    ),
    (
        "0209 300x200x150 C; short_flap=8",
        "crease-to-edge",
        "warning: top flap 1 at x 185, y 264: a crease lies 8 mm from a cut edge, one of 4 such places; at least 10 mm "
        "(common practice); widen the strip",
    ),
    (
        "0201 300x200x150 C; lap_width=27",
        "lap-width",
        "note: lap: the lap is 27 mm wide; preferred is at least 30 mm (box maker); widen lap_width",
    ),
    (
        "0201 300x200x150 C; lap_width=18",
        "lap-standard",
        "note: lap: the lap is 18 mm wide; at least 20 mm (GOST 9142-2014) is standard; change lap_width",
    ),
    (
        "0201 300x200x150 BC",
        "lap-cut",
        "note: lap: the lap ends 7.5 mm from the flap crease; at most 5 mm (box maker); the board alone takes 7 mm; "
        "lower lap_play, or glue an extended lap",
    ),
    (
        "0201 300x200x150 C; lap_play=4",
        "lap-cut",
        "warning: lap: the lap ends 8 mm from the flap crease; at most 5 mm (box maker); lower lap_play",
    ),
    (
        "0201 300x200x150 C; joint=stitched",
        "lap-stitched",
        "note: lap: the joint is stitched; set the stitches at most 55 mm (box maker) apart, the first and the last "
        "at most 25 mm (box maker) from the ends of the joint",
    ),
    (
        "0201 300x200x150 C; mass 31 kg",
        "glued-mass",
        "warning: joint: the contents weigh 31 kg; glue is preferred up to 30 kg (box maker); set joint=stitched or "
        "joint=taped",
    ),
    (
        "0201 300x200x150 C; flap_gap=5",
        "flap-gap",
        "note: bottom and top flaps: the outer flaps leave a gap of 5 mm; tape bridges at most 3 mm (box maker); lower "
        "flap_gap, or take wide tape",
    ),
    (
        "0201 300x200x150 C; flap_gap=8",
        "flap-gap",
        "warning: bottom and top flaps: the outer flaps leave a gap of 8 mm; at most 6 mm (box maker); lower "
        "flap_gap, or take wide tape",
    ),
    (
        "0201 300x200x150 C; house: step 5; house: give 1",
        "flap-gap",
        "warning: bottom and top flaps: the outer flaps leave a gap of 5 mm; at most 3 mm (box maker); lengthen the "
        "outer flaps in the house file, or take wide tape",
    ),
    (
        "0201 300x200x150 C; house: top outer flap + 2",
        "outer-flaps-collide",
        "error: top flaps: the outer flaps overlap by 4 mm where they should meet; the gap must be 0 mm or more; "
        "shorten them, or choose a style whose flaps overlap",
    ),
    (
        "0203 300x200x150 C; inner_flaps=equal",
        "inner-flaps-collide",
        "error: bottom and top flaps: the inner flaps run into each other by 80 mm; together they must be at most "
        "304 mm long, L from crease to crease (geometry); set inner_flaps=fit, or shorten them",
    ),
    (
        "0204 300x200x150 C",
        "inner-flaps-collide",
        "note: bottom and top flaps: the inner flaps just meet: a whole inner layer, and no play; together they must "
        "be at most 304 mm long, L from crease to crease (geometry); give them play with flap_gap if it binds",
    ),
    (
        "0201/0203 300x200x150 C",
        "inner-flaps-cut-back",
        "note: top flaps: the inner flaps are cut back from 192 to 152 mm so that they do not run into each other "
        "(geometry); flaps of two lengths need a die; shorten the outer ones if you have none",
    ),
    (
        "0201 300x200x150 C; hand_holes=B; hand_hole_width=100",
        "hand-hole-size",
        "note: panel 2: the hand hole is 100 mm long; best is 115 mm (NIOSH); change hand_hole_width",
    ),
    (
        "0201 300x200x150 C; hand_holes=B; hand_hole_height=25",
        "hand-hole-size",
        "warning: panel 2: the hand hole is 25 mm high; at least 30 mm (box tooling maker); change hand_hole_height",
    ),
    (
        "0201 300x200x150 C; hand_holes=B; hand_hole_left_in=yes",
        "hand-hole-board",
        "note: panel 2: the board is 4 mm thick at the hand hole; at least 6 mm (NIOSH); the flap left in doubles "
        "the edge",
    ),
    (
        "0201 300x200x320 C; hand_holes=B",
        "hand-hole-case",
        "note: hand holes: the case is 336 mm tall; gripped well up to 300 mm (NIOSH); make it lower, or have two "
        "people lift it",
    ),
    (
        "0201 300x200x150 C; hand_holes=B; hand_hole_drop=5",
        "opening-place",
        "warning: panel 2, panel 4: the hand hole comes within 9 mm of a crease or an edge; at least 15 mm (common "
        "practice); move it or make it smaller",
    ),
    (
        "0201 300x200x150 C; vents=L",
        "openings-weaken",
        "warning: panel 1, panel 3: cut-outs in 2 of 4 walls; 10 to 40 % (measured, Cal Poly) of the stacking "
        "strength was lost to hand holes and vents; deduct it, or test a sample",
    ),
    (
        "0201 300x200x150 C; tear_strip=yes",
        "tear-strip",
        "note: panel 1, panel 2, panel 3, panel 4: the case has a tear strip; no standard geometry exists "
        "(research); test the perforation on a sample of the board of the run",
    ),
    (
        "0201 300x200x150 AAA",
        "joint-gap",
        "note: joint: the gap at the joint, between the flaps, is 17 mm; at most 12.5 mm (PMMI/FBA B155-TR2.1-2011); "
        "change slot_width",
    ),
    (
        "0201 300x200x150 C; slot_width=7.5",
        "slot-tool",
        "note: slots: the slots are 7.5 mm wide; slotter knives of the trade are 6 mm (trade glossary, 1/4 in) and 9 "
        "mm (trade glossary, 3/8 in); have it die-cut, change slot_width, or list your knives in the machine file",
    ),
    (
        "0201 300x200x150 C; vents=L; vent_width=5",
        "small-waste",
        "warning: panel 3 at x 768, y 181: 4 cut-outs have as little as 19.6 mm² of waste; at least 30 mm² (common "
        "practice) is stripped without trouble; enlarge or join them, or order stripping pins",
    ),
    (
        "0201 120x80x60 A; joint=taped",
        "small-waste",
        "note: bottom flap 1 at x 0.2, y 21.2: 2 notches in the outline have as little as 21.2 mm² of waste; at "
        "least 30 mm² (common practice) is stripped without trouble; enlarge or join them, or order stripping pins",
    ),
    (
        "0201 300x200x150 C; vents=L; vent_width=3; limits: punch_sprung = 3.5",
        "small-hole",
        "warning: panel 3 at x 768, y 181: 4 holes are down to 3 mm across; a sprung punch needs 3.5 mm (house), a "
        "side-outlet punch goes down to 0.79 mm (die maker, 1/32 in); enlarge or drop them",
    ),
    (
        "0201 300x200x150 C",
        "sharp-corners",
        "note: body: 18 inner corners have no radius; rule bends with ease to 5 mm (craft die maker); slot_end=round "
        "rounds the ends of the slots",
    ),
    (
        "0201 300x200x150 C; house: panel 3 width + 3",
        "out-of-square",
        "warning: panel 1 and panel 3: opposite panels differ by 3 mm more than the joint asks; at most 1.5 mm "
        "(PMMI/FBA B155-TR2.2-2011); a case out of square loses about 30 % (makers of packing machines) of its "
        "strength; change the house sizes of both panels alike",
    ),
    (
        "0201 600x200x150 C",
        "proportions",
        "note: size: L : B is 3; at most 2.5 (GOST 9142) unless maker and buyer agree; change the proportions if the "
        "standard is to be met",
    ),
    (
        "0201 300x200x150 C; lap_on=B; joint=taped",
        "folded-hand",
        "note: panel 1: knocked down, print side up, the longer panel shows on the right: a right-hand case "
        "(packing-machine maker); the tape joins panel 1 (a B panel) and panel 4 (an L panel); change lap_end or "
        "lap_on for the other hand",
    ),
    (
        "0201 300x200x150 C; house: panel height + 2",
        "inside-stretched",
        "note: size: house sizes or rounding make the inside H 2 mm larger than asked; the derivation of each size "
        "says why; take the entry out of the house file if it is not meant",
    ),
    (
        "0201 300x200x150 C; mass 20 kg",
        "too-heavy",
        "note: contents: the filled box weighs 20 kg; one person lifts at most 18 kg (ASTM D6804, 40 lb); pack less, "
        "or mark it for two people, and follow the local lifting rules",
    ),
    (
        "0201 300x200x150 C; mass 22.9 kg; board: grammage = 600",
        "too-heavy",
        "warning: contents: the filled box weighs 23.12 kg, 0.22 kg of it the box; one person lifts at most 23 kg "
        "(ASTM D6804, 50 lb); pack less, or mark it for two people, and follow the local lifting rules",
    ),
    (
        "0201 300x200x150 C; house: panel 1 width + 1; house: give 1",
        "crease-give",
        "warning: lap: its crease must give 3 mm; the board gives 2 mm, the house file allows 4 mm (house); take the "
        "house sizes back, or prove it on a sample",
    ),
    (
        "0201 300x200x150 C; machine: slot = { only = [7, 9] }",
        "machine-limits",
        "error: slots: the width of the slots is 6 mm; the machine has tools for 7, 9 mm only (old slotter); change "
        "the size, or run it on another machine",
    ),
    (
        "0203 300x200x150 C; machine: flap = [100, 190]",
        "machine-limits",
        "error: bottom flap 1, bottom flap 3, top flap 1, top flap 3: the length of the flap is 192 mm; the machine "
        "takes at most 190 mm (old slotter); change the size, or run it on another machine",
    ),
]


@pytest.mark.parametrize(
    ("example", "check", "text"), MESSAGES, ids=[f"{check} {n}" for n, (_, check, _) in enumerate(MESSAGES)]
)
def test_message(example: str, check: str, text: str) -> None:
    (finding,) = _findings(example, check)
    assert f"{finding.severity.value}: {finding.place}: {finding.message}" == text


def test_measured_and_limit_stand_beside_the_message() -> None:
    (finding,) = _findings("0201 300x200x150 C; lap_width=20", "lap-width")
    assert (finding.severity, finding.measured, finding.limit) == (Severity.WARNING, 20.0, 25.0)
    assert finding.source == "case design guide, pkgsolutions.co.uk/kb"


def test_every_size_that_a_machine_limits_is_measured() -> None:
    keys = ("blank_length", "blank_width", "panel", "depth", "flap", "lap", "slot", "board")
    machine = "; ".join(f"machine: {key} = [0, 1]" for key in keys)
    found = _findings(f"0201 300x200x150 C; {machine}", "machine-limits")
    measured = {(finding.place, finding.measured) for finding in found}
    assert measured == {
        ("body", 1049.0),
        ("body", 362.0),
        ("panel 1", 302.0),
        ("panel 3", 304.0),
        ("panel 2, panel 4", 204.0),
        ("panel 1, panel 2, panel 3, panel 4", 158.0),
        (", ".join(sorted(f"{end} flap {n}" for end in ("bottom", "top") for n in (1, 2, 3, 4))), 102.0),
        ("lap", 35.0),
        ("slots", 6.0),
        ("board C", 4.0),
    }


def test_a_tool_of_an_inch_machine_is_the_same_tool() -> None:
    assert (
        _findings("0201 300x200x150 C; slot_width=1/4 in; machine: slot = { only = [6.35, 9.5] }", "machine-limits")
        == []
    )
    assert _findings("0201 300x200x150 C; slot_width=6.5; machine: slot = { only = [6.35] }", "machine-limits") != []


def test_the_plant_s_own_slot_tools_silence_the_trade_s() -> None:
    assert _findings("0201 300x200x150 C; slot_width=7; machine: slot = { only = [7] }", "slot-tool") == []


def test_a_place_on_the_print_side_names_the_same_panel() -> None:
    example = "0201 300x200x150 C; hand_holes=B; hand_hole_left_in=yes; hand_hole_drop=5"
    inside, printed = (
        next(finding.place for finding in inspect(look_at(example, side)) if finding.check == "crease-distance")
        for side in (Side.INSIDE, Side.PRINT)
    )
    assert inside == "panel 2 at x 439, y 255.5"
    assert printed == "panel 2 at x 610, y 255.5"  # 1049 wide, seen from the other side
