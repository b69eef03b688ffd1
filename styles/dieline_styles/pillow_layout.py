"""The pillow pack on its sheet: once with true arcs, as it is cut, and once in narrow strips, as it is folded."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from dieline.style import Blank, Face, Joint, JointKind, Path, Point, Role, Sheet, polygon, rectangle

from .pillow_plan import Arc

__all__ = ["FLAPS", "Pack", "edge_cut"]

FLAPS = ((Face.LEFT, 1.0), (Face.RIGHT, -1.0))
"""The ends: the upper one on the blank comes to the left of the box."""

_NARROW = 0.5
"""mm. A narrower strip is left out: what it would show is less than the chords that stand for the arcs."""

_POINT = 0.01
"""mm. Two strips that share a corner only are one board round it: their seam is so long along the crease."""

_EDGE = 1.5
"""mm. Glue keeps so far off an edge, so that none is pressed out."""


def edge_cut(steepness: float, t: float) -> float:
    """How much narrower the panel with the lap is: half a board inside the other, and clear of its inner face, mm.

    Args:
        steepness: How steep the bent sheets are at their side edges, radians.
        t: Board thickness, mm.
    """
    return t / 2 * max(1.0 / math.sin(2 * steepness), 1.0 / math.tan(steepness))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """Everything that is laid out, mm; panel 1 has its middle at x = 0, panel 2 stands to the right of it.

    Attributes:
        arc: The arc of the end creases.
        chord: From chord to chord of the arcs of panel 1.
        outset: How much further out the arcs of panel 2 lie, whose flaps go over the others.
        short: How far the free edge of the flaps falls short of the mirrored arc.
        relief: How far the flaps keep from the side edges of their panels.
        lap: Width of the lap.
        lap_back: How far the lap's ends keep from the chords; from there they lean back at 45 degrees.
        notch: Radius of the thumb notch in the outer flaps; 0 for none.
        t: Board thickness.
        give: How far the lap's crease may let it in.
    """

    arc: Arc
    chord: float
    outset: float
    short: float
    relief: float
    lap: float
    lap_back: float
    notch: float
    t: float
    give: float

    @property
    def turn(self) -> float:
        """How far a panel is turned against the other at the side edges, degrees."""
        return 180.0 - 2 * math.degrees(self.arc.steepness)

    @property
    def cut(self) -> float:
        """How much narrower panel 1 is where the lap hangs, mm."""
        return edge_cut(self.arc.steepness, self.t)

    @property
    def lap_shift(self) -> float:
        """How far the lap leaves its crease, until it lies inside panel 2."""
        return self.cut * math.sin(2 * self.arc.steepness) - self.t

    @property
    def left(self) -> float:
        """The crease of the lap, x."""
        return self.cut - self.arc.width / 2

    def middle(self, panel: int) -> float:
        """The middle of a panel, x."""
        return self.arc.width * (panel - 1)

    def half(self, panel: int) -> float:
        """From the middle of a panel's length to the chord of its arcs."""
        return self.chord / 2 + self.outset * (panel - 1)

    # ------------------------------------------------------------------ as it is cut

    def blank(self) -> Blank:
        """The blank with true arcs."""
        sheet = Sheet("pack", flutes="y")
        for panel in (1, 2):
            sheet.panel(f"panel {panel}", self._panel(panel), face=_SHEETS[panel], role=Role.WALL, intrudes=True)
        y = self.chord / 2
        x = self.arc.width / 2
        sheet.fold("panel 1", "panel 2", ((x, -y), (x, y)), angle=self.turn)
        for panel in (1, 2):
            for end, sign in FLAPS:
                name = f"panel {panel} {end.value} flap"
                sheet.panel(name, self._flap(panel, sign), face=end, k=float(panel - 1), intrudes=True)
                a, b = self._arc(panel, sign, -self._reach, self._reach, up=sign < 0)[0]
                sheet.fold(f"panel {panel}", name, (a, b), stage=1 + panel)
        lap = polygon(self._lap_corners(0.0, self.lap))
        sheet.panel("lap", lap, k=-1.0, role=Role.LAP, intrudes=True)
        sheet.fold("panel 1", "lap", self._lap_line(0.0), angle=self.turn, shift=self.lap_shift)
        zone = polygon(self._lap_corners(self.t / 2 + _EDGE, self.lap - _EDGE, _EDGE)).counter_clockwise()
        sheet.join(Joint(kind=JointKind.GLUED, a="lap", b="panel 2", zone=zone))
        return sheet.blank()

    @property
    def _reach(self) -> float:
        """From the middle of a panel to the sides of its flaps."""
        return self.arc.width / 2 - self.relief

    def _arc(
        self, panel: int, sign: float, s0: float, s1: float, *, up: bool, short: float = 0.0
    ) -> tuple[tuple[Point, Point], float]:
        """An arc at one end of a panel: its two points, and its bulge from left to right."""
        (a, b), bulge = self.arc.path(s0, s1, sign * (self.half(panel) - short), up=up)
        x = self.middle(panel)
        return ((a[0] + x, a[1]), (b[0] + x, b[1])), bulge

    def _panel(self, panel: int) -> Path:
        edge = self.arc.width / 2
        start = self.left if panel == 1 else -edge
        (a, b), low = self._arc(panel, -1.0, start, edge, up=True)
        (c, d), high = self._arc(panel, 1.0, start, edge, up=False)
        return Path((a, b, d, c), (low, 0.0, -high, 0.0), closed=True)

    def _flap(self, panel: int, sign: float) -> Path:
        """Between the crease and its mirror image in the chord, moved in; sides straight."""
        reach = self._reach
        (a, b), near = self._arc(panel, sign, -reach, reach, up=sign < 0)
        (c, d), far = self._arc(panel, sign, -reach, reach, up=sign > 0, short=self.short)
        if not self.notch or panel == 1:
            return Path((a, b, d, c), (near, 0.0, -far, 0.0), closed=True).counter_clockwise()
        # The notch is struck round the top of the arc.
        radius, r = self.arc.radius, self.notch
        half = math.sqrt(radius**2 - (radius - r * r / (2 * radius)) ** 2)
        (e, _), _ = self._arc(panel, sign, -half, half, up=sign > 0, short=self.short)
        _, outer = self._arc(panel, sign, half, reach, up=sign > 0, short=self.short)
        bite = sign * math.tan((math.pi - 2 * math.asin(r / (2 * radius))) / 4)
        f = (2 * self.middle(panel) - e[0], e[1])
        return Path((a, b, d, f, e, c), (near, 0.0, -outer, -bite, -outer, 0.0), closed=True).counter_clockwise()

    def _lap_line(self, u: float) -> tuple[Point, Point]:
        """A line along the lap, u from its crease."""
        x, y = self.left - u, self.chord / 2 - self.lap_back - u
        return (x, -y), (x, y)

    def _lap_corners(self, u0: float, u1: float, inset: float = 0.0) -> list[Point]:
        (a, b), (c, d) = self._lap_line(u0), self._lap_line(u1)
        corners = (a, b, d, c)
        return [(x, y - math.copysign(inset, y)) for x, y in corners]

    # ------------------------------------------------------------------ as it is folded

    def model(self) -> Blank:
        """The same pack in narrow strips, which bend where the sheets are bowed."""
        sheet = Sheet("pack", flutes="y")
        count = len(self.arc.slopes)
        middle = count // 2
        order = [*range(middle, -1, -1), *range(middle + 1, count)]
        for panel, strips in ((1, order), (2, range(count))):
            for k in strips:
                sheet.panel(_strip(panel, k), self._strip(panel, k), face=_SHEETS[panel], role=Role.WALL, intrudes=True)
        for k in range(middle, 0, -1):
            self._bend(sheet, 1, k, k - 1)
        for k in range(middle, count - 1):
            self._bend(sheet, 1, k, k + 1)
        x, y = self.arc.width / 2, self.chord / 2
        sheet.fold(_strip(1, count - 1), _strip(2, 0), ((x, -y), (x, y)), angle=self.turn)
        for k in range(count - 1):
            self._bend(sheet, 2, k, k + 1)
        for panel in (1, 2):
            for end, sign in FLAPS:
                self._flap_strips(sheet, panel, end, sign)
        self._lap_strips(sheet)
        return sheet.blank()

    def _line(self, panel: int, k: int) -> tuple[Point, Point]:
        """The ruling at the left end of strip k."""
        s, y = self.arc.corners[k]
        x, reach = self.middle(panel) + s, self.half(panel) - y
        return (x, -reach), (x, reach)

    def _strip(self, panel: int, k: int) -> Path:
        (a, b), (c, d) = self._line(panel, k), self._line(panel, k + 1)
        if panel == 1 and k == 0:
            lost = self.cut * math.tan(self.arc.slopes[0])
            a, b = (self.left, a[1] + lost), (self.left, b[1] - lost)
        return Path((a, c, d, b), closed=True)

    def _bend(self, sheet: Sheet, panel: int, parent: int, child: int) -> None:
        k = max(parent, child)
        bend = self.arc.leans[k - 1] - self.arc.leans[k]
        sheet.fold(_strip(panel, parent), _strip(panel, child), self._line(panel, k), angle=bend, meaning=None)

    def flap_strips(self, panel: int, end: Face) -> list[tuple[str, int]]:
        """The strips of a flap: name, and which strip of the panel each hangs on."""
        return [(f"panel {panel} {end.value} flap strip {k + 1}", k) for k, _, _ in self._flap_places()]

    def _flap_places(self) -> Iterator[tuple[int, float, float]]:
        """Each strip of a flap: its number, and from where to where it runs across the panel."""
        for k, ((s0, _), (s1, _)) in enumerate(pairwise(self.arc.corners)):
            a, b = max(s0, -self._reach), min(s1, self._reach)
            if b - a > _NARROW:
                yield k, a, b

    def _flap_strips(self, sheet: Sheet, panel: int, end: Face, sign: float) -> None:
        x, half = self.middle(panel), self.half(panel)
        last = ""
        for k, a, b in self._flap_places():
            name = f"panel {panel} {end.value} flap strip {k + 1}"
            s, y = self.arc.corners[k]
            slope = math.tan(self.arc.slopes[k])
            near = [(x + place, sign * (half - y - slope * (place - s))) for place in (a, b)]
            far = [(x + place, sign * (half + y + slope * (place - s) - self.short)) for place in (a, b)]
            sheet.panel(name, polygon([*near, far[1], far[0]]), face=end, k=float(panel - 1), intrudes=True)
            sheet.fold(_strip(panel, k), name, (near[0], near[1]), angle=self.arc.folds[k], stage=1 + panel)
            if last:
                sheet.seam(last, name, (near[0], far[0]), meaning=None)
                # Round this corner of the crease all four strips are one board.
                step = (near[0][0] + _POINT, near[0][1] - sign * slope * _POINT)
                for one, other in ((_strip(panel, k - 1), name), (_strip(panel, k), last)):
                    sheet.seam(one, other, (near[0], step), meaning=None, miss=2 * _POINT)
            last = name

    def _lap_strips(self, sheet: Sheet) -> None:
        """The lap runs a board inside panel 2, so its strips are a little narrower than that panel's."""
        t, corners, leans = self.t, self.arc.corners, self.arc.leans
        begin = self.cut * math.cos(2 * self.arc.steepness)  # along panel 2, from the corner of the middles
        u, k, last, bend, back = 0.0, len(leans) - 1, _strip(1, 0), self.turn, begin
        while self.lap - u > _NARROW and k > 0:
            after = leans[k - 1] - leans[k]
            mitre = t * math.tan(math.radians(after) / 2)
            end = min(self.lap, u + corners[k + 1][0] - corners[k][0] - back - mitre)
            name = f"lap strip {len(leans) - k}"
            sheet.panel(name, polygon(self._lap_corners(u, end)), k=-1.0, role=Role.LAP, intrudes=True)
            first = last == _strip(1, 0)
            if first:
                sheet.fold(last, name, self._lap_line(0.0), angle=bend, shift=self.lap_shift, give=self.give)
            else:
                sheet.fold(last, name, self._lap_line(u), angle=bend, meaning=None)
            start = u + (max(0.0, -begin) if first else 0.0)
            edge = min(_EDGE, (end - start) / 4)
            reach = self._lap_line(end)[1][1] - edge
            zone = rectangle(self.left - start - edge, -reach, self.left - end + edge, reach)
            sheet.join(Joint(kind=JointKind.GLUED, a=name, b=_strip(2, k), zone=zone.counter_clockwise()))
            u, k, last, bend, back = end, k - 1, name, after, mitre


_SHEETS = {1: Face.BOTTOM, 2: Face.TOP}


def _strip(panel: int, k: int) -> str:
    return f"panel {panel} strip {k + 1}"
