"""A tuck-end box of a federal item description: the folded inside keeps its tolerance, in every tuck style.

Source: the ``source`` column of data/federal_tuck_box.csv.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from dieline.board import find_board
from dieline.job import Job
from dieline.pipeline import run
from dieline.sizing import House
from dieline.units import Size
from dieline_styles.tuck_end import STYLES

DATA = Path(__file__).parent / "data" / "federal_tuck_box.csv"
INCH = 25.4


@pytest.mark.parametrize("code", ["straight-tuck", "0211", "slit-lock-carton"])
@pytest.mark.parametrize("board", ["carton-0.4", "carton-0.6", "carton-0.8"])
@pytest.mark.parametrize("step", [0.0, 0.1])
def test_the_inside_keeps_the_federal_tolerance(code: str, board: str, step: float) -> None:
    """Minus nothing, plus 3/16 in, measured between the walls of the folded box, even rounded to 0.1 mm."""
    with DATA.open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    asked = [float(row[f"{side}_in"]) * INCH for side in "LBH"]
    # Rounding may take half a step from a wall at each corner; the order is for so much more.
    length, breadth, height = (side + step for side in asked)
    size = Size(length, breadth, height)
    result = run(Job(style=code, size=size, board=find_board(board), house=House(step=step)), STYLES[code])
    assert result.failures == ()
    for side, least in zip(result.folded.inside, asked, strict=True):
        assert least - float(row["minus_in"]) * INCH - 1e-6 <= side <= least + float(row["plus_in"]) * INCH
