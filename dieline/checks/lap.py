"""The lap and the joint that the box maker closes with it."""

from __future__ import annotations

from collections.abc import Iterator

from ..blank import JointKind
from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []


def _lap(inspected: Inspected) -> float | None:
    """Width of the lap of a corrugated case, mm; None where there is none."""
    return inspected.design.facts.get("lap width") if inspected.board.corrugated else None


def _joint(inspected: Inspected) -> JointKind | None:
    """How the tube is closed by its maker."""
    for piece in inspected.design.pieces:
        for joint in piece.blank.joints:
            return joint.kind
    return None


@check("lap-width", "lap_width_least", "lap_width_preferred")
def lap_width(inspected: Inspected) -> Iterator[Finding]:
    """A lap of a corrugated case too narrow to hold.

    Why: The lap must take the glue line and its spread; a narrow one peels when the case is squared up.
    Limit: lap_width_least 25 mm (box maker); under lap_width_preferred 30 mm (box maker) there is a note.
    Fails: 0201 300x200x150 C; lap_width=20
    Passes: 0201 300x200x150 C
    """
    width = _lap(inspected)
    least, preferred = inspected.limits["lap_width_least"], inspected.limits["lap_width_preferred"]
    if width is None or width >= preferred.value:
        return
    narrow = width < least.value
    limit, word = (least, "at least") if narrow else (preferred, "preferred is at least")
    yield Finding(
        "lap-width",
        Severity.WARNING if narrow else Severity.NOTE,
        "lap",
        f"the lap is {format_mm(width)} mm wide; {word} {limit}; widen lap_width",
        width,
        limit.value,
        limit.source,
    )


@check("lap-standard", "lap_gost_least", "lap_gost_most")
def lap_standard(inspected: Inspected) -> Iterator[Finding]:
    """A lap of a corrugated case outside the standard's range.

    Why: A buyer who orders by the standard will refuse it; a lap that is too wide wastes board and lifts.
    Limit: lap_gost_least 20 mm, lap_gost_most 50 mm (GOST 9142-2014).
    Fails: 0201 300x200x150 C; lap_width=60
    Passes: 0201 300x200x150 C
    """
    width = _lap(inspected)
    if width is None:
        return
    for name, beyond in (("lap_gost_least", -1), ("lap_gost_most", 1)):
        limit = inspected.limits[name]
        if (width - limit.value) * beyond > 1e-9:
            bound = "at least" if beyond < 0 else "at most"
            yield Finding(
                "lap-standard",
                Severity.NOTE,
                "lap",
                f"the lap is {format_mm(width)} mm wide; {bound} {limit} is standard; change lap_width",
                width,
                limit.value,
                limit.source,
            )


@check("lap-us-carrier", "lap_us_carrier_least")
def lap_us_carrier(inspected: Inspected) -> Iterator[Finding]:
    """A glued lap under what US road and rail freight asks for.

    Why: The maker's certificate printed on the case may not be used, and the carrier may refuse claims.
    Limit: lap_us_carrier_least 31.75 mm (Item 222, 1 1/4 in).
    Fails: 0201 300x200x150 C; lap_width=30
    Passes: 0201 300x200x150 C
    """
    width, limit = _lap(inspected), inspected.limits["lap_us_carrier_least"]
    if width is not None and _joint(inspected) is JointKind.GLUED and width < limit.value - 1e-9:
        yield Finding(
            "lap-us-carrier",
            Severity.NOTE,
            "lap",
            f"the lap is {format_mm(width)} mm wide; US freight asks for at least {limit}; widen lap_width if it goes "
            "there",
            width,
            limit.value,
            limit.source,
        )


@check("lap-stitched", "lap_stitched_least", "stitch_spacing_most", "stitch_end_most")
def lap_stitched(inspected: Inspected) -> Iterator[Finding]:
    """A stitched joint: its lap too narrow for the stitches is a warning, where the stitches must stand is a note.

    Why: A stitch near the edge of the lap tears out; one far from the next lets the joint gape.
    Limit: lap_stitched_least 35 mm (box tooling maker), stitch_spacing_most 55 mm (box maker), stitch_end_most 25 mm
        (box maker).
    Fails: 0201 300x200x150 C; joint=stitched; lap_width=30
    Passes: 0201 300x200x150 C
    """
    if _joint(inspected) is not JointKind.STITCHED:
        return
    width, limit = _lap(inspected), inspected.limits["lap_stitched_least"]
    if width is not None and width < limit.value:
        yield Finding(
            "lap-stitched",
            Severity.WARNING,
            "lap",
            f"the stitched lap is {format_mm(width)} mm wide; usual is at least {limit}; widen lap_width",
            width,
            limit.value,
            limit.source,
        )
    spacing, end = inspected.limits["stitch_spacing_most"], inspected.limits["stitch_end_most"]
    yield Finding(
        "lap-stitched",
        Severity.NOTE,
        "lap",
        f"the joint is stitched; set the stitches at most {spacing} apart, the first and the last at most {end} from "
        "the ends of the joint",
        None,
        spacing.value,
        spacing.source,
    )


