"""DXF in: an independent, tolerant reader of group codes. It shares no code with the writer, so that it can judge it.

It takes lines, arcs, circles and polylines of any version in text form, and says what it passed over.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from ..errors import InputError
from .dxf_groups import Groups, Record, without_known_sections

__all__ = ["ReadBack", "ReadLayer", "ReadStroke", "job_in_dxf", "read_dxf"]

Point = tuple[float, float]

_MM_OF_UNIT = {
    0: 1.0, 1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 8: 25.4e-6, 9: 25.4e-3, 10: 914.4, 11: 1e-7, 12: 1e-6,
    13: 1e-3, 14: 100.0,
}  # fmt: skip
"""mm in one unit by $INSUNITS, those units that a drawing of a box may be in; 0, unstated, is read as mm.
Source: published DXF reference, header variable $INSUNITS."""


_CLOSED_OR_DASHED = 1 | 128
"""Flags of a POLYLINE that leave it a plain polyline: closed, and dashes running round its corners."""


class ReadStroke(NamedTuple):
    """One run of a tool as read.

    Attributes:
        layer: Name of its layer.
        points: Its corners, mm; a closed run does not repeat the first.
        bulges: One for each segment; empty if all are straight.
        closed: Whether it runs back to its first point.
    """

    layer: str
    points: tuple[Point, ...]
    bulges: tuple[float, ...] = ()
    closed: bool = False


class ReadLayer(NamedTuple):
    """A layer as read.

    Attributes:
        colour_index: DXF colour index.
        true_colour: ``#rrggbb``, or empty where the file gives none.
        line_type: Name of its line type.
        shown: Whether it is switched on and not frozen.
        plotted: Whether it is plotted.
    """

    colour_index: int = 7
    true_colour: str = ""
    line_type: str = "CONTINUOUS"
    shown: bool = True
    plotted: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBack:
    """What a DXF file holds.

    Attributes:
        version: The version that the file states (``AC1009``), empty if none.
        unit: mm in one unit of the file.
        strokes: Every line, arc, circle and polyline of the model, in the order of the file, mm.
        passed_over: How many entities of each other kind were not read.
        tables: The records of its layer table.
    """

    version: str
    unit: float
    strokes: tuple[ReadStroke, ...]
    passed_over: Mapping[str, int]
    tables: Sequence[Record]

    @property
    def layers(self) -> dict[str, ReadLayer]:
        """Its layer table."""
        return {record.text(2): _layer(record) for record in self.tables}


def read_dxf(text: str, *, where: str = "DXF file") -> ReadBack:
    """The strokes of a DXF file, in mm.

    Args:
        text: The whole file.
        where: Its name, for errors.

    Raises:
        InputError: If it is no DXF file in text form, is cut off, or holds a number that is none; with the line.
    """
    short = without_known_sections(text)
    if len(short) < len(text):
        with suppress(InputError):
            return _read(Groups(short, where))
    return _read(Groups(text, where))  # an error must name the line of the whole file


def _read(groups: Groups) -> ReadBack:
    read = _Entities()
    tables: list[Record] = []
    version, section = "", ""
    for start, end in pairwise(groups.starts):
        kind = groups.kind(start)
        if kind == "SECTION":
            header = Record(groups, start, end)
            section = header.text(2)
            if section == "HEADER":
                version, read.unit = _header(header)
        elif kind == "ENDSEC":
            read.finish(Record(groups, start, end))
            section = ""
        elif section == "ENTITIES":
            read.take(Record(groups, start, end))
        elif kind == "LAYER" and section == "TABLES":
            tables.append(Record(groups, start, end))
    if section:
        raise groups.error(len(groups.words) - 1, f"section {section} has no end", "the file is cut off or damaged")
    return ReadBack(
        version=version,
        unit=read.unit,
        strokes=tuple(read.strokes),
        passed_over=read.passed_over,
        tables=tables,
    )


def job_in_dxf(text: str, *, where: str = "DXF file") -> str | None:
    """The job text that the comments at the head of a DXF file carry, or None if there is none.

    Raises:
        InputError: If there is one, but it is damaged.
    """
    mark, parts, lines = "dieline job: ", [], iter(text.splitlines())
    for code in lines:
        if code.strip() != "999":
            break
        comment = next(lines, "")
        if comment.startswith(mark):
            parts.append(comment[len(mark) :].rstrip())
    if not parts:
        return None
    try:
        job = json.loads("".join(parts))
    except ValueError:
        job = None
    if not isinstance(job, str):
        raise InputError(
            where,
            "the job in its comments is damaged",
            "it must be as it was written",
            "draw it again from its job file",
        )
    return job


def _header(header: Record) -> tuple[str, float]:
    """Version, and mm in one unit."""
    version, unit, name = "", 0.0, ""
    for place, code in enumerate(header.codes):
        if code == 9:
            name = header.text_at(place)
        elif code == 1 and name == "$ACADVER":
            version = header.text_at(place)
        elif code == 70 and name == "$INSUNITS":
            unit = header.number_at(place)
    if unit not in _MM_OF_UNIT:
        raise header.error(f"$INSUNITS {unit:g}", "it must be a unit of length that a box is drawn in, 4 for mm")
    return version, _MM_OF_UNIT[int(unit)]


def _layer(record: Record) -> ReadLayer:
    index, true_colour = record.whole(62, 7), record.whole(420, -1)
    return ReadLayer(
        colour_index=abs(index),
        true_colour=f"#{true_colour:06X}" if true_colour >= 0 else "",
        line_type=record.text(6, "CONTINUOUS"),
        shown=index >= 0 and not record.whole(70, 0) & 1,
        plotted=record.whole(290, 1) != 0,
    )


class _Entities:
    """Collects the strokes of the entities section, record by record."""

    def __init__(self) -> None:
        self.unit = 1.0
        self.strokes: list[ReadStroke] = []
        self.passed_over: dict[str, int] = {}
        self._head: Record | None = None
        self._points: list[Point] = []
        self._bulges: list[float] = []
        self._readers: dict[str, Callable[[Record], None]] = {
            "LINE": self._line,
            "ARC": self._arc,
            "CIRCLE": self._circle,
            "LWPOLYLINE": self._lwpolyline,
            "POLYLINE": self._polyline,
        }

    def take(self, record: Record) -> None:
        """Take one record."""
        if self._head is not None and record.kind in ("VERTEX", "SEQEND"):
            if record.kind == "VERTEX":
                self._points.append((record.number(10), record.number(20)))
                self._bulges.append(record.number(42, 0.0))
            else:
                self._end()
            return
        self.finish(record)
        if record.whole(67, 0):
            return  # it stands on the paper round the model
        reader = self._readers.get(record.kind)
        if reader is not None and _flat(record):
            reader(record)
        else:
            self._pass(record)

    def finish(self, record: Record) -> None:
        """Complain if a polyline is still open where another record begins."""
        if self._head is not None:
            raise record.error("a POLYLINE has no SEQEND before this", "the file is cut off or damaged")

    def _pass(self, record: Record) -> None:
        if record.kind not in ("VERTEX", "SEQEND"):
            self.passed_over[record.kind] = self.passed_over.get(record.kind, 0) + 1

    def _add(self, record: Record, points: list[Point], bulges: list[float], closed: bool) -> None:
        """A stroke in mm; one drawn on the back (its z axis looks down) is turned over."""
        if len(points) < 2:
            raise record.error(f"{record.kind} of {len(points)} points", "it needs two")
        if closed and len(points) > 2 and math.dist(points[0], points[-1]) < 1e-9:
            points, bulges = points[:-1], bulges[:-1]
        x = y = self.unit
        if record.kind != "LINE" and record.number(230, 1.0) < 0:
            x, bulges = -x, [-bulge for bulge in bulges]
        kept = tuple(bulges if closed else bulges[: len(points) - 1]) if any(bulges) else ()
        self.strokes.append(ReadStroke(record.text(8, "0"), tuple([(p * x, q * y) for p, q in points]), kept, closed))

    def _line(self, record: Record) -> None:
        number = record.number
        self._add(record, [(number(10), number(20)), (number(11), number(21))], [], False)

    def _arc(self, record: Record) -> None:
        x, y, radius, a, b = (record.number(code) for code in (10, 20, 40, 50, 51))
        sweep = (b - a) % 360.0
        if sweep < 1e-6 or sweep > 360.0 - 1e-6:
            self._circle(record)
            return
        ends = [(x + radius * math.cos(w), y + radius * math.sin(w)) for w in (math.radians(a), math.radians(b))]
        self._add(record, ends, [math.tan(math.radians(sweep) / 4.0)], False)

    def _circle(self, record: Record) -> None:
        x, y, radius = record.number(10), record.number(20), record.number(40)
        self._add(record, [(x + radius, y), (x - radius, y)], [1.0, 1.0], True)

    def _lwpolyline(self, record: Record) -> None:
        xs, ys = record.numbers(10), record.numbers(20)
        if len(xs) != len(ys) or len(xs) != record.whole(90, len(xs)):
            raise record.error("an LWPOLYLINE whose points do not fit their count", "the file is damaged")
        bulges: list[float] = []
        if 42 in record.codes:
            for place, code in enumerate(record.codes):
                if code == 10:
                    bulges.append(0.0)
                elif code == 42 and bulges:
                    bulges[-1] = record.number_at(place)
        self._add(record, list(zip(xs, ys, strict=True)), bulges, bool(record.whole(70, 0) & 1))

    def _polyline(self, record: Record) -> None:
        """The head of a polyline of old form; meshes, curves and polylines in space are passed over."""
        if record.whole(70, 0) & ~_CLOSED_OR_DASHED:
            self._pass(record)
        else:
            self._head, self._points, self._bulges = record, [], []

    def _end(self) -> None:
        head, self._head = self._head, None
        assert head is not None
        self._add(head, self._points, self._bulges, bool(head.whole(70, 0) & 1))


def _flat(record: Record) -> bool:
    """Whether an entity lies in the plane of the drawing."""
    return record.value(210) is None or (abs(record.number(210)) < 1e-9 and abs(record.number(220)) < 1e-9)
