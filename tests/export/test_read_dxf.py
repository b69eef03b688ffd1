"""DXF in: every design comes back as it went out, and a damaged file is refused with its line."""

from __future__ import annotations

import math
from functools import cache
from itertools import product

import pytest

from dieline.board import find_board
from dieline.drawing.model import Drawing, Side, draw_blank
from dieline.errors import InputError
from dieline.export.dxf import ARCS, UNITS, VERSIONS, dxf_text
from dieline.export.measure_back import by_meaning, compare, compare_lengths, measure_faces
from dieline.export.read_dxf import ReadLayer, ReadStroke, job_in_dxf, read_dxf
from dieline.machine import MachineProfile
from dieline.units import parse_size
from dieline_styles.slotted import STYLES

HOUSE = MachineProfile()

DESIGNS: dict[str, tuple[str, str, str, dict[str, object]]] = {
    "plain": ("0201", "300x200x150", "C", {}),
    "inch sizes": ("0201", "12 1/2 x 9 1/16 x 6 3/8 in", "C", {"flap_gap": "1/16 in"}),
    "virtual bends": ("0203", "300x200x150", "C", {}),
    "two lines": ("0204", "300x200x150", "BC", {"creases": "offset"}),
    "round": ("0201", "300x200x150", "C", {"slot_end": "round", "hand_holes": "B"}),
    "taped": ("0202", "251.37x200.11x149.7/35", "B", {"joint": "taped"}),
    "marks": (
        "0201",
        "300x200x150",
        "C",
        {"hand_holes": "all", "hand_hole_left_in": True, "tear_strip": True, "tear_strip_height": 30},
    ),
    "outside lap": ("0201", "300x200x150", "C", {"lap_on": "B", "lap_end": "right", "vents": "L"}),
}


@cache
def drawn(name: str, side: Side) -> Drawing:
    code, size, board, options = DESIGNS[name]
    style = STYLES[code]
    return draw_blank(style.build(style.order(parse_size(size), find_board(board), options)).pieces[0].blank, side)


@pytest.mark.parametrize(("version", "unit", "arcs"), list(product(VERSIONS, UNITS, ARCS)))
@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("name", DESIGNS)
def test_every_stroke_comes_back(name: str, side: Side, version: str, unit: str, arcs: str) -> None:
    """The same runs in the same order on the layers of their meanings, to a fraction of a micrometre."""
    drawing = drawn(name, side)
    found = read_dxf(dxf_text(drawing, HOUSE, version=version, unit=unit, arcs=arcs))
    assert found.unit == UNITS[unit][0]
    assert not found.passed_over
    wanted: list[ReadStroke] = []
    for stroke in drawing.strokes:
        layer, path = HOUSE.pens[stroke.meaning].layer, stroke.path
        if arcs == "bulge":
            wanted.append(ReadStroke(layer, path.points, path.bulges, path.closed))
            continue
        for p, q, bulge in path.segments():  # DXF knows single arcs counter-clockwise only
            ends = (q, p) if bulge < 0 else (p, q)
            wanted.append(ReadStroke(layer, ends, (abs(bulge),) if bulge else ()))
    assert len(found.strokes) == len(wanted)
    for read, true in zip(found.strokes, wanted, strict=True):
        assert (read.layer, read.closed) == (true.layer, true.closed)
        assert all(math.dist(p, q) < 5e-5 for p, q in zip(read.points, true.points, strict=True))
        assert list(read.bulges) == pytest.approx(list(true.bulges), abs=2e-6)


