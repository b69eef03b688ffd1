"""What the tests of folders, telescopes and slides share: a design in one call, and the same spoiled on purpose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from dieline.blank import Fold, Panel
from dieline.board import find_board
from dieline.fold import prove_folded
from dieline.geometry.path import Path
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.style.contract import Style
from dieline.style.design import Design
from dieline.units import parse_size

__all__ = ["faults", "moved_piece", "named", "proved", "resized", "with_fold", "with_panel"]


def proved(style: Style, size: str = "", board: str = "C", **options: object) -> Result:
    """A design, built and proved; its example size if none is given."""
    job = Job(style=style.code, size=parse_size(size or style.example), board=find_board(board), options=options)
    return run(job, style)


def named(result: Result, name: str) -> float:
    """A recorded dimension."""
    return next(line.value for line in result.design.sizes if line.name == name)


def faults(design: Design, result: Result) -> str:
    """All that the folded proof finds wrong with a design on the board of a result."""
    return "; ".join(prove_folded(design, result.job.board).failures)


def with_panel(design: Design, name: str, change: Callable[[Panel], Panel], piece: int = 0) -> Design:
    """The design with one panel changed."""
    whole = design.pieces[piece]
    assert name in whole.blank.by_name
    panels = tuple(change(panel) if panel.name == name else panel for panel in whole.blank.panels)
    return _with_piece(design, piece, replace(whole, blank=replace(whole.blank, panels=panels)))


def with_fold(design: Design, name: str, change: Callable[[Fold], Fold], piece: int = 0) -> Design:
    """The design with the fold changed that a panel hangs on."""
    whole = design.pieces[piece]
    folds = tuple(change(fold) if fold.child == name else fold for fold in whole.blank.folds)
    assert folds != whole.blank.folds
    return _with_piece(design, piece, replace(whole, blank=replace(whole.blank, folds=folds)))


def resized(design: Design, name: str, by: tuple[float, float, float, float], piece: int = 0) -> Design:
    """The design with a panel reaching farther by so many mm to the left, down, right and up on the blank."""

    def grown(panel: Panel) -> Panel:
        x0, y0, x1, y1 = panel.outline.bounds
        left, down, right, up = by
        points = tuple(
            (
                x - left if abs(x - x0) < 1e-9 else x + right if abs(x - x1) < 1e-9 else x,
                y - down if abs(y - y0) < 1e-9 else y + up if abs(y - y1) < 1e-9 else y,
            )
            for x, y in panel.outline.points
        )
        return replace(panel, outline=Path(points, panel.outline.bulges, closed=True))

    return with_panel(design, name, grown, piece)


def moved_piece(design: Design, piece: int, by: tuple[float, float, float]) -> Design:
    """The design with one piece displaced in the box, mm; its slides are left out."""
    whole = design.pieces[piece]
    x, y, z = (a + b for a, b in zip(whole.stand.origin, by, strict=True))
    spoiled = _with_piece(design, piece, replace(whole, stand=replace(whole.stand, origin=(x, y, z))))
    return replace(spoiled, slides=())


def _with_piece(design: Design, piece: int, other: object) -> Design:
    pieces = list(design.pieces)
    pieces[piece] = other  # type: ignore[call-overload]  # a piece like the one it takes the place of
    return replace(design, pieces=tuple(pieces))
