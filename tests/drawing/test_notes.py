"""The approval drawing: what it says, and that nothing on it lies on anything else."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dieline.blank import Blank, Joint, JointKind
from dieline.board import find_board
from dieline.drawing.dimensions import spread, stations
from dieline.drawing.model import Drawing, NoteGroup, Side, Text, draw_blank
from dieline.drawing.notes import annotate
from dieline.drawing.notes_text import text_height, wrapped
from dieline.drawing.strokes import Stroke, StrokeRole
from dieline.fold import prove_folded
from dieline.geometry.path import Path, circle, line, rectangle, rounded
from dieline.linetypes import LOOKS, Meaning
from dieline.registry import find_style
from dieline.style.design import Design, Piece, Stand
from dieline.style.sheet import Sheet
from dieline.units import Size, parse_size

ZOO: dict[str, tuple[Any, ...]] = {
    "regular": ("0201", "300x200x150", "C", {}),
    "large, hand holes": ("0201", "1200x800x900", "BC", {"hand_holes": "B"}),
    "small carton": ("0201", "60x40x120", "carton-0.4", {}),
    "offset creases": ("0203", "300x200x150", "C", {"creases": "offset"}),
    "flap that climbs": ("0203", "300x200x150", "C", {"creases": "one"}),
    "short flaps": ("0209", "300x200x150", "C", {}),
    "tear strip": ("0201", "300x200x150", "C", {"tear_strip": True}),
    "tiny": ("0201", "25x20x20", "E", {}),
    "long": ("0201", "2900x600x400", "AAA", {}),
    "flat, horizontal flutes": (
        "0205",
        "400x300x60/40",
        "B",
        {"flutes": "horizontal", "slot_end": "round", "hand_holes": "L", "hand_hole_height": 20},
    ),
    "tall": ("0200", "60x40x700", "E", {}),
    "hinged hand holes": ("0201", "400x300x200", "EB", {"hand_holes": "all", "hand_hole_left_in": True}),
    "vents, stitched": ("0202", "400x300x200", "C", {"vents": "all", "joint": "stitched"}),
    "taped": ("0201", "300x200x150", "B", {"joint": "taped"}),
    "lap right and outside": ("0201", "300x200x150", "B", {"lap_end": "right", "lap_side": "outside", "lap_on": "B"}),
}


def approval(case: str, side: Side = Side.INSIDE, **words: Any) -> Drawing:
    """The approval drawing of a design of the zoo."""
    code, size, board_name, options = ZOO[case]
    style, board = find_style(code), find_board(board_name)
    design = style.build(style.order(parse_size(size), board, options))
    blank = design.pieces[0].blank
    told = {"title": "Quillby Kettle Works, kettle case", "style_title": style.title, **words}
    outside = prove_folded(design, board).outside
    return annotate(draw_blank(blank, side), blank, design, board, outside=outside, **told)


def bare(blank: Blank, *, board: str = "C", side: Side = Side.INSIDE, **words: Any) -> Drawing:
    """The approval drawing of a blank that belongs to no style."""
    stand = Stand((0.0, 0.0), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    size = Size(100.0, 80.0, 60.0)
    piece = Piece(blank=blank, stand=stand, count=2)
    design = Design(style="trial", pieces=(piece,), inside=size, crease=size, sizes=())
    told = {"title": "trial", "style_title": "trial piece", "outside": (100.0, 80.0, 60.0), **words}
    return annotate(draw_blank(blank, side), blank, design, find_board(board), **told)


def ladder(heights: list[float], width: float) -> Blank:
    """Panels on top of each other with a crease between each two."""
    sheet, y = Sheet("ladder"), 0.0
    for i, height in enumerate(heights):
        sheet.panel(f"step {i}", [(0.0, y), (width, y), (width, y + height), (0.0, y + height)])
        if i > 0:
            sheet.fold(f"step {i - 1}", f"step {i}", ((0.0, y), (width, y)))
        y += height
    return sheet.blank()


def group(drawing: Drawing, name: str) -> NoteGroup:
    (found,) = [notes for notes in drawing.notes if notes.name == name]
    return found


def texts(drawing: Drawing, name: str) -> list[str]:
    return [text.text for text in group(drawing, name).texts]


def ink(text: Text) -> shapely.Polygon:
    """Where a text is printed: 0.75 heights of capitals to the character, a quarter of it below the baseline."""
    length, (x, y) = 0.75 * text.height * len(text.text), text.at
    before = {"start": 0.0, "middle": length / 2, "end": length}[text.anchor]
    low, high = 0.25 * text.height, text.height
    if text.angle == 90.0:
        return shapely.box(x - high, y - before, x + low, y - before + length)
    assert text.angle == 0.0
    return shapely.box(x - before, y - low, x - before + length, y + high)


def rule(path: Path) -> shapely.LineString:
    points = path.flatten(0.05)
    return shapely.LineString([*points, points[0]] if path.closed else points)


def collisions(drawing: Drawing) -> list[str]:
    """Every text that lies on a stroke, on a line of the notes, or on another text, or off the page."""
    words = [text for notes in drawing.notes for text in notes.texts]
    boxes = [ink(text) for text in words]
    lines = [("stroke", rule(stroke.path)) for stroke in drawing.strokes]
    lines += [("zone", rule(zone)) for _, zone in drawing.zones]
    for notes in drawing.notes:
        marks = (*notes.lines, *notes.fills, *(path for _, path in notes.samples))
        lines += [(f"{notes.name} line", rule(path)) for path in marks]
    tree = shapely.STRtree([geometry for _, geometry in lines])
    page = shapely.box(*drawing.page)
    found = [f"'{words[i].text}' lies on a {lines[j][0]}" for i, j in tree.query(boxes, predicate="intersects").T]
    pairs = shapely.STRtree(boxes).query(boxes, predicate="intersects").T
    found += [f"'{words[i].text}' lies on '{words[j].text}'" for i, j in pairs if i < j]
    return found + [
        f"'{text.text}' is off the page" for text, box in zip(words, boxes, strict=True) if not page.contains(box)
    ]


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("case", ZOO)
def test_no_text_lies_on_a_line_or_on_another_text(case: str, side: Side) -> None:
    drawing = approval(
        case, side, revision="B", extra=("Close with 50 mm tape.", "Kettle in moulded pulp, two to a case. " * 3)
    )
    assert collisions(drawing) == []


@pytest.mark.parametrize("heights", [[80.0, 3.0, 60.0, 2.9, 3.1, 3.0, 120.0, 3.2], [3.25] * 30, [1.0] * 40, [6.0]])
@pytest.mark.parametrize("width", [7.0, 40.0, 900.0])
def test_chains_of_many_narrow_spans_stay_readable(heights: list[float], width: float) -> None:
    """Spans narrower than their numbers, as between the creases of a roll-over wall."""
    drawing = bare(ladder(heights, width))
    assert collisions(drawing) == []
    numbers = [float(text) for text in texts(drawing, "dimensions")]
    count = len(heights) + 1 if len(heights) > 1 else 1
    assert len(numbers) == count + 1  # the chain, its overall line, and the width
    assert math.isclose(sum(numbers), 2 * sum(heights) + width if count > 1 else sum(heights) + width)


def test_a_text_on_a_line_is_found() -> None:
    """The check above can fail."""
    drawing = approval("regular")
    x, y = drawing.strokes[0].path.points[0]
    spoilt = NoteGroup("panels", texts=(Text("on a crease", (x, y), 5.0), Text("on a text", (x + 1.0, y), 5.0)))
    found = collisions(Drawing(**{**{n: getattr(drawing, n) for n in drawing.__slots__}, "notes": (spoilt,)}))
    assert any("lies on a stroke" in line for line in found)
    assert "'on a crease' lies on 'on a text'" in found


@pytest.mark.parametrize("case", ZOO)
def test_every_group_is_there_and_the_strokes_are_left_alone(case: str) -> None:
    drawing = approval(case)
    names = [notes.name for notes in drawing.notes]
    blank = bare_blank(case)
    pierced = any(panel.holes for panel in blank.panels) or "hinged" in case
    holes = ["holes"] if pierced else []
    assert sorted(names) == ["check bar", "dimensions", "flute arrow", *holes, "legend", "panels", "title"]
    assert drawing.strokes == draw_blank(blank).strokes
    assert approval(case) == drawing


def bare_blank(case: str) -> Blank:
    code, size, board, options = ZOO[case]
    style = find_style(code)
    return style.build(style.order(parse_size(size), find_board(board), options)).pieces[0].blank


def test_the_chains_run_from_crease_to_crease() -> None:
    """0201 300 × 200 × 150 on 4 mm board: panels 302, 204, 304, 204 and lap 35; flaps 102 and height 158."""
    assert texts(approval("regular"), "dimensions") == [
        *("35", "302", "204", "304", "204", "1049"),
        *("102", "158", "102", "362"),
        "slot 6",
    ]


def test_offset_creases_are_all_in_the_chain() -> None:
    """Creases one board apart are given one by one, at the end of leaders."""
    found = [text for text in group(approval("offset creases"), "dimensions").texts if text.text == "4"]
    assert len(found) == 4
    assert len({text.at for text in found}) == 4


def test_creases_nearer_than_a_rule_can_be_set_are_one_station() -> None:
    creases = [Stroke(Meaning.CREASE, line((x, 0.0), (x, 9.0)), "", StrokeRole.FOLD) for x in (5.0, 5.04, 5.2, 19.98)]
    slanted = Stroke(Meaning.CREASE, line((11.0, 0.0), (12.0, 9.0)), "", StrokeRole.FOLD)
    cut = Stroke(Meaning.CUT, line((14.0, 0.0), (14.0, 9.0)), "", StrokeRole.SLIT)
    assert stations([*creases, slanted, cut], 0, 20.0) == [0.0, 5.0, 5.2, 20.0]
    assert stations(creases, 1, 9.0) == [0.0, 9.0]


@given(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=20), st.floats(0.1, 5.0))
def test_spread_labels_keep_their_order_their_pitch_and_their_bounds(wanted: list[float], pitch: float) -> None:
    wanted.sort()
    places = spread(wanted, pitch, 0.0, 100.0)
    assert len(places) == len(wanted)
    assert all(b - a >= pitch - 1e-6 for a, b in pairwise(places))
    assert -1e-6 <= places[0] <= places[-1] <= 100.0 + 1e-6
    if all(b - a >= pitch for a, b in pairwise(wanted)):
        assert places == pytest.approx(wanted)


def test_every_panel_is_named_with_its_size() -> None:
    said = texts(approval("regular"), "panels")
    assert len(said) == 2 * 13
    assert dict(zip(said[::2], said[1::2], strict=True))["panel 3"] == "304 × 158"
    assert ("lap", "35 × 149") in pairwise(said)


def test_a_flap_that_bends_by_itself_has_one_label_with_its_whole_size() -> None:
    said = texts(approval("flap that climbs"), "panels")
    assert not any("over" in text for text in said)
    assert said[said.index("top flap 3") + 1] == "298 × 192"


def test_labels_lie_in_their_panels_on_either_side() -> None:
    blank = bare_blank("large, hand holes")
    width = blank.size[0]
    for side in Side:
        drawing = approval("large, hand holes", side)
        for text in group(drawing, "panels").texts:
            if text.text in blank.by_name:
                x, y = text.at[0], text.at[1] + blank.bounds[1]
                x = (width - x if side is Side.PRINT else x) + blank.bounds[0]
                panel = blank.by_name[text.text]
                assert shapely.Polygon(panel.outline.flatten()).contains(shapely.Point(x, y))
                assert not any(shapely.Polygon(hole.flatten()).contains(shapely.Point(x, y)) for hole in panel.holes)


@pytest.mark.parametrize("case", ZOO)
def test_the_arrow_lies_in_the_root_panel_along_the_flutes(case: str) -> None:
    blank, drawing = bare_blank(case), approval(case)
    arrow = group(drawing, "flute arrow")
    ((x0, y0), (x1, y1)) = arrow.lines[0].points
    along_x, along_y = abs(x1 - x0), abs(y1 - y0)
    assert (along_y > 0.0 == along_x) if blank.flutes == "y" else (along_x > 0.0 == along_y)
    assert len(arrow.fills) == 2
    assert [text.text for text in arrow.texts] == ["GRAIN" if "carton" in ZOO[case][2] else "FLUTES"]
    left, low, right, high = blank.panels[0].outline.moved(-blank.bounds[0], -blank.bounds[1]).bounds
    assert left < min(x0, x1) <= max(x0, x1) < right
    assert low < min(y0, y1) <= max(y0, y1) < high


def test_an_arrow_without_room_stands_with_the_legend() -> None:
    sheet = Sheet("plug")
    sheet.panel("plug", rounded([(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (0.0, 6.0)], [1.0] * 4))
    drawing = bare(sheet.blank())
    assert texts(drawing, "flute arrow") == ["FLUTES"]
    assert group(drawing, "flute arrow").texts[0].at[1] < 0.0
    assert collisions(drawing) == []


def test_labels_keep_clear_of_holes() -> None:
    sheet = Sheet("ring")
    sheet.panel("ring", [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)], holes=[circle((200.0, 150.0), 90.0)])
    drawing = bare(sheet.blank())
    assert texts(drawing, "panels") == ["ring", "400 × 300"]
    assert collisions(drawing) == []


def test_labels_keep_clear_of_round_edges_and_glue_zones() -> None:
    """A tongue with a glue zone across its middle, and a tip too pointed for a label at its middle."""
    sheet = Sheet("tongue")
    sheet.panel("base", [(0.0, 0.0), (200.0, 0.0), (200.0, 120.0), (0.0, 120.0)])
    corners = [(200.0, 0.0), (290.0, 2.0), (290.0, 118.0), (200.0, 120.0)]
    sheet.panel("tongue", rounded(corners, [0.0, 50.0, 50.0, 0.0]))
    sheet.fold("base", "tongue", ((200.0, 0.0), (200.0, 120.0)))
    sheet.panel("tip", [(0.0, 0.0), (0.0, 120.0), (-70.0, 0.0)])
    sheet.fold("base", "tip", ((0.0, 0.0), (0.0, 120.0)))
    zone = rectangle(205.0, 50.0, 280.0, 70.0)
    sheet.join(Joint(kind=JointKind.GLUED, a="tongue", b="tip", zone=zone))
    drawing = bare(sheet.blank())
    assert texts(drawing, "panels")[2:] == ["tongue", "90 × 120", "tip", "70 × 120"]
    assert collisions(drawing) == []


@pytest.mark.parametrize("case", ZOO)
def test_the_legend_shows_the_line_kinds_in_use_and_no_others(case: str) -> None:
    drawing = approval(case)
    legend = group(drawing, "legend")
    used = {stroke.meaning for stroke in drawing.strokes} | ({Meaning.GLUE} if drawing.zones else set())
    assert {meaning for meaning, _ in legend.samples} == used
    words = {LOOKS[meaning].words for meaning in used - {Meaning.GLUE}}
    said = {text.text.removesuffix(" (pattern: as your tool)") for text in legend.texts} - {"lines"}
    assert words < said if drawing.zones else words == said


def test_a_stitched_lap_is_not_called_glued() -> None:
    assert "stitched zone" in texts(approval("vents, stitched"), "legend")
    assert "glue area" in texts(approval("regular"), "legend")


def test_the_legend_says_what_is_cut_and_left_along_a_perforation() -> None:
    unsaid = texts(approval("tear strip"), "legend")
    assert "perforation (pattern: as your tool)" in unsaid
    said = texts(approval("tear strip", patterns={Meaning.PERFORATION: (6.0, 3.5)}), "legend")
    assert "perforation (6 cut, 3.5 left)" in said


@pytest.mark.parametrize("case", ZOO)
def test_the_check_bar_is_exactly_100_mm(case: str) -> None:
    bar = group(approval(case), "check bar")
    (outline,) = bar.lines
    x0, _, x1, _ = outline.bounds
    assert x1 - x0 == pytest.approx(100.0, abs=1e-9)
    assert [text.text for text in bar.texts] == ["check bar 100 mm"]


def test_the_title_block_says_what_a_maker_asks() -> None:
    drawing = approval("regular", revision="B", extra=("Store dry.",))
    said = texts(drawing, "title")
    for words in (
        "0201 regular slotted case",
        "Quillby Kettle Works, kettle case",
        Side.INSIDE.words,
        "piece body",
        "blank 1049 × 362 mm",
        "board C, calliper 4, design thickness 4 mm",
        "revision B",
        f"geometry {drawing.digest()}",
        "true scale, do not scale",
        "300 × 200 × 150",
        "304 × 204 × 158",
        "308 × 208 × 166",
        "11.811 × 7.874 × 5.906",
        "slot width 6 mm",
        "bottom and top inner flap gap 100 mm",
        "Store dry.",
    ):
        assert words in said
    assert any(words.startswith("knocked down") for words in said)
    assert not any(words.startswith("revision") for words in texts(approval("regular"), "title"))


def test_flaps_with_less_than_no_gap_are_said_to_overlap() -> None:
    said = texts(approval("offset creases"), "title")
    assert "bottom and top outer flap overlap 200 mm" in said


def test_the_print_side_says_so_and_mirrors_no_text() -> None:
    inside, outside = approval("regular"), approval("regular", Side.PRINT)
    assert Side.PRINT.words in texts(outside, "title")
    assert Side.INSIDE.words not in texts(outside, "title")
    assert sorted(texts(inside, "panels")) == sorted(texts(outside, "panels"))
    assert texts(outside, "dimensions")[:6] == ["204", "304", "204", "302", "35", "1049"]


def test_several_of_a_piece_are_counted() -> None:
    assert "piece ladder, 2 to a box" in texts(bare(ladder([50.0, 50.0], 80.0)), "title")


def test_lettering_grows_with_the_blank_between_limits() -> None:
    assert text_height(20.0, 20.0) == 2.2
    assert text_height(2000.0, 800.0) == pytest.approx(2 * text_height(1000.0, 400.0))
    assert text_height(1e5, 1e5) == 60.0


def test_long_titles_are_broken_between_words() -> None:
    assert wrapped("a kettle case for two", 12) == ["a kettle", "case for two"]
    assert all(len(part) <= 10 for part in wrapped("x" * 35 + " y", 10))
    assert wrapped("", 10) == [""]


def test_every_hole_has_a_letter_its_size_and_its_place() -> None:
    """What a die maker needs to set the knives: nothing has to be measured in the cut file."""
    said = texts(approval("large, hand holes"), "holes")
    assert said.count("A") == 3  # beside both holes, and in the table
    assert "opening with rounded ends 115 × 38 on panel 2 and panel 4" in said
    blank = bare_blank("large, hand holes")
    panel = blank.by_name["panel 2"]
    (hole,) = panel.holes
    x = (hole.bounds[0] + hole.bounds[2]) / 2 - panel.outline.bounds[0]
    y = panel.outline.bounds[3] - (hole.bounds[1] + hole.bounds[3]) / 2
    assert f"middle {x:g} from the left, {y:g} from above" in said


def test_a_hole_shown_from_the_other_side_is_measured_from_the_other_end() -> None:
    """Seen with the print side up, left and right are exchanged."""
    blank = Sheet("pad")
    blank.panel("base", rectangle(0, 0, 200, 100), holes=[circle((50, 30), 10)])
    for side, place in ((Side.INSIDE, "middle 50"), (Side.PRINT, "middle 150")):
        said = texts(bare(blank.blank(), side=side), "holes")
        assert f"{place} from the left, 30 from below" in said
        assert "round hole 20 on base" in said


def test_pieces_left_in_and_slits_are_told_from_holes() -> None:
    said = texts(approval("hinged hand holes"), "holes")
    assert any(line.startswith("hand hole, cut but left in, 115 × 38 on ") for line in said)


def test_many_kinds_of_holes_end_the_table_with_how_many_more_there_are() -> None:
    blank = Sheet("pad")
    holes = [circle((20 + 20 * i, 50), 1 + i / 10) for i in range(30)]
    blank.panel("base", rectangle(0, 0, 700, 100), holes=holes)
    said = texts(bare(blank.blank()), "holes")
    assert "X" in said
    assert "6 more kinds are in the cut file" in said
    assert collisions(bare(blank.blank())) == []


@pytest.mark.parametrize(
    ("case", "words"),
    [
        ("regular", "glued: lap inside panel 4"),
        ("lap right and outside", "glued: lap outside panel 1"),
        ("vents, stitched", "stitched: lap inside panel 4"),
        ("taped", "taped: edge of panel 4 to panel 1, tape on the outside"),
    ],
)
def test_the_joint_is_told_in_words(case: str, words: str) -> None:
    assert words in texts(approval(case), "title")
