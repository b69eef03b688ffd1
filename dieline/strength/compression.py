"""Box compression from board and perimeter: McKee's forms and Kellicutt's."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..board import Board
from ..errors import InputError
from ..force import KN_M_PER_LB_IN, N_PER_LBF, to_lbf
from ..load import CHOICES
from ..units import MM_PER_INCH
from .basis import Basis, basis_of, table
from .board_strength import BoardStrength

__all__ = ["Compression", "compression", "kellicutt", "mckee_full", "mckee_short"]


@dataclass(frozen=True, slots=True)
class Compression:
    """What a new empty box bears in the laboratory, top to bottom.

    Attributes:
        value: N.
        formula: Name of the formula.
        basis: The formula, its source and its range.
    """

    value: float
    formula: str
    basis: Basis

    @property
    def pounds(self) -> float:
        """The same in lbf."""
        return to_lbf(self.value)


def mckee_full(ect: float, bending: tuple[float, float], perimeter: float) -> float:
    """Box compression by the full form, N.

    The exponents cancel out to a force, so the same constant holds in pounds and inches.

    Args:
        ect: Edge crush resistance, kN/m.
        bending: Bending stiffness along and across the machine, N·m.
        perimeter: mm.

    Source: McKee, Gander, Wachuta, Paperboard Packaging 48(8), 1963; constants as given by R. Popil.

    Example:
        >>> round(mckee_full(6.0, (14.0, 6.0), 1400.0), 2)
        2765.97
    """
    rule = table("formula")["mckee-full"]
    stiff = math.sqrt(bending[0] * bending[1])
    crush = (ect * 1000.0) ** rule["ect"]
    return float(rule["constant"] * crush * stiff ** rule["bending"] * (perimeter / 1000.0) ** rule["perimeter"])


def mckee_short(
    ect: float, calliper: float, perimeter: float, form: str = "mckee-short", double: bool = False
) -> float:
    """Box compression by a short form, N.

    Args:
        ect: Edge crush resistance, kN/m.
        calliper: mm.
        perimeter: mm.
        form: ``mckee-short``, ``mckee-short-5876``, ``mckee-handbook`` or ``short-12-mm``.
        double: Whether it is double wall; ``short-12-mm`` has a constant of its own for it.

    Source: see ``data/strength.toml``.

    Example:
        >>> round(mckee_short(6.0, 4.0, 1400.0), 2)
        2635.62
    """
    rule = table("formula")[form]
    constant = rule["double"] if double and "double" in rule else rule["constant"]
    # kN/m × mm is N; the two exponents make one length, so the unit does not matter where they sum to 1.
    return float(constant * ect * calliper ** rule["calliper"] * perimeter ** rule["perimeter"])


def kellicutt(ect: float, flutes: str, perimeter: float) -> float:
    """Box compression by Kellicutt, N.

    Args:
        ect: Edge crush resistance, kN/m.
        flutes: Flute letters, such as ``BC``.
        perimeter: mm.

    Raises:
        InputError: If no constants are published for these flutes.

    Source: Kellicutt formula and constants as given by a packaging engineer's article, with its worked example.

    Example:
        >>> round(kellicutt(9.52, "AB", 3096.0))
        9189
    """
    rule = kellicutt_row(flutes)
    if rule is None:
        known = ", ".join(table("kellicutt"))
        must = f"Kellicutt's constants are known for {known}"
        raise InputError("load.formula", f"kellicutt on {flutes} flute", must, "choose mckee-short")
    inches = perimeter / MM_PER_INCH
    share = (4.0 * rule["aXz"] / inches) ** (2.0 / 3.0)
    return float(ect / KN_M_PER_LB_IN * share * inches * rule["J"] * N_PER_LBF)


def kellicutt_row(flutes: str) -> dict[str, float] | None:
    """Kellicutt's constants of some flutes, in whichever order they stand; None if there are none."""
    rows: dict[str, dict[str, float]] = dict(table("kellicutt"))
    wanted = sorted(flutes)
    return next((row for name, row in rows.items() if sorted(name) == wanted), None)


def compression(
    board: Board,
    strength: BoardStrength,
    perimeter: float,
    formula: str = "mckee-short",
    *,
    where: str = "load.formula",
) -> Compression:
    """What an empty regular slotted box of a board bears in the laboratory.

    Args:
        board: The board.
        strength: What counts of it.
        perimeter: Z, mm.
        formula: One of ``dieline.load.CHOICES['formula']``.
        where: Who asks for the formula, for errors.

    Raises:
        InputError: If the formula needs what the board does not state, or is not made for it.
    """
    if formula not in CHOICES["formula"]:
        raise InputError(where, repr(formula), f"it must be one of {', '.join(CHOICES['formula'])}")
    rule = table("formula")[formula]
    if formula == "mckee-full":
        if strength.bending is None:
            must = "the full form needs the bending stiffness of the board"
            cure = "give bending_md and bending_cd of the board, or stiffness_md and stiffness_cd of its liners"
            raise InputError(where, f"mckee-full on board {board.name}", must, cure)
        value = mckee_full(strength.ect, strength.bending, perimeter)
    elif formula == "kellicutt":
        value = kellicutt(strength.ect, "".join(board.flutes), perimeter)
    else:
        value = mckee_short(strength.ect, strength.calliper, perimeter, formula, board.wall == "double")
        if rule.get("inch"):
            value = _in_inches(strength, perimeter, formula)
    return Compression(value, formula, basis_of(rule))


def _in_inches(strength: BoardStrength, perimeter: float, formula: str) -> float:
    """The short form in pounds and inches, turned to N."""
    pounds = mckee_short(
        strength.ect / KN_M_PER_LB_IN, strength.calliper / MM_PER_INCH, perimeter / MM_PER_INCH, formula
    )
    return pounds * N_PER_LBF