@check("lap-bevel", "lap_bevel_most")
def lap_bevel(inspected: Inspected) -> Iterator[Finding]:
    """The ends of the lap lean back too steeply.

    Why: The bevel takes away glue line where the joint is loaded most, at its ends.
    Limit: lap_bevel_most 55° (GOST 9142-2014).
    Fails: 0201 300x200x150 C; lap_bevel=40; limits: lap_bevel_most = 30
    Passes: 0201 300x200x150 C; lap_bevel=40
    """
    bevel = inspected.order.options.get("lap_bevel")
    limit = inspected.limits["lap_bevel_most"]
    if _lap(inspected) is not None and isinstance(bevel, float | int) and bevel > limit.value + 1e-9:
        yield Finding(
            "lap-bevel",
            Severity.WARNING,
            "lap",
            f"the lap's ends lean back by {format_mm(bevel)}°; at most {limit}; lower lap_bevel",
            bevel,
            limit.value,
            limit.source,
        )


@check("lap-cut", "lap_cut_most")
def lap_cut(inspected: Inspected) -> Iterator[Finding]:
    """The lap cut back too far from the flap crease.

    The lap must keep clear of the flaps that close over its end, which takes a board thickness; what thick board and
    the ordinary play take is a note.

    Why: The corner of the case is held by nothing there, and dust and fingers get in.
    Limit: lap_cut_most 5 mm (box maker).
    Fails: 0201 300x200x150 C; lap_play=4
    Passes: 0201 300x200x150 C
    """
    cut = inspected.design.facts.get("lap cut below the crease") if _lap(inspected) is not None else None
    limit = inspected.limits["lap_cut_most"]
    if cut is None or cut <= limit.value + 1e-9:
        return
    play = inspected.order.options.get("lap_play", 0.0)
    board = cut - (play if isinstance(play, float | int) else 0.0)
    asked = "lap_play" in inspected.order.given
    cure = "lower lap_play"
    if board >= limit.value:
        cure = f"the board alone takes {format_mm(board)} mm; lower lap_play, or glue an extended lap"
    yield Finding(
        "lap-cut",
        Severity.WARNING if asked and board < limit.value else Severity.NOTE,
        "lap",
        f"the lap ends {format_mm(cut)} mm from the flap crease; at most {limit}; {cure}",
        cut,
        limit.value,
        limit.source,
    )


@check("low-case-lap", "extended_lap_depth")
def low_case_lap(inspected: Inspected) -> Iterator[Finding]:
    """A low single-wall case whose lap is not extended on to the flaps.

    Why: On a short joint the ends of the lap lift; a lap that runs on and is glued to the flaps holds them down.
    Limit: extended_lap_depth 305 mm (box maker).
    Fails: 0201 300x200x150 C
    Passes: 0201 400x300x310 C
    """
    limit = inspected.limits["extended_lap_depth"]
    depth = inspected.design.inside.height
    if (
        inspected.slotted
        and inspected.board.wall == "single"
        and _joint(inspected) is JointKind.GLUED
        and depth < limit.value
    ):
        yield Finding(
            "low-case-lap",
            Severity.NOTE,
            "lap",
            f"the case is {format_mm(depth)} mm deep; under {limit} the lap of a single-wall case is often extended "
            "and glued to the flaps; ask for it if the joint lifts",
            depth,
            limit.value,
            limit.source,
        )


@check("glued-mass", "glued_mass_most")
def glued_mass(inspected: Inspected) -> Iterator[Finding]:
    """Contents too heavy for a glued joint.

    Why: The joint is what bursts first when a heavy case is dropped on its edge.
    Limit: glued_mass_most 30 kg (box maker).
    Fails: 0201 300x200x150 BC; mass 32 kg
    Passes: 0201 300x200x150 BC; mass 32 kg; joint=stitched
    """
    limit, mass = inspected.limits["glued_mass_most"], inspected.mass
    if mass is not None and mass > limit.value and _joint(inspected) is JointKind.GLUED:
        yield Finding(
            "glued-mass",
            Severity.WARNING,
            "joint",
            f"the contents weigh {format_mm(mass)} kg; glue is preferred up to {limit}; set joint=stitched or "
            "joint=taped",
            mass,
            limit.value,
            limit.source,
        )
