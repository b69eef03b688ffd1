"""Where inside a panel there is room for a label: clear of its edges, holes, marks and glue zones."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ..blank import Blank, Panel
from ..geometry.arc import Point
from ..geometry.path import Path
from .model import Drawing, Side
from .notes_text import Box, bounds_of, overlap

__all__ = ["Placer", "Room", "placer", "rooms"]

_CHORD = 0.5
"""mm. Labels keep farther from arcs than this."""

Segment = tuple[Point, Point]


@dataclass(slots=True)
class Room:
    """The inside of a panel, as a place for labels, in drawing coordinates.

    Attributes:
        name: Name of the panel.
        box: Bounds of its outline.
        outline: Edges of the panel.
        edges: Further lines that no label may touch: the bounds of glue zones.
        blocked: Boxes that no label may touch: holes, marks, labels already there.
        plain: Whether the outline is just the box.
    """

    name: str
    box: Box
    outline: list[Segment] = field(default_factory=list)
    edges: list[Segment] = field(default_factory=list)
    blocked: list[Box] = field(default_factory=list)
    plain: bool = False

    def free(self, box: Box) -> bool:
        """Whether a box lies in the panel and touches nothing."""
        x0, y0, x1, y1 = box
        left, low, right, high = self.box
        if x0 < left or y0 < low or x1 > right or y1 > high:
            return False
        for other in self.blocked:
            if overlap(box, other):
                return False
        if self.edges and _met(self.edges, box):
            return False
        return self.plain or (not _met(self.outline, box) and self._within((x0 + x1) / 2, (y0 + y1) / 2))

    def find(self, width: float, height: float, spots: Sequence[Point]) -> Box | None:
        """The first spot where a box of this size is free; None if there is none.

        Args:
            width: Width of the box, mm.
            height: Height of the box, mm.
            spots: Where to try, as shares of the panel's width and height left over beside the box.
        """
        left, low, right, high = self.box
        slack_x, slack_y = right - left - width, high - low - height
        if slack_x <= 0 or slack_y <= 0:
            return None
        for u, v in spots:
            x, y = left + u * slack_x, low + v * slack_y
            box = (x, y, x + width, y + height)
            if self.free(box):
                return box
        return None

    def _within(self, x: float, y: float) -> bool:
        inside = False
        for (px, py), (qx, qy) in self.outline:
            if (py > y) != (qy > y) and x < px + (y - py) * (qx - px) / (qy - py):
                inside = not inside
        return inside


def _met(segments: Iterable[Segment], box: Box) -> bool:
    """Whether any segment touches a box."""
    x0, y0, x1, y1 = box
    for (px, py), (qx, qy) in segments:
        if (px < x0 and qx < x0) or (px > x1 and qx > x1) or (py < y0 and qy < y0) or (py > y1 and qy > y1):
            continue
        # Which side of the segment's line each corner is on: the two farthest apart are not on the same.
        dx, dy = qx - px, qy - py
        low, high = dx * (y0 - py), dx * (y1 - py)
        left, right = dy * (x0 - px), dy * (x1 - px)
        if low > high:
            low, high = high, low
        if left > right:
            left, right = right, left
        if low - right <= 0.0 <= high - left:
            return True
    return False


def rooms(drawing: Drawing, blank: Blank) -> Iterator[Room]:
    """A room for each panel; panels that only bend into each other share one. The root's comes first.

    Args:
        drawing: The drawing, which says which side is shown.
        blank: The blank, as built.
    """
    place = placer(drawing, blank)
    zones: dict[str, list[Path]] = {}
    for joint in blank.joints:
        if joint.zone.closed:
            zones.setdefault(joint.a, []).append(joint.zone)
    bends = {fold.child: (fold.parent, fold.line) for fold in blank.folds if fold.meaning is None}
    if not bends:
        for panel in blank.panels:
            yield _room([panel], [], zones, place)
        return
    groups: dict[str, list[Panel]] = {}
    lines: dict[str, list[Segment]] = {}
    for panel in blank.panels:
        head = panel.name
        while head in bends:
            head, line = bends[head]
            lines.setdefault(panel.name, []).append(line)
        groups.setdefault(head, []).append(panel)
    for panels in groups.values():
        yield _room(panels, [line for panel in panels for line in lines.get(panel.name, ())], zones, place)


class Placer:
    """Takes blank coordinates to drawing coordinates."""

    def __init__(self, sign: float, dx: float, dy: float) -> None:
        self.sign, self.dx, self.dy = sign, dx, dy

    def point(self, point: Point) -> Point:
        """A point on the drawing."""
        return self.sign * point[0] + self.dx, point[1] + self.dy

    def box(self, box: Box) -> Box:
        """Bounds on the drawing."""
        x0, x1 = self.sign * box[0] + self.dx, self.sign * box[2] + self.dx
        if self.sign < 0:
            x0, x1 = x1, x0
        return x0, box[1] + self.dy, x1, box[3] + self.dy


def placer(drawing: Drawing, blank: Blank) -> Placer:
    """What takes a blank to the drawing of it."""
    x0, y0, x1, _ = blank.bounds
    return Placer(-1.0, x1, -y0) if drawing.side is Side.PRINT else Placer(1.0, -x0, -y0)


def _room(panels: Sequence[Panel], bends: Sequence[Segment], zones: dict[str, list[Path]], place: Placer) -> Room:
    first = panels[0]
    plain = _plain(first.outline) if len(panels) == 1 else None
    box = plain or first.outline.bounds
    if len(panels) > 1:
        box = bounds_of([panel.outline.bounds for panel in panels])
    room = Room(first.name, place.box(box), plain=plain is not None)
    if not room.plain:
        edges = [edge for panel in panels for edge in _edges(panel.outline)]
        for bend in bends:
            on = [edge for edge in edges if _along(edge, bend)]
            edges = [edge for edge in edges if edge not in on] + _single(on, bend)
        room.outline = [(place.point(p), place.point(q)) for p, q in edges]
    for panel in panels:
        for zone in zones.get(panel.name, ()):
            room.edges += [(place.point(p), place.point(q)) for p, q in _edges(zone)]
        for hole in panel.holes:
            room.blocked.append(place.box(hole.bounds))
        for mark in panel.marks:
            room.blocked.append(place.box(mark.path.bounds))
    return room


def _plain(outline: Path) -> Box | None:
    """Bounds of an outline that is an upright rectangle, as most are; None for any other."""
    if outline.bulges or len(outline.points) != 4:
        return None
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = outline.points
    if (ax == bx and by == cy and cx == dx and dy == ay) or (ay == by and bx == cx and cy == dy and dx == ax):
        return min(ax, cx), min(ay, cy), max(ax, cx), max(ay, cy)
    return None


def _edges(path: Path) -> Iterable[Segment]:
    points = path.flatten(_CHORD)
    return zip(points, [*points[1:], points[0]], strict=True)


def _single(edges: Sequence[Segment], bend: Segment) -> list[Segment]:
    """The parts of edges on a bend line that only one panel has: these are drawn, what two share is not."""
    (ax, ay), (bx, by) = bend
    ux, uy = bx - ax, by - ay
    scale = ux * ux + uy * uy
    spans = [sorted(((x - ax) * ux + (y - ay) * uy) / scale for x, y in edge) for edge in edges]
    stops = sorted({stop for span in spans for stop in span})
    return [
        ((ax + a * ux, ay + a * uy), (ax + b * ux, ay + b * uy))
        for a, b in pairwise(stops)
        if b - a > 1e-9 and sum(low < (a + b) / 2 < high for low, high in spans) == 1
    ]


def _along(edge: Segment, bend: Segment) -> bool:
    """Whether an edge lies on a bend line, which is not drawn."""
    (ax, ay), (bx, by) = bend
    ux, uy = bx - ax, by - ay
    return all(abs(ux * (y - ay) - uy * (x - ax)) <= 1e-6 * (abs(ux) + abs(uy)) for x, y in edge)
