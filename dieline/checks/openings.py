"""Hand holes, vents and tear strips."""

from __future__ import annotations

from collections.abc import Iterator

from ..blank import Face, Panel
from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []

_SAME = 1e-6
_SLIT = 8.0
"""mm. A narrower opening is a slot for a tongue, or a slit: it takes next to nothing from a wall."""


def _hand_holes(inspected: Inspected) -> Iterator[tuple[str, Panel, float, float]]:
    """Each wall with a hand hole, and the size of the hole."""
    for name, panel, what, (x0, y0, x1, y1) in inspected.openings:
        if what == "hand hole":
            yield name, panel, x1 - x0, y1 - y0


@check(
    "hand-hole-size",
    "hand_hole_width_least",
    "hand_hole_height_least",
    "hand_hole_width_best",
    "hand_hole_height_best",
)
def hand_hole_size(inspected: Inspected) -> Iterator[Finding]:
    """A hand hole that a hand does not fit into; one that a gloved hand does not fit into is a note.

    Why: Fingers that have no room lift with their tips, and the load slips; the edge cuts.
    Limit: hand_hole_width_least 90 mm and hand_hole_height_least 30 mm (box tooling maker); best are
        hand_hole_width_best 115 mm and hand_hole_height_best 38 mm (NIOSH).
    Fails: 0201 300x200x150 C; hand_holes=B; hand_hole_width=80
    Passes: 0201 300x200x150 C; hand_holes=B
    """
    found = next(_hand_holes(inspected), None)
    if found is None:
        return
    name, _, width, height = found
    for way, measured in (("width", width), ("height", height)):
        least, best = inspected.limits[f"hand_hole_{way}_least"], inspected.limits[f"hand_hole_{way}_best"]
        if measured >= best.value - _SAME:
            continue
        small = measured < least.value - _SAME
        limit, word = (least, "at least") if small else (best, "best is")
        side = "long" if way == "width" else "high"
        yield Finding(
            "hand-hole-size",
            Severity.WARNING if small else Severity.NOTE,
            name,
            f"the hand hole is {format_mm(measured)} mm {side}; {word} {limit}; change hand_hole_{way}",
            measured,
            limit.value,
            limit.source,
        )


@check("hand-hole-board", "hand_hole_board_least")
def hand_hole_board(inspected: Inspected) -> Iterator[Finding]:
    """A hand hole in board so thin that its edge cuts into the hand.

    Why: The load hangs on the edge of the board; a thin edge hurts and tears.
    Limit: hand_hole_board_least 6 mm (NIOSH), which is double-wall board; a flap left in (hand_hole_left_in) folds
        inward and doubles the edge, so then it is a note.
    Fails: 0201 300x200x150 C; hand_holes=B
    Passes: 0201 300x200x150 BC; hand_holes=B
    """
    limit, calliper = inspected.limits["hand_hole_board_least"], inspected.board.calliper.value
    if calliper >= limit.value:
        return
    found = next(_hand_holes(inspected), None)
    if found is None:
        return
    left_in = not found[1].holes
    cure = "the flap left in doubles the edge"
    if not left_in:
        cure = "take double-wall board, or leave the flap in: hand_hole_left_in"
    yield Finding(
        "hand-hole-board",
        Severity.NOTE if left_in else Severity.WARNING,
        found[0],
        f"the board is {format_mm(calliper)} mm thick at the hand hole; at least {limit}; {cure}",
        calliper,
        limit.value,
        limit.source,
    )


