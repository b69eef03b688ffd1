"""The neutral drawing that every writer reads: strokes for tools, and notes for people. It knows no panels."""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from ..blank import Blank
from ..geometry.arc import Point
from ..geometry.path import Path
from ..linetypes import TOOL_ORDER, Meaning
from .chain import order_paths
from .strokes import Stroke, strokes_of

__all__ = ["Drawing", "Note", "NoteGroup", "Side", "Text", "draw_blank"]


class Side(Enum):
    """Which side of the board faces the viewer."""

    INSIDE = "inside"
    PRINT = "print"

    @property
    def words(self) -> str:
        """What the drawing says about it."""
        return "INSIDE / die side up" if self is Side.INSIDE else "OUTSIDE / print side up"


class Text(NamedTuple):
    """A line of text.

    Attributes:
        text: What it says.
        at: Where its baseline starts, is centred or ends, mm.
        height: Height of capitals, about, mm.
        anchor: ``start``, ``middle`` or ``end``.
        angle: Turned counter-clockwise, degrees.
        bold: Whether it is heavy.
    """

    text: str
    at: Point
    height: float
    anchor: str = "start"
    angle: float = 0.0
    bold: bool = False


@dataclass(frozen=True, slots=True)
class NoteGroup:
    """Marks for people that belong together.

    Attributes:
        name: ``dimensions``, ``panels``, ``flute arrow``, ``legend``, ``title``, ``check bar``.
        lines: Thin lines.
        texts: Texts.
        fills: Filled shapes (arrow heads).
        samples: Sample lines of the legend, with the meaning whose look they show.
    """

    name: str
    lines: tuple[Path, ...] = ()
    texts: tuple[Text, ...] = ()
    fills: tuple[Path, ...] = ()
    samples: tuple[tuple[Meaning, Path], ...] = ()


Note = NoteGroup


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One blank as drawn, lower left corner at the origin.

    Attributes:
        name: Name of the piece.
        width: Width of the blank, mm.
        height: Height of the blank, mm.
        side: The side seen.
        strokes: What tools do, in the order they do it.
        zones: Areas that no tool touches but people must see (glue), with their name.
        notes: Marks for people.
        page: Bounds of everything with the notes: least x, least y, greatest x, greatest y, mm.
    """

    name: str
    width: float
    height: float
    side: Side
    strokes: tuple[Stroke, ...]
    zones: tuple[tuple[str, Path], ...] = ()
    notes: tuple[NoteGroup, ...] = ()
    page: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)

    def lengths(self) -> dict[Meaning, float]:
        """Length of rule or tool path of each meaning, mm."""
        found: dict[Meaning, float] = {}
        for stroke in self.strokes:
            found[stroke.meaning] = found.get(stroke.meaning, 0.0) + stroke.path.length
        return found

    def digest(self) -> str:
        """Eight characters that change when any stroke moves by a thousandth of a millimetre."""
        word = _Thousandths()
        lines = []
        for stroke in self.strokes:
            path = stroke.path
            points = " ".join([f"{word[x]},{word[y]}" for x, y in path.points])
            bulges = " ".join([f"{bulge:.6f}" for bulge in path.bulges]) if path.bulges else ""
            lines.append(f"{stroke.meaning.value} {path.closed} {points} {bulges}")
        words = "\n".join(lines)
        return f"{zlib.crc32(words.replace('-0.000', '0.000').encode()):08x}"


class _Thousandths(dict[float, str]):
    """Coordinates to a thousandth of a millimetre; those of a box repeat, so each is written once."""

    def __missing__(self, value: float) -> str:
        word = self[value] = f"{value:.3f}"
        return word


def draw_blank(blank: Blank, side: Side = Side.INSIDE) -> Drawing:
    """The cut drawing of a blank: its strokes in tool order, nothing for people.

    Args:
        blank: The blank, seen from the inside.
        side: The side to show; the print side is the mirror image.
    """
    x0, y0, x1, y1 = blank.bounds
    strokes = [
        Stroke(stroke.meaning, _placed(stroke.path, x0, y0, x1, side), stroke.name, stroke.role)
        for stroke in strokes_of(blank)
    ]
    zones = tuple(
        (f"{joint.kind.value} zone on {joint.a}", _placed(joint.zone, x0, y0, x1, side))
        for joint in blank.joints
        if joint.zone.closed
    )
    return Drawing(
        name=blank.name,
        width=x1 - x0,
        height=y1 - y0,
        side=side,
        strokes=tuple(_tool_order(strokes)),
        zones=zones,
        page=(0.0, 0.0, x1 - x0, y1 - y0),
    )


def _placed(path: Path, x0: float, y0: float, x1: float, side: Side) -> Path:
    if side is Side.PRINT:
        return path.mirrored().moved(x1, -y0)
    return path.moved(-x0, -y0)


def _tool_order(strokes: Sequence[Stroke]) -> Iterable[Stroke]:
    """Meaning by meaning in tool order, the outline last; nearest end next within each."""
    at: Point = (0.0, 0.0)
    groups: dict[Meaning, list[Stroke]] = {meaning: [] for meaning in TOOL_ORDER}
    outlines: list[Stroke] = []
    for stroke in strokes:
        group = outlines if stroke.outline else groups.get(stroke.meaning)
        if group is not None:
            group.append(stroke)
    for group in (*groups.values(), outlines):
        order, backwards, at = order_paths([stroke.path for stroke in group], at)
        for i, back in zip(order, backwards, strict=True):
            stroke = group[i]
            if back and not stroke.path.closed:
                stroke = Stroke(stroke.meaning, stroke.path.reversed(), stroke.name, stroke.role)
            yield stroke
