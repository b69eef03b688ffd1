"""Lengths and sizes as people write them, converted once to millimetres at the door."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from .errors import SizeError

__all__ = [
    "GREATEST_SIZE",
    "MM_PER_INCH",
    "Size",
    "format_inches",
    "format_mm",
    "parse_length",
    "parse_mass",
    "parse_size",
]

MM_PER_INCH = 25.4
"""Exact by definition (international inch, 1959)."""

GREATEST_SIZE = 10_000.0
"""mm. No corrugator makes a wider web or a longer sheet than a few metres (common practice, no source): a larger
number is a slip of the unit, not a box."""

_UNITS = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH, "inch": MM_PER_INCH, "inches": MM_PER_INCH, '"': MM_PER_INCH}
_MASSES = {"kg": 1.0, "g": 0.001, "lb": 0.45359237, "lbs": 0.45359237}

_NUMBER = r"(?:\d+[ -]+\d+/\d+|\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?|[.,]\d+)"
_UNIT = r"(?:mm|cm|inches|inch|in|\")"
_LENGTH = re.compile(rf"\s*([+-]?)\s*({_NUMBER}|\d+/\d+)\s*({_UNIT})?\s*", re.IGNORECASE)
_LAST = re.compile(
    rf"\s*(?P<third>{_NUMBER})\s*(?P<u3>{_UNIT})?(?:\s*/\s*(?P<fourth>{_NUMBER})\s*(?P<u4>{_UNIT})?)?\s*",
    re.IGNORECASE,
)
_TIMES = re.compile(r"\s*[xX×*]\s*")
_MASS = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(kg|g|lbs|lb)\s*", re.IGNORECASE)


class Size(NamedTuple):
    """Inside (or crease, or outside) size of a box in mm, in the case code's order.

    Attributes:
        length: L, the longer side of the opening.
        breadth: B, the shorter side of the opening.
        height: H, from the opening to the base.
        fourth: Lid height h, or overlap o of the outer flaps; None where not given.

    Source: order and fourth size after a stroke as published in the international fibreboard case code.
    """

    length: float
    breadth: float
    height: float
    fourth: float | None = None

    def __str__(self) -> str:
        text = "x".join(format_mm(value) for value in self[:3])
        return text if self.fourth is None else f"{text}/{format_mm(self.fourth)}"


def _in_mm(value: float, unit: str) -> float:
    """A length in mm, without the crumbs that 12 in would else leave: 304.8 and not 304.79999999999995."""
    scale = _UNITS[unit.lower()]
    return value if scale == 1.0 else round(value * scale, 9)


def parse_length(text: str | float, *, where: str = "length", unit: str = "mm") -> float:
    """A length in mm from a number, or from text with an optional unit and fraction.

    Args:
        text: ``300``, ``"30 cm"``, ``"12 1/2 in"``, ``"1/16 in"``; a bare number counts in ``unit``.
        where: What the length is, for the error.
        unit: The unit of a bare number: ``mm``, ``cm`` or ``in``.

    Raises:
        SizeError: If the text is no length, or not a finite number.

    Example:
        >>> parse_length("12 1/2 in")
        317.5
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise SizeError(where, f"{text!r} is not a length", "it must be a number, or a number with mm, cm or in")
    if isinstance(text, int | float):
        value = _in_mm(float(text), unit)
    else:
        match = _LENGTH.fullmatch(text)
        if match is None:
            raise SizeError(
                where,
                f"'{text}' is not a length",
                "it must be a number with mm, cm or in",
                "write 300, 30cm or 12 1/2 in",
            )
        sign = -1.0 if match[1] == "-" else 1.0
        value = _in_mm(sign * _number(match[2]), match[3] or unit)
    if not math.isfinite(value):
        raise SizeError(where, f"{text} is not finite", "it must be a length that a box can have")
    return value


