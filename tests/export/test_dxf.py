"""DXF out: what stands in the file, word for word."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace

import pytest

from dieline.board import find_board
from dieline.drawing.model import Drawing, NoteGroup, Text, draw_blank
from dieline.drawing.strokes import Stroke
from dieline.errors import InputError, UnknownNameError
from dieline.export import dxf_forms
from dieline.export.dxf import dxf_text
from dieline.export.dxf_skeleton import VERSIONS, make_skeleton, skeleton_path
from dieline.export.read_dxf import job_in_dxf
from dieline.geometry.path import Path, circle, line, rectangle
from dieline.linetypes import LOOKS, Meaning
from dieline.machine import MachineProfile, Pen
from dieline.units import parse_size
from dieline_styles.slotted import STYLES

HOUSE = MachineProfile()


def drawing_of(**options: object) -> Drawing:
    style = STYLES["0201"]
    design = style.build(style.order(parse_size("300x200x150"), find_board("C"), options))
    return draw_blank(design.pieces[0].blank)


ROUND = drawing_of(slot_end="round", hand_holes="B", hand_hole_left_in=True, tear_strip=True, tear_strip_height=30)


def noted(drawing: Drawing) -> Drawing:
    """With one of each kind of note, beside the blank."""
    group = NoteGroup(
        "legend",
        lines=(line((-20.0, -10.0), (40.0, -10.0)),),
        texts=(
            Text("panel 2 × ½ – Ø\n12", (5.0, -8.0), 3.5, "middle", 90.0),
            Text("plain", (5.0, -20.0), 3.5),
        ),
        fills=(Path(((0.0, -5.0), (2.0, -6.0), (0.0, -7.0)), closed=True),),
        samples=((Meaning.CREASE, line((0.0, -30.0), (20.0, -30.0))),),
    )
    return replace(drawing, notes=(group,), page=(-25.0, -35.0, drawing.width + 5.0, drawing.height + 5.0))


def pairs(text: str) -> list[tuple[int, str]]:
    lines = text.split("\n")
    assert lines.pop() == ""
    return [(int(code), value) for code, value in zip(lines[0::2], lines[1::2], strict=True)]


def entities(text: str) -> list[list[tuple[int, str]]]:
    """The records of the entities section, each with its kind first."""
    found: list[list[tuple[int, str]]] = []
    section = ""
    for number, (code, value) in enumerate(pairs(text)):
        if (code, value) == (0, "SECTION"):
            section = pairs(text)[number + 1][1]
        elif (code, value) == (0, "ENDSEC"):
            section = ""
        elif section == "ENTITIES" and code == 0:
            found.append([(code, value)])
        elif section == "ENTITIES" and found:
            found[-1].append((code, value))
    return found


def header(text: str, name: str) -> list[str]:
    """The values of a header variable."""
    all_pairs = pairs(text)
    at = all_pairs.index((9, name)) + 1
    values = []
    while all_pairs[at][0] not in (9, 0):
        values.append(all_pairs[at][1])
        at += 1
    return values


def layers(text: str) -> dict[str, dict[int, str]]:
    records = re.findall(r"  0\nLAYER\n(.*?)(?=  0\n)", text, re.DOTALL)
    found = [dict(reversed(pairs(record))) for record in records]
    return {record[2]: record for record in found}


@pytest.mark.parametrize("version", VERSIONS)
def test_shipped_skeleton_is_what_ezdxf_makes(version: str) -> None:
    """Header, tables and objects are ezdxf's, not ours."""
    assert skeleton_path(version).read_text(encoding="ascii") == make_skeleton(version)


@pytest.mark.parametrize("version", VERSIONS)
def test_skeleton_names_no_maker_and_no_date(version: str) -> None:
    """The same bytes on any day, with any program."""
    text = skeleton_path(version).read_text(encoding="ascii")
    assert "ezdxf" not in text.lower()
    assert not re.search(r"\$TD|GUID|20\d\d-\d\d", text)


def test_handles_of_the_skeleton_are_those_that_records_point_to() -> None:
    """Owners are right, and our own handles begin above all others."""
    text = skeleton_path("R2010").read_text(encoding="ascii")
    handles = re.findall(r"\n(?:  5|105)\n([0-9A-F]+)\n", text)
    assert len(handles) == len(set(handles)) > 40
    assert max(int(handle, 16) for handle in handles) < dxf_forms.FIRST_HANDLE
    assert f"  0\nTABLE\n  2\nLAYER\n  5\n{dxf_forms.LAYER_TABLE}\n" in text
    assert re.search(rf"BLOCK_RECORD\n  5\n{dxf_forms.MODEL_SPACE}\n(?:[^\n]*\n){{6}}  2\n\*Model_Space\n", text)
    assert f"390\n{dxf_forms.PLOT_STYLE}\n347\n{dxf_forms.MATERIAL}\n" in text


