"""What all fitments share: they go into a box of the size asked for, and the proof demands that they stay within it."""

from __future__ import annotations

from collections.abc import Sequence

from dieline.style import Design, Gauge, Motion, Order, Piece, Quantity, Size, Slide, length

__all__ = ["PLAY", "TURN", "UNDER", "fitment", "play_of"]

UNDER = 0.5
"""mm. A raw edge that stands under another panel, or against its face, keeps so far from it."""

TURN = (90.0, 0.0)
"""Angle and shift of a panel folded square."""

PLAY = length(
    "play",
    "How much smaller than the inside of the box it is, along each side.",
    lambda order: min(2.0, 0.1 * min(order.inside[:3])),
    0.0,
    lambda order: min(20.0, 0.2 * min(order.inside[:3])),
    why="with more it slides about in the box",
)


def play_of(order: Order) -> Quantity:
    """The play as a quantity, mm."""
    return order.quantity("play")


def fitment(
    order: Order,
    pieces: tuple[Piece, ...],
    crease: Size,
    *,
    gauges: Sequence[Gauge] = (),
    motions: Sequence[Motion] = (),
    slides: Sequence[Slide] = (),
    words: tuple[str, ...],
) -> Design:
    """A design that goes into a box of the order's inside size; it bounds no size of that box itself."""
    return Design(
        style=order.style,
        pieces=pieces,
        inside=order.inside,
        crease=crease,
        sizes=tuple(order.ledger.lines),
        gauges=tuple(gauges),
        motions=tuple(motions),
        slides=tuple(slides),
        words=words,
        measures="",
        fitment=True,
    )