@check("hand-hole-case", "hand_hole_front_most", "hand_hole_case_height_most")
def hand_hole_case(inspected: Inspected) -> Iterator[Finding]:
    """A case with hand holes that is too long from hand to hand, or too tall, to be gripped well.

    Why: Arms spread wide or a case that reaches over the knees make a safe load unsafe.
    Limit: hand_hole_front_most 400 mm between the hands, hand_hole_case_height_most 300 mm (NIOSH); outside sizes.
    Fails: 0201 450x200x150 C; hand_holes=B
    Passes: 0201 450x200x150 C; hand_holes=L
    """
    faces = {panel.face for _, panel, _, _ in _hand_holes(inspected)}
    if not faces:
        return
    length, breadth, height = inspected.folded.outside
    ends = faces & {Face.LEFT, Face.RIGHT}
    reach = min(([length] if ends else []) + ([breadth] if faces - ends else []))
    for name, measured, what, cure in (
        ("hand_hole_front_most", reach, "long from hand to hand", "put the hand holes on the other walls"),
        ("hand_hole_case_height_most", height, "tall", "make it lower"),
    ):
        limit = inspected.limits[name]
        if measured > limit.value:
            yield Finding(
                "hand-hole-case",
                Severity.NOTE,
                "hand holes",
                f"the case is {format_mm(measured)} mm {what}; gripped well up to {limit}; {cure}, or have two people "
                "lift it",
                measured,
                limit.value,
                limit.source,
            )


@check("opening-place", "opening_margin_least")
def opening_place(inspected: Inspected) -> Iterator[Finding]:
    """A hand hole or a vent too near to a crease or an edge of its wall.

    Why: The wall folds at the hole instead of at the crease, and a hand tears the strip out.
    Limit: opening_margin_least 15 mm (common practice).
    Fails: 0201 300x200x150 C; hand_holes=B; hand_hole_drop=5
    Passes: 0201 300x200x150 C; hand_holes=B
    """
    limit = inspected.limits["opening_margin_least"]
    places: dict[tuple[str, float], list[str]] = {}
    for name, panel, what, (x0, y0, x1, y1) in inspected.openings:
        low_x, low_y, high_x, high_y = panel.outline.bounds
        margin = round(min(x0 - low_x, y0 - low_y, high_x - x1, high_y - y1), 6)
        places.setdefault((what, margin), []).append(name)
    for (what, margin), names in places.items():
        if margin < limit.value - _SAME:
            yield Finding(
                "opening-place",
                Severity.WARNING,
                ", ".join(sorted(set(names))),
                f"the {what} comes within {format_mm(margin)} mm of a crease or an edge; at least {limit}; move it or "
                "make it smaller",
                margin,
                limit.value,
                limit.source,
            )


@check("openings-weaken", "opening_loss_low", "opening_loss_high")
def openings_weaken(inspected: Inspected) -> Iterator[Finding]:
    """Any wall with a cut-out at least 8 mm wide: said every time, because it costs more strength than people think.

    Why: The stack is carried by the walls; what is cut out of them carries nothing.
    Limit: 10 to 40 % of the stacking strength was lost: opening_loss_low 10 %, opening_loss_high 40 % (measured, Cal
        Poly).
    Fails: 0201 300x200x150 C; vents=L
    Passes: 0201 300x200x150 C; tear_strip=yes
    """
    walls = sorted({name for name, _, _, (x0, y0, x1, y1) in inspected.openings if min(x1 - x0, y1 - y0) >= _SLIT})
    if walls:
        low, high = inspected.limits["opening_loss_low"], inspected.limits["opening_loss_high"]
        yield Finding(
            "openings-weaken",
            Severity.WARNING,
            ", ".join(walls),
            f"cut-outs in {len(walls)} of {len(inspected.walls)} walls; {format_mm(low.value)} to {high} of the "
            "stacking strength was lost to hand holes and vents; deduct it, or test a sample",
            None,
            high.value,
            high.source,
        )


@check("tear-strip", source="research on tear strips: Matsumoto et al., scite; J-STAGE spstj 30")
def tear_strip(inspected: Inspected) -> Iterator[Finding]:
    """A tear strip: there is no rule that makes one right.

    Why: A strip across the grain or with long ties tears out of its track; one with short ties opens on the road.
    Limit: none is published; research found no standard geometry.
    Fails: 0201 300x200x150 C; tear_strip=yes
    Passes: 0201 300x200x150 C
    """
    walls = sorted(name for name, panel in inspected.walls if any("tear" in mark.name for mark in panel.marks))
    if walls:
        yield Finding(
            "tear-strip",
            Severity.NOTE,
            ", ".join(walls),
            "the case has a tear strip; no standard geometry exists (research); test the perforation on a sample of "
            "the board of the run",
            source="Matsumoto et al., scite; J-STAGE spstj 30",
        )
