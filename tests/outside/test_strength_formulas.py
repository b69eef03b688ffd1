"""Box compression against published formulas and worked examples, in SI and in pounds and inches."""

from __future__ import annotations

import csv
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from dieline.board import Given, find_board
from dieline.force import KN_M_PER_LB_IN, N_PER_LBF, parse_line_force, to_lbf
from dieline.paper import Paper, Papers
from dieline.strength.basis import table
from dieline.strength.board_strength import board_grammage, ect_sum, strength_of
from dieline.strength.compression import compression, kellicutt, mckee_full, mckee_short
from dieline.strength.standing import standing_load
from dieline.strength.take_up import sine_take_up, table_take_up, tenzer_take_up

DATA = Path(__file__).with_name("data")
LB_IN = 0.11298482902761668
"""N·m of one lb·in: 4.4482216152605 N × 0.0254 m."""


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    assert all(row["source"] for row in found), f"every row of {name} says where it comes from"
    return found


def worked(identity: str) -> float:
    """The result of a worked example: the first number of what the row states."""
    row = next(row for row in rows("strength_mckee") if row["id"] == identity)
    found = re.match(r"[\d.]+", row["recomputed"] or row["published_result"])
    assert found, identity
    return float(found[0])


def test_short_mckee_in_pounds_and_in_newtons_is_one_formula() -> None:
    """M1 and M2: 32 lb/in, 0.16 in, 56 in."""
    ect, calliper, perimeter = 32 * KN_M_PER_LB_IN, 0.16 * 25.4, 56 * 25.4
    newtons = mckee_short(ect, calliper, perimeter)
    assert to_lbf(newtons) == pytest.approx(worked("M1"), abs=0.005)
    assert newtons == pytest.approx(worked("M2"), abs=0.005)
    assert to_lbf(mckee_short(ect, calliper, perimeter, "mckee-short-5876")) == pytest.approx(worked("M3"), abs=0.005)


def test_short_mckee_with_handbook_exponents_gives_less() -> None:
    """M4: worked in inches, 4.5 % below the square-root form."""
    found = mckee_short(32.0, 0.16, 56.0, "mckee-handbook")
    assert found == pytest.approx(worked("M4"), abs=0.005)
    assert found / worked("M1") == pytest.approx(0.955, abs=0.001)


def test_handbook_exponents_hold_in_any_unit_as_they_sum_to_one() -> None:
    board = replace(find_board("C"), ect=Given(32 * KN_M_PER_LB_IN, "test", "house"))
    strength = replace(strength_of(board), calliper=0.16 * 25.4)
    found = compression(board, strength, 56 * 25.4, "mckee-handbook")
    assert found.pounds == pytest.approx(worked("M4"), abs=0.005)


def test_short_forms_in_metric_units() -> None:
    """M5 and M7, and M6: the form in cm that gives daN stands 0.2 % above M5."""
    assert mckee_short(6.0, 4.0, 1400.0) == pytest.approx(worked("M5"), abs=0.005)
    assert mckee_short(6.0, 4.0, 1400.0, "short-12-mm") == pytest.approx(worked("M7"), abs=0.005)
    assert mckee_short(6.0, 4.0, 1400.0) == pytest.approx(10 * worked("M6"), rel=0.003)


def test_double_wall_at_twelve_millimetres_is_17_percent_below_single_wall_mckee() -> None:
    found = mckee_short(6.0, 7.0, 1400.0, "short-12-mm", double=True)
    assert found / mckee_short(6.0, 7.0, 1400.0) == pytest.approx(4.87 / 5.87, rel=1e-9)
    assert table("loss")["double_wall"]["worst"] == pytest.approx(4.87 / 5.87, abs=0.001)


def test_full_mckee() -> None:
    """M8 in SI; M9: the same in pounds and inches and turned to SI."""
    assert mckee_full(6.0, (14.0, 6.0), 1400.0) == pytest.approx(worked("M8"), abs=0.005)
    found = mckee_full(44 * KN_M_PER_LB_IN, (150 * LB_IN, 60 * LB_IN), 56 * 25.4)
    assert to_lbf(found) == pytest.approx(worked("M9"), abs=0.005)
    rule = table("formula")["mckee-full"]
    inches = rule["constant"] * 44 ** rule["ect"] * math.sqrt(150 * 60) ** rule["bending"] * 56 ** rule["perimeter"]
    assert inches == pytest.approx(worked("M9"), abs=0.005)


def test_exponents_of_the_full_form_make_a_force() -> None:
    rule = table("formula")["mckee-full"]
    assert rule["ect"] + rule["bending"] == pytest.approx(1.0), "force"
    assert -rule["ect"] + rule["bending"] + rule["perimeter"] == pytest.approx(0.0, abs=1e-12), "length"


