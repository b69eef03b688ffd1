"""Corner for corner: a yes is only said of a file in which the longer comparison finds nothing either."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from dieline.blank import Blank
from dieline.board import find_board
from dieline.drawing.corners import CLOSE
from dieline.drawing.model import Side, draw_blank
from dieline.export import measure_back
from dieline.export.faces import GRID, Written, measure_faces
from dieline.export.measure_back import corner_for_corner
from dieline.geometry.path import Path
from dieline.linetypes import Meaning
from dieline.units import parse_size
from dieline_styles.slotted import STYLES


def blank_of(code: str = "0201", size: str = "300x200x150", **options: object) -> Blank:
    style = STYLES[code]
    return style.build(style.order(parse_size(size), find_board("C"), options)).pieces[0].blank


def strokes_of(blank: Blank, side: Side = Side.INSIDE) -> list[Written]:
    return [
        (stroke.meaning, stroke.path.points, stroke.path.bulges, stroke.path.closed)
        for stroke in draw_blank(blank, side).strokes
    ]


REGULAR = blank_of()


def changes() -> Iterator[tuple[str, list[Written]]]:
    """Every stroke lost, doubled or moved at one corner, by little and by much, and a few added."""
    strokes = strokes_of(REGULAR)
    for number, (meaning, points, bulges, closed) in enumerate(strokes):
        rest = [*strokes[:number], *strokes[number + 1 :]]
        yield f"{number} lost", rest
        yield f"{number} doubled", [*strokes, strokes[number]]
        yield f"{number} as a cut", [*rest, (Meaning.CUT, points, bulges, closed)]
        for corner, (x, y) in enumerate(points):
            for by in (0.0004, 0.0016, 0.004, 0.02, 0.7):
                for dx, dy in ((by, 0.0), (0.0, -by), (by, by)):
                    moved = (*points[:corner], (x + dx, y + dy), *points[corner + 1 :])
                    yield f"{number}, corner {corner} by {dx}, {dy}", [*rest, (meaning, moved, bulges, closed)]
    for added in (
        ((50.0, 150.0), (60.0, 150.0)),
        ((100.0, 102.0), (100.0, 260.0)),
        ((-50.0, 10.0), (-40.0, 10.0)),
        ((60.0, 150.0), (70.0, 150.0), (70.0, 160.0), (60.0, 150.0)),
    ):
        yield f"added {added}", [*strokes, (Meaning.CREASE, added, (), False)]


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("code", ["0201", "0204"])
def test_a_file_as_drawn_is_known_at_once(code: str, side: Side) -> None:
    """Seen from either side; and the other side is not taken for it."""
    blank = blank_of(code)
    faces = measure_faces(strokes_of(blank, side))
    assert corner_for_corner(faces, blank, side)
    assert not corner_for_corner(faces, blank, Side.PRINT if side is Side.INSIDE else Side.INSIDE)


def test_a_yes_is_never_said_of_what_the_longer_comparison_refuses(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(measure_back, "corner_for_corner", lambda *_: False)
    said = []
    for what, strokes in changes():
        faces = measure_faces(strokes)
        said.append(corner_for_corner(faces, REGULAR, Side.INSIDE))
        if said[-1]:
            assert measure_back.compare(faces, REGULAR) == [], what
    assert 10 < sum(said) < len(said) / 2


@pytest.mark.parametrize("by", [0.004, 0.02, 0.7])
def test_a_corner_that_moved_is_never_passed(by: float) -> None:
    for number, (meaning, points, bulges, closed) in enumerate(strokes_of(REGULAR)):
        moved = ((points[0][0] + by, points[0][1] + by), *points[1:])
        rest = [stroke for other, stroke in enumerate(strokes_of(REGULAR)) if other != number]
        assert not corner_for_corner(measure_faces([*rest, (meaning, moved, bulges, closed)]), REGULAR, Side.INSIDE)


def test_a_bend_that_is_drawn_though_it_must_not_be_is_left_to_the_longer_comparison() -> None:
    """Its faces have the corners of the panels all the same."""
    blank = blank_of("0203")
    bends = [Path(fold.line).moved(-blank.bounds[0], -blank.bounds[1]) for fold in blank.folds if fold.meaning is None]
    assert bends
    drawn: list[Written] = [(Meaning.CREASE, bend.points, (), False) for bend in bends]
    faces = measure_faces([*strokes_of(blank), *drawn])
    assert len(faces.polygons) == len(blank.panels)
    assert not corner_for_corner(faces, blank, Side.INSIDE)
    assert measure_back.compare(faces, blank)


def test_close_is_what_the_rounding_of_a_file_and_of_its_faces_may_add_up_to() -> None:
    assert pytest.approx(2 * GRID) == CLOSE


def test_holes_and_marks_are_left_to_the_longer_comparison() -> None:
    for options in ({"hand_holes": "B"}, {"tear_strip": True, "tear_strip_height": 30}):
        blank = blank_of(**options)
        faces = measure_faces(strokes_of(blank))
        assert not corner_for_corner(faces, blank, Side.INSIDE)
        assert measure_back.compare(faces, blank) == []
