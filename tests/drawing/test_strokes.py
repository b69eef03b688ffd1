"""Lines come from the panels: shared edges fold, free edges are cut, nothing is doubled or left open."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dieline.blank import Blank
from dieline.drawing.flat import prove_flat
from dieline.drawing.model import Drawing, Side, draw_blank
from dieline.drawing.strokes import Stroke, StrokeRole
from dieline.geometry.path import line, rectangle
from dieline.linetypes import TOOL_ORDER, Meaning
from dieline.style.sheet import Sheet


def _blank(draw: Any, **options: Any) -> Blank:
    return draw(**options).design.pieces[0].blank  # type: ignore[no-any-return]


def test_a_slotted_box_has_one_outline_and_a_crease_for_every_fold(draw: Any) -> None:
    drawing = draw_blank(_blank(draw))
    roles = [stroke.role for stroke in drawing.strokes]
    assert roles.count(StrokeRole.OUTLINE) == 1
    assert roles.count(StrokeRole.FOLD) == 12
    assert len(roles) == 13
    outline = drawing.strokes[-1]
    assert outline.outline
    assert outline.path.closed


def test_the_drawing_begins_at_the_origin_and_has_the_blank_s_size(draw: Any) -> None:
    blank = _blank(draw)
    drawing = draw_blank(blank)
    boxes = [stroke.path.bounds for stroke in drawing.strokes]
    assert min(box[0] for box in boxes) == pytest.approx(0, abs=1e-9)
    assert min(box[1] for box in boxes) == pytest.approx(0, abs=1e-9)
    assert (max(box[2] for box in boxes), max(box[3] for box in boxes)) == pytest.approx(blank.size)


def test_tools_come_in_order_and_the_outline_last(draw: Any) -> None:
    openings = {"hand_holes": "B", "hand_hole_left_in": True, "tear_strip": True, "tear_strip_height": 30}
    drawing = draw_blank(_blank(draw, body_crease="perforated", **openings))
    order = [TOOL_ORDER.index(stroke.meaning) for stroke in drawing.strokes]
    assert order == sorted(order)
    assert drawing.strokes[-1].outline
    assert sum(stroke.outline for stroke in drawing.strokes) == 1


def test_a_tear_strip_over_four_walls_is_two_strokes(draw: Any) -> None:
    drawing = draw_blank(_blank(draw, tear_strip=True))
    strips = [stroke for stroke in drawing.strokes if stroke.meaning is Meaning.PERFORATION]
    assert [stroke.path.length for stroke in strips] == pytest.approx([1014.0, 1014.0])


def test_a_bend_that_is_not_creased_is_not_drawn(draw: Any) -> None:
    blank = _blank(draw, style="0202", size="300x200x150/60")
    bends = [fold for fold in blank.folds if fold.meaning is None]
    assert len(bends) == 2
    drawing = draw_blank(blank)
    assert sum(stroke.role is StrokeRole.FOLD for stroke in drawing.strokes) == 12
    assert prove_flat(blank, drawing).faces == 13


def test_the_print_side_is_the_mirror_image(draw: Any) -> None:
    blank = _blank(draw, lap_on="B")
    inside, outside = draw_blank(blank), draw_blank(blank, Side.PRINT)
    assert inside.lengths() == pytest.approx(outside.lengths())
    assert inside.digest() != outside.digest()
    corners = {(round(x, 6), round(y, 6)) for stroke in inside.strokes for x, y in stroke.path.points}
    mirrored = {(round(inside.width - x, 6), round(y, 6)) for stroke in outside.strokes for x, y in stroke.path.points}
    assert corners == mirrored


def test_panels_side_by_side_without_a_fold_share_one_slit() -> None:
    sheet = Sheet()
    sheet.panel("a", rectangle(0, 0, 20, 10))
    sheet.hang("b", "a", ((20, 10), (0, 10)), [(0, 0), (10, 0), (10, 5), (0, 5)])
    sheet.hang("c", "a", ((20, 10), (0, 10)), [(10, 0), (20, 0), (20, 5), (10, 5)])
    drawing = draw_blank(sheet.blank())
    slits = [stroke for stroke in drawing.strokes if stroke.role is StrokeRole.SLIT]
    assert [stroke.path.length for stroke in slits] == [5]
    assert not prove_flat(sheet.blank(), drawing).failures


def test_a_gap_between_panels_is_cut_out() -> None:
    sheet = Sheet()
    sheet.panel("a", [(0, 0), (30, 0), (30, 10), (20, 10), (20, 8), (10, 8), (10, 10), (0, 10)])
    sheet.hang("b", "a", ((30, 10), (0, 10)), [(0, 0), (30, 0), (30, 10), (0, 10)])
    drawing = draw_blank(sheet.blank())
    (gap,) = [stroke for stroke in drawing.strokes if stroke.role is StrokeRole.GAP]
    assert abs(gap.path.area) == 20
    assert not prove_flat(sheet.blank(), drawing).failures


def _with(drawing: Drawing, strokes: list[Stroke]) -> Drawing:
    return replace(drawing, strokes=tuple(strokes))


def test_the_flat_proof_sees_a_missing_a_doubled_and_a_misplaced_stroke(draw: Any) -> None:
    blank = _blank(draw)
    drawing = draw_blank(blank)
    strokes = list(drawing.strokes)
    assert not prove_flat(blank, drawing).failures
    assert "faces" in str(prove_flat(blank, _with(drawing, strokes[1:])).failures)
    doubled = Stroke(Meaning.CREASE, line((40, 102), (90, 102)), "again", StrokeRole.FOLD)
    assert "run over others" in str(prove_flat(blank, _with(drawing, [doubled, *strokes])).failures)
    moved = replace(strokes[1], path=strokes[1].path.moved(0.5, 0))
    assert prove_flat(blank, _with(drawing, [strokes[0], moved, *strokes[2:]])).failures


def test_the_flat_proof_sees_panels_that_overlap() -> None:
    sheet = Sheet()
    sheet.panel("a", rectangle(0, 0, 20, 20))
    sheet.hang("b", "a", ((20, 20), (0, 20)), [(-10, 0), (20, 0), (20, 10), (-10, 10)])
    sheet.hang("c", "a", ((20, 0), (20, 20)), [(0, 0), (20, 0), (25, 6), (0, 6)])
    blank = sheet.blank()
    assert prove_flat(blank, draw_blank(blank)).failures


def test_the_flat_proof_sees_a_hand_hole_that_cuts_a_crease(draw: Any) -> None:
    blank = _blank(draw)
    drawing = draw_blank(blank)
    hole = Stroke(Meaning.CUT, rectangle(320, 150, 360, 180), "cut-out in panel 1", StrokeRole.HOLE)
    assert "move it away" in str(prove_flat(blank, _with(drawing, [hole, *drawing.strokes])).failures)


def test_the_flat_proof_sees_strokes_too_short_for_a_tool() -> None:
    sheet = Sheet()
    sheet.panel("a", [(0, 0), (10, 0), (10, 10), (9.99, 10.02), (0, 10)])
    assert "shorter than" in str(prove_flat(sheet.blank(), draw_blank(sheet.blank())).failures)


def test_the_digest_changes_with_a_hundredth_of_a_millimetre_and_with_nothing_less(draw: Any) -> None:
    assert draw_blank(_blank(draw)).digest() == draw_blank(_blank(draw)).digest()
    assert draw_blank(_blank(draw)).digest() != draw_blank(_blank(draw, lap_width=35.01)).digest()
