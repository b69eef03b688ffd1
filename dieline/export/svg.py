"""SVG in true scale: the approval drawing with its notes, or the cut file with geometry alone."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from ..drawing.model import Drawing, NoteGroup, Text
from ..drawing.notes_text import text_height
from ..linetypes import LOOKS, Meaning
from ..machine import MachineProfile
from .svg_path import Pencil

if TYPE_CHECKING:
    from svgwrite import Drawing as Svg
    from svgwrite.container import Group

__all__ = ["JOB_ID", "svg_text"]

JOB_ID = "dieline-job"
"""Id of the metadata element that carries the job."""

_CAPITALS = 0.72
"""Height of capitals in common sans-serif faces, as a share of the font size."""

_CUT_WIDTH = "0.25"
"""Line width of a cut file, mm: seen on a screen, and of no meaning to a machine."""

_NOT_XML = dict.fromkeys((*range(9), 11, 12, *range(14, 32), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF), "\ufffd")
"""Characters that no XML file may hold, and what stands for them."""


def svg_text(drawing: Drawing, profile: MachineProfile, *, job: str = "", notes: bool = True) -> str:
    """The drawing as an SVG file, one unit to the millimetre, every coordinate as it measures.

    Strokes stand in one group for each layer of the profile, in tool order, each with its name as a hover title; arcs
    are true arcs. Coordinates have up to 4 decimals, radii up to 8, so lengths keep to 0.002 mm.

    Args:
        drawing: The drawing; an approval drawing has notes and a page around them.
        profile: The machine's names and colours.
        job: Text of the job that made it, carried along for ``job_in_svg``; empty for none.
        notes: Whether to draw notes and zones; False gives the cut file: strokes alone, drawn through, the page as
            large as the blank.
    """
    import svgwrite

    x0, y0, x1, y1 = drawing.page if notes else (0.0, 0.0, drawing.width, drawing.height)
    pencil = Pencil(x0, y1)
    width, height = pencil.number(x1 - x0), pencil.number(y1 - y0)
    svg = svgwrite.Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    h = text_height(drawing.width, drawing.height) if notes else 0.0
    writer = _Writer(svg, drawing, profile, pencil, h)
    if job:
        writer.stream(svg, [_leaf("metadata", f'id="{JOB_ID}"', job)])
    if notes:
        writer.stream(svg, [_leaf("rect", f'id="page" width="{width}" height="{height}" fill="#ffffff"')])
        writer.zones()
    writer.strokes()
    if notes:
        for group in drawing.notes:
            writer.notes(group)
    text = ElementTree.tostring(svg.get_xml(), encoding="unicode").replace("><", ">\n<")
    for number, elements in enumerate(writer.streams):
        # Line ends inside the job come back as they went in.
        text = text.replace(f'<slot n="{number}" />', "\n".join(elements).replace("\r", "&#13;"), 1)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def _leaf(name: str, attributes: str, text: str = "", title: str = "") -> str:
    """A finished element as text; its attributes are ready-made words.

    svgwrite makes the document and its groups; the hundred elements within them are streamed, as the DXF writer
    streams its entities, because each would cost svgwrite and its serialiser twenty times as much.
    """
    if title:
        return f"<{name} {attributes}>\n<title>{_escaped(title)}</title>\n</{name}>"
    return f"<{name} {attributes}>{_escaped(text)}</{name}>" if text else f"<{name} {attributes} />"


def _escaped(text: str) -> str:
    return _clean(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _words(attributes: dict[str, str]) -> str:
    """Attributes as words; their values are numbers, names and colours that the machine profile has checked."""
    return "".join(f' {key}="{value}"' for key, value in attributes.items())


class _Slot:
    """Where streamed elements go: an element with a number of its own, exchanged for them in the finished text."""

    elementname = "g"

    def __init__(self, number: int) -> None:
        self.number = number

    def get_xml(self) -> ElementTree.Element:
        return ElementTree.Element("slot", {"n": str(self.number)})


def _clean(text: str) -> str:
    """The text without characters that no XML file may hold."""
    return text if text.isprintable() else text.translate(_NOT_XML)


class _Writer:
    """Adds groups to an SVG drawing.

    Args:
        svg: The SVG drawing.
        drawing: What to draw.
        profile: Names and colours.
        pencil: Turns drawing coordinates into SVG's.
        h: Height of capitals, mm; 0 for a cut file.
    """

    def __init__(self, svg: Svg, drawing: Drawing, profile: MachineProfile, pencil: Pencil, h: float) -> None:
        self.svg, self.drawing, self.pens, self.pencil, self.h = svg, drawing, profile.pens, pencil, h
        self.taken = {self.pens[stroke.meaning].layer for stroke in drawing.strokes}
        self.streams: list[list[str]] = []

    def stream(self, parent: Svg | Group, elements: list[str]) -> list[str]:
        """Put streamed elements into a document or group; the list may still grow."""
        parent.add(_Slot(len(self.streams)))
        self.streams.append(elements)
        return elements

    def strokes(self) -> None:
        """One group for each layer; meanings that a plant puts on one layer share its group."""
        groups: dict[str, tuple[Meaning, list[str]]] = {}
        for stroke in self.drawing.strokes:
            meaning, layer = stroke.meaning, self.pens[stroke.meaning].layer
            if layer not in groups:
                group = self.svg.g(id=layer, class_="tool", fill="none", stroke_linejoin="round")
                group.attribs.update(self._look(meaning))
                groups[layer] = meaning, self.stream(self.svg.add(group), [])
            first, elements = groups[layer]
            attributes = f'd="{self.pencil.path(stroke.path)}"'
            if first is not meaning:
                attributes += _words({"stroke-dasharray": "none", **self._look(meaning)})
            elements.append(_leaf("path", attributes, title=stroke.name))

    def zones(self) -> None:
        """The zones, tinted, in a group of their own."""
        if not self.drawing.zones:
            return
        group = self.svg.add(self.svg.g(id=self._free_id(self.pens[Meaning.GLUE].layer), class_="zone"))
        group.attribs.update(self._zone_look())
        zones = self.drawing.zones
        self.stream(group, [_leaf("path", f'd="{self.pencil.path(path)}"', title=name) for name, path in zones])

    def notes(self, notes: NoteGroup) -> None:
        """One group of notes: all its lines in one path, all its filled shapes in another, samples, texts."""
        colour, path = self.pens[Meaning.NOTE].colour, self.pencil.path
        group = self.svg.add(self.svg.g(id=self._free_id(notes.name.replace(" ", "-")), class_="note", fill=colour))
        usual = _font_size(self.h)
        group.attribs.update({"font-family": "sans-serif", "font-size": usual})
        elements = self.stream(group, [])
        if notes.lines:
            thin = {"fill": "none", "stroke": colour, "stroke-width": f"{0.05 * self.h:.3g}"}
            elements.append(_leaf("path", f'd="{" ".join(map(path, notes.lines))}"{_words(thin)}'))
        if notes.fills:
            elements.append(_leaf("path", f'd="{" ".join(map(path, notes.fills))}"'))
        for meaning, sample in notes.samples:
            look = self._zone_look() if sample.closed else {"fill": "none", **self._look(meaning)}
            elements.append(_leaf("path", f'd="{path(sample)}"{_words(look)}'))
        elements += self._texts(notes.texts, usual)

    def _look(self, meaning: Meaning) -> dict[str, str]:
        """Colour, width and dash of a meaning; a cut file has no dashes, which some cutters would cut as such."""
        if not self.h:
            return {"stroke": self.pens[meaning].colour, "stroke-width": _CUT_WIDTH}
        look = {"stroke": self.pens[meaning].colour, "stroke-width": f"{0.1 * self.h:.3g}"}
        if dash := LOOKS[meaning].dash:
            look["stroke-dasharray"] = " ".join(f"{max(0.5, self.h / 6) * part:.3g}" for part in dash)
        return look

    def _zone_look(self) -> dict[str, str]:
        colour = self.pens[Meaning.GLUE].colour
        return {"fill": colour, "fill-opacity": "0.2", "stroke": colour, "stroke-width": f"{0.05 * self.h:.3g}"}

    def _free_id(self, name: str) -> str:
        """An id for marks, which a plant's own layer may have already."""
        while name in self.taken:
            name += "-marks"
        self.taken.add(name)
        return name

    def _texts(self, texts: Sequence[Text], usual: str) -> Iterable[str]:
        for text in texts:
            x, y = self.pencil.point(text.at)
            attributes = f'x="{x}" y="{y}"'
            if (size := _font_size(text.height)) != usual:
                attributes += f' font-size="{size}"'
            if text.anchor != "start":
                attributes += f' text-anchor="{text.anchor}"'
            if text.angle:
                attributes += f' transform="rotate({-text.angle:g} {x} {y})"'
            if text.bold:
                attributes += ' font-weight="bold"'
            yield _leaf("text", attributes, text.text)


def _font_size(height: float) -> str:
    return f"{height / _CAPITALS:.4g}"
