"""How far an answer may be off: a range and a probability, with the origin of every share of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from .basis import table
from .factors import Factor

__all__ = ["Band", "Origin", "band", "chance"]

_NINETY = 1.6448536269514722
"""Standard deviations within which 90 % of a normal scatter lies, to each side."""


@dataclass(frozen=True, slots=True)
class Origin:
    """One share of the scatter.

    Attributes:
        name: What scatters.
        variation: Standard deviation over the value.
        source: What that rests on.
        confidence: How far it can be trusted.
    """

    name: str
    variation: float
    source: str
    confidence: str

    def data(self) -> dict[str, Any]:
        """The share as plain data."""
        return {
            "name": self.name,
            "variation_percent": round(100.0 * self.variation, 2),
            "source": self.source,
            "confidence": self.confidence,
        }


@dataclass(frozen=True, slots=True)
class Band:
    """The scatter of an available strength, taken as log-normal.

    Attributes:
        spread: Standard deviation of its logarithm.
        origins: What it is made of; their squares add.
    """

    spread: float
    origins: tuple[Origin, ...]

    def ends(self, value: float) -> tuple[float, float]:
        """Least and greatest of the middle 90 %, in the unit of the value."""
        reach = math.exp(_NINETY * self.spread)
        return value / reach, value * reach


def band(factors: Sequence[Factor]) -> Band:
    """The scatter that comes of the formula, the board and every factor that is published as a range.

    The mean error of the formula is turned into a standard deviation as for a normal scatter (× √(π/2)); the
    tolerance of the board and the ranges of factors are taken as if every value between their ends were as likely
    (half width / √3). The factors of time and humidity are published without any scatter, so none is counted.
    """
    formula, board = table("scatter")["formula"], table("scatter")["board"]
    origins = [
        Origin(
            "formula",
            formula["mean_error"] / 100.0 * math.sqrt(math.pi / 2.0),
            formula["source"],
            formula["confidence"],
        ),
        Origin("board", board["half_width"] / 100.0 / math.sqrt(3.0), board["source"], board["confidence"]),
    ]
    origins += [
        Origin(factor.name, factor.variation, factor.basis.source, factor.basis.confidence)
        for factor in factors
        if factor.best > factor.worst
    ]
    spread = math.sqrt(sum(math.log1p(origin.variation**2) for origin in origins))
    return Band(spread, tuple(origins))


def chance(margin: float, spread: float) -> float:
    """The probability that a box holds, 0 to 1, by the scatter alone.

    Args:
        margin: Available over required.
        spread: Standard deviation of the logarithm of the available strength.

    Example:
        >>> chance(1.0, 0.1)
        0.5
    """
    if margin <= 0.0:
        return 0.0
    return 0.5 * (1.0 + math.erf(math.log(margin) / spread / math.sqrt(2.0)))
