"""Loss factors, schedules and the carriers' rule against the tables and worked examples that publish them."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from dieline.board import find_board
from dieline.force import GRAVITY, KN_M_PER_LB_IN, to_lbf
from dieline.load import CHOICES, Load
from dieline.strength.basis import NO_SOURCE, table
from dieline.strength.carrier import carrier_rows, carrier_rule
from dieline.strength.factors import humidity_factor, loss_factors, product, time_factor
from dieline.strength.grades import grade_ect, grades
from dieline.strength.standing import Standing, required, standing_load

DATA = Path(__file__).with_name("data")
SETS = {"Fibre Box Handbook": "handbook", "ASTM D10": "astm-d10"}
SIDES = (400.0, 300.0)


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    assert all(row["source"] or row.get("note") for row in found), f"every row of {name} says where it comes from"
    return found


def set_of(row: dict[str, str]) -> str:
    return next((name for start, name in SETS.items() if row["source"].startswith(start)), "")


POINTS = [row for row in rows("strength_factors") if row["family"] in ("time", "humidity") and set_of(row)]


@pytest.mark.parametrize("row", POINTS, ids=lambda row: f"{set_of(row)} {row['condition']}")
def test_time_and_humidity_of_each_set(row: dict[str, str]) -> None:
    """Every published point of both sets; the two contradict each other and are kept apart."""
    at, stated = float(row["condition"].split()[0]), float(row["multiplier_best"])
    reader = time_factor if row["family"] == "time" else humidity_factor
    found, how = reader(set_of(row), at)
    assert (found, how) == (stated, ""), "read off, not reckoned"


def test_the_two_sets_differ_and_hold_as_many_points_as_published() -> None:
    for family in ("time", "humidity"):
        for name in CHOICES["factors"]:
            published = {row["condition"] for row in POINTS if row["family"] == family and set_of(row) == name}
            assert len(table("factors")[name][family]) == len(published)
    assert time_factor("handbook", 90)[0] != time_factor("astm-d10", 90)[0]
    assert humidity_factor("handbook", 50)[0] != humidity_factor("astm-d10", 50)[0]


RANGES = [
    (set_of(row) or "handbook", row)
    for row in rows("strength_factors")
    if row["condition"] in ("columnar aligned", "columnar misaligned", "interlocked", "over pallet edge")
    and (set_of(row) or row["source"].startswith("Tecnee"))
]
WORDS = {
    "columnar aligned": "column",
    "columnar misaligned": "misaligned",
    "interlocked": "interlocked",
    "over pallet edge": "overhang",
}


@pytest.mark.parametrize(
    ("name", "row"), RANGES, ids=lambda value: value if isinstance(value, str) else value["condition"]
)
def test_patterns_and_overhang_of_each_set(name: str, row: dict[str, str]) -> None:
    found = table("factors")[name][WORDS[row["condition"]]]
    assert (found["best"], found["worst"]) == (float(row["multiplier_best"]), float(row["multiplier_worst"]))


def test_measured_offset_takes_two_and_a_half_percent_for_each_percent() -> None:
    """K. W. Park's equation; on the shorter side, which is the safe one where the way is not told."""
    row = next(row for row in rows("strength_factors") if row["condition"].startswith("offset, per 1 %"))
    load = Load(factors="handbook", days=10, humidity=50, pattern="misaligned", offset=3.0)
    factors, _ = loss_factors(load, SIDES, False)
    assert factors[-1].middle == pytest.approx(float(row["multiplier_best"]))
    assert factors[-1].basis.source.startswith("K. W. Park")


def test_multipliers_multiply_and_the_safety_factor_is_one_over_them() -> None:
    """F14: the handbook's example leaves .204, a safety factor of 4.90.

    The page does not name its conditions; 30 days, 80 % RH and interlocked layers (middle of 40 to 60 %) make .204.
    """
    row = next(row for row in rows("strength_schedules") if row["id"] == "F14")
    load = Load(factors="handbook", days=30, humidity=80, pattern="interlocked")
    left = product(loss_factors(load, SIDES, False)[0])
    stated = row["recomputed"]
    assert left == pytest.approx(0.204, abs=1e-9)
    assert "1/.204 = 4.90" in stated
    assert 1 / left == pytest.approx(4.90, abs=0.005)


def test_no_factor_without_a_page_is_taken_for_published() -> None:
    """What was only remembered is marked, and said with the answer."""
    for key, row in table("factors")["handbook"].items():
        if key in ("misaligned", "gaps", "rough"):
            assert row["confidence"] == NO_SOURCE
    load = Load(factors="handbook", days=10, humidity=50, pattern="misaligned", gaps=True, handling="rough")
    _, remarks = loss_factors(load, SIDES, False)
    assert [remark.code for remark in remarks] == ["stack-no-source"] * 3


