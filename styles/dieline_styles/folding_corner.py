"""The glued corner that folds flat: a 45 degree crease on one wall, and a lap of the other glued beyond it.

From the corner a crease runs up the creased wall at 45 degrees; the triangle beyond it is all that the lap of the
lapped wall is glued to. Folded flat, the triangle turns over its crease and the lapped wall lies down with it. Base,
both parts of the creased wall and the lapped wall make a four-bar linkage on a sphere about the corner: one angle says
all others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import (
    Face,
    Frame,
    Joint,
    JointKind,
    Meaning,
    Path,
    Point,
    Role,
    Sheet,
    polygon,
)

__all__ = ["SLIP", "CornerRule", "Creased", "Lapped", "linkage"]

SLIP = math.sqrt(0.5)
"""Boards. By how much lap and triangle miss each other between erect and flat, in their plane.

The lap lies a board outside the triangle that it is glued to, so the two cannot meet alike in both states. Where the 45
degree crease begins half a board inside (for walls that are laid in) or outside (for walls that lie out flat) of the
middle of the lapped wall, they miss by least; the board takes it up, and the lapped walls lean by about as much."""

_LEAST_STEP = 0.5
"""mm. A smaller step in an edge is not worth a knife."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerRule:
    """What all corners of a blank have in common, mm.

    Attributes:
        t: Board thickness.
        start: How far outside the middle of the lapped wall the crease begins at the foot of the creased wall.
        play: How far the raw end of a creased wall keeps from the lapped wall.
        off: How far the lap keeps from the crease, measured up the wall.
        notch: Least height of the notch that is cut into the foot of a creased wall.
        foot: How far a lapped wall keeps its overhang above the crease of its foot.
        reach: Length of the laps.
        taper: How far their tip is cut back at the rim.
        crush: How far walls may press into each other at a joint.
        meaning: How the 45 degree creases are made.
    """

    t: float
    start: float
    play: float
    off: float
    notch: float
    foot: float
    reach: float
    taper: float
    crush: float
    meaning: Meaning = Meaning.CREASE

    @property
    def low(self) -> float:
        """How far above the crease of its foot the crease across begins, mm."""
        at_end = self.start + self.t / 2 + self.play
        return at_end if at_end >= self.t / 2 + self.play else max(self.t / 2 + self.play, self.notch)

    @property
    def begin(self) -> float:
        """How far up its wall a lap begins, mm: above the crease where the creased wall's raw end is."""
        return max(self.foot, self.start + self.t / 2 + self.play + self.off)

    @property
    def overhang(self) -> float:
        """How far up a lapped wall its overhang begins, mm: with the lap, where the two all but meet."""
        return self.foot if self.begin - self.foot >= _LEAST_STEP else self.begin


