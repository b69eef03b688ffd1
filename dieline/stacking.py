"""Will this box hold its load: from the result of a job and its load to an answer, a report and pictures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from .blank import Face, Panel
from .errors import DielineError, InputError, JobError
from .fold.pose import Pose, pose_panels
from .linetypes import Meaning
from .load import Load
from .pipeline import Result
from .strength.answer import Answer, answer
from .strength.answer_data import answer_data
from .strength.boards_table import BoardRow, candidates, rate_boards
from .strength.walls import BoxShape, Wall
from .units import format_mm

__all__ = ["board_rows", "box_shape", "load_of", "stack_answer", "stack_pictures", "stack_report"]

_SIDES = (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT)

_REACH = 0.9
"""Share of the inside height that a board must reach to bear with the wall."""

_WIDE = 0.5
"""Share of the wall's length that a board must have to count as a wall, and not as a lap or an ear."""

_SLIT = 8.0
"""mm. A narrower opening is a slot for a tongue, or a slit: it takes next to nothing from a wall."""


@dataclass(frozen=True, slots=True)
class _Board:
    """One board of an upright wall, as it stands."""

    face: Face
    length: float
    height: float
    upright: bool
    open_width: float


def box_shape(result: Result) -> BoxShape:
    """The box of a result as its strength sees it: which walls bear, with which flutes, and what is cut out of them.

    Raises:
        InputError: If it is no box with upright walls.
    """
    design, thickness = result.design, result.job.board.thickness
    if design.fitment:
        raise InputError(f"style {design.style}", "is a fitment", "only a box is stacked", "take the box that it is in")
    outside = result.folded.outside
    inside = [float(side or 0.0) for side in design.inside[:3]]
    length, breadth, height = (max(0.0, (over - side) / thickness) for over, side in zip(outside, inside, strict=True))
    shut = {closed.face for closed in design.closed}
    return BoxShape(
        outside=outside,
        thickness=thickness,
        walls=tuple(_walls(result, outside, inside[2])),
        regular=result.style.group == "slotted" and {Face.TOP, Face.BOTTOM} <= shut and len(design.pieces) == 1,
        style=design.style,
        pieces=sum(piece.count for piece in design.pieces),
        tears=any(_tears(panel) for piece in design.pieces for panel in piece.blank.panels if panel.face in _SIDES),
        area=sum(piece.blank.area * piece.count for piece in design.pieces) / 1e6,
        layers=(length, breadth, height),
    )


def _walls(result: Result, outside: tuple[float, float, float], height: float) -> Iterator[Wall]:
    thickness = result.job.board.thickness
    boards = [board for board in _standing(result) if board.height >= _REACH * height]
    for face in _SIDES:
        length = outside[1 - face.axis] - thickness
        here = [board for board in boards if board.face is face and board.length >= _WIDE * length]
        yield Wall(
            face=face.value,
            length=length,
            upright=sum(board.upright for board in here),
            lying=sum(not board.upright for board in here),
            open_width=sum(board.open_width for board in here),
        )


def _standing(result: Result) -> Iterator[_Board]:
    """Every board that stands in a side of the box."""
    for piece in result.design.pieces:
        for stand in piece.stands:
            poses = pose_panels(piece.blank, stand)
            for panel in piece.blank.panels:
                if panel.face in _SIDES:
                    yield _board(panel, poses[panel.name], piece.blank.flutes, turned=stand is not piece.stand)


def _board(panel: Panel, pose: Pose, flutes: str, turned: bool) -> _Board:
    rotation, _ = pose
    across, up = np.abs(rotation[:, 0]), np.abs(rotation[:, 1])
    width, rise = panel.size
    lies = up[2] > across[2]  # whether the blank's y stands upright in the box
    face = panel.face if panel.face is not None and not turned else _facing(rotation)
    along = up if flutes == "y" else across
    return _Board(
        face=face,
        length=width if lies else rise,
        height=rise if lies else width,
        upright=bool(along[2] > 0.9),
        open_width=sum(_open_widths(panel, lies)),
    )


