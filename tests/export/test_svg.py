"""The SVG as written and as read back: true scale, one group for each layer, nothing lost and nothing broken."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
import svgwrite
from hypothesis import given
from hypothesis import strategies as st

from dieline.board import find_board
from dieline.drawing.model import Drawing, Side, draw_blank
from dieline.drawing.notes import annotate
from dieline.drawing.strokes import Stroke, StrokeRole
from dieline.errors import InputError
from dieline.export.read_svg import job_in_svg, read_svg
from dieline.export.svg import svg_text
from dieline.fold import prove_folded
from dieline.geometry.path import Path, circle, obround, rounded
from dieline.linetypes import LOOKS, Meaning
from dieline.machine import MachineProfile, Pen
from dieline.registry import find_style
from dieline.units import parse_size

SVG = "{http://www.w3.org/2000/svg}"
HOUSE = MachineProfile()

ZOO: dict[str, tuple[Any, ...]] = {
    "regular": ("0201", "300x200x150", "C", {}),
    "hand holes": ("0201", "1200x800x900", "BC", {"hand_holes": "B"}),
    "round slots, vents": ("0205", "400x300x200/40", "B", {"slot_end": "round", "vents": "all"}),
    "hinged hand holes": ("0201", "400x300x200", "EB", {"hand_holes": "all", "hand_hole_left_in": True}),
    "carton": ("0201", "60x40x120", "carton-0.4", {"tear_strip": True}),
}


def approval(case: str = "regular", side: Side = Side.INSIDE, **words: Any) -> Drawing:
    """The approval drawing of a design of the zoo."""
    code, size, board_name, options = ZOO[case]
    style, board = find_style(code), find_board(board_name)
    design = style.build(style.order(parse_size(size), board, options))
    blank = design.pieces[0].blank
    told = {"title": "kettle case", "style_title": style.title, **words}
    outside = prove_folded(design, board).outside
    return annotate(draw_blank(blank, side), blank, design, board, outside=outside, **told)


def piece(*paths: Path, meaning: Meaning = Meaning.CUT) -> Drawing:
    """A drawing of loose strokes."""
    x0, y0, x1, y1 = zip(*(path.bounds for path in paths), strict=True)
    moved = [path.moved(-min(x0), -min(y0)) for path in paths]
    strokes = tuple(Stroke(meaning, path, "trial", StrokeRole.MARK) for path in moved)
    width, height = max(x1) - min(x0), max(y1) - min(y0)
    page = (0.0, 0.0, width, height)
    return Drawing(name="trial", width=width, height=height, side=Side.INSIDE, strokes=strokes, page=page)


def tree(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)


def by_id(root: ElementTree.Element, name: str) -> ElementTree.Element:
    (found,) = [element for element in root.iter() if element.get("id") == name]
    return found


def length(points: tuple[tuple[float, float], ...], bulges: tuple[float, ...], closed: bool) -> float:
    return Path(points, bulges, closed).length


@pytest.mark.parametrize("notes", [True, False])
@pytest.mark.parametrize("case", ZOO)
def test_the_file_is_in_true_scale(case: str, notes: bool) -> None:
    """Width and height in mm, and as many units in the view box."""
    drawing = approval(case)
    root = tree(svg_text(drawing, HOUSE, notes=notes))
    x0, y0, x1, y1 = drawing.page if notes else (0.0, 0.0, drawing.width, drawing.height)
    left, top, wide, high = (float(word) for word in (root.get("viewBox") or "").split())
    assert (left, top) == (0.0, 0.0)
    assert (wide, high) == pytest.approx((x1 - x0, y1 - y0), abs=1e-4)
    assert (root.get("width"), root.get("height")) == (f"{wide:.10g}mm", f"{high:.10g}mm")


@pytest.mark.parametrize("notes", [True, False])
def test_document_and_groups_are_as_svgwrite_makes_them(notes: bool) -> None:
    """The writer streams text; svgwrite, which checks every attribute, is the yardstick for head, groups and order."""
    text = svg_text(approval("carton"), HOUSE, notes=notes)
    root = tree(text)
    made = svgwrite.Drawing(size=(root.get("width"), root.get("height")), viewBox=root.get("viewBox"), debug=True)
    head = made.tostring().replace("><", ">\n<").removesuffix("\n</svg>")
    assert text.startswith(f'<?xml version="1.0" encoding="UTF-8"?>\n{head}\n')
    groups = re.findall(r"<g [^>]*>", text)
    assert len(groups) == len(list(root.iter(f"{SVG}g")))
    for written, element in zip(groups, root.iter(f"{SVG}g"), strict=True):
        group = made.g(**{key.replace("-", "_").replace("class", "class_"): word for key, word in element.items()})
        assert group.tostring().replace("/>", ">").replace(" >", ">") == written


@pytest.mark.parametrize("name", ["A&B", 'say "cut"', "a<b>"])
def test_any_layer_name_makes_a_well_formed_id(name: str) -> None:
    pens = {**HOUSE.pens, Meaning.CUT: Pen(name, "#000000", 1)}
    text = svg_text(approval(), MachineProfile(name="odd", pens=pens))
    assert by_id(tree(text), name).get("class") == "tool"
    assert name in {layer for layer, *_ in read_svg(text)}


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("notes", [True, False])
@pytest.mark.parametrize("case", ZOO)
def test_what_is_read_back_is_what_was_drawn(case: str, notes: bool, side: Side) -> None:
    drawing = approval(case, side)
    found = read_svg(svg_text(drawing, HOUSE, notes=notes))
    assert len(found) == len(drawing.strokes)
    for (layer, points, bulges, closed), stroke in zip(found, drawing.strokes, strict=True):
        assert layer == LOOKS[stroke.meaning].layer
        assert closed == stroke.path.closed
        assert len(bulges) == len(points) - (0 if closed else 1)
        for point, drawn in zip(points, stroke.path.points, strict=True):
            assert point == pytest.approx(drawn, abs=2e-4)
        assert length(points, bulges, closed) == pytest.approx(stroke.path.length, abs=2e-3)


@given(st.floats(-4.0, 4.0).filter(lambda bulge: abs(bulge) > 0.01), st.floats(0.5, 3000.0), st.floats(0.0, 6.3))
def test_arcs_keep_their_length_and_their_reach(bulge: float, chord: float, angle: float) -> None:
    """Any arc, nearly half circles among them, where a rounded radius would tell most."""
    end = (chord * math.cos(angle), chord * math.sin(angle))
    drawing = piece(Path(((0.0, 0.0), end), (bulge,)))
    ((_, points, bulges, closed),) = read_svg(svg_text(drawing, HOUSE, notes=False))
    (drawn,) = (stroke.path for stroke in drawing.strokes)
    found = Path(points, bulges, closed)
    radius = chord * (bulge * bulge + 1.0) / abs(4.0 * bulge)
    # The chord's own rounding is widened by a full arc; a nearly half circle shows the radius's in its square root.
    slack = 2e-4 * (1.0 + 4.0 * abs(bulge)) + (3e-4 * math.sqrt(radius) if 0.9 < abs(bulge) < 1.1 else 0.0)
    assert found.length == pytest.approx(drawn.length, abs=slack)
    assert found.bounds == pytest.approx(drawn.bounds, abs=slack)


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.9999999, 0.999, 1.001, -0.9995, 0.41421356, 2.4142135])
def test_half_circles_do_not_lose_length(bulge: float) -> None:
    drawing = piece(Path(((0.0, 0.0), (38.12344, 1.00005)), (bulge,)))
    ((_, points, bulges, closed),) = read_svg(svg_text(drawing, HOUSE, notes=False))
    assert length(points, bulges, closed) == pytest.approx(drawing.strokes[0].path.length, abs=1e-3)


def test_closed_runs_of_arcs_stay_closed() -> None:
    shapes = (circle((50.0, 50.0), 20.0), obround((200.0, 50.0), 115.0, 38.0), obround((300.0, 60.0), 20.0, 60.0))
    corners = rounded([(0.0, 0.0), (400.0, 0.0), (400.0, 120.0), (0.0, 120.0)], [12.0, 0.0, 30.0, 5.0])
    drawing = piece(*shapes, corners)
    found = read_svg(svg_text(drawing, HOUSE, notes=False))
    assert [closed for _, _, _, closed in found] == [True] * 4
    for (_, points, bulges, closed), stroke in zip(found, drawing.strokes, strict=True):
        assert Path(points, bulges, closed).area == pytest.approx(stroke.path.area, rel=1e-5)


def test_each_meaning_has_its_layer_in_its_look() -> None:
    root = tree(svg_text(approval("carton"), HOUSE))
    for meaning in (Meaning.CREASE, Meaning.PERFORATION, Meaning.CUT):
        layer = by_id(root, LOOKS[meaning].layer)
        assert layer.get("stroke") == LOOKS[meaning].colour
        assert bool(layer.get("stroke-dasharray")) == bool(LOOKS[meaning].dash)
        assert layer.get("fill") == "none"
    order = [element.get("id") for element in root.iter(f"{SVG}g") if element.get("class") == "tool"]
    assert order == ["DL_FOLD", "DL_TEAR", "DL_THRU"]


def test_geometry_is_never_transformed() -> None:
    root = tree(svg_text(approval(), HOUSE))
    assert not [e for e in root.iter() if e.get("transform") and e.tag != f"{SVG}text"]


def test_every_stroke_says_what_it_is_when_pointed_at() -> None:
    drawing = approval("hand holes")
    root = tree(svg_text(drawing, HOUSE))
    tools = [element for element in root.iter(f"{SVG}g") if element.get("class") == "tool"]
    found = [path.findtext(f"{SVG}title") for tool in tools for path in tool]
    assert found == [stroke.name for stroke in drawing.strokes]
    assert "panel 2 – panel 3" in found
    assert "outline" in found
    (zone,) = by_id(root, "DL_GLUE")
    assert zone.findtext(f"{SVG}title") == "glued zone on lap"


def test_notes_stand_in_their_groups() -> None:
    drawing = approval()
    root = tree(svg_text(drawing, HOUSE))
    for notes in drawing.notes:
        found = by_id(root, notes.name.replace(" ", "-"))
        assert [text.text for text in found.iter(f"{SVG}text")] == [text.text for text in notes.texts]
        lines = [path for path in found.iter(f"{SVG}path") if path.get("stroke") == LOOKS[Meaning.NOTE].colour]
        assert len(lines) == bool(notes.lines), "all lines of a group are one path"
    assert by_id(root, "page").get("fill") == "#ffffff"


def test_the_check_bar_measures_100_mm_in_the_file() -> None:
    root = tree(svg_text(approval(), HOUSE))
    (bar,) = [path for path in by_id(root, "check-bar").iter(f"{SVG}path") if path.get("fill") == "none"]
    xs = [float(word) for word in re.findall(r"[MH]([\d.]+)", bar.get("d") or "")]
    assert max(xs) - min(xs) == pytest.approx(100.0, abs=1e-3)


def test_the_cut_file_holds_strokes_and_nothing_else() -> None:
    text = svg_text(approval("carton"), HOUSE, notes=False)
    root = tree(text)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags == {"svg", "defs", "g", "path", "title"}
    assert "dasharray" not in text
    assert not re.search(r"glue|zone", text.replace("glued", ""), re.IGNORECASE)


@pytest.mark.parametrize(
    "text", ["a & b < c > d", "Größe “40” – 漢字", "]]>", "tab\there", "\x00\x0bbell\x07", "\U0001f4e6"]
)
def test_any_title_makes_a_well_formed_file(text: str) -> None:
    """What no XML file may hold is replaced, the rest is kept."""
    drawing = approval(title=text)
    drawing = replace(drawing, strokes=(replace(drawing.strokes[0], name=text), *drawing.strokes[1:]))
    root = tree(svg_text(drawing, HOUSE))
    kept = re.sub(r"[\x00-\x08\x0b]", "\ufffd", text)
    assert kept in [element.text for element in root.iter(f"{SVG}title")]
    said = " ".join(element.text or "" for element in by_id(root, "title").iter(f"{SVG}text"))
    assert " ".join(re.sub(r"[\x00-\x08\x0b]", "\ufffd", " ".join(text.split())).split()) in said


@pytest.mark.parametrize("job", ['style = "0201"\n', "a & <b> ]]> \r\n\t“ß” 漢 \U0001f4e6", '{"size": [1, 2]}', " "])
@pytest.mark.parametrize("notes", [True, False])
def test_the_job_comes_back_as_it_went_in(job: str, notes: bool) -> None:
    text = svg_text(approval(), HOUSE, job=job, notes=notes)
    assert job_in_svg(text) == job
    assert "\r" not in text


def test_a_drawing_without_a_job_carries_none() -> None:
    assert job_in_svg(svg_text(approval(), HOUSE)) is None
    assert job_in_svg('<svg xmlns="http://www.w3.org/2000/svg"><text>dieline-job</text></svg>') is None


def test_same_drawing_same_bytes() -> None:
    assert svg_text(approval(), HOUSE, job="j") == svg_text(approval(), HOUSE, job="j")


def test_a_plant_may_put_all_meanings_on_one_layer() -> None:
    """One group, so the id stays unique; a stroke that looks otherwise than the first says so itself."""
    pens = {meaning: Pen("title", "#00000" + str(i), 1) for i, meaning in enumerate(Meaning)}
    drawing = approval("carton")
    text = svg_text(drawing, MachineProfile(name="one layer", pens=pens))
    root = tree(text)
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    colours = {path.get("stroke") or by_id(root, "title").get("stroke") for path in by_id(root, "title")}
    assert colours == {pens[stroke.meaning].colour for stroke in drawing.strokes}
    assert {layer for layer, *_ in read_svg(text)} == {"title"}
    assert len(read_svg(text)) == len(drawing.strokes)


def test_a_stroke_moved_by_a_hundredth_is_seen() -> None:
    """Reading back can fail: it measures the file, not the drawing."""
    text = svg_text(piece(Path(((0.0, 0.0), (100.0, 0.0), (100.0, 50.0)))), HOUSE, notes=False)
    spoilt = text.replace("H100", "H100.01")
    assert spoilt != text
    ((_, points, _, _),) = read_svg(spoilt)
    assert points[1][0] == pytest.approx(100.01)


def test_a_file_resized_by_another_program_is_read_as_it_measures() -> None:
    text = svg_text(piece(Path(((0.0, 0.0), (100.0, 0.0), (100.0, 50.0)))), HOUSE, notes=False)
    doubled = text.replace('width="100mm"', 'width="200mm"').replace('height="50mm"', 'height="100mm"')
    ((_, points, _, _),) = read_svg(doubled)
    assert points == ((0.0, 0.0), (200.0, 0.0), (200.0, 100.0))
    with pytest.raises(InputError, match="must be the same"):
        read_svg(text.replace('width="100mm"', 'width="200mm"'))


BROKEN: dict[str, tuple[Callable[[str], str], str]] = {
    "cut short": (lambda text: text[:-30], r"svg \(line \d+\) – is broken at column \d+"),
    "another file": (lambda _: "0\nSECTION\n", r"svg \(line 1\) – is broken"),
    "another root": (lambda _: "<html/>", "begins with 'html'"),
    "no mm": (lambda text: text.replace("100mm", "100"), "svg, width – '100' – it must be in mm"),
    "no view box": (lambda text: text.replace("viewBox", "box"), "svg, width"),
    "no strokes": (lambda text: text.replace('class="tool"', ""), "holds no strokes"),
    "transformed": (lambda text: text.replace("<path ", '<path transform="scale(2)" '), "layer DL_THRU, element 1"),
    "a curve": (lambda text: text.replace("H100", "C1 2 3 4 5 6"), "layer DL_THRU, element 1 – 'M0 50C1 2 3 4 5 6"),
    "relative": (lambda text: text.replace("H100", "h100"), "'M0 50h100'"),
    "one number short": (lambda text: text.replace("M0 50", "M0"), "'M0' in its path data"),
    "not a number": (lambda text: text.replace("M0 50", "Mnan 50"), "path data"),
    "no beginning": (lambda text: text.replace("M0 50", ""), "'H' before any M"),
    "another shape": (lambda text: text.replace("<path d", "<polygon d").replace("</path", "</polygon"), "'polygon'"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_a_broken_file_is_refused_with_its_place(case: str) -> None:
    spoil, message = BROKEN[case]
    text = svg_text(piece(Path(((0.0, 0.0), (100.0, 0.0), (100.0, 50.0)))), HOUSE, notes=False)
    spoilt = spoil(text)
    assert spoilt != text
    with pytest.raises(InputError, match=message):
        read_svg(spoilt)
