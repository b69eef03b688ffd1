"""The American carriers' rule (Item 222, the former Rule 41): the least board for a gross mass and a united size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from ..force import to_lb_in
from ..textfile import shipped_table
from ..units import MM_PER_INCH
from .basis import NO_SOURCE

__all__ = ["CarrierAnswer", "carrier_rows", "carrier_rule"]

_KG_PER_LB = 0.45359237


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierAnswer:
    """What the rule says of a box.

    Attributes:
        gross: Gross mass, lb.
        united_size: L + B + H outside, in.
        ect: ECT of the board, lb/in.
        needed: The row that the box needs, as printed; None where it is beyond the rule.
        certificate: The highest row that the board's ECT reaches: the figures of the box maker's certificate; None
            where it reaches none.
        holds: Whether the board may be certified for this box.
        message: All this in words.
        source: Where the rule was seen.
    """

    gross: float
    united_size: float
    ect: float
    needed: Mapping[str, Any] | None
    certificate: Mapping[str, Any] | None
    holds: bool
    message: str
    source: str

    def data(self) -> dict[str, Any]:
        """The answer as plain data, in the rule's own units."""
        return {
            "rule": "Item 222",
            "holds": self.holds,
            "gross_lb": round(self.gross, 2),
            "united_in": round(self.united_size, 2),
            "ect_lb_in": round(self.ect, 2),
            "needed": dict(self.needed) if self.needed else None,
            "certificate": dict(self.certificate) if self.certificate else None,
            "message": self.message,
            "source": self.source,
        }


@cache
def carrier_rows(wall: str) -> tuple[Mapping[str, Any], ...]:
    """The rows of the rule for a kind of wall, in pounds, inches, psi and lb/in, weakest first."""
    return tuple(row for row in shipped_table("strength_carrier")["row"] if row["wall"] == wall)


def carrier_rule(wall: str, gross: float, outside: tuple[float, float, float], ect: float) -> CarrierAnswer:
    """Whether a board may be certified for a box, by its ECT.

    The rule takes either burst and facings or ECT; ECT is what a board here states.

    Args:
        wall: ``single``, ``double`` or ``triple``.
        gross: Mass of box and contents, kg.
        outside: L, B and H outside, mm.
        ect: kN/m.

    Source: NMFC Item 222 / UFC Rule 41 table as reprinted; see ``data/strength_carrier.toml``.
    """
    pounds, united, crush = gross / _KG_PER_LB, sum(outside) / MM_PER_INCH, to_lb_in(ect)
    rows = [row for row in carrier_rows(wall) if "ect" in row]
    needed = next((row for row in rows if pounds <= row["gross"] and united <= row["united_size"]), None)
    reached = [row for row in rows if crush >= row["ect"] - 1e-9]
    holds = needed is not None and crush >= needed["ect"] - 1e-9
    return CarrierAnswer(
        gross=pounds,
        united_size=united,
        ect=crush,
        needed=needed,
        certificate=reached[-1] if reached else None,
        holds=holds,
        message=_message(wall, pounds, united, crush, needed, holds),
        source=str(shipped_table("strength_carrier")["source"]),
    )


def _message(
    wall: str, pounds: float, united: float, crush: float, needed: Mapping[str, Any] | None, holds: bool
) -> str:
    box = f"{pounds:.1f} lb gross, {united:.1f} in united"
    if needed is None:
        return f"{box}: beyond the rule for {wall} wall; take more walls or pack less"
    doubt = f" ({NO_SOURCE})" if "ect_confidence" in needed else ""
    row = f"certificate for {needed['gross']} lb and {needed['united_size']} in needs {needed['ect']} lb/in{doubt}"
    return f"{box}: {row}; the board has {crush:.1f} lb/in{'' if holds else ', too little'}"
