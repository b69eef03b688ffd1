"""What the tests of rolled trays and mailers share: a proved box in one call, and the same box spoiled on purpose."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from dieline.board import find_board
from dieline.fold.states import motion_faults
from dieline.job import Job
from dieline.pipeline import Result, run
from dieline.sizing import Allowance, House
from dieline.style.design import Bends, Design, Motion
from dieline.units import parse_size
from dieline_styles import double_floor, mailer, roll_tray, shoe_box

__all__ = ["STYLES", "dense", "remade", "rolled", "smooth"]

STYLES = {**roll_tray.STYLES, **mailer.STYLES, **shoe_box.STYLES, **double_floor.STYLES}


def rolled(style: str, size: str, board: str, /, *puts: Mapping[str, float], **options: object) -> Result:
    """A box, built and proved; ``puts`` set named dimensions as a house file would, past the ranges of the options."""
    house = House(
        name="trial", allowances=tuple(Allowance(size=name, put=value) for put in puts for name, value in put.items())
    )
    job = Job(style=style, size=parse_size(size), board=find_board(board), options=options, house=house)
    return run(job, STYLES[style])


def dense(design: Design, samples: int = 40) -> Design:
    """The design, its motion looked at in many more positions."""
    return replace(design, motions=tuple(replace(motion, samples=samples) for motion in design.motions))


def smooth(result: Result, samples: int = 40) -> list[str]:
    """What passes through what while the box is put up, looked at in many positions."""
    return list(motion_faults(dense(result.design, samples), result.job.board.thickness))


def remade(design: Design, changes: Mapping[str, Bends]) -> Design:
    """The design with some steps of its motion made otherwise: by name of the step, the folds to change."""
    (motion,) = design.motions
    steps = tuple(replace(step, bends={**step.bends, **changes.get(step.name, {})}) for step in motion.steps)
    changed: Motion = replace(motion, steps=steps)
    return replace(design, motions=(changed,))
