"""SVG in true scale: the approval drawing with its notes, or the cut file with geometry alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from operator import attrgetter

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
        parts.append(_leaf("metadata", f'id="{JOB_ID}"', _escaped(job)))
    if notes:
        parts.append(_leaf("rect", f'id="page" width="{width}" height="{height}" fill="#ffffff"'))
        parts += writer.zones()
    parts += writer.strokes()
    if notes:
        parts += writer.notes()
    parts.append("</svg>\n")
    # Line ends inside the job come back as they went in.
    return "\n".join(parts).replace("\r", "&#13;")


def _leaf(name: str, attributes: str, text: str = "", title: str = "") -> str:
    """A finished element as text; its attributes, text and title are ready-made words."""
    if title:
        return f"<{name} {attributes}>\n<title>{title}</title>\n</{name}>"
    return f"<{name} {attributes}>{text}</{name}>" if text else f"<{name} {attributes} />"


def _group(attributes: str, elements: Iterable[str]) -> str:
    """A finished group as text; its attributes are ready-made words, in the order of their names."""
    return "\n".join((f"<g {attributes}>", "\n".join(elements), "</g>"))


def _escaped(text: str) -> str:
    """Text as XML holds it, without characters that no XML file may hold."""
    if not text.isprintable():
        text = text.translate(_NOT_XML)
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _all_escaped(texts: Sequence[str]) -> Sequence[str]:
    """Several texts as XML holds them; looked at as one, since few drawings have any that must be changed."""
    whole = "".join(texts)
    return texts if _escaped(whole) == whole else [_escaped(text) for text in texts]


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
        self.thin, self.thick = (f"{0.05 * h:.3g}", f"{0.1 * h:.3g}") if h else (_CUT_WIDTH, _CUT_WIDTH)

    def strokes(self) -> Iterator[str]:
        """One group for each layer; meanings that a plant puts on one layer share its group."""
        groups: dict[str, tuple[Meaning, list[str]]] = {}
        path = self.pencil.path
        for meaning, run in groupby(self.drawing.strokes, attrgetter("meaning")):
            strokes = list(run)
            first, elements = groups.setdefault(self.pens[meaning].layer, (meaning, []))
            look = "" if first is meaning else self._own_look(meaning)
            titles = _all_escaped([stroke.name for stroke in strokes])
            elements += [
                _leaf("path", f'd="{path(stroke.path)}"{look}', title=title)
                for stroke, title in zip(strokes, titles, strict=True)
            ]
        for layer, (meaning, elements) in groups.items():
            stroke, width, dash = self._line(meaning)
            ends = f'stroke-linejoin="round" {width}'
            yield _group(f'class="tool" fill="none" id="{_id(layer)}" {stroke}{dash} {ends}', elements)

    def zones(self) -> Iterator[str]:
        """The zones, tinted, in a group of their own."""
        zones, path = self.drawing.zones, self.pencil.path
        if zones:
            name = _id(self._free_id(self.pens[Meaning.GLUE].layer))
            elements = [_leaf("path", f'd="{path(zone)}"', title=_escaped(title)) for title, zone in zones]
            fill, stroke = self._tint()
            yield _group(f'class="zone" {fill} id="{name}" {stroke}', elements)

    def notes(self) -> Iterator[str]:
        """The groups of notes, each in a group of its own."""
        colour, usual = self.pens[Meaning.NOTE].colour, self.sizes[self.h]
        look = f'class="note" fill="{colour}" font-family="sans-serif" font-size="{usual}"'
        thin = f'fill="none" stroke="{colour}" stroke-width="{self.thin}"'
        for notes in self.drawing.notes:
            name = _id(self._free_id(notes.name.replace(" ", "-")))
            yield _group(f'{look} id="{name}"', self._marks(notes, thin, usual))

    def _marks(self, notes: NoteGroup, thin: str, usual: str) -> list[str]:
        """The marks of a group: all its lines in one path, all its filled shapes in another, samples, texts."""
        path = self.pencil.path
        elements: list[str] = []
        if notes.lines:
            elements.append(_leaf("path", f'd="{" ".join(map(path, notes.lines))}" {thin}'))
        if notes.fills:
            elements.append(_leaf("path", f'd="{" ".join(map(path, notes.fills))}"'))
        for meaning, sample in notes.samples:
            if sample.closed:
                look = " ".join(self._tint())
            else:
                stroke, width, dash = self._line(meaning)
                look = f'fill="none" {stroke} {width}{dash}'
            elements.append(_leaf("path", f'd="{path(sample)}" {look}'))
        elements += self._texts(notes.texts, usual)
        return elements

    def _line(self, meaning: Meaning) -> tuple[str, str, str]:
        """Colour, width and dash of a meaning, as attributes; beside ids, values need no escaping: they are numbers,
        and colours that a profile has checked. A cut file has no dashes, which some cutters would cut as such."""
        dash = LOOKS[meaning].dash if self.h else ()
        unit = max(0.5, self.h / 6)
        words = f' stroke-dasharray="{" ".join([f"{unit * part:.3g}" for part in dash])}"' if dash else ""
        return f'stroke="{self.pens[meaning].colour}"', f'stroke-width="{self.thick}"', words

    def _own_look(self, meaning: Meaning) -> str:
        """What is said of a stroke that shares the layer of another meaning."""
        stroke, width, dash = self._line(meaning)
        return " ".join((dash or ' stroke-dasharray="none"', stroke, width))

    def _tint(self) -> tuple[str, str]:
        """Fill and edge of a zone, as attributes."""
        colour = self.pens[Meaning.GLUE].colour
        return f'fill="{colour}" fill-opacity="0.2"', f'stroke="{colour}" stroke-width="{self.thin}"'

    def _free_id(self, name: str) -> str:
        """An id for marks, which a plant's own layer may have already."""
        while name in self.taken:
            name += "-marks"
        self.taken.add(name)
        return name

    def _texts(self, texts: Sequence[Text], usual: str) -> Iterator[str]:
        """Texts as elements; only what is not usual in their group is said of each."""
        xs, ys, sizes = self.pencil.xs, self.pencil.ys, self.sizes
        words = _all_escaped([text.text for text in texts])
        for word, (_, (x, y), height, anchor, angle, bold) in zip(words, texts, strict=True):
            x_word, y_word, size = xs[x], ys[y], sizes[height]
            look = "" if size == usual else f' font-size="{size}"'
            if anchor != "start":
                look += f' text-anchor="{anchor}"'
            if angle:
                look += f' transform="rotate({-angle:g} {x_word} {y_word})"'
            if bold:
                look += ' font-weight="bold"'
            yield _leaf("text", f'x="{x_word}" y="{y_word}"{look}', word)


def _id(name: str) -> str:
    """A name as an attribute holds it."""
    return _escaped(name).replace('"', "&quot;")
