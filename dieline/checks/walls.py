"""The walls: square, in proportion, with their flutes upright, and the hand of the knocked-down case."""

from __future__ import annotations

from collections.abc import Iterator

from ..blank import Face, Joint, JointKind, Role
from ..style.design import Piece
from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []

_OPPOSITE = {Face.FRONT: Face.BACK, Face.BACK: Face.FRONT, Face.LEFT: Face.RIGHT, Face.RIGHT: Face.LEFT}


@check("out-of-square", "square_most", "square_strength_loss")
def out_of_square(inspected: Inspected) -> Iterator[Finding]:
    """Panels 1 and 3, or 2 and 4, that differ by more than the joint itself asks, so that the tube is no rectangle.

    Why: The case leans; erectors reject it, and it loses about square_strength_loss 30 % (makers of packing machines)
        of its stacking strength.
    Limit: square_most 1.5 mm (PMMI/FBA B155-TR2.2-2011).
    Fails: 0201 300x200x150 C; house: panel 3 width + 3
    Passes: 0201 300x200x150 C; house: panel 1 width + 1; house: panel 3 width + 1
    """
    limit, loss = inspected.limits["square_most"], inspected.limits["square_strength_loss"]
    for number, piece in enumerate(inspected.design.pieces):
        for joint in piece.blank.joints:
            miss, names = _miss(piece, joint, inspected.board.thickness)
            if miss > limit.value + 1e-9:
                yield Finding(
                    "out-of-square",
                    Severity.WARNING,
                    " and ".join(sorted(inspected.panel_name(number, name) for name in names)),
                    f"opposite panels differ by {format_mm(miss)} mm more than the joint asks; at most {limit}; a "
                    f"case out of square loses about {loss} of its strength; change the house sizes of both panels "
                    "alike",
                    miss,
                    limit.value,
                    limit.source,
                )


def _miss(piece: Piece, joint: Joint, t: float) -> tuple[float, tuple[str, str]]:
    """By how much two opposite walls of a tube differ beyond what its joint asks, the worse pair, and which two, mm.

    The wall that the joint hangs on is half a board short, so that the lap lies inside the last wall (or the edges
    meet under the tape); with the lap outside it is a board long and the last wall half a board short.
    """
    blank = piece.blank
    walls = {panel.face: panel for panel in blank.panels if panel.role is Role.WALL and panel.face is not None}
    parents = {fold.child: fold.parent for fold in blank.folds}
    taped = joint.kind is JointKind.TAPED
    first = blank.by_name[joint.b if taped else parents.get(joint.a, joint.a)]
    last = blank.by_name[joint.a if taped else joint.b]
    if first is last or last.role is not Role.WALL or parents.get(first.name) == parents.get(last.name):
        return 0.0, (first.name, last.name)  # a web on its own wall, or both on a base: no tube
    across = 0 if _upright(piece) == "y" else 1
    worst = 0.0, (first.name, last.name)
    more = (-t / 2, t / 2) if taped else (t, -t / 2) if joint.a_inside else (-t / 2, 0.0)
    for wall, extra in zip((first, last), more, strict=True):
        other = walls.get(_OPPOSITE[wall.face]) if wall.face in _OPPOSITE and wall.role is Role.WALL else None
        if other is not None:
            worst = max(worst, (abs(wall.size[across] - other.size[across] - extra), (wall.name, other.name)))
    return worst


@check("proportions", "ratio_length_most", "ratio_height_least", "ratio_height_most", "height_agreed")
def proportions(inspected: Inspected) -> Iterator[Finding]:
    """A slotted case out of the proportions that the standard allows.

    Why: Long, flat or tall cases bulge, warp and run badly on slotters and erectors; a buyer who orders by the standard
        must agree first.
    Limit: ratio_length_most 2.5 for L : B; ratio_height_least 0.5 and ratio_height_most 2 for H : B; height_agreed
        100 mm (GOST 9142).
    Fails: 0201 600x200x90 C
    Passes: 0201 300x200x150 C
    """
    if not inspected.slotted:
        return
    length, breadth, height, _ = inspected.design.inside
    for measured, name, beyond, what in (
        (length / breadth, "ratio_length_most", 1, "L : B is"),
        (height / breadth, "ratio_height_least", -1, "H : B is"),
        (height / breadth, "ratio_height_most", 1, "H : B is"),
        (height, "height_agreed", -1, "H is"),
    ):
        limit = inspected.limits[name]
        if (measured - limit.value) * beyond <= 1e-9:
            continue
        unit = " mm" if limit.unit == "mm" else ""
        bound = "at most" if beyond > 0 else "at least"
        yield Finding(
            "proportions",
            Severity.NOTE,
            "size",
            f"{what} {format_mm(measured)}{unit}; {bound} {limit} unless maker and buyer agree; change the "
            "proportions if the standard is to be met",
            measured,
            limit.value,
            limit.source,
        )


