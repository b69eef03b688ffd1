"""The words of the title block: what the box is, its sizes in mm and inches, and the facts a maker asks for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from ..blank import Blank, JointKind, Role
from ..board import Board
from ..style.design import Design
from ..units import MM_PER_INCH, format_mm
from .model import Drawing
from .notes_text import Block, Notes, text_width, wrapped

__all__ = ["facts", "heading", "sizes"]

_PITCH = 1.8
_MOST = 56
"""Longest line of the title block, in characters."""

Triple = tuple[float, float, float]


class Column:
    """Lines of text under each other, the upper left corner at the origin.

    Args:
        h: Height of capitals, mm.
    """

    def __init__(self, h: float) -> None:
        self.h = h
        self.lines: list[tuple[str, float, float, float, bool]] = []
        self.x = self.y = self.right = 0.0

    def add(self, text: str, scale: float = 1.0, bold: bool = False) -> None:
        """Set one more line."""
        h = self.h
        size, pitch = scale * h, _PITCH * h
        apart = size + 0.8 * h
        self.y -= size if self.y == 0.0 else apart if apart > pitch else pitch
        self.lines.append((text, self.x, self.y, size, bold))
        right = self.x + text_width(text, size)
        if right > self.right:
            self.right = right

    def aside(self) -> None:
        """Set what follows beside it, from the top again."""
        self.x, self.y = self.right + 2 * self.h, 0.0

    def block(self) -> Block:
        """The lines as a part of the title block."""
        return Block(Notes("title"), self.right, -self.y + 0.3 * self.h, self.lines)


def heading(
    drawing: Drawing, design: Design, board: Board, h: float, *, title: str, style_title: str, revision: str
) -> Block:
    """Style, title, side, board, blank size, digest: what tells this drawing from every other."""
    column = Column(h)
    for line in wrapped(f"{design.style}  {style_title}", 40):
        column.add(line, 1.3, bold=True)
    for line in wrapped(title, 44):
        column.add(line, 1.15, bold=True)
    column.add(drawing.side.words, 1.3, bold=True)
    column.y -= 0.5 * h
    for line in _particulars(drawing, design, board, revision):
        for part in wrapped(line, _MOST):
            column.add(part)
    column.add("true scale, do not scale")
    return column.block()


def _particulars(drawing: Drawing, design: Design, board: Board, revision: str) -> Iterable[str]:
    count = next((piece.count for piece in design.pieces if piece.name == drawing.name), 1)
    yield f"piece {drawing.name}" + (f", {count} to a box" if count > 1 else "")
    yield f"blank {format_mm(drawing.width)} × {format_mm(drawing.height)} mm"
    calliper, thickness = format_mm(board.calliper.value), format_mm(board.thickness)
    yield f"board {board.name}, calliper {calliper}, design thickness {thickness} mm"
    if design.hand:
        yield f"knocked down {design.hand} handed"
    if revision:
        yield f"revision {revision}"
    yield f"geometry {drawing.digest()}"


def sizes(design: Design, outside: Triple, h: float) -> Block:
    """Inside, crease and outside size, each in mm and in inches."""
    rows = [("inside", design.inside), ("crease", design.crease), ("outside", outside)]
    texts = [
        ("L × B × H", *(name for name, _ in rows)),
        ("mm", *(_size(size, format_mm) for _, size in rows)),
        ("inches", *(_size(size, _inches) for _, size in rows)),
    ]
    column = Column(h)
    for number, lines in enumerate(texts):
        if number > 0:
            column.aside()
        for row, line in enumerate(lines):
            column.add(line, bold=row == 0 or number == 0)
    return column.block()


def _inches(value: float) -> str:
    """Inches to a thousandth, all three written so that columns line up."""
    return f"{value / MM_PER_INCH:.3f}"


def _size(size: Sequence[float | None], form: Callable[[float], str]) -> str:
    text = " × ".join([form(value) for value in size[:3] if value is not None])
    return f"{text} / {form(size[3])}" if len(size) > 3 and size[3] is not None else text


def facts(design: Design, blank: Blank, extra: Sequence[str], h: float) -> Block:
    """Joints, gaps, slots and lap, and whatever else the job wants said. Without lines if there is nothing to say."""
    column = Column(h)
    said = [*_joint_lines(blank), *extra]
    lines = [*_fact_lines(design), *(part for line in said for part in wrapped(line, _MOST) if part)]
    for line in lines:
        column.add(line)
    return column.block()


def _joint_lines(blank: Blank) -> Iterable[str]:
    """How the maker holds the blank together: in words, for whoever glues, stitches or tapes it."""
    by_kind: dict[str, list[str]] = {}
    for joint in blank.joints:
        panel = blank.by_name[joint.a]
        if joint.kind is JointKind.TAPED:
            words = f"edge of {joint.a} to {joint.b}, tape on the outside"
        elif panel.role is Role.LAP:
            words = f"{joint.a} {'outside' if joint.a_inside else 'inside'} {joint.b}"
        else:
            words = f"{joint.a} to {joint.b}"
        by_kind.setdefault(joint.kind.value, []).append(words)
    for kind, places in by_kind.items():
        yield f"{kind}: {'; '.join(places)}"


def _fact_lines(design: Design) -> Iterable[str]:
    """Each fact in a line; what holds for bottom and top alike is said once; flaps with less than no gap overlap."""
    known = design.facts
    for name, value in known.items():
        other = (
            f"bottom {name[4:]}" if name.startswith("top ") else f"top {name[7:]}" if name.startswith("bottom ") else ""
        )
        words = name
        if other and known.get(other) == value:
            if name.startswith("top "):
                continue
            words = f"bottom and {other}"
        if words.endswith(" gap") and value < 0:
            words, value = f"{words[:-3]}overlap", -value
        yield f"{words} {format_mm(value)} mm"
