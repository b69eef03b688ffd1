"""Readers that are not ours measure the SVG: svgelements, and a browser (headless Chromium)."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from pathlib import Path as FilePath
from typing import Any

import pytest
import svgelements
from playwright.sync_api import Page, sync_playwright

from dieline.board import find_board
from dieline.drawing.model import Drawing, Side, draw_blank
from dieline.drawing.notes import annotate
from dieline.export.svg import svg_text
from dieline.fold import prove_folded
from dieline.geometry.arc import arc_length
from dieline.linetypes import LOOKS
from dieline.machine import MachineProfile
from dieline.registry import find_style
from dieline.units import parse_size

CHROMIUM = FilePath("/usr/bin/chromium")

ZOO: dict[str, tuple[Any, ...]] = {
    "regular": ("0201", "300x200x150", "C", {}),
    "large, hand holes": ("0201", "1200x800x900", "BC", {"hand_holes": "B"}),
    "small carton": ("0201", "60x40x120", "carton-0.4", {}),
    "offset creases": ("0203", "300x200x150", "C", {"creases": "offset"}),
    "short flaps, round slots": ("0209", "300x200x150", "C", {"slot_end": "round"}),
    "vents, tear strip": ("0201", "400x300x200", "C", {"vents": "all", "tear_strip": True, "tear_strip_height": 30}),
    "tiny": ("0201", "25x20x20", "E", {}),
    "long": ("0201", "2900x600x400", "AAA", {}),
    "hinged hand holes": ("0205", "400x300x200/40", "EB", {"hand_holes": "all", "hand_hole_left_in": True}),
}

MEASURE = """() => Array.from(document.querySelectorAll('g.tool'), layer => {
    const box = layer.getBBox();
    // Chromium measures curves by chords that keep to a share of a unit: a hundredfold larger, they keep to a mm's.
    const enlarged = (command, numbers) => command + numbers.trim().split(/[ ,]+/).map(
        (word, i) => command == 'A' && i > 1 && i < 5 ? word : 100 * word).join(' ');
    const length = path => {
        const d = path.getAttribute('d'), large = path.cloneNode();
        if (!d.includes('A')) return path.getTotalLength();
        large.setAttribute('d', d.replace(/([MLHVA])([^MLHVAZ]*)/g, (_, ...parts) => enlarged(parts[0], parts[1])));
        return large.getTotalLength() / 100;
    };
    return [layer.id, Array.from(layer.querySelectorAll('path'), length), [box.x, box.y, box.width, box.height]];
})"""

INK = """() => Array.from(document.querySelectorAll('text'), text => {
    const box = text.getBoundingClientRect(), pixels = text.ownerSVGElement.getScreenCTM().a;
    const size = parseFloat(getComputedStyle(text).fontSize) * pixels;
    return [text.textContent, box.left, box.top, box.right, box.bottom, size, text.hasAttribute('transform')];
})"""


def approval(case: str, side: Side = Side.INSIDE) -> Drawing:
    """The approval drawing of a design of the zoo."""
    code, size, board_name, options = ZOO[case]
    style, board = find_style(code), find_board(board_name)
    design = style.build(style.order(parse_size(size), board, options))
    blank = design.pieces[0].blank
    outside = prove_folded(design, board).outside
    words: dict[str, Any] = {"title": "Quillby Kettle Works, kettle case", "style_title": style.title}
    return annotate(
        draw_blank(blank, side), blank, design, board, outside=outside, extra=("Close with tape.",), **words
    )


def by_layer(drawing: Drawing) -> dict[str, float]:
    return {LOOKS[meaning].layer: length for meaning, length in drawing.lengths().items()}


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    """A browser's empty page."""
    if not CHROMIUM.exists():
        pytest.fail(f"{CHROMIUM} is missing: install it (apt-get install chromium), this test measures in a browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        yield browser.new_page()
        browser.close()


@pytest.mark.parametrize("notes", [True, False])
@pytest.mark.parametrize("case", ZOO)
def test_svgelements_measures_the_same_lengths(case: str, notes: bool) -> None:
    """Every layer's length to 0.01 mm."""
    drawing = approval(case)
    file = io.StringIO(svg_text(drawing, MachineProfile(), notes=notes))
    svg = svgelements.SVG.parse(file, ppi=25.4)
    # svgelements takes an inch for 25.39999 mm; beyond that its millimetre must be ours.
    width = drawing.page[2] - drawing.page[0] if notes else drawing.width
    inch = svg.width / width
    assert inch == pytest.approx(1.0, abs=1e-6)
    found = {
        layer.id: math.fsum(path.length(error=1e-9) for path in layer.select(_is_path)) / inch
        for layer in svg.select(_is_tool)
    }
    assert found == pytest.approx(by_layer(drawing), abs=0.01)


def _is_path(element: Any) -> bool:
    return isinstance(element, svgelements.Path)


def _is_tool(element: Any) -> bool:
    return isinstance(element, svgelements.Group) and element.values.get("class") == "tool"


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("case", ZOO)
def test_a_browser_measures_the_same_lengths_and_bounds(page: Page, case: str, side: Side) -> None:
    """Every layer's bounds and every stroke's length to 0.01 mm, but for arcs.

    Chromium turns arcs into Bézier quarters, which are some 0.015 % too long.
    """
    drawing = approval(case, side)
    page.set_content(svg_text(drawing, MachineProfile()))
    x0, _, _, y1 = drawing.page
    measured = page.evaluate(MEASURE)
    assert [layer for layer, _, _ in measured] == list(by_layer(drawing))
    for layer, lengths, (left, top, width, height) in measured:
        strokes = [stroke for stroke in drawing.strokes if LOOKS[stroke.meaning].layer == layer]
        for length, stroke in zip(lengths, strokes, strict=True):
            arcs = sum(arc_length(p, q, bulge) for p, q, bulge in stroke.path.segments() if bulge)
            assert length == pytest.approx(stroke.path.length, abs=0.01 + 2e-4 * arcs)
        boxes = list(zip(*(stroke.path.bounds for stroke in strokes), strict=True))
        low_x, low_y, high_x, high_y = min(boxes[0]), min(boxes[1]), max(boxes[2]), max(boxes[3])
        assert (left, top) == pytest.approx((low_x - x0, y1 - high_y), abs=0.01)
        assert (width, height) == pytest.approx((high_x - low_x, high_y - low_y), abs=0.01)


def test_a_browser_shows_the_check_bar_100_mm_long(page: Page) -> None:
    """At 96 px to the inch, as CSS has it, without any scaling on the way."""
    page.set_content(svg_text(approval("regular"), MachineProfile()))
    script = "() => document.querySelector('#check-bar path[fill=none]').getBoundingClientRect().width"
    stroke = 0.05 * 8.0  # at most: the line is drawn half its width beyond either end
    assert page.evaluate(script) * 25.4 / 96 == pytest.approx(100.0, abs=0.01 + stroke)
    assert page.evaluate("() => document.querySelector('#check-bar path[fill=none]').getBBox().width") == pytest.approx(
        100.0, abs=0.01
    )


@pytest.mark.parametrize("face", ["sans-serif", "DejaVu Sans", "Liberation Sans"])
@pytest.mark.parametrize("case", ZOO)
def test_no_printed_text_touches_another(page: Page, case: str, face: str) -> None:
    """As a browser really sets the texts, in wide and in narrow faces; the empty parts of a line's box do not count."""
    drawing = approval(case)
    page.set_content(svg_text(drawing, MachineProfile()).replace("sans-serif", face))
    boxes = []
    for text, left, top, right, bottom, size, turned in page.evaluate(INK):
        trim = 0.15 * size
        box = (left + trim, top, right - trim, bottom) if turned else (left, top + trim, right, bottom - trim)
        boxes.append((text, box))
    assert len(boxes) == sum(len(notes.texts) for notes in drawing.notes)
    for i, (text, a) in enumerate(boxes):
        for other, b in boxes[:i]:
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, f"'{text}' touches '{other}'"
