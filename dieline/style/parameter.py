"""Parameters of a style, declared once: validation, help, docs, schema and forms are all made from this."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from ..errors import OptionError, SizeError, near_names
from ..units import format_mm, parse_length

if TYPE_CHECKING:
    from .order import Order

__all__ = ["Kind", "Parameter", "Value", "angle", "choice", "count", "length", "number", "switch"]

Value = float | str | bool
"""What an option can hold."""


class Kind(Enum):
    """What sort of value a parameter takes."""

    LENGTH = "length"
    ANGLE = "angle"
    NUMBER = "number"
    COUNT = "count"
    CHOICE = "choice"
    SWITCH = "switch"

    @property
    def unit(self) -> str:
        """The unit of its values; empty where there is none."""
        return {"length": "mm", "angle": "deg"}.get(self.value, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """One option of a style.

    Attributes:
        name: Its name in job files and on the command line.
        kind: What sort of value it takes.
        help: What it is, in words of the trade; one sentence.
        default: Its value where neither job nor house says otherwise; may depend on size and board.
        low: Least value; may depend on size and board.
        high: Greatest value; likewise.
        choices: For a choice: each value and what it means.
        why: Why the range is what it is, for the error.
        source: What the default rests on.
    """

    name: str
    kind: Kind
    help: str
    default: Value | Callable[[Order], Value]
    low: float | Callable[[Order], float] = -math.inf
    high: float | Callable[[Order], float] = math.inf
    choices: Mapping[str, str] | None = None
    why: str = ""
    source: str = "common practice, no source"

    def default_for(self, order: Order) -> Value:
        """The default for a size and a board (options before this one are settled)."""
        return self.default(order) if callable(self.default) else self.default

    def range_for(self, order: Order) -> tuple[float, float]:
        """Least and greatest value for a size and a board."""
        low = self.low(order) if callable(self.low) else self.low
        high = self.high(order) if callable(self.high) else self.high
        return low, high

    def read(self, raw: object, where: str) -> Value:
        """A value from a job file or the command line, its kind checked but not its range.

        Raises:
            OptionError: If it is of the wrong kind.
        """
        if self.kind is Kind.SWITCH:
            return _switch(raw, where)
        if self.kind is Kind.CHOICE:
            return self._choice(raw, where)
        if self.kind is Kind.LENGTH:
            try:
                return parse_length(raw, where=where)  # type: ignore[arg-type]  # it refuses what is no length
            except SizeError as error:
                raise OptionError(where, error.what, error.must, error.cure) from None
        return self._number(raw, where)

    def check(self, value: Value, order: Order, where: str, *, asked: bool = True) -> None:
        """Refuse a value out of the range for this size and board.

        Args:
            value: The value.
            order: The order so far.
            where: Name of the place, for errors.
            asked: Whether somebody asked for it; else it is the default, and the error says so.

        Raises:
            OptionError: With the range and its reason.
        """
        if isinstance(value, bool | str):
            return
        low, high = self.range_for(order)
        if low - 1e-9 <= value <= high + 1e-9:
            return
        unit = f" {self.kind.unit}" if self.kind.unit else ""
        why = f": {self.why}" if self.why else ""
        what = f"{format_mm(value, 3)}{unit}{'' if asked else ' (the default)'}"
        if high < low:
            must = f"no value will do on this size and board{why}"
            raise OptionError(where, what, must, "choose a larger size, or leave out what needs it")
        raise OptionError(where, what, f"it must be {self.range_text(low, high)}{unit}{why}")

    @staticmethod
    def range_text(low: float, high: float) -> str:
        """A range in words: ``10 to 40``, ``at least 3``."""
        if math.isinf(low):
            return f"at most {format_mm(high)}"
        if math.isinf(high):
            return f"at least {format_mm(low)}"
        return f"{format_mm(low)} to {format_mm(high)}"

    def _choice(self, raw: object, where: str) -> str:
        choices = self.choices or {}
        text = "none" if raw is False else str(raw)
        if text in choices:
            return text
        near = near_names(text, choices)
        cure = "did you mean " + " or ".join(near) + "?" if near else ""
        raise OptionError(where, repr(raw), f"it must be one of {', '.join(choices)}", cure)

    def _number(self, raw: object, where: str) -> float:
        try:
            value = math.nan if isinstance(raw, bool) else float(raw)  # type: ignore[arg-type]
        except (TypeError, ValueError):
            value = math.nan
        if not math.isfinite(value) or (self.kind is Kind.COUNT and value != int(value)):
            noun = "a whole number" if self.kind is Kind.COUNT else "a number"
            unit = f" of {self.kind.unit}" if self.kind.unit else ""
            raise OptionError(where, repr(raw), f"it must be {noun}{unit}")
        return value


def _switch(raw: object, where: str) -> bool:
    if isinstance(raw, bool):
        return raw
    words = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}
    if isinstance(raw, str) and raw.casefold() in words:
        return words[raw.casefold()]
    raise OptionError(where, repr(raw), "it must be yes or no")


def length(
    name: str,
    help: str,  # the word that every other part of the contract uses
    default: float | Callable[[Order], float],
    low: float | Callable[[Order], float] = 0.0,
    high: float | Callable[[Order], float] = math.inf,
    *,
    why: str = "",
    source: str = "common practice, no source",
) -> Parameter:
    """A length in mm."""
    return Parameter(
        name=name, kind=Kind.LENGTH, help=help, default=default, low=low, high=high, why=why, source=source
    )


def angle(
    name: str,
    help: str,
    default: float | Callable[[Order], float],
    low: float | Callable[[Order], float] = 0.0,
    high: float | Callable[[Order], float] = 90.0,
    *,
    why: str = "",
    source: str = "common practice, no source",
) -> Parameter:
    """An angle in degrees."""
    return Parameter(name=name, kind=Kind.ANGLE, help=help, default=default, low=low, high=high, why=why, source=source)


def number(
    name: str,
    help: str,
    default: float | Callable[[Order], float],
    low: float | Callable[[Order], float] = 0.0,
    high: float | Callable[[Order], float] = math.inf,
    *,
    why: str = "",
    source: str = "common practice, no source",
) -> Parameter:
    """A plain number."""
    return Parameter(
        name=name, kind=Kind.NUMBER, help=help, default=default, low=low, high=high, why=why, source=source
    )


def count(
    name: str,
    help: str,
    default: float | Callable[[Order], float],
    low: float | Callable[[Order], float] = 0,
    high: float | Callable[[Order], float] = math.inf,
    *,
    why: str = "",
    source: str = "common practice, no source",
) -> Parameter:
    """A whole number."""
    return Parameter(name=name, kind=Kind.COUNT, help=help, default=default, low=low, high=high, why=why, source=source)


def choice(
    name: str,
    help: str,
    choices: Mapping[str, str],
    default: str | Callable[[Order], str],
    *,
    source: str = "common practice, no source",
) -> Parameter:
    """One of a few words, each with its meaning."""
    return Parameter(name=name, kind=Kind.CHOICE, help=help, default=default, choices=choices, source=source)


def switch(
    name: str,
    help: str,
    default: bool | Callable[[Order], bool] = False,
) -> Parameter:
    """Yes or no."""
    return Parameter(name=name, kind=Kind.SWITCH, help=help, default=default)
