"""Chaining and ordering: loose segments become runs, and runs follow each other with little travel in the air."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ..geometry.arc import Point
from ..geometry.path import Path
from ..geometry.tolerance import CLOSE_POINTS

__all__ = ["Step", "chain_loops", "chain_runs", "order_paths", "travel"]

_FINE = 1.0e5


class _Nodes(dict[Point, int]):
    """The number of each point; points that are one point but for a rounding error have one number."""

    def __init__(self) -> None:
        super().__init__()
        self._by_key: dict[tuple[int, int], int] = {}

    def __missing__(self, point: Point) -> int:
        x, y = point[0] * _FINE, point[1] * _FINE
        key = (round(x), round(y))
        found = self._by_key.get(key)
        if found is None and (abs(x - key[0]) > 0.4 or abs(y - key[1]) > 0.4):
            found = self._beside(key)  # so near to a half that it may round either way
        if found is None:
            found = self._by_key[key] = len(self)
        self[point] = found
        return found

    def _beside(self, key: tuple[int, int]) -> int | None:
        around = ((key[0] + dx, key[1] + dy) for dx in (0, -1, 1) for dy in (0, -1, 1))
        return next((self._by_key[near] for near in around if near in self._by_key), None)


Step = tuple[Point, Point, float]
"""From, to, and the bulge of the way between."""


def chain_runs(steps: Sequence[Step]) -> list[Path]:
    """Steps joined where one goes straight on into the next; corners and arcs part them.

    A creasing wheel does not turn a corner, so only a straight continuation makes one run.
    """
    if len(steps) == 1:
        return [_path(steps[0])]
    nodes = _Nodes()
    at: dict[int, list[int]] = {}
    for i, (p, q, _) in enumerate(steps):
        at.setdefault(nodes[p], []).append(i)
        at.setdefault(nodes[q], []).append(i)
    used = [False] * len(steps)
    out: list[Path] = []
    for i, step in enumerate(steps):
        if used[i]:
            continue
        used[i] = True
        if step[2]:
            out.append(_path(step))
            continue
        first = _far_end(steps, step, step[0], at, nodes, used)
        last = _far_end(steps, step, step[1], at, nodes, used)
        out.append(Path((first, last)))
    return out


def _far_end(
    steps: Sequence[Step], step: Step, tip: Point, at: dict[int, list[int]], nodes: _Nodes, used: list[bool]
) -> Point:
    """Where the straight run through a step ends, going on from one of its ends; the steps on the way are used."""
    while True:
        found = next((j for j in at[nodes[tip]] if not used[j] and _one_line(step, steps[j])), None)
        if found is None:
            return tip
        used[found] = True
        p, q, _ = steps[found]
        tip = q if nodes[p] == nodes[tip] else p


def _path(step: Step) -> Path:
    return Path(step[:2], (step[2],) if step[2] else ())


def _one_line(step: Step, other: Step) -> bool:
    """Whether two straight steps lie on one line."""
    (ax, ay), (bx, by), bulge = step
    (cx, cy), (dx, dy), other_bulge = other
    if bulge or other_bulge:
        return False
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    return abs(ux * vy - uy * vx) <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy)


def chain_loops(steps: Sequence[Step]) -> list[Path]:
    """Directed steps joined into closed loops; straight steps that go straight on are one step.

    Every step runs with the board on its left, so each loop does too: the outline counter-clockwise, cut-outs
    clockwise.

    Raises:
        ValueError: If they do not close.
    """
    nodes = _Nodes()
    starts: dict[int, list[int]] = {}
    ends: list[int] = []
    for i, (p, q, _) in enumerate(steps):
        starts.setdefault(nodes[p], []).append(i)
        ends.append(nodes[q])
    used = [False] * len(steps)
    loops: list[Path] = []
    for i in range(len(steps)):
        if used[i]:
            continue
        run: list[int] = []
        at = i
        while not used[at]:
            used[at] = True
            run.append(at)
            onward = starts.get(ends[at], ())
            if len(onward) > 1:
                onward = [j for j in onward if not used[j]]
            if not onward or used[onward[0]]:
                break
            at = onward[0] if len(onward) == 1 else _leftmost(steps, at, onward)
        if ends[run[-1]] != nodes[steps[run[0]][0]]:
            raise ValueError(f"the free edges do not close at {steps[run[-1]][1]}")
        loops.append(_loop([steps[j] for j in run]))
    return loops


def _leftmost(steps: Sequence[Step], at: int, onward: Sequence[int]) -> int:
    """The step that turns most to the left: loops that touch at a corner stay two."""
    (ax, ay), (bx, by), _ = steps[at]
    ux, uy = bx - ax, by - ay

    def turn(j: int) -> float:
        (cx, cy), (dx, dy), _ = steps[j]
        return math.atan2(ux * (dy - cy) - uy * (dx - cx), ux * (dx - cx) + uy * (dy - cy))

    return max(onward, key=turn)


def _loop(steps: Sequence[Step]) -> Path:
    """A closed path of directed steps, straight ones merged, beginning at a corner."""
    points: list[Point] = []
    bulges: list[float] = []
    before, _, bulge_before = steps[-1]
    for p, q, bulge in steps:
        if bulge or bulge_before or not _straight_on(before, p, q):
            points.append(p)
            bulges.append(bulge)
        before, bulge_before = p, bulge
    return Path(tuple(points), tuple(bulges) if any(bulges) else (), closed=True)


def _straight_on(a: Point, b: Point, c: Point) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return ux * vx + uy * vy > 0 and abs(ux * vy - uy * vx) <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy)


def order_paths(paths: Iterable[Path], start: Point) -> tuple[list[int], list[bool], Point]:
    """An order of runs with short ways between them: always the nearest end next.

    Args:
        paths: The runs; closed ones begin and end at their first point.
        start: Where the tool stands before the first.

    Returns:
        Indices in order, whether each is walked backwards, and where the tool stands at the end.
    """
    ends = [(*path.points[0], *path.points[0 if path.closed else -1]) for path in paths]
    left = list(range(len(ends)))
    order: list[int] = []
    backwards: list[bool] = []
    x, y = start
    while left:
        best, nearer, back = left[0], math.inf, False
        for i in left:
            ax, ay, bx, by = ends[i]
            ahead = (ax - x) * (ax - x) + (ay - y) * (ay - y)
            behind = (bx - x) * (bx - x) + (by - y) * (by - y)
            if ahead < nearer:
                best, nearer, back = i, ahead - CLOSE_POINTS, False
            if behind < nearer:
                best, nearer, back = i, behind - CLOSE_POINTS, True
        left.remove(best)
        order.append(best)
        backwards.append(back)
        x, y = ends[best][:2] if back else ends[best][2:]
    return order, backwards, (x, y)


def travel(paths: Iterable[Path], start: Point = (0.0, 0.0)) -> float:
    """Length of the ways in the air between runs walked in the given order, mm."""
    way, at = 0.0, start
    for path in paths:
        way += math.dist(at, path.points[0])
        at = path.points[0] if path.closed else path.points[-1]
    return way
