"""DXF out: the strokes of a drawing streamed into a skeleton that ezdxf made once. Nothing here imports ezdxf.

The file holds lines, arcs and polylines only, 1:1, lower left corner of the blank at the origin, in the order in which
the tools work. Every meaning has its layer, and the layer has its colour and line type.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from ..drawing.model import Drawing
from ..errors import InputError, UnknownNameError
from ..linetypes import LOOKS, Meaning
from ..machine import MachineProfile, Pen
from ..units import MM_PER_INCH
from .dxf_forms import Form, OldForm

__all__ = ["ARCS", "UNITS", "VERSIONS", "dxf_text"]

VERSIONS = ("R2010", "R12")

UNITS = {"mm": (1.0, 4, 1), "in": (MM_PER_INCH, 1, 0)}
"""Millimetres in one unit of the file, and the $INSUNITS and $MEASUREMENT of the header that say so."""

ARCS = ("bulge", "separate")

_LONGEST_COMMENT = 200
_COMMENT = "dieline job: "
_VIEW_SHAPE = 4 / 3
_R12_NAME = re.compile(r"[A-Za-z0-9$_-]{1,31}")


def dxf_text(
    drawing: Drawing,
    profile: MachineProfile,
    *,
    version: str = "R2010",
    unit: str = "mm",
    arcs: str = "bulge",
    notes: bool = False,
    job: str = "",
) -> str:
    """A whole DXF file, the same bytes for the same drawing.

    It is ASCII throughout; only the texts of notes in R2010 are UTF-8, as that version is read. A pen number of the
    profile, where it is not 0, is written as the colour index of its layer, and the true colour is left out, because
    plotters choose their pens by the colour index.

    Args:
        drawing: What to write.
        profile: Names and colours of the layers.
        version: ``R2010``, or ``R12`` for old readers.
        unit: ``mm`` or ``in``.
        arcs: ``bulge`` writes each run as one polyline with true arcs in it; ``separate`` writes single lines and
            arcs, for readers that do not know bulges.
        notes: Whether to add notes and glue zones, on layers that are not plotted (R12: switched off).
        job: Text to carry along in comments at the head, such as the job file; ``read_dxf.job_in_dxf`` reads it.

    Raises:
        InputError: If an argument is unknown, R12 cannot write a layer's name, or the notes share a tool's layer.
    """
    for where, name, known in (("DXF version", version, VERSIONS), ("unit", unit, UNITS), ("arcs", arcs, ARCS)):
        if name not in known:
            raise UnknownNameError(where, name, known)
    factor, insunits, metric = UNITS[unit]
    form = (Form if version == "R2010" else OldForm)(factor, separate=arcs == "separate")
    pens = _pens(drawing, profile, notes, version)
    layers = _layers(pens, form)
    entities = "".join(_strokes(drawing, profile.pens, form)) + (
        "".join(_notes(drawing, profile.pens, form)) if notes else ""
    )
    places = {
        **_extents(drawing, form, notes),
        "metric": str(metric),
        "unit": str(insunits),
        "layer count": str(len(layers) + 1),
        "layers": "".join(layers),
        "entities": entities,
        "next handle": f"{form.handle:X}",
    }
    return _comments(job) + "".join([places[part] if is_place else part for part, is_place in _skeleton(version)])


@cache
def _skeleton(version: str) -> tuple[tuple[str, bool], ...]:
    """The skeleton cut at its places: each part with whether it is the name of a place."""
    path = Path(__file__).parents[1] / "data" / f"skeleton_{version.lower()}.dxf"
    text = path.read_text(encoding="ascii").replace("<layers>\n", "<layers>").replace("<entities>\n", "<entities>")
    return tuple((part, number % 2 == 1) for number, part in enumerate(re.split(r"<([a-z0-9 ]+)>", text)))


def _pens(drawing: Drawing, profile: MachineProfile, notes: bool, version: str) -> dict[Meaning, Pen]:
    """The pens in use, by meaning."""
    used = {stroke.meaning for stroke in drawing.strokes}
    extra = {Meaning.NOTE, Meaning.GLUE} - used if notes else set()
    pens = {meaning: profile.pens[meaning] for meaning in LOOKS if meaning in used or meaning in extra}
    tools = {pens[meaning].layer.upper() for meaning in used}
    for meaning, pen in pens.items():
        where = f"machine profile {profile.name}".rstrip() + f": {meaning.value}"
        if meaning in extra and pen.layer.upper() in tools:
            must = "no tool may read notes"
            raise InputError(where, f"layer '{pen.layer}' is also a tool's", must, "give it another layer")
        if version == "R12" and not _R12_NAME.fullmatch(pen.layer):
            must = "R12 takes at most 31 letters, digits, $, - and _"
            raise InputError(where, f"layer '{pen.layer}'", must, "rename the layer, or write R2010")
    if notes and not drawing.zones and Meaning.GLUE in extra:
        del pens[Meaning.GLUE]
    return pens


def _layers(pens: Mapping[Meaning, Pen], form: Form) -> list[str]:
    """The layer records; layer 0 is in the skeleton, and a layer of several meanings looks like the first."""
    seen = {"0"}
    records = []
    for meaning, pen in pens.items():
        if pen.layer.upper() not in seen:
            seen.add(pen.layer.upper())
            records.append(form.layer(pen, meaning))
    return records


def _extents(drawing: Drawing, form: Form, notes: bool) -> dict[str, str]:
    """Extents, limits and the first view; dashes are given in mm, so the line scale is one mm in the file's unit."""
    x0, y0, x1, y1 = drawing.page if notes else (0.0, 0.0, drawing.width, drawing.height)
    number = form.number
    return {
        "x0": number[x0],
        "y0": number[y0],
        "x1": number[x1],
        "y1": number[y1],
        "view x": number[(x0 + x1) / 2],
        "view y": number[(y0 + y1) / 2],
        "view height": number[1.05 * max(y1 - y0, (x1 - x0) / _VIEW_SHAPE)],
        "line scale": number[1.0],
    }


def _strokes(drawing: Drawing, pens: Mapping[Meaning, Pen], form: Form) -> Iterator[str]:
    """The entities of all strokes, in the order of the drawing."""
    for stroke in drawing.strokes:
        yield from form.run(pens[stroke.meaning].layer, stroke.path)


def _notes(drawing: Drawing, pens: Mapping[Meaning, Pen], form: Form) -> Iterator[str]:
    """The entities of zones and notes; filled shapes as their outlines, because no reader need know hatches."""
    for _, zone in drawing.zones:
        yield from form.run(pens[Meaning.GLUE].layer, zone)
    note = pens[Meaning.NOTE]
    for group in drawing.notes:
        for path in (*group.lines, *group.fills):
            yield from form.run(note.layer, path)
        for meaning, path in group.samples:
            yield from form.run(note.layer, path, form.look(pens[meaning], meaning))
        for text in group.texts:
            yield form.text(note.layer, text)


def _comments(job: str) -> str:
    """The job as a JSON string in comment lines; a space that would end a line is spelled, since readers strip it."""
    if not job:
        return ""
    text, spelled = json.dumps(job), "\\u0020"
    most = _LONGEST_COMMENT - len(_COMMENT) - len(spelled)
    lines = [text[i : i + most] for i in range(0, len(text), most)]
    lines = [line[:-1] + spelled if line.endswith(" ") else line for line in lines]
    return "".join(f"999\n{_COMMENT}{line}\n" for line in lines)
