"""A small picture of a drawing for the terminal, in Braille dots: two by four to a character."""

from __future__ import annotations

import math
from itertools import pairwise

from ..drawing.model import Drawing
from ..linetypes import Meaning

__all__ = ["picture"]

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))


def picture(drawing: Drawing, *, columns: int = 72, rows: int = 24) -> str:
    """The strokes of a drawing as text; folds are drawn dotted.

    Args:
        drawing: The drawing.
        columns: Greatest width in characters.
        rows: Greatest height in characters.
    """
    scale = min((2 * columns - 1) / drawing.width, (4 * rows - 1) / drawing.height)
    across, down = int(drawing.width * scale) // 2 + 1, int(drawing.height * scale) // 4 + 1
    cells = [[0] * across for _ in range(down)]
    for stroke in drawing.strokes:
        points = stroke.path.flatten(0.5 / scale)
        if stroke.path.closed:
            points.append(points[0])
        for (px, py), (qx, qy) in pairwise(points):
            steps = max(1, math.ceil(math.hypot(qx - px, qy - py) * scale))
            for i in range(steps + 1):
                if stroke.meaning is not Meaning.CUT and i % 4 > 1:
                    continue
                x = int((px + (qx - px) * i / steps) * scale)
                y = down * 4 - 1 - int((py + (qy - py) * i / steps) * scale)
                if 0 <= x < across * 2 and 0 <= y < down * 4:
                    cells[y // 4][x // 2] |= _DOTS[y % 4][x % 2]
    return "\n".join("".join(chr(0x2800 + cell) for cell in row).rstrip("⠀") for row in cells)