def test_kellicutt_of_the_published_television_carton() -> None:
    """K2 and K3: 48 kg, four high, factor 6.5; ECT 95.2 N/cm, Z 309.6 cm, AB flute; the page rounds J to 1.01."""
    required = 6.5 * standing_load(48.0, 4)
    assert required == pytest.approx(worked("K2"), rel=0.0005), "the page takes g as 9.81"
    row = next(row for row in rows("strength_mckee") if row["id"] == "K3")
    found = kellicutt(parse_line_force("95.2 N/cm", where="ect"), "AB", 3096.0)
    assert found == pytest.approx(float(row["published_result"]), rel=0.001)
    assert found == pytest.approx(worked("K3"), rel=0.005), "with the rounded metric J"


@pytest.mark.parametrize("row", rows("strength_kellicutt"), ids=lambda row: row["flute"])
def test_kellicutt_constants(row: dict[str, str]) -> None:
    rule = table("kellicutt")[row["flute"]]
    assert (rule["aXz"], rule["J"]) == (float(row["aXz"]), float(row["J_US"]))
    assert rule["J_metric"] == float(row["J_metric"])
    assert rule["J"] * 2.54 ** (2 / 3) == pytest.approx(rule["J_metric"], abs=0.012), "one constant in two units"


def test_edge_crush_from_short_span_compression() -> None:
    """E1: liners 4.0 + 4.0, medium 2.4 kN/m, take-up 1.42."""
    assert ect_sum([4.0, 4.0], [2.4], [1.42], table("ect")["sct"]["constant"]) == pytest.approx(worked("E1"), abs=5e-4)


def test_edge_crush_from_ring_crush() -> None:
    """A published specification: ring crush 70/28/42 lb per 6 in gives 32 lb/in."""
    found = {row["item"]: row["value"] for row in rows("strength_board_mass")}
    outer, medium, inner = (
        parse_line_force(f"{part.strip()} lb/6in", where="ring crush")
        for part in found["Liconsa ring crush out/medium/in"].split("/")
    )
    ect = ect_sum([outer, inner], [medium], [1.43], table("ect")["ring_crush"]["constant"])
    stated = float(found["Liconsa ECT"].split()[0])
    assert ect / KN_M_PER_LB_IN == pytest.approx(stated, rel=0.01)


def papers(outer: float, medium: float, inner: float, take_up: float) -> Papers:
    layers = tuple(Paper(grammage=value, sct=2.0) for value in (outer, medium, inner))
    return Papers(layers, (take_up,), 0.0)


def test_grammage_of_42_26_42() -> None:
    """591.6 g/m² and a medium's share of 30.7 % at take-up 1.43; 28.7 % at 1.3."""
    lb = 4.882
    row = {row["item"]: row for row in rows("strength_board_mass")}
    for factor in ("1.3", "1.43"):
        board = replace(find_board("C"), papers=papers(42 * lb, 26 * lb, 42 * lb, float(factor)))
        found = board_grammage(board)
        assert found is not None
        share = 100 * 26 * lb * float(factor) / found[0]
        assert share == pytest.approx(float(row[f"medium share, 42/26/42, factor {factor}"]["value"]), abs=0.05)
    assert found is not None
    assert found[0] == pytest.approx(591.6, abs=0.3)


def test_grammage_of_a_published_board() -> None:
    """Papers 156 + 114 and medium 114 of a 436 g/m² board: the take-up it implies is 1.456, with no adhesive."""
    found = {row["item"]: row["value"] for row in rows("strength_board_mass")}
    for (outer, inner), take_up, item in (((156, 114), 1.456, "low"), ((190, 140), 1.443, "high")):
        board = replace(find_board("C"), papers=papers(outer, inner, inner, take_up))
        grammage = board_grammage(board)
        assert grammage is not None
        assert grammage[0] == pytest.approx(float(found[f"Liconsa 32 ECT board, total, {item} end"]), abs=0.2)


TAKE_UP = [row for row in rows("strength_take_up") if row["flute"] in "ABCE"]


@pytest.mark.parametrize("row", TAKE_UP, ids=lambda row: f"{row['flute']} {row['quantity']} {row['nominal']}")
def test_take_up(row: dict[str, str]) -> None:
    """Tenzer's rule, the arc of a sine, and the association's rounded table; bare values lie between them."""
    stated = float(row["nominal"])
    if row["edition_or_region"] == "Japan":
        assert table_take_up(row["flute"]) == stated
    elif row["quantity"] == "take_up":
        board = find_board(row["flute"])
        assert tenzer_take_up(board.flute_height[0], board.flute_pitch[0]) == pytest.approx(stated, rel=0.02)
    else:
        size = re.findall(r"[\d.]+", row["edition_or_region"])
        height, pitch = float(size[0]), float(size[1])
        if "/ft" in row["edition_or_region"]:
            pitch = 12.0 / pitch
        rule = tenzer_take_up if row["quantity"].endswith("tenzer") else sine_take_up
        assert rule(height, pitch) == pytest.approx(stated, abs=0.001), "the row rounds the pitch to 0.01 mm"


def test_pound_force_is_exact() -> None:
    assert pytest.approx(4.4482216152605, abs=1e-13) == N_PER_LBF
