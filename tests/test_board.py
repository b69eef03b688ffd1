"""Boards: a library whose every value has a source, and files that add to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from dieline.board import WALLS, boards, find_board, read_boards
from dieline.errors import BoardError, JobError, UnknownNameError


def test_every_value_of_the_library_says_what_it_rests_on() -> None:
    for board in boards().values():
        assert board.wall in WALLS
        named = {key for key, source, confidence in board.sources if source and confidence}
        assert "calliper" in named, board.name
        assert not any(confidence == "memory" for _, _, confidence in board.sources), board.name


def test_the_library_has_single_double_triple_and_solid_board() -> None:
    by_wall = {wall: [b.name for b in boards().values() if b.wall == wall] for wall in WALLS}
    assert set("ABCEF") <= set(by_wall["single"])
    assert len(by_wall["double"]) >= 5
    assert len(by_wall["triple"]) >= 3
    assert [b.thickness for b in boards().values() if b.wall == "solid"] == [0.3, 0.4, 0.5, 0.6, 0.7, 0.8]


def test_names_are_found_whatever_their_case_and_near_ones_are_offered() -> None:
    assert find_board("bc").name == "BC"
    with pytest.raises(UnknownNameError, match="did you mean"):
        find_board("carton-0.45")


def _file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "boards.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_user_s_file_adds_and_overrides(tmp_path: Path) -> None:
    mine = read_boards(
        _file(
            tmp_path,
            '[[board]]\nname="C"\nwall="single"\nflutes=["C"]\ncalliper=4.2\n'
            '[[board]]\nname="own"\nwall="double"\nflutes=["B","C"]\ncalliper={value=6.6,source="gauge",confidence="house"}\ndesign=7\ngive=0.8',
        )
    )
    assert find_board("C", mine).thickness == 4.2
    own = find_board("own", mine)
    assert (own.calliper.value, own.thickness, own.give) == (6.6, 7.0, 0.8)
    assert find_board("C").thickness == 4.0


def test_every_problem_of_a_board_file_is_told_at_once(tmp_path: Path) -> None:
    path = _file(
        tmp_path,
        '[[board]]\nname="x"\nwall="paper"\nflutes=[]\n[[board]]\nname="y"\nwall="solid"\ncalliper=-1\ncolour="red"\n'
        '[[board]]\nwall="solid"\ncalliper=1\n[[board]]\nname="z"\nwall="solid"\ncalliper=400\n',
    )
    with pytest.raises(JobError) as caught:
        read_boards(path)
    text = str(caught.value)
    for part in (
        "'x'.wall",
        "'x'.calliper – is missing",
        "'y'.calliper – -1",
        "'y'.colour",
        "name in plain ASCII",
        "check the unit",
    ):
        assert part in text
    assert len(caught.value.problems) == 6


@pytest.mark.parametrize("design", [0.4, 2.7, 6.1, 40.0])
def test_a_design_thickness_far_from_the_calliper_is_a_slip_of_the_point(tmp_path: Path, design: float) -> None:
    path = _file(tmp_path, f'[[board]]\nname="x"\nwall="single"\nflutes=["C"]\ncalliper=4\ndesign={design}\n')
    with pytest.raises(JobError, match=r"design .* times the calliper 4 mm – check the decimal point|check the unit"):
        read_boards(path)


@pytest.mark.parametrize(
    ("text", "part"), [("", "is empty"), ("[[board", "is not TOML"), ("x = 1", "holds no"), ("\ufffe", "is not TOML")]
)
def test_what_is_no_board_file_is_refused(tmp_path: Path, text: str, part: str) -> None:
    with pytest.raises(BoardError, match=part):
        read_boards(_file(tmp_path, text))


def test_a_missing_file_a_folder_and_bytes_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BoardError, match="No such file"):
        read_boards(tmp_path / "none.toml")
    with pytest.raises(BoardError, match="is a folder"):
        read_boards(tmp_path)
    path = tmp_path / "x.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BoardError, match="UTF-8"):
        read_boards(path)
    path.write_bytes(b"#" * 6_000_000)
    with pytest.raises(BoardError, match="check the name"):
        read_boards(path)