def test_nothing_on_the_way_imports_ezdxf() -> None:
    """Drawing a file does not wait for a library that it does not use."""
    code = (
        "import sys; from dieline.export.dxf import dxf_text; from dieline.machine import MachineProfile;"
        "from dieline.drawing.model import Drawing, Side; from dieline.drawing.strokes import Stroke;"
        "from dieline.geometry.path import circle; from dieline.linetypes import Meaning;"
        "d = Drawing(name='a', width=2.0, height=2.0, side=Side.INSIDE,"
        " strokes=(Stroke(Meaning.CUT, circle((1.0, 1.0), 1.0)),));"
        "assert 'CIRCLE' not in dxf_text(d, MachineProfile()); assert 'ezdxf' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


@pytest.mark.parametrize(
    ("version", "arcs", "kinds"),
    [
        ("R2010", "bulge", {"LINE", "LWPOLYLINE"}),
        ("R2010", "separate", {"LINE", "ARC"}),
        ("R12", "bulge", {"LINE", "POLYLINE", "VERTEX", "SEQEND"}),
        ("R12", "separate", {"LINE", "ARC"}),
    ],
)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_only_the_promised_entities(version: str, arcs: str, kinds: set[str], unit: str) -> None:
    """A reader that knows these kinds misses nothing; curves, hatches, blocks and texts never occur."""
    text = dxf_text(ROUND, HOUSE, version=version, unit=unit, arcs=arcs)
    assert {record[0][1] for record in entities(text)} == kinds


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize(("unit", "insunits", "measurement", "mm"), [("mm", "4", "1", 1.0), ("in", "1", "0", 25.4)])
def test_header_states_unit_and_extents(version: str, unit: str, insunits: str, measurement: str, mm: float) -> None:
    """Size and unit can be read from the header alone, and the extents are those of the strokes."""
    text = dxf_text(ROUND, HOUSE, version=version, unit=unit)
    assert header(text, "$INSUNITS") == [insunits]
    assert header(text, "$MEASUREMENT") == [measurement]
    assert header(text, "$ACADVER") == ["AC1009" if version == "R12" else "AC1024"]
    boxes = [stroke.path.bounds for stroke in ROUND.strokes]
    low = [float(value) for value in header(text, "$EXTMIN")]
    high = [float(value) for value in header(text, "$EXTMAX")]
    assert low[:2] == pytest.approx([min(box[axis] for box in boxes) / mm for axis in (0, 1)], abs=1e-6)
    assert high[:2] == pytest.approx([max(box[axis] for box in boxes) / mm for axis in (2, 3)], abs=1e-6)
    assert header(text, "$LIMMAX") == header(text, "$EXTMAX")[:2]
    assert float(header(text, "$LTSCALE")[0]) == pytest.approx(1 / mm, abs=1e-6)


@pytest.mark.parametrize("version", VERSIONS)
def test_layers_in_use_and_no_other(version: str) -> None:
    """Layer 0, which the format wants, and one for each meaning, with its colour and line type."""
    text = dxf_text(ROUND, HOUSE, version=version)
    found = layers(text)
    used = {stroke.meaning for stroke in ROUND.strokes}
    assert set(found) == {"0", *(LOOKS[meaning].layer for meaning in used)}
    assert len(used) == 3
    for meaning in used:
        record = found[LOOKS[meaning].layer]
        assert (record[62], record[6]) == (str(LOOKS[meaning].colour_index), LOOKS[meaning].line_type)
        assert record.get(420) == (None if version == "R12" else str(int(LOOKS[meaning].colour[1:], 16)))
        assert f"\n  2\n{LOOKS[meaning].line_type}\n".upper() in text.upper()
    assert f"  2\nLAYER\n 70\n{len(found)}\n" in re.sub(r"  5\n.*\n330\n.*\n100\n.*\n", "", text)


def test_entities_stand_in_tool_order() -> None:
    """The order of strokes is the order of the file."""
    for version in VERSIONS:
        text = dxf_text(ROUND, HOUSE, version=version)
        runs = [record for record in entities(text) if record[0][1] not in ("VERTEX", "SEQEND")]
        wanted = [LOOKS[stroke.meaning].layer for stroke in ROUND.strokes]
        assert [dict(reversed(record))[8] for record in runs] == wanted


def test_creases_are_open_and_the_outline_is_closed() -> None:
    """A closed run frees a piece; an open one does not."""
    for record in entities(dxf_text(ROUND, HOUSE)):
        values = dict(record)
        if values[8] == LOOKS[Meaning.CREASE].layer:
            assert values.get(70, "0") == "0"
    assert dict(entities(dxf_text(ROUND, HOUSE))[-1])[70] == "1"


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_numbers_are_fixed_and_short(version: str, unit: str) -> None:
    """At most six decimals, no exponent, no minus nought, whatever the arithmetic left behind."""
    strokes = (
        Stroke(Meaning.CUT, line((-0.0, -1e-9), (1e-5, 123456.7890123))),
        Stroke(Meaning.CUT, Path(((0.0, 0.0), (1e-4, 3e-5), (2.0, 1.0)), (1e-5, 0.0))),
    )
    text = dxf_text(replace(ROUND, strokes=(*ROUND.strokes, *strokes)), HOUSE, version=version, unit=unit)
    for record in entities(text):
        for code, value in record:
            if 10 <= code < 60:
                assert re.fullmatch(r"-?\d+\.\d{1,6}", value), value
                assert not re.fullmatch(r"-0\.0+", value), value


def test_a_coordinate_that_is_no_number_is_refused() -> None:
    """A file is not written with a hole in it."""
    broken = replace(ROUND, strokes=(Stroke(Meaning.CUT, line((0.0, 0.0), (float("nan"), 1.0))),))
    with pytest.raises(InputError, match="coordinate of nan"):
        dxf_text(broken, HOUSE)


def test_inches_are_millimetres_over_25_4() -> None:
    """One inch is written 1.0."""
    square = replace(ROUND, strokes=(Stroke(Meaning.CUT, rectangle(0.0, 0.0, 25.4, 50.8)),), width=25.4, height=50.8)
    values = [value for code, value in entities(dxf_text(square, HOUSE, unit="in"))[0] if code in (10, 20)]
    assert values == ["0.0", "0.0", "1.0", "0.0", "1.0", "2.0", "0.0", "2.0"]


def test_handles_ascend_and_are_unique() -> None:
    """No two records of a file share a handle, and the next free one is above all."""
    text = dxf_text(noted(ROUND), HOUSE, notes=True)
    handles = [
        int(handle, 16) for handle in re.findall(r"\n(?:  5|105)\n([0-9A-F]+)\n", text.replace("$HANDSEED\n  5\n", ""))
    ]
    ours = [handle for handle in handles if handle >= dxf_forms.FIRST_HANDLE]
    assert len(handles) == len(set(handles))
    assert ours == sorted(ours)
    assert len(ours) == len(entities(text)) + len(layers(text)) - 1
    assert int(header(text, "$HANDSEED")[0], 16) > max(handles)


def test_pen_numbers_take_the_place_of_colours() -> None:
    """A plotter that picks its pen by the colour index gets the pen's number."""
    profile = MachineProfile(name="table", pens={**HOUSE.pens, Meaning.CUT: Pen("KNIFE", "#0072B2", 5, pen=3)})
    record = layers(dxf_text(ROUND, profile))["KNIFE"]
    assert record[62] == "3"
    assert 420 not in record
    assert layers(dxf_text(ROUND, profile, version="R12"))["KNIFE"][62] == "3"


def test_one_layer_may_serve_several_meanings() -> None:
    """A plant that has one layer for all rules gets one layer record."""
    pens = {meaning: Pen("Rule" if number % 2 else "RULE", "#000000", 7) for number, meaning in enumerate(LOOKS)}
    text = dxf_text(ROUND, MachineProfile(name="old", pens=pens), version="R12")
    assert text.count("  0\nLAYER\n") == 2
    everything_on_0 = MachineProfile(pens={meaning: Pen("0", "#000000", 7) for meaning in LOOKS})
    assert dxf_text(ROUND, everything_on_0).count("  0\nLAYER\n") == 1


def test_r12_refuses_layer_names_that_it_cannot_hold() -> None:
    """Said before the old reader says it."""
    profile = MachineProfile(name="table", pens={**HOUSE.pens, Meaning.CUT: Pen("cut through", "#0072B2", 5)})
    with pytest.raises(InputError) as caught:
        dxf_text(ROUND, profile, version="R12")
    assert str(caught.value) == (
        "machine profile table: cut – layer 'cut through' – R12 takes at most 31 letters, digits, $, - and _ – "
        "rename the layer, or write R2010"
    )
    assert "cut through" in layers(dxf_text(ROUND, profile))


def test_no_notes_unless_asked_for() -> None:
    """The cut file holds what tools do, and nothing else."""
    for version in VERSIONS:
        assert dxf_text(noted(ROUND), HOUSE, version=version) == dxf_text(ROUND, HOUSE, version=version)


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("arcs", ["bulge", "separate"])
def test_notes_stand_on_layers_that_no_tool_reads(version: str, arcs: str) -> None:
    """Tools find the same strokes as without notes; notes are not plotted."""
    text = dxf_text(noted(ROUND), HOUSE, version=version, notes=True, arcs=arcs)
    note, glue = (LOOKS[meaning].layer for meaning in (Meaning.NOTE, Meaning.GLUE))
    for name in (note, glue):
        record = layers(text)[name]
        assert record[290] == "0" if version == "R2010" else int(record[62]) < 0

    def strokes(text: str) -> list[list[tuple[int, str]]]:
        return [
            [pair for pair in record if pair[0] not in (5, 330)]
            for record in entities(text)
            if dict(record)[8] not in (note, glue)
        ]

    assert strokes(text) == strokes(dxf_text(ROUND, HOUSE, version=version, arcs=arcs))
    texts = [dict(reversed(record)) for record in entities(text) if record[0][1] == "TEXT"]
    words = "panel 2 × ½ – Ø 12" if version == "R2010" else "panel 2 x \\U+00BD - %%c 12"
    assert [record[1] for record in texts] == [words, "plain"]
    assert (texts[0][72], texts[0][50], texts[0][40]) == ("1", "90.0", "3.5")
    assert [float(value) for value in header(text, "$EXTMIN")[:2]] == [-25.0, -35.0]
    assert text.isascii() is (version == "R12")


def test_notes_on_the_layer_of_a_tool_are_refused() -> None:
    """A legend must never be cut."""
    profile = MachineProfile(name="table", pens={**HOUSE.pens, Meaning.NOTE: Pen("dl_thru", "#0072B2", 5)})
    assert dxf_text(noted(ROUND), profile)
    with pytest.raises(InputError, match="layer 'dl_thru' is also a tool's – no tool may read notes"):
        dxf_text(noted(ROUND), profile, notes=True)


JOBS = (
    'size = "300x200x150"\nboard = "C"\n',
    "  spaces " * 60,
    "Käsekartön ½ – 12×9 \\ \"quoted\" 'so' \t\r\n\x00\x7f 😀 \u2028",
    "\\u0020" * 90,
    "0\nSECTION\n0\nEOF\n",
    "x" * 1000,
)


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("job", JOBS)
def test_the_job_rides_along_in_comments(version: str, job: str) -> None:
    """What was written can be read back, even by way of a program that strips spaces at line ends."""
    text = dxf_text(ROUND, HOUSE, version=version, job=job)
    assert text.isascii()
    comments = text[: text.index("  0\nSECTION")].split("\n")
    assert set(comments[0:-1:2]) == {"999"}
    assert all(len(comment) <= 200 and comment == comment.strip() for comment in comments)
    assert job_in_dxf(text) == job
    assert text.endswith(dxf_text(ROUND, HOUSE, version=version))


def test_same_drawing_same_bytes() -> None:
    """No date, no random handle."""
    other = drawing_of(slot_end="round", hand_holes="B", hand_hole_left_in=True, tear_strip=True, tear_strip_height=30)
    for version in VERSIONS:
        assert dxf_text(other, HOUSE, version=version) == dxf_text(ROUND, HOUSE, version=version)


def test_a_circle_is_two_half_circles() -> None:
    """Readers that know no circle still read a round hole."""
    round_hole = replace(ROUND, strokes=(Stroke(Meaning.CUT, circle((5.0, 5.0), 2.0)),))
    arcs = [dict(record) for record in entities(dxf_text(round_hole, HOUSE, arcs="separate"))]
    assert [(arc[40], arc[50], arc[51]) for arc in arcs] == [("2.0", "0.0", "180.0"), ("2.0", "180.0", "0.0")]


@pytest.mark.parametrize(("name", "value"), [("version", "R14"), ("unit", "cm"), ("arcs", "splines")])
def test_unknown_arguments_are_named(name: str, value: str) -> None:
    """With what would have been right."""
    with pytest.raises(UnknownNameError, match=value):
        dxf_text(ROUND, HOUSE, **{name: value})  # type: ignore[arg-type]  # the name is a parameter of the test
