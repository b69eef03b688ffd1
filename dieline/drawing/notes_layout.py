"""Where the blocks of the notes go: in shelves under a wide blank, or beside a tall one, inside a ruled frame."""

from __future__ import annotations

from collections.abc import Sequence

from ..geometry.arc import Point
from ..geometry.path import rectangle
from .notes_text import Block, Box, Notes

__all__ = ["lay_out"]

_PAD = 1.6
"""Room around a column of blocks, in heights of capitals."""

_APART = 2.2
"""From one block to the next below it, in heights of capitals."""

_LEAST_SPAN = 110.0
"""Shortest shelf under a small blank, in heights of capitals: the notes beside each other, not in a tower."""

Shelf = tuple[float, float, list[float], float]
"""How far out a shelf begins, how deep it is, where its columns begin along it, and where the last one ends, mm."""


def lay_out(columns: Sequence[Sequence[Block]], content: Box, frame: Notes, h: float) -> Box:
    """Move the blocks to their places and rule a frame round them and the blank.

    Args:
        columns: Blocks that stand under each other, with their upper left corners at the origin.
        content: Bounds of the blank and its dimensions, mm.
        frame: Where the lines of the frame go.
        h: Height of capitals, mm.

    Returns:
        Bounds of the page, a margin outside the frame.
    """
    margin, pad = 1.5 * h, _PAD * h
    x0, y0, x1, y1 = content[0] - margin, content[1] - margin, content[2] + margin, content[3] + margin
    below = x1 - x0 >= y1 - y0
    limit = max(_LEAST_SPAN * h, x1 - x0) if below else y1 - y0
    extents = [_extent(blocks, h) for blocks in columns]
    shelves, reach, depth = _shelves([size if below else size[::-1] for size in extents], limit)
    span = max(limit, reach)

    def point(along: float, out: float) -> Point:
        return (x0 + along, y0 - out) if below else (x1 + out, y1 - along)

    waiting = iter(columns)
    for out, deep, starts, end in shelves:
        frame.line(point(0.0, out), point(span, out))
        spare = (span - end) / len(starts) if below else 0.0
        for i, start in enumerate(starts):
            along = start + i * spare
            _set_column(next(waiting), point(along, out), pad, h)
            if i > 0:
                frame.line(point(along, out), point(along, out + deep))
    outer = (x0, y0 - depth, x0 + span, y1) if below else (x0, y1 - span, x1 + depth, y1)
    frame.lines.append(rectangle(*outer))
    return outer[0] - margin, outer[1] - margin, outer[2] + margin, outer[3] + margin


def _extent(blocks: Sequence[Block], h: float) -> tuple[float, float]:
    """Width and height of a column of blocks with the room around it, mm."""
    width = max(block.width for block in blocks)
    height = sum(block.height for block in blocks) + (len(blocks) - 1) * _APART * h
    return width + 2 * _PAD * h, height + 2 * _PAD * h


def _shelves(sizes: Sequence[tuple[float, float]], limit: float) -> tuple[list[Shelf], float, float]:
    """Columns set one after the other until a shelf is full; also the longest shelf and how deep all are together.

    Args:
        sizes: Each column's size along the shelf and across it, mm.
        limit: Length of a shelf, unless a single column is longer, mm.
    """
    shelves: list[Shelf] = []
    starts: list[float] = []
    along = out = deep = reach = 0.0
    for size, across in sizes:
        if starts and along + size > limit:
            shelves.append((out, deep, starts, along))
            along, out, deep, starts = 0.0, out + deep, 0.0, []
        starts.append(along)
        along, deep = along + size, max(deep, across)
        reach = max(reach, along)
    shelves.append((out, deep, starts, along))
    return shelves, reach, out + deep


def _set_column(blocks: Sequence[Block], corner: Point, pad: float, h: float) -> None:
    """Move blocks under each other, from the upper left corner of their column."""
    x, y = corner[0] + pad, corner[1] - pad
    for block in blocks:
        block.place(x, y)
        y -= block.height + _APART * h
