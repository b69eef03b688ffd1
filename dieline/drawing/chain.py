"""Chaining and ordering: loose segments become runs, and runs follow each other with little travel in the air."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ..geometry.arc import Point
from ..geometry.path import Path
from ..geometry.tolerance import CLOSE_POINTS

__all__ = ["chain_loops", "chain_runs", "order_paths", "travel"]

_FINE = 1.0e5


class _Nodes:
    """Gives points that are one point one number."""

    def __init__(self) -> None:
        self._by_key: dict[tuple[int, int], int] = {}
        self.points: list[Point] = []

    def number(self, point: Point) -> int:
        x, y = point[0] * _FINE, point[1] * _FINE
        key = (round(x), round(y))
        found = self._by_key.get(key)
        if found is None:
            if abs(x - key[0]) > 0.4 or abs(y - key[1]) > 0.4:  # so near a half that it may round either way
                for dx in (0, -1, 1):
                    for dy in (0, -1, 1):
                        found = self._by_key.get((key[0] + dx, key[1] + dy))
                        if found is not None:
                            return found
            found = self._by_key[key] = len(self.points)
            self.points.append(point)
        return found


def chain_runs(paths: Sequence[Path]) -> list[Path]:
    """Two-point paths joined where one goes straight on into the next; corners part them.

    A creasing wheel does not turn a corner, so only a straight continuation makes one run.
    """
    if len(paths) < 2:
        return list(paths)
    nodes = _Nodes()
    ends = [(nodes.number(path.points[0]), nodes.number(path.points[-1])) for path in paths]
    at: dict[int, list[int]] = {}
    for i, (a, b) in enumerate(ends):
        at.setdefault(a, []).append(i)
        at.setdefault(b, []).append(i)
    used = [False] * len(paths)
    out: list[Path] = []
    for i in range(len(paths)):
        if used[i]:
            continue
        used[i] = True
        run = [(paths[i], False)]
        for forward in (True, False):
            while True:
                path, turned = run[-1] if forward else run[0]
                tip = _end(path, turned, forward)
                found = next(
                    (j for j in at[nodes.number(tip)] if not used[j] and _goes_on(path, paths[j])),
                    None,
                )
                if found is None:
                    break
                used[found] = True
                other = paths[found]
                away = math.dist(other.points[0 if forward else -1], tip) > CLOSE_POINTS * 10
                run = [*run, (other, away)] if forward else [(other, away), *run]
        first, last = _end(*run[0], False), _end(*run[-1], True)
        out.append(paths[i] if len(run) == 1 else Path((first, last)))
    return out


def _end(path: Path, turned: bool, last: bool) -> Point:
    return path.points[-1 if last != turned else 0]


def _goes_on(path: Path, other: Path) -> bool:
    """Whether two straight two-point paths lie on one line."""
    if path.bulges or other.bulges:
        return False
    (ax, ay), (bx, by) = path.points
    (cx, cy), (dx, dy) = other.points
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    return abs(ux * vy - uy * vx) <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy)


def chain_loops(paths: Sequence[Path]) -> list[Path]:
    """Directed two-point paths joined into closed loops; straight steps that go on straight are one step.

    Every path runs with the board on its left, so each loop does too: the outline counter-clockwise, cut-outs
    clockwise.

    Raises:
        ValueError: If they do not close.
    """
    nodes = _Nodes()
    starts: dict[int, list[int]] = {}
    ends: list[int] = []
    for i, path in enumerate(paths):
        starts.setdefault(nodes.number(path.points[0]), []).append(i)
        ends.append(nodes.number(path.points[-1]))
    used = [False] * len(paths)
    loops: list[Path] = []
    for i in range(len(paths)):
        if used[i]:
            continue
        run: list[int] = []
        at = i
        while not used[at]:
            used[at] = True
            run.append(at)
            onward = [j for j in starts.get(ends[at], ()) if not used[j]]
            if not onward:
                break
            at = onward[0] if len(onward) == 1 else max(onward, key=lambda j, at=at: _turn(paths[at], paths[j]))  # type: ignore[misc]
        if ends[run[-1]] != nodes.number(paths[run[0]].points[0]):
            raise ValueError(f"the free edges do not close at {paths[run[-1]].points[-1]}")
        loops.append(_loop([paths[j] for j in run]))
    return loops


def _turn(path: Path, onward: Path) -> float:
    """How far to the left the way turns from one path into the next, radians."""
    (ax, ay), (bx, by) = path.points
    (cx, cy), (dx, dy) = onward.points
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def _loop(parts: Sequence[Path]) -> Path:
    """A closed path of directed parts, straight steps merged, beginning at a corner."""
    steps = [(part.points[0], part.points[1], part.bulges[0] if part.bulges else 0.0) for part in parts]
    kept: list[tuple[Point, float]] = []
    for k, (p, q, bulge) in enumerate(steps):
        before = steps[k - 1]
        straight = bulge == 0.0 and before[2] == 0.0 and _straight_on(before[0], p, q)
        if not straight:
            kept.append((p, bulge))
    bulges = tuple(bulge for _, bulge in kept)
    return Path(tuple(point for point, _ in kept), bulges if any(bulges) else (), closed=True)


def _straight_on(a: Point, b: Point, c: Point) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return abs(ux * vy - uy * vx) <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy) and ux * vx + uy * vy > 0


def order_paths(paths: Iterable[Path], start: Point) -> tuple[list[int], list[bool], Point]:
    """An order of runs with short ways between them: always the nearest end next.

    Args:
        paths: The runs; closed ones begin and end at their first point.
        start: Where the tool stands before the first.

    Returns:
        Indices in order, whether each is walked backwards, and where the tool stands at the end.
    """
    ends = [(path.points[0], path.points[0] if path.closed else path.points[-1]) for path in paths]
    left = list(range(len(ends)))
    order: list[int] = []
    backwards: list[bool] = []
    x, y = start
    while left:
        best, best_distance, back = left[0], math.inf, False
        for i in left:
            (ax, ay), (bx, by) = ends[i]
            ahead = (ax - x) * (ax - x) + (ay - y) * (ay - y)
            behind = (bx - x) * (bx - x) + (by - y) * (by - y)
            if ahead < best_distance - CLOSE_POINTS:
                best, best_distance, back = i, ahead, False
            if behind < best_distance - CLOSE_POINTS:
                best, best_distance, back = i, behind, True
        left.remove(best)
        order.append(best)
        backwards.append(back)
        x, y = ends[best][0] if back else ends[best][1]
    return order, backwards, (x, y)


def travel(paths: Iterable[Path], start: Point = (0.0, 0.0)) -> float:
    """Length of the ways in the air between runs walked in the given order, mm."""
    way, at = 0.0, start
    for path in paths:
        way += math.dist(at, path.points[0])
        at = path.points[0] if path.closed else path.points[-1]
    return way
