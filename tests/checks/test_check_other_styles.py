"""Checks on designs that are no tube: walls round a base, rolled-over edges, several pieces, no options at all."""

from __future__ import annotations

from dataclasses import replace

from check_examples import look_at

from dieline.blank import Blank, Role
from dieline.board import find_board
from dieline.checks import Finding, Inspected, Severity, inspect
from dieline.drawing.model import draw_blank
from dieline.machine import Limit, MachineProfile
from dieline.style import Design, House, Order, Piece, Size, Stand
from dieline.style.sheet import Sheet

T = 4.0


def _tray(*, roll: float = 2 * T, flutes: str = "x") -> Blank:
    """A base with a plain wall on its right and a rolled-over one on its left."""
    sheet = Sheet("tray", flutes=flutes)
    sheet.panel("base", [(0, 0), (200, 0), (200, 100), (0, 100)], role=Role.PART)
    sheet.hang("right", "base", ((200, 0), (200, 100)), [(0, 0), (100, 0), (100, 40), (0, 40)], role=Role.WALL)
    sheet.hang("left", "base", ((0, 100), (0, 0)), [(0, 0), (100, 0), (100, 40), (0, 40)], role=Role.WALL)
    edge = ((-40.0, 100.0), (-40.0, 0.0))
    sheet.hang("rim", "left", edge, [(0, 0), (100, 0), (100, roll), (0, roll)], role=Role.PART)
    edge = ((-40.0 - roll, 100.0), (-40.0 - roll, 0.0))
    sheet.hang("inner", "rim", edge, [(0, 0), (100, 0), (100, 38), (0, 38)], role=Role.WALL)
    return sheet.blank()


def _inspected(*blanks: Blank, machine: MachineProfile | None = None) -> Inspected:
    board = find_board("C")
    size = Size(200, 100, 40)
    stand = Stand((0, 0), (0, 0, 0), (1, 0, 0), (0, 1, 0))
    design = Design(
        style="tray",
        pieces=tuple(Piece(blank=blank, stand=stand) for blank in blanks),
        inside=size,
        crease=size,
        sizes=(),
    )
    return Inspected(
        order=Order("tray", size, board, House()),
        design=design,
        board=board,
        drawings=tuple(draw_blank(blank) for blank in blanks),
        folded=look_at("0201 200x100x40 C").folded,
        machine=machine or MachineProfile(),
        mass=1.0,
    )


def _found(inspected: Inspected, check: str) -> list[Finding]:
    return [finding for finding in inspect(inspected) if finding.check == check]


def test_nothing_but_notes_on_a_plain_tray() -> None:
    found = inspect(_inspected(_tray()))
    assert {finding.severity for finding in found} == {Severity.NOTE}
    assert {finding.check for finding in found} == {"board-source", "crease-distance"}


def test_the_creases_of_a_rolled_edge_are_a_note() -> None:
    (finding,) = _found(_inspected(_tray()), "crease-distance")
    assert finding.severity is Severity.NOTE
    assert finding.measured == 8.0
    assert "have them made as a double crease" in finding.message


def test_two_creases_that_fold_apart_are_a_warning() -> None:
    blank = _tray()
    turned = blank.with_folds(replace(fold, angle=-90.0) if fold.child == "inner" else fold for fold in blank.folds)
    (finding,) = _found(_inspected(turned), "crease-distance")
    assert finding.severity is Severity.WARNING


def test_creases_far_enough_apart_are_left_alone() -> None:
    assert _found(_inspected(_tray(roll=11.0)), "crease-distance") == []


def test_flutes_of_a_tray_may_run_either_way() -> None:
    assert _found(_inspected(_tray(flutes="x")), "flutes-across") == []
    assert _found(_inspected(_tray(flutes="y")), "flutes-across") == []


def test_a_wall_s_width_runs_along_its_crease() -> None:
    machine = MachineProfile(name="press", limits={"panel": Limit(110, 500), "depth": Limit(39, 500)})
    found = _found(_inspected(_tray(), machine=machine), "machine-limits")
    assert [(finding.place, finding.measured) for finding in found] == [("inner, left, right", 100.0), ("inner", 38.0)]


def test_several_pieces_are_named() -> None:
    lid = replace(_tray(), name="lid")
    machine = MachineProfile(name="press", limits={"depth": Limit(39, 500), "blank_length": Limit(0, 300)})
    found = _found(_inspected(_tray(), lid, machine=machine), "machine-limits")
    assert [finding.place for finding in found] == ["lid, tray", "lid: inner, tray: inner"]
    places = [finding.place for finding in _found(_inspected(_tray(), lid), "crease-distance")]
    assert places == ["tray: rim at x 42, y 50", "lid: rim at x 42, y 50"]
