"""Sizes that remember how they came about: quantities, the house's allowances, and the ledger that records both.

The rule: a panel with k boards between it and the inside has its mid-plane (k + ½)·t outside the inside face, so a
panel between walls k₁ and k₂ boards out is D + (k₁ + k₂ + 1)·t from crease to crease.

Source: geometry, proved by folding; published maker tables agree with it (see docs/sizes.md).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from fnmatch import fnmatchcase

from .errors import InputError
from .units import format_mm

__all__ = ["Allowance", "House", "Ledger", "Quantity", "SizeLine", "span"]


class Quantity:
    """A number with the text of its own derivation; plain arithmetic keeps both right.

    Args:
        value: The value, mm unless said otherwise.
        text: How it came about, in words of the trade.

    Example:
        >>> L, t = Quantity(300, "L 300"), Quantity(4, "t 4")
        >>> width = L + t / 2
        >>> print(width.value, width.text)
        302.0 L 300 + t 4 / 2
    """

    __slots__ = ("loose", "text", "value")

    def __init__(self, value: float, text: str, *, loose: bool = False) -> None:
        self.value = float(value)
        self.text = text
        self.loose = loose  # a sum, which needs brackets inside a product

    @classmethod
    def named(cls, name: str, value: float) -> Quantity:
        """A quantity that is given: ``L 300``."""
        return cls(value, f"{name} {format_mm(value)}")

    def __float__(self) -> float:
        return self.value

    def __repr__(self) -> str:
        return f"Quantity({self.value!r}, {self.text!r})"

    def __add__(self, other: Quantity | float) -> Quantity:
        value, text, _ = _parts(other)
        return Quantity(self.value + value, f"{self.text} + {text}", loose=True)

    def __sub__(self, other: Quantity | float) -> Quantity:
        value, text, loose = _parts(other)
        return Quantity(self.value - value, f"{self.text} - {f'({text})' if loose else text}", loose=True)

    def __radd__(self, other: float) -> Quantity:
        return Quantity(other + self.value, f"{format_mm(other)} + {self.text}", loose=True)

    def __rsub__(self, other: float) -> Quantity:
        return Quantity(other - self.value, f"{format_mm(other)} - {self._factor}", loose=True)

    def __mul__(self, other: float) -> Quantity:
        return Quantity(self.value * other, f"{format_mm(other, 3)} × {self._factor}")

    __rmul__ = __mul__

    def __truediv__(self, other: float) -> Quantity:
        return Quantity(self.value / other, f"{self._factor} / {format_mm(other, 3)}")

    @property
    def _factor(self) -> str:
        return f"({self.text})" if self.loose else self.text


def _parts(other: Quantity | float) -> tuple[float, str, bool]:
    if isinstance(other, Quantity):
        return other.value, other.text, other.loose
    return float(other), format_mm(other), False


def span(size: Quantity, k1: float, k2: float, t: Quantity) -> Quantity:
    """Crease-to-crease size of a panel between two walls that stand k₁ and k₂ boards outside the inside: the rule.

    Args:
        size: The inside size that the panel spans, mm.
        k1: Boards between the inside and the first wall.
        k2: Boards between the inside and the second wall.
        t: Design thickness, mm.

    Example:
        >>> panel = span(Quantity.named("H", 150), 0.5, 0.5, Quantity.named("t", 4))
        >>> print(panel.value, "=", panel.text)
        158.0 = H 150 + (0.5+0.5+1) × t 4
    """
    count = k1 + k2 + 1
    boards = f"({format_mm(k1)}+{format_mm(k2)}+1)"
    return Quantity(size.value + count * t.value, f"{size.text} + {boards} × {t.text}", loose=True)


@dataclass(frozen=True, slots=True)
class SizeLine:
    """One named dimension as drawn.

    Attributes:
        name: The dimension, ``panel 2 width``.
        value: Its final value, mm.
        derivation: How it came about: ``B 300 + (0+0+1) × t 4``, with house allowance and rounding where applied.
        ruled: What the rule alone would give, mm.
        rounding: How much rounding added, mm.
    """

    name: str
    value: float
    derivation: str
    ruled: float
    rounding: float = 0.0

    def __str__(self) -> str:
        return f"{self.name} {format_mm(self.value, 3)} = {self.derivation}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """One house rule about one named dimension.

    Attributes:
        size: Name of the dimension, or a pattern with ``*``.
        style: Code of the style, or a pattern.
        board: Name of the board, or a pattern.
        add: mm added to what the rule gives.
        put: The value put in place of what the rule gives, mm; None to leave it.
        same_as: Name of an earlier dimension whose value is taken; empty for none.
        why: The plant's reason, shown in the derivation.
    """

    size: str
    style: str = "*"
    board: str = "*"
    add: float = 0.0
    put: float | None = None
    same_as: str = ""
    why: str = ""

    def fits(self, style: str, board: str, size: str) -> bool:
        """Whether it speaks of this dimension of this style on this board."""
        return fnmatchcase(size, self.size) and fnmatchcase(style, self.style) and fnmatchcase(board, self.board)


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """What a plant has decided for itself.

    Attributes:
        name: Name of the house file, for the derivations.
        allowances: Changes to named dimensions.
        defaults: (style pattern, board pattern, option, value) for options that a job leaves open.
        step: Every dimension is rounded to a multiple of this, mm; 0 does not round.
        crush: How far two walls may press into each other at the joint's corner, in board thicknesses.
        give: How far a crease may let a panel shift, in board thicknesses; None takes the board's own value.
    """

    name: str = ""
    allowances: tuple[Allowance, ...] = ()
    defaults: tuple[tuple[str, str, str, object], ...] = ()
    step: float = 0.0
    crush: float = 0.0
    give: float | None = None

    def default(self, style: str, board: str, option: str) -> object | None:
        """The house's own default of an option, or None; a later entry beats an earlier one."""
        found: object | None = None
        for style_pattern, board_pattern, name, value in self.defaults:
            if name == option and fnmatchcase(style, style_pattern) and fnmatchcase(board, board_pattern):
                found = value
        return found