def test_chinese_stacking_rule() -> None:
    """F3: K 1.60, 20 N, stack 300 cm, box 41.3 cm: about 200 N; F4: K by days of storage."""
    row = next(row for row in rows("strength_schedules") if row["id"] == "F3")
    standing = Standing(gross=20 / GRAVITY, layers=7)
    load = Load(schedule="gb-6543", days=10, stack_height=3000)
    found = required(load, standing, 413.0).value
    assert found == pytest.approx(float(row["recomputed"]), abs=0.05)
    assert found == pytest.approx(float(row["published_result"]), rel=0.003)
    for days, k in ((29, 1.6), (30, 1.65), (100, 1.65), (101, 2.0)):
        again = required(Load(schedule="gb-6543", days=days, stack_height=3000), standing, 413.0).value
        assert again / found == pytest.approx(k / 1.6)


@pytest.mark.parametrize(("identity", "factor", "gross", "layers", "kilograms"), [
    ("F5", 4.0, 100.0, 3, 800.0),
    ("F6", 3.0, 10.0, 4, 90.0),
])  # fmt: skip
def test_safety_factor_times_load(identity: str, factor: float, gross: float, layers: int, kilograms: float) -> None:
    row = next(row for row in rows("strength_schedules") if row["id"] == identity)
    assert float(row["published_result"]) == kilograms
    load = Load(schedule="own", factor=factor)
    found = required(load, Standing(gross=gross, layers=layers), 300.0).value
    assert found / GRAVITY == pytest.approx(kilograms)


def test_ista_3e() -> None:
    """F8: 10 kg, six high, F 3: 150 kg."""
    row = next(row for row in rows("strength_schedules") if row["id"] == "F8")
    found = required(Load(schedule="ista-3e"), Standing(gross=10.0, layers=6), 300.0).value / GRAVITY
    assert f"{found:.0f} kg" in row["recomputed"]


def test_dangerous_goods_stack() -> None:
    """F13: 20 kg, 0.30 m: ten reach 3 m; 594 lbf, and a licensed approval is asked for."""
    row = next(row for row in rows("strength_schedules") if row["id"] == "F13")
    found = required(Load(schedule="cfr-178-606"), Standing(gross=20.0, layers=2), 300.0)
    assert f"{to_lbf(found.value):.0f} lbf" in row["recomputed"]
    assert found.remarks[0].code == "stack-dangerous-goods"


def test_load_on_the_bottom_box() -> None:
    """F15: boxes above, and the upper pallet's mass over the boxes of a layer."""
    assert standing_load(10.0, 5) == pytest.approx(4 * 10 * GRAVITY)
    assert standing_load(10.0, 5, 2, 8, 24.0) == pytest.approx((9 * 10 + 24 / 8) * GRAVITY)


CARRIER = [row for row in rows("strength_item222") if row["min_ECT_lb_in"] and "memory" not in row["ect_source"]]


@pytest.mark.parametrize("row", CARRIER, ids=lambda row: f"{row['wall']} {row['min_ECT_lb_in']}")
def test_item_222(row: dict[str, str]) -> None:
    """Each row: just within passes by its ECT, a little less ECT does not, a little more of mass or size does not."""
    gross, united, ect = (float(row[key]) for key in ("max_weight_lb", "max_united_in", "min_ECT_lb_in"))
    side = united * 25.4 / 3
    crush = ect * KN_M_PER_LB_IN
    fits = carrier_rule(row["wall"], gross * 0.45359237 - 1e-9, (side, side, side - 1e-6), crush)
    assert fits.holds, fits.message
    assert fits.needed is not None
    assert fits.needed["facings"] == float(row["min_facings_lb_msf"])
    assert fits.certificate == fits.needed
    kind = "puncture" if row["wall"] == "triple" else "burst"
    assert fits.needed[kind] == float(row["min_burst_psi_or_puncture"])
    assert not carrier_rule(row["wall"], gross * 0.4535, (side, side, side - 1e-6), crush * 0.99).holds
    assert not carrier_rule(row["wall"], gross * 0.4536, (side, side, side + 0.1), crush).holds
    assert not carrier_rule(row["wall"], gross * 0.454, (side, side, side - 1e-6), crush).holds


def test_item_222_has_every_published_row() -> None:
    published = rows("strength_item222")
    for wall in ("single", "double", "triple"):
        assert len(carrier_rows(wall)) == sum(row["wall"] == wall for row in published)


GRADES = [row for row in rows("strength_grades") if row["grade"][0].isdigit()]


@pytest.mark.parametrize("row", GRADES, ids=lambda row: f"{row['edition']} {row['grade']}")
def test_board_grades(row: dict[str, str]) -> None:
    found = grades(row["edition"])[row["grade"]]
    assert found["ect"] == float(row["ECT_kN_m"])
    assert found.get("burst", math.nan) == pytest.approx(float(row["burst_kPa"] or "nan"), nan_ok=True)
    assert found.get("puncture", math.nan) == pytest.approx(float(row["puncture_J"] or "nan"), nan_ok=True)
    assert found["walls"] == row["walls"]


def test_a_grade_gives_its_least_ect_to_a_board_of_its_walls() -> None:
    value, basis = grade_ect("1.30", find_board("C"))
    assert value == 4.5
    assert "Weka" in basis.source
