"""An answer as plain data: the ``stack`` of the report."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from ..force import to_lb_in, to_lbf
from .answer import CAUTIONS, Answer
from .boards_table import BoardRow

__all__ = ["answer_data"]


def answer_data(answer: Answer, rows: Sequence[BoardRow] = ()) -> dict[str, Any]:
    """An answer as plain data: N, kg, mm; a margin that is infinite (nothing stands on the box) is null.

    Args:
        answer: The answer.
        rows: The table of boards, where it is wanted.

    Returns:
        Keys that end in a unit are in that unit; ``chance`` is null where the box lies outside what the formulas were
        made from, and ``outside`` then says why.
    """
    out = {
        "verdict": answer.verdict,
        "required_N": round(answer.required.value, 1),
        "available_N": round(answer.available, 1),
        "margin": _finite(answer.margin),
        "margin_range": [_finite(end) for end in answer.margin_range],
        "chance": None if answer.chance is None else round(answer.chance, 4),
        "outside": list(answer.outside),
        "formula": {"name": answer.compression.formula, **answer.compression.basis.data()},
        "compression_N": round(answer.compression.value, 1),
        "compression_lbf": round(to_lbf(answer.compression.value), 1),
        "perimeter_mm": round(answer.shape.perimeter, 3),
        "losses": [factor.data() for factor in answer.losses],
        "factor_set": answer.load.factors,
        "schedule": answer.load.schedule,
        "factors": [factor.data() for factor in answer.factors],
        "required_basis": answer.required.basis.data(),
        "per_layer": answer.standing.per_layer,
        "layers": answer.standing.layers,
        "pallets": answer.standing.pallets,
        "gross_kg": round(answer.standing.gross, 4),
        "board": _board(answer),
        "scatter": [origin.data() for origin in answer.band.origins],
        "carrier": answer.carrier.data() if answer.carrier else None,
        "assumed": list(answer.assumed),
        "findings": [remark.data() for remark in answer.remarks],
        "cautions": list(CAUTIONS),
    }
    if answer.pallet_load is not None:
        out["pallet"] = _pallet(answer)
    if rows:
        out["boards"] = [row.data() for row in rows]
    return out


def _board(answer: Answer) -> dict[str, Any]:
    strength = answer.strength
    return {
        "name": answer.board.name,
        "ect_kN_m": round(strength.ect, 4),
        "ect_lb_in": round(to_lb_in(strength.ect), 2),
        "ect_basis": strength.ect_basis.data(),
        "calliper_mm": strength.calliper,
        "grammage": None if strength.grammage is None else round(strength.grammage, 1),
        "grammage_basis": strength.grammage_basis.data() if strength.grammage_basis else None,
        "bending_Nm": [round(value, 4) for value in strength.bending] if strength.bending else None,
        "bending_basis": strength.bending_basis.data() if strength.bending_basis else None,
    }


def _pallet(answer: Answer) -> dict[str, Any]:
    found = answer.pallet_load
    assert found is not None
    return {
        "name": found.pallet.name,
        "boxes": found.boxes,
        "per_layer": found.per_layer,
        "height_mm": None if found.height is None else round(found.height, 2),
        "mass_kg": round(found.mass, 3),
        "most_per_layer": found.layer.bound,
        "proved": found.layer.proved,
        "method": found.layer.method,
        "overhang_mm": [round(value, 3) for value in found.overhangs],
        "places": [[round(place.x, 3), round(place.y, 3), place.turned] for place in found.layer.places],
    }


def _finite(value: float) -> float | None:
    return None if math.isinf(value) else round(value, 4)
