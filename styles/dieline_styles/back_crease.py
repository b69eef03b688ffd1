"""Creases that fold away from the inside: reverse creases, or others that fold both ways."""

from __future__ import annotations

from dieline.style import Meaning, Order, Parameter, choice

__all__ = ["BACK", "back_meaning"]

_MEANINGS = {
    "reverse": Meaning.CREASE_BACK,
    "crease": Meaning.CREASE,
    "cut-crease": Meaning.CUT_CREASE,
    "perforated": Meaning.PERFORATION,
}

BACK: tuple[Parameter, ...] = (
    choice(
        "back_crease",
        "How creases that fold away from the inside are made.",
        {
            "reverse": "creased from the other side",
            "crease": "creased like all others",
            "cut-crease": "cut and creased in turn",
            "perforated": "perforated",
        },
        "reverse",
    ),
)


def back_meaning(order: Order) -> Meaning:
    """How the creases of this order that fold away from the inside are made."""
    return _MEANINGS[order.choice("back_crease")]
