"""How large the lettering of a drawing is, and how much room a line of it takes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ..geometry.arc import Point
from ..geometry.path import Path
from ..linetypes import Meaning
from .model import NoteGroup, Text

__all__ = [
    "ADVANCE",
    "DESCENT",
    "Block",
    "Box",
    "Notes",
    "bounds_of",
    "overlap",
    "text_box",
    "text_height",
    "text_width",
    "wrapped",
]

ADVANCE = 0.8
"""Room for one character, in heights of capitals: what common sans-serif faces take for digits and small letters."""

DESCENT = 0.3
"""How far letters reach below their baseline, in heights of capitals."""

_SHARE = 0.0068
"""Height of capitals as a share of the blank's diagonal: some 1.8 mm when the drawing is printed on A4."""

_LEAST, _GREATEST = 2.2, 60.0

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y, mm."""


def text_height(width: float, height: float) -> float:
    """Height of capitals on a drawing of a blank of this size, mm: readable for a small carton and a 3 m case.

    Args:
        width: Width of the blank, mm.
        height: Height of the blank, mm.
    """
    return min(_GREATEST, max(_LEAST, _SHARE * math.hypot(width, height)))


def text_width(text: str, height: float) -> float:
    """Room that a line of text takes along its baseline, mm, whatever sans-serif face it is set in."""
    return ADVANCE * height * len(text)


def text_box(text: Text) -> Box:
    """Room that a text takes on the drawing; texts stand upright or at a right angle."""
    length = ADVANCE * text.height * len(text.text)
    before = {"start": 0.0, "middle": length / 2, "end": length}[text.anchor]
    x, y = text.at
    low, high = DESCENT * text.height, text.height
    if text.angle:
        return x - high, y - before, x + low, y - before + length
    return x - before, y - low, x - before + length, y + high


def overlap(a: Box, b: Box) -> bool:
    """Whether two boxes have room in common."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def wrapped(text: str, most: int) -> list[str]:
    """A text in lines of at most ``most`` characters, broken between words."""
    words = text.split()
    if len(text) <= most:
        return [" ".join(words)]
    lines = [""]
    for word in words:
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most:
            lines.append("")
        while len(word) > most:
            lines[-1] = f"{lines[-1]} {word[: most - 1]}-".strip()
            word = word[most - 1 :]
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


@dataclass(slots=True)
class Notes:
    """Collects the marks of one group while they are laid out.

    Attributes:
        name: Name of the group.
        lines: Thin lines.
        texts: Texts.
        fills: Filled shapes.
        samples: Sample lines of the legend.
    """

    name: str
    lines: list[Path] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    fills: list[Path] = field(default_factory=list)
    samples: list[tuple[Meaning, Path]] = field(default_factory=list)

    def line(self, *points: Point) -> None:
        """Draw a thin line through points."""
        self.lines.append(Path(points))

    def text(
        self,
        text: str,
        x: float,
        y: float,
        height: float,
        anchor: str = "start",
        angle: float = 0.0,
        bold: bool = False,
    ) -> None:
        """Set a line of text with its baseline at (x, y)."""
        self.texts.append(Text(text, (x, y), height, anchor, angle, bold))

    def fill(self, points: Sequence[Point]) -> None:
        """Fill a polygon."""
        self.fills.append(Path(tuple(points), (), True))

    def move(self, dx: float, dy: float) -> None:
        """Shift everything."""
        self.lines = [path.moved(dx, dy) for path in self.lines]
        self.fills = [path.moved(dx, dy) for path in self.fills]
        self.samples = [(meaning, path.moved(dx, dy)) for meaning, path in self.samples]
        self.texts = [
            Text(words, (x + dx, y + dy), height, anchor, angle, bold)
            for words, (x, y), height, anchor, angle, bold in self.texts
        ]

    def group(self) -> NoteGroup:
        """The finished group."""
        return NoteGroup(self.name, tuple(self.lines), tuple(self.texts), tuple(self.fills), tuple(self.samples))


@dataclass(frozen=True, slots=True)
class Block:
    """Marks that are laid out as one.

    Attributes:
        notes: The marks, their upper left corner at the origin.
        width: Their width, mm.
        height: Their height, mm.
        lines: Lines of text that become marks when the block has its place: words, where their baseline starts, height
            of capitals, whether they are heavy.
    """

    notes: Notes
    width: float
    height: float
    lines: Sequence[tuple[str, float, float, float, bool]] = ()

    def place(self, dx: float, dy: float) -> None:
        """Shift the marks, and set the lines of text, shifted alike."""
        self.notes.move(dx, dy)
        self.notes.texts += [
            Text(words, (x + dx, y + dy), height, "start", 0.0, bold) for words, x, y, height, bold in self.lines
        ]


def bounds_of(boxes: Iterable[Box]) -> Box:
    """Bounds of several boxes."""
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)
