"""Limits are data: a plant replaces any of them, and every slip in its file is told at once, with its line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from check_examples import look_at

from dieline.checks import inspect, limits_from_text, read_limits, shipped_limits
from dieline.checks.limits import CONFIDENCE
from dieline.errors import BoardError, JobError


def test_every_shipped_limit_is_complete() -> None:
    for name, limit in shipped_limits().items():
        assert limit.value > 0, name
        assert all((limit.unit, limit.what, limit.by, limit.source)), name
        assert limit.confidence in CONFIDENCE, name
        assert ("common practice" in limit.source) == (limit.confidence == "common practice, no source") or (
            limit.confidence == "trade practice"
        ), name


def test_every_shipped_limit_is_used() -> None:
    from dieline.checks import catalogue

    die = {"cutting_force", "rubber_force", "parallel_rules", "small_hole", "small_hole_rule"}
    used = {name for entry in catalogue() for name in entry.limits}
    assert used | die == set(shipped_limits())


def test_a_number_replaces_a_limit() -> None:
    limits = limits_from_text("knife_distance = 3\n", "house")
    limit = limits["knife_distance"]
    assert (limit.value, limit.by, limit.confidence) == (3.0, "house", "house")
    assert limit.what == shipped_limits()["knife_distance"].what
    assert limits["flap_gap_taped"] == shipped_limits()["flap_gap_taped"]


def test_a_length_may_have_its_own_unit() -> None:
    assert limits_from_text('knife_distance = "1/8 in"', "house")["knife_distance"].value == pytest.approx(3.175)


def test_a_table_says_who_and_where() -> None:
    limit = limits_from_text('[lap_width_least]\nvalue = 28\nby = "our gluer"\nsource = "trial 12"', "h")[
        "lap_width_least"
    ]
    assert str(limit) == "28 mm (our gluer)"
    assert limit.source == "trial 12"


def test_a_replaced_limit_is_what_findings_use(tmp_path: Path) -> None:
    path = tmp_path / "limits.toml"
    path.write_text("lap_width_least = 36\nlap_width_preferred = 40\n", encoding="utf-8")
    inspected = replace(look_at("0201 300x200x150 C"), limits=read_limits(path))
    (finding,) = (finding for finding in inspect(inspected) if finding.check == "lap-width")
    assert finding.message == "the lap is 35 mm wide; at least 36 mm (house); widen lap_width"
    assert finding.source == "the plant's own limits file"


def test_a_wider_limit_is_looked_for_farther_away() -> None:
    """The distance up to which knives are looked for follows the limit."""
    inspected = look_at("0201 300x200x150 C; vents=L; vent_count=1; limits: slot_from_rule = 26")
    widths = {finding.measured for finding in inspect(inspected) if finding.check == "narrow-slot"}
    assert widths == {6.0}
    assert inspected.spacing[0].reach == 26.0


def test_every_problem_at_once_with_its_line() -> None:
    text = """knife_distence = 3
lap_width_least = -1
flap_gap_taped = "wide"
lap_bevel_most = 120
[glued_mass_most]
by = "us"
[too]
value = 1
[mass_for_one_low]
value = 18
unit = "kg"
"""
    with pytest.raises(JobError) as caught:
        limits_from_text(text, "limits.toml")
    assert str(caught.value).splitlines() == [
        "limits.toml – 7 problems",
        "  limit 'knife_distence' (line 1) – 'knife_distence' is not known – did you mean knife_distance?",
        "  lap_width_least (line 2) – -1 – it must be a number of mm, 0 or more: narrowest lap, corrugated board",
        "  flap_gap_taped (line 3) – 'wide' is not a length – it must be a number with mm, cm or in – write 300, "
        "30cm or 12 1/2 in",
        "  lap_bevel_most (line 4) – 120 – it must be a number of deg, 0 to 90: steepest bevel of the lap's ends",
        "  glued_mass_most.value (line 5) – is missing – a limit must have its number of kg",
        f"  limit 'too' (line 7) – 'too' is not known – {len(shipped_limits())} are known",
        "  mass_for_one_low.unit (line 9) – is not known – a limit may hold value, by and source",
    ]


@pytest.mark.parametrize("raw", ["nan", "inf", "true", "[1]", '"5"', "-0.1"])
def test_what_is_no_number_is_refused(raw: str) -> None:
    with pytest.raises(JobError, match="it must be a number of kg, 0 or more"):
        limits_from_text(f"glued_mass_most = {raw}", "limits.toml")


def test_limits_out_of_order_are_refused() -> None:
    with pytest.raises(JobError) as caught:
        limits_from_text("slot_width_least = 12\n", "limits.toml")
    assert str(caught.value).splitlines()[1] == (
        "  slot_width_least (line 1) – slot_width_least 12 is more than slot_width_most 10 – the first must not be "
        "more than the second – replace both"
    )


def test_a_file_that_is_not_there_or_not_toml(tmp_path: Path) -> None:
    with pytest.raises(BoardError, match="must be a readable limits file"):
        read_limits(tmp_path / "none.toml")
    with pytest.raises(BoardError, match="is not TOML"):
        limits_from_text("knife_distance = = 3", "limits.toml")


def test_by_and_source_must_be_text() -> None:
    with pytest.raises(JobError, match=r"knife_distance.by .* 5 – it must be text"):
        limits_from_text("knife_distance = { value = 3, by = 5 }", "limits.toml")