@pytest.mark.parametrize(("version", "unit", "arcs"), list(product(VERSIONS, UNITS, ARCS)))
@pytest.mark.parametrize("name", DESIGNS)
def test_every_panel_comes_back(name: str, version: str, unit: str, arcs: str) -> None:
    """Measured on what was read, every panel and every meaning is as long as it was drawn."""
    code, size, board, options = DESIGNS[name]
    style = STYLES[code]
    blank = style.build(style.order(parse_size(size), find_board(board), options)).pieces[0].blank
    for side in Side:
        drawing = drawn(name, side)
        read = read_dxf(dxf_text(drawing, HOUSE, version=version, unit=unit, arcs=arcs, notes=True))
        faces = measure_faces(by_meaning(read.strokes, HOUSE))
        assert compare(faces, blank, side) == []
        assert compare_lengths(faces, drawing.lengths()) == []


def file_of(*records: str, unit: int | None = 4, before: str = "") -> str:
    """A small file from records written ``0 LINE 8 A 10 1.0``."""
    stated = "" if unit is None else f"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n"
    body = "".join("\n".join(record.split()) + "\n" for record in records)
    return f"{stated}{before}0\nSECTION\n2\nENTITIES\n{body}0\nENDSEC\n0\nEOF\n"


def numbers(stroke: ReadStroke) -> list[float]:
    return [*(number for point in stroke.points for number in point), *stroke.bulges]


LINE = "0 LINE 8 A 10 1 20 2 11 4 21 6"


def test_lines_arcs_and_circles() -> None:
    """Each kind gives one stroke; an arc may run through 0 degrees."""
    strokes = read_dxf(
        file_of(
            LINE, "0 ARC 8 B 10 5 20 5 40 2 50 270 51 90", "0 CIRCLE 10 1 20 1 40 1", "0 ARC 10 0 20 0 40 1 50 90 51 90"
        )
    ).strokes
    assert strokes[0] == ReadStroke("A", ((1.0, 2.0), (4.0, 6.0)))
    assert strokes[1].layer == "B"
    assert numbers(strokes[1]) == pytest.approx([5.0, 3.0, 5.0, 7.0, 1.0])
    assert strokes[2] == ReadStroke("0", ((2.0, 1.0), (0.0, 1.0)), (1.0, 1.0), True)
    assert strokes[3].closed


def test_bulges_belong_to_the_vertex_before() -> None:
    """Vertices without a bulge are straight, and a point that repeats the first is left out."""
    strokes = read_dxf(
        file_of(
            "0 LWPOLYLINE 8 A 90 4 70 1 10 0 20 0 10 2 20 0 42 1 10 2 20 2 10 0 20 0",
            "0 LWPOLYLINE 8 A 90 2 70 128 43 0.5 10 0 20 0 42 0.5 10 2 20 0 42 0.7",
            "0 POLYLINE 8 A 66 1 70 1 10 0 20 0 30 0 0 VERTEX 8 B 10 0 20 0 0 VERTEX 10 3 20 0 42 -1 0 SEQEND",
        )
    ).strokes
    assert strokes == (
        ReadStroke("A", ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0)), (0.0, 1.0, 0.0), True),
        ReadStroke("A", ((0.0, 0.0), (2.0, 0.0)), (0.5,), False),
        ReadStroke("A", ((0.0, 0.0), (3.0, 0.0)), (0.0, -1.0), True),
    )


def test_entities_drawn_on_the_back_are_turned_over() -> None:
    """An arc whose axis looks down has its x to the left, as other programs write mirrored drawings."""
    strokes = read_dxf(
        file_of(
            "0 ARC 10 5 20 0 40 1 50 0 51 90 210 0 220 0 230 -1",
            "0 LWPOLYLINE 90 2 70 0 10 1 20 0 42 0.5 10 2 20 0 210 0 220 0 230 -1",
            "0 LINE 10 1 20 0 11 2 21 0 210 0 220 0 230 -1",
        )
    ).strokes
    assert numbers(strokes[0]) == pytest.approx([-6.0, 0.0, -5.0, 1.0, -math.tan(math.pi / 8)])
    assert strokes[1] == ReadStroke("0", ((-1.0, 0.0), (-2.0, 0.0)), (-0.5,), False)
    assert strokes[2].points == ((1.0, 0.0), (2.0, 0.0))


