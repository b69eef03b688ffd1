"""Where the formulas hold, and what is known of boxes beyond: a correction with its source, or that there is none."""

from __future__ import annotations

from collections.abc import Iterator

from ..board import Board
from ..units import format_mm
from .basis import NO_SOURCE, Remark, table
from .walls import BoxShape

__all__ = ["validity"]

_FITTED = frozenset("ABC")
"""Flutes of the boxes that the formulas were fitted on."""

_TEST = "test it (ISO 12048, ASTM D642)"


def validity(shape: BoxShape, board: Board, formula: str, interior: str | None) -> tuple[Remark, ...]:
    """Everything about a box that lies outside what the formulas were made from.

    Args:
        shape: The box.
        board: Its board.
        formula: Name of the formula.
        interior: What stands inside and bears, ``none``, ``fitment`` or ``goods``.
    """
    return (
        *_proportions(shape),
        *_board(board, formula),
        *_style(shape),
        *_openings(shape),
        *_inside(interior),
    )


def _proportions(shape: BoxShape) -> Iterator[Remark]:
    least = table("limit")["height"]
    share = shape.height / shape.perimeter
    if share < least["value"]:
        yield Remark(
            "stack-low-box",
            "warning",
            "height",
            f"H {format_mm(shape.height)} mm is less than a seventh of the perimeter {format_mm(shape.perimeter)} mm: "
            f"the formula does not hold for so low a box and no correction is known; {_TEST}",
            share,
            least["value"],
            least["source"],
        )
    most = table("limit")["ratio"]
    long, short = max(shape.outside[:2]), min(shape.outside[:2])
    if long / short > most["value"]:
        yield Remark(
            "stack-long-box",
            "warning",
            "length",
            f"L : B is {long / short:.2f} : 1, beyond 3 : 1 ({most['confidence']}); no correction is known; {_TEST}",
            long / short,
            most["value"],
            most["source"],
        )


def _board(board: Board, formula: str) -> Iterator[Remark]:
    fine = [flute for flute in board.flutes if flute not in _FITTED]
    if fine:
        message = f"flute {', '.join(fine)} is not among A, B and C, on which the formulas were fitted; "
        yield Remark("stack-flute", "warning", f"board {board.name}", f"{message}no correction is known; {_TEST}")
    if board.wall != "single" and formula.startswith("mckee"):
        rule = table("loss")["double_wall"]
        message = (
            "the formula was fitted on single wall; Brazilian practice takes 17 % less for BC, which the range counts"
        )
        if board.wall == "triple":
            message = (
                "the formula was fitted on single wall; no correction is known for triple wall, 17 % less is counted"
            )
        yield Remark("stack-wall", "note", f"board {board.name}", message, source=rule["source"])


def _style(shape: BoxShape) -> Iterator[Remark]:
    if not shape.regular:
        yield Remark(
            "stack-style",
            "warning",
            f"style {shape.style}",
            f"the formulas speak of regular slotted boxes; no correction for this style is known; {_TEST}",
        )
    lying = [wall for wall in shape.walls if not wall.upright]
    if lying:
        names = ", ".join(wall.face for wall in lying)
        yield Remark(
            "stack-lying-flutes",
            "warning",
            names,
            f"no flutes stand upright in {names}: these walls are counted as nothing, the others by their share of the "
            f"perimeter ({shape.bearing:.0%}); {_TEST}",
            shape.bearing,
            1.0,
            "walls that differ are weighted by their length: J. Pereira (ABPO), Resistencia de Coluna III, O Papel "
            "(c. 2013), https://yumpu.com/pt/document/view/34042439/conhecimento-ac-poder-revista-o-papel/28",
        )
    more = [wall.face for wall in shape.walls if wall.upright > 1]
    if more:
        yield Remark(
            "stack-double-walls",
            "note",
            ", ".join(more),
            f"several boards stand in {', '.join(more)}; only one is counted. The sum holds only if all bear at one "
            f"height and give alike; no page was seen that says by how much; {_TEST}",
        )


def _openings(shape: BoxShape) -> Iterator[Remark]:
    holed = [wall.face for wall in shape.walls if wall.open_width > 0.0]
    if holed:
        rule = table("loss")["openings"]
        yield Remark(
            "stack-openings",
            "warning",
            ", ".join(holed),
            f"holes in {', '.join(holed)} take 10 to 40 % of the strength, measured; the range counts it; {_TEST}",
            source=rule["source"],
        )
    if shape.tears:
        yield Remark(
            "stack-perforation",
            "note",
            "tear strip",
            "perforations were found to take no significant strength from a box of B flute (published conference "
            "paper); nothing is counted for them",
        )


def _inside(interior: str | None) -> Iterator[Remark]:
    if interior in ("fitment", "goods"):
        what = "fitments" if interior == "fitment" else "the goods"
        yield Remark(
            "stack-interior",
            "note",
            "interior",
            f"{what} may bear a share, but only if they reach the same height and give like the walls; nothing is "
            f"counted for them ({NO_SOURCE} sums their own crush); {_TEST} with the contents in place",
        )