@check("flutes-across", source="flutes run along H in 02xx: trade association, wellpappe-wissen.de")
def flutes_across(inspected: Inspected) -> Iterator[Finding]:
    """Flutes that lie flat in the upright walls of a case.

    Why: Board carries several times more along its flutes than across; and creases along the flutes crush or crack.
    Limit: flutes along H in slotted cases; trade association.
    Fails: 0201 300x200x150 C; flutes=horizontal
    Passes: 0201 300x200x150 C
    """
    if not inspected.board.corrugated:
        return
    for number, piece in enumerate(inspected.design.pieces):
        if piece.blank.flutes != _upright(piece):
            yield Finding(
                "flutes-across",
                Severity.WARNING,
                inspected.panel_name(number, "walls") if len(inspected.design.pieces) > 1 else "walls",
                "the flutes lie across the walls that carry the stack; they must run along H (trade association); set "
                "flutes=vertical, or do not stack it",
                source="trade association, wellpappe-wissen.de",
            )


def _upright(piece: Piece) -> str:
    """The direction in a blank of walls in a row, ``x`` or ``y``, that stands upright in the box; its own otherwise."""
    root, blank = piece.blank.panels[0], piece.blank
    walls = sum(panel.role is Role.WALL for panel in blank.panels)
    if root.role is not Role.WALL or walls < 3 or not any(joint.kind is not JointKind.LOCKED for joint in blank.joints):
        return blank.flutes
    if abs(piece.stand.v[2]) > 0.9:
        return "y"
    return "x" if abs(piece.stand.u[2]) > 0.9 else blank.flutes


@check("folded-hand", source="packing-machine maker, douglas-machine.com/standards-definitions")
def folded_hand(inspected: Inspected) -> Iterator[Finding]:
    """Which hand the knocked-down case is, and which panel carries the joint.

    Why: A case erector is built for one hand; the other hand feeds upside down and jams.
    Limit: right-hand when the longer panel shows on the right, print side up; packing-machine maker.
    Fails: 0201 300x200x150 C
    Passes: 0201 200x200x150 C
    """
    hand = inspected.design.hand
    if not hand:
        return
    place, joint = next(_joint_panels(inspected), ("joint", ""))
    yield Finding(
        "folded-hand",
        Severity.NOTE,
        place,
        f"knocked down, print side up, the longer panel shows on the {hand}: a {hand}-hand case (packing-machine maker)"
        f"{joint}; change lap_end or lap_on for the other hand",
        source="packing-machine maker, douglas-machine.com/standards-definitions",
    )


def _joint_panels(inspected: Inspected) -> Iterator[tuple[str, str]]:
    """The panel that each joint hangs on, and words for it."""
    for number, piece in enumerate(inspected.design.pieces):
        blank = piece.blank
        parents = {fold.child: fold.parent for fold in blank.folds}
        for joint in blank.joints:
            a, b = blank.by_name[joint.a], blank.by_name[joint.b]
            if a.role is Role.LAP:
                a = blank.by_name[parents[joint.a]]
            kinds = ["an L panel" if panel.face in (Face.FRONT, Face.BACK) else "a B panel" for panel in (a, b)]
            names = [inspected.panel_name(number, panel.name) for panel in (a, b)]
            if joint.kind is JointKind.TAPED:
                yield names[1], f"; the tape joins {names[1]} ({kinds[1]}) and {names[0]} ({kinds[0]})"
            else:
                yield names[0], f"; the joint hangs on {names[0]} ({kinds[0]})"


@check("inside-stretched", "inside_short")
def inside_stretched(inspected: Inspected) -> Iterator[Finding]:
    """House sizes or rounding that make the inside larger or smaller than the size asked for.

    Why: Goods that fit the size asked for may not fit the box, or rattle in it.
    Limit: none, the difference is stated; a warning where the inside is smaller by more than
    inside_short 0.5 mm (common practice).
    Fails: 0201 300x200x150 C; house: panel height + 2
    Passes: 0201 300x200x150 C
    """
    changed = [
        f"{name} {format_mm(abs(value))} mm {'larger' if value > 0 else 'smaller'}"
        for name, value in zip("LBH", inspected.design.stretch, strict=True)
        if abs(value) > 0.005
    ]
    if changed:
        short = min(inspected.design.stretch) < -inspected.limits["inside_short"].value
        yield Finding(
            "inside-stretched",
            Severity.WARNING if short else Severity.NOTE,
            "size",
            f"house sizes or rounding make the inside {', '.join(changed)} than asked; the derivation of each size "
            "says why; take the entry out of the house file if it is not meant",
            max(inspected.design.stretch, key=abs),
            0.0,
            "the house file",
        )
