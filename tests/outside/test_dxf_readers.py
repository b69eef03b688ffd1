"""Readers that are not ours read the DXF: GDAL measures its geometry, ezdxf audits and measures it."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from itertools import product
from pathlib import Path as FilePath
from typing import Any

import pyogrio
import pytest
import shapely
from ezdxf.bbox import extents
from ezdxf.document import Drawing as Document
from ezdxf.entities.arc import Arc
from ezdxf.entities.line import Line
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.filemanagement import read
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import Vec2, bulge_to_arc

from dieline.blank import Blank
from dieline.board import find_board
from dieline.drawing.model import Drawing, Side, draw_blank
from dieline.drawing.notes import annotate
from dieline.export.dxf import ARCS, UNITS, VERSIONS, dxf_text
from dieline.export.measure_back import by_meaning, compare, measure_faces
from dieline.export.read_dxf import read_dxf
from dieline.fold import prove_folded
from dieline.linetypes import LOOKS, Meaning
from dieline.machine import MachineProfile
from dieline.registry import find_style
from dieline.units import parse_size

HOUSE = MachineProfile()

ZOO: dict[str, tuple[str, str, str, dict[str, Any]]] = {
    "regular": ("0201", "300x200x150", "C", {}),
    "one line, virtual bends": ("0203", "300x200x150", "C", {}),
    "round slots, hand holes": ("0201", "1200x800x900", "BC", {"hand_holes": "B", "slot_end": "round"}),
    "taped": ("0202", "400x300x200/40", "C", {"joint": "taped"}),
    "small carton": ("0201", "60x40x120", "carton-0.4", {}),
    "marks": (
        "0201",
        "400x300x200",
        "C",
        {"vents": "all", "tear_strip": True, "tear_strip_height": 40, "body_crease": "cut-crease"},
    ),
}

FORMS = list(product(VERSIONS, UNITS, ARCS))

FORBIDDEN = {"SPLINE", "ELLIPSE", "HATCH", "BLOCK", "INSERT", "TEXT", "MTEXT", "CIRCLE", "POINT", "DIMENSION"}


def blank_of(case: str) -> Blank:
    code, size, board, options = ZOO[case]
    style = find_style(code)
    return style.build(style.order(parse_size(size), find_board(board), options)).pieces[0].blank


def approval() -> Drawing:
    """A drawing with all notes."""
    style, board = find_style("0201"), find_board("C")
    design = style.build(style.order(parse_size("300x200x150"), board, {}))
    blank = design.pieces[0].blank
    words: dict[str, Any] = {"title": "Quillby Kettle Works, kettle case – ½", "style_title": style.title}
    return annotate(draw_blank(blank), blank, design, board, outside=prove_folded(design, board).outside, **words)


def by_layer(drawing: Drawing) -> dict[str, float]:
    return {LOOKS[meaning].layer: length for meaning, length in drawing.lengths().items()}


def read_by_ezdxf(text: str) -> Document:
    """The file as ezdxf loads it, after an audit that found nothing to say."""
    document = read(io.StringIO(text))
    audit = document.audit()
    assert [error.message for error in audit.errors] == []
    assert [fix.message for fix in audit.fixes] == []
    return document


def segments(entity: Any) -> Iterator[tuple[Vec2, Vec2, float]]:
    """The pieces of an entity as ezdxf sees them: from, to, bulge."""
    if isinstance(entity, Line):
        yield Vec2(entity.dxf.start), Vec2(entity.dxf.end), 0.0
        return
    if isinstance(entity, Arc):
        sweep = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0)
        yield Vec2(entity.start_point), Vec2(entity.end_point), math.tan(sweep / 4)
        return
    if isinstance(entity, LWPolyline):
        corners = [(Vec2(x, y), bulge) for x, y, bulge in entity.get_points("xyb")]
        closed = entity.closed
    else:
        assert isinstance(entity, Polyline)
        corners = [(Vec2(vertex.dxf.location), vertex.dxf.get("bulge", 0.0)) for vertex in entity.vertices]
        closed = entity.is_closed
    for number, (p, bulge) in enumerate(corners):
        if closed or number + 1 < len(corners):
            yield p, corners[(number + 1) % len(corners)][0], bulge


def length_by_ezdxf(entity: Any) -> float:
    total = 0.0
    for p, q, bulge in segments(entity):
        if bulge:
            _, start, end, radius = bulge_to_arc(p, q, bulge)
            total += radius * ((end - start) % (2 * math.pi))
        else:
            total += p.distance(q)
    return total


@pytest.mark.parametrize(("version", "unit", "arcs"), FORMS)
@pytest.mark.parametrize("case", ZOO)
def test_ezdxf_finds_nothing_to_mend_and_measures_the_same(case: str, version: str, unit: str, arcs: str) -> None:
    """No error, no fix, the stated unit, the same extents, and every layer as long as drawn to 0.01 mm."""
    drawing = draw_blank(blank_of(case))
    document = read_by_ezdxf(dxf_text(drawing, HOUSE, version=version, unit=unit, arcs=arcs, job="board = 'C'"))
    mm = UNITS[unit][0]
    assert document.dxfversion == {"R12": "AC1009", "R2010": "AC1024"}[version]
    assert document.header["$INSUNITS"] == {"mm": 4, "in": 1}[unit]
    space = document.modelspace()
    kinds = {entity.dxftype() for entity in space}
    assert not kinds & FORBIDDEN
    if arcs == "separate":
        assert kinds <= {"LINE", "ARC"}
    box = extents(space)
    assert tuple(box.extmin * mm) == pytest.approx((0.0, 0.0, 0.0), abs=0.01)
    assert tuple(box.extmax * mm) == pytest.approx((drawing.width, drawing.height, 0.0), abs=0.01)
    found: dict[str, float] = {}
    for entity in space:
        found[entity.dxf.layer] = found.get(entity.dxf.layer, 0.0) + mm * length_by_ezdxf(entity)
    assert found == pytest.approx(by_layer(drawing), abs=0.01)


@pytest.mark.parametrize(("version", "unit"), list(product(VERSIONS, UNITS)))
def test_ezdxf_sees_layers_and_line_types(version: str, unit: str) -> None:
    """Colour, dashes and plotting stand on the layer; owners and the next handle are right."""
    drawing = draw_blank(blank_of("marks"))
    document = read_by_ezdxf(dxf_text(drawing, HOUSE, version=version, unit=unit))
    used = {stroke.meaning for stroke in drawing.strokes}
    # ezdxf adds its own layer Defpoints to whatever it loads.
    assert {layer.dxf.name for layer in document.layers} - {"Defpoints"} == {
        "0",
        *(LOOKS[meaning].layer for meaning in used),
    }
    for meaning in used:
        look, layer = LOOKS[meaning], document.layers.get(LOOKS[meaning].layer)
        assert (layer.color, layer.dxf.linetype) == (look.colour_index, look.line_type)
        assert layer.is_on()
        if version == "R2010":
            assert layer.rgb == tuple(bytes.fromhex(look.colour[1:]))
            assert layer.dxf.plot == 1
        kind = document.linetypes.get(look.line_type)
        dashes = [abs(tag.value) for tag in kind.pattern_tags.tags if tag.code == 49]
        assert dashes == pytest.approx(list(look.dash))
    for entity in document.modelspace():
        assert entity.dxf.owner == document.modelspace().layout_key
        assert entity.dxf.linetype.upper() == "BYLAYER"
        if version == "R2010":
            assert int(entity.dxf.handle, 16) < int(document.header["$HANDSEED"], 16)


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("arcs", ARCS)
def test_ezdxf_reads_notes_and_leaves_tools_alone(version: str, arcs: str) -> None:
    """Notes stand on a layer that is not plotted (R12: off); texts come through with their signs."""
    drawing = approval()
    document = read_by_ezdxf(dxf_text(drawing, HOUSE, version=version, arcs=arcs, notes=True))
    plain = read_by_ezdxf(dxf_text(drawing, HOUSE, version=version, arcs=arcs))
    tools = {LOOKS[stroke.meaning].layer for stroke in drawing.strokes}
    rest = {LOOKS[meaning].layer for meaning in (Meaning.NOTE, Meaning.GLUE)}
    found = [entity for entity in document.modelspace() if entity.dxf.layer in tools]
    assert len(found) == len(plain.modelspace())
    assert {entity.dxf.layer for entity in document.modelspace()} == tools | rest
    for name in rest:
        layer = document.layers.get(name)
        assert layer.dxf.plot == 0 if version == "R2010" else layer.is_off()
    notes: list[Any] = [entity for entity in document.modelspace() if entity.dxftype() == "TEXT"]
    texts = [decode_dxf_unicode(note.plain_text()) for note in notes]
    wanted = [text.text for group in drawing.notes for text in group.texts]
    old = str.maketrans("×–", "x-") if version == "R12" else {}  # R12 knows no such signs
    assert sorted(texts) == sorted(text.translate(old) for text in wanted)
    assert any(not text.isascii() for text in wanted)
    if arcs == "separate":
        assert {entity.dxftype() for entity in document.modelspace()} <= {"LINE", "ARC", "TEXT"}


@pytest.fixture
def fine_arcs() -> Iterator[None]:
    """GDAL turns arcs into chords: fine ones."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.05"})
    yield
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None})