def test_what_is_not_read_is_counted() -> None:
    """Nothing is passed over in silence, but what lies on the paper round the model is none of ours."""
    read = read_dxf(
        file_of(
            LINE,
            "0 SPLINE 8 A 70 8",
            "0 SPLINE 8 A 70 8",
            "0 POLYLINE 66 1 70 8 0 VERTEX 10 0 20 0 0 VERTEX 10 3 20 0 0 SEQEND",
            "0 LINE 67 1 10 0 20 0 11 9 21 9",
            "0 ARC 10 0 20 0 40 1 50 0 51 90 210 1 220 0 230 0",
        )
    )
    assert len(read.strokes) == 1
    assert read.passed_over == {"SPLINE": 2, "POLYLINE": 1, "ARC": 1}


@pytest.mark.parametrize(
    ("unit", "mm"), [(None, 1.0), (0, 1.0), (1, 25.4), (4, 1.0), (5, 10.0), (6, 1000.0), (2, 304.8)]
)
def test_lengths_come_in_millimetres(unit: int | None, mm: float) -> None:
    """Whatever unit the file states."""
    read = read_dxf(file_of(LINE, unit=unit))
    assert read.unit == mm
    assert read.strokes[0].points == ((1.0 * mm, 2.0 * mm), (4.0 * mm, 6.0 * mm))


def test_line_ends_and_spaces_do_not_matter() -> None:
    """Files of any system, with comments before and codes indented or not."""
    text = "999\nby hand\n" + file_of(LINE)
    wanted = read_dxf(text).strokes
    for other in (
        text.replace("\n", "\r\n"),
        text.replace("\n", "\r"),
        text.rstrip("\n"),
        text + "\n\n",
        "\n".join(f"  {row} " for row in text.split("\n")[:-1]),
    ):
        assert read_dxf(other).strokes == wanted


def test_layers_tell_what_is_shown_and_plotted() -> None:
    """Off, frozen and not plotted are three things."""
    table = (
        "0 SECTION 2 TABLES 0 TABLE 2 LAYER 0 LAYER 2 A 70 0 62 -5 6 DASH 0 LAYER 2 B 70 1 62 3 420 255"
        " 0 LAYER 2 C 70 4 62 7 290 0 0 ENDTAB 0 ENDSEC"
    )
    layers = read_dxf(file_of(LINE, before="\n".join(table.split()) + "\n")).layers
    assert layers == {
        "A": ReadLayer(5, "", "DASH", False, True),
        "B": ReadLayer(3, "#0000FF", "CONTINUOUS", False, True),
        "C": ReadLayer(7, "", "CONTINUOUS", True, False),
    }


@pytest.mark.parametrize("version", VERSIONS)
def test_a_file_cut_off_anywhere_is_refused(version: str) -> None:
    """A half-copied file never passes for a whole one."""
    text = dxf_text(drawn("round", Side.INSIDE), HOUSE, version=version)
    end = len(text) - 1  # the last line end may be missing
    for cut in [*range(0, end, 61), *range(end - 60, end)]:
        with pytest.raises(InputError):
            read_dxf(text[:cut])
    assert read_dxf(text[:end]).strokes


