"""Labels inside the blank: each panel's name and size, and the arrow that shows flutes or grain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..geometry.arc import Point
from ..units import format_mm
from .notes_room import Room
from .notes_text import DESCENT, Box, Notes, text_width

__all__ = ["draw_arrow", "draw_panels"]

_TRIES = ((1.0, False), (0.8, False), (1.0, True), (0.8, True), (0.62, False), (0.62, True))
"""Sizes of a label in heights of the drawing's lettering, and whether it is turned from the way it reads best."""

_MARGIN = 0.7
"""What a label keeps from every line around it, in heights of capitals."""

_PITCH = 1.7
"""From one line of a label to the next, in heights of capitals."""

_MIDDLE = (
    (0.5, 0.5), (0.5, 0.3), (0.5, 0.7), (0.3, 0.5), (0.7, 0.5), (0.3, 0.25), (0.7, 0.25), (0.3, 0.75), (0.7, 0.75),
    (0.15, 0.5), (0.85, 0.5), (0.5, 0.15), (0.5, 0.85), (0.5, 0.0), (0.5, 1.0), (0.0, 0.5), (1.0, 0.5),
    (0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0),
)  # fmt: skip
"""Where a label is tried, as shares of the room left over: the middle first."""

_BESIDE = tuple((a, b) for a in (0.1, 0.9, 0.0, 1.0, 0.3, 0.7, 0.5) for b in (0.5, 0.3, 0.7, 0.1, 0.9, 0.0, 1.0))
"""Where the arrow is tried, across and along the flutes: beside the middle, which is the label's."""


def draw_panels(rooms: Sequence[Room], upright: bool, word: str, h: float) -> tuple[Notes, Notes | None]:
    """Each panel's name over its width × height, and the arrow of flutes or grain in the root panel.

    Labels are as large and as near to the middle as there is room; one that finds no room is left out.

    Args:
        rooms: The insides of the panels, the root's first; what blocks them is avoided.
        upright: Whether flutes run up the drawing.
        word: What stands beside the arrow.
        h: Height of capitals, mm.

    Returns:
        The labels; the arrow, None if the root panel has no room for it.
    """
    notes, root = Notes("panels"), rooms[0]
    blocked = list(root.blocked)
    _label(notes, root, h)
    arrow = _place_arrow(root, upright, word, h)
    if arrow is None:
        notes.texts.clear()
        root.blocked = blocked
        arrow = _place_arrow(root, upright, word, h)
        _label(notes, root, h)
    for room in rooms[1:]:
        _label(notes, room, h)
    return notes, arrow


def _label(notes: Notes, room: Room, h: float) -> None:
    """Set the label of a panel: name and size, or the name alone, or nothing."""
    x0, y0, x1, y1 = room.box
    wide, high = x1 - x0, y1 - y0
    for lines in _wordings(room.name, f"{format_mm(wide)} × {format_mm(high)}"):
        longest = max(lines, key=len)
        upright = high > wide < text_width(longest, h) + 2 * _MARGIN * h
        for scale, turned in _TRIES:
            size = scale * h
            along = text_width(longest, size) + 2 * _MARGIN * size
            deep = (1.0 + DESCENT + (len(lines) - 1) * _PITCH + 2 * _MARGIN) * size
            stands = turned != upright
            box = room.find(deep, along, _MIDDLE) if stands else room.find(along, deep, _MIDDLE)
            if box is not None:
                room.blocked.append(box)
                _set(notes, box, lines, size, stands)
                return


def _wordings(name: str, size: str) -> Iterator[tuple[str, ...]]:
    """What a label may say: name and size, else the name, else the name in two lines."""
    yield name, size
    yield (name,)
    gaps = [i for i, letter in enumerate(name) if letter == " "]
    if gaps:
        middle = min(gaps, key=lambda i: abs(2 * i + 1 - len(name)))
        yield name[:middle], name[middle + 1 :]


def _set(notes: Notes, box: Box, lines: Sequence[str], size: float, turned: bool) -> None:
    """Set lines centred in a box, read from below or, turned, from the right."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    first = ((len(lines) - 1) * _PITCH - 1.0 + DESCENT) / 2 * size
    for i, line in enumerate(lines):
        base = first - i * _PITCH * size
        if turned:
            notes.text(line, x - base, y, size, "middle", 90.0)
        else:
            notes.text(line, x, y + base, size, "middle")


def _place_arrow(room: Room, upright: bool, word: str, h: float) -> Notes | None:
    """The arrow inside a panel, beside its middle; None if there is no room at all. Its place is blocked."""
    for scale in (1.2, 1.0, 0.8, 0.62):
        size = scale * h
        long = text_width(word, size) + (2.4 + 2 * _MARGIN) * size
        deep = (2.4 + 2 * _MARGIN) * size
        box = room.find(deep, long, _BESIDE) if upright else room.find(long, deep, [(b, a) for a, b in _BESIDE])
        if box is not None:
            room.blocked.append(box)
            notes = Notes("flute arrow")
            draw_arrow(notes, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), upright, word, size)
            return notes
    return None


def draw_arrow(notes: Notes, at: Point, upright: bool, word: str, size: float) -> None:
    """A double-headed arrow with its word standing on it, centred on a point."""
    half = text_width(word, size) / 2 + 1.2 * size
    head, wing = 1.1 * size, 0.35 * size
    # Across the arrow, its word takes from 0.5 to 1.5 heights; together they are centred.
    off = -0.7 * size

    def point(along: float, across: float) -> Point:
        return (at[0] - across, at[1] + along) if upright else (at[0] + along, at[1] + across)

    notes.line(point(-half, off), point(half, off))
    for end in (-1.0, 1.0):
        base = end * (half - head)
        notes.fill([point(end * half, off), point(base, off + wing), point(base, off - wing)])
    x, y = point(0.0, off + 0.6 * size)
    notes.text(word, x, y, size, "middle", 90.0 if upright else 0.0, bold=True)
