"""What a number of strength rests on, and what is said about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from ..textfile import shipped_table

__all__ = ["NO_SOURCE", "Basis", "Remark", "basis_of", "table"]

NO_SOURCE = "common practice, no source"
"""Confidence of what the trade hands down and no page was seen for; an answer that leans on it says so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """Where a number comes from.

    Attributes:
        text: The formula or rule in words.
        source: Where it was published.
        confidence: ``published``, ``trade practice``, ``derived``, ``common practice, no source`` or ``house``.
        validity: Where it holds.
    """

    text: str
    source: str
    confidence: str
    validity: str = ""

    def data(self) -> dict[str, str]:
        """The basis as plain data."""
        return {
            "formula": self.text,
            "source": self.source,
            "confidence": self.confidence,
            "validity": self.validity,
        }


@dataclass(frozen=True, slots=True)
class Remark:
    """Something to be said about an answer, in the form of a finding.

    Attributes:
        code: Short name that never changes, ``stack-height-ratio``.
        severity: ``note``, ``warning`` or ``error``.
        place: What it speaks of.
        message: What it says and what to do.
        measured: What was found, if a number.
        limit: What it is held against, if a number.
        source: What it rests on.
    """

    code: str
    severity: str
    place: str
    message: str
    measured: float | None = None
    limit: float | None = None
    source: str = ""

    def data(self) -> dict[str, Any]:
        """The remark as plain data, with the keys of a finding."""
        return {
            "check": self.code,
            "severity": self.severity,
            "place": self.place,
            "message": self.message,
            "measured": self.measured,
            "limit": self.limit,
            "source": self.source,
        }


@cache
def table(name: str) -> Mapping[str, Any]:
    """One table of the shipped numbers, by its name in ``data/strength.toml``."""
    content: Mapping[str, Any] = shipped_table("strength")[name]
    return content


def basis_of(entry: Mapping[str, Any], text: str = "") -> Basis:
    """The basis that a table of the shipped numbers states."""
    return Basis(
        text=text or entry.get("formula") or entry.get("text", ""),
        source=entry["source"],
        confidence=entry["confidence"],
        validity=entry.get("validity", ""),
    )
