"""Ordinary boxes are left in peace: no warning and no error unless something is true."""

from __future__ import annotations

import pytest
from check_examples import look_at

from dieline.checks import Inspected, Severity, inspect
from dieline.drawing.model import Side


def _loud(inspected: Inspected) -> list[str]:
    return [finding.check for finding in inspect(inspected) if finding.severity is not Severity.NOTE]


@pytest.mark.parametrize("style", ["0200", "0201", "0202", "0203", "0204", "0205", "0206", "0209", "0201/0204"])
@pytest.mark.parametrize("board", ["E", "B", "C", "BC"])
@pytest.mark.parametrize("size", ["300x200x150", "600x400x400", "90x90x90"])
def test_no_warning_on_an_ordinary_case(style: str, board: str, size: str) -> None:
    assert _loud(look_at(f"{style} {size} {board}")) == []


@pytest.mark.parametrize(
    "option",
    [
        "joint=stitched",
        "joint=taped",
        "lap_on=B",
        "lap_end=right",
        "lap_side=outside",
        "creases=offset",
        "flap_crease=perforated",
        "body_crease=perforated",
        "flap_crease=cut-crease",
        "slot_end=round",
        "slot_depth=2",
        "slot_width=9",
        "tear_strip=yes",
        "flap_gap=3",
    ],
)
def test_no_warning_for_an_ordinary_option(option: str) -> None:
    assert _loud(look_at(f"0201 300x200x150 C; {option}")) == []


def test_notes_on_the_plainest_case() -> None:
    """What is said about every case must be worth saying every time."""
    found = [finding.check for finding in inspect(look_at("0201 300x200x150 C"))]
    assert found == ["board-source", "low-case-lap", "sharp-corners", "folded-hand"]


def test_the_print_side_has_the_same_findings() -> None:
    example = "0201 300x200x150 C; hand_holes=L; vents=B; lap_width=20; slot_end=round; flap_gap=7"
    inside, printed = (
        [(finding.check, finding.measured) for finding in inspect(look_at(example, side))] for side in Side
    )
    assert inside == printed


def test_findings_are_the_same_every_time() -> None:
    example = "0203 300x200x150 C; hand_holes=L; vents=B; lap_width=20"
    first = inspect(look_at(example))
    look_at.cache_clear()
    assert inspect(look_at(example)) == first
