"""How many boxes a layer can hold at the most: bounds that prove a pattern the best there is.

Every bound rests on the rows of boxes that fit along a side of the deck. A line across the layer crosses a row of ``i``
boxes lying lengthwise and ``j`` lying crosswise with ``i·length + j·breadth`` no more than that side. Two instances in
which the same rows fit have the same patterns, so sizes may be exchanged for small whole numbers that allow every row
of the original: what is proved for those holds for the boxes.

Source: rows and the exchange of sizes: K. A. Dowsland, An exact algorithm for the pallet loading problem, European
Journal of Operational Research 31 (1987) 78–84. Rods: F. W. Barnes, Packing the maximum number of m × n tiles in a
large p × q rectangle, Discrete Mathematics 26 (1979) 93–100. Rows as a linear programme: H. Isermann, Ein
Planungssystem zur Optimierung der Palettenbeladung mit kongruenten rechteckigen Versandgebinden, OR Spektrum 9 (1987)
235–249. Each is proved again in a few words in its function; the tests hold them against an independent solver.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import gcd

__all__ = [
    "Row",
    "Sides",
    "exchanged",
    "proved_bound",
    "rods_bound",
    "row_lengths",
    "rows",
    "rows_bound",
    "small_instance",
    "weights",
]

Row = tuple[int, int]
"""How many boxes of a row lie with their length along it, and how many with their breadth."""

Sides = tuple[int, int, int, int]
"""Deck length and breadth, box length and breadth, whole numbers of any one unit."""

LARGEST_WEIGHT = 40
"""Sizes are exchanged for whole numbers up to this one: beyond, no instance of the tests was bounded any better."""


def rows(side: int, length: int, breadth: int) -> tuple[Row, ...]:
    """The fullest rows that fit along a side: for each count of lengthwise boxes the most crosswise ones."""
    return tuple((i, (side - i * length) // breadth) for i in range(side // length + 1))


def row_lengths(side: int, length: int, breadth: int) -> list[int]:
    """How long rows of boxes can be, none longer than a side, in rising order."""
    found = {0}
    for i, most in rows(side, length, breadth):
        found.update(i * length + j * breadth for j in range(most + 1))
    return sorted(found)


def rods_bound(sides: Sides) -> int:
    """The most boxes by area, less what no pattern can help but waste.

    A box may be sawn into rods one unit wide, all as long as the box. Colour the unit squares of the deck along its
    diagonals in as many colours as a rod has squares: every rod covers each colour once, so there are no more rods
    than squares of the rarest colour. What is left over is the waste; it leaves the same remainder as the area when
    divided by a box's area.
    """
    deck_length, deck_breadth, length, breadth = sides
    area, box = deck_length * deck_breadth, length * breadth
    waste = 0
    for rod in (length, breadth):
        r, s = deck_length % rod, deck_breadth % rod
        waste = max(waste, r * s if r + s <= rod else (rod - r) * (rod - s))
    return (area - waste) // box


def rows_bound(sides: Sides) -> int:
    """The most boxes that the rows allow along both sides at once.

    Averaged over all lines across the deck, a row holds ``(n·breadth, m·length)`` boxes per deck breadth when ``n``
    boxes lie lengthwise and ``m`` crosswise; an average of rows lies in the hull of the rows that fit. The same
    holds along the other side, with the parts of length and breadth exchanged.
    """
    deck_length, deck_breadth, length, breadth = sides
    along = _edges(rows(deck_length, length, breadth))
    across = _edges(rows(deck_breadth, length, breadth))
    # Each edge a·i + b·j <= c, written for n boxes lengthwise and m crosswise as u·n + v·m <= most.
    limits = [(a * breadth, b * length, c * deck_breadth) for a, b, c in along]
    limits += [(b * length, a * breadth, c * deck_length) for a, b, c in across]
    best = 0
    n = 0
    while all(u * n <= most for u, _, most in limits):
        best = max(best, n + min((most - u * n) // v for u, v, most in limits if v))
        n += 1
    return best


def _edges(fullest: Sequence[Row]) -> list[tuple[int, int, int]]:
    """The edges ``a·i + b·j <= c`` of the hull of the rows and of everything less full."""
    hull: list[Row] = []
    for i, j in [*fullest, (fullest[-1][0], 0)]:
        while len(hull) > 1 and _turns_left(hull[-2], hull[-1], (i, j)):
            hull.pop()
        hull.append((i, j))
    edges = [(0, 1, fullest[0][1]), (1, 0, fullest[-1][0])]
    for (i, j), (k, m) in pairwise(hull):
        edges.append((j - m, k - i, (j - m) * i + (k - i) * j))
    return edges


def _turns_left(one: Row, two: Row, three: Row) -> bool:
    return (two[0] - one[0]) * (three[1] - two[1]) - (two[1] - one[1]) * (three[0] - two[0]) >= 0


def weights(length: int, breadth: int, largest: int = LARGEST_WEIGHT) -> Iterator[tuple[int, int]]:
    """Small whole numbers in about the proportion of a box, nearest first."""
    pairs = [
        (p, q)
        for q in range(1, largest + 1)
        for p in range(q, largest + 1)
        if gcd(p, q) == 1 and p * breadth <= 2 * q * length and q * length <= 2 * p * breadth
    ]
    yield from sorted(pairs, key=lambda pair: (abs(pair[0] * breadth - pair[1] * length) / pair[1], pair))


def exchanged(sides: Sides, weight: tuple[int, int]) -> Sides:
    """The smallest deck on which boxes of another size stand in every row that fits on the deck given.

    Push the boxes of any pattern together as far as they were in line before: no chain of them is longer than the
    longest row, and boxes that did not overlap still do not. So at least as many fit on the exchanged deck.
    """
    deck_length, deck_breadth, length, breadth = sides
    p, q = weight
    new = [max(i * p + j * q for i, j in rows(side, length, breadth)) for side in (deck_length, deck_breadth)]
    return new[0], new[1], p, q


def proved_bound(sides: Sides) -> tuple[int, str]:
    """The least of all bounds and its name: ``area``, ``rods`` or ``rows``.

    Args:
        sides: Deck and box.
    """
    own = exchanged(sides, sides[2:])
    best, name = own[0] * own[1] // (own[2] * own[3]), "area"
    for weight in (sides[2:], *weights(*sides[2:])):
        instance = exchanged(sides, weight)
        bound = rods_bound(instance)
        if bound < best:
            by_area = instance[0] * instance[1] // (instance[2] * instance[3])
            best, name = bound, "area" if by_area == bound else "rods"
    by_rows = rows_bound(own)
    return (by_rows, "rows") if by_rows < best else (best, name)


def small_instance(sides: Sides) -> Sides:
    """An instance in small whole numbers: the smallest in which just the same rows fit, else the one of least area.

    Args:
        sides: Deck and box.

    Returns:
        Deck and box; no fewer boxes fit than on the deck given.
    """
    own = [rows(side, *sides[2:]) for side in sides[:2]]
    best, share = sides, float("inf")
    for weight in sorted(weights(*sides[2:])):
        instance = exchanged(sides, weight)
        if [rows(side, *weight) for side in instance[:2]] == own:
            return instance
        area = instance[0] * instance[1] / (weight[0] * weight[1])
        if area < share - 1e-12:
            best, share = instance, area
    return best
