"""The shapes and the movement of a gable top: roofs, gussets, and the webs that are folded in between them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import Point

__all__ = ["GablePlan", "gable_linkage"]


def gable_linkage(turn: float, slope: float) -> tuple[float, float, float]:
    """How gussets and webs move while the roofs come down: four creases that meet in each corner of the box.

    Args:
        turn: How far the roofs are folded in from the upright, degrees: 0 to 90 less the slope.
        slope: How steep the finished roof is, degrees from the horizontal.

    Returns:
        How far the gussets are folded in; how far a web is folded in from its roof (90 to 180); how far it is folded
        back from its gusset (0 and less), degrees.

    Source: spherical trigonometry of the corner.
    """
    rho, narrow = math.radians(turn), math.atan(math.cos(math.radians(slope)))
    gamma = math.acos(min(1.0, max(-1.0, (1 - math.tan(narrow) * math.sin(rho)) / math.cos(rho))))
    sine, cosine = math.sin(narrow), math.cos(narrow)
    # The crease between web and gusset, in the frame of a corner whose gusset turns about y.
    d = (-cosine * math.sin(gamma), sine, cosine * math.cos(gamma))
    inward = d[1] * math.cos(rho) - d[2] * math.sin(rho)
    web = math.atan2(inward, d[0])
    e = (0.0, math.sin(rho), math.cos(rho))
    normal = (
        (e[1] * d[2] - e[2] * d[1]) / sine,
        (e[2] * d[0] - e[0] * d[2]) / sine,
        (e[0] * d[1] - e[1] * d[0]) / sine,
    )
    cos_back = -normal[0] * math.cos(gamma) - normal[2] * math.sin(gamma)
    back = math.acos(min(1.0, max(-1.0, cos_back)))
    return math.degrees(gamma), math.degrees(web), -math.degrees(back)


@dataclass(frozen=True, slots=True, kw_only=True)
class GablePlan:
    """The parts of a gable top, each given as (place, height above the crease of its own wall) in the blank.

    On the end walls the place w is measured from the corner beside the part. The gusset's crease lies lower than the
    roof's by a board times the cosine of the slope; then web and gusset meet in one line, although the web lies a
    board below the roof.

    Attributes:
        broad: Inside breadth, across which the roofs slope, mm.
        t: Board thickness, mm.
        c: Clearance.
        slope: Slope of the roof, degrees from the horizontal.
        roof: From the roof's crease to the fin's, mm.
        fin: Height of the fins, mm.
        relief: How far up from the gusset's crease the corners of the box are cut out, mm.
    """

    broad: float
    t: float
    c: float
    slope: float
    roof: float
    fin: float
    relief: float

    @property
    def cosine(self) -> float:
        """Cosine of the slope."""
        return math.cos(math.radians(self.slope))

    @property
    def sine(self) -> float:
        """Sine of the slope."""
        return math.sin(math.radians(self.slope))

    @property
    def step(self) -> float:
        """How much lower the gusset's crease lies."""
        return self.t * self.cosine

    @property
    def turn(self) -> float:
        """How far roofs and gussets are folded in, degrees."""
        return 90.0 - self.slope

    def top(self, boards: float) -> float:
        """How far up the slope a part may reach that lies so many boards below the roof: it must not meet its like."""
        lower = max(0.0, (boards + 0.5) * self.sine - 0.5)
        return self.roof - lower * self.t / self.cosine - self.c

    # ------------------------------------------------------------------ an end wall: gusset and the webs beside it

    @property
    def apart(self) -> float:
        """Angle between web and gusset, radians."""
        return math.acos(self.cosine**2)

    @property
    def over(self) -> float:
        """How far the gusset may reach beyond the line in which it meets the web: there it touches the roof, mm."""
        return self.t / 2 * math.tan(self.apart / 2)

    def crease_at(self, v: float) -> float:
        """Where the crease between gusset and web runs, w, at a height above the gusset's crease.

        The true lines of web and gusset lie about a board apart in the blank; the crease is drawn between them.
        """
        return v * self.cosine + self.t * self.sine - self.over * math.hypot(1.0, self.cosine)

    def web(self) -> list[Point]:
        """A web: from the relief of the corner up, so that it can turn under the roof."""
        low, high = self.relief, self.step + self.top(1.0)
        return [(0.0, low), (self.crease_at(low), low), (self.crease_at(high), high), (0.0, high)]

    def web_crease(self, seam: bool) -> tuple[Point, Point]:
        """The crease between web and gusset, as far as both run; ``seam`` for the gusset at the joint."""
        low, high = self.relief, self.gusset_top(seam)
        return (self.crease_at(low), low), (self.crease_at(high), high)

    def drawn_web(self, seam: bool) -> tuple[list[Point], tuple[Point, Point]]:
        """A web as drawn where nothing is cut out of the corner, and its crease with the gusset."""
        high, end = self.step + self.top(1.0), self.gusset_top(seam)
        foot = self.crease_at(end)
        return [(0.0, 0.0), (foot, end), (self.crease_at(high), high), (0.0, high)], ((0.0, 0.0), (foot, end))

    @property
    def slip(self) -> float:
        """How far web and gusset bring that crease to different places: it is a bend about a board wide."""
        between = self.t * (self.sine + self.cosine**2) / math.hypot(1.0, self.cosine)
        along = self.t * self.cosine * (1.0 - self.sine) / math.hypot(1.0, self.cosine)
        one, other = self.over, between - self.over
        across = math.sqrt(one**2 + other**2 - 2 * one * other * math.cos(self.apart))
        return math.hypot(across, along)

    def gusset_top(self, seam: bool) -> float:
        """Height of a gusset; the one at the joint is cut off where its two sides would meet."""
        high = self.top(1.0)
        if not seam:
            return high
        across = self.broad + self.t - self.seam_start - self.crease_at(0.0)
        return min(high, (across - self.t) / (2 * self.cosine))

    def gusset_side(self, seam: bool) -> list[Point]:
        """One side of a gusset, from its crease up: at its foot it keeps off the wall, as far as the web does."""
        low, high = self.relief, self.gusset_top(seam)
        foot = self.crease_at(low)
        return [(foot, 0.0), (foot, low), (self.crease_at(high), high)]

    # ------------------------------------------------------------------ the seam: a web glued to a lap of the roof

    @property
    def seam_start(self) -> float:
        """Where the seam's web would begin at no height: it lies two boards below the roof, so farther in."""
        return self.t * (self.sine + 1.0 / self.sine)

    def seam_side(self) -> list[Point]:
        """The side of the gusset at the seam."""
        high = self.gusset_top(True)
        return [(self.seam_start, 0.0), (self.seam_start + high * self.cosine, high)]

    def seam_web(self) -> list[Point]:
        """The web at the seam: it hangs on the gusset and is glued below a lap of the roof."""
        edge = self.seam_start + self.t / 2 + self.c
        low = (edge - self.seam_start) / self.cosine
        high = min(self.top(2.0) - self.t * self.cosine / self.sine, self.gusset_top(True))
        return [(edge, low), (self.seam_start + high * self.cosine, high), (edge, high)]

    def _lap_edge(self, v: float) -> float:
        """How far in from the gusset's wall a lap may reach that lies right below the roof, above the gusset."""
        off = self.t / 2 / math.tan(self.apart / 2) * math.hypot(1.0, self.cosine)
        return v * self.cosine - off - self.c

    def roof_lap(self, start: float, reach: float) -> list[Point]:
        """The lap of the roof, as (distance from its crease, height above the roof's crease).

        Args:
            start: How far its crease lies in from the middle of the gusset's wall, mm.
            reach: Greatest width, mm.
        """
        high = self.top(1.0)
        low = (start - self._lap_edge(0.0)) / self.cosine
        wide = self._lap_edge(high) - start
        slant = low + reach / self.cosine
        if slant > high - 1.0:
            return [(0.0, low), (0.0, high), (min(wide, reach), high)]
        return [(0.0, low), (0.0, high), (reach, high), (reach, slant)]

    def roof_glue(self, start: float, reach: float) -> list[Point]:
        """The glued area on that lap, where the seam's web lies under it."""
        off = 1.0
        first = self.t / 2 + self.c + off - start
        low = (start - self._lap_edge(0.0)) / self.cosine
        high = self.top(2.0) - off
        # Both end at a slant: the lap at its own edge, the web where it meets the gusset.
        lean = max(low + off, (start + off) / self.cosine + self.t * self.cosine / self.sine)
        last = min(reach - off, (high - lean) * self.cosine)
        return [(first, lean + first / self.cosine), (last, lean + last / self.cosine), (last, high), (first, high)]
