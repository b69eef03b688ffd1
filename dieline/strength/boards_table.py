"""Which boards would hold: every board that states its strength, and every grade of the library's flutes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..board import Board, boards
from ..errors import DielineError
from .answer import Answer, shape_losses, verdict
from .asked import gross_mass
from .band import band, chance
from .board_strength import strength_of
from .compression import compression
from .factors import product
from .grades import grades_for
from .standing import required

__all__ = ["BoardRow", "boards_that_hold", "candidates", "rate_boards"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardRow:
    """One board in place of the job's.

    Attributes:
        name: Its name, with its grade where it is one of a library's flutes.
        flutes: Flute letters.
        ect: kN/m.
        grammage: g/m²; None where not known.
        mass: Mass of one empty box, kg; None where not known.
        area: Board in one box, m², as drawn on the job's board.
        margin: Available over required.
        low: Margin at the weak end of the middle 90 %.
        high: Margin at the strong end.
        chance: Probability that the bottom box holds, by the scatter alone.
        verdict: ``holds``, ``doubtful`` or ``does not hold``.
    """

    name: str
    flutes: str
    ect: float
    grammage: float | None
    mass: float | None
    area: float
    margin: float
    low: float
    high: float
    chance: float
    verdict: str

    def data(self) -> dict[str, Any]:
        """The row as plain data."""
        return {
            "board": self.name,
            "flutes": self.flutes,
            "ect_kN_m": round(self.ect, 3),
            "grammage": None if self.grammage is None else round(self.grammage, 1),
            "box_mass_kg": None if self.mass is None else round(self.mass, 4),
            "area_m2": round(self.area, 4),
            "margin": round(self.margin, 4),
            "margin_range": [round(self.low, 4), round(self.high, 4)],
            "chance": round(self.chance, 4),
            "verdict": self.verdict,
        }


def candidates(own: Mapping[str, Board] | None = None) -> Iterator[Board]:
    """The boards that may take the job's place: a user's that state their strength, then each flute by its grades.

    A grade of DIN 55468-1 fixes the least ECT of a board but not its grammage, so these come without mass; of grades
    with one ECT the first counts.
    """
    for board in {**boards(), **(own or {})}.values():
        if board.ect is not None or board.papers is not None or board.grade:
            yield board
            continue
        seen: set[float] = set()
        for grade, ect in grades_for(board):
            if ect not in seen and board.name in boards():
                seen.add(ect)
                yield replace(board, name=f"{board.name} {grade}", grade=grade)


def rate_boards(answer: Answer, among: Iterable[Board]) -> list[BoardRow]:
    """How each board would do under the load of an answer, lightest first; boards of unknown mass by their ECT.

    The inside stays; outside and perimeter follow the board's thickness. Layers stay as they stand.

    Args:
        answer: An answer for this box and load.
        among: The boards; those that state no strength, and solid ones, are left out.
    """
    rows = [row for row in (_row(answer, board) for board in among if board.corrugated) if row is not None]
    return sorted(rows, key=lambda row: (row.mass is None, row.mass or 0.0, row.ect, row.name))


def boards_that_hold(rows: Iterable[BoardRow], *, all_grades: bool = False) -> list[BoardRow]:
    """The rows that hold over their whole range, in their order; of the grades of one flute the weakest only."""
    found: list[BoardRow] = []
    seen: set[str] = set()
    for row in rows:
        if row.verdict != "holds":
            continue
        flute = row.name.rpartition(" ")[0] if row.mass is None else ""
        if flute and flute in seen and not all_grades:
            continue
        seen.add(flute)
        found.append(row)
    return found


def _row(answer: Answer, board: Board) -> BoardRow | None:
    try:
        strength = strength_of(board)
        shape = answer.shape.on(board.thickness)
        press = compression(board, strength, shape.perimeter, answer.compression.formula)
    except DielineError:
        return None  # no strength stated, or the formula is not made for it: it cannot stand in the table
    standing, mass = answer.standing, None
    if strength.grammage is not None and shape.area:
        mass = strength.grammage * shape.area / 1000.0
        gross, _ = gross_mass(replace(answer.load, box_mass=None), strength, shape)
        standing = replace(standing, gross=gross)
    losses = shape_losses(shape, board, press.formula)
    needed = required(answer.load, standing, shape.height).value
    available = press.value * product(losses) * product(answer.factors)
    margin = available / needed if needed else math.inf
    scatter = band((*losses, *answer.factors))
    low, high = scatter.ends(margin)
    return BoardRow(
        name=board.name,
        flutes="".join(board.flutes),
        ect=strength.ect,
        grammage=strength.grammage,
        mass=mass,
        area=shape.area,
        margin=margin,
        low=low,
        high=high,
        chance=1.0 if math.isinf(margin) else chance(margin, scatter.spread),
        verdict=verdict(margin, scatter),
    )
