"""SVG in true scale: the approval drawing with its notes, or the cut file with geometry alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from ..drawing.model import Drawing, NoteGroup, Text
from ..drawing.notes_text import text_height
from ..linetypes import LOOKS, Meaning
from ..machine import MachineProfile
from .svg_path import Pencil

__all__ = ["JOB_ID", "svg_text"]

JOB_ID = "dieline-job"
"""Id of the metadata element that carries the job."""

_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<svg baseProfile="full" height="{height}mm" version="1.1" viewBox="0 0 {width} {height}" width="{width}mm"'
    ' xmlns="http://www.w3.org/2000/svg" xmlns:ev="http://www.w3.org/2001/xml-events"'
    ' xmlns:xlink="http://www.w3.org/1999/xlink">\n<defs />'
)
"""How the file begins, as svgwrite makes it; a test holds it to that. The elements are streamed into it, as the DXF
writer streams its entities: svgwrite would take twenty times as long, and 70 ms to be loaded."""

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
    x0, y0, x1, y1 = drawing.page if notes else (0.0, 0.0, drawing.width, drawing.height)
    pencil = Pencil(x0, y1)
    width, height = pencil.number(x1 - x0), pencil.number(y1 - y0)
    h = text_height(drawing.width, drawing.height) if notes else 0.0
    writer = _Writer(drawing, profile, pencil, h)
    parts = [_HEAD.format(width=width, height=height)]
    if job:
        parts.append(_leaf("metadata", f'id="{JOB_ID}"', job))
    if notes:
        parts.append(_leaf("rect", f'id="page" width="{width}" height="{height}" fill="#ffffff"'))
        parts += writer.zones()
    parts += writer.strokes()
    if notes:
        parts += map(writer.notes, drawing.notes)
    parts.append("</svg>\n")
    # Line ends inside the job come back as they went in.
    return "\n".join(parts).replace("\r", "&#13;")


def _leaf(name: str, attributes: str, text: str = "", title: str = "") -> str:
    """A finished element as text; its attributes are ready-made words."""
    if title:
        return f"<{name} {attributes}>\n<title>{_escaped(title)}</title>\n</{name}>"
    return f"<{name} {attributes}>{_escaped(text)}</{name}>" if text else f"<{name} {attributes} />"


def _group(attributes: Mapping[str, str], elements: Iterable[str]) -> str:
    """A finished group as text, its attributes in the order of their names."""
    return "\n".join((f"<g{_words(dict(sorted(attributes.items())))}>", "\n".join(elements), "</g>"))


def _escaped(text: str) -> str:
    """Text as XML holds it, without characters that no XML file may hold."""
    if not text.isprintable():
        text = text.translate(_NOT_XML)
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _words(attributes: Mapping[str, str]) -> str:
    """Attributes as words; beside ids, their values are numbers, names and colours that a profile has checked."""
    return "".join([f' {key}="{value}"' for key, value in attributes.items()])


class _FontSizes(dict[float, str]):
    """Font sizes as written, by height of capitals in mm; a drawing has a handful."""

    def __missing__(self, height: float) -> str:
        word = self[height] = f"{height / _CAPITALS:.4g}"
        return word


class _Writer:
    """Writes the groups of a drawing.

    Args:
        drawing: What to draw.
        profile: Names and colours.
        pencil: Turns drawing coordinates into SVG's.
        h: Height of capitals, mm; 0 for a cut file.
    """

    def __init__(self, drawing: Drawing, profile: MachineProfile, pencil: Pencil, h: float) -> None:
        self.drawing, self.pens, self.pencil, self.h = drawing, profile.pens, pencil, h
        self.taken = {self.pens[meaning].layer for meaning in {stroke.meaning for stroke in drawing.strokes}}
        self.sizes = _FontSizes()

    def strokes(self) -> Iterator[str]:
        """One group for each layer; meanings that a plant puts on one layer share its group."""
        groups: dict[str, tuple[Meaning, list[str]]] = {}
        path = self.pencil.path
        for stroke in self.drawing.strokes:
            meaning, layer = stroke.meaning, self.pens[stroke.meaning].layer
            first, elements = groups.setdefault(layer, (meaning, []))
            attributes = f'd="{path(stroke.path)}"'
            if first is not meaning:
                attributes += _words({"stroke-dasharray": "none", **self._look(meaning)})
            elements.append(_leaf("path", attributes, title=stroke.name))
        for layer, (meaning, elements) in groups.items():
            plain = {"class": "tool", "fill": "none", "id": _id(layer), "stroke-linejoin": "round"}
            yield _group({**plain, **self._look(meaning)}, elements)

    def zones(self) -> Iterator[str]:
        """The zones, tinted, in a group of their own."""
        zones, path = self.drawing.zones, self.pencil.path
        if zones:
            name = self._free_id(self.pens[Meaning.GLUE].layer)
            elements = [_leaf("path", f'd="{path(zone)}"', title=title) for title, zone in zones]
            yield _group({"class": "zone", "id": _id(name), **self._zone_look()}, elements)

    def notes(self, notes: NoteGroup) -> str:
        """One group of notes: all its lines in one path, all its filled shapes in another, samples, texts."""
        colour, path = self.pens[Meaning.NOTE].colour, self.pencil.path
        usual = self.sizes[self.h]
        elements: list[str] = []
        if notes.lines:
            thin = {"fill": "none", "stroke": colour, "stroke-width": f"{0.05 * self.h:.3g}"}
            elements.append(_leaf("path", f'd="{" ".join(map(path, notes.lines))}"{_words(thin)}'))
        if notes.fills:
            elements.append(_leaf("path", f'd="{" ".join(map(path, notes.fills))}"'))
        for meaning, sample in notes.samples:
            look = self._zone_look() if sample.closed else {"fill": "none", **self._look(meaning)}
            elements.append(_leaf("path", f'd="{path(sample)}"{_words(look)}'))
        elements += [self._text(text, usual) for text in notes.texts]
        name = self._free_id(notes.name.replace(" ", "-"))
        look = {"class": "note", "fill": colour, "font-family": "sans-serif", "font-size": usual}
        return _group({**look, "id": _id(name)}, elements)

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

    def _text(self, text: Text, usual: str) -> str:
        x, y = text.at
        x_word, y_word, size = self.pencil.xs[x], self.pencil.ys[y], self.sizes[text.height]
        attributes = f'x="{x_word}" y="{y_word}"'
        if size != usual:
            attributes += f' font-size="{size}"'
        if text.anchor != "start":
            attributes += f' text-anchor="{text.anchor}"'
        if text.angle:
            attributes += f' transform="rotate({-text.angle:g} {x_word} {y_word})"'
        if text.bold:
            attributes += ' font-weight="bold"'
        return _leaf("text", attributes, text.text)


def _id(name: str) -> str:
    """A name as an attribute holds it."""
    return _escaped(name).replace('"', "&quot;")
