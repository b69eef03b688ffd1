"""Blanks of folders and sleeves against the identities of their constructions at no thickness.

Source of each row: the ``source`` column of data/zero_thickness_blanks.csv. The construction is what box makers
publish; the numbers are its arithmetic for 355 x 205 x 120 with every board thickness left out and no lap.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from dieline.board import Board, find_board
from dieline.style.contract import Style
from dieline.units import Size
from dieline_styles import five_panel, folder, slide, wrap_around

DATA = Path(__file__).parent / "data" / "zero_thickness_blanks.csv"

STYLES: dict[str, Style] = {**folder.STYLES, **wrap_around.STYLES, **five_panel.STYLES, **slide.STYLES}

Row = dict[str, str]


def rows() -> list[Row]:
    with DATA.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _board(thickness: float) -> Board:
    board = find_board("C")
    return replace(board, name="plain", design=replace(board.design, value=thickness))


def _options(row: Row) -> dict[str, object]:
    found: dict[str, object] = {}
    for entry in row["options"].split():
        name, value = entry.split("=")
        found[name] = float(value) if value.replace(".", "").isdigit() else value
    return found


def _blank(row: Row, thickness: float) -> tuple[float, float]:
    style = STYLES[row["style"]]
    size = Size(*(float(row[side]) for side in "LBH"))
    return style.build(style.order(size, _board(thickness), _options(row))).pieces[0].blank.size


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["id"])
def test_at_no_thickness_the_blank_is_its_identity(row: Row) -> None:
    """Both sides of a blank grow with t by a constant, so two thicknesses tell what is left at none."""
    thin, thick = _blank(row, 0.5), _blank(row, 1.0)
    at_none = sorted(2 * a - b for a, b in zip(thin, thick, strict=True))
    worked = [float(row["blank_length"]) + float(row["lap"]), float(row["blank_width"])]
    assert at_none == pytest.approx(sorted(worked))
    short, long = at_none
    assert short * (long - float(row["lap"])) / 1e6 == pytest.approx(float(row["area_m2"]))
    # And the growth is constant indeed.
    assert sorted(_blank(row, 2.0)) == pytest.approx(
        [a + 2 * (b - a) for a, b in zip(at_none, sorted(thick), strict=True)]
    )
