"""Lengths and sizes are read as people write them, once, at the door."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dieline.errors import SizeError
from dieline.units import Size, format_inches, format_mm, parse_length, parse_mass, parse_size


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("300", 300.0),
        (300, 300.0),
        ("30cm", 300.0),
        ("30 CM", 300.0),
        ("12 1/2 in", 317.5),
        ("12-1/2in", 317.5),
        ('12 1/2"', 317.5),
        ("1/16 in", 1.5875),
        ("12,5", 12.5),
        ("-2.5", -2.5),
        ("1e2", 100.0),
    ],
)
def test_lengths_are_read_with_units_and_fractions(text: str | float, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize(
    "text", ["", "wide", "12 furlongs", "nan", "inf", "1/0 in", "3 1/2/4", float("nan"), True, None]
)
def test_what_is_no_length_is_refused_with_what_to_write(text: object) -> None:
    with pytest.raises(SizeError) as caught:
        parse_length(text, where="lap")  # type: ignore[arg-type]
    assert str(caught.value).startswith("lap – ")


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("300x200x150", Size(300, 200, 150)),
        ("300 X 200 × 150", Size(300, 200, 150)),
        ("300*200*150mm", Size(300, 200, 150)),
        ("355x205x120/40", Size(355, 205, 120, 40)),
        ("30x20x15 cm", Size(300, 200, 150)),
        ("12 1/2 x 9 x 6 in", Size(317.5, 228.6, 152.4)),
        ("12 1/2 in x 9 in x 6 in", Size(317.5, 228.6, 152.4)),
        ("10x8x6 1/2/2 in", Size(254, 203.2, 165.1, 50.8)),
        ("300mmx20cmx150", Size(300, 200, 150)),
    ],
)
def test_sizes_are_read_in_the_code_s_order(text: str, size: Size) -> None:
    assert parse_size(text) == pytest.approx(size)


def test_a_stroke_after_the_third_size_begins_the_fourth() -> None:
    """355x205x120/40 is the published form; 120/40 is not three."""
    assert parse_size("355x205x120/40").height == 120.0


@pytest.mark.parametrize(
    "text", ["", "300x200", "300x200x150x10", "axbxc", "300x200x-5", "300x200xnan", "x".join("999"[:2])]
)
def test_what_is_no_size_is_refused(text: str) -> None:
    with pytest.raises(SizeError):
        parse_size(text)


@pytest.mark.parametrize(
    ("text", "part"), [("0x200x150", "more than 0"), ("-3x200x150", "more than 0"), ("1e9x200x150", "check the unit")]
)
def test_sides_that_no_box_can_have_are_refused_with_the_reason(text: str, part: str) -> None:
    with pytest.raises(SizeError, match=part):
        parse_size(text)


def test_numbers_are_written_without_needless_zeros() -> None:
    assert [format_mm(value) for value in (304.0, 304.5, 0.074, -0.001)] == ["304", "304.5", "0.07", "0"]
    assert format_inches(254.0) == "10"


@pytest.mark.parametrize(("text", "kg"), [("8.5 kg", 8.5), ("900 g", 0.9), ("10 lb", 4.5359237), (3, 3.0)])
def test_masses_are_read_in_kg(text: str | float, kg: float) -> None:
    assert parse_mass(text) == pytest.approx(kg)


@pytest.mark.parametrize("text", ["heavy", "-1 kg", -1, math.nan, False])
def test_what_is_no_mass_is_refused(text: str | float) -> None:
    with pytest.raises(SizeError):
        parse_mass(text)


@given(st.floats(0.01, 9999.0))
def test_a_size_written_and_read_is_the_same(side: float) -> None:
    text = f"{side!r}x{side!r}x{side!r}"
    assert parse_size(text).length == side
