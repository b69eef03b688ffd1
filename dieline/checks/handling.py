"""What people lift, and what the board's numbers rest on."""

from __future__ import annotations

from collections.abc import Iterator

from ..units import format_mm
from .model import Finding, Inspected, Severity, check

__all__: list[str] = []

_TRUSTED = ("standard", "definition", "house")
"""Confidences of a calliper that need no word: a standard's, the board's own name, the plant's own measurement."""


@check("too-heavy", "mass_for_one_low", "mass_for_one_high")
def too_heavy(inspected: Inspected) -> Iterator[Finding]:
    """A filled box too heavy for one person to lift; the box's own mass is counted where the board's grammage is known.

    Why: Backs, and boxes that are dropped because nobody can hold them.
    Limit: over mass_for_one_low 18 kg (ASTM D6804, 40 lb) a note, over mass_for_one_high 23 kg (ASTM D6804, 50 lb) a
        warning; local lifting rules go before both.
    Fails: 0201 300x200x150 C; mass 24 kg
    Passes: 0201 300x200x150 C; mass 12 kg
    """
    if inspected.mass is None:
        return
    own = 0.0
    grammage = inspected.board.grammage
    if grammage is not None:
        own = sum(piece.blank.area * piece.count for piece in inspected.design.pieces) * grammage.value / 1e9
    total = inspected.mass + own
    low, high = inspected.limits["mass_for_one_low"], inspected.limits["mass_for_one_high"]
    if total <= low.value:
        return
    heavy = total > high.value
    limit = high if heavy else low
    box = f", {format_mm(own)} kg of it the box" if own else ""
    yield Finding(
        "too-heavy",
        Severity.WARNING if heavy else Severity.NOTE,
        "contents",
        f"the filled box weighs {format_mm(total)} kg{box}; one person lifts at most {limit}; pack less, or mark it "
        "for two people, and follow the local lifting rules",
        total,
        limit.value,
        limit.source,
    )


@check("board-source", source="the board library")
def board_source(inspected: Inspected) -> Iterator[Finding]:
    """A board whose calliper is neither from a standard nor the plant's own.

    Why: Every size of the blank is worked out with it; half a millimetre of board is a whole one in the inside size.
    Limit: none; what the calliper rests on is stated.
    Fails: 0201 300x200x150 C
    Passes: 0201 300x200x150 C; board: calliper = 4.1
    """
    board = inspected.board
    given = board.calliper
    if given.confidence not in _TRUSTED:
        yield Finding(
            "board-source",
            Severity.NOTE,
            f"board {board.name}",
            f"its calliper of {format_mm(given.value)} mm rests on: {given.source} ({given.confidence}); measure your "
            "own board and put it in a board file",
            given.value,
            None,
            given.source,
        )


@check("crease-give", source="the give of the board, in the board library or the house file")
def crease_give(inspected: Inspected) -> Iterator[Finding]:
    """A crease that the house file lets give more than the board itself is said to.

    Why: The folded proof then rests on the house's word; if the crease does not give, the flaps stand up or the wall
        bulges.
    Limit: the give of the board, half its thickness unless the board file says otherwise; the board library.
    Fails: 0201 300x200x150 C; house: panel 1 width + 1; house: give 1
    Passes: 0201 300x200x150 C; house: give 1
    """
    house = inspected.order.house.give
    board = inspected.board
    if house is None or house <= board.give:
        return
    limit, allowed = board.give * board.thickness, house * board.thickness
    beyond = [
        (abs(fold.shift), inspected.panel_name(number, fold.child))
        for number, piece in enumerate(inspected.design.pieces)
        for fold in piece.blank.folds
        if abs(fold.angle) <= 120.0 and limit + 1e-6 < abs(fold.shift) <= allowed + 1e-6
    ]
    if beyond:
        shift, name = max(beyond)
        yield Finding(
            "crease-give",
            Severity.WARNING,
            name,
            f"its crease must give {format_mm(shift)} mm; the board gives {format_mm(limit)} mm, the house file allows "
            f"{format_mm(allowed)} mm (house); take the house sizes back, or prove it on a sample",
            shift,
            limit,
            "the give of the board",
        )
