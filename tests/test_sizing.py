"""Quantities carry their derivation; the house and rounding come after the rule and are shown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dieline.errors import InputError
from dieline.sizing import Allowance, House, Ledger, Quantity, span

L, B, t = Quantity.named("L", 300), Quantity.named("B", 200), Quantity.named("t", 4)


def test_the_rule_adds_one_board_for_each_k_and_one() -> None:
    panel = span(L, 0, 2, t)
    assert (panel.value, panel.text) == (312.0, "L 300 + (0+2+1) × t 4")


def test_the_text_of_a_quantity_is_its_arithmetic() -> None:
    flap = (B + t - 3) / 2
    assert (flap.value, flap.text) == (100.5, "(B 200 + t 4 - 3) / 2")
    assert (1 + L).text == "1 + L 300"
    assert (10 - (L + t)).text == "10 - (L 300 + t 4)"
    assert (L - (B + t)).text == "L 300 - (B 200 + t 4)"


@given(st.floats(1, 3000), st.floats(0.3, 15), st.integers(0, 3), st.integers(0, 3))
def test_a_derivation_read_as_arithmetic_gives_its_value(size: float, thickness: float, k1: int, k2: int) -> None:
    """The text is not a story beside the number: evaluated, it is the number."""
    size, thickness = round(size, 2), round(thickness, 2)
    quantity = span(Quantity.named("H", size), k1, k2, Quantity.named("t", thickness))
    text = quantity.text.replace("H ", "").replace("t ", "").replace("×", "*")
    assert eval(text) == pytest.approx(quantity.value)


def test_the_house_adds_puts_and_copies_and_the_derivation_says_so() -> None:
    house = House(
        allowances=(
            Allowance(size="panel 2 width", add=1.0, why="gluer"),
            Allowance(size="panel 4 width", same_as="panel 2 width"),
            Allowance(size="lap*", put=30.0),
            Allowance(size="panel 2 width", style="0301", add=99.0),
        )
    )
    ledger = Ledger("0201", "C", house)
    assert ledger.size("panel 2 width", B + t) == 205.0
    assert ledger.size("panel 4 width", B) == 205.0
    assert ledger.size("lap width", 35.0) == 30.0
    assert [line.derivation for line in ledger.lines] == [
        "B 200 + t 4 + house 1 (gluer)",
        "house: as panel 2 width",
        "house: 30",
    ]
    assert ledger.lines[0].ruled == 204.0


def test_rounding_is_one_stage_and_is_shown() -> None:
    ledger = Ledger("0201", "C", House(step=0.5))
    assert ledger.size("panel", Quantity(302.3, "x")) == 302.5
    assert ledger.size("exact", Quantity(302.5, "x")) == 302.5
    assert "rounded from 302.3 to 0.5" in ledger.lines[0].derivation
    assert "rounded" not in ledger.lines[1].derivation


def test_dimensions_rounded_together_keep_what_lies_between_them() -> None:
    ledger = Ledger("0201", "C", House(step=0.5))
    assert ledger.size("first", Quantity(302.3, "x")) == 302.5
    assert ledger.size("second", Quantity(304.7, "y"), round_as="first") == pytest.approx(304.9)
    assert ledger.lines[1].derivation == "y, rounded from 304.7 as 'first'"


def test_rounding_leaves_something_of_what_there_is() -> None:
    assert Ledger("0201", "C", House(step=5.0)).size("gap", Quantity(1.2, "x")) == 5.0
    assert Ledger("0201", "C", House(step=5.0)).size("none", Quantity(0.0, "x")) == 0.0


@pytest.mark.parametrize("entry", [Allowance(size="a*", add=-30), Allowance(size="a*", put=0.0)])
def test_an_entry_that_leaves_nothing_of_a_dimension_is_refused_by_name(entry: Allowance) -> None:
    ledger = Ledger("0201", "C", House(name="h.toml", allowances=(entry,)))
    assert ledger.size("a zero", 0.0) in (-30.0, 0.0)  # what is nothing anyway may be moved either way
    with pytest.raises(InputError, match=r"h.toml: allowance for 'a\*' – it makes 'alpha' .* must stay above 0"):
        ledger.size("alpha", 20.0)


def test_entries_that_reach_nothing_are_known() -> None:
    house = House(
        allowances=(Allowance(size="a", add=1), Allowance(size="b", add=1), Allowance(size="c", style="0301"))
    )
    ledger = Ledger("0201", "C", house)
    ledger.size("a", 1.0)
    assert [entry.size for entry in ledger.unused()] == ["b"]


def test_a_copy_of_a_dimension_that_comes_later_is_refused() -> None:
    ledger = Ledger("0201", "C", House(name="h.toml", allowances=(Allowance(size="a", same_as="b"),)))
    with pytest.raises(InputError, match="stands before it"):
        ledger.size("a", 1.0)


def test_a_name_is_recorded_once() -> None:
    ledger = Ledger("0201", "C")
    ledger.size("a", 1.0)
    with pytest.raises(ValueError, match="recorded already"):
        ledger.size("a", 1.0)


def test_house_defaults_are_found_by_pattern_and_the_later_one_wins() -> None:
    house = House(defaults=(("02*", "*", "lap_width", 30), ("0201", "C", "lap_width", 32)))
    assert house.default("0201", "C", "lap_width") == 32
    assert house.default("0203", "C", "lap_width") == 30
    assert house.default("0301", "C", "lap_width") is None