@dataclass(slots=True)
class Ledger:
    """Records every named dimension of one design, house allowances and rounding applied.

    Attributes:
        style: Code of the style, for the house's patterns.
        board: Name of the board, likewise.
        house: The plant's allowances.
        lines: The dimensions so far, in the order they were asked for.
    """

    style: str
    board: str
    house: House = field(default_factory=House)
    lines: list[SizeLine] = field(default_factory=list)
    _by_name: dict[str, SizeLine] = field(default_factory=dict)
    _used: set[int] = field(default_factory=set)

    def size(self, name: str, ruled: Quantity | float, *, round_as: str = "") -> float:
        """The final value of a named dimension, mm: the rule, then the house, then rounding; recorded on the way.

        Args:
            name: Name of the dimension; each name once.
            ruled: What the rule gives.
            round_as: An earlier dimension whose rounding this one shares, so that what lies between them stays exact;
                empty to round it by itself.

        Raises:
            InputError: If a house entry points to a dimension that does not stand before this one, or leaves nothing
                of this one.
        """
        if name in self._by_name:
            raise ValueError(f"the dimension '{name}' is recorded already")
        value, text, _ = _parts(ruled)
        derivation = text
        for entry in self.house.allowances:
            if not entry.fits(self.style, self.board, name):
                continue
            self._used.add(id(entry))
            why = f" ({entry.why})" if entry.why else ""
            if entry.same_as:
                value, derivation = self._other(entry.same_as, name), f"house: as {entry.same_as}{why}"
            if entry.put is not None:
                value, derivation = entry.put, f"house: {format_mm(entry.put, 3)}{why}"
            if entry.add:
                value += entry.add
                derivation += f" {'+' if entry.add > 0 else '-'} house {format_mm(abs(entry.add), 3)}{why}"
            if value <= 0 < float(ruled):
                raise InputError(
                    f"{self.house.name or 'house file'}: allowance for '{entry.size}'",
                    f"it makes '{name}' {format_mm(value, 3)} mm ({derivation})",
                    "a dimension must stay above 0",
                    "name the style, the board or the dimension more narrowly",
                )
        exact, step = value, self.house.step
        if round_as:
            value += self._by_name[round_as].rounding
        elif step:
            value = math.floor(value / step + 0.5) * step
        if abs(exact - value) > 1e-9:
            way = f"as '{round_as}'" if round_as else f"to {format_mm(step, 4)}"
            derivation += f", rounded from {format_mm(exact, 3)} {way}"
        if value <= 0 < exact:
            value = step  # what is there at all stays there
        line = SizeLine(name, value, derivation, float(ruled), value - exact)
        self.lines.append(line)
        self._by_name[name] = line
        return value

    def value(self, name: str) -> float:
        """A dimension recorded before, mm."""
        return self._by_name[name].value

    def unused(self) -> Iterable[Allowance]:
        """House entries that speak of this style and board but fit no dimension of it: slips of the pen, perhaps."""
        for entry in self.house.allowances:
            meant = fnmatchcase(self.style, entry.style) and fnmatchcase(self.board, entry.board)
            if meant and id(entry) not in self._used:
                yield entry

    def _other(self, other: str, name: str) -> float:
        if other not in self._by_name:
            known = ", ".join(self._by_name) or "none yet"
            raise InputError(
                f"{self.house.name or 'house file'}: allowance for '{name}'",
                f"same_as = '{other}'",
                f"it must be a dimension that stands before it ({known})",
            )
        return self._by_name[other].value
