"""Size and place of every hole and slit inside a panel: a letter beside it, and a table that a die maker reads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ..blank import Blank, Panel
from ..geometry.path import Path
from ..linetypes import Meaning
from ..units import format_mm
from .notes_room import Placer, Room
from .notes_text import DESCENT, Block, Box, Notes, text_width

__all__ = ["draw_holes"]

_PITCH = 1.8
_INDENT = 2.5
_MOST = 24
"""Most rows of the table: what is beyond is only in the cut file, and the table says so."""

_SPOTS = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0))
"""Where a letter is tried beside its hole: right, left, above, below, then the corners."""

_CLEAR = 0.4
"""What a letter keeps from its hole, in heights of capitals."""


@dataclass(slots=True)
class _Row:
    """Holes of one size at one height on one panel, or on several panels alike.

    Attributes:
        what: What they are and their size.
        across: Distances of their middles from the panel's left side, mm.
        up: Where their middles are upright: the distance, and the side it is taken from.
        panels: Panels that have them.
        boxes: Bounds of each on the drawing, with the number of its room.
    """

    what: str
    across: tuple[str, ...]
    up: str
    panels: list[str] = field(default_factory=list)
    boxes: list[tuple[int, Box]] = field(default_factory=list)


def draw_holes(blank: Blank, places: Sequence[Room], place: Placer, h: float) -> tuple[Notes, Block | None]:
    """A letter at each hole and slit, and the table of their sizes and places.

    Args:
        blank: The blank, as built.
        places: The insides of its panels; the letters are blocked in them.
        place: Takes the blank to the drawing.
        h: Height of capitals, mm.

    Returns:
        The letters; the table, None where there are no holes.
    """
    letters = Notes("holes")
    rows = _rows(blank, {room.name: number for number, room in enumerate(places)}, place)
    if not rows:
        return letters, None
    table = Notes("holes")
    table.text("holes and slits", 0.0, -h, h, bold=True)
    y, right = -h, text_width("holes and slits", h)
    for number, row in enumerate(rows[:_MOST]):
        letter = _letter(number)
        for room, box in row.boxes:
            _mark(letters, letter, box, places[room], h)
        middles = f"middle {row.across[0]}" if len(row.across) == 1 else f"middles {', '.join(row.across)}"
        lines = (f"{row.what} on {' and '.join(row.panels)}", f"{middles} from the left, {row.up}")
        table.text(letter, 0.0, y - _PITCH * h, h, bold=True)
        for line in lines:
            y -= _PITCH * h
            table.text(line, _INDENT * h, y, h)
            right = max(right, _INDENT * h + text_width(line, h))
    if len(rows) > _MOST:
        y -= _PITCH * h
        table.text(f"{len(rows) - _MOST} more kinds are in the cut file", 0.0, y, h)
    return letters, Block(table, right, -y + DESCENT * h)


def _rows(blank: Blank, numbers: dict[str, int], place: Placer) -> list[_Row]:
    merged: dict[tuple[str, tuple[str, ...], str], _Row] = {}
    for panel in blank.panels:
        if not (panel.holes or panel.marks):
            continue
        single: dict[tuple[str, str], list[tuple[float, Box]]] = {}
        left, low, _, high = place.box(panel.outline.bounds)
        for what, path in _openings(panel):
            box = place.box(path.bounds)
            x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
            up = (
                f"{format_mm(y - low)} from below" if y - low < high - y - 1e-6 else f"{format_mm(high - y)} from above"
            )
            single.setdefault((what, up), []).append((x - left, box))
        for (what, up), found in single.items():
            found.sort()
            across = tuple(format_mm(value) for value, _ in found)
            row = merged.setdefault((what, across, up), _Row(what, across, up))
            row.panels.append(panel.name)
            if panel.name in numbers:
                row.boxes += [(numbers[panel.name], box) for _, box in found]
    return list(merged.values())


def _openings(panel: Panel) -> Iterator[tuple[str, Path]]:
    """What is cut inside a panel: its holes and its slits, each in words with its size."""
    for hole in panel.holes:
        yield f"{_shape(hole)} {_size(hole)}", hole
    for mark in panel.marks:
        if mark.meaning is not Meaning.CUT:
            continue
        if len(mark.path.points) == 2 and not mark.path.bulges:
            (ax, ay), (bx, by) = mark.path.points
            yield f"{mark.name or 'slit'}, a cut {format_mm(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)} long", mark.path
        else:
            yield f"{mark.name or 'slit'}, cut but left in, {_size(mark.path)}", mark.path


def _shape(hole: Path) -> str:
    if not hole.bulges:
        return "opening"
    width, height = _extent(hole)
    if all(hole.bulges) and abs(width - height) < 1e-6:
        return "round hole"
    return "opening with rounded ends" if sum(map(bool, hole.bulges)) == 2 else "opening with rounded corners"


def _extent(path: Path) -> tuple[float, float]:
    x0, y0, x1, y1 = path.bounds
    return x1 - x0, y1 - y0


def _size(path: Path) -> str:
    width, height = _extent(path)
    round_ = path.bulges and all(path.bulges) and abs(width - height) < 1e-6
    return format_mm(width) if round_ else f"{format_mm(width)} × {format_mm(height)}"


def _letter(number: int) -> str:
    """A, B, … Z, AA, AB …"""
    letter = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letter = chr(65 + rest) + letter
    return letter


def _mark(notes: Notes, letter: str, box: Box, room: Room, h: float) -> None:
    """Set the letter in the middle of its hole, else beside it where the panel has room, else not at all."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    for size in (h, 0.7 * h):
        wide, deep = text_width(letter, size) / 2 + _CLEAR * size, size / 2 + _CLEAR * size
        if wide < 0.35 * (box[2] - box[0]) and deep < 0.35 * (box[3] - box[1]):
            notes.text(letter, x, y - size / 2, size, "middle", bold=True)
            return
    for size in (h, 0.7 * h):
        wide, deep = text_width(letter, size) / 2, size / 2
        for across, up in _SPOTS:
            mx = x + across * ((box[2] - box[0]) / 2 + wide + _CLEAR * size)
            my = y + up * ((box[3] - box[1]) / 2 + deep + _CLEAR * size)
            spot = (mx - wide, my - deep, mx + wide, my + deep)
            if room.free(spot):
                room.blocked.append(spot)
                notes.text(letter, mx, my - size / 2, size, "middle", bold=True)
                return