def _facing(rotation: Any) -> Face:
    """The side that a board with its inside toward the box stands on."""
    inward = rotation[:, 2]
    axis = int(np.argmax(np.abs(inward[:2])))
    return next(face for face in _SIDES if face.axis == axis and face.far == bool(inward[axis] < 0))


def _open_widths(panel: Panel, lies: bool) -> Iterator[float]:
    """Level width of each hole, and of each flap that is cut into the wall, mm."""
    cuts = [hole.bounds for hole in panel.holes]
    cuts += [mark.path.bounds for mark in panel.marks if mark.meaning is Meaning.CUT and mark.name]
    for x0, y0, x1, y1 in cuts:
        if min(x1 - x0, y1 - y0) >= _SLIT:
            yield x1 - x0 if lies else y1 - y0


def _tears(panel: Panel) -> bool:
    return any(mark.meaning in (Meaning.PERFORATION, Meaning.CUT_CREASE) for mark in panel.marks)


def load_of(result: Result) -> Load:
    """The load of a job, the mass of its contents with it.

    Raises:
        InputError: If the mass is stated twice and not the same.
    """
    job = result.job
    load = job.load or Load()
    if load.mass is not None and job.mass is not None and load.mass != job.mass:
        what = f"{format_mm(load.mass, 3)} kg beside contents.mass {format_mm(job.mass, 3)} kg"
        raise InputError("load.mass", what, "the two must agree", "leave one of them out")
    return load if load.mass is not None else replace(load, mass=job.mass)


def stack_answer(result: Result, *, proof: bool = True) -> Answer:
    """Whether the box of a result bears the load of its job.

    Args:
        result: The result.
        proof: Whether boxes are placed on the pallet, with the proof that no more fit.

    Raises:
        JobError: With every input that is missing, each with its key.
        InputError: If a formula or a factor set does not reach, or the pallet is smaller than the box.
    """
    shape = box_shape(result)
    load = load_of(result)
    if shape.bearing == 0.0:
        must = "no formula is known for a box whose flutes all lie"
        raise InputError(f"style {shape.style}", "has no wall with upright flutes", must, "have it tested (ISO 12048)")
    return answer(shape, result.job.board, load, source=f"{result.job.source}, load", proof=proof)


def board_rows(result: Result, found: Answer) -> list[BoardRow]:
    """How each board of the library, and of the job's own board file, would do; see ``rate_boards``."""
    from .board import boards_from_text

    text = result.job.support.get("boards")
    own = boards_from_text(text, result.job.sources.get("boards", "board file of the job")) if text else {}
    return rate_boards(found, candidates(own))


def stack_report(result: Result, *, boards: bool = False) -> dict[str, Any]:
    """The ``stack`` of a report; where it cannot be answered, ``asked`` says what is missing or wrong.

    Args:
        result: The result; its job must speak of a load.
        boards: Whether the table of boards goes with it.
    """
    try:
        found = stack_answer(result)
    except DielineError as error:
        return {"asked": [{"where": problem.where, "text": problem.text} for problem in _each(error)]}
    return answer_data(found, board_rows(result, found) if boards else ())


def stack_pictures(result: Result, found: Answer) -> Iterator[tuple[str, str]]:
    """Each picture of an answer as a file name and an SVG: the margin over time, and where the boxes lie."""
    from .strength.margin_picture import margin_svg

    name = result.job.file_name
    margin = margin_svg(found, title=name)
    if margin:
        yield f"{name}-margin.svg", margin
    if found.pallet_load is not None:
        from .strength.layer_picture import layer_svg

        yield f"{name}-layer.svg", layer_svg(found.pallet_load, title=name)


def _each(error: DielineError) -> Iterable[DielineError]:
    return error.problems if isinstance(error, JobError) else (error,)
