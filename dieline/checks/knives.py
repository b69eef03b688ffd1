"""Knives and creases: whether a die can be made with them, and whether what lies between them holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..blank import Fold
from ..drawing.strokes import Stroke
from ..units import format_mm
from .chords import Kind
from .model import Finding, Inspected, Severity, check
from .spacing import Facing

__all__: list[str] = []

_WEDGE = 10.0
"""Degrees. Knives that lean apart by more are mitred at their corner, as beside every bevelled flap."""

_LEAST_RUN = 10.0
"""mm. Two creases, or a crease and an edge, that run beside each other for less are a corner, not a strip."""


def _nearest(pairs: Iterable[Facing]) -> tuple[Facing | None, str]:
    """The nearest pair, and words for how many places there are."""
    places = list(pairs)
    count = len({pair.parts if pair.strokes[0] == pair.strokes[1] else pair.strokes for pair in places})
    return (places[0] if places else None), f", one of {count} such places" if count > 1 else ""


@check("knife-distance", "knife_distance", "knives_touching")
def knife_distance(inspected: Inspected) -> Iterator[Finding]:
    """Two knives with a narrow strip of board between them: cut-outs, slits, perforations, two parts of one outline.

    Why: Ejection rubber must stand between any two knives, or the board stays in the die; and so narrow a strip of
        board tears.
    Limit: knife_distance 2.38 mm (die maker, 3/32 in); under knives_touching 0.71 mm (die maker, 0.028 in) the rules
        themselves would meet.
    Fails: 0201 300x200x150 C; hand_holes=B; hand_hole_drop=23; vents=B; vent_count=1; vent_width=60; vent_height=25
    Passes: 0201 300x200x150 C; hand_holes=B; hand_hole_drop=19; vents=B; vent_count=1; vent_width=60; vent_height=25
    """
    limit = inspected.limits["knife_distance"]
    for number, spacing in enumerate(inspected.spacing):
        pair, others = _nearest(
            pair
            for pair in spacing.facing
            if pair.distance < limit.value and not pair.waste and Kind.CREASE not in pair.kinds
        )
        if pair is None:
            continue
        touching = inspected.limits["knives_touching"]
        meet = f", and under {touching} the rules themselves would meet" if pair.distance < touching.value else ""
        yield Finding(
            "knife-distance",
            Severity.WARNING,
            inspected.place(number, pair.place),
            f"two knives stand {format_mm(pair.distance)} mm apart{others}; rubber needs at least {limit}{meet}; "
            "move them apart, or leave one out",
            pair.distance,
            limit.value,
            limit.source,
        )


@check("narrow-slot", "slot_from_rule")
def narrow_slot(inspected: Inspected) -> Iterator[Finding]:
    """A slot, or another strip of waste between two knives, too narrow to be bent from cutting rule.

    A wedge that opens by 10 degrees or more is no slot: its knives are mitred in the corner. Nor is a place shorter
    than it would have to be wide.

    Why: The two rules of a hairpin slot meet; its waste stays in the pile and trips the sensors of the press.
    Limit: slot_from_rule 2.38 mm (die maker, 3/32 in).
    Fails: 0201 300x200x150 E; slot_width=2
    Passes: 0201 300x200x150 E
    """
    limit = inspected.limits["slot_from_rule"]
    for number, spacing in enumerate(inspected.spacing):
        pair, others = _nearest(
            pair
            for pair in spacing.facing
            if pair.waste and pair.distance < limit.value and pair.lean < _WEDGE and pair.overlap >= limit.value
        )
        if pair is not None:
            yield Finding(
                "narrow-slot",
                Severity.WARNING,
                inspected.place(number, pair.place),
                f"the waste between two knives is {format_mm(pair.distance)} mm wide{others}; a slot bent from rule "
                f"has at least {limit}; widen it, or make it a single cut",
                pair.distance,
                limit.value,
                limit.source,
            )


@check("crease-distance", "crease_apart_factor", "crease_rule_width")
def crease_distance(inspected: Inspected) -> Iterator[Finding]:
    """Two creases that run beside each other so near that each spoils the other.

    Two creases that turn a strip over by half a turn (a wall rolled over its own edge) are meant to be near; for them
    there is a note.

    Why: A creasing matrix has no room for two grooves there; a counter plate may, if both creases are meant.
    Limit: crease_apart_factor 2 times the board's calliper and crease_rule_width 1.42 mm (rule maker, 0.056 in)
        together; the factor is common practice without a source.
    Fails: 0201 300x200x150 C; hand_holes=B; hand_hole_left_in=yes; hand_hole_drop=5
    Passes: 0201 300x200x150 C; hand_holes=B; hand_hole_left_in=yes
    """
    least = inspected.crease_apart
    limit = inspected.limits["crease_apart_factor"]
    for number, spacing in enumerate(inspected.spacing):
        strokes = inspected.drawings[number].strokes
        folds = inspected.design.pieces[number].blank.folds
        near = [
            pair
            for pair in spacing.facing
            if pair.kinds == (Kind.CREASE, Kind.CREASE) and pair.distance < least and _runs_beside(pair)
        ]
        for meant in (False, True):
            pair, others = _nearest(pair for pair in near if _rolls_over(pair, strokes, folds) is meant)
            if pair is None:
                continue
            what = "the two creases of a rolled-over edge lie" if meant else "two creases lie"
            cure = "have them made as a double crease, on a counter plate" if meant else "move one of them"
            yield Finding(
                "crease-distance",
                Severity.NOTE if meant else Severity.WARNING,
                inspected.place(number, pair.place),
                f"{what} {format_mm(pair.distance)} mm apart{others}; a matrix needs at least {format_mm(least)} mm, "
                f"{format_mm(limit.value)} x (calliper + rule) ({limit.by}); {cure}",
                pair.distance,
                least,
                limit.source,
            )


def _runs_beside(pair: Facing) -> bool:
    return pair.parallel and pair.overlap >= min(_LEAST_RUN, pair.shorter / 2)


def _rolls_over(pair: Facing, strokes: tuple[Stroke, ...], folds: tuple[Fold, ...]) -> bool:
    """Whether two creases bound one strip and together turn what lies beyond it by half a turn."""
    by_name = {f"{fold.parent} – {fold.child}": fold for fold in folds}
    a, b = (by_name.get(strokes[number].name) for number in pair.strokes)
    if a is None or b is None:
        return False
    chained = a.child == b.parent or b.child == a.parent
    return chained and a.angle * b.angle > 0 and abs(a.angle + b.angle) >= 170.0


@check("crease-to-edge", "crease_to_edge_least", "knife_distance")
def crease_to_edge(inspected: Inspected) -> Iterator[Finding]:
    """A crease that runs beside a cut edge so near that the strip between them cannot be folded.

    Why: A narrow strip is crushed by the crease's own bead, springs off the line, and gives the folder nothing to hold.
    Limit: crease_to_edge_least 10 mm (common practice) on corrugated board; on solid board only rubber must fit beside
        the knife, knife_distance 2.38 mm (die maker, 3/32 in).
    Fails: 0209 300x200x150 C; short_flap=8
    Passes: 0209 300x200x150 C
    """
    least = inspected.crease_to_edge
    limit = inspected.limits["crease_to_edge_least" if inspected.board.corrugated else "knife_distance"]
    for number, spacing in enumerate(inspected.spacing):
        strokes = inspected.drawings[number].strokes
        pair, others = _nearest(
            pair
            for pair in spacing.facing
            if pair.distance < least
            and pair.kinds.count(Kind.CREASE) == 1
            and _runs_beside(pair)
            and strokes[pair.strokes[pair.kinds[0] == Kind.CREASE]].role.parts
        )
        if pair is not None:
            yield Finding(
                "crease-to-edge",
                Severity.WARNING,
                inspected.place(number, pair.place),
                f"a crease lies {format_mm(pair.distance)} mm from a cut edge{others}; at least {limit}; widen the "
                "strip",
                pair.distance,
                least,
                limit.source,
            )
