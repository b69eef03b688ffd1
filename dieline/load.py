"""The load on a box: what the ``[load]`` table of a job says. What is left out stays open."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from typing import Any

from .errors import DielineError, InputError, UnknownNameError
from .force import ect_in_range, parse_line_force
from .units import format_mm, parse_length, parse_mass

__all__ = ["CHOICES", "KEYS", "Load", "load_from_data"]

CHOICES: dict[str, dict[str, str]] = {
    "pattern": {
        "column": "each box square upon the one below",
        "misaligned": "columns that are out of line, by offset if it was measured",
        "interlocked": "layers that bind each other",
    },
    "handling": {
        "careful": "moved once or twice as a unit load",
        "rough": "handled often, dropped or transloaded",
    },
    "factors": {
        "handbook": "loss factors of the Fibre Box Handbook",
        "astm-d10": "loss factors of ASTM committee D10's slides on D4169",
    },
    "schedule": {
        "gb-6543": "stacking rule of GB/T 6543: K by days of storage",
        "ista-3e": "compression of ISTA 3E: factor 3",
        "cfr-178-606": "49 CFR 178.606: a stack 3 m high, dynamic test",
        "astm-d4169": "warehouse stacking of ASTM D4169: F by assurance and construction",
        "own": "a safety factor of your own",
    },
    "formula": {
        "mckee-short": "short McKee, 5.87",
        "mckee-full": "full McKee, with bending stiffness",
        "mckee-short-5876": "short McKee, 5.876",
        "mckee-handbook": "short McKee with exponents 0.508 and 0.492",
        "short-12-mm": "Brazilian practice, load at 12 mm",
        "kellicutt": "Kellicutt",
    },
    "assurance": {"I": "high", "II": "medium", "III": "low"},
    "construction": {
        "1": "nothing inside bears",
        "2": "a rigid interior bears too",
        "3": "the goods or a rigid container bear",
    },
    "interior": {
        "none": "nothing inside bears load",
        "fitment": "partitions, liner or pads stand inside",
        "goods": "the goods themselves bear",
    },
}
"""Words that a key may have, each with what it means."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What stands on a box; None where the job leaves it open.

    Attributes:
        mass: Contents of one box, kg.
        box_mass: The empty box, kg.
        pallet: Name of a pallet, or its size in mm as ``1200x1000``.
        pallet_mass: The empty pallet, kg.
        pallet_height: The empty pallet, mm.
        per_layer: Boxes in one layer, where they are not placed by dieline.
        layers: Layers of boxes on one pallet.
        height: Greatest height of a loaded pallet, with the pallet, mm.
        load_mass: Greatest mass of boxes on a pallet, kg.
        pallets: Loaded pallets standing on each other.
        stack_height: Height of the whole stack that a schedule counts with, mm.
        days: How long the stack stands.
        humidity: Relative humidity, %.
        pattern: How the layers lie, see ``CHOICES``.
        offset: By how much columns were measured to be out of line, mm.
        overhang: By how much boxes stand over the pallet's edge, mm.
        gaps: Whether walls stand over gaps between deck boards.
        handling: ``careful`` or ``rough``.
        factors: Which set of loss factors.
        schedule: Which test schedule, in place of loss factors.
        factor: The factor of the schedule ``own``.
        assurance: Assurance level of ASTM D4169.
        construction: Construction type of ASTM D4169.
        formula: Which formula for the compression of the box.
        ect: Edge crush resistance that counts in place of the board's, kN/m.
        interior: What stands inside the box and bears.
    """

    mass: float | None = None
    box_mass: float | None = None
    pallet: str | None = None
    pallet_mass: float | None = None
    pallet_height: float | None = None
    per_layer: int | None = None
    layers: int | None = None
    height: float | None = None
    load_mass: float | None = None
    pallets: int | None = None
    stack_height: float | None = None
    days: float | None = None
    humidity: float | None = None
    pattern: str | None = None
    offset: float | None = None
    overhang: float | None = None
    gaps: bool | None = None
    handling: str | None = None
    factors: str | None = None
    schedule: str | None = None
    factor: float | None = None
    assurance: str | None = None
    construction: str | None = None
    formula: str | None = None
    ect: float | None = None
    interior: str | None = None

    def data(self) -> dict[str, Any]:
        """The load as plain data, as a job file holds it."""
        out = {entry.name: getattr(self, entry.name) for entry in fields(self)}
        return {key: value for key, value in out.items() if value is not None}


def _length(raw: Any, where: str) -> float:
    value = parse_length(raw, where=where)
    if value < 0:
        raise InputError(where, f"{format_mm(value)} mm", "it must be 0 or more")
    return value


def _height(raw: Any, where: str) -> float:
    value = _length(raw, where)
    if value <= 0:
        raise InputError(where, "0 mm", "it must be more than 0")
    return value


def _mass(raw: Any, where: str) -> float:
    value = parse_mass(raw, where=where)
    if value <= 0:
        raise InputError(where, "0 kg", "it must be more than 0: what weighs nothing loads nothing")
    return value


def _count(raw: Any, where: str) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int) or not 1 <= raw <= 1000:
        raise InputError(where, repr(raw), "it must be a whole number from 1 on: a stack has at least one")
    return raw


_TIME = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(days?|weeks?|months?|d|w)\s*", re.IGNORECASE)
_DAYS = {"d": 1.0, "w": 7.0, "m": 30.0}


def _days(raw: Any, where: str) -> float:
    """Days, from a number of days or text with days, weeks or months (of 30 days)."""
    match = _TIME.fullmatch(raw) if isinstance(raw, str) else None
    if match:
        return float(match[1].replace(",", ".")) * _DAYS[match[2][0].lower()]
    return _positive(raw, where, "a number of days, or a number with days, weeks or months")


def _humidity(raw: Any, where: str) -> float:
    text = raw.strip().removesuffix("RH").rstrip().removesuffix("%") if isinstance(raw, str) else raw
    try:
        value = math.nan if isinstance(text, bool) else float(text)
    except (TypeError, ValueError):
        value = math.nan
    if not 0.0 <= value <= 100.0:
        raise InputError(where, f"{raw!r} % RH", "it must be 0 to 100: relative humidity cannot be more")
    return value


def _positive(raw: Any, where: str, must: str = "a number above 0") -> float:
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not math.isfinite(raw) or raw <= 0:
        raise InputError(where, repr(raw), f"it must be {must}")
    return float(raw)


def _ect(raw: Any, where: str) -> float:
    return ect_in_range(parse_line_force(raw, where=where), where=where)


def _switch(raw: Any, where: str) -> bool:
    if not isinstance(raw, bool):
        raise InputError(where, repr(raw), "it must be true or false")
    return raw


def _pallet(raw: Any, where: str) -> str:
    if not isinstance(raw, str) or not raw.strip():
        raise InputError(where, repr(raw), "it must be the name of a pallet or its size in mm, such as '1200x1000'")
    return raw.strip()


def _word(key: str) -> Callable[[Any, str], str]:
    def read(raw: Any, where: str) -> str:
        word = str(raw)
        if word not in CHOICES[key]:
            raise UnknownNameError(where, word, CHOICES[key])
        return word

    return read


KEYS: dict[str, Callable[[Any, str], Any]] = {
    "mass": _mass,
    "box_mass": _mass,
    "pallet": _pallet,
    "pallet_mass": _mass,
    "pallet_height": _height,
    "per_layer": _count,
    "layers": _count,
    "height": _height,
    "load_mass": _mass,
    "pallets": _count,
    "stack_height": _height,
    "days": _days,
    "humidity": _humidity,
    "offset": _length,
    "overhang": _length,
    "gaps": _switch,
    "factor": _positive,
    "ect": _ect,
    **{key: _word(key) for key in CHOICES},
}
"""What reads each key of the table."""


def load_from_data(table: Mapping[str, Any], problems: list[DielineError], where: str = "load") -> Load:
    """The load that plain data describes.

    Args:
        table: The table.
        problems: Takes every problem met, each with its dotted key.
        where: Name of the table, for errors.
    """
    values: dict[str, Any] = {}
    for key, raw in table.items():
        read = KEYS.get(key)
        try:
            if read is None:
                raise UnknownNameError(f"{where}.{key}", key, KEYS)
            values[key] = read(raw, f"{where}.{key}")
        except DielineError as error:
            problems.append(error)
    if values.get("factors") and values.get("schedule"):
        must = "the two must not be mixed: a schedule's load already counts time and climate"
        problems.append(InputError(f"{where}.schedule", "stands beside factors", must, "leave one of them out"))
    return Load(**values)
