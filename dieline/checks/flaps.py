"""Flaps: whether they meet, leave a gap, or run into each other."""

from __future__ import annotations

from collections.abc import Iterator

from ..blank import Face, Role
from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []

_SAME = 1e-6
"""mm. Smaller gaps are rounding."""

_ENDS = ("bottom", "top")


def _layered(inspected: Inspected, ends: tuple[str, ...]) -> bool:
    """Whether one outer flap lies over the other: then three layers of flaps make the face, not two."""
    face = Face.TOP if "top" in ends else Face.BOTTOM
    return len({panel.k for _, panel in inspected.panels if panel.role is Role.FLAP and panel.face is face}) > 2


def _gaps(inspected: Inspected, which: str) -> Iterator[tuple[str, float, tuple[str, ...]]]:
    """The gaps of one kind of flap: where, how wide, and at which ends; both ends are one entry if they are alike."""
    facts = inspected.design.facts
    gaps = {end: facts[f"{end} {which} flap gap"] for end in _ENDS if f"{end} {which} flap gap" in facts}
    if len(gaps) == 2 and abs(gaps["bottom"] - gaps["top"]) < _SAME:
        yield "bottom and top flaps", gaps["bottom"], _ENDS
        return
    for end, gap in gaps.items():
        yield f"{end} flaps", gap, (end,)


@check("flap-gap", "flap_gap_taped", "flap_gap_meant")
def flap_gap(inspected: Inspected) -> Iterator[Finding]:
    """Outer flaps that should meet and leave a gap, for faces that must be shut.

    Why: Tape sags into a wide gap and lets dust in; where a gap is meant, so that the case sealer has play, it has a
        limit too.
    Limit: flap_gap_taped 3 mm (box maker), flap_gap_meant 6 mm (box maker) where the job asks for a gap.
    Fails: 0201 300x200x150 C; flap_gap=8
    Passes: 0201 300x200x150 C; flap_gap=3
    """
    taped, meant = inspected.limits["flap_gap_taped"], inspected.limits["flap_gap_meant"]
    shut = {closed.face.value for closed in inspected.design.closed}
    asked = "flap_gap" in inspected.order.given
    for place, gap, ends in _gaps(inspected, "outer"):
        if gap <= taped.value + _SAME or not shut.issuperset(ends) or _layered(inspected, ends):
            continue
        within = asked and gap <= meant.value + _SAME
        limit = meant if asked and not within else taped
        word = "tape bridges at most" if within else "at most"
        cure = "lower flap_gap" if asked else "lengthen the outer flaps in the house file"
        yield Finding(
            "flap-gap",
            Severity.NOTE if within else Severity.WARNING,
            place,
            f"the outer flaps leave a gap of {format_mm(gap)} mm; {word} {limit}; {cure}, or take wide tape",
            gap,
            limit.value,
            limit.source,
        )


@check("outer-flaps-collide", source="geometry: two flaps in one layer cannot lie in one place")
def outer_flaps_collide(inspected: Inspected) -> Iterator[Finding]:
    """Outer flaps that should meet and are together longer than the case is broad.

    Why: One flap rides on the other; the case closes with a step, and the sealer tears the tape.
    Limit: The gap must not be negative; geometry.
    Fails: 0201 300x200x150 C; house: top outer flap + 2
    Passes: 0202 300x200x150/40 C
    """
    for place, gap, ends in _gaps(inspected, "outer"):
        if gap < -_SAME and not _layered(inspected, ends):
            yield Finding(
                "outer-flaps-collide",
                Severity.ERROR,
                place,
                f"the outer flaps overlap by {format_mm(-gap)} mm where they should meet; the gap must be 0 mm or "
                "more; shorten them, or choose a style whose flaps overlap",
                gap,
                0.0,
                "geometry",
            )


@check("inner-flaps-collide", source="geometry: two flaps in one layer cannot lie in one place")
def inner_flaps_collide(inspected: Inspected) -> Iterator[Finding]:
    """Inner flaps that are together longer than the case; that they just meet is a note.

    Why: They run into each other before the outer ones are down, and the case bulges.
    Limit: Twice the inner flap must not be more than L from crease to crease; geometry.
    Fails: 0203 300x200x150 C; inner_flaps=equal
    Passes: 0203 400x150x150 C; inner_flaps=equal
    """
    for place, gap, ends in _gaps(inspected, "inner"):
        meets = abs(gap) <= _SAME
        if gap > _SAME or (meets and _cut_back(inspected, ends[0])):
            continue
        what = (
            "the inner flaps just meet: a whole inner layer, and no play"
            if meets
            else f"the inner flaps run into each other by {format_mm(-gap)} mm"
        )
        cure = "give them play with flap_gap if it binds" if meets else "set inner_flaps=fit, or shorten them"
        yield Finding(
            "inner-flaps-collide",
            Severity.NOTE if meets else Severity.ERROR,
            place,
            f"{what}; together they must be at most {format_mm(inspected.design.crease.length)} mm long, L from "
            f"crease to crease (geometry); {cure}",
            0.0 if meets else gap,
            0.0,
            "geometry",
        )


@check("inner-flaps-cut-back", source="geometry: see inner-flaps-collide")
def inner_flaps_cut_back(inspected: Inspected) -> Iterator[Finding]:
    """Inner flaps that were cut back because they would have run into each other.

    Why: A slotter makes all flaps of one end alike; flaps of two lengths need a die, or a second trim.
    Limit: Inner flaps of the outer ones' length must not be longer than half of L from crease to crease; geometry.
    Fails: 0203 300x200x150 C
    Passes: 0201 300x200x150 C
    """
    for place, _, ends in _gaps(inspected, "inner"):
        lengths = _cut_back(inspected, ends[0])
        if lengths:
            inner, outer = lengths
            yield Finding(
                "inner-flaps-cut-back",
                Severity.NOTE,
                place,
                f"the inner flaps are cut back from {format_mm(outer)} to {format_mm(inner)} mm so that they do not "
                "run into each other (geometry); flaps of two lengths need a die; shorten the outer ones if you have "
                "none",
                inner,
                outer,
                "geometry",
            )


def _cut_back(inspected: Inspected, end: str) -> tuple[float, float] | None:
    """Length of inner flaps that were cut back, and what they would have been, mm; None where nothing was cut."""
    if inspected.order.options.get("inner_flaps") != "fit":
        return None
    lines = {line.name: line for line in inspected.design.sizes}
    inner, outer = lines.get(f"{end} inner flap"), lines.get(f"{end} outer flap")
    if inner is None or outer is None or "cut back from" not in inner.derivation:
        return None
    return inner.value, max(outer.value, inner.value)
