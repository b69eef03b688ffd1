"""The hollow bumper: an end wall rolled over a hollow, its inner wall held plumb by tabs in the base."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import (
    Face,
    Lock,
    Order,
    Path,
    Quantity,
    Role,
    Sheet,
    Step,
    polygon,
    rectangle,
)

from .column import Row

__all__ = ["SLOT_PLAY", "Bumpers", "bumper_locks", "bumper_steps", "lay_bumpers", "tab_slots"]

_TURN = (90.0, 0.0)
_TAB = 0.9
"""Depth of the tabs in boards: deeper, they would stand out under the base."""
_KNIVES = 3.0
"""mm. Narrower slots cannot be bent from cutting rule."""
SLOT_PLAY = 1.0
"""mm. By how much slots are longer and wider than what goes through them."""


@dataclass(frozen=True, slots=True)
class Bumpers:
    """What both bumpers of a box have in common.

    Attributes:
        play: How far their walls keep from the sides beside them, and from the base, mm.
        over: Boards between the inside and the cover that lies on them.
        tabs: Where their tabs stand, y in the box, mm; empty without.
        tab: Width of a tab, mm.
    """

    play: float
    over: int
    tabs: tuple[float, ...]
    tab: float


def tab_slots(order: Order, base: Row, plan: Bumpers) -> tuple[Path, ...]:
    """Slots in the base: their inner edges are the stops that keep the inner walls of the bumpers upright."""
    t, top = order.thickness, order.ledger.value("bumper top")
    wide = max(t + max(plan.play, 0.15 * t, 0.3), _KNIVES)
    half = (plan.tab + SLOT_PLAY) / 2
    spots = [(base.x0 + top + t / 2, -wide), (base.x1 - top - t / 2, wide)]
    return tuple(rectangle(x, y - half, x + out, y + half) for x, out in spots for y in plan.tabs)


def lay_bumpers(order: Order, sheet: Sheet, base: Row, plan: Bumpers) -> None:
    """Outer wall, top and inner wall of each bumper; the inner one hangs plumb, with its tabs in the base."""
    t, over = order.thickness, plan.over
    tall = order.size("bumper height", order.H + over * order.t if over else order.H, round_as="front height")
    top = order.ledger.value("bumper top")
    clear = Quantity.named("c", plan.play)
    hanging = order.H + order.t / 2 - clear if over else order.H - order.t / 2 - clear
    inner = order.size("bumper inner wall", hanging, round_as="front height")
    deep = order.size("bumper tab depth", _TAB * order.t) + plan.play if plan.tabs else 0.0
    y0, y1 = base.y0 + t / 2 + plan.play, base.y1 - t / 2 - plan.play
    for place, face, x, out, stage in (
        ("left", Face.LEFT, base.x0, -1.0, 1),
        ("right", Face.RIGHT, base.x1, 1.0, 3),
    ):
        name = f"{place} bumper"
        xs = [x, x + out * tall, x + out * (tall + top), x + out * (tall + top + inner)]
        sheet.panel(f"{name} outer", rectangle(xs[0], y0, xs[1], y1), face=face, k=1 + (top - t) / t, role=Role.WALL)
        sheet.fold("base", f"{name} outer", ((xs[0], y0), (xs[0], y1)), stage=stage)
        sheet.panel(f"{name} top", rectangle(xs[1], y0, xs[2], y1), face=face, k=1.0)  # its edge tops the inner wall
        sheet.fold(f"{name} outer", f"{name} top", ((xs[1], y0), (xs[1], y1)), stage=stage + 1)
        foot = [
            (far, y)
            for middle in plan.tabs
            for far, y in (
                (xs[3], middle - plan.tab / 2),
                (xs[3] + out * deep, middle - plan.tab / 2),
                (xs[3] + out * deep, middle + plan.tab / 2),
                (xs[3], middle + plan.tab / 2),
            )
        ]
        outline = polygon([(xs[2], y0), (xs[3], y0), *foot, (xs[3], y1), (xs[2], y1)])
        sheet.panel(f"{name} inner", outline, face=face, role=Role.WALL)
        sheet.fold(f"{name} top", f"{name} inner", ((xs[2], y0), (xs[2], y1)), stage=stage + 1)


def bumper_locks(order: Order, plan: Bumpers) -> tuple[Lock, ...]:
    """The tabs strike the base when an inner wall swings in."""
    if not plan.tabs:
        return ()
    catch = order.ledger.value("bumper tab depth")
    return tuple(
        Lock(
            name=f"{place} bumper tabs",
            opens={f"{place} bumper inner": 2.0},
            strikes=(f"{place} bumper inner", "base"),
            catch=catch,
        )
        for place in ("left", "right")
    )


def bumper_steps(order: Order, plan: Bumpers) -> list[Step]:
    """One after the other: rolled over with the inner wall plumb, then let down, the tabs into their slots."""
    lift = math.degrees(math.asin(_TAB * order.thickness / order.ledger.value("bumper top"))) if plan.tabs else 0.0
    steps = [Step("fold up the ends", {"left bumper outer": _TURN, "right bumper outer": _TURN})]
    for place in ("left", "right"):
        name = f"{place} bumper"
        rolled = {f"{name} top": (90.0 - lift, 0.0), f"{name} inner": (90.0 + lift, 0.0)}
        steps.append(Step(f"roll the {name} in", rolled))
        if plan.tabs:
            steps.append(Step(f"let the {name}'s tabs down", {f"{name} {part}": _TURN for part in ("top", "inner")}))
    return steps
