"""From papers to board: grammage, calliper and edge crush resistance, each with what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..board import Board
from ..errors import InputError
from ..force import ect_in_range
from ..paper import Paper
from .basis import NO_SOURCE, Basis, basis_of, table
from .bending import bending_of
from .grades import grade_ect
from .take_up import board_take_up

__all__ = ["BoardStrength", "board_calliper", "board_grammage", "ect_from_papers", "strength_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardStrength:
    """What counts of a board when a box of it is loaded.

    Attributes:
        ect: Edge crush resistance, kN/m.
        ect_basis: What it rests on.
        calliper: mm.
        grammage: g/m²; None where it cannot be had.
        grammage_basis: What it rests on.
        bending: Bending stiffness along and across the machine, N·m; None where it cannot be had.
        bending_basis: What it rests on.
        assumed: What had to be taken as usual, in words.
    """

    ect: float
    ect_basis: Basis
    calliper: float
    grammage: float | None = None
    grammage_basis: Basis | None = None
    bending: tuple[float, float] | None = None
    bending_basis: Basis | None = None
    assumed: tuple[str, ...] = ()


def ect_sum(liners: Sequence[float], mediums: Sequence[float], take_up: Sequence[float], constant: float) -> float:
    """Edge crush resistance from the crush of the papers, in the unit that they have.

    Args:
        liners: Crush of each liner across the machine, force per length.
        mediums: The same for the mediums.
        take_up: Take-up of each medium.
        constant: 0.7 for short-span compression, 1.26 for ring crush.

    Example:
        >>> round(ect_sum([4.0, 4.0], [2.4], [1.42], 0.7), 4)
        7.9856
    """
    return constant * (sum(liners) + sum(alpha * crush for alpha, crush in zip(take_up, mediums, strict=True)))


def ect_from_papers(board: Board) -> tuple[float, Basis] | None:
    """Edge crush resistance of a board from its papers, kN/m; None where they do not state enough.

    Short-span compression of all papers comes first, then ring crush of all of them; the two are never mixed.
    """
    if board.papers is None:
        return None
    for key, rule in (("sct", "sct"), ("ring_crush", "ring_crush")):
        liners, mediums = _crush(board.papers.liners, key), _crush(board.papers.mediums, key)
        if liners is not None and mediums is not None:
            take_up, basis = board_take_up(board)
            entry = table("ect")[rule]
            value = ect_sum(liners, mediums, take_up, entry["constant"])
            shown = ", ".join(f"{alpha:.3g}" for alpha in take_up)
            return value, basis_of(entry, f"{entry['formula']}, take-up {shown} ({basis.text})")
    return None


def board_grammage(board: Board) -> tuple[float, Basis, tuple[str, ...]] | None:
    """Grammage of a board, g/m²: as stated, else liners, mediums times take-up, and adhesive."""
    if board.grammage is not None:
        given = board.grammage
        return given.value, Basis(text="as stated", source=given.source, confidence=given.confidence), ()
    papers = board.papers
    if papers is None:
        return None
    take_up, basis = board_take_up(board)
    adhesive = papers.adhesive
    assumed: tuple[str, ...] = ()
    if adhesive is None:
        rule = table("adhesive")
        lines = 2 * len(board.flutes)
        adhesive = float(rule["value"]) * lines
        assumed = (f"adhesive {adhesive:g} g/m² on {lines} glue lines ({NO_SOURCE})",)
    mediums = sum(alpha * paper.grammage for alpha, paper in zip(take_up, papers.mediums, strict=True))
    value = sum(paper.grammage for paper in papers.liners) + mediums + adhesive
    text = "liners + take-up × mediums + adhesive; " + basis.text
    return value, Basis(text=text, source=basis.source, confidence="derived"), assumed


def board_calliper(board: Board) -> float | None:
    """Calliper from papers, mm: liners and flute heights less the crush at the tips; None if not all are known.

    The board's own calliper, as measured, always goes before it.

    Source: AICC Ask Ralph, formula for board caliper (10 Feb 2014); roll wear is not counted, mediums are not added.

    Example:
        A C board with liners of 0.25 mm: 0.25 + 0.25 + 3.65 - 0.076 = 4.07 mm.
    """
    if board.papers is None or len(board.flute_height) != len(board.flutes):
        return None
    thickness = [paper.thickness for paper in board.papers.liners]
    if None in thickness:
        return None
    crush = float(table("crush_allowance")["value"]) * len(board.flutes)
    return sum(value or 0.0 for value in thickness) + sum(board.flute_height) - crush


def strength_of(board: Board, ect: float | None = None) -> BoardStrength:
    """What counts of a board: ECT as given with the load, else as measured, else from papers, else from its grade.

    Args:
        board: The board.
        ect: Edge crush resistance that goes before the board's own, kN/m.

    Raises:
        InputError: If the board is not corrugated, or its edge crush resistance cannot be had; the error names what
            would do.
    """
    if not board.corrugated:
        must = "the formulas speak of corrugated board only"
        raise InputError(f"board {board.name}", "is solid board", must, "have the box tested (ISO 12048)")
    found = _ect(board, ect)
    if found is None:
        must = "a box cannot be reckoned without its edge crush resistance"
        cure = "give load.ect, or ect, grade or papers (with sct or ring_crush) of the board in a board file"
        raise InputError(f"board {board.name}", "states neither ect, grade nor papers", must, cure)
    bending, grammage = bending_of(board), board_grammage(board)
    return BoardStrength(
        ect=ect_in_range(found[0], where=f"board {board.name}, ECT"),
        ect_basis=found[1],
        calliper=board.calliper.value,
        grammage=grammage[0] if grammage else None,
        grammage_basis=grammage[1] if grammage else None,
        bending=bending[:2] if bending else None,
        bending_basis=bending[2] if bending else None,
        assumed=grammage[2] if grammage else (),
    )


def _ect(board: Board, ect: float | None) -> tuple[float, Basis] | None:
    if ect is not None:
        return ect, Basis(text="as given with the load", source="load.ect", confidence="house")
    if board.ect is not None:
        given = board.ect
        return given.value, Basis(text="as measured", source=given.source, confidence=given.confidence)
    return ect_from_papers(board) or (grade_ect(board.grade, board) if board.grade else None)


def _crush(papers: Sequence[Paper], key: str) -> list[float] | None:
    found = [getattr(paper, key) for paper in papers]
    return None if None in found else [float(value) for value in found]
