"""Slots between flaps, and the gap that the joint leaves between two of them."""

from __future__ import annotations

from collections.abc import Iterator

from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []

_TRADE_SPREAD = 0.6
"""mm. The trade's 6 mm slot is 1/4 in on an inch machine and its 9 mm slot 3/8 in."""


@check("slot-width", "slot_width_least", "slot_width_most")
def slot_width(inspected: Inspected) -> Iterator[Finding]:
    """Slots of a corrugated case outside the standard's range.

    Why: A narrower slot pinches the flaps on the walls, a wider one opens a hole in every corner of the case.
    Limit: slot_width_least 4 mm, slot_width_most 10 mm (GOST 9142-2014).
    Fails: 0201 300x200x150 C; slot_width=12
    Passes: 0201 300x200x150 C
    """
    if not inspected.slotted:
        return
    width = inspected.design.facts["slot width"]
    for name, beyond in (("slot_width_least", -1), ("slot_width_most", 1)):
        limit = inspected.limits[name]
        if (width - limit.value) * beyond > 1e-9:
            bound = "at least" if beyond < 0 else "at most"
            yield Finding(
                "slot-width",
                Severity.NOTE,
                "slots",
                f"the slots are {format_mm(width)} mm wide; {bound} {limit} is standard; change slot_width",
                width,
                limit.value,
                limit.source,
            )


@check("slot-tool", "slot_trade_narrow", "slot_trade_wide")
def slot_tool(inspected: Inspected) -> Iterator[Finding]:
    """Slots of a width that the usual slotter has no knives for; silent where the machine profile lists its own.

    Why: A slotter cuts what its knives are ground to; any other width needs a die.
    Limit: slot_trade_narrow 6 mm (trade glossary, 1/4 in), slot_trade_wide 9 mm (trade glossary, 3/8 in); 0.6 mm to
        either side passes, so that the inch sizes do.
    Fails: 0201 300x200x150 C; slot_width=7.5
    Passes: 0201 300x200x150 C; slot_width=9
    """
    if not inspected.slotted or "slot" in inspected.machine.limits:
        return
    width = inspected.design.facts["slot width"]
    trade = [inspected.limits[name] for name in ("slot_trade_narrow", "slot_trade_wide")]
    nearest = min(trade, key=lambda limit: abs(limit.value - width))
    if abs(nearest.value - width) > _TRADE_SPREAD:
        yield Finding(
            "slot-tool",
            Severity.NOTE,
            "slots",
            f"the slots are {format_mm(width)} mm wide; slotter knives of the trade are {trade[0]} and {trade[1]}; "
            "have it die-cut, change slot_width, or list your knives in the machine file",
            width,
            nearest.value,
            nearest.source,
        )


@check("joint-gap", "joint_gap_least", "joint_gap_most")
def joint_gap(inspected: Inspected) -> Iterator[Finding]:
    """The gap between the two flaps beside the joint, out of what case erectors take.

    Where the board alone is thicker than the greatest gap, it is a note.

    Why: Under it the flaps bind when the case is squared up, over it the sucker of the erector misses, and the corner
        stays open.
    Limit: joint_gap_least 3 mm, joint_gap_most 12.5 mm (PMMI/FBA B155-TR2.1-2011).
    Fails: 0201 300x200x150 E; slot_width=2.5
    Passes: 0201 300x200x150 C
    """
    gap = inspected.design.facts.get("joint gap at the flaps")
    if gap is None or not inspected.board.corrugated:
        return
    for name, beyond in (("joint_gap_least", -1), ("joint_gap_most", 1)):
        limit = inspected.limits[name]
        if (gap - limit.value) * beyond > 1e-9:
            bound = "at least" if beyond < 0 else "at most"
            yield Finding(
                "joint-gap",
                Severity.NOTE if beyond > 0 and inspected.board.thickness >= limit.value else Severity.WARNING,
                "joint",
                f"the gap at the joint, between the flaps, is {format_mm(gap)} mm; {bound} {limit}; change slot_width",
                gap,
                limit.value,
                limit.source,
            )
