"""The folded proof finds a right box right, and each way of being wrong wrong."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dieline.blank import Blank, Face, Fold
from dieline.board import find_board
from dieline.fold import FoldReport, prove_folded
from dieline.fold.pose import pose_panels
from dieline.fold.slab import stand_up
from dieline.style.design import Closed, Design, Piece, Stand
from dieline.units import Size, parse_size
from dieline_styles.slotted import STYLES

BOARD = find_board("C")


def _design(style: str = "0201", size: str = "300x200x150", **options: Any) -> Design:
    found = STYLES[style]
    return found.build(found.order(parse_size(size), BOARD, options))


def _changed(design: Design, change: Any) -> Design:
    """The design with each panel and fold passed through ``change``."""
    (piece,) = design.pieces
    blank = piece.blank
    panels = tuple(change(panel) for panel in blank.panels)
    folds = tuple(change(fold) for fold in blank.folds)
    return replace(design, pieces=(replace(piece, blank=Blank(blank.name, panels, folds, blank.joints)),))


def test_a_regular_slotted_box_measures_what_was_asked() -> None:
    report = prove_folded(_design(), BOARD)
    assert report.inside == (300.0, 200.0, 150.0)
    assert report.clear == (296.0, 200.0, 150.0)
    assert report.outside == (308.0, 208.0, 166.0)
    assert (report.clashes, report.open_faces, report.failures) == ((), (), ())


def test_flaps_of_one_plane_are_told_by_how_far_they_overlap() -> None:
    """Moved out of each other they would have to be 80 mm apart, not the one board that they lie in."""
    report = prove_folded(_design("0203", inner_flaps="equal"), BOARD)
    assert "bottom flap 2 runs into bottom flap 4 by 80 mm; shorten, narrow or move one of them" in report.failures


def test_slots_narrower_than_the_board_are_seen_the_moment_they_are() -> None:
    def narrowed(by: float) -> FoldReport:
        def change(part: Any) -> Any:
            if getattr(part, "name", "").startswith("bottom flap 2"):
                x0, y0, x1, y1 = part.outline.bounds
                from dieline.geometry.path import rectangle

                return replace(part, outline=rectangle(x0 - by, y0, x1 + by, y1))
            return part

        return prove_folded(_changed(_design(), change), BOARD)

    assert not narrowed(1.0).failures  # a slot of 4 mm for board of 4 mm
    report = narrowed(1.1)
    assert {clash.a for clash in report.clashes} | {clash.b for clash in report.clashes} >= {"bottom flap 2", "panel 1"}
    assert report.clashes[0].depth == pytest.approx(0.1)


def test_flaps_too_short_leave_the_bottom_open_by_their_gap() -> None:
    design = _design(flap_gap=10)
    assert not prove_folded(design, BOARD).failures
    strict = replace(design, closed=(Closed(Face.BOTTOM, 2.0),))
    report = prove_folded(strict, BOARD)
    assert report.open_faces[0][0] == "bottom"
    assert report.open_faces[0][1] == pytest.approx(10.0, abs=0.3)


def test_flaps_too_long_run_into_each_other() -> None:
    report = prove_folded(_design("0203", inner_flaps="equal"), BOARD)
    assert any("bottom flap 2 runs into bottom flap 4" in line for line in report.failures)


def test_a_wrong_inside_size_is_a_failure_that_names_the_side() -> None:
    design = _design()
    report = prove_folded(replace(design, inside=Size(301, 200, 150)), BOARD)
    assert report.failures == ("inside L measures 300 mm folded, not 301 mm; the style or a house size is at fault",)


def test_board_thicker_than_the_drawing_was_made_for_is_a_failure() -> None:
    thick = replace(BOARD, design=replace(BOARD.design, value=5.0))
    assert prove_folded(_design(), thick).failures


def test_a_lap_that_does_not_reach_its_wall_is_a_failure() -> None:
    def change(part: Any) -> Any:
        return replace(part, shift=part.shift + 1.5) if isinstance(part, Fold) and part.child == "lap" else part

    assert any("glued joint" in line for line in prove_folded(_changed(_design(), change), BOARD).failures)


def test_a_crease_asked_for_more_than_the_board_gives_is_a_failure() -> None:
    def change(part: Any) -> Any:
        return replace(part, shift=2.5) if isinstance(part, Fold) and part.child == "top flap 1" else part

    failures = prove_folded(_changed(_design(), change), BOARD).failures
    assert any("the panel must shift by 2.5 mm, the board gives 2 mm" in line for line in failures)


def test_a_panel_that_stands_in_the_inside_is_a_clash_with_it() -> None:
    def change(part: Any) -> Any:
        return replace(part, intrudes=False) if getattr(part, "name", "") == "lap" else part

    failures = prove_folded(_changed(_design(), change), BOARD).failures
    assert failures


def test_a_taped_edge_that_does_not_meet_is_a_failure() -> None:
    design = _design(joint="taped")
    assert not prove_folded(design, BOARD).failures
    (piece,) = design.pieces
    (joint,) = piece.blank.joints
    moved = replace(joint, zone=joint.zone.moved(-30, 0))
    blank = Blank("body", piece.blank.panels, piece.blank.folds, (moved,))
    failures = prove_folded(replace(design, pieces=(replace(piece, blank=blank),)), BOARD).failures
    assert any("taped joint" in line and "apart" in line for line in failures)


def test_folding_moves_panels_and_changes_no_distance() -> None:
    """Poses are rigid: every panel keeps its area and shape."""
    (piece,) = _design("0202", "300x200x150/60").pieces
    for rotation, _ in pose_panels(piece.blank, piece.stand).values():
        assert rotation @ rotation.T == pytest.approx(np.eye(3), abs=1e-12)
        assert np.linalg.det(rotation) == pytest.approx(1.0)


def test_a_flat_blank_lies_flat() -> None:
    design = _design()
    slabs = stand_up(design, 4.0, [lambda fold: (0.0, 0.0)])
    extent = slabs.high.max(axis=0) - slabs.low.min(axis=0)
    assert min(extent) == pytest.approx(4.0)
    assert sorted(extent)[1:] == pytest.approx(sorted(design.pieces[0].blank.size))


def test_pieces_are_named_in_front_of_their_panels() -> None:
    design = _design()
    (piece,) = design.pieces
    away = Stand(piece.stand.at, (1000.0, 0.0, 0.0), piece.stand.u, piece.stand.v)
    other = Piece(blank=replace(piece.blank, name="second"), stand=away)
    slabs = stand_up(replace(design, pieces=(piece, other)), 4.0)
    assert slabs.items[0].name == "body: panel 2"
    assert slabs.items[-1].name.startswith("second: ")
