"""Parts of the notes that explain the drawing: the line kinds in use, and the bar that proves the scale."""

from __future__ import annotations

from collections.abc import Mapping

from ..geometry.path import Path, rectangle
from ..linetypes import IN_TURN, LOOKS, TOOL_ORDER, Meaning
from ..units import format_mm
from .model import Drawing
from .notes_text import Block, Notes, text_width

__all__ = ["CHECK_BAR", "check_bar", "legend"]

CHECK_BAR = 100.0
"""Length of the check bar, mm: whoever opens the file measures it and knows at once whether the scale is true."""

_PITCH = 1.9
_SAMPLE = 7.0


def legend(drawing: Drawing, h: float, patterns: Mapping[Meaning, tuple[float, float]]) -> Block:
    """Every line kind in use with a sample in its look and its words, and the glue zone if there is one.

    Args:
        drawing: The cut drawing.
        h: Height of capitals, mm.
        patterns: For what is cut and left in turn: mm cut and mm left, where the plant has said."""
    notes = Notes("legend")
    notes.text("lines", 0.0, -h, h, bold=True)
    used = {stroke.meaning for stroke in drawing.strokes}
    rows = [(meaning, _words(meaning, patterns)) for meaning in TOOL_ORDER if meaning in used]
    kinds = dict.fromkeys(name.split(" zone ")[0] for name, _ in drawing.zones)
    rows += [(Meaning.GLUE, LOOKS[Meaning.GLUE].words if kind == "glued" else f"{kind} zone") for kind in kinds]
    y = -h
    for meaning, words in rows:
        y -= _PITCH * h
        middle = y + h / 2
        if meaning is Meaning.GLUE:
            sample = rectangle(0.0, middle - 0.6 * h, _SAMPLE * h, middle + 0.6 * h)
        else:
            sample = Path(((0.0, middle), (_SAMPLE * h, middle)))
        notes.samples.append((meaning, sample))
        notes.text(words, (_SAMPLE + 1.0) * h, y, h)
    width = (_SAMPLE + 1.0) * h + max((text_width(words, h) for _, words in rows), default=0.0)
    return Block(notes, width, -y + 0.3 * h)


def _words(meaning: Meaning, patterns: Mapping[Meaning, tuple[float, float]]) -> str:
    """What the legend says of a meaning, with its pattern: a dashed look says nothing of the tool's teeth."""
    words = LOOKS[meaning].words
    if meaning not in IN_TURN:
        return words
    if meaning not in patterns:
        return f"{words} (pattern: as your tool)"
    cut, left = patterns[meaning]
    return f"{words} ({format_mm(cut)} cut, {format_mm(left)} left)"


def check_bar(h: float) -> Block:
    """A bar of exactly 100 mm with its label under it.

    Args:
        h: Height of capitals, mm."""
    notes = Notes("check bar")
    label = f"check bar {CHECK_BAR:g} mm"
    thick = min(0.7 * h, 12.0)
    notes.fills.append(rectangle(0.0, -thick, CHECK_BAR / 2, 0.0))
    notes.lines.append(rectangle(0.0, -thick, CHECK_BAR, 0.0))
    notes.text(label, 0.0, -thick - 1.6 * h, h)
    return Block(notes, max(CHECK_BAR, text_width(label, h)), thick + 1.9 * h)
