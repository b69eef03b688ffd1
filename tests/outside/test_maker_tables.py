"""Sizes against makers' published tables: the plain rule where they agree, rule and house file where they add more.

Source of each row: the ``source`` column of data/maker_allowances.csv and data/worked_blanks.csv.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from dieline.board import Board, find_board
from dieline.fold import prove_folded
from dieline.sizing import Allowance, House
from dieline.style.design import Design
from dieline.units import Size, parse_size
from dieline_styles.slotted import STYLES

DATA = Path(__file__).parent / "data"

Row = dict[str, str]


def rows(name: str) -> list[Row]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _board(thickness: float) -> Board:
    board = find_board("C")
    return replace(board, name="maker", design=replace(board.design, value=thickness))


def _build(style: str, size: Size, board: Board, house: House | None = None, **options: object) -> Design:
    found = STYLES[style]
    return found.build(found.order(size, board, options, house))


def test_the_plain_rule_is_the_published_example_in_a_flute() -> None:
    """500 x 400 x 300 in A flute of 5 mm: crease 505 x 405 x 310, outside 510 x 410 x 320.

    Source: box maker's size guide, e-carton.com/guide-size.html (trade practice).
    """
    board = _board(5.0)
    design = _build("0201", parse_size("500x400x300"), board)
    assert design.crease[:3] == (505, 405, 310)
    assert prove_folded(design, board).outside == (510, 410, 320)


def test_the_plain_rule_is_the_published_example_in_c_flute_inches() -> None:
    """9 x 6 x 10 in inside, designed at 3/16 in: score 9 3/16 x 6 3/16 x 10 3/8.

    Source: pack-design.com/how-to-measure-a-box and packageit.com/custom-boxes/box-101 (trade practice).
    """
    design = _build("0201", parse_size("9x6x10 in"), find_board("C-inch"))
    assert [value / 25.4 for value in design.crease[:3] if value] == pytest.approx([9.1875, 6.1875, 10.375])


AGREES = {("A", "5", "inside to crease"), ("C-inch", "4.7625", "inside to crease"), ("A", "10", "inside to outside")}


@pytest.mark.parametrize(
    "row", rows("maker_allowances.csv"), ids=lambda row: f"{row['board']} {row['add_L_mm']} {row['from_to']}"
)
def test_the_rule_never_gives_more_than_a_maker_s_table_and_agrees_where_it_should(row: Row) -> None:
    """Where a maker's table is plain geometry the rule is equal to it; where he adds play, the rule stays below."""
    thickness = float(row["thickness_mm"])
    board = _board(thickness)
    design = _build("0201", parse_size("400x300x250"), board)
    grown = design.crease if row["from_to"] == "inside to crease" else prove_folded(design, board).outside
    added = [value - inside for value, inside in zip(grown[:3], (400, 300, 250), strict=True) if value]
    maker = [float(row[f"add_{side}_mm"]) for side in "LBH"]
    if (row["board"], row["add_L_mm"], row["from_to"]) in AGREES:
        assert added == pytest.approx(maker)
    else:
        assert all(rule <= table + 1e-9 for rule, table in zip(added, maker, strict=True))


@pytest.mark.parametrize("row", [row for row in rows("maker_allowances.csv") if "crease" in row["from_to"]], ids=str)
def test_rule_and_house_file_give_the_maker_s_sizes(row: Row) -> None:
    """The difference goes into a house file, and the folded box is larger by just that, no more and no less."""
    t = float(row["thickness_mm"])
    board = _board(t)
    more = {side: float(row[f"add_{side}_mm"]) - {"L": t, "B": t, "H": 2 * t}[side] for side in "LBH"}
    house = House(
        allowances=(
            Allowance(size="panel 1 width", add=more["L"]),
            Allowance(size="panel 3 width", add=more["L"]),
            Allowance(size="panel 2 width", add=more["B"]),
            Allowance(size="panel 4 width", add=more["B"]),
            Allowance(size="panel height", add=more["H"]),
        )
    )
    design = _build("0201", parse_size("400x300x250"), board, house)
    asked = (400, 300, 250)
    wanted = [asked[i] + float(row[f"add_{side}_mm"]) for i, side in enumerate("LBH")]
    assert design.crease[:3] == pytest.approx(wanted)
    report = prove_folded(design, board)
    assert report.inside == pytest.approx([asked[i] + more[side] for i, side in enumerate("LBH")])
    assert not report.failures


def _size(row: Row, scale: float) -> Size:
    length, breadth, height = (float(row[side]) * scale for side in "LBH")
    return Size(length, breadth, height, float(row["o"]) * scale if row["o"] else None)


