"""Papers that a board is made of: liners and mediums, each with what its maker states."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .errors import BoardError, DielineError, InputError
from .force import parse_line_force

__all__ = ["Paper", "Papers", "papers_from_data"]

_FORCES = ("sct", "ring_crush", "stiffness_md", "stiffness_cd")
_KEYS = ("name", "grammage", "thickness", *_FORCES)
_LEAST_GRAMMAGE, _MOST_GRAMMAGE = 40.0, 600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One paper of a board.

    Attributes:
        grammage: g/m².
        sct: Short-span compression across the machine, kN/m; None where not stated.
        ring_crush: Ring crush across the machine, kN/m; None where not stated.
        thickness: mm; None where not stated.
        stiffness_md: Tensile stiffness along the machine, kN/m; None where not stated.
        stiffness_cd: The same across the machine, kN/m.
        name: The maker's name for it.
    """

    grammage: float
    sct: float | None = None
    ring_crush: float | None = None
    thickness: float | None = None
    stiffness_md: float | None = None
    stiffness_cd: float | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class Papers:
    """The papers of a board from the outside in: liner, medium, liner, and so on.

    Attributes:
        layers: An odd number of papers, liners at even places.
        take_up: Length of each medium over the length of the board, as measured; empty where not stated.
        adhesive: Dry adhesive of all glue lines, g/m²; None where not stated.
    """

    layers: tuple[Paper, ...]
    take_up: tuple[float, ...] = ()
    adhesive: float | None = None

    @property
    def liners(self) -> tuple[Paper, ...]:
        """The liners, from the outside in."""
        return self.layers[::2]

    @property
    def mediums(self) -> tuple[Paper, ...]:
        """The mediums, from the outside in."""
        return self.layers[1::2]


def papers_from_data(entry: Mapping[str, object], flutes: int, where: str, problems: list[BoardError]) -> Papers | None:
    """The papers that a board entry names, None where it names none.

    Args:
        entry: The board as its file holds it; ``papers``, ``take_up`` and ``adhesive`` are read.
        flutes: How many flutes the board has.
        where: The board, for errors.
        problems: Takes every problem met.
    """
    raw = entry.get("papers")
    before = len(problems)
    if raw is None:
        for key in ("take_up", "adhesive"):
            if key in entry:
                problems.append(BoardError(f"{where}.{key}", "speaks of papers", "the board must then list its papers"))
        return None
    if not isinstance(raw, list) or len(raw) != 2 * flutes + 1 or not flutes:
        count = len(raw) if isinstance(raw, list) else 0
        must = f"it must list {2 * flutes + 1} papers from the outside in: liner, medium, liner …"
        problems.append(BoardError(f"{where}.papers", f"{count} papers for {flutes} flutes", must))
        return None
    layers = [_paper(item, f"{where}.papers {number}", problems) for number, item in enumerate(raw, 1)]
    take_up = _take_up(entry.get("take_up"), flutes, f"{where}.take_up", problems)
    adhesive = _number(entry.get("adhesive"), f"{where}.adhesive", problems, 0.0, 100.0, "g/m²")
    if len(problems) > before:
        return None
    return Papers(tuple(layer for layer in layers if layer is not None), take_up, adhesive)


def _paper(item: object, where: str, problems: list[BoardError]) -> Paper | None:
    if not isinstance(item, Mapping):
        problems.append(BoardError(where, repr(item), "it must be a table such as { grammage = 140, sct = 2.4 }"))
        return None
    for key in item:
        if key not in _KEYS:
            problems.append(BoardError(f"{where}.{key}", "is not known", f"the keys are {', '.join(_KEYS)}"))
    if "grammage" not in item:
        problems.append(BoardError(f"{where}.grammage", "is missing", "every paper must state its g/m²"))
        return None
    grammage = _number(item["grammage"], f"{where}.grammage", problems, _LEAST_GRAMMAGE, _MOST_GRAMMAGE, "g/m²")
    thickness = _number(item.get("thickness"), f"{where}.thickness", problems, 0.05, 2.0, "mm")
    forces: dict[str, float] = {}
    for key in _FORCES:
        if key in item:
            try:
                forces[key] = parse_line_force(item[key], where=f"{where}.{key}")
            except InputError as error:
                problems.append(_board_error(error))
    return Paper(grammage=grammage or 0.0, thickness=thickness, name=str(item.get("name", "")), **forces)


def _take_up(raw: object, flutes: int, where: str, problems: list[BoardError]) -> tuple[float, ...]:
    if raw is None:
        return ()
    items: Sequence[object] = raw if isinstance(raw, list) else [raw]
    numbers = [_number(item, where, problems, 1.0, 2.0, "(length of medium over length of board)") for item in items]
    if len(items) != flutes:
        problems.append(BoardError(where, repr(raw), "it must be a list with one number for each flute"))
    return tuple(number for number in numbers if number is not None)


def _number(raw: object, where: str, problems: list[BoardError], least: float, most: float, unit: str) -> float | None:
    if raw is None:
        return None
    fine = isinstance(raw, int | float) and not isinstance(raw, bool) and math.isfinite(raw)
    if not fine or not least <= float(raw) <= most:  # type: ignore[arg-type]  # it is a number if fine
        must = f"it must be {least:g} to {most:g} {unit}"
        problems.append(BoardError(where, repr(raw), must, "check the unit"))
        return None
    return float(raw)  # type: ignore[arg-type]


def _board_error(error: DielineError) -> BoardError:
    """The same problem, as one of a board file."""
    return BoardError(error.where, error.what, error.must, error.cure)
