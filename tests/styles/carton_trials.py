"""What the tests of cartons share: a proved carton in one call, and the same carton spoiled on purpose."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from dieline.blank import Blank, Panel
from dieline.board import find_board
from dieline.fold import prove_folded
from dieline.geometry.path import Path
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.style.design import Design
from dieline.units import parse_size
from dieline_styles.tuck_end import STYLES

__all__ = ["SIZES", "carton", "faults", "named", "points_of", "reshaped", "with_panel"]

SIZES = (
    ("60x40x120", "carton-0.4"),
    ("90x30x150", "carton-0.5"),
    ("50x50x80", "carton-0.8"),
    ("150x100x200", "E"),
    ("300x200x250", "B"),
    ("400x300x300", "C"),
)
"""Sizes and boards at which every construction was tried by hand before."""


def carton(style: str, size: str = "150x100x180", board: str = "E", **options: object) -> Result:
    """A carton, built and proved."""
    job = Job(style=style, size=parse_size(size), board=find_board(board), options=options)
    return run(job, STYLES[style])


def named(result: Result, name: str) -> float:
    """A recorded dimension."""
    return next(line.value for line in result.design.sizes if line.name == name)


def with_panel(design: Design, name: str, change: Callable[[Panel], Panel]) -> Design:
    """The design with one panel changed."""
    piece = design.pieces[0]
    panels = tuple(change(panel) if panel.name == name else panel for panel in piece.blank.panels)
    blank: Blank = replace(piece.blank, panels=panels)
    return replace(design, pieces=(replace(piece, blank=blank),))


def reshaped(design: Design, name: str, moves: Mapping[tuple[str, float], float]) -> Design:
    """The design with some corners of a panel moved.

    Args:
        design: The design.
        name: The panel.
        moves: Axis and place of the corners to move, and where to: ``("x", 60.3): 61.0``.
    """

    def moved(panel: Panel) -> Panel:
        def at(point: tuple[float, float]) -> tuple[float, float]:
            x, y = point
            for (axis, place), goal in moves.items():
                if axis == "x" and abs(x - place) < 1e-6:
                    x = goal
                if axis == "y" and abs(y - place) < 1e-6:
                    y = goal
            return x, y

        outline = panel.outline
        return replace(panel, outline=Path(tuple(at(p) for p in outline.points), outline.bulges, closed=True))

    return with_panel(design, name, moved)


def faults(design: Design, result: Result) -> str:
    """What the folded proof says about a design, as one text."""
    return " | ".join(prove_folded(design, result.job.board).failures)


def points_of(result: Result, name: str) -> tuple[tuple[float, float], ...]:
    """Corners of a panel, blank coordinates."""
    return result.design.pieces[0].blank.by_name[name].outline.points