NO_DXF = "this is no DXF file – it must begin with a section"
CUT_OFF = "the file is cut off here – "
NO_SEQEND = "a POLYLINE has no SEQEND before this – the file is cut off or damaged"


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("", 1, NO_DXF),
        ("<svg/>\n", 1, NO_DXF),
        ("1\n2\n3\n4\n", 1, NO_DXF),
        ("0\nEOF\n", 1, NO_DXF),
        ("Some Binary DXF\r\n\x1a\x00", 1, "this is a binary DXF file – it must be in text form"),
        ("0\nSECTION\n2\nENTITIES\nzero\nLINE\n", 5, "'zero' is no group code – it must be a whole number"),
        ("0\nSECTION\n2\nENTITIES\n0\n", 5, CUT_OFF + "a value must follow its group code"),
        ("0\nSECTION\n2\nENTITIES\n0\nENDSEC\n", 5, CUT_OFF + "it must end with EOF"),
        (file_of("0 LINE 10 1 20 x 11 2 21 2"), 20, "'x' – it must be a number"),
        (file_of("0 LINE 10 1 20 nan 11 2 21 2"), 20, "'nan' – it must be a number"),
        (file_of("0 LINE 10 1 20 2 11 2"), 15, "LINE without group code 21 – it needs one"),
        (
            file_of("0 LWPOLYLINE 90 3 10 1 20 2 10 2 20 2"),
            15,
            "an LWPOLYLINE whose points do not fit their count – the file is damaged",
        ),
        (file_of("0 LWPOLYLINE 90 1 10 1 20 2"), 15, "LWPOLYLINE of 1 points – it needs two"),
        (file_of("0 POLYLINE 70 0 0 VERTEX 10 1 20 1", LINE), 25, NO_SEQEND),
        (file_of("0 POLYLINE 70 0 0 VERTEX 10 1 20 1"), 25, NO_SEQEND),
        (file_of(LINE, unit=3), 1, "$INSUNITS 3 – it must be a unit of length that a box is drawn in, 4 for mm"),
        (
            file_of(LINE).replace("0\nENDSEC\n0\nEOF", "0\nEOF"),
            27,
            "section ENTITIES has no end – the file is cut off or damaged",
        ),
    ],
)
def test_errors_name_the_line(text: str, line: int, message: str) -> None:
    """Where, what, what it must be, and what to do."""
    with pytest.raises(InputError) as caught:
        read_dxf(text, where="box.dxf")
    assert str(caught.value) == f"box.dxf (line {line}) – {message} – write the file again, or save it as text DXF"


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("SECTION", "CLASSES"),
        ("SECTION", "BLOCKS"),
        ("SECTION", "OBJECTS"),
        ("TABLE", "LTYPE"),
        ("TABLE", "BLOCK_RECORD"),
    ],
)
def test_sections_without_strokes_must_be_sound_too(kind: str, name: str) -> None:
    """They are left out once they are known; a damaged one is not known, and the error names the line of the file."""
    text = dxf_text(drawn("plain", Side.INSIDE), HOUSE)
    whole = read_dxf(text.replace("\n", "\r\n"))  # with such line ends, nothing is left out
    assert (read_dxf(text).strokes, read_dxf(text).layers) == (whole.strokes, whole.layers)
    lines = text.split("\n")
    start = next(i for i in range(0, len(lines), 2) if lines[i : i + 4] == ["  0", kind, "  2", name])
    end = next(i for i in range(start, len(lines), 2) if lines[i] == "  0" and lines[i + 1].startswith("END"))
    for place in (start + 4, (start + end) // 4 * 2, end):
        with pytest.raises(InputError, match=rf"line {place + 1}\b.*'oops' is no group code"):
            read_dxf("\n".join([*lines[:place], "oops", *lines[place + 1 :]]))
        with pytest.raises(InputError):
            read_dxf("\n".join([*lines[:place], *lines[place + 1 :]]))


def test_no_job_is_none_and_a_damaged_one_an_error() -> None:
    """A file of another program has no job; ours, tampered with, does not pass."""
    text = dxf_text(drawn("plain", Side.INSIDE), HOUSE, job="board = 'C'")
    assert job_in_dxf(text) == "board = 'C'"
    assert job_in_dxf(text.replace("\n", "\r\n")) == "board = 'C'"
    assert job_in_dxf(text[text.index("  0\n") :]) is None
    assert job_in_dxf("999\nsomebody's comment\n" + text) == "board = 'C'"
    for damaged in (text.replace("'C'\"", "'C'"), text.replace("\"board = 'C'\"", "12")):
        assert damaged != text
        with pytest.raises(InputError, match="the job in its comments is damaged"):
            job_in_dxf(damaged)
