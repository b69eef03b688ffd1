"""The limits that findings are measured against: shipped as data, each with its source; a plant may replace any."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType

from ..errors import BoardError, DielineError, JobError, SizeError, UnknownNameError
from ..textfile import parse_toml, read_text, shipped_table
from ..units import format_mm, parse_length

__all__ = ["CONFIDENCE", "Limit", "Limits", "limits_from_text", "read_limits", "shipped_limits"]

CONFIDENCE = ("standard", "trade practice", "doubtful", "derived", "common practice, no source", "house")
"""How far a limit can be trusted, best first; the head of ``data/limits.toml`` says what each means."""

_PAIRS = (
    ("knives_touching", "knife_distance"),
    ("punch_side_out", "punch_sprung"),
    ("slot_width_least", "slot_width_most"),
    ("slot_trade_narrow", "slot_trade_wide"),
    ("joint_gap_least", "joint_gap_most"),
    ("lap_width_least", "lap_width_preferred"),
    ("lap_gost_least", "lap_gost_most"),
    ("flap_gap_taped", "flap_gap_meant"),
    ("ratio_height_least", "ratio_height_most"),
    ("hand_hole_width_least", "hand_hole_width_best"),
    ("hand_hole_height_least", "hand_hole_height_best"),
    ("opening_loss_low", "opening_loss_high"),
    ("mass_for_one_low", "mass_for_one_high"),
)
"""Limits of which the first must not be more than the second."""

_MOST = {"%": 100.0, "deg": 90.0}
_KEYS = {"value", "by", "source"}


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit.

    Attributes:
        value: The number, in ``unit``.
        unit: ``mm``, ``mm2``, ``deg``, ``kg``, ``%``, ``times``, ``ratio`` or ``lbf per inch``.
        what: What it limits.
        by: Who says so, in a few words.
        source: Where it was published.
        confidence: One of ``CONFIDENCE``.
    """

    value: float
    unit: str
    what: str
    by: str
    source: str
    confidence: str

    def __str__(self) -> str:
        unit = {"mm2": " mm²", "deg": "°", "%": " %", "ratio": "", "times": " times"}.get(self.unit, f" {self.unit}")
        return f"{format_mm(self.value)}{unit} ({self.by})"


Limits = Mapping[str, Limit]


@cache
def shipped_limits() -> Limits:
    """The limits that come with dieline, by name, in the order of their file."""
    tables = shipped_table("limits")
    limits = {name: Limit(**{**table, "value": float(table["value"])}) for name, table in tables.items()}
    return MappingProxyType(limits)


def read_limits(path: Path) -> Limits:
    """The shipped limits with those of a plant's file in their place; see ``limits_from_text``.

    Raises:
        BoardError: If the file cannot be read.
        JobError: With every problem in it.
    """
    return limits_from_text(read_text(path, "limits file"), str(path))


@lru_cache(maxsize=16)
def limits_from_text(text: str, source: str) -> Limits:
    """The shipped limits with those of a TOML text in their place.

    A limit is a bare number in its own unit, a length with a unit of its own (``"1/8 in"``), or a table with ``value``
    and, if the plant wants them shown, ``by`` and ``source``.

    Args:
        text: The text of a limits file.
        source: Where it comes from, for errors.

    Raises:
        BoardError: If the text is not TOML.
        JobError: With every problem in it.
    """
    limits = dict(shipped_limits())
    problems: list[DielineError] = []
    for name, raw in parse_toml(text, source, "limits file").items():
        line = _line_of(name, text)
        if name not in limits:
            problems.append(UnknownNameError(f"limit '{name}'", name, limits, line=line))
            continue
        try:
            limits[name] = _replaced(limits[name], name, raw, line)
        except DielineError as error:
            problems.append(error)
    if not problems:
        problems += _pair_problems(limits, text)
    if problems:
        raise JobError(source, problems)
    return MappingProxyType(limits)


def _replaced(limit: Limit, name: str, raw: object, line: int | None) -> Limit:
    """A limit with the plant's value in its place."""
    by, source = "house", "the plant's own limits file"
    if isinstance(raw, dict):
        strange = sorted(set(raw) - _KEYS)
        if strange:
            raise BoardError(f"{name}.{strange[0]}", "is not known", "a limit may hold value, by and source", line=line)
        if "value" not in raw:
            raise BoardError(f"{name}.value", "is missing", f"a limit must have its number of {limit.unit}", line=line)
        for key in ("by", "source"):
            if not isinstance(raw.get(key, ""), str):
                raise BoardError(f"{name}.{key}", repr(raw[key]), "it must be text", line=line)
        by, source = raw.get("by", by), raw.get("source", source)
        raw = raw["value"]
    value = math.nan
    if isinstance(raw, str) and limit.unit == "mm":
        try:
            value = parse_length(raw)
        except SizeError as error:
            raise BoardError(name, error.what, error.must, error.cure, line=line) from None
    elif isinstance(raw, int | float) and not isinstance(raw, bool):
        value = float(raw)
    most = _MOST.get(limit.unit, math.inf)
    if not (math.isfinite(value) and 0.0 <= value <= most):
        span = "0 or more" if math.isinf(most) else f"0 to {format_mm(most)}"
        raise BoardError(name, repr(raw), f"it must be a number of {limit.unit}, {span}: {limit.what}", line=line)
    return replace(limit, value=value, by=by, source=source, confidence="house")


def _pair_problems(limits: Limits, text: str) -> list[DielineError]:
    """One problem for each pair of limits that has come out of order."""
    problems: list[DielineError] = []
    for low, high in _PAIRS:
        if limits[low].value > limits[high].value:
            changed = low if limits[low].confidence == "house" else high
            what = f"{low} {format_mm(limits[low].value)} is more than {high} {format_mm(limits[high].value)}"
            must = "the first must not be more than the second"
            problems.append(BoardError(changed, what, must, "replace both", line=_line_of(changed, text)))
    return problems


def _line_of(name: str, text: str) -> int | None:
    """The line on which a name stands first, counted from 1."""
    found = re.search(rf"^[ \t]*\[?[ \t]*[\"']?{re.escape(name)}\b", text, re.MULTILINE)
    return None if found is None else text.count("\n", 0, found.start()) + 1
