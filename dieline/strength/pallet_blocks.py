"""A full layer out of blocks: rows side by side, cuts from side to side, and five blocks turning like a pinwheel.

A layer is cut into up to five blocks, each of those into five again, until every block holds boxes that all lie one
way. Cuts need stand only where rows of boxes can end, so each block is known by the row lengths that just fit into it,
and what was found for one block serves for every other of its size.

Source: R. Morabito and S. Morales, A simple and effective recursive procedure for the manufacturer's pallet loading
problem, Journal of the Operational Research Society 49 (1998) 819–828. The search, its bounds and order are our own.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from .pallet_bounds import Sides, exchanged, row_lengths, weights

__all__ = ["Blocks", "Spot"]

Spot = tuple[int, int, bool]
"""Corner of a box, in the unit of the sides, and whether it lies turned: its length along the deck's breadth."""

Counts = NDArray[np.int32]
Cut = tuple[int, int, int, int]
"""Where five blocks meet: x1 <= x2 and y1 <= y2, as indexes of row lengths."""

EXCHANGES = 12
"""How many exchanged instances bound every block of the table."""

MOST_HOPEFUL = 2000
"""How many cuts of one block are followed up, those that lack the fewest boxes first."""

NEVER = -1_000_000


@dataclass(slots=True)
class Blocks:
    """Every block that a layer can be cut into, with what is known of it.

    Attributes:
        sides: Deck and box.
        enough: The proved bound of the whole layer: the search ends when it is reached.
        most_cuts: How many blocks are cut into five before the search ends without having tried everything.
    """

    sides: Sides
    enough: int
    most_cuts: int = 400
    xs: list[int] = field(init=False)
    ys: list[int] = field(init=False)
    found: Counts = field(init=False)
    hoped: Counts = field(init=False)
    cuts: dict[tuple[int, int], Cut] = field(init=False, default_factory=dict)
    tried: int = field(init=False, default=0)

    def __post_init__(self) -> None:
        deck_length, deck_breadth, length, breadth = self.sides
        self.xs = row_lengths(deck_length, length, breadth)
        self.ys = row_lengths(deck_breadth, length, breadth)
        across, up = np.array(self.xs)[:, None], np.array(self.ys)[None, :]
        straight, turned = (across // length) * (up // breadth), (across // breadth) * (up // length)
        self.found = np.maximum(straight, turned).astype(np.int32)
        self.hoped = self._hopes()

    def search(self) -> int:
        """The most boxes found: first by cuts from side to side, then by pinwheels where those leave hope."""
        last = len(self.xs) - 1, len(self.ys) - 1
        if self.found[last] < self.enough:
            self._cut_through()
        self.hoped[last] = min(int(self.hoped[last]), self.enough)
        while self.found[last] < self.hoped[last] and self._raise(*last, int(self.found[last]) + 1):
            pass
        return int(self.found[last])

    @property
    def exhausted(self) -> bool:
        """Whether the search gave up before it had tried every cut into five blocks."""
        return self.tried >= self.most_cuts

    def spots(self) -> list[Spot]:
        """The boxes of the best layer found."""
        spots: list[Spot] = []
        self._collect(len(self.xs) - 1, len(self.ys) - 1, 0, 0, spots)
        return spots

    def _hopes(self) -> Counts:
        """An upper bound for every block: by area and by rods, for several exchanged instances."""
        best: Counts | None = None
        own = self.sides[2:]
        for weight in [own, *list(weights(*own, 24))[:EXCHANGES]]:
            across, up = (self._exchanged_lengths(values, weight) for values in (self.xs, self.ys))
            bound = _rods_table(across, up, weight)
            best = bound if best is None else np.minimum(best, bound)
        assert best is not None
        return np.maximum(best, self.found)

    def _exchanged_lengths(self, values: list[int], weight: tuple[int, int]) -> NDArray[np.int64]:
        length, breadth = self.sides[2:]
        return np.array([exchanged((value, 0, length, breadth), weight)[0] for value in values], dtype=np.int64)

    def _cut_through(self) -> None:
        """The best layers by cuts from side to side, for every block, smallest first."""
        found, hoped, xs, ys = self.found, self.hoped, self.xs, self.ys
        rest_x = [[_floor(xs, value - xs[i]) for i in range(1, _floor(xs, value // 2) + 1)] for value in xs]
        rest_y = [np.array([_floor(ys, v - ys[i]) for i in range(1, _floor(ys, v // 2) + 1)], dtype=int) for v in ys]
        for a, rests in enumerate(rest_x):
            row = found[a]
            if rests:
                sums = found[1 : len(rests) + 1] + found[rests]
                winner = sums.argmax(axis=0)
                gain = sums.max(axis=0)
                for c in np.flatnonzero(gain > row).tolist():
                    cut = int(winner[c]) + 1
                    self.cuts[a, c] = (cut, cut, c, c)
                np.maximum(row, gain, out=row)
            for c in np.flatnonzero(row < hoped[a]).tolist():
                if rest_y[c].size == 0:
                    continue
                stacked = row[1 : rest_y[c].size + 1] + row[rest_y[c]]
                cut = int(stacked.argmax())
                if stacked[cut] > row[c]:
                    row[c] = stacked[cut]
                    self.cuts[a, c] = (a, a, cut + 1, cut + 1)

    def _raise(self, a: int, c: int, need: int) -> bool:
        """Whether a block could be made to hold so many boxes."""
        if self.found[a, c] >= need:
            return True
        if self.hoped[a, c] < need or self.exhausted:
            return False
        self.tried += 1
        hope = int(self.hoped[a, c])
        self.hoped[a, c] = need - 1  # a cut that leaves the block whole is no help, nor is asking again
        wheel = _Pinwheel(self.xs, self.ys, a, c)
        for cut in wheel.cuts_for(self.hoped, self.found, need):
            parts = wheel.parts(cut)
            if self._raise_parts(parts, need):
                self.found[a, c] = sum(int(self.found[part]) for part in parts)
                self.cuts[a, c] = cut
                self.hoped[a, c] = hope
                return True
        return False

    def _raise_parts(self, parts: list[tuple[int, int]], need: int) -> bool:
        """Whether blocks together could be made to hold so many boxes, the one with the least to gain first."""
        while True:
            have = sum(int(self.found[part]) for part in parts)
            if have >= need:
                return True
            if sum(int(self.hoped[part]) for part in parts) < need:
                return False
            open_parts = sorted(part for part in set(parts) if self.found[part] < self.hoped[part])
            if not any(self._raise(*part, int(self.found[part]) + 1) for part in open_parts):
                return False

    def _collect(self, a: int, c: int, x: int, y: int, spots: list[Spot]) -> None:
        cut = self.cuts.get((a, c))
        if cut is None:
            spots += self._one_way(a, c, x, y)
            return
        xs, ys = self.xs, self.ys
        x1, x2, y1, y2 = cut
        corners = [(0, 0), (xs[x2], 0), (xs[x1], ys[y2]), (0, ys[y1]), (xs[x1], ys[y1])]
        for (i, j), (right, up) in zip(_Pinwheel(xs, ys, a, c).parts(cut), corners, strict=True):
            if i and j:
                self._collect(i, j, x + right, y + up, spots)

    def _one_way(self, a: int, c: int, x: int, y: int) -> list[Spot]:
        """A block of boxes that all lie one way."""
        _, _, length, breadth = self.sides
        width, height = self.xs[a], self.ys[c]
        turned = (width // breadth) * (height // length) > (width // length) * (height // breadth)
        step, rise = (breadth, length) if turned else (length, breadth)
        return [(x + i * step, y + j * rise, turned) for j in range(height // rise) for i in range(width // step)]


class _Pinwheel:
    """The ways to cut one block into five.

    Args:
        xs: Row lengths along the deck.
        ys: Row lengths across the deck.
        a: Index of the block's length.
        c: Index of the block's breadth.
    """

    def __init__(self, xs: list[int], ys: list[int], a: int, c: int) -> None:
        self.xs, self.ys, self.width, self.height = xs, ys, xs[a], ys[c]
        self.rx, self.left = _raster(xs, self.width)
        self.ry, self.above = _raster(ys, self.height)
        grid = np.array(ys)
        between = grid[self.ry][None, :] - grid[self.ry][:, None]
        self.backwards = between < 0
        self.between = np.searchsorted(grid, np.maximum(between, 0), side="right") - 1

    def parts(self, cut: Cut) -> list[tuple[int, int]]:
        """The five blocks of a cut: lower left, lower right, upper right, upper left, middle."""
        x1, x2, y1, y2 = cut
        xs, ys = self.xs, self.ys
        return [
            (x2, y1),
            (_floor(xs, self.width - xs[x2]), y2),
            (_floor(xs, self.width - xs[x1]), _floor(ys, self.height - ys[y2])),
            (x1, _floor(ys, self.height - ys[y1])),
            (_floor(xs, xs[x2] - xs[x1]), _floor(ys, ys[y2] - ys[y1])),
        ]

    def cuts_for(self, hoped: Counts, found: Counts, need: int) -> list[Cut]:
        """The cuts that can hold so many boxes, those that lack least first; only one if that one lacks none."""
        able, lacks = [], []
        hopes, knowns = _Edges(self, hoped), _Edges(self, found)
        for i, x1 in enumerate(self.rx):
            # A pinwheel turned by half a turn is the same pinwheel, so half of them will do.
            js = [j for j in range(i, len(self.rx)) if self.xs[x1] + self.xs[self.rx[j]] <= self.width]
            places = np.argwhere(hopes.sums(i, js) >= need) if js else np.empty((0, 3), dtype=np.int64)
            if not len(places):
                continue
            lack = (need - knowns.sums(i, js))[tuple(places.T)]
            places[:, 0] += i
            places = np.insert(places, 0, i, axis=1)
            first = int(lack.argmin())
            if lack[first] <= 0:
                return [self._cut(places[first])]
            able.append(places)
            lacks.append(lack)
        if not able:
            return []
        best = np.argsort(np.concatenate(lacks), kind="stable")[:MOST_HOPEFUL]
        return [self._cut(place) for place in np.concatenate(able)[best]]

    def _cut(self, place: NDArray[np.int64]) -> Cut:
        i, j, y1, y2 = place.tolist()
        return self.rx[i], self.rx[j], self.ry[y1], self.ry[y2]


class _Edges:
    """What the blocks along the four edges of a pinwheel hold, and the one in its middle."""

    def __init__(self, wheel: _Pinwheel, table: Counts) -> None:
        rx, ry, left, above = wheel.rx, wheel.ry, wheel.left, wheel.above
        self.wheel, self.table = wheel, table
        self.low_left, self.up_left = table[np.ix_(rx, ry)], table[np.ix_(rx, above)]
        self.low_right, self.up_right = table[np.ix_(left, ry)], table[np.ix_(left, above)]

    def sums(self, i: int, js: list[int]) -> NDArray[np.int32]:
        """Boxes in the five blocks, by x2, y1 and y2, for one x1."""
        wheel = self.wheel
        x1 = wheel.xs[wheel.rx[i]]
        middles = [_floor(wheel.xs, wheel.xs[wheel.rx[j]] - x1) for j in js]
        middle = np.where(wheel.backwards, NEVER, self.table[middles][:, wheel.between])
        by_y1 = self.low_left[js] + self.up_left[i]
        by_y2 = self.low_right[js] + self.up_right[i]
        total: NDArray[np.int32] = middle + by_y1[:, :, None] + by_y2[:, None, :]
        return total


def _floor(values: list[int], value: int) -> int:
    """Index of the longest row that fits."""
    return bisect_right(values, value) - 1


def _raster(values: list[int], side: int) -> tuple[list[int], list[int]]:
    """Where cuts of a side need stand, and what is left beyond each, as indexes of row lengths."""
    places = sorted({_floor(values, side - values[i]) for i in range(_floor(values, side) + 1)})
    return places, [_floor(values, side - values[i]) for i in places]


def _rods_table(across: NDArray[np.int64], up: NDArray[np.int64], box: tuple[int, int]) -> Counts:
    """``rods_bound`` for every pair of sides."""
    area = across[:, None] * up[None, :]
    waste = np.zeros_like(area)
    for rod in box:
        r, s = (across % rod)[:, None], (up % rod)[None, :]
        waste = np.maximum(waste, np.where(r + s <= rod, r * s, (rod - r) * (rod - s)))
    return np.asarray(np.maximum(area - waste, 0) // (box[0] * box[1]), dtype=np.int32)