def _house_of(row: Row, scale: float) -> House:
    """The maker's habits: his allowances, all panels at full width, his lap."""
    t = float(row["thickness"]) * scale
    adds = {side: float(row[f"add_{side}"]) * scale for side in "LBH"}
    height = float(row["depth"]) * scale
    flaps = {name: float(row[name]) * scale for name in ("outer_flap", "inner_flap")}
    return House(
        give=1.5,
        crush=0.5,
        allowances=(
            Allowance(size="panel 2 width", add=adds["B"] - t),
            Allowance(size="panel 3 width", add=adds["L"] - t),
            Allowance(size="panel 1 width", put=float(row["panel_L"]) * scale),
            Allowance(size="panel 4 width", same_as="panel 2 width"),
            Allowance(size="panel height", put=height),
            Allowance(size="lap width", put=float(row["lap"]) * scale),
            Allowance(size="* outer flap", put=flaps["outer_flap"]),
            Allowance(size="* inner flap", put=flaps["inner_flap"]),
        ),
    )


@pytest.mark.parametrize("row", rows("worked_blanks.csv"), ids=lambda row: row["id"])
def test_a_house_file_reproduces_the_worked_blanks_to_the_last_digit(row: Row) -> None:
    scale = 25.4 if row["unit"] == "in" else 1.0
    size = _size(row, scale)
    board = _board(float(row["thickness"]) * scale)
    design = _build(row["style"], size, board, _house_of(row, scale), creases="one")
    faults = prove_folded(design, board, house_give=1.5).failures
    assert not [line for line in faults if "crease" in line], (
        "the plant's word on its creases covers the maker's blanks"
    )
    width, height = design.pieces[0].blank.size
    assert width == pytest.approx(float(row["blank_length"]) * scale)
    assert height == pytest.approx(float(row["blank_width"]) * scale)


def _ruled(row: Row) -> Iterator[tuple[str, float, float]]:
    """What the rule alone gives on the maker's thickness, beside the worked value, for the dimensions that are rule."""
    scale = 25.4 if row["unit"] == "in" else 1.0
    size = _size(row, scale)
    board = _board(float(row["add_L"]) * scale)  # the thickness that the maker's own L allowance implies
    design = _build(row["style"], size, board, creases="one")
    by_name = {line.name: line.ruled for line in design.sizes}
    for name, column in (
        ("panel 2 width", "panel_B"),
        ("panel 3 width", "panel_L"),
        ("bottom inner flap", "inner_flap"),
        ("bottom outer flap", "outer_flap"),
    ):
        yield name, by_name[name], float(row[column]) * scale


@pytest.mark.parametrize(
    "row", [row for row in rows("worked_blanks.csv") if row["style"] not in ("0203", "0206")], ids=lambda row: row["id"]
)
def test_panels_and_flaps_of_the_worked_blanks_follow_from_the_rule_alone(row: Row) -> None:
    """No house file: with the thickness that the maker's allowance implies, widths and flaps are his.

    0203 and 0206 are left out here: their full flaps are a board and a climb shorter by rule, for the last flap must
    climb over the first; the worked blanks let it be crushed.
    """
    for name, ruled, worked in _ruled(row):
        assert ruled == pytest.approx(worked), name


def _at_no_thickness(style: str, size: Size, **options: object) -> tuple[float, float]:
    """Width and height of the blank as the thickness goes to 0: both grow with it by a constant."""
    thin, thick = (
        _build(style, size, _board(t), None, lap_play=0.0, **options).pieces[0].blank.size for t in (0.4, 0.8)
    )
    return 2 * thin[0] - thick[0], 2 * thin[1] - thick[1]


def test_identities_at_no_thickness() -> None:
    """As t goes to 0 the blank is (2L + 2B) x (H + B), and for full overlap (2L + 2B) x (H + 2B).

    Source: blank formula of the German corrugated association (wellpappe-wissen.de), style definitions as published by
    box makers; 355 x 205 x 120.
    """
    size = parse_size("355x205x120")
    assert _at_no_thickness("0201", size, lap_width=35.0) == pytest.approx((1120 + 35, 325))
    assert _at_no_thickness("0203", size, lap_width=35.0, inner_flaps="equal") == pytest.approx((1120 + 35, 530))
    assert _at_no_thickness("0200", size, joint="taped") == pytest.approx((1120, 120 + 205 / 2))
    assert _at_no_thickness("0204", size, joint="taped") == pytest.approx((1120, 120 + 355))


def test_the_least_area_of_a_regular_case_is_at_two_one_two() -> None:
    """For a given volume the blank of 0201 is smallest at L:B:H = 2:1:2, with 7.1433 V^(2/3) at no thickness and lap 0.

    Source: trade pages (mickparkes.com, cocoguru.com) and calculus; a cube costs 12 % more, 3:2:1 costs 27 % more.
    """

    def area(ratio: tuple[float, float, float]) -> float:
        scale = (1e8 / math.prod(ratio)) ** (1 / 3)
        length, breadth, tall = (side * scale for side in ratio)
        width, height = _at_no_thickness("0201", Size(length, breadth, tall), joint="taped")
        return float(width * height / 1e8 ** (2 / 3))

    best = area((2, 1, 2))
    assert best == pytest.approx(7.1433, abs=2e-4)
    assert area((1, 1, 1)) / best == pytest.approx(1.12, abs=0.005)
    assert area((3, 2, 1)) / best == pytest.approx(1.27, abs=0.005)
    for ratio in ((2.1, 1, 2), (1.9, 1, 2), (2, 1, 2.1), (2, 1, 1.9)):
        assert area(ratio) > best
