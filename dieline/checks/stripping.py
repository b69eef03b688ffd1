"""Waste and corners: what falls out of the die, and what a rule cannot be bent round."""

from __future__ import annotations

from collections.abc import Iterator

from ..units import format_mm
from .chords import Loop
from .model import Finding, Inspected, Severity, check
from .waste import WastePiece, least_width

__all__: list[str] = []

_WASTE = {
    True: ("a cut-out has", "cut-outs have as little as"),
    False: ("a notch in the outline has", "notches in the outline have as little as"),
}


@check("small-waste", "waste_area_least")
def small_waste(inspected: Inspected) -> Iterator[Finding]:
    """Pieces of waste so small that they are not stripped reliably.

    Pieces cut out all round are a warning; notches in the outline hang on the trim, where there is any, and are a note.

    Why: Loose small waste stays in the pile, gets into the box, and trips the sensors of the press.
    Limit: waste_area_least 30 mm² (common practice).
    Fails: 0201 300x200x150 C; vents=L; vent_width=5
    Passes: 0201 300x200x150 C; vents=L
    """
    limit = inspected.limits["waste_area_least"]
    for number, pieces in enumerate(inspected.waste):
        for inner in (True, False):
            small = [piece for piece in pieces if piece.area < limit.value and piece.inner is inner]
            if not small:
                continue
            least = min(small, key=lambda piece: round(piece.area, 6))
            one, several = _WASTE[inner]
            which = one if len(small) == 1 else f"{len(small)} {several}"
            yield Finding(
                "small-waste",
                Severity.WARNING if inner else Severity.NOTE,
                inspected.place(number, least.place),
                f"{which} {format_mm(least.area, 1)} mm² of waste; at least {limit} is stripped without trouble; "
                "enlarge or join them, or order stripping pins",
                least.area,
                limit.value,
                limit.source,
            )


@check("small-hole", "punch_sprung", "punch_side_out")
def small_hole(inspected: Inspected) -> Iterator[Finding]:
    """A round hole too small for a sprung punch.

    Why: A smaller hole takes a side-outlet punch, which must be emptied, or a drill; rule cannot be bent so tight.
    Limit: punch_sprung 2.38 mm (die maker, 3/32 in); punch_side_out 0.79 mm (die maker, 1/32 in) is the smallest there
        is.
    Fails: 0201 300x200x150 C; vents=L; vent_width=3; limits: punch_sprung = 3.5
    Passes: 0201 300x200x150 C; vents=L; vent_width=3
    """
    limit, smallest = inspected.limits["punch_sprung"], inspected.limits["punch_side_out"]
    for number, pieces in enumerate(inspected.waste):
        spacing = inspected.spacing[number]
        across = {part for pair in spacing.facing if pair.waste for part in pair.parts}
        holes: list[tuple[float, WastePiece]] = []
        for piece in pieces:
            # No shape is narrower than its area over its length, and its length is at most 1.5 of the upright side.
            if piece.inner and piece.area < limit.value * piece.across * 1.5 and not piece.parts & across:
                width = least_width(piece, spacing)
                if width < limit.value:
                    holes.append((width, piece))
        if not holes:
            continue
        width, least = min(holes, key=lambda entry: round(entry[0], 6))
        tool = "no punch is so small" if width < smallest.value else f"a side-outlet punch goes down to {smallest}"
        yield Finding(
            "small-hole",
            Severity.WARNING,
            inspected.place(number, least.place),
            f"{'a hole is' if len(holes) == 1 else f'{len(holes)} holes are down to'} {format_mm(width)} mm across; "
            f"a sprung punch needs {limit}, {tool}; enlarge or drop them",
            width,
            limit.value,
            limit.source,
        )


@check("sharp-corners", "rule_bend_radius")
def sharp_corners(inspected: Inspected) -> Iterator[Finding]:
    """How many inner corners of the board have no radius.

    Why: Rule is butted at a sharp inner corner, which opens in use; and the board tears from there. On a slotter the
        slots are square anyway.
    Limit: rule_bend_radius 5 mm (craft die maker) is what rule bends to with ease; die makers bend tighter.
    Fails: 0201 300x200x150 C
    Passes: 0200/0200 300x200x150 C; joint=taped
    """
    limit = inspected.limits["rule_bend_radius"]
    count = sum(_sharp(loop) for spacing in inspected.spacing for loop in spacing.loops)
    if count:
        slots = inspected.order.options.get("slot_end") == "square"
        yield Finding(
            "sharp-corners",
            Severity.NOTE,
            "all pieces" if len(inspected.drawings) > 1 else inspected.drawings[0].name,
            f"{count} inner corners have no radius; rule bends with ease to {limit}"
            + ("; slot_end=round rounds the ends of the slots" if slots else "; round them where the die is bent"),
            None,
            limit.value,
            limit.source,
        )


def _sharp(loop: Loop) -> int:
    """Corners of a closed cut where two straight lines turn toward the board by more than 30°."""
    points, arcs = loop.points, loop.arcs
    if len(points) < 3 or all(arcs):
        return 0
    count = 0
    (ax, ay), (bx, by) = points[-2], points[-1]
    ux, uy = bx - ax, by - ay
    for i, (cx, cy) in enumerate(points):
        vx, vy = cx - bx, cy - by
        cross = ux * vy - uy * vx
        if cross < 0 and not (arcs[i - 1] or arcs[i - 2]):
            both = (ux * ux + uy * uy) * (vx * vx + vy * vy)
            if cross * cross > 0.25 * both or ux * vx + uy * vy < 0:
                count += 1
        bx, by, ux, uy = cx, cy, vx, vy
    return count
