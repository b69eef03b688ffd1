"""What the plant's own house file says that reaches nothing."""

from __future__ import annotations

from collections.abc import Iterator

from ..errors import near_names
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []


@check("house-unused", source="the plant's own house file")
def house_unused(inspected: Inspected) -> Iterator[Finding]:
    """An allowance of the house file that names this style, or nearly names one of its dimensions, yet changes nothing.

    Why: A slip of the pen leaves a box as the rule makes it, and nobody notices before the boards are cut.
    Limit: none; entries for all styles whose dimension this box merely lacks are not told.
    Fails: 0201 300x200x150 C; house: panel 9 width + 2
    Passes: 0201 300x200x150 C; house: panel 1 width + 2
    """
    ledger = inspected.order.ledger
    names = [line.name for line in ledger.lines]
    for entry in ledger.unused():
        near = near_names(entry.size, names)
        if not near and "*" in entry.style:
            continue
        hint = f"did you mean {' or '.join(near)}?" if near else f"its dimensions are {', '.join(names)}"
        yield Finding(
            "house-unused",
            Severity.WARNING,
            inspected.order.house.name or "house file",
            f"the allowance for '{entry.size}' fits no dimension of {inspected.order.style}; {hint}",
            None,
            None,
            "the house file",
        )
