"""The shapes of the four flaps of a snap-lock bottom, worked out in the plan of the closed box."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import Point

__all__ = ["RISE", "SnapPlan"]

RISE = 3.0
"""Boards by which the tongue rises, from below its own flap's neighbours up onto the flap with the legs."""


_SLOT = 2.4
"""mm. Narrowest strip of waste that is bent from cutting rule: 3/32 in. Source: Graphic Dies, how small,
graphicdies.com/how-small."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SnapPlan:
    """The closed bottom, seen from the inside: x from wall 3 to wall 1, y from wall 0 to wall 2, mm.

    Wall 0 carries the flap with the legs, wall 2 the one with the tongue, walls 1 and 3 the side flaps. Outlines are
    given as (place along the wall, depth from its crease); the crease lies half a board beyond the inside.

    Attributes:
        wide: Inside size along x.
        broad: Inside size along y.
        t: Board thickness.
        c: Clearance.
        tongue: Width of the tongue, in the middle.
        rim: Where the middle edge of the legs' flap lies: on it the tongue comes to rest.
        foot: Where the tongue begins to rise; between rim and foot lies the opening that it comes through.
        leg_from: Where the flap with the legs begins at wall 3.
        leg_end: Where the legs end.
        nose: How far the noses of the side flaps reach in.
        tip: From the crease of its flap to the tip of the tongue, along the board.
    """

    wide: float
    broad: float
    t: float
    c: float
    tongue: float
    rim: float
    foot: float
    leg_from: float
    leg_end: float
    nose: float
    tip: float

    @property
    def xa(self) -> float:
        """Where the tongue begins."""
        return (self.wide - self.tongue) / 2

    @property
    def xb(self) -> float:
        """Where it ends."""
        return (self.wide + self.tongue) / 2

    @property
    def deep(self) -> float:
        """How far the side flaps reach in beside the tongue."""
        return self.xa - self.c

    @property
    def slope(self) -> float:
        """How steeply the tongue rises, degrees."""
        return math.degrees(math.atan2(RISE * self.t, self.foot - self.rim - self.t))

    @property
    def reach(self) -> float:
        """From the crease of the tongue's flap to where the tongue begins to rise."""
        return self.broad - self.foot + self.t / 2

    @property
    def ramp(self) -> float:
        """From there along the slope to where the tongue lies level again, a board before the rim."""
        return self.reach + math.hypot(self.foot - self.rim - self.t, RISE * self.t)

    @property
    def catch(self) -> float:
        """How far the tongue lies on the legs' flap."""
        return self.tip - self.ramp - self.t

    def legs(self) -> list[Point]:
        """The flap with the legs."""
        c, wide, xa, xb = self.c, self.wide, self.xa, self.xb
        inner, slant, h = 0.15 * xa, 0.25 * (xa - 2 * c), self.t / 2
        end, rim = self.leg_end + h, self.rim + h
        return [
            (self.leg_from, 0.0),
            (wide - c, 0.0),
            (wide - c, end / 2),
            (wide - c - slant, end),
            (xb + c + inner, end),
            (xb + c, end - inner),
            (xb + c, rim),
            (xa - c, rim),
            (xa - c, end - inner),
            (xa - c - inner, end),
            (self.leg_from + slant, end),
            (self.leg_from, end / 2),
        ]

    def side(self) -> list[Point]:
        """A side flap: full beside the opening, longest at the nose that lies over the tongue's flap."""
        c, h, deep, nose = self.c, self.t / 2, self.deep, self.nose
        # Its neighbours begin half a board from the crease between two walls, as it does itself.
        beside = max(c, min(_SLOT - self.t, self.broad / 20))
        tip = self.foot + max(self.t, c)
        room = self.broad - c - tip
        lead = min(0.3 * (nose - deep), 0.4 * room)
        return [
            (beside, 0.0),
            (beside, 0.08 * deep + h),
            (max(beside, self.rim - 0.6 * deep), 0.5 * deep + h),
            (self.rim, deep + h),
            (tip, deep + h),
            (tip + lead, nose + h),
            (min(tip + room, tip + lead + 0.25 * (self.broad - tip)), nose + h),
            (self.broad - beside, 0.35 * deep + h),
            (self.broad - beside, 0.0),
        ]

    def flap(self) -> list[Point]:
        """The flap that carries the tongue."""
        middle = (self.broad - self.foot) / 2 + self.t / 2
        return [
            (0.0, 0.0),
            (self.wide, 0.0),
            (self.wide, middle),
            (self.xb, self.reach),
            (self.xa, self.reach),
            (0.0, middle),
        ]

    def neck(self) -> list[Point]:
        """The sloping part of the tongue."""
        return [(self.xa, self.reach), (self.xb, self.reach), (self.xb, self.ramp), (self.xa, self.ramp)]

    def end(self) -> tuple[list[Point], list[float]]:
        """The tongue where it lies level, full as far as the rim and then narrower, and the radii of its corners."""
        narrow, radius, rim = min(0.1 * self.tongue, 0.5 * self.catch), 0.4 * self.catch, self.ramp + self.t
        corners = [
            (self.xa, self.ramp),
            (self.xb, self.ramp),
            (self.xb, rim),
            (self.xb - narrow, self.tip),
            (self.xa + narrow, self.tip),
            (self.xa, rim),
        ]
        return corners, [0.0, 0.0, 0.0, radius, radius, 0.0]
