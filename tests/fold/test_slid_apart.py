"""Pieces that slide to their place: what is in the way is struck, what is not is passed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dieline.board import find_board
from dieline.errors import StyleError
from dieline.fold import prove_folded
from dieline.fold.slide import apart
from dieline.style import Design, Piece, Sheet, Size, Slide, Stand, rectangle

BOARD = find_board("C")


def _plate(name: str, size: float, origin: tuple[float, float, float]) -> Piece:
    """A square level plate; ``origin`` is where its lower left corner lies."""
    sheet = Sheet(name)
    sheet.panel("plate", rectangle(0.0, 0.0, size, size))
    return Piece(blank=sheet.blank(), stand=Stand((0.0, 0.0), origin, (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))


def _shelves(start: tuple[float, float, float], samples: int = 8) -> Design:
    """A plate that ends up under another one."""
    return Design(
        style="shelves",
        pieces=(_plate("upper", 100.0, (0.0, 0.0, 50.0)), _plate("lower", 60.0, (20.0, 20.0, 0.0))),
        inside=Size(100.0, 100.0, 50.0),
        crease=Size(100.0, 100.0, 50.0),
        sizes=(),
        measures="",
        slides=(Slide(name="slide in", piece="lower", start=start, samples=samples),),
    )


def test_from_above_it_passes_through_the_upper_plate() -> None:
    failures = prove_folded(_shelves((0.0, 0.0, 100.0)), BOARD).failures
    assert failures == ("slide in: upper: plate strikes lower: plate; give it more room, or shorten one of them",)


@pytest.mark.parametrize("start", [(200.0, 0.0, 0.0), (0.0, -200.0, 0.0), (0.0, 0.0, -100.0), (0.0, 0.0, 45.9)])
def test_from_the_side_or_from_below_it_comes_in(start: tuple[float, float, float]) -> None:
    """A board's distance and a tenth more is still free."""
    assert prove_folded(_shelves(start), BOARD).failures == ()


def test_what_is_reached_only_at_the_start_of_the_way_is_struck_too() -> None:
    assert len(prove_folded(_shelves((0.0, 0.0, 46.1)), BOARD).failures) == 1


@pytest.mark.parametrize("samples", [1, 8, 100])
@pytest.mark.parametrize("high", [54.1, 60.0, 90.0, 3000.0])
def test_however_far_and_however_few_samples_it_is_struck_and_told_once(high: float, samples: int) -> None:
    """The samples lie where the two are in each other's way, so a thin plate on a long way is not jumped over."""
    assert len(prove_folded(_shelves((0.0, 0.0, high), samples=samples), BOARD).failures) == 1


def test_a_piece_that_is_not_there_is_the_styles_fault() -> None:
    design = _shelves((0.0, 0.0, 100.0))
    (slide,) = design.slides
    with pytest.raises(StyleError, match="moves a piece 'drawer' that is not there"):
        prove_folded(replace(design, slides=(replace(slide, piece="drawer"),)), BOARD)


def test_one_of_several_is_named_by_its_number() -> None:
    design = _shelves((0.0, 0.0, 100.0))
    upper, lower = design.pieces
    twice = replace(lower, count=2, more=(replace(lower.stand, origin=(20.0, 20.0, 100.0)),))
    for number, struck in ((1, True), (2, False)):
        slide = replace(design.slides[0], piece=f"lower {number}", start=(0.0, 0.0, 90.0))
        failures = prove_folded(replace(design, pieces=(upper, twice), slides=(slide,)), BOARD).failures
        assert bool(failures) is struck


def test_apart_every_piece_stands_where_it_starts() -> None:
    design = apart(_shelves((0.0, 0.0, 100.0)))
    assert [piece.stand.origin for piece in design.pieces] == [(0.0, 0.0, 50.0), (20.0, 20.0, 100.0)]
