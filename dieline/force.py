"""Forces and edge crush resistances as people write them, converted once at the door: N and kN/m inside."""

from __future__ import annotations

import math
import re

from .errors import InputError
from .units import MM_PER_INCH

__all__ = ["GRAVITY", "KN_M_PER_LB_IN", "N_PER_LBF", "ect_in_range", "parse_line_force", "to_lb_in", "to_lbf"]

GRAVITY = 9.80665
"""m/s². Standard acceleration of fall, exact by definition (3rd General Conference on Weights and Measures, 1901)."""

N_PER_LBF = 0.45359237 * GRAVITY
"""N. One pound-force, exact: the pound is 0.45359237 kg by the yard and pound agreement of 1959."""

KN_M_PER_LB_IN = N_PER_LBF / MM_PER_INCH
"""kN/m (that is N/mm) of one pound-force per inch, exact."""

_KGF = GRAVITY
_UNITS = {
    "kn/m": 1.0,
    "n/mm": 1.0,
    "n/cm": 0.1,
    "n/m": 0.001,
    "lb/in": KN_M_PER_LB_IN,
    "lbf/in": KN_M_PER_LB_IN,
    "lb/6in": KN_M_PER_LB_IN / 6.0,
    "kgf/cm": _KGF / 10.0,
}
_TEXT = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*([a-z]+\s*/\s*(?:6\s*)?[a-z]+)\s*", re.IGNORECASE)

ECT_LEAST, ECT_MOST = 1.0, 40.0
"""kN/m. No board stands outside: the grades of DIN 55468-1 run from 3 to 24, micro flutes lie a little lower."""


def parse_line_force(text: str | float, *, where: str) -> float:
    """A force per length in kN/m from a number of kN/m, or from text with its unit.

    Args:
        text: ``5.5``, ``"5.5 kN/m"``, ``"32 lb/in"``, ``"95.2 N/cm"``; ring crush also ``"70 lb/6in"``.
        where: What it is, for the error.

    Raises:
        InputError: If it cannot be read or is not above 0.

    Example:
        >>> round(parse_line_force("32 lb/in", where="ect"), 4)
        5.6041
    """
    value = math.nan
    if isinstance(text, str):
        match = _TEXT.fullmatch(text)
        factor = _UNITS.get(re.sub(r"\s", "", match[2]).lower()) if match else None
        if match and factor is not None:
            value = float(match[1].replace(",", ".")) * factor
    elif isinstance(text, int | float) and not isinstance(text, bool):
        value = float(text)
    if not math.isfinite(value) or value <= 0:
        must = "it must be a number of kN/m, or a number with kN/m, N/cm, kgf/cm, lb/in or (ring crush) lb/6in"
        raise InputError(where, repr(text), must)
    return value


def ect_in_range(value: float, *, where: str) -> float:
    """An edge crush resistance, refused where its size gives the wrong unit away.

    Args:
        value: kN/m.
        where: What it is, for the error.

    Raises:
        InputError: If no corrugated board is that weak or that strong.
    """
    if ECT_LEAST <= value <= ECT_MOST:
        return value
    must = f"it must be {ECT_LEAST:g} to {ECT_MOST:g} kN/m: no corrugated board is weaker or stronger"
    cure = f"lb/in? then write '{value:g} lb/in'" if value > ECT_MOST else "check the unit"
    raise InputError(where, f"{value:g} kN/m", must, cure)


def to_lb_in(value: float) -> float:
    """A force per length in lb/in, from kN/m."""
    return value / KN_M_PER_LB_IN


def to_lbf(value: float) -> float:
    """A force in pounds, from N."""
    return value / N_PER_LBF
