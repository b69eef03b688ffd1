"""Finds styles by entry point. A style that cannot be loaded is listed with its reason and harms no other."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from .errors import StyleError, UnknownNameError
from .style.contract import CONTRACT, Style

__all__ = ["GROUP", "BrokenStyle", "find_style", "iter_styles", "style_names"]

GROUP = "dieline.styles"
"""The entry-point group. The name of an entry is the code of its style, or of the first of a module's styles."""


@dataclass(frozen=True, slots=True)
class BrokenStyle:
    """A style that could not be loaded.

    Attributes:
        code: The name of its entry point.
        reason: Why, in one line.
    """

    code: str
    reason: str


@cache
def _entries() -> dict[str, str]:
    """Every installed style: its code, and where it is found (``module:attribute``)."""
    from importlib.metadata import entry_points

    return {entry.name: entry.value for entry in entry_points(group=GROUP)}


@cache
def _noted() -> dict[str, str]:
    """The same from what installers wrote into the folders of the module path: one style does not need a full search.

    ``importlib.metadata`` also knows packages in zip files and from other importers, but takes 30 ms to be loaded.
    """
    found: dict[str, str] = {}
    seen: set[str] = set()
    for folder in filter(os.path.isdir, sys.path):
        for name in os.listdir(folder):
            package = name.partition("-")[0].lower()
            if name.endswith((".dist-info", ".egg-info")) and package not in seen:
                seen.add(package)
                with suppress(OSError):  # most have no such notes
                    found |= _codes_in(Path(folder, name, "entry_points.txt").read_text(encoding="utf-8"))
    return found


def _codes_in(notes: str) -> dict[str, str]:
    """The styles that an ``entry_points.txt`` lists."""
    _, _, group = notes.partition(f"[{GROUP}]")
    lines = [line.partition("=") for line in group.partition("\n[")[0].splitlines()]
    return {code.strip(): place.strip() for code, equals, place in lines if equals}


def style_names() -> tuple[str, ...]:
    """Codes of all styles that are installed, sorted; broken ones are among them."""
    return tuple(sorted(_entries()))


def find_style(code: str, *, where: str = "style") -> Style:
    """The style of a code; a pair of codes, ``0201/0204``, is bottom then top.

    Raises:
        UnknownNameError: With the nearest codes, if there is none.
        StyleError: If it is there but cannot be loaded.
    """
    if code in _noted():
        return _load(code, _noted()[code])
    if code in _entries():
        return _load(code, _entries()[code])
    folded = {name.casefold(): name for name in _entries()}
    if code.casefold() in folded:
        code = folded[code.casefold()]
        return _load(code, _entries()[code])
    if "/" in code:
        bottom, top = (part.strip() for part in code.split("/", 1))
        if bottom in _entries():
            style = _load(bottom, _entries()[bottom])
            pair = style.combine(top) if style.combine is not None else None
            if pair is not None:
                return pair
            raise (
                UnknownNameError(where, code, (), line=None)
                if style.combine is None
                else UnknownNameError(f"{where}, top of {bottom}", top, style_names(), listed="dieline styles")
            )
    raise UnknownNameError(where, code, style_names(), listed="dieline styles")


def iter_styles() -> Iterator[Style | BrokenStyle]:
    """Every installed style by code; one that cannot be loaded comes as the reason why."""
    for code in style_names():
        try:
            yield _load(code, _entries()[code])
        except StyleError as error:
            yield BrokenStyle(code, error.what)


@cache
def _load(code: str, place: str) -> Style:
    module, _, attributes = place.partition("[")[0].strip().partition(":")
    try:
        loaded: Any = import_module(module)
        for attribute in attributes.split("."):
            loaded = getattr(loaded, attribute)
    except Exception as error:  # whatever a stranger's module raises while it is imported
        raise StyleError(f"style {code}", f"cannot be loaded: {type(error).__name__}: {error}") from error
    if isinstance(loaded, dict):
        loaded = loaded.get(code)
    if not isinstance(loaded, Style):
        raise StyleError(f"style {code}", f"its entry point '{place}' holds no Style of that code")
    if loaded.contract != CONTRACT:
        raise StyleError(
            f"style {code}", f"it was written for contract {loaded.contract}, this dieline speaks contract {CONTRACT}"
        )
    return loaded