@pytest.mark.usefixtures("fine_arcs")
@pytest.mark.parametrize(("version", "unit", "arcs"), FORMS)
@pytest.mark.parametrize("case", ZOO)
def test_gdal_measures_the_same(tmp_path: FilePath, case: str, version: str, unit: str, arcs: str) -> None:
    """Every layer's length and bounds to 0.01 mm, one feature for each stroke, closed where it is closed."""
    drawing = draw_blank(blank_of(case))
    path = tmp_path / "box.dxf"
    path.write_text(dxf_text(drawing, HOUSE, version=version, unit=unit, arcs=arcs, job="x" * 500), encoding="ascii")
    _, _, geometry, (names, *_) = pyogrio.raw.read(path, columns=["Layer"])
    lines = shapely.from_wkb(geometry)
    mm = UNITS[unit][0]
    assert set(shapely.get_type_id(lines)) <= {1, 3}  # lines, or closed ones as polygons
    found: dict[str, float] = {}
    for name, line in zip(names, lines, strict=True):
        found[name] = found.get(name, 0.0) + mm * line.length
    assert found == pytest.approx(by_layer(drawing), abs=0.01)
    bounds = shapely.total_bounds(lines) * mm
    assert list(bounds) == pytest.approx([0.0, 0.0, drawing.width, drawing.height], abs=0.01)
    if arcs == "bulge":
        assert len(lines) == len(drawing.strokes)
        closed = [
            bool(shapely.is_closed(shapely.boundary(line) if line.geom_type == "Polygon" else line)) for line in lines
        ]
        assert closed == [stroke.path.closed for stroke in drawing.strokes]


