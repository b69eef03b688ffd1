"""Loss factors between and beyond the points that their sets publish."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stack_trials import LOAD, board, shape

from dieline.errors import InputError
from dieline.strength.answer import answer
from dieline.strength.factors import humidity_factor, loss_factors, time_factor
from dieline.strength.margin_picture import margin_svg


def test_between_the_days_it_goes_with_log_time() -> None:
    value, how = time_factor("handbook", math.sqrt(10 * 30))
    assert value == pytest.approx((0.63 + 0.60) / 2)
    assert "log time" in how


def test_between_the_humidities_it_goes_evenly() -> None:
    value, how = humidity_factor("handbook", 75.0)
    assert value == pytest.approx((0.80 + 0.68) / 2)
    assert how


def test_before_the_first_point_that_value_holds_and_beyond_the_last_nothing_is_drawn_out() -> None:
    assert time_factor("handbook", 1.0) == (0.63, "value of 10 days")
    assert humidity_factor("astm-d10", 30.0) == (0.80, "value of 50 % RH")
    with pytest.raises(InputError, match="ends at 180 days"):
        time_factor("handbook", 181.0)
    with pytest.raises(InputError, match="ends at 90 % RH"):
        humidity_factor("astm-d10", 95.0)


@given(st.sampled_from(["handbook", "astm-d10"]), st.floats(0.5, 180.0), st.floats(0.5, 180.0))
def test_longer_never_leaves_more(name: str, one: float, other: float) -> None:
    short, long = sorted((one, other))
    assert time_factor(name, long)[0] <= time_factor(name, short)[0] + 1e-12


@given(st.sampled_from(["handbook", "astm-d10"]), st.floats(0.0, 90.0), st.floats(0.0, 90.0))
def test_damper_never_leaves_more(name: str, one: float, other: float) -> None:
    dry, damp = sorted((one, other))
    assert humidity_factor(name, damp)[0] <= humidity_factor(name, dry)[0] + 1e-12


def test_all_factors_of_an_answer_are_of_one_set_or_named_as_another_source() -> None:
    load = replace(LOAD, factors="astm-d10", pattern="interlocked")
    factors, _ = loss_factors(load, (400.0, 300.0), True)
    assert {factor.name for factor in factors} == {"time", "humidity", "pattern", "overhang"}
    assert all("D10" in factor.basis.source for factor in factors)


def test_a_large_offset_leaves_no_less_than_interlocking_does() -> None:
    load = replace(LOAD, pattern="misaligned", offset=150.0)
    factors, _ = loss_factors(load, (400.0, 300.0), False)
    assert factors[-1].middle == 0.4


def test_the_picture_of_the_margin_shows_each_humidity_and_the_job() -> None:
    found = answer(shape(), board(), replace(LOAD, humidity=75))
    text = margin_svg(found, title="kettle-case")
    for words in ("50 % RH", "100 % RH", "75 % RH (job)", "1: just holds", "kettle-case", "not a test"):
        assert words in text
    assert f"this job: {found.margin:.2f}" in text
    assert text == margin_svg(found, title="kettle-case")


def test_a_schedule_has_no_picture_over_time() -> None:
    assert margin_svg(answer(shape(), board(), replace(LOAD, factors=None, schedule="ista-3e"))) == ""
