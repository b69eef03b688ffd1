"""What stands on the bottom box: the boxes above it and its share of the pallets between."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..errors import InputError
from ..force import GRAVITY, N_PER_LBF
from ..load import CHOICES, Load
from ..units import format_mm
from .basis import NO_SOURCE, Basis, Remark, basis_of, table

__all__ = ["Required", "Standing", "required", "standing_load"]

_LOAD = Basis(
    text="(layers × pallets - 1) × gross mass + (pallets - 1) × pallet mass / boxes per layer, × g",
    source="J. Pereira (ABPO), Sobreposicao de cargas paletizadas, Revista O Papel, https://doczz.com.br/doc/745065/",
    confidence="published",
    validity="evenly shared; stacked pallets with two decks",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How the boxes stand.

    Attributes:
        gross: Mass of one filled box, kg.
        layers: Layers on one pallet.
        pallets: Loaded pallets on each other.
        per_layer: Boxes in a layer; None where not known.
        pallet_mass: One empty pallet, kg; None where not known.
    """

    gross: float
    layers: int
    pallets: int = 1
    per_layer: int | None = None
    pallet_mass: float | None = None

    @property
    def above(self) -> int:
        """Boxes that stand on the bottom one."""
        return self.layers * self.pallets - 1

    @property
    def force(self) -> float:
        """Load on the bottom box, N; see ``standing_load``."""
        return standing_load(self.gross, self.layers, self.pallets, self.per_layer, self.pallet_mass)


@dataclass(frozen=True, slots=True)
class Required:
    """What the bottom box must bear.

    Attributes:
        value: N.
        basis: The rule.
        remarks: What is to be said about it.
    """

    value: float
    basis: Basis
    remarks: tuple[Remark, ...] = ()


def standing_load(
    gross: float, layers: int, pallets: int = 1, per_layer: int | None = None, pallet_mass: float | None = None
) -> float:
    """Load on the bottom box, N.

    Args:
        gross: Mass of one filled box, kg.
        layers: Layers on one pallet, 1 or more.
        pallets: Loaded pallets on each other, 1 or more.
        per_layer: Boxes in a layer; needed where pallets stand on each other.
        pallet_mass: One empty pallet, kg; needed where pallets stand on each other.

    Source: J. Pereira (ABPO), Sobreposicao de cargas paletizadas, O Papel.

    Example:
        >>> round(standing_load(10.0, 4), 3)
        294.2
    """
    mass = (layers * pallets - 1) * gross
    if pallets > 1:
        mass += (pallets - 1) * (pallet_mass or 0.0) / (per_layer or 1)
    return mass * GRAVITY


def required(load: Load, standing: Standing, height: float) -> Required:
    """What the bottom box must bear: the standing load, or what a schedule makes of it.

    Args:
        load: The load; what the schedule needs must be there.
        standing: How the boxes stand.
        height: Outside height of one box, mm.
    """
    if load.schedule is None:
        return Required(standing.force, _LOAD)
    rule = table("schedule")[load.schedule]
    basis = basis_of(rule, f"{rule['title']}: {rule['text']}")
    return _SCHEDULES[load.schedule](_Case(load, standing, height, rule, basis))


class _Case(NamedTuple):
    """What a schedule works with."""

    load: Load
    standing: Standing
    height: float
    rule: Mapping[str, Any]
    basis: Basis

    @property
    def high(self) -> float:
        """How many boxes stand on the bottom one by height: (H - h) / h."""
        height, standing = self.height, self.standing
        stack = self.load.stack_height or standing.layers * standing.pallets * height
        if stack < height:
            must = f"it must be at least the box's own height, {format_mm(height)} mm"
            raise InputError("load.stack_height", f"{format_mm(stack)} mm", must, "give the height of the whole stack")
        return (stack - height) / height

    @property
    def weight(self) -> float:
        """Weight of one filled box, N."""
        return self.standing.gross * GRAVITY


def _gb(case: _Case) -> Required:
    days = case.load.days or 0.0
    (short, k_short), (middle, k_middle) = case.rule["factor"]
    k = k_short if days < short else k_middle if days <= middle else case.rule["beyond"]
    note = Remark(
        "stack-sea-freight",
        "note",
        "load",
        f"K {k:g} is for {format_mm(days)} days ashore; by sea the rule's practice is K 3 to 5: take schedule 'own'",
        source=case.rule["source"],
    )
    return Required(k * case.weight * case.high, case.basis, (note,))


def _ista(case: _Case) -> Required:
    return Required(case.weight * case.standing.above * case.rule["factor"], case.basis)


def _cfr(case: _Case) -> Required:
    count = math.ceil(case.rule["height"] / case.height - 1e-9)
    pounds = (count - 1) * case.standing.gross * case.rule["pounds"] * case.rule["factor"]
    message = f"{count} boxes reach 3 m; a package of dangerous goods needs a licensed approval, not this estimate"
    return Required(pounds * N_PER_LBF, case.basis, (Remark("stack-dangerous-goods", "warning", "load", message),))


def _astm(case: _Case) -> Required:
    level, kind = case.load.assurance or "I", case.load.construction or "1"
    factor = case.rule[level][int(kind) - 1]
    inside = CHOICES["construction"][kind]
    message = f"F {factor:g} for assurance level {level}, {inside}: {NO_SOURCE}; look it up in your edition"
    note = Remark("stack-no-source", "note", "load.schedule", message)
    return Required(case.weight * factor * case.high, case.basis, (note,))


def _own(case: _Case) -> Required:
    return Required(case.standing.force * (case.load.factor or 1.0), case.basis)


_SCHEDULES = {"gb-6543": _gb, "ista-3e": _ista, "cfr-178-606": _cfr, "astm-d4169": _astm, "own": _own}
