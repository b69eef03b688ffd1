"""The approval drawing: a cut drawing with everything that people need to read it, laid out around the blank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..blank import Blank
from ..board import Board
from ..linetypes import Meaning
from ..style.design import Design
from .dimensions import draw_dimensions
from .legend import check_bar, legend
from .model import Drawing
from .notes_holes import draw_holes
from .notes_layout import lay_out
from .notes_panels import draw_arrow, draw_panels
from .notes_room import placer, rooms
from .notes_text import Block, Notes, text_height, text_width
from .notes_title import facts, heading, sizes

__all__ = ["annotate"]


def annotate(
    drawing: Drawing,
    blank: Blank,
    design: Design,
    board: Board,
    *,
    title: str,
    outside: tuple[float, float, float],
    style_title: str,
    extra: Sequence[str] = (),
    revision: str = "",
    patterns: Mapping[Meaning, tuple[float, float]] | None = None,
) -> Drawing:
    """The approval drawing of a blank: dimensions around it, labels in it, legend and title block beside it.

    Args:
        drawing: The cut drawing.
        blank: The blank that it shows.
        design: The design that the blank belongs to.
        board: The board.
        title: Name of the job.
        outside: Outside size of the folded box, mm.
        style_title: What the style is called.
        extra: Further lines for the title block.
        revision: Revision of the job, if it has one.
        patterns: For what is cut and left in turn: mm cut and mm left, where the plant has said.
    """
    h = text_height(drawing.width, drawing.height)
    upright, word = blank.flutes == "y", "FLUTES" if board.corrugated else "GRAIN"
    insides = list(rooms(drawing, blank))
    letters, table = draw_holes(blank, insides, placer(drawing, blank), h)
    panels, arrow = draw_panels(insides, upright, word, h)
    dimensions, left, above, below = draw_dimensions(drawing, design.facts.get("slot width", 0.0), h)
    head = heading(drawing, design, board, h, title=title, style_title=style_title, revision=revision)
    said = facts(design, blank, extra, h)
    columns = [[head], [sizes(design, outside, h)], [legend(drawing, h, patterns or {}), check_bar(h)]]
    if said.lines:
        columns[1].append(said)
    if table is not None:
        columns.append([table])
    if arrow is None:
        columns[2].append(_loose_arrow(upright, word, h))
    title_block = Notes("title")
    page = lay_out(columns, (-left, -below, drawing.width, drawing.height + above), title_block, h)
    others = [block.notes for block in columns[2]]
    if table is not None:
        letters.texts += table.notes.texts
    for block in (*columns[0], *columns[1]):
        title_block.texts += block.notes.texts
    groups = [
        dimensions,
        panels,
        *([letters] if letters.texts else []),
        *([arrow] if arrow else []),
        *others,
        title_block,
    ]
    return replace(drawing, notes=tuple(notes.group() for notes in groups), page=page)


def _loose_arrow(upright: bool, word: str, h: float) -> Block:
    """The arrow beside the drawing, for a root panel that is too small to hold it."""
    notes = Notes("flute arrow")
    long, deep = text_width(word, h) + 2.4 * h, 2.4 * h
    width, height = (deep, long) if upright else (long, deep)
    draw_arrow(notes, (width / 2, -height / 2), upright, word, h)
    return Block(notes, width, height)
