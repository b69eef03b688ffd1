"""Edges of panels: cut back at their ends, or carried outward to the far edge of what hangs on them."""

from __future__ import annotations

import math

from dieline.style import Frame, Path, Point, rectangle

__all__ = ["Edge", "beyond", "hung", "shortened"]

Edge = tuple[Point, Point]
"""Two points, walked counter-clockwise round the panel whose edge it is."""


def shortened(edge: Edge, first: float, last: float) -> Edge:
    """The edge cut back by ``first`` mm where it begins and by ``last`` mm where it ends; negative makes it longer."""
    frame = Frame.outward(*edge)
    return frame.point(first, 0.0), frame.point(math.dist(*edge) - last, 0.0)


def beyond(edge: Edge, reach: float) -> Edge:
    """The far edge of a rectangle that hangs on an edge and reaches ``reach`` mm."""
    frame = Frame.outward(*edge)
    return frame.point(0.0, reach), frame.point(math.dist(*edge), reach)


def hung(edge: Edge, reach: float) -> Path:
    """The rectangle that hangs on the whole of an edge and reaches ``reach`` mm, in the edge's own frame."""
    return rectangle(0.0, 0.0, math.dist(*edge), reach)