@dataclass(frozen=True, slots=True, kw_only=True)
class Creased:
    """A wall with 45 degree creases at both ends.

    Attributes:
        name: Its name.
        on: The panel that it hangs on.
        frame: Its frame, u from the middle.
        half: From the middle to the middle of the lapped walls beside it, mm.
        tall: From its crease to its raw rim, mm.
        triangles: Names of its triangles, at the lesser and at the greater u.
        face: The face that it makes, if any.
        hinge: Half the width and the height of the crease that something hangs on at its rim, mm; None for a raw rim.
        k: Boards between the inside and it.
        stage: When it is folded.
    """

    name: str
    on: str
    frame: Frame
    half: float
    tall: float
    triangles: tuple[str, str]
    face: Face | None = None
    hinge: Point | None = None
    k: float = 0.0
    stage: int = 1

    def lay(self, sheet: Sheet, rule: CornerRule) -> None:
        """Lay the wall and its triangles."""
        raw, start = self.half - rule.t / 2 - rule.play, self.half + rule.start
        # The triangle must not stand on what the wall hangs on: what would is cut away, of wall and triangle.
        low, top = rule.low, start - self.tall
        foot = min(raw, start - low)
        rim = [(top, self.tall)]
        if self.hinge is not None:
            wide, high = self.hinge
            rim += [(wide, self.tall), (wide, high)]
        right = [(foot, 0.0), (foot, low), *rim]
        outline = polygon([*right, *((-u, v) for u, v in right[::-1])])
        sheet.panel(self.name, outline.placed(self.frame), face=self.face, k=self.k, role=Role.WALL)
        point = self.frame.point
        sheet.fold(self.on, self.name, (point(-foot, 0.0), point(foot, 0.0)), stage=self.stage)
        for out, name in zip((-1.0, 1.0), self.triangles, strict=True):
            corners = [point(out * u, v) for u, v in ((foot, low), (raw, low), (raw, self.tall), (top, self.tall))]
            sheet.panel(name, polygon(corners), face=self.face, k=self.k)
            sheet.fold(self.name, name, (corners[0], corners[-1]), angle=0.0, stage=self.stage, meaning=rule.meaning)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lapped:
    """A wall with laps that are glued to the triangles of the walls beside it.

    Attributes:
        name: Its name.
        on: The panel that it hangs on.
        frame: Its frame.
        ends: Lesser and greater u: the middle of the creased wall there, or its raw end where it has no lap, mm.
        laps: Name of the lap and of the triangle at each end; None where it has no lap.
        tall: From its crease to its raw rim, mm.
        face: The face that it makes, if any.
        k: Boards between the inside and it.
        stage: When it is folded.
    """

    name: str
    on: str
    frame: Frame
    ends: tuple[float, float]
    laps: tuple[tuple[str, str] | None, tuple[str, str] | None]
    tall: float
    face: Face | None = None
    k: float = 0.0
    stage: int = 1

    def lay(self, sheet: Sheet, rule: CornerRule) -> None:
        """Lay the wall, its laps and their glue."""
        left, right = (
            [(u, 0.0), (u, rule.overhang), (u + out * rule.t, rule.overhang), (u + out * rule.t, self.tall)]
            if lap
            else [(u, 0.0), (u, self.tall)]
            for u, out, lap in zip(self.ends, (-1.0, 1.0), self.laps, strict=True)
        )
        sheet.panel(
            self.name, polygon([*left[::-1], *right]).placed(self.frame), face=self.face, k=self.k, role=Role.WALL
        )
        a, b = self.ends
        sheet.fold(self.on, self.name, (self.frame.point(a, 0.0), self.frame.point(b, 0.0)), stage=self.stage)
        for u, out, names in zip(self.ends, (-1.0, 1.0), self.laps, strict=True):
            if names:
                self._lay_lap(sheet, rule, u + out * rule.t, out, names)

    def _lay_lap(self, sheet: Sheet, rule: CornerRule, u: float, out: float, names: tuple[str, str]) -> None:
        name, triangle = names

        def placed(points: list[Point]) -> Path:
            return polygon([self.frame.point(u + out * d, v) for d, v in points])

        reach, low, high = rule.reach, rule.begin, self.tall
        outline = placed([(0.0, low), (reach, low + reach), (reach, high - rule.taper), (0.0, high)])
        sheet.panel(name, outline, k=self.k + 1.0, role=Role.LAP)
        sheet.fold(self.name, name, (outline.points[0], outline.points[-1]), stage=self.stage)
        edge = min(2.0, reach / 10)
        begin, far, top = rule.t / 2 + rule.play + edge, reach - edge, high - rule.taper - edge
        zone = placed([(begin, low + begin + edge), (far, low + far + edge), (far, top), (begin, top)])
        sheet.join(
            Joint(
                kind=JointKind.GLUED,
                a=name,
                b=triangle,
                zone=zone.counter_clockwise(),
                a_inside=True,
                b_inside=False,
                crush=rule.crush,
            )
        )


def linkage(creased: float) -> tuple[float, float, float]:
    """How triangle, lapped wall and lap are folded when the creased wall is, degrees.

    Args:
        creased: Fold of the creased wall: 0 flat outward, 90 erect, 180 flat inward.

    Returns:
        Folds of the triangle on its wall (180 and -180 are flat, 0 erect), of the lapped wall, and of its lap.
    """
    if creased in (0.0, 180.0):
        return 180.0 - 2.0 * creased, 180.0, creased
    a = math.radians(creased)
    sine, cosine = math.sin(a), math.cos(a)
    # The crease across and the corner's edge keep 45 degrees between them: sin a sin b = 1 + cos b.
    b = 2.0 * math.atan(1.0 / sine)
    # How the corner's edge lies to the creased wall: beside its crease across, and off it into the box.
    beside, off = (math.cos(b) + sine * math.sin(b)) / math.sqrt(2.0), cosine * math.sin(b)
    # The two creases of the lapped wall's corner are opposite to each other: they fold alike.
    return math.degrees(math.atan2(off, beside)), math.degrees(b), creased
