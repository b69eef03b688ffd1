"""What a die maker asks, on boxes whose numbers can be worked out by hand."""

from __future__ import annotations

import json
import math

import pytest
from check_examples import look_at

from dieline.checks.die_report import die_report
from dieline.linetypes import Meaning


def test_a_plain_case() -> None:
    report = die_report(look_at("0201 300x200x150 C"))
    (piece,) = report.pieces
    assert (piece.name, piece.count) == ("body", 1)
    assert piece.knife_distance == report.knife_distance == pytest.approx(6.0)
    assert piece.small_holes == 0
    # Six slots, the strips beside the raw edge of panel 4, the corners above and below the lap.
    assert len(piece.waste) == 10
    assert [waste.width for waste in piece.waste] == pytest.approx([3, 3, 6, 6, 6, 6, 6, 6, 36, 36])
    assert [waste.area for waste in piece.waste[:8]] == pytest.approx([306.0] * 2 + [612.0] * 6)


def test_rule_of_each_kind_is_the_drawing_s() -> None:
    inspected = look_at("0201 300x200x150 C; tear_strip=yes")
    report = die_report(inspected)
    assert report.rule == inspected.drawings[0].lengths()
    assert list(report.rule) == [Meaning.CREASE, Meaning.PERFORATION, Meaning.CUT]


def test_force_by_hand() -> None:
    """500 lbf for each inch of knife, half a slot more for each pair of its sides, 15 % for the rubber."""
    (piece,) = die_report(look_at("0201 300x200x150 C")).pieces
    knife = piece.rule[Meaning.CUT] + 6 * 102 / 2
    assert piece.force_rule == pytest.approx(knife)
    assert piece.force == pytest.approx(knife / 25.4 * 500 * 4.4482216 / 1000 * 1.15, rel=1e-6)


def test_wide_slots_add_nothing() -> None:
    (piece,) = die_report(look_at("0201 300x200x150 C; slot_width=9")).pieces
    assert piece.force_rule == pytest.approx(piece.rule[Meaning.CUT])


def test_a_small_hole_counts_as_a_good_length_of_knife() -> None:
    (plain,) = die_report(look_at("0201 300x200x150 C")).pieces
    (holes,) = die_report(look_at("0201 300x200x150 C; vents=L; vent_width=8; vent_height=8")).pieces
    assert holes.small_holes == 4
    assert holes.rule[Meaning.CUT] == pytest.approx(plain.rule[Meaning.CUT] + 4 * 8 * math.pi)
    assert holes.force_rule == pytest.approx(plain.force_rule + 4 * 63.5)


def test_a_hole_of_three_eighths_of_an_inch_is_small_and_a_larger_one_is_not() -> None:
    small, large = (
        die_report(look_at(f"0201 300x200x150 C; vents=L; vent_width={width}; vent_height={width}"))
        for width in ("9.525", "9.6")
    )
    assert (small.small_holes, large.small_holes) == (4, 0)


def test_nothing_near_has_no_distance() -> None:
    report = die_report(look_at("0200/0200 300x200x150 C; joint=taped"))
    assert report.knife_distance is None
    assert report.pieces[0].waste == ()
    assert report.data()["pieces"][0]["narrowest_waste"] is None


def test_data_is_plain_and_the_same_every_time() -> None:
    example = "0201 300x200x150 C; vents=L; vent_width=8; vent_height=8"
    text = json.dumps(die_report(look_at(example)).data())
    data = json.loads(text)
    assert data["knife_distance"] == 6.0
    assert data["small_holes"] == 4
    assert data["cutting_force_kn"] == pytest.approx(die_report(look_at(example)).force, abs=0.05)
    assert data["pieces"][0]["waste_pieces"] == len(data["pieces"][0]["waste"]) == 14
    assert data["pieces"][0]["smallest_waste_mm2"] == pytest.approx(16 * math.pi, abs=0.001)
    look_at.cache_clear()
    assert json.dumps(die_report(look_at(example)).data()) == text
