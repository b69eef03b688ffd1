"""Panels in line, one above the other on the blank, each with a flap at its left and its right end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dieline.style import Face, Path, Role, Sheet, polygon, rectangle

__all__ = ["Notch", "Row", "lay_end_flaps", "lay_row"]


Notch = tuple[float, float]
"""Along the panel and across it, mm."""


@dataclass(frozen=True, slots=True)
class Row:
    """One panel of the line, a rectangle on the blank.

    Attributes:
        name: Its name.
        x0: Left end, mm.
        x1: Right end, mm.
        y0: Lower edge, mm.
        y1: Upper edge, mm.
    """

    name: str
    x0: float
    x1: float
    y0: float
    y1: float

    @property
    def length(self) -> float:
        """From end to end, mm."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """From edge to edge, mm."""
        return self.y1 - self.y0

    def above(self, name: str, length: float, height: float) -> Row:
        """The next panel up the blank, with its middle above the middle of this one, mm."""
        middle = (self.x0 + self.x1) / 2
        return Row(name, middle - length / 2, middle + length / 2, self.y1, self.y1 + height)

    def below(self, name: str, length: float, height: float) -> Row:
        """The next panel down the blank, with its middle below the middle of this one, mm."""
        middle = (self.x0 + self.x1) / 2
        return Row(name, middle - length / 2, middle + length / 2, self.y0 - height, self.y0)


def lay_row(
    sheet: Sheet,
    row: Row,
    on: Row | None,
    face: Face,
    *,
    k: float = 0.0,
    stage: int = 1,
    holes: Sequence[Path] = (),
    backs: tuple[Notch, Notch] = ((0.0, 0.0), (0.0, 0.0)),
) -> None:
    """Lay a panel of the line, folded on the one above or below it; without one it is the root.

    Args:
        sheet: Where.
        row: The panel.
        on: The one that it is folded on.
        face: The face of the box that it makes.
        k: Boards between it and the inside.
        stage: When it is folded.
        holes: What is cut out of it.
        backs: What is cut out of its lower and of its upper corners, so that slots end at one line.
    """
    role = Role.PART if face in (Face.BOTTOM, Face.TOP) else Role.WALL
    sheet.panel(row.name, _notched(row, *backs), face=face, k=k, role=role, holes=holes)
    if on is not None:
        y = row.y0 if abs(row.y0 - on.y1) < 1e-9 else row.y1
        sheet.fold(on.name, row.name, ((max(row.x0, on.x0), y), (min(row.x1, on.x1), y)), stage=stage)


def _notched(row: Row, low: Notch, high: Notch) -> Path:
    """The rectangle without its corners where they are cut out."""
    (a, up), (b, down) = low, high
    right = [
        *([(row.x1 - a, row.y0), (row.x1 - a, row.y0 + up)] if a and up else ()),
        (row.x1, row.y0 + (up if a else 0.0)),
        (row.x1, row.y1 - (down if b else 0.0)),
        *([(row.x1 - b, row.y1 - down), (row.x1 - b, row.y1)] if b and down else ()),
    ]
    return polygon([*right, *((row.x0 + row.x1 - x, y) for x, y in right[::-1])])


def lay_end_flaps(sheet: Sheet, row: Row, back: tuple[float, float], reach: float, *, k: float, stage: int) -> None:
    """Hang a flap at each end of a panel.

    Args:
        sheet: Where.
        row: The panel.
        back: How far the flaps keep from the panel's lower and from its upper edge, mm.
        reach: Their length, mm.
        k: Boards between them and the inside.
        stage: When they are folded.
    """
    y0, y1 = row.y0 + back[0], row.y1 - back[1]
    for face, x, tip in ((Face.LEFT, row.x0, row.x0 - reach), (Face.RIGHT, row.x1, row.x1 + reach)):
        name = f"{row.name} flap {face.value}"
        sheet.panel(name, rectangle(x, y0, tip, y1), face=face, k=k, role=Role.FLAP)
        sheet.fold(row.name, name, ((x, y0), (x, y1)), stage=stage)
