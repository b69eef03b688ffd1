"""The folded picture: true scale, a title on each face, nothing lost on the way to the file, always the same bytes."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from dieline.blank import Face
from dieline.board import find_board
from dieline.export.folded_svg import folded_svg
from dieline.fold.motion import opened
from dieline.fold.skin import Skin
from dieline.fold.view import View, folded_view
from dieline.units import parse_size
from dieline_styles.slotted import STYLES

SVG = "{http://www.w3.org/2000/svg}"


def _views() -> list[View]:
    """A kettle case closed and opened, with hand holes and a tear strip."""
    style, board = STYLES["0201"], find_board("C")
    design = style.build(
        style.order(parse_size("300x200x150"), board, {"hand_holes": "B", "hand_hole_drop": 12, "tear_strip": True})
    )
    bend = opened(design.pieces[0].blank, {Face.TOP}, 110.0)
    return [folded_view(design, board.thickness), folded_view(design, board.thickness, bends=[bend])]


VIEWS = _views()
TEXT = folded_svg(VIEWS, title="Kettle case, closed and open")


def _root() -> ElementTree.Element:
    return ElementTree.fromstring(TEXT.encode())


def _faces(group: ElementTree.Element) -> list[ElementTree.Element]:
    return [path for path in group.iter(f"{SVG}path") if path.find(f"{SVG}title") is not None]


def _rings(data: str) -> list[list[tuple[float, float]]]:
    """The rings of path data that holds only M, L and Z."""
    assert re.fullmatch(r"[MLZ0-9.,\-]+", data)
    runs = [run for run in data.split("M") if run]
    return [[(float(x), float(y)) for x, y in (p.split(",") for p in run.rstrip("Z").split("L"))] for run in runs]


def _area(ring: list[tuple[float, float]]) -> float:
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True)) / 2


def test_the_scale_is_true() -> None:
    """Width and height in mm are those of the view box, and both views stand side by side in it."""
    root = _root()
    left, top, width, height = (float(part) for part in root.attrib["viewBox"].split())
    assert (left, top) == (0.0, 0.0)
    assert root.attrib["width"] == f"{width:g}mm"
    assert root.attrib["height"] == f"{height:g}mm"
    room = max(5.0, *(0.025 * max(view.width, view.height) for view in VIEWS))
    assert width == pytest.approx(sum(view.width for view in VIEWS) + (2 + 3) * room, abs=0.001)
    assert height == pytest.approx(max(view.height for view in VIEWS) + 2 * room, abs=0.001)


def test_each_view_is_a_group_and_each_face_bears_its_panel() -> None:
    """Faces come in the order of the view, titled with the panel's name."""
    groups = [group for group in _root().iter(f"{SVG}g") if group.get("id", "").startswith("view-")]
    assert [group.get("id") for group in groups] == ["view-1", "view-2"]
    for group, view in zip(groups, VIEWS, strict=True):
        titles = [path.findtext(f"{SVG}title") for path in _faces(group)]
        assert titles == [face.panel for face in view.faces]


def test_areas_read_back_from_the_file() -> None:
    """Every face covers in the file what it covers in the view, to the rounding of a thousandth."""
    groups = [group for group in _root().iter(f"{SVG}g") if group.get("id", "").startswith("view-")]
    for group, view in zip(groups, VIEWS, strict=True):
        for path, face in zip(_faces(group), view.faces, strict=True):
            area = -sum(_area(ring) for ring in _rings(path.attrib["d"]))  # y points down in the file
            around = sum(abs(x) + abs(y) for ring in face.rings for x, y in ring)
            assert area == pytest.approx(face.area, abs=0.001 * around + 0.01)


def test_everything_lies_within_the_page() -> None:
    """No face and no line sticks out of the margin, and views do not run into each other."""
    root = _root()
    _, _, width, height = (float(part) for part in root.attrib["viewBox"].split())
    spans = []
    for group in root.iter(f"{SVG}g"):
        if not group.get("id", "").startswith("view-"):
            continue
        points = [p for path in group.iter(f"{SVG}path") for ring in _rings(path.attrib["d"]) for p in ring]
        xs, ys = zip(*points, strict=True)
        assert min(ys) >= 4.9
        assert max(ys) <= height - 4.9
        spans.append((min(xs), max(xs)))
    assert spans[0][0] >= 4.9
    assert spans[0][1] + 14.9 <= spans[1][0]
    assert spans[1][1] <= width - 4.9


def test_numbers_have_three_decimals_at_most() -> None:
    """A thousandth of a millimetre is enough for a picture."""
    assert not re.search(r"\.\d{4}", TEXT)


def test_light_and_side_decide_the_colour() -> None:
    """The same skin in the same light has one colour; the top of the closed box is lighter than its right side."""
    group = next(group for group in _root().iter(f"{SVG}g") if group.get("id") == "view-1")
    colours: dict[tuple[Skin, float], set[str]] = {}
    for path, face in zip(_faces(group), VIEWS[0].faces, strict=True):
        assert path.get("stroke") == path.get("fill")
        colours.setdefault((face.skin, face.shade), set()).add(path.attrib["fill"])
    assert all(len(found) == 1 for found in colours.values())
    lit = sorted((shade, next(iter(found))) for (skin, shade), found in colours.items() if skin is Skin.OUTSIDE)
    assert int(lit[0][1][1:3], 16) < int(lit[-1][1][1:3], 16)


def test_a_perforation_is_dashed_and_an_edge_is_not() -> None:
    """Edges are one solid path of each view; the tear strip is drawn with a finer, dashed pen."""
    group = next(group for group in _root().iter(f"{SVG}g") if group.get("id") == "view-1")
    pens = [path for path in group.iter(f"{SVG}path") if path.find(f"{SVG}title") is None]
    assert [path.get("stroke-dasharray") is None for path in pens] == [True, False]
    assert float(pens[1].attrib["stroke-width"]) < float(pens[0].attrib["stroke-width"])


def test_a_title_of_any_letters_makes_a_sound_file() -> None:
    """Signs that XML keeps for itself are written so that they read back; control characters are left out."""
    root = ElementTree.fromstring(folded_svg(VIEWS[:1], title='a < b & "c"\x07 – ü').encode())
    assert root.findtext(f"{SVG}title") == 'a < b & "c" – ü'


def test_another_process_writes_the_same_bytes() -> None:
    """No hash order, address or date gets into the file."""
    code = "import hashlib, test_folded_svg as t; print(hashlib.sha256(t.TEXT.encode()).hexdigest())"
    paths = os.pathsep.join([str(Path(__file__).parent), *sys.path])
    environment = {**os.environ, "PYTHONPATH": paths, "PYTHONHASHSEED": "4711"}
    other = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    assert other.stdout.strip() == hashlib.sha256(TEXT.encode()).hexdigest()