def parse_mass(text: str | float, *, where: str = "mass") -> float:
    """A mass in kg from a number of kilograms, or from text with kg, g or lb.

    Raises:
        SizeError: If it is no mass, negative or not finite.
    """
    if isinstance(text, str):
        match = _MASS.fullmatch(text)
        value = _number(match[1]) * _MASSES[match[2].lower()] if match else math.nan
    else:
        value = math.nan if isinstance(text, bool) or not isinstance(text, int | float) else float(text)
    if not math.isfinite(value) or value < 0:
        raise SizeError(where, f"{text!r} is not a mass", "it must be a number of kg, or a number with kg, g or lb")
    return value


def parse_size(text: str, *, where: str = "size", unit: str = "mm") -> Size:
    """A size ``LxBxH`` or ``LxBxH/fourth`` in mm.

    A unit after the last number holds for every number that has none of its own. In the last place a fraction
    needs its whole number (``0 3/4``), because a stroke there begins the fourth size.

    Args:
        text: ``300x200x150``, ``355x205x120/40``, ``12 1/2 x 9 x 6 in``.
        where: What the size is, for the error.
        unit: The unit of bare numbers where the text names none.

    Raises:
        SizeError: If it cannot be read, or a number is not above 0 and below 10 m.

    Example:
        >>> parse_size("12 1/2 x 9 x 6 in").length
        317.5
    """
    parts = _TIMES.split(text.strip()) if isinstance(text, str) else []
    last = _LAST.fullmatch(parts[-1]) if len(parts) == 3 else None
    first = [_LENGTH.fullmatch(part) for part in parts[:2]]
    if last is None or None in first:
        raise SizeError(
            where,
            f"{text!r} is not a size",
            "it must be length x breadth x height, a fourth size after a stroke",
            "write 300x200x150 or 355x205x120/40, with mm, cm or in",
        )
    common = (last["u4"] or last["u3"] or unit).lower()
    values: list[float | None] = []
    for match in first:
        assert match is not None
        sign = -1.0 if match[1] == "-" else 1.0
        values.append(_in_mm(sign * _number(match[2]), match[3] or common))
    values.append(_in_mm(_number(last["third"]), last["u3"] or common))
    values.append(_in_mm(_number(last["fourth"]), common) if last["fourth"] else None)
    for name, value in zip(("length", "breadth", "height", "fourth size"), values, strict=True):
        check_size(value, f"{where}, {name}")
    length, breadth, height, fourth = values
    assert length is not None
    assert breadth is not None
    assert height is not None
    return Size(length, breadth, height, fourth)


def check_size(value: float | None, where: str) -> None:
    """Refuse a side that no box can have.

    Raises:
        SizeError: If it is not a number above 0 and at most 10 m.
    """
    if value is None:
        return
    if not math.isfinite(value):
        raise SizeError(where, "is no finite number", "it must be a length that a box can have", "check the fraction")
    if value <= 0:
        raise SizeError(where, f"{format_mm(value)} mm", "it must be more than 0")
    if value > GREATEST_SIZE:
        raise SizeError(
            where, f"{value:g} mm", f"it must be at most {GREATEST_SIZE:g} mm: no board is that large", "check the unit"
        )


def format_mm(value: float, digits: int = 2) -> str:
    """A length in mm without needless zeros: ``304``, ``304.5``, ``0.07``.

    Example:
        >>> format_mm(304.0), format_mm(12.3456)
        ('304', '12.35')
    """
    if value % 1.0 == 0.0:
        return str(int(value))  # most are whole
    # Nearly all others are asked for with two digits; a form that is written out is ready when it is wanted.
    text = f"{value:.2f}" if digits == 2 else f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def format_inches(value_mm: float) -> str:
    """A length given in mm, written in inches to a thousandth: ``11.811``."""
    return format_mm(value_mm / MM_PER_INCH, 3)


def _number(text: str) -> float:
    """The value of a decimal (point or comma), a fraction or a whole number with a fraction."""
    text = text.replace(",", ".").strip()
    if "/" not in text:
        return float(text)
    *whole, fraction = re.split(r"[ -]+", text)
    upper, lower = fraction.split("/")
    if int(lower) == 0:
        return math.inf
    return (float(whole[0]) if whole else 0.0) + int(upper) / int(lower)
