"""Finds styles by entry point. A style that cannot be loaded is listed with its reason and harms no other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.metadata import EntryPoint, entry_points

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
def _entries() -> dict[str, EntryPoint]:
    return {entry.name: entry for entry in entry_points(group=GROUP)}


def style_names() -> tuple[str, ...]:
    """Codes of all styles that are installed, sorted; broken ones are among them."""
    return tuple(sorted(_entries()))


def find_style(code: str, *, where: str = "style") -> Style:
    """The style of a code; a pair of codes, ``0201/0204``, is bottom then top.

    Raises:
        UnknownNameError: With the nearest codes, if there is none.
        StyleError: If it is there but cannot be loaded.
    """
    if code in _entries():
        return _load(code)
    folded = {name.casefold(): name for name in _entries()}
    if code.casefold() in folded:
        return _load(folded[code.casefold()])
    if "/" in code:
        bottom, top = (part.strip() for part in code.split("/", 1))
        if bottom in _entries():
            style = _load(bottom)
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
            yield _load(code)
        except StyleError as error:
            yield BrokenStyle(code, error.what)


@cache
def _load(code: str) -> Style:
    entry = _entries()[code]
    try:
        loaded = entry.load()
    except Exception as error:  # whatever a stranger's module raises while it is imported
        raise StyleError(f"style {code}", f"cannot be loaded: {type(error).__name__}: {error}") from error
    if isinstance(loaded, dict):
        loaded = loaded.get(code)
    if not isinstance(loaded, Style):
        raise StyleError(f"style {code}", f"its entry point '{entry.value}' holds no Style of that code")
    if loaded.contract != CONTRACT:
        raise StyleError(
            f"style {code}", f"it was written for contract {loaded.contract}, this dieline speaks contract {CONTRACT}"
        )
    return loaded
