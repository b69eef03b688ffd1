"""The folded view as SVG: true to scale, in the colours of brown board, one group for each state or piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from ..fold.skin import Skin
from ..fold.view import View, ViewFace
from ..geometry.arc import Point
from ..linetypes import LOOKS

__all__ = ["folded_svg"]

COLOURS = {Skin.OUTSIDE: (201, 155, 102), Skin.INSIDE: (222, 188, 142), Skin.EDGE: (173, 128, 80)}
"""sRGB of the board in full light: print side, inner liner, raw edge with its flutes."""

DARKEST = 0.62
"""What is left of a colour where no light falls."""

INK = "#3b2a1a"
LEAST_PEN = 0.25
PEN_SHARE = 0.0008
"""mm, and share of the picture's longer side: a large picture is looked at from farther away or made smaller."""

MARK_SHARE = 0.7
"""A mark inside a panel is drawn with a pen this much finer."""

MARGIN = 5.0
"""mm. Least room round the picture; between two views there is three times as much."""

MARGIN_SHARE = 0.025
"""The same as a share of the largest view, where that is more."""


def folded_svg(views: Sequence[View], *, title: str) -> str:
    """One picture of several views side by side, standing on one line.

    Args:
        views: The views, from left to right.
        title: Title of the picture.

    Returns:
        An SVG document whose user unit is 1 mm; coordinates are rounded to a thousandth.
    """
    # Only where a picture is asked for; it ships no types.
    import svgwrite

    room = max([MARGIN, *(MARGIN_SHARE * max(view.width, view.height) for view in views)])
    gap = 3 * room
    width = 2 * room + sum(view.width for view in views) + gap * max(0, len(views) - 1)
    height = 2 * room + max((view.height for view in views), default=0.0)
    drawing = svgwrite.Drawing(
        size=(f"{_number(width)}mm", f"{_number(height)}mm"),
        viewBox=f"0 0 {_number(width)} {_number(height)}",
        debug=False,
    )
    drawing.set_desc(title=_plain(title))
    pen = max(LEAST_PEN, round(PEN_SHARE * max(width, height), 2))
    left = room
    for number, view in enumerate(views, start=1):
        drawing.add(_view_group(drawing, view, number, (left, height - room), pen))
        left += view.width + gap
    return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing.tostring()}\n'


def _view_group(drawing: Any, view: View, number: int, corner: Point, pen: float) -> Any:
    """The faces of one view, then its lines; ``corner`` is where its lower left corner stands, y down."""
    group = drawing.g(id=f"view-{number}", stroke_linejoin="round", stroke_linecap="round")
    # Every face is drawn larger by half a pen, so that no paper shines through between two.
    faces = drawing.g(fill_rule="evenodd", stroke_width=_number(pen))
    for face in view.faces:
        colour = _colour(face)
        path = drawing.path(d="".join(f"{_run(ring, corner)}Z" for ring in face.rings), fill=colour, stroke=colour)
        path.set_desc(title=_plain(face.panel))
        faces.add(path)
    group.add(faces)
    pens = drawing.g(fill="none", stroke=INK)
    for meaning in dict.fromkeys(line.meaning for line in view.lines):
        runs = "".join(_run(line.points, corner) for line in view.lines if line.meaning is meaning)
        path = drawing.path(d=runs, stroke_width=_number(pen if meaning is None else MARK_SHARE * pen))
        if meaning is not None and LOOKS[meaning].dash:
            path.dasharray([_number(part) for part in LOOKS[meaning].dash])
        pens.add(path)
    group.add(pens)
    return group


def _colour(face: ViewFace) -> str:
    light = DARKEST + (1.0 - DARKEST) * face.shade
    return "#" + "".join(f"{round(part * light):02x}" for part in COLOURS[face.skin])


def _run(points: Iterable[Point], corner: Point) -> str:
    """Path data of a run of straight lines, y turned to point down."""
    left, base = corner
    return "M" + "L".join(f"{_number(left + x)},{_number(base - y)}" for x, y in points)


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _plain(text: str) -> str:
    """Text without the control characters that XML cannot hold."""
    return "".join(letter for letter in text if letter.isprintable())