@pytest.mark.parametrize(("version", "unit", "arcs"), FORMS)
def test_what_ezdxf_reads_agrees_with_the_blank(version: str, unit: str, arcs: str) -> None:
    """Panels measured on another reader's strokes are the panels of the blank, on either side."""
    mm = UNITS[unit][0]
    for case, side in product(ZOO, Side):
        blank = blank_of(case)
        text = dxf_text(draw_blank(blank, side), HOUSE, version=version, unit=unit, arcs=arcs)
        strokes = [
            (entity.dxf.layer, ((p.x * mm, p.y * mm), (q.x * mm, q.y * mm)), (bulge,), False)
            for entity in read_by_ezdxf(text).modelspace()
            for p, q, bulge in segments(entity)
        ]
        assert compare(measure_faces(by_meaning(strokes, HOUSE)), blank, side) == [], case


def found_in(text: str, blank: Blank) -> list[str]:
    return compare(measure_faces(by_meaning(read_dxf(text).strokes, HOUSE)), blank)


@pytest.mark.parametrize(
    ("version", "unit", "arcs"), [form for form in FORMS if form[:2] != ("R12", "in")]
)  # ezdxf forgets the unit of an R12 file
def test_a_tampered_file_does_not_pass(version: str, unit: str, arcs: str) -> None:
    """As another program may leave it: a corner moved by 0.02 mm, a line lost, a line doubled; saved by ezdxf."""
    blank = blank_of("regular")
    text = dxf_text(draw_blank(blank), HOUSE, version=version, unit=unit, arcs=arcs)
    assert found_in(saved(read_by_ezdxf(text)), blank) == []
    moved = read_by_ezdxf(text)
    move_a_corner(moved.modelspace()[-1], 0.02 / UNITS[unit][0])
    assert found_in(saved(moved), blank)
    lost = read_by_ezdxf(text)
    lost.modelspace().delete_entity(lost.modelspace()[3])
    assert any("no face of its own" in line for line in found_in(saved(lost), blank))
    doubled = read_by_ezdxf(text)
    doubled.modelspace().add_entity(doubled.modelspace()[3].copy())
    assert any("a line drawn twice" in line for line in found_in(saved(doubled), blank))


def move_a_corner(entity: Any, by: float) -> None:
    if isinstance(entity, Line):
        entity.dxf.start = entity.dxf.start + Vec2(by, 0)
    elif isinstance(entity, LWPolyline):
        x, *rest = entity[5]
        entity[5] = (x + by, *rest)
    else:
        assert isinstance(entity, Polyline)
        vertex = entity.vertices[5]
        vertex.dxf.location = vertex.dxf.location + Vec2(by, 0)


def saved(document: Document) -> str:
    """The text of the file as ezdxf saves it."""
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()
