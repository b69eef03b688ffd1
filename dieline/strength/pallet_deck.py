"""Pallets: the deck that a layer lies on, and how high it may be loaded. The library is data, each with its source."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from ..errors import SizeError, UnknownNameError
from ..textfile import shipped_table
from ..units import check_size

__all__ = ["LoadedHeight", "Module", "Pallet", "find_pallet", "loaded_heights", "modules", "pallets"]

_PLAN = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[xX×]\s*(\d+(?:\.\d+)?)\s*")
_OWN = "the size asked for"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pallet:
    """One kind of pallet.

    Attributes:
        name: Its name in the library, ``euro`` or ``1200x1000``.
        length: Length of the deck, along which its boards lie, mm.
        breadth: Breadth of the deck, mm.
        height: Height of the empty pallet, mm; None where not known.
        mass: Mass of the empty pallet, kg; None where not known.
        load: What it may carry, kg, spread evenly; None where not known.
        boards: Width of each deck board across the breadth, mm; empty where not known.
        gap: Widest gap between two deck boards, mm; None where not known, 0 for a closed deck.
        source: Where the size comes from.
        confidence: How far it can be trusted.
        boards_confidence: How far the deck boards can be trusted.
        note: Anything a user should know.

    Raises:
        SizeError: If a number cannot be: not finite, not above 0, boards broader than the deck.
    """

    name: str
    length: float
    breadth: float
    height: float | None = None
    mass: float | None = None
    load: float | None = None
    boards: tuple[float, ...] = ()
    gap: float | None = None
    source: str = _OWN
    confidence: str = "house"
    boards_confidence: str = "house"
    note: str = ""

    def __post_init__(self) -> None:
        for key in ("length", "breadth", "height"):
            check_size(getattr(self, key), f"pallet {key}")
        for key in ("mass", "load"):
            value = getattr(self, key)
            if value is not None and not (math.isfinite(value) and value > 0):
                raise SizeError(f"pallet {key}", f"{value:g} kg", "it must be a mass of more than 0")
        if self.gap is not None and not 0 <= self.gap < self.breadth:
            raise SizeError(
                "pallet gap", f"{self.gap:g} mm", f"it must be 0 to less than {self.breadth:g} mm, the breadth"
            )
        for width in self.boards:
            check_size(width, "pallet boards")
        if self.boards and math.fsum(self.boards) > self.breadth + 1e-6:
            raise SizeError(
                "pallet boards", f"{math.fsum(self.boards):g} mm in all", f"they must fit on {self.breadth:g} mm"
            )
        if len(self.boards) > 1 and self.gap is None:
            between = (self.breadth - math.fsum(self.boards)) / (len(self.boards) - 1)
            object.__setattr__(self, "gap", round(between, 3))

    @property
    def deck(self) -> tuple[float, float]:
        """Length and breadth of the deck, mm."""
        return self.length, self.breadth

    def board_edges(self) -> list[tuple[float, float]]:
        """Where each deck board begins and ends across the breadth, evenly spread, mm; empty where not known."""
        if not self.boards:
            return []
        between = (self.breadth - math.fsum(self.boards)) / max(1, len(self.boards) - 1)
        edges, at = [], 0.0
        for width in self.boards:
            edges.append((at, at + width))
            at += width + between
        return edges


@dataclass(frozen=True, slots=True)
class Module:
    """A plan size of boxes that fills pallets without rest.

    Attributes:
        length: Length, mm.
        breadth: Breadth, mm.
        counts: Pallet and boxes in a layer.
        source: Where it was published.
        confidence: How far it can be trusted.
    """

    length: float
    breadth: float
    counts: tuple[tuple[str, int], ...]
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class LoadedHeight:
    """How high loaded pallets may be, pallet included.

    Attributes:
        name: What the trade calls it.
        height: From the floor to the top of the load, mm.
        source: Where it was published.
        confidence: How far it can be trusted.
        load: Greatest mass that goes with it, kg; None where none is stated.
        note: Anything a user should know.
    """

    name: str
    height: float
    source: str
    confidence: str
    load: float | None = None
    note: str = ""


@cache
def pallets() -> dict[str, Pallet]:
    """The pallets that come with dieline, by name, in the order of their file."""
    found = (Pallet(**{**entry, "boards": tuple(entry.get("boards", ()))}) for entry in _table("pallet"))
    return {pallet.name: pallet for pallet in found}


def find_pallet(name: str) -> Pallet:
    """The pallet of a name, or a bare deck of a size such as ``1250x850`` whose height and mass are not known.

    Raises:
        UnknownNameError: With the nearest names, if it is neither.
        SizeError: If it is a size that no pallet can have.
    """
    known = pallets()
    if name in known:
        return known[name]
    for other, pallet in known.items():
        if other.casefold() == name.strip().casefold():
            return pallet
    plan = _PLAN.fullmatch(name)
    if plan is None:
        raise UnknownNameError("pallet", name, known)
    return Pallet(name=name.strip(), length=float(plan[1]), breadth=float(plan[2]))


def modules() -> tuple[Module, ...]:
    """The plan sizes that the standards divide pallets into."""
    return tuple(Module(**{**entry, "counts": tuple(entry["counts"].items())}) for entry in _table("module"))


def loaded_heights() -> tuple[LoadedHeight, ...]:
    """How high pallets are loaded, by trade rule."""
    return tuple(LoadedHeight(**entry) for entry in _table("loaded_height"))


def _table(name: str) -> list[dict[str, Any]]:
    entries: list[dict[str, Any]] = shipped_table("pallets")[name]
    return entries
