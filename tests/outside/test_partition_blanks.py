"""Slotted partitions at zero thickness, where slots stand at equal parts of the sides and are half as deep as strips.

Source: the ``source`` column of data/partition_blanks.csv.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from dieline.board import find_board
from dieline.style.design import Piece
from dieline.units import Size
from dieline_styles.partition import STYLES

with (Path(__file__).parent / "data" / "partition_blanks.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = {row["id"]: row for row in csv.DictReader(_file)}

PLAYS = dict.fromkeys(("slot_play", "end_play", "height_play", "depth_play"), 0.0)


def _pieces(row: dict[str, str], thickness: float) -> tuple[Piece, ...]:
    board = find_board("C")
    thin = replace(board, name="any", design=replace(board.design, value=thickness))
    style = STYLES["0933"]
    cells: dict[str, object] = {name: int(row[name]) for name in ("cells_along", "cells_across")}
    order = style.order(Size(*(float(row[side]) for side in "LBH")), thin, {**PLAYS, **cells})
    return style.build(order).pieces


def _slots(piece: Piece) -> tuple[list[float], float]:
    """Middles of the slots, and how deep they are cut."""
    outline = piece.blank.panels[0].outline
    tall = outline.bounds[3]
    inner = [(x, y) for x, y in outline.points if 1e-6 < y < tall - 1e-6]
    places = sorted({x for x, _ in inner})
    above = piece.name == "long strip"
    return [(a + b) / 2 for a, b in zip(places[::2], places[1::2], strict=True)], (
        tall - inner[0][1] if above else inner[0][1]
    )


@pytest.mark.parametrize("name", ROWS)
def test_slots_stand_at_equal_parts_without_board(name: str) -> None:
    """Everything grows evenly with the board, so two thicknesses say what it is at none."""
    row = ROWS[name]
    thin, thick = (_pieces(row, t) for t in (1.0, 2.0))
    for place, column in enumerate(("long_slots", "cross_slots")):
        (near, depth), (far, _) = _slots(thin[place]), _slots(thick[place])
        middles = [2 * a - b for a, b in zip(near, far, strict=True)]
        assert middles == pytest.approx([float(value) for value in row[column].split()], abs=0.02)
        assert depth == pytest.approx(float(row["slot_depth"]))


@pytest.mark.parametrize("name", ROWS)
def test_the_board_in_all_strips_is_that_of_their_rectangles(name: str) -> None:
    row = ROWS[name]
    area = sum(piece.blank.size[0] * piece.blank.size[1] * piece.count for piece in _pieces(row, 1.0))
    assert area == pytest.approx(float(row["board_area"]))
