"""The library's flutes fall into the classes of DIN 55468-1:2021 by height and by pitch.

Source: the standard's class limits as reprinted by a box maker, weka-sebnitz.de/richtlinien.html (published): height
at least the lower limit and under the upper one; pitch over the lower limit and at most the upper one.
"""

from __future__ import annotations

import pytest

from dieline.board import boards

HEIGHT = {"F": (0.6, 1.0), "E": (1.0, 1.9), "B": (2.2, 3.1), "C": (3.1, 4.0), "A": (4.0, 5.0)}
PITCH = {"F": (1.8, 2.6), "E": (2.6, 3.5), "B": (4.8, 6.5), "C": (6.5, 7.9), "A": (7.9, 10.0)}

# NF Q 12-008 (1988), as quoted in the professional usages of the French association: calliper of single walls, mm.
CALLIPER = {"A": (4.5, 99.0), "C": (3.5, 4.5), "B": (2.0, 3.5), "E": (0.0, 2.0)}


@pytest.mark.parametrize(
    "board", [board for board in boards().values() if board.corrugated], ids=lambda board: board.name
)
def test_every_flute_of_every_board_is_in_its_class(board: object) -> None:
    from dieline.board import Board

    assert isinstance(board, Board)
    assert len(board.flutes) == len(board.flute_height) == len(board.flute_pitch)
    for flute, height, pitch in zip(board.flutes, board.flute_height, board.flute_pitch, strict=True):
        low, high = HEIGHT[flute]
        assert low <= height < high
        low, high = PITCH[flute]
        assert low < pitch <= high


@pytest.mark.parametrize("name", sorted(CALLIPER))
def test_callipers_of_single_walls_are_in_the_standard_s_range(name: str) -> None:
    low, high = CALLIPER[name]
    assert low < boards()[name].calliper.value < high


@pytest.mark.parametrize(
    "board", [board for board in boards().values() if board.corrugated], ids=lambda board: board.name
)
def test_a_board_is_thicker_than_its_waves(board: object) -> None:
    from dieline.board import Board

    assert isinstance(board, Board)
    assert board.calliper.value > sum(board.flute_height)
