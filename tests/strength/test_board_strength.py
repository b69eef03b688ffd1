"""From papers to board: what a board file may state, and what comes of it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from stack_trials import board, papers

from dieline.board import Given, boards_from_text, find_board
from dieline.errors import InputError, JobError
from dieline.paper import Paper, Papers
from dieline.strength.bending import bending_of, liner_places, sandwich
from dieline.strength.board_strength import board_calliper, board_grammage, strength_of
from dieline.strength.compression import compression
from dieline.strength.grades import grades_for

HEAD = '[[board]]\nname = "q"\nwall = "single"\nflutes = ["C"]\ncalliper = 4.0\n'
THREE = "papers = [{ grammage = 140, sct = 2.4 }, { grammage = 112, sct = 1.8 }, { grammage = 140, sct = 2.4 }]\n"


def problems(text: str) -> str:
    with pytest.raises(JobError) as caught:
        boards_from_text(HEAD + text, "test")
    return caught.value.text


@pytest.mark.parametrize(("text", "says"), [
    ("ect = 44", "lb/in?"),
    ('ect = "44"', "must be a number of kN/m"),
    ("grade = 1.30", "text in quotes"),
    ("take_up = [1.4]", "must then list its papers"),
    ("papers = [{ grammage = 140 }]", "3 papers"),
    ("papers = [{ grammage = 140 }, { grammage = 1.1 }, { grammage = 140 }]", "40 to 600 g/m²"),
    ("papers = [{ grammage = 140, crush = 2 }, { grammage = 112 }, { grammage = 140 }]", "crush"),
    ("papers = [{ sct = 2 }, { grammage = 112 }, { grammage = 140 }]", "grammage"),
    ('papers = [{ grammage = 140, sct = "2" }, { grammage = 112 }, { grammage = 140 }]', "papers 1.sct"),
    (THREE + "take_up = [1.4, 1.3]", "one number for each flute"),
    ("bending_md = 14", "both along and across"),
])  # fmt: skip
def test_slips_in_a_board_file_are_told(text: str, says: str) -> None:
    assert says in problems(text)


def test_a_board_file_may_state_papers_ect_and_grade() -> None:
    found = boards_from_text(HEAD + THREE + 'adhesive = 9\ntake_up = [1.42]\nect = "32 lb/in"\ngrade = "1.40"\n', "t")
    q = found["q"]
    assert q.papers is not None
    assert [paper.sct for paper in q.papers.layers] == [2.4, 1.8, 2.4]
    assert q.ect is not None
    assert q.ect.value == pytest.approx(5.604, abs=1e-3)
    assert q.grade == "1.40"


def test_measured_goes_before_papers_and_papers_before_grade() -> None:
    plain = replace(find_board("C"), papers=papers(2.4, 1.8, 2.4), ect=Given(5.0, "lab", "house"), grade="1.50")
    assert strength_of(plain, 7.0).ect == 7.0
    assert strength_of(plain).ect == 5.0
    from_papers = strength_of(replace(plain, ect=None))
    assert from_papers.ect == pytest.approx(0.7 * (4.8 + 1.8 * (0.8 + 1.33 * 3.65 / 7.5)))
    assert "SCT" in from_papers.ect_basis.text
    assert strength_of(replace(plain, ect=None, papers=None)).ect == 6.5


def test_ring_crush_is_not_mixed_with_short_span() -> None:
    """One paper with ring crush only: neither sum can be made, and the board says what is missing."""
    mixed = Papers((Paper(grammage=140, sct=2.4), Paper(grammage=112, ring_crush=0.8), Paper(grammage=140, sct=2.4)))
    with pytest.raises(InputError, match="neither ect, grade nor papers"):
        strength_of(replace(find_board("C"), papers=mixed))
    ring = Papers(tuple(Paper(grammage=140, ring_crush=value, sct=None) for value in (1.5, 0.8, 1.5)))
    found = strength_of(replace(find_board("C"), papers=ring))
    assert found.ect_basis.confidence == "derived"


@pytest.mark.parametrize("name", ["BC", "AAC"])
def test_double_and_triple_walls_sum_all_papers(name: str) -> None:
    plain = find_board(name)
    count = 2 * len(plain.flutes) + 1
    found = strength_of(replace(plain, papers=papers(*[2.0] * count)))
    take_up = sum(0.8 + 1.33 * h / p for h, p in zip(plain.flute_height, plain.flute_pitch, strict=True))
    assert found.ect == pytest.approx(0.7 * 2.0 * (len(plain.flutes) + 1 + take_up))


def test_adhesive_that_is_not_stated_is_listed_as_assumed() -> None:
    plain = replace(find_board("C"), papers=papers(2.0, 2.0, 2.0))
    assert "adhesive 10 g/m² on 2 glue lines (common practice, no source)" in strength_of(plain).assumed
    stated = replace(plain, papers=Papers(papers(2.0, 2.0, 2.0).layers, (1.4,), 8.0))
    found = board_grammage(stated)
    assert found is not None
    assert found[0] == pytest.approx(140 * 3.4 + 8)
    assert strength_of(stated).assumed == ()


def test_calliper_from_papers_counts_liners_flute_and_crush() -> None:
    thick = Papers(tuple(Paper(grammage=140, sct=2.0, thickness=value) for value in (0.25, 0.2, 0.25)))
    assert board_calliper(replace(find_board("C"), papers=thick)) == pytest.approx(0.25 + 0.25 + 3.65 - 0.0762)
    assert board_calliper(find_board("C")) is None


def test_a_sandwich_bends_as_its_faces_apart() -> None:
    """Two equal faces: S × d² / 2; uneven ones: S1 S2 / (S1 + S2) × d²; each a beam about its neutral line."""
    assert sandwich([800.0, 800.0], [0.0, 4.0]) == pytest.approx(800 * 16 / 2 / 1000)
    assert sandwich([600.0, 1200.0], [0.0, 3.9]) == pytest.approx(600 * 1200 / 1800 * 3.9**2 / 1000)
    assert sandwich([900.0], [0.0], [0.2]) == pytest.approx(900 * 0.04 / 12 / 1000)


def test_full_mckee_from_the_stiffness_of_liners() -> None:
    liner = Paper(grammage=140, sct=2.4, thickness=0.2, stiffness_md=1100.0, stiffness_cd=450.0)
    stiff = Papers((liner, Paper(grammage=112, sct=1.8), liner))
    plain = replace(find_board("C"), papers=stiff)
    found = bending_of(plain)
    assert found is not None
    along, across, basis = found
    assert liner_places(plain) == pytest.approx([0.0, 3.85])
    assert along / across == pytest.approx(1100 / 450)
    assert along == pytest.approx((1100 * 3.85**2 / 2 + 2 * 1100 * 0.04 / 12) / 1000)
    assert basis.confidence == "derived"
    strength = strength_of(plain)
    assert compression(plain, strength, 1400.0, "mckee-full").value > 0.0
    measured = replace(plain, bending=(Given(14.0, "lab", "house"), Given(6.0, "lab", "house")))
    assert strength_of(measured).bending == (14.0, 6.0)


def test_solid_board_and_fine_flutes_are_told_apart() -> None:
    with pytest.raises(InputError, match="corrugated board only"):
        strength_of(find_board("carton-0.5"))
    with pytest.raises(InputError, match="only of D, E, F or G flute"):
        strength_of(replace(find_board("E"), grade="1.30"))
    with pytest.raises(InputError, match="single wall"):
        strength_of(replace(find_board("BC"), grade="1.30"))
    with pytest.raises(InputError, match=r"1\.30"):
        strength_of(replace(find_board("C"), grade="1.31"))
    assert list(grades_for(find_board("E"))) == []
    assert next(iter(grades_for(board("BC"))))[1] == 6.5
