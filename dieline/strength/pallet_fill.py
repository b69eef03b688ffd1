"""Whether so many boxes fit at all: every way to fill a deck from one end, until one is found or none is left.

Boxes are set one after the other into the leftmost corner of the lowest gap, or the corner is given up as waste. How
much waste there is follows from the number of boxes; which squares it may lie on follows from colours: number the unit
squares ``x + k·y`` modulo the length of a box, ``k`` having no divisor in common with that length. Saw the box into
rods of that length: each covers every colour once, whichever way it lies. So the boxes cover every colour equally
often, and each colour's share of the waste is known before the first box is set down. The same holds for rods as long
as the box is broad.

Boxes need begin only at raster points: push every box to the far end, and then back to the longest row that ends before
it; none overlaps another. Two half-filled decks with the same skyline hold equally many boxes, so each skyline is
tried once.

Source: raster points: G. Scheithauer and J. Terno, The G4-heuristic for the pallet loading problem, Journal of the
Operational Research Society 47 (1996) 511–522; the colours are those of the rods' bound, for every ``k``.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from math import gcd

from .pallet_bounds import Sides, row_lengths

__all__ = ["Filling"]

Skyline = tuple[tuple[int, int], ...]
"""Height and width of each step, from the left; neighbours differ in height."""

Move = tuple[int, int, bool]
"""Width and height of what is set into the corner, and whether it is a box."""

Box = tuple[int, int, bool]
"""Corner of a box, and whether it lies turned."""

COLOURINGS = 12
"""How many values of k are used for either rod; more forbid no more, they only take time."""


@dataclass(slots=True)
class Filling:
    """The search for one number of boxes.

    Args:
        sides: Deck and box in small whole numbers.
        target: How many boxes to set down.
        most_states: How many skylines are looked at before the search gives up.
    """

    sides: Sides
    target: int
    most_states: int
    states: int = field(init=False, default=0)
    boxes: list[Box] = field(init=False, default_factory=list)
    waste: int = field(init=False)
    quota: list[int] = field(init=False, default_factory=list)
    colourings: list[tuple[int, int, int]] = field(init=False, default_factory=list)
    squares: dict[tuple[int, int], tuple[int, ...]] = field(init=False, default_factory=dict)
    across: _Line = field(init=False)
    up: _Line = field(init=False)
    seen: set[Skyline] = field(init=False, default_factory=set)

    def __post_init__(self) -> None:
        deck_length, deck_breadth, length, breadth = self.sides
        self.waste = deck_length * deck_breadth - self.target * length * breadth
        self.across, self.up = (_Line(side, length, breadth) for side in (deck_length, deck_breadth))
        for rod, rods in ((length, breadth), (breadth, length)):
            for k in [k for k in range(1, rod) if gcd(k, rod) == 1][:COLOURINGS]:
                self.colourings.append((len(self.quota), rod, k))
                counts = _colour_counts(deck_length, deck_breadth, rod, k)
                self.quota += [count - self.target * rods for count in counts]

    def search(self) -> bool | None:
        """Whether so many boxes fit; None if the search gave up. ``boxes`` then holds them."""
        if self.waste < 0 or min(self.quota, default=0) < 0:
            return False
        start: Skyline = ((0, self.sides[0]),)
        frames: list[tuple[Skyline, list[Move], list[tuple[int, ...]] | None]] = [(start, self._moves(start), None)]
        while frames:
            skyline, moves, spent = frames[-1]
            if not moves:
                frames.pop()
                self._take_back(spent, bool(frames))
                continue
            move = moves.pop()
            taken = self._take(skyline, move)
            if taken is None:
                continue
            after = _set_down(skyline, _lowest(skyline), move)
            if after == ((self.up.side, self.across.side),):
                return True
            if after in self.seen or not self._hopeful(after):
                self._take_back(None if move[2] else taken, True)
                continue
            self.seen.add(after)
            self.states += 1
            if self.states > self.most_states:
                return None
            frames.append((after, self._moves(after), None if move[2] else taken))
        return False

    def _moves(self, skyline: Skyline) -> list[Move]:
        """What can be set into the corner of the lowest gap, the first to be tried last."""
        k = _lowest(skyline)
        y, width = skyline[k]
        x = sum(step[1] for step in skyline[:k])
        roof = min((skyline[i][0] for i in (k - 1, k + 1) if 0 <= i < len(skyline)), default=self.up.side)
        _, _, length, breadth = self.sides
        if width < breadth:
            return [(width, roof - y, False)]
        level = min(roof, self.up.next[y])
        if not self.up.raster[y]:
            return [(width, level - y, False)]
        moves = [(min(self.across.next[x] - x, width), level - y, False)]
        if self.across.raster[x]:
            for across, up in ((breadth, length), (length, breadth)):
                if across <= width and y + up <= self.up.side and (across, up, True) not in moves:
                    moves.append((across, up, True))
        return moves

    def _take(self, skyline: Skyline, move: Move) -> list[tuple[int, ...]] | None:
        """Book a box, or squares given up; None if there is no such waste to spare."""
        k = _lowest(skyline)
        x, y = sum(step[1] for step in skyline[:k]), skyline[k][0]
        width, height, is_box = move
        if is_box:
            self.boxes.append((x, y, width != self.sides[2]))
            return []
        if width * height > self.waste:
            return None
        taken: list[tuple[int, ...]] = []
        quota = self.quota
        for i in range(x, x + width):
            for j in range(y, y + height):
                colours = self.squares.get((i, j)) or self._colours(i, j)
                for colour in colours:
                    if quota[colour] <= 0:
                        self._take_back(taken, False)
                        return None
                for colour in colours:
                    quota[colour] -= 1
                self.waste -= 1
                taken.append(colours)
        return taken

    def _take_back(self, taken: list[tuple[int, ...]] | None, was_set: bool) -> None:
        """Undo the last booking: squares given back, or, where there are none, a box lifted."""
        if taken is None:
            if was_set:
                self.boxes.pop()
            return
        for colours in taken:
            for colour in colours:
                self.quota[colour] += 1
        self.waste += len(taken)

    def _colours(self, x: int, y: int) -> tuple[int, ...]:
        colours = tuple(start + (x + k * y) % rod for start, rod, k in self.colourings)
        self.squares[x, y] = colours
        return colours

    def _hopeful(self, skyline: Skyline) -> bool:
        """Whether the waste that rows and columns above the skyline must leave can still be spared."""
        lost, top = self.up.lost, self.up.side
        if sum([width * lost[top - y] for y, width in skyline]) > self.waste:
            return False
        return _rows_lost(skyline, self.across.lost, top) <= self.waste


class _Line:
    """One side of the deck: where boxes begin, and what rows leave over.

    Attributes:
        side: Its length.
        raster: For each point, whether a box need begin there.
        next: For each point, the next such point, or the end.
        lost: For each gap, what the longest row in it leaves over.
    """

    def __init__(self, side: int, length: int, breadth: int) -> None:
        lengths = row_lengths(side, length, breadth)
        fits = [lengths[bisect_right(lengths, gap) - 1] for gap in range(side + 1)]
        begins = {fits[side - row] for row in lengths}
        self.side = side
        self.lost = [gap - row for gap, row in enumerate(fits)]
        self.raster = [point in begins for point in range(side + 1)]
        self.next = [side] * (side + 1)
        for point in range(side - 1, -1, -1):
            self.next[point] = point + 1 if point + 1 in begins else self.next[point + 1]


def _lowest(skyline: Skyline) -> int:
    """Index of the lowest step, the leftmost of several."""
    return min(range(len(skyline)), key=skyline.__getitem__) if len(skyline) > 1 else 0


def _set_down(skyline: Skyline, k: int, move: Move) -> Skyline:
    """The skyline with something set into the left corner of a step."""
    y, gap = skyline[k]
    width, height, _ = move
    steps = list(skyline[:k])
    for step in ((y + height, width), (y, gap - width), *skyline[k + 1 :]):
        if step[1] == 0:
            continue
        if steps and steps[-1][0] == step[0]:
            steps[-1] = (step[0], steps[-1][1] + step[1])
        else:
            steps.append(step)
    return tuple(steps)


def _rows_lost(skyline: Skyline, lost: Sequence[int], top: int) -> int:
    """What the rows between the walls of the skyline leave over, filled level by level."""
    total = 0
    open_steps: list[tuple[int, int]] = []
    for y, width in (*skyline, (top, 0)):
        while open_steps and open_steps[-1][0] < y:
            low, gap = open_steps.pop()
            level = min(y, open_steps[-1][0]) if open_steps else y
            total += (level - low) * lost[gap]
            if level == y:
                width += gap
            elif open_steps[-1][0] == level:
                open_steps[-1] = (level, open_steps[-1][1] + gap)
        if open_steps and open_steps[-1][0] == y:
            open_steps[-1] = (y, open_steps[-1][1] + width)
        else:
            open_steps.append((y, width))
    return total


def _colour_counts(deck_length: int, deck_breadth: int, rod: int, k: int) -> list[int]:
    """How many unit squares of the deck have each colour."""
    whole, rest = divmod(deck_length, rod)
    counts = [whole * deck_breadth] * rod
    for y in range(deck_breadth):
        for x in range(rest):
            counts[(x + k * y) % rod] += 1
    return counts
