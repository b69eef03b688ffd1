"""The way from the flat blank to the finished box, step by step, as the page's slider walks it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..blank import Blank, JointKind
from ..fold.slab import prefixes
from ..style.design import Bends, Design, Motion, Piece

__all__ = ["steps_of"]

_MOST_NAMES = 3


def steps_of(design: Design) -> list[dict[str, Any]]:
    """Every step: its name, and either the folds that move (with angle and shift when it is done) or a slide.

    A style that says how its pieces are put up is believed; for any other, the stages of its folds follow each other.
    Pieces are folded one after the other and then come together.

    Args:
        design: The design.
    """
    steps: list[dict[str, Any]] = []
    several = len(design.pieces) > 1
    for number, piece in enumerate(design.pieces):
        at: dict[str, tuple[float, float]] = dict.fromkeys((fold.child for fold in piece.folded.folds), (0.0, 0.0))
        for name, bends in _piece_steps(design, piece):
            moved = {child: bend for child, bend in bends.items() if at[child] != bend}
            if moved:
                at |= moved
                steps.append(
                    {
                        "name": f"{piece.name}: {name}" if several else name,
                        "piece": number,
                        "bends": _numbered(piece.folded, moved),
                    }
                )
    return steps + list(_gathering(design))


def _piece_steps(design: Design, piece: Piece) -> Iterator[tuple[str, Bends]]:
    blank = piece.folded
    motions = [motion for motion in design.motions if motion.steps and motion.piece in ("", piece.name)]
    yield from _told_steps(blank, motions) if motions else _stage_steps(blank)
    yield "close", {fold.child: (fold.angle, fold.shift) for fold in blank.folds}


def _told_steps(blank: Blank, motions: list[Motion]) -> Iterator[tuple[str, Bends]]:
    held = any(joint.kind is not JointKind.LOCKED for joint in blank.joints)
    for motion in motions:
        start: dict[str, tuple[float, float]] = dict.fromkeys((fold.child for fold in blank.folds), (0.0, 0.0))
        yield "form and join" if held else "form", start | dict(motion.start)
        for step in motion.steps:
            yield step.name, step.bends


def _stage_steps(blank: Blank) -> Iterator[tuple[str, Bends]]:
    for stage in sorted({fold.stage for fold in blank.folds}):
        folds = [fold for fold in blank.folds if fold.stage == stage]
        names = [fold.child for fold in folds if fold.meaning is not None] or [fold.child for fold in folds]
        more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
        yield f"fold {', '.join(names[:_MOST_NAMES])}{more}", {fold.child: (fold.angle, fold.shift) for fold in folds}


def _numbered(blank: Blank, bends: Bends) -> dict[int, tuple[float, float]]:
    """Bends by number of fold in place of the name of the panel that hangs on it."""
    index: Mapping[str, int] = {fold.child: number for number, fold in enumerate(blank.folds)}
    return {index[child]: bend for child, bend in bends.items()}


def _gathering(design: Design) -> Iterator[dict[str, Any]]:
    """How finished pieces come to their places: those that slide as they are told, all others straight."""
    names = {
        prefix.removesuffix(": "): (number, place)
        for number in range(len(design.pieces))
        for place, prefix in enumerate(prefixes(design, number))
    }
    slid = {names[slide.piece] for slide in design.slides if slide.piece in names}
    rest = [stand for stand in list(names.values())[1:] if stand not in slid]
    if rest:
        yield {"name": "put together", "gather": rest}
    for slide in design.slides:
        if slide.piece in names:
            yield {"name": slide.name, "gather": [names[slide.piece]], "from": slide.start}
