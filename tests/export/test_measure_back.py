"""Measured back: a file as drawn passes, and nothing that is moved, lost, added or doubled does."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from dieline.blank import Blank, Mark
from dieline.board import find_board
from dieline.drawing.model import Side, draw_blank
from dieline.errors import InputError
from dieline.export.faces import Written, by_meaning, flat_points, measure_faces
from dieline.export.measure_back import compare, compare_lengths
from dieline.geometry.path import Path, circle, line, obround, rectangle
from dieline.linetypes import LOOKS, Meaning
from dieline.machine import MachineProfile, Pen
from dieline.style.sheet import Sheet
from dieline.units import parse_size
from dieline_styles.slotted import STYLES


def blank_of(code: str = "0201", size: str = "300x200x150", **options: object) -> Blank:
    style = STYLES[code]
    return style.build(style.order(parse_size(size), find_board("C"), options)).pieces[0].blank


def strokes_of(blank: Blank, side: Side = Side.INSIDE) -> list[Written]:
    """The strokes as a reader of three decimals would give them."""
    return [
        (
            stroke.meaning,
            tuple((round(x, 3), round(y, 3)) for x, y in stroke.path.points),
            stroke.path.bulges,
            stroke.path.closed,
        )
        for stroke in draw_blank(blank, side).strokes
    ]


REGULAR = blank_of()
ROUND = blank_of(slot_end="round", hand_holes="B")
MARKED = blank_of(hand_holes="B", hand_hole_left_in=True, tear_strip=True, tear_strip_height=30)


def moves(strokes: list[Written], by: float) -> Iterator[tuple[str, list[Written]]]:
    """Every way to move one corner of one stroke along x or y."""
    for number, (meaning, points, bulges, closed) in enumerate(strokes):
        for corner, (x, y) in enumerate(points):
            for dx, dy in ((by, 0.0), (-by, 0.0), (0.0, by), (0.0, -by)):
                moved = [*points[:corner], (x + dx, y + dy), *points[corner + 1 :]]
                changed: list[Written] = [*strokes[:number], (meaning, moved, bulges, closed), *strokes[number + 1 :]]
                yield f"{meaning} {number}, corner {corner} by ({dx}, {dy})", changed


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("blank", [REGULAR, ROUND, MARKED], ids=["regular", "round", "marked"])
def test_a_drawing_agrees_with_its_blank(blank: Blank, side: Side) -> None:
    assert compare(measure_faces(strokes_of(blank, side)), blank, side) == []


def test_a_drawing_of_the_other_side_does_not_agree() -> None:
    """The lap is at the other end."""
    assert compare(measure_faces(strokes_of(REGULAR, Side.PRINT)), REGULAR, Side.INSIDE)


@pytest.mark.parametrize("blank", [REGULAR, MARKED], ids=["regular", "marked"])
def test_any_corner_moved_by_a_fiftieth_is_caught(blank: Blank) -> None:
    """0.02 mm, twice what is allowed; marks part no panel, but they are cut all the same."""
    for what, changed in moves(strokes_of(blank), 0.02):
        assert compare(measure_faces(changed), blank), what


def test_any_corner_of_arcs_moved_is_caught() -> None:
    """0.05 mm: two arcs that meet smoothly leave their place by less than their corner moves along them."""
    for what, changed in moves(strokes_of(ROUND), 0.05):
        assert compare(measure_faces(changed), ROUND), what


def test_a_corner_moved_within_the_tolerance_is_not_reported() -> None:
    """0.004 mm is less than any file promises."""
    for what, changed in moves(strokes_of(REGULAR), 0.004):
        assert compare(measure_faces(changed), REGULAR) == [], what


@pytest.mark.parametrize("blank", [REGULAR, ROUND, MARKED], ids=["regular", "round", "marked"])
def test_any_stroke_lost_is_caught(blank: Blank) -> None:
    strokes = strokes_of(blank)
    for number, stroke in enumerate(strokes):
        assert compare(measure_faces(strokes[:number] + strokes[number + 1 :]), blank), stroke


@pytest.mark.parametrize("blank", [REGULAR, ROUND, MARKED], ids=["regular", "round", "marked"])
def test_any_stroke_doubled_is_caught(blank: Blank) -> None:
    """Once more as it is, or backwards."""
    strokes = strokes_of(blank)
    for meaning, points, bulges, closed in strokes:
        path = Path(tuple(points), tuple(bulges), closed)
        for again in (path, path.reversed()):
            found = compare(measure_faces([*strokes, (meaning, again.points, again.bulges, closed)]), blank)
            assert any("a line drawn twice" in text for text in found), again


def test_any_stroke_added_is_caught() -> None:
    """Inside a panel, across two, or beside the blank."""
    strokes = strokes_of(REGULAR)
    for points in (((50.0, 150.0), (60.0, 150.0)), ((100.0, 102.0), (100.0, 260.0)), ((-50.0, 10.0), (-40.0, 10.0))):
        found = compare(measure_faces([*strokes, (Meaning.CREASE, points, (), False)]), REGULAR)
        assert any("mm beside every edge" in text for text in found), points


def test_a_part_of_a_line_drawn_twice_is_caught_and_placed() -> None:
    """Two knives in one place, for 20 mm."""
    faces = measure_faces([*strokes_of(REGULAR), (Meaning.CUT, ((100.0, 0.0), (120.0, 0.0)), (), False)])
    assert [list(line) for line in faces.doubled] == [pytest.approx([110.0, 0.0, 20.0])]


def only_line(strokes: list[Written], blank: Blank) -> str:
    (text,) = compare(measure_faces(strokes), blank)
    return text


def test_messages_name_panel_amount_and_cure() -> None:
    """One line for each panel: which, by how much, what it must be, what to do."""
    strokes = strokes_of(REGULAR)
    meaning, points, bulges, closed = strokes[-1]
    wider = [(x + 0.5 if (x, y) == (538.0, 0.0) else x, y) for x, y in points]
    assert only_line([*strokes[:-1], (meaning, wider, bulges, closed)], REGULAR) == (
        "bottom flap 2 – 198.5 mm wide, 0.5 too wide; right edge at x 538.5, not 538; "
        "area 20221.5 mm², 25.5 too large; a line 0.5 mm beside every edge at (538.5, 0); "
        "no line within 0.25 mm of its edge at (538, 51) – "
        "it must agree with the blank to 0.01 mm – draw the file again, or put it right there"
    )
    lost = [stroke for stroke in strokes if stroke[1] != ((340.0, 102.0), (538.0, 102.0))]
    assert len(lost) == len(strokes) - 1
    found = compare(measure_faces(lost), REGULAR)
    assert [text.split(" – ")[0] for text in found] == ["panel 2", "bottom flap 2"]
    assert found[1] == (
        "bottom flap 2 – no face of its own – every panel must be enclosed – "
        "a line round it is gone or open: draw the file again, or put it right there"
    )


def test_no_strokes_at_all_is_every_panel_missing() -> None:
    """An empty file is no proof."""
    for strokes in ([], [(Meaning.NOTE, ((0.0, 0.0), (1.0, 1.0)), (), False)]):
        assert len(compare(measure_faces(strokes), REGULAR)) == len(REGULAR.panels)


def test_panels_joined_by_an_undrawn_bend_are_one_face() -> None:
    """The bend is not in the file, so neither are its two sides."""
    blank = blank_of("0203")
    bends = [fold for fold in blank.folds if fold.meaning is None]
    assert len(bends) == 2
    strokes = strokes_of(blank)
    assert len(measure_faces(strokes).polygons) == len(blank.panels) - len(bends)
    assert compare(measure_faces(strokes), blank) == []
    x0, y0, *_ = blank.bounds
    bend = tuple((x - x0, y - y0) for x, y in bends[0].line)
    found = compare(measure_faces([*strokes, (Meaning.CREASE, bend, (), False)]), blank)
    assert [text.split(" – ")[0] for text in found] == [f"{bends[0].parent} + {bends[0].child}"]
    assert "parted into 2 faces" in found[0]


def turned(angle: float) -> Blank:
    """Two panels side by side with a hole, turned: their crease ends between the ends of slanting cuts."""
    c, s = math.cos(angle), math.sin(angle)

    def at(u: float, v: float) -> tuple[float, float]:
        return c * u - s * v, s * u + c * v

    sheet = Sheet("part")
    hole = circle(at(20.0, 20.0), 5.0)
    sheet.panel("a", [at(0, 0), at(41.37, 0), at(41.37, 50), at(0, 50)], holes=[hole])
    sheet.panel("b", [at(41.37, 0), at(90, 0), at(90, 50), at(41.37, 50)])
    sheet.panel("c", [at(0, 50), at(90, 50), at(90, 77.7), at(0, 77.7)])
    sheet.fold("a", "b", (at(41.37, 0), at(41.37, 50)))
    sheet.fold("a", "c", (at(0, 50), at(41.37, 50)))
    return sheet.blank()


@pytest.mark.parametrize("side", Side)
def test_a_line_may_end_on_a_slanting_one(side: Side) -> None:
    """Rounded to three decimals it misses it by up to a thousandth or two, at any angle."""
    for step in range(1, 60):
        blank = turned(0.026 * step)
        strokes = strokes_of(blank, side)
        assert any(len(points) > 4 or closed for _, points, _, closed in strokes)
        assert compare(measure_faces(strokes), blank, side) == [], step


def test_single_lines_and_arcs_may_meet_by_a_thousandth() -> None:
    """Ends that are rounded each for itself are one corner; a gap of two hundredths is open."""
    blank = turned(0.4)
    for gap, closes in ((0.001, True), (0.004, True), (0.02, False)):
        strokes: list[Written] = []
        for meaning, points, bulges, closed in strokes_of(blank):
            pieces = list(Path(tuple(points), tuple(bulges), closed).segments())
            for p, q, bulge in pieces:
                strokes.append((meaning, ((p[0] + gap, p[1]), q), (bulge,), False))
        assert (compare(measure_faces(strokes), blank) == []) is closes, gap


def test_a_fold_missing_between_slanting_panels_is_caught() -> None:
    """Drawing loose ends together does not close what is open."""
    blank = turned(0.3)
    strokes = strokes_of(blank)
    for number, stroke in enumerate(strokes):
        assert compare(measure_faces(strokes[:number] + strokes[number + 1 :]), blank), stroke


def test_faces_have_true_bounds_and_areas() -> None:
    """A disc with a square hole: arcs are measured as arcs, and the hole is a face of its own."""
    disc, square = circle((10.0, 10.0), 10.0), rectangle(5.0, 5.0, 12.0, 9.0)
    faces = measure_faces((Meaning.CUT, path.points, path.bulges, True) for path in (disc, square))
    ring, hole = faces.boxes
    assert ring[:4] == pytest.approx((0.0, 0.0, 20.0, 20.0), abs=0.003)
    assert ring.area == pytest.approx(math.pi * 100.0 - 28.0, abs=0.1)
    assert list(hole) == pytest.approx([5.0, 5.0, 12.0, 9.0, 28.0])


@pytest.mark.parametrize("bulge", [0.05, 0.41421356, 1.0, 3.0, -0.2, -1.0, -5.0])
@pytest.mark.parametrize("size", [0.5, 7.0, 900.0])
def test_chords_keep_to_their_arc(bulge: float, size: float) -> None:
    """No chord leaves its arc by more than two thousandths, and arcs begin and end where they should."""
    p, q = (3.0, -2.0), (3.0 + size, -2.0 + size / 3)
    points = flat_points((p, q), (bulge,), False)
    assert (points[0], points[-1]) == (p, q)
    chord = math.dist(p, q)
    radius = chord * (1 + bulge**2) / (4 * abs(bulge))
    # The highest point of an arc lies bulge × half the chord to the right of the chord's middle.
    nx, ny = (q[1] - p[1]) / chord, (p[0] - q[0]) / chord
    top = ((p[0] + q[0]) / 2 + nx * bulge * chord / 2, (p[1] + q[1]) / 2 + ny * bulge * chord / 2)
    way = math.copysign(radius, bulge)
    centre = (top[0] - nx * way, top[1] - ny * way)
    assert all(math.dist(point, centre) == pytest.approx(radius, abs=1e-7) for point in points)
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(points)]
    assert max(radius - math.dist(middle, centre) for middle in middles) <= 0.002
    assert min(math.dist(point, top) for point in [*points, *middles]) <= math.sqrt(8 * radius * 0.002)


def test_layers_are_exchanged_for_meanings() -> None:
    """Names in any case; one that means nothing is refused, and so is one of another profile."""
    house = MachineProfile()
    stroke = (((0.0, 0.0), (1.0, 0.0)), (), False)
    assert by_meaning([("dl_fold", *stroke)], house) == [(Meaning.CREASE, *stroke)]
    with pytest.raises(InputError, match="strokes on layer 'Layer 1' – it must be a layer of machine profile 'house'"):
        by_meaning([("Layer 1", *stroke)], house)
    shared = MachineProfile(name="old", pens={meaning: Pen("RULE", "#000000", 7) for meaning in LOOKS})
    assert by_meaning([("RULE", *stroke)], shared)[0][0] in (Meaning.CREASE, Meaning.CUT)


def test_a_stroke_on_a_wrong_layer_shows_in_the_lengths() -> None:
    """The faces are the same, but a knife stands where a crease should be."""
    strokes = strokes_of(REGULAR)
    lengths = draw_blank(REGULAR).lengths()
    assert compare_lengths(measure_faces(strokes), lengths) == []
    strokes[0] = (Meaning.CUT, *strokes[0][1:])
    faces = measure_faces(strokes)
    assert compare(faces, REGULAR) == []
    little, much = compare_lengths(faces, lengths)
    wanted = lengths[Meaning.CUT]
    assert much == (
        f"cut – {wanted + 298:.3f} mm of line in the file, 298 too much – it must be {wanted:.3f} mm – "
        "look for strokes on a wrong layer, or draw the file again, or put it right there"
    )
    assert little.startswith("crease – ")


def test_a_panel_with_its_own_mark_may_be_parted_by_it_and_by_nothing_else() -> None:
    """A slit from edge to edge of one panel is a mark, not a panel more."""
    first, *others = REGULAR.panels
    x0, y0, x1, _ = first.outline.bounds
    slit = Mark(Meaning.HALF_CUT, line((x0, y0 + 20.0), (x1, y0 + 20.0)), "slit")
    blank = replace(REGULAR, panels=(replace(first, marks=(slit,)), *others))
    strokes = strokes_of(blank)
    assert len(measure_faces(strokes).polygons) == len(blank.panels) + 1
    assert compare(measure_faces(strokes), blank) == []
    assert compare(measure_faces(strokes_of(REGULAR)), blank)
    assert compare(measure_faces(strokes), REGULAR)


def test_a_hole_of_another_size_or_place_is_caught() -> None:
    """A hand hole is measured like a panel."""
    first, *others = REGULAR.panels
    x0, y0, *_ = first.outline.bounds

    def pierced(x: float, width: float) -> Any:
        hole = obround((x0 + x, y0 + 80.0), width, 20.0)
        return replace(REGULAR, panels=(replace(first, holes=(hole,)), *others))

    assert compare(measure_faces(strokes_of(pierced(80.0, 60.0))), pierced(80.0, 60.0)) == []
    for x, width in ((80.02, 60.0), (80.0, 60.04)):
        (text,) = compare(measure_faces(strokes_of(pierced(x, width))), pierced(80.0, 60.0))
        assert text.startswith(f"{first.name} – ")
    assert compare(measure_faces(strokes_of(REGULAR)), pierced(80.0, 60.0))
    assert compare(measure_faces(strokes_of(pierced(80.0, 60.0))), REGULAR)


def test_a_slit_beside_an_undrawn_bend_ends_in_the_face_and_must_be_there() -> None:
    """As beside the nose of an auto-lock bottom: base and nose are one face, the slit between them ends inside it."""
    sheet = Sheet("part")
    sheet.panel("base", [(0, 0), (60, 0), (60, 40), (30, 40), (30, 60), (0, 60)])
    sheet.panel("nose", [(30, 40), (60, 40), (60, 90), (30, 90)])
    sheet.fold("base", "nose", ((30, 40), (60, 40)), meaning=None)
    blank = sheet.blank()
    strokes = strokes_of(blank)
    assert compare(measure_faces(strokes), blank) == []
    slit = [stroke for stroke in strokes if set(stroke[1]) == {(30.0, 40.0), (30.0, 60.0)}]
    assert len(slit) == 1
    rest = [stroke for stroke in strokes if stroke not in slit]
    (lost,) = compare(measure_faces(rest), blank)
    assert lost.startswith("base + nose – no line within 19.998 mm of its edge at (30, 40.002)")
    moved = (slit[0][0], ((30.0, 60.0), (30.0, 45.0)), slit[0][2], slit[0][3])
    (short,) = compare(measure_faces([*rest, moved]), blank)
    assert "a line ends loose at (30, 45)" in short
