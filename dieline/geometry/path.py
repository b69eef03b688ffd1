"""Paths of straight lines and true arcs. Curves stay curves until a call states the chord tolerance."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import repeat

from .arc import Point, arc_area, arc_bounds, arc_length, arc_points
from .tolerance import CHORD, CLOSE_POINTS

__all__ = ["Frame", "Path", "bounds_of", "circle", "line", "obround", "polygon", "polyline", "rectangle", "rounded"]


@dataclass(frozen=True, slots=True)
class Path:
    """An open or closed run of lines and arcs.

    Attributes:
        points: The corners (x, y) in mm; a closed path does not repeat the first.
        bulges: One for each segment, 0 where it is straight; empty if every segment is straight.
        closed: Whether a last segment runs back to the first point.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...] = ()
    closed: bool = False

    def __post_init__(self) -> None:
        count = len(self.points) - (0 if self.closed else 1)
        if count < 1 or (self.bulges and len(self.bulges) != count):
            raise ValueError(f"a path of {len(self.points)} points cannot have {len(self.bulges)} bulges")

    def segments(self) -> Iterator[tuple[Point, Point, float]]:
        """Each segment as (from, to, bulge)."""
        points = self.points
        ends = points[1:] + points[:1] if self.closed else points[1:]
        return zip(points, ends, self.bulges or repeat(0.0), strict=False)

    @property
    def straight(self) -> bool:
        """Whether there is no arc in it."""
        return not self.bulges

    @property
    def length(self) -> float:
        """Length along the path, mm."""
        if not self.bulges:
            points = self.points
            return math.fsum(map(math.dist, points, points[1:] + points[:1] if self.closed else points[1:]))
        return math.fsum(arc_length(p, q, bulge) for p, q, bulge in self.segments())

    @property
    def area(self) -> float:
        """Signed area in mm², exact for arcs too; positive if counter-clockwise. Only for a closed path."""
        if not self.closed:
            raise ValueError("an open path has no area")
        if not self.bulges:
            points = self.points
            if len(points) == 4:  # as most panels have
                (ax, ay), (bx, by), (cx, cy), (dx, dy) = points
                return math.fsum((ax * by - bx * ay, bx * cy - cx * by, cx * dy - dx * cy, dx * ay - ax * dy)) / 2.0
            ends = points[1:] + points[:1]
            return math.fsum([px * qy - qx * py for (px, py), (qx, qy) in zip(points, ends, strict=False)]) / 2.0
        return math.fsum((p[0] * q[1] - q[0] * p[1]) / 2.0 + arc_area(p, q, bulge) for p, q, bulge in self.segments())

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Exact bounds: least x, least y, greatest x, greatest y."""
        if not self.bulges:
            return bounds_of(self.points)
        boxes = [arc_bounds(p, q, bulge) for p, q, bulge in self.segments()]
        lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
        return min(lows_x), min(lows_y), max(highs_x), max(highs_y)

    def flatten(self, chord: float = CHORD) -> list[Point]:
        """Points of the path with arcs replaced by chords no farther than ``chord`` mm from them.

        The first point is not repeated at the end of a closed path.
        """
        if not self.bulges:
            return list(self.points)
        points = [self.points[0]]
        for p, q, bulge in self.segments():
            points += arc_points(p, q, bulge, chord)
        return points[:-1] if self.closed else points

    def reversed(self) -> Path:
        """The same path walked the other way; a closed one still begins at the same point."""
        points = self.points[:1] + self.points[:0:-1] if self.closed else self.points[::-1]
        return Path(points, tuple([-bulge for bulge in reversed(self.bulges)]), self.closed)

    def counter_clockwise(self) -> Path:
        """The same closed path, walked counter-clockwise."""
        return self if self.area >= 0 else self.reversed()

    def moved(self, dx: float, dy: float) -> Path:
        """The path shifted by (dx, dy) mm."""
        return Path(tuple([(x + dx, y + dy) for x, y in self.points]), self.bulges, self.closed)

    def mirrored(self, axis: float = 0.0) -> Path:
        """The path mirrored left to right in the upright line x = ``axis``."""
        points = tuple((2.0 * axis - x, y) for x, y in self.points)
        return Path(points, tuple(-bulge for bulge in self.bulges), self.closed)

    def placed(self, frame: Frame) -> Path:
        """The path given in the coordinates of ``frame``, in the coordinates that the frame itself is given in."""
        bulges = self.bulges if frame.right_handed else tuple([-bulge for bulge in self.bulges])
        (x, y), (ux, uy), (vx, vy) = frame.origin, frame.u, frame.v
        points = [(x + u * ux + v * vx, y + u * uy + v * vy) for u, v in self.points]
        return Path(tuple(points), bulges, self.closed)


@dataclass(frozen=True, slots=True)
class Frame:
    """A plane coordinate frame: where its origin lies and which way its two axes run.

    Attributes:
        origin: Where (0, 0) lies.
        u: Unit vector of the first axis.
        v: Unit vector of the second axis, at a right angle to the first.
    """

    origin: Point
    u: Point
    v: Point

    @classmethod
    def outward(cls, p: Point, q: Point) -> Frame:
        """The frame of an edge walked counter-clockwise: u along it from ``p``, v away from the panel."""
        length = math.hypot(q[0] - p[0], q[1] - p[1])
        if length < CLOSE_POINTS:
            raise ValueError("an edge without length has no frame")
        ux, uy = (q[0] - p[0]) / length, (q[1] - p[1]) / length
        return cls(p, (ux, uy), (uy, -ux))

    @property
    def right_handed(self) -> bool:
        """Whether turning from u to v is counter-clockwise."""
        return self.u[0] * self.v[1] - self.u[1] * self.v[0] > 0

    def point(self, u: float, v: float) -> Point:
        """The point (u, v) of this frame in outer coordinates."""
        return (
            self.origin[0] + u * self.u[0] + v * self.v[0],
            self.origin[1] + u * self.u[1] + v * self.v[1],
        )


def bounds_of(points: Sequence[Point]) -> tuple[float, float, float, float]:
    """Bounds of some points: least x, least y, greatest x, greatest y."""
    left, low = right, high = points[0]
    for x, y in points:
        if x < left:
            left = x
        elif x > right:
            right = x
        if y < low:
            low = y
        elif y > high:
            high = y
    return left, low, right, high


def line(p: Point, q: Point) -> Path:
    """A straight line."""
    return Path((p, q))


def polyline(points: Iterable[Point]) -> Path:
    """An open run of straight lines."""
    return Path(tuple(points))


def polygon(points: Iterable[Point]) -> Path:
    """A closed run of straight lines; points that repeat their neighbour are left out."""
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > CLOSE_POINTS:
            kept.append(point)
    if len(kept) > 1 and math.dist(kept[0], kept[-1]) <= CLOSE_POINTS:
        kept.pop()
    return Path(tuple(kept), closed=True)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Path:
    """A rectangle by two opposite corners, counter-clockwise."""
    (x0, x1), (y0, y1) = sorted((x0, x1)), sorted((y0, y1))
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)


def circle(centre: Point, radius: float) -> Path:
    """A full circle as two half circles, counter-clockwise."""
    x, y = centre
    return Path(((x + radius, y), (x - radius, y)), (1.0, 1.0), closed=True)


def obround(centre: Point, width: float, height: float) -> Path:
    """A slot with half-round ends: the usual hand hole. ``width`` lies along x; both in mm."""
    x, y = centre
    if abs(width - height) < CLOSE_POINTS:
        return circle(centre, width / 2.0)
    if width < height:
        a, r = (height - width) / 2.0, width / 2.0
        return Path(((x + r, y - a), (x + r, y + a), (x - r, y + a), (x - r, y - a)), (0.0, 1.0, 0.0, 1.0), closed=True)
    a, r = (width - height) / 2.0, height / 2.0
    return Path(((x - a, y - r), (x + a, y - r), (x + a, y + r), (x - a, y + r)), (0.0, 1.0, 0.0, 1.0), closed=True)


def rounded(points: Sequence[Point], radii: Sequence[float], *, closed: bool = True) -> Path:
    """A polygon or polyline whose corners are rounded off by true arcs.

    A radius that its two sides have no room for is made smaller until it fits.

    Args:
        points: The corners, before rounding.
        radii: One radius in mm for each corner; 0 keeps it sharp. The ends of an open path stay as they are.
        closed: Whether the last corner joins the first.
    """
    count = len(points)
    if len(radii) != count:
        raise ValueError(f"{count} corners need as many radii, not {len(radii)}")
    out: list[Point] = []
    bulges: list[float] = []
    for i, corner in enumerate(points):
        at_end = not closed and i in (0, count - 1)
        cut = None if at_end or radii[i] <= 0 else _corner_cut(points[i - 1], corner, points[(i + 1) % count], radii, i)
        if cut is None:
            out.append(corner)
            bulges.append(0.0)
            continue
        start, end, bulge = cut
        if out and math.dist(out[-1], start) <= CLOSE_POINTS:
            bulges[-1] = bulge
        else:
            out.append(start)
            bulges.append(bulge)
        out.append(end)
        bulges.append(0.0)
    if closed and len(out) > 1 and math.dist(out[0], out[-1]) <= CLOSE_POINTS:
        out.pop()
        bulges.pop()
    if not closed:
        bulges.pop()
    return Path(tuple(out), tuple(bulges) if any(bulges) else (), closed)


def _corner_cut(
    before: Point, corner: Point, after: Point, radii: Sequence[float], i: int
) -> tuple[Point, Point, float] | None:
    """Where the arc at a corner begins and ends, and its bulge; None where the path does not turn."""
    ax, ay = before[0] - corner[0], before[1] - corner[1]
    bx, by = after[0] - corner[0], after[1] - corner[1]
    la, lb = math.hypot(ax, ay), math.hypot(bx, by)
    if la <= CLOSE_POINTS or lb <= CLOSE_POINTS:
        return None
    ax, ay, bx, by = ax / la, ay / la, bx / lb, by / lb
    cross, dot = ax * by - ay * bx, ax * bx + ay * by
    inner = math.atan2(abs(cross), dot)
    if math.pi - inner < 1e-9 or inner < 1e-9:
        return None
    count = len(radii)
    # A side shared by two rounded corners is divided in the ratio of their radii.
    room_a = la * radii[i] / (radii[i] + max(0.0, radii[i - 1]))
    room_b = lb * radii[i] / (radii[i] + max(0.0, radii[(i + 1) % count]))
    back = min(radii[i] / math.tan(inner / 2.0), room_a, room_b)
    bulge = math.tan((math.pi - inner) / 4.0) * (-1.0 if cross > 0 else 1.0)
    start = (corner[0] + ax * back, corner[1] + ay * back)
    end = (corner[0] + bx * back, corner[1] + by * back)
    return start, end, bulge
