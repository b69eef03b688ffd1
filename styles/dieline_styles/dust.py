"""Dust flaps: the flaps on the B walls that lie under a lid and make room for its tuck."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dieline.style import Order, Parameter, Point, Sheet, Step, length

from .hinge import Hinge, inside_length, level_of
from .tube import Tube

__all__ = ["DUST", "dust_names", "dust_outline", "dust_step", "hang_dust", "need_dust"]


def _longest(order: Order) -> float:
    return order.L.value / 2 - order.number("clearance")


DUST: tuple[Parameter, ...] = (
    length(
        "dust_length",
        "Length of the dust flaps.",
        lambda order: min(_longest(order), round(0.6 * order.B.value + 8.0, 1)),
        lambda order: min(8.0, _longest(order)),
        _longest,
        why="shorter ones do not hold the lid, and at half of L they meet",
    ),
)


def need_dust(order: Order, front: float) -> None:
    """Refuse sizes at which dust flaps cannot be.

    Args:
        order: The order.
        front: How far they keep from the far wall, mm.

    Raises:
        SizeError: If L or B is too small.
    """
    c = order.number("clearance")
    order.need("L", 2 * (8.0 + c), "the dust flaps need 8 mm each and must not meet")
    order.need("B", front + c + 8.0, "the dust flaps must be 8 mm wide")


def dust_outline(breadth: float, c: float, reach: float, *, front: float, shoulder: float = 0.0) -> list[Point]:
    """Outline of a dust flap as (q, v): q from the inner face of the wall that carries the lid, v from its crease.

    Behind it leaves the lid its crease, in front it leaves the tuck its way in: straight for a quarter of its length,
    then at 45 degrees, then at 15.

    Args:
        breadth: Inside breadth, mm.
        c: Clearance, mm.
        reach: Length of the flap, mm.
        front: How far the front edge keeps from the far wall, mm.
        shoulder: Length of a shoulder next to the crease that goes up to the far wall, less c; 0 for none, mm.
    """
    slant = math.tan(math.radians(15.0))
    far = breadth - front
    # A step shorter than a millimetre is no shape that rule can be bent to.
    straight = 0.25 * reach if 0.25 * reach > shoulder + 1.0 else shoulder
    bevel = min(0.35 * (far - c), 0.85 * reach - straight)
    bevel = bevel if bevel > 1.0 else 0.0
    start = max(c, 1.0)
    tip = max(far - bevel - (reach - straight - bevel) * slant, c + 0.4 * (far - c))
    rear = max(c, min(c + (reach - start) * slant, tip - 3.0))
    points: list[Point] = [(c, 0.0)]
    if shoulder:
        points += [(breadth - c, 0.0), (breadth - c, shoulder), (far, shoulder)]
    else:
        points.append((far, 0.0))
    if straight > shoulder:
        points.append((far, straight))
    if bevel > 0.0:
        points.append((far - bevel, straight + bevel))
    return [*points, (tip, reach), (rear, reach), (c, start)]


def dust_names(tube: Tube, *, top: bool) -> tuple[str, str]:
    """Names of the dust flaps on walls 1 and 3."""
    end = "top" if top else "bottom"
    return f"{end} dust flap {tube.walls[1].number}", f"{end} dust flap {tube.walls[3].number}"


def hang_dust(tube: Tube, sheet: Sheet, outlines: Sequence[Sequence[Point]], *, top: bool, lid: int) -> None:
    """Hang the dust flaps of one end.

    Args:
        tube: The tube.
        sheet: The sheet.
        outlines: Outlines of those on walls 1 and 3, as (q, v).
        top: Whether it is the top.
        lid: The wall that carries the lid, 0 or 2.
    """
    broad = inside_length(tube, long=False)
    for index, name, outline in zip((1, 3), dust_names(tube, top=top), outlines, strict=True):
        points = [(broad - q, v) for q, v in outline] if lid == 2 else list(outline)
        ends = [s for s, v in points if v == 0.0]
        Hinge(tube, index, top).hang(sheet, name, points, (min(ends), max(ends)), k=0.0, stage=2)


def dust_step(tube: Tube, *, top: bool) -> Step:
    """The step that folds the dust flaps in."""
    order = tube.order
    shift = -level_of(order, 0.0) * order.thickness
    names = dust_names(tube, top=top)
    return Step(f"fold the {'top' if top else 'bottom'} dust flaps in", dict.fromkeys(names, (90.0, shift)))
