"""Loss factors: what time, climate, pattern, overhang and handling leave of a box's strength.

Two published sets stand side by side and are never mixed: their humidity factors have different bases.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ..errors import InputError
from ..load import CHOICES, Load
from ..units import format_mm
from .basis import NO_SOURCE, Basis, Remark, table

__all__ = ["Factor", "humidity_factor", "loss_factors", "product", "time_factor"]


@dataclass(frozen=True, slots=True)
class Factor:
    """One factor.

    Attributes:
        name: What it is for, ``time``.
        condition: Under what, ``30 days``.
        best: What is left at the best, as a share.
        worst: What is left at the worst.
        basis: Where it comes from.
    """

    name: str
    condition: str
    best: float
    worst: float
    basis: Basis

    @property
    def middle(self) -> float:
        """The middle of its range, which the answer takes."""
        return (self.best + self.worst) / 2.0

    @property
    def variation(self) -> float:
        """Its standard deviation over its middle: any value between the ends is taken as equally likely."""
        return (self.best - self.worst) / 2.0 / math.sqrt(3.0) / self.middle

    def data(self) -> dict[str, Any]:
        """The factor as plain data."""
        return {
            "name": self.name,
            "condition": self.condition,
            "best": round(self.best, 4),
            "worst": round(self.worst, 4),
            "factor": round(self.middle, 4),
            "source": self.basis.source,
            "confidence": self.basis.confidence,
        }


def product(factors: Sequence[Factor]) -> float:
    """What all factors together leave: multipliers multiply.

    Source: Fibre Box Handbook, as reprinted by a box maker: safe load = compression × product of the multipliers.
    """
    return math.prod(factor.middle for factor in factors)


def time_factor(name: str, days: float) -> tuple[float, str]:
    """What is left after so many days of standing load, and how it was read.

    Between the days of the set it is read off on a scale of log time, which is how creep goes; before the first day
    the first value holds.

    Args:
        name: The set.
        days: How long the stack stands.

    Raises:
        InputError: Beyond the last day of the set; nothing is drawn out beyond it.
    """
    points = table("factors")[name]["time"]
    last = points[-1][0]
    if days > last:
        must = f"the set '{name}' ends at {last} days"
        cure = "store shorter, or take load.schedule = 'own' with a safety factor of your own"
        raise InputError("load.days", f"{format_mm(days)} days", must, cure)
    if days <= points[0][0]:
        how = "" if days == points[0][0] else f"value of {points[0][0]} days"
        return float(points[0][1]), how
    value, exact = _between([(math.log(day), left) for day, left in points], math.log(days))
    return value, "" if exact else "between the set's days, on log time"


def humidity_factor(name: str, humidity: float) -> tuple[float, str]:
    """What is left at a relative humidity, and how it was read; below the set's driest, that value holds."""
    points = table("factors")[name]["humidity"]
    if humidity > points[-1][0]:
        must = f"the set '{name}' ends at {points[-1][0]} % RH"
        raise InputError(
            "load.humidity", f"{format_mm(humidity)} % RH", must, "take the set 'handbook', or store drier"
        )
    if humidity <= points[0][0]:
        how = "" if humidity == points[0][0] else f"value of {points[0][0]} % RH"
        return float(points[0][1]), how
    value, exact = _between(points, humidity)
    return value, "" if exact else "between the set's humidities, evenly"


def _between(points: Sequence[Sequence[float]], at: float) -> tuple[float, bool]:
    for (x0, y0), (x1, y1) in pairwise(points):
        if at <= x1:
            exact = at == x1
            return (float(y1) if exact else y0 + (y1 - y0) * (at - x0) / (x1 - x0)), exact
    return float(points[-1][1]), True


def loss_factors(load: Load, sides: tuple[float, float], over: bool) -> tuple[tuple[Factor, ...], tuple[Remark, ...]]:
    """Every factor that a load asks for, of one set, and what the set cannot say.

    Args:
        load: The load; ``factors``, ``days``, ``humidity`` and ``pattern`` must be there.
        sides: Length and breadth of the box, mm.
        over: Whether boxes stand over the pallet's edge.

    Raises:
        InputError: Where the set does not reach.
    """
    name = load.factors or ""
    rules: Mapping[str, Any] = table("factors")[name]
    days, humidity = load.days or 0.0, load.humidity or 0.0
    left, how = time_factor(name, days)
    found = [_point("time", f"{format_mm(days)} days", left, rules, how)]
    left, how = humidity_factor(name, humidity)
    found.append(_point("humidity", f"{format_mm(humidity)} % RH", left, rules, how))
    remarks: list[Remark] = []
    if load.offset and load.pattern != "interlocked":
        found.append(_offset(load.offset, sides))
    else:
        _ranged(found, remarks, rules, "pattern", load.pattern or "column", load.pattern or "column")
    if over:
        _ranged(found, remarks, rules, "overhang", "overhang", "boxes over the pallet's edge")
    if load.gaps:
        _ranged(found, remarks, rules, "deck boards", "gaps", "walls over gaps between deck boards")
    if load.handling == "rough":
        _ranged(found, remarks, rules, "handling", "rough", CHOICES["handling"]["rough"])
    return tuple(found), tuple(remarks)


def _point(name: str, condition: str, value: float, rules: Mapping[str, Any], how: str) -> Factor:
    text = f"{rules['title']}, {name}" + (f" ({how})" if how else "")
    return Factor(
        name, condition, value, value, Basis(text=text, source=rules["source"], confidence=rules["confidence"])
    )


def _ranged(
    found: list[Factor], remarks: list[Remark], rules: Mapping[str, Any], name: str, key: str, condition: str
) -> None:
    row = rules.get(key)
    if row is None:
        message = (
            f"the set '{rules['title']}' says nothing of {condition}: not counted, so the strength is less than said"
        )
        remarks.append(Remark("stack-not-counted", "warning", name, message, source=rules["source"]))
        return
    source, confidence = row.get("source", rules["source"]), row.get("confidence", rules["confidence"])
    basis = Basis(text=f"{rules['title']}, {name}", source=source, confidence=confidence)
    found.append(Factor(name, condition, row["best"], row["worst"], basis))
    if confidence == NO_SOURCE:
        message = f"{row['best']:g} to {row['worst']:g} for {condition} is {NO_SOURCE}: {source}"
        remarks.append(Remark("stack-no-source", "note", name, message, source=source))


def _offset(offset: float, sides: tuple[float, float]) -> Factor:
    """What is left of columns that are out of line by a measured amount, told by the shorter side."""
    rule = table("offset")
    share = offset / min(sides)
    left = max(float(rule["floor"]), 1.0 - rule["loss"] * share)
    basis = Basis(text="loss % = 2.5 × offset %", source=rule["source"], confidence=rule["confidence"])
    return Factor("pattern", f"columns {format_mm(offset)} mm ({share:.1%}) out of line", left, left, basis)
