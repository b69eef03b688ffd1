"""Trays with corners that fold flat, between flat and erect: their folds, their glued flat state, their way up."""

from __future__ import annotations

from collections.abc import Callable

from dieline.style import Motion, Order, State, Step

from .folding_corner import SLIP, linkage

__all__ = ["Bends", "corner_bends", "flat_state", "pulled_up", "rise"]

Bends = dict[str, tuple[float, float]]
"""Fold angle in degrees and shift in mm of each panel."""

_RISING = (10.0, 25.0, 40.0, 55.0, 70.0, 85.0, 90.0)
"""Degrees. How far the creased walls have risen where the tray is looked at while it is pulled up."""


def corner_bends(
    t: float, creased: float, walls: list[str], triangles: list[str], lapped: list[str], laps: list[str]
) -> Bends:
    """Folds of walls with flat-folding corners: the linkage, and room for the boards that lie on each other when flat.

    Args:
        t: Board thickness, or as much of it as is made room for, mm.
        creased: Fold of the creased walls, degrees: 0 flat outward, 90 erect, 180 flat inward.
        walls: The creased walls.
        triangles: Their triangles.
        lapped: The lapped walls.
        laps: Their laps.
    """
    triangle, end, lap = linkage(creased)
    inward = creased > 90.0
    return (
        dict.fromkeys(walls, (creased, t if inward else 0.0))
        | dict.fromkeys(triangles, (triangle, -2.0 * t if inward else t))
        | dict.fromkeys(lapped, (end, 4.0 * t if inward else 2.0 * t))
        | dict.fromkeys(laps, (lap, 2.0 * t if inward else 0.0))
    )


def rise(start: float, what: str, bends: Callable[[float, float], Bends]) -> list[Step]:
    """The steps from flat to erect.

    Args:
        start: Fold of the creased walls when flat, 0 or 180 degrees.
        what: What is done.
        bends: The folds by the fold of the creased walls and the share of the boards that is made room for.
    """
    way = 1.0 if start == 0.0 else -1.0
    return [Step(what, bends(start + way * turn, 1.0 - turn / 90.0)) for turn in _RISING]


def flat_state(order: Order, bends: Bends, glued: tuple[tuple[str, str], ...]) -> State:
    """As it leaves the gluer; the laps may miss their triangles by what the board takes up."""
    slack = SLIP * order.thickness + 1e-6
    return State(name="glued flat", bends=bends, joints=tuple(lap for lap, _ in glued), slack=slack)


def pulled_up(start: Bends, steps: list[Step], glued: tuple[tuple[str, str], ...]) -> Motion:
    """Pulled up from flat; a lap and its triangle are glued, and it is the board that takes up what they miss."""
    return Motion(start=start, steps=tuple(steps), free=glued, samples=0)
