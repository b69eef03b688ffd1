"""The worked blanks of a telescope of two trays: base at zero thickness, lid over a base of 4 mm board.

Source: the ``source`` column of data/telescope_blanks.csv.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from dieline.blank import Blank
from dieline.board import Board, find_board
from dieline.style import Order
from dieline.units import Size
from dieline_styles.telescope import STYLES

with (Path(__file__).parent / "data" / "telescope_blanks.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = {row["id"]: row for row in csv.DictReader(_file)}


def _board(thickness: float) -> Board:
    board = find_board("C")
    return replace(board, name="any", design=replace(board.design, value=thickness))


def _built(row: dict[str, str], thickness: float, **options: object) -> tuple[Order, dict[str, Blank]]:
    length, breadth, height, lid = (float(row[side]) for side in ("L", "B", "H", "h"))
    style = STYLES[row["style"]]
    order = style.order(Size(length, breadth, height, lid), _board(thickness), options)
    return order, {piece.name: piece.blank for piece in style.build(order).pieces}


def _without_board(row: dict[str, str], piece: str, **options: object) -> tuple[float, float]:
    """Size of a blank at zero thickness: it grows evenly with the board, so two thicknesses say it."""
    sizes = [_built(row, t, **options)[1][piece].size for t in (1.0, 2.0)]
    length, width = (2 * thin - thick for thin, thick in zip(*sizes, strict=True))
    return length, width


@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("on", ["L", "B"])
def test_at_zero_thickness_the_base_is_its_inside_and_its_walls(on: str, side: str) -> None:
    row = ROWS["D-Z-0300b"]
    size = _without_board(row, "base", lap_on=on, lap_side=side, lap_width=30.0)
    assert size == pytest.approx((float(row["blank_length"]), float(row["blank_width"])))


@pytest.mark.parametrize("on", ["L", "B"])
def test_across_its_walls_the_lid_is_the_base_and_the_clearance(on: str) -> None:
    """The row speaks of single walls; where laps double them, two boards more each way are asked for and drawn."""
    row = ROWS["D-T-0300l"]
    t = float(row["thickness"])
    order, _ = _built(row, t, lap_on=on, clearance=float(row["clearance"]))
    drawn = [order.ledger.value(f"lid top {side}") - t for side in ("length", "breadth")]
    laps = [2 * t + 2 * t, 0.0] if on == "L" else [0.0, 2 * t + 2 * t]  # the base's, and the lid's own
    assert drawn == pytest.approx([float(row["inside_L"]) + laps[0], float(row["inside_B"]) + laps[1]])


def test_without_crease_allowances_the_lid_is_its_inside_and_its_walls() -> None:
    """The row's lid, made as a base of its own: its blank at zero thickness."""
    row = ROWS["D-T-0300l"]
    lid = row | {"L": row["inside_L"], "B": row["inside_B"], "H": row["h"], "h": "30"}
    size = _without_board(lid, "base", lap_width=20.0, lap_foot=3.0)
    assert size == pytest.approx((float(row["blank_length"]), float(row["blank_width"])))
