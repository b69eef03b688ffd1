"""The order for one piece of a design: its own size and options, its dimensions in the whole order."""

from __future__ import annotations

import pytest

from dieline.board import find_board
from dieline.sizing import Allowance, House, Quantity
from dieline.style.parameter import length
from dieline.units import parse_size
from dieline_styles.part import Part
from dieline_styles.tube_telescope import STYLES


def _order(house: House | None = None):  # type: ignore[no-untyped-def]
    return STYLES["0312"].order(parse_size("400x300x250"), find_board("C"), {"lap_width": 40.0}, house)


def _part(order, **more: object) -> Part:  # type: ignore[no-untyped-def]
    return Part(order, "lid", order.L + 10, order.B + 10, Quantity.named("h", 80.0), **more)  # type: ignore[arg-type]


def test_a_dimension_is_known_by_its_own_name_and_recorded_under_the_piece() -> None:
    order = _order()
    part = _part(order)
    assert part.size("wall height", part.H + part.t) == 84
    assert part.ledger.value("wall height") == 84
    assert order.ledger.value("lid wall height") == 84
    assert [line.derivation for line in order.ledger.lines] == ["h 80 + t 4"]
    assert (part.inside.length, part.L.value, order.L.value) == (410, 410, 400)


def test_the_house_is_applied_once_and_may_name_the_piece() -> None:
    house = House(name="plant", allowances=(Allowance(size="*wall height", add=1.5), Allowance(size="lid *", add=0.25)))
    order = _order(house)
    assert _part(order).size("wall height", 80.0) == 81.75
    assert order.size("wall height", 80.0) == 81.5


def test_rounding_is_shared_within_the_piece() -> None:
    order = _order(House(name="plant", step=1.0))
    part = _part(order)
    assert part.size("wall height", 80.6) == 81
    assert part.size("lap height", 70.25, round_as="wall height") == pytest.approx(70.65)


def test_options_are_those_of_the_order_but_for_what_the_piece_has_otherwise() -> None:
    order = _order()
    own = (length("lap_width", "Length of its laps.", lambda order: order.H.value / 4),)
    assert _part(order).number("lap_width") == 40
    assert _part(order, options={"lap_width": 25.0}).number("lap_width") == 25
    part = _part(order, own=own)
    assert part.number("lap_width") == 20, "its own default, from its own height"
    assert "lap_width" in order.given
    assert "lap_width" not in part.given
    assert _part(order, options={"lap_width": 25.0}, own=own).number("lap_width") == 25
    assert _part(order, style="0422").style == "0422"
