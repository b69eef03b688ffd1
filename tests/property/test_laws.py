"""Laws that hold for every slotted box: all bottoms and tops, boards from 0.3 to 15 mm, sizes from 20 mm to 3 m."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st

from dieline.board import Board, find_board
from dieline.drawing.flat import prove_flat
from dieline.drawing.model import Side, draw_blank
from dieline.errors import InputError
from dieline.fold import prove_folded
from dieline.style.design import Design
from dieline.units import Size
from dieline_styles.slotted import STYLES, combination

BOTTOMS = ["0201", "0202", "0203", "0204", "0205", "0206", "0209", "0200"]

boards = st.floats(0.3, 15.0).map(lambda t: _board(round(t, 2)))
sides = st.floats(20.0, 3000.0).map(lambda side: round(side, 1))
options = st.fixed_dictionaries(
    {},
    optional={
        "joint": st.sampled_from(["glued", "stitched", "taped"]),
        "lap_on": st.sampled_from(["L", "B"]),
        "lap_end": st.sampled_from(["left", "right"]),
        "lap_side": st.sampled_from(["inside", "outside"]),
        "creases": st.sampled_from(["one", "offset"]),
        "slot_end": st.sampled_from(["square", "round"]),
        "flap_gap": st.floats(0.0, 8.0).map(lambda gap: round(gap, 2)),
        "hand_holes": st.sampled_from(["none", "L", "B", "all"]),
        "vents": st.sampled_from(["none", "L", "B", "all"]),
        "tear_strip": st.booleans(),
    },
)


def _board(thickness: float) -> Board:
    board = find_board("C")
    return replace(board, name="any", design=replace(board.design, value=thickness))


@st.composite
def boxes(draw: st.DrawFn) -> tuple[Design, Board]:
    """Any slotted box that can be made."""
    bottom, top = draw(st.sampled_from(BOTTOMS)), draw(st.sampled_from(BOTTOMS))
    style = combination(bottom, top)
    assert style is not None
    length, breadth = sorted((draw(sides), draw(sides)), reverse=True)
    fourth = draw(st.floats(0.0, 0.5)) * breadth if style.fourth else None
    board = draw(boards)
    try:
        order = style.order(Size(length, breadth, draw(sides), fourth), board, draw(options))
        return style.build(order), board
    except InputError as error:
        event(f"refused: {error.where}")
        assume(False)
        raise


@given(boxes())
def test_the_folded_inside_is_what_was_asked_and_nothing_clashes(box: tuple[Design, Board]) -> None:
    design, board = box
    report = prove_folded(design, board)
    assert report.failures == ()
    assert report.inside == pytest.approx(design.inside[:3], abs=1e-6)


@given(boxes())
def test_strokes_bound_exactly_the_panels_seen_from_either_side(box: tuple[Design, Board]) -> None:
    design, _ = box
    blank = design.pieces[0].blank
    for side in Side:
        assert prove_flat(blank, draw_blank(blank, side)).failures == ()


@given(boxes())
def test_every_cut_and_crease_is_drawn_once(box: tuple[Design, Board]) -> None:
    """Every panel's edges are either free, or shared by two: cut = all edges less twice the folds and slits."""
    design, _ = box
    blank = design.pieces[0].blank
    drawing = draw_blank(blank)
    edges = sum(panel.outline.length for panel in blank.panels)
    parting = sum(stroke.path.length for stroke in drawing.strokes if stroke.role.parts)
    bends = sum(
        abs(fold.line[1][0] - fold.line[0][0]) + abs(fold.line[1][1] - fold.line[0][1])
        for fold in blank.folds
        if fold.meaning is None
    )
    shared = sum(stroke.path.length for stroke in drawing.strokes if stroke.role.value in ("fold", "slit"))
    assert edges == pytest.approx(parting + shared + 2 * bends, rel=1e-9)


@given(boxes(), st.floats(0.5, 3.0))
def test_the_same_box_on_the_other_hand_is_the_mirror_image(box: tuple[Design, Board], scale: float) -> None:
    """Lap left or lap right: same board, same lengths, same folded box."""
    design, board = box
    style = combination(*design.style.split("/"))
    assert style is not None
    left, right = (style.build(style.order(design.inside, board, {"lap_end": end})) for end in ("left", "right"))
    assert left.pieces[0].blank.area == pytest.approx(right.pieces[0].blank.area)
    lengths = [draw_blank(one.pieces[0].blank).lengths() for one in (left, right)]
    assert lengths[0] == pytest.approx(lengths[1])
    assert prove_folded(left, board).outside == pytest.approx(prove_folded(right, board).outside)


@given(boxes(), st.floats(0.1, 40.0))
def test_a_longer_box_is_longer_by_just_that(box: tuple[Design, Board], more: float) -> None:
    """Outside and crease grow with the inside by a constant: that is what lets sizes be given any way round."""
    design, board = box
    style = STYLES["0201"]
    sizes = [Size(*design.inside[:3]), Size(design.inside.length + more, *design.inside[1:3])]
    try:
        small, large = (style.build(style.order(size, board)) for size in sizes)
    except InputError:
        assume(False)
    assert large.crease.length - small.crease.length == pytest.approx(more)
    outside = [prove_folded(one, board).outside for one in (small, large)]
    assert outside[1][0] - outside[0][0] == pytest.approx(more, abs=1e-6)
    assert outside[1][1:] == pytest.approx(outside[0][1:], abs=1e-6)


@given(st.integers(2, 6), sides, sides, sides, st.floats(0.3, 4.0))
def test_growing_sizes_and_board_together_grows_the_blank(
    scale: int, length: float, breadth: float, height: float, t: float
) -> None:
    """A box twice the size on board twice as thick is drawn at twice the scale (taped: a lap has no scale)."""
    length, breadth = max(length, breadth), min(length, breadth)
    sizes = [Size(length, breadth, height), Size(length * scale, breadth * scale, height * scale)]
    slot = 1.5 * t
    style = STYLES["0201"]
    try:
        small, large = (
            style.build(
                style.order(size, replace(_board(t * by), give=1.0), {"joint": "taped", "slot_width": slot * by})
            )
            for size, by in zip(sizes, (1, scale), strict=True)
        )
    except InputError:
        assume(False)
    one, other = small.pieces[0].blank, large.pieces[0].blank
    assert other.area == pytest.approx(one.area * scale**2)
    assert other.size == pytest.approx([side * scale for side in one.size])
