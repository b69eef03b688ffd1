"""States of a box between the flat blank and the finished box, and the finished box with flaps lifted again."""

from __future__ import annotations

import math
from collections.abc import Collection

from ..blank import Blank, Face
from ..errors import InputError
from .pose import Bend

__all__ = ["opened", "stage_bends"]


def stage_bends(blank: Blank, progress: float) -> Bend:
    """The folds of a blank part of the way from flat to finished.

    The stages in which the box is put up follow each other, each over an equal share of the way; within a stage,
    angles and shifts grow evenly. Bends that are not creased move with their stage.

    Args:
        blank: The blank.
        progress: 0 is the flat blank, 1 the finished box.

    Returns:
        Angle and shift of each fold, exactly 0 at the beginning and exactly the fold's own at the end.

    Raises:
        InputError: If ``progress`` is not from 0 to 1.
    """
    if not 0.0 <= progress <= 1.0:
        raise InputError(
            "progress", f"{progress:g}", "it must be from 0 (flat) to 1 (finished): nothing folds beyond that"
        )
    stages = sorted({fold.stage for fold in blank.folds})
    share = {stage: min(1.0, max(0.0, progress * len(stages) - before)) for before, stage in enumerate(stages)}
    return lambda fold: (fold.angle * share[fold.stage], fold.shift * share[fold.stage])


def opened(blank: Blank, faces: Collection[Face], angle: float) -> Bend:
    """The finished box with the flaps of some faces lifted back, so that one can look inside.

    Lifted are the panels that make one of the faces and hang on one that does not. What is lifted goes back the way
    it came: its shift, and the bends in it that are not creased, slacken in step with its crease. All other folds
    stay as they are in the finished box.

    Args:
        blank: The blank.
        faces: The faces to open.
        angle: How far the flaps are lifted, degrees; past the flat position they hang outside.

    Returns:
        Angle and shift of each fold; exactly the fold's own where ``angle`` is 0.

    Raises:
        InputError: If ``angle`` is not from 0 to 360.
    """
    if not 0.0 <= angle <= 360.0:
        raise InputError("angle", f"{angle:g}", "it must be from 0 (closed) to 360 degrees: no flap turns farther")
    lifted: dict[str, tuple[float, float]] = {}
    left: dict[str, float] = {}
    for fold in blank.folds:
        child, parent = blank.by_name[fold.child].face, blank.by_name[fold.parent].face
        if child in faces and parent not in faces:
            share = max(0.0, 1.0 - angle / abs(fold.angle)) if fold.angle else float(angle == 0.0)
            left[fold.child] = share
            lifted[fold.child] = (fold.angle - math.copysign(angle, fold.angle), fold.shift * share)
        elif fold.parent in left:
            share = left[fold.child] = left[fold.parent]
            if fold.meaning is None:
                lifted[fold.child] = (fold.angle * share, fold.shift * share)
    return lambda fold: lifted.get(fold.child, (fold.angle, fold.shift))
