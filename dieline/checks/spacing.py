"""How near the strokes of a drawing come to each other: one pass over all of them, shared by every check."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..drawing.model import Drawing
from ..geometry.arc import Point
from .chords import Chords, Kind, Loop

__all__ = ["Facing", "Spacing", "measure_spacing"]

_LEAST_OVERLAP = 0.05
"""mm. Two strokes that run past each other for less do not face each other; it is also well above rounding error."""

_TOUCH = 1e-4
"""mm. Strokes nearer than this meet, as a slit does that starts on the outline."""

_FACING_STRAIGHT, _FACING_ARC = 0.5, 0.96
"""Cosines. Straight knives face each other up to 60° (a slot that tapers); on a curve only chords that are nearly
parallel do, or every round corner would be its own narrow place."""

_PARALLEL = 0.9999
"""Cosine. Creases, and knives that are priced as a close pair, run in one direction to within a degree."""

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


class Facing(NamedTuple):
    """Two strokes, or two parts of one, that face each other.

    Attributes:
        distance: How near they come, mm.
        place: The middle of that place, drawing coordinates.
        overlap: Over which length they face each other, mm.
        shorter: Length of the shorter of the two parts, mm.
        kinds: What each is.
        strokes: Index of each stroke in the drawing.
        parts: Index of each part (a line or an arc) among all parts of the drawing; -1 for the end of an open cut.
        waste: Whether it is waste that lies between them, not board.
        parallel: Whether both are straight and run in one direction.
        lean: Angle between the two, degrees.
    """

    distance: float
    place: Point
    overlap: float
    shorter: float
    kinds: tuple[int, int]
    strokes: tuple[int, int]
    parts: tuple[int, int]
    waste: bool
    parallel: bool
    lean: float = 0.0


@dataclass(frozen=True, slots=True)
class Spacing:
    """What was measured on one drawing.

    Attributes:
        reach: Up to which distance was looked, mm.
        facing: Everything that faces each other within reach, nearest first.
        loops: The closed cuts.
    """

    reach: float
    facing: tuple[Facing, ...]
    loops: tuple[Loop, ...]


def measure_spacing(drawing: Drawing, reach: float) -> Spacing:
    """Everything in a drawing that faces each other within reach.

    Neighbours on one path do not count, nor do strokes that meet. Cuts of a closed path know on which side the board
    lies, so a narrow slot and a narrow strip of board are told apart.

    Args:
        drawing: The drawing.
        reach: How far to look, mm.
    """
    chords = Chords()
    for number in range(len(drawing.strokes)):
        chords.add(number, drawing)
    if not chords.ends:
        return Spacing(reach, (), ())
    ends, tags = np.array(chords.ends), np.array(chords.tags)
    facing = _facing(ends, np.array(chords.starts), tags, reach)
    if chords.free_ends:
        strokes = np.repeat(tags[:, :2], np.diff([*chords.starts, len(ends)]), axis=0)
        known = {frozenset(pair.strokes) for pair in facing}
        short = _free_ends(ends, strokes, chords.free_ends, reach)
        facing += [pair for pair in short if frozenset(pair.strokes) not in known]
    facing.sort(key=lambda pair: pair.distance)
    return Spacing(reach, tuple(facing), tuple(chords.loops))


def _facing(ends: Array, starts: Whole, tags: Whole, reach: float) -> list[Facing]:
    start, step = ends[:, :2], ends[:, 2:] - ends[:, :2]
    length = np.sqrt(step[:, 0] ** 2 + step[:, 1] ** 2)
    unit = step / length[:, None]
    p, q = _near_parts(ends, starts, tags, unit[starts], reach)
    if not len(p):
        return []
    i, j, p, q = _chord_pairs(p, q, starts, tags, len(ends))
    cosine = (unit[i] * unit[j]).sum(axis=1)
    keep = _may_face(tags[p], tags[q], cosine)
    i, j, p, q, cosine = i[keep], j[keep], p[keep], q[keep], cosine[keep]
    one, other = np.concatenate((i, j)), np.concatenate((j, i))
    straight = np.tile((tags[p, 3] | tags[q, 3]) == 0, 2)
    measured = _apart(start, unit, length, ends, one, other, straight)
    return _listed((i, j), (p, q), measured, tags, length, np.abs(cosine), reach)


def _near_parts(ends: Array, starts: Whole, tags: Whole, unit: Array, reach: float) -> tuple[Whole, Whole]:
    """Pairs of parts (first index smaller) whose bounding boxes come within reach and that may face each other."""
    half = reach / 2
    low = np.minimum(ends[:, :2], ends[:, 2:])
    high = np.maximum(ends[:, :2], ends[:, 2:])
    if len(starts) < len(ends):
        low, high = np.minimum.reduceat(low, starts), np.maximum.reduceat(high, starts)
    low, high = low - half, high + half
    facing = np.abs(unit @ unit.T) > _FACING_STRAIGHT
    arcs = tags[:, 3] > 0
    if arcs.any():
        facing |= arcs | arcs[:, None]
    x, y = low[:, :1] <= high[:, 0], low[:, 1:] <= high[:, 1]
    p, q = np.nonzero(facing & x & x.T & y & y.T)
    keep = p < q
    p, q = p[keep], q[keep]
    step = q - p
    neighbours = (tags[p, 1] == tags[q, 1]) & ((step <= 1) | (step == tags[p, 2] - 1))
    return p[~neighbours], q[~neighbours]


def _chord_pairs(p: Whole, q: Whole, starts: Whole, tags: Whole, total: int) -> tuple[Whole, Whole, Whole, Whole]:
    """Every chord of the first part with every chord of the second, for each pair of parts."""
    if not tags[:, 3].any():
        return p, q, p, q
    counts = np.diff(starts, append=total)
    times, across = counts[p] * counts[q], counts[q]
    pair = np.repeat(np.arange(len(p)), times)
    place = np.arange(len(pair)) - np.repeat(np.cumsum(times) - times, times)
    return starts[p[pair]] + place // across[pair], starts[q[pair]] + place % across[pair], p[pair], q[pair]


def _may_face(a: Whole, b: Whole, cosine: Array) -> NDArray[np.bool_]:
    """Which pairs can face each other at all: two loops only when they are walked in opposite ways."""
    loops = (a[:, 0] == Kind.LOOP) & (b[:, 0] == Kind.LOOP)
    creased = (a[:, 0] == Kind.CREASE) | (b[:, 0] == Kind.CREASE)
    least = np.where(creased, _PARALLEL, np.where((a[:, 3] | b[:, 3]) > 0, _FACING_ARC, _FACING_STRAIGHT))
    return np.where(loops, -cosine, np.abs(cosine)) >= least


def _apart(
    start: Array, unit: Array, length: Array, ends: Array, one: Whole, other: Whole, straight: NDArray[np.bool_]
) -> tuple[Array, Array, Array, Array]:
    """Distance, overlap, side (positive: left) and place of ``other`` seen from ``one``, where it lies beside it.

    Each pair is seen from both sides: the second half of the arrays holds the pairs of the first half turned round.
    """
    ux, uy = unit[one].T
    x, y = start[one].T
    x0, y0, x1, y1 = ends[other].T
    x0, y0, x1, y1 = x0 - x, y0 - y, x1 - x, y1 - y
    s0, s1 = x0 * ux + y0 * uy, x1 * ux + y1 * uy
    o0, o1 = ux * y0 - uy * x0, ux * y1 - uy * x1
    low = np.maximum(np.minimum(s0, s1), 0.0)
    high = np.minimum(np.maximum(s0, s1), length[one])
    slope = (o1 - o0) / (s1 - s0)
    at_low, at_high = o0 + (low - s0) * slope, o0 + (high - s0) * slope
    nearer = np.where(np.abs(at_low) <= np.abs(at_high), at_low, at_high)
    s = np.where(np.abs(at_low - at_high) < _TOUCH, (low + high) / 2, np.where(nearer == at_low, low, high))
    overlap = high - low
    mutual = np.minimum(overlap, np.roll(overlap, len(overlap) // 2))
    distance = np.abs(nearer)
    leaning = straight & (np.abs(at_low - at_high) >= _TOUCH)
    if leaning.any():  # the nearest place of two leaning lines is always an end of one of them
        d0 = np.hypot(s0 - np.clip(s0, 0.0, length[one]), o0)
        d1 = np.hypot(s1 - np.clip(s1, 0.0, length[one]), o1)
        distance = np.where(leaning, np.minimum(d0, d1), distance)
    distance = np.where((at_low * at_high > 0) & (mutual > _LEAST_OVERLAP), distance, np.inf)
    place = np.array((x + ux * s - uy * nearer / 2, y + uy * s + ux * nearer / 2))
    return distance, mutual, nearer, place


def _listed(
    chords: tuple[Whole, Whole],
    parts: tuple[Whole, Whole],
    measured: tuple[Array, Array, Array, Array],
    tags: Whole,
    length: Array,
    cosine: Array,
    reach: float,
) -> list[Facing]:
    """For each pair of parts the nearest of its chords within reach, by the nearer of its two views."""
    distance, overlap, side, place = measured
    count = len(cosine)
    best = np.where(distance[:count] <= distance[count:], 0, count) + np.arange(count)
    within = np.flatnonzero((distance[best] <= reach) & (distance[best] > _TOUCH))
    order = within[np.argsort(distance[best[within]], kind="stable")].tolist()
    kinds = tags.tolist()
    found: dict[tuple[int, int], Facing] = {}
    for k in order:
        p, q = int(parts[0][k]), int(parts[1][k])
        if (p, q) in found:
            continue
        b, a_tags, b_tags = int(best[k]), kinds[p], kinds[q]
        found[p, q] = Facing(
            float(distance[b]),
            (float(place[0, b]), float(place[1, b])),
            float(overlap[b]),
            float(min(length[chords[0][k]], length[chords[1][k]])),
            (a_tags[0], b_tags[0]),
            (a_tags[1], b_tags[1]),
            (p, q),
            bool(a_tags[0] == b_tags[0] == Kind.LOOP and side[b] < 0),
            bool(cosine[k] > _PARALLEL) and not a_tags[3] and not b_tags[3],
            math.degrees(math.acos(min(1.0, float(cosine[k])))),
        )
    return list(found.values())


def _free_ends(ends: Array, strokes: Whole, free: list[tuple[float, float, int]], reach: float) -> list[Facing]:
    """Ends of open cuts that stop short of another cut."""
    found: list[Facing] = []
    start, step = ends[:, :2], ends[:, 2:] - ends[:, :2]
    square = np.maximum((step**2).sum(axis=1), 1e-24)
    for x, y, number in free:
        away = np.array((x, y)) - start
        share = np.clip((away * step).sum(axis=1) / square, 0.0, 1.0)
        gap = away - step * share[:, None]
        distance = np.sqrt((gap**2).sum(axis=1))
        distance[(strokes[:, 1] == number) | (strokes[:, 0] == Kind.CREASE)] = np.inf
        k = int(distance.argmin())
        if not _TOUCH < distance[k] <= reach:
            continue
        place = (x - float(gap[k, 0]) / 2, y - float(gap[k, 1]) / 2)
        kinds, pair = (Kind.OPEN, int(strokes[k, 0])), (number, int(strokes[k, 1]))
        found.append(Facing(float(distance[k]), place, 0.0, 0.0, kinds, pair, (-1, -1), False, False))
    return found
