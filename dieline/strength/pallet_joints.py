"""How layers hold each other: the joints of a layer, what the layer above bridges of them, and towers left alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from .pallet import Layer, Place, best_layer

__all__ = ["Bond", "best_bond", "bond", "equal_layers"]

Boxes = NDArray[np.float64]
"""Near and far corner of each box: x0, y0, x1, y1, mm."""

BEARING = 0.1
"""A box bridges a joint if it bears on both sides by this share of its breadth (common practice, no source)."""

JOINT_GAP = 0.5
"""Boxes that stand farther apart than this share of their breadth have no joint between them: it is a hole."""

FEW_BOXES = 60
"""Up to so many boxes every two layers are tried in every way they can be laid on each other."""

FOUND = "laid as found"

HAIR = 0.01
"""mm. Boxes nearer than this touch."""

MOST_LAYERS = 6
"""How many different layers of equal count are tried against each other."""


@dataclass(frozen=True, slots=True)
class Bond:
    """How two layers lie on each other.

    Attributes:
        below: The first, third … layer.
        above: The second, fourth … layer.
        how: What was done to the first to make the second.
        bridged: Share of the length of all joints between boxes, in both layers, that a box of the other bridges.
        towers: How many stacks stand beside each other without any box that ties them together.
    """

    below: Layer
    above: Layer
    how: str
    bridged: float
    towers: int


def bond(below: Layer, above: Layer, how: str) -> Bond:
    """How two layers hold each other when they lie on each other in turn."""
    low, high = _boxes(below), _boxes(above)
    bearing = BEARING * min(below.box)
    gap = JOINT_GAP * min(below.box)
    joints = crossed = 0.0
    for one, other in ((low, high), (high, low)):
        for axis in (0, 1):
            length, held = _bridged(one, other, axis, gap, bearing)
            joints, crossed = joints + length, crossed + held
    return Bond(below, above, how, crossed / joints if joints else 1.0, _towers(low, high, bearing))


def best_bond(layer: Layer) -> Bond:
    """The two layers of most boxes that hold each other best; the same layer twice where nothing holds.

    The layer itself is tried first, turned and mirrored; then other layers of as many boxes. The first of equals wins.

    Args:
        layer: The layer that the first is to hold as many boxes as.
    """
    pool = equal_layers(layer)
    best = bond(layer, layer, "laid as below")
    for number, below in enumerate(pool):
        for other, above in enumerate(pool):
            for laid, how in _laid(above):
                if number == other or how == FOUND or layer.count <= FEW_BOXES:
                    words = (
                        how
                        if number == other
                        else "another pattern of as many boxes" + ("" if how == FOUND else f", {how}")
                    )
                    found = bond(below, laid, words)
                    if (found.towers > 1, -found.bridged) < (best.towers > 1, -best.bridged - 1e-9):
                        best = found
    return best


def equal_layers(layer: Layer) -> tuple[Layer, ...]:
    """Layers of as many boxes in different patterns, the layer itself first."""
    pool = [layer]
    turned = best_layer(layer.box, layer.deck[::-1], layer.overhang)
    candidates = [_exchanged(turned), *(_four_blocks(layer) if layer.box[0] != layer.box[1] else ())]
    for candidate in candidates:
        if (
            len(pool) < MOST_LAYERS
            and candidate.count == layer.count
            and not any(_same(candidate, laid) for one in pool for laid, _ in _laid(one))
        ):
            pool.append(candidate)
    return tuple(pool)


def _laid(layer: Layer) -> Iterator[tuple[Layer, str]]:
    """A layer as found, turned and mirrored on its deck."""
    length, breadth = layer.deck
    boxes = [(place, layer.footprint(place)) for place in layer.places]
    yield layer, FOUND
    yield _with(layer, [Place(length - b[2], breadth - b[3], p.turned) for p, b in boxes]), "turned by half a turn"
    yield _with(layer, [Place(length - b[2], b[1], p.turned) for p, b in boxes]), "mirrored along the length"
    yield _with(layer, [Place(b[0], breadth - b[3], p.turned) for p, b in boxes]), "mirrored along the breadth"
    if length == breadth:
        yield _exchanged(layer), "turned by a quarter and mirrored"


def _exchanged(layer: Layer) -> Layer:
    """A layer with the deck's length and breadth exchanged."""
    places = [Place(place.y, place.x, not place.turned) for place in layer.places]
    return _with(replace(layer, deck=layer.deck[::-1]), places)


def _with(layer: Layer, places: Sequence[Place]) -> Layer:
    neat = (Place(round(place.x, 4), round(place.y, 4), place.turned) for place in places)
    return replace(layer, places=tuple(sorted(neat, key=lambda place: (place.y, place.x))))


def _four_blocks(layer: Layer) -> list[Layer]:
    """Layers of as many boxes in up to four blocks, those first in which the boxes lie most evenly both ways.

    The deck is cut once across; on one side of the cut crosswise boxes lie behind lengthwise ones, on the other before.
    """
    found: list[tuple[float, float, Layer]] = []
    for exchange in (False, True):
        deck = layer.deck[::-1] if exchange else layer.deck
        along, across = (side + 2 * layer.overhang + 1e-6 for side in deck)
        for cut in _row_ends(along, layer.box):
            left, right = _Strips(0.0, cut + 1e-6, across, layer.box), _Strips(cut, along - cut, across, layer.box)
            for one, two in product(left.counts, right.counts):
                straight, count = one[0] + two[0], one[1] + two[1]
                if count == layer.count:
                    places = [*left.places(one[2]), *_flipped(right.places(two[2]), layer.box)]
                    laid = _with(replace(layer, deck=deck), _middle(places, layer.box, deck))
                    shares = round(abs(straight / count - 0.5), 6), round(abs(cut / along - 0.5), 6)
                    found.append((*shares, _exchanged(laid) if exchange else laid))
    return [candidate for _, _, candidate in sorted(found, key=lambda one: one[:2])]


def _row_ends(side: float, box: tuple[float, float]) -> list[float]:
    """Where rows of boxes of both ways can end along a side."""
    length, breadth = box
    sums = {
        round(i * length + j * breadth, 4)
        for i in range(int(side // length) + 1)
        for j in range(int((side - i * length) // breadth) + 1)
    }
    return sorted(sums)


class _Strips:
    """A block with rows of lengthwise boxes and rows of crosswise ones behind.

    Args:
        left: Where it begins along the deck, mm.
        width: Its length along the deck, mm.
        height: Its breadth, mm.
        box: Outside length and breadth of a box, mm.
    """

    def __init__(self, left: float, width: float, height: float, box: tuple[float, float]) -> None:
        self.left, self.height, self.box = left, height, box
        self.straight, self.turned = int(width // box[0]), int(width // box[1])
        most = int(height // box[1]) if self.straight else 0
        self.counts = [self._count(rows) for rows in range(most + 1)]

    def _count(self, rows: int) -> tuple[int, int, int]:
        """Lengthwise boxes, all boxes and lengthwise rows."""
        straight = rows * self.straight
        return straight, straight + int((self.height - rows * self.box[1]) // self.box[0]) * self.turned, rows

    def places(self, rows: int) -> list[Place]:
        """Where the boxes lie with so many lengthwise rows in front."""
        length, breadth = self.box
        behind = rows * breadth
        places = [Place(self.left + i * length, j * breadth, False) for j in range(rows) for i in range(self.straight)]
        crosswise = range(int((self.height - behind) // length))
        return places + [
            Place(self.left + i * breadth, behind + j * length, True) for j in crosswise for i in range(self.turned)
        ]


def _flipped(places: Sequence[Place], box: tuple[float, float]) -> list[Place]:
    """Places with front and back exchanged."""
    high = max((place.y + box[0 if place.turned else 1] for place in places), default=0.0)
    return [Place(p.x, high - p.y - box[0 if p.turned else 1], p.turned) for p in places]


def _middle(places: Sequence[Place], box: tuple[float, float], deck: tuple[float, float]) -> list[Place]:
    """Places moved so that their pattern lies in the middle of the deck."""
    wide = max(place.x + box[1 if place.turned else 0] for place in places)
    high = max(place.y + box[0 if place.turned else 1] for place in places)
    right, up = (deck[0] - wide) / 2, (deck[1] - high) / 2
    return [Place(place.x + right, place.y + up, place.turned) for place in places]


def _same(one: Layer, other: Layer) -> bool:
    return all(
        a.turned == b.turned and abs(a.x - b.x) < HAIR and abs(a.y - b.y) < HAIR
        for a, b in zip(one.places, other.places, strict=True)
    )


def _boxes(layer: Layer) -> Boxes:
    return np.array([layer.footprint(place) for place in layer.places])


def _bridged(one: Boxes, other: Boxes, axis: int, gap: float, bearing: float) -> tuple[float, float]:
    """Length of the joints of one layer across an axis, and how much of it boxes of the other bridge, mm."""
    side = 1 - axis
    between = one[None, :, axis] - one[:, None, axis + 2]
    low = np.maximum(one[:, None, side], one[None, :, side])
    high = np.minimum(one[:, None, side + 2], one[None, :, side + 2])
    first, second = np.nonzero((between > -HAIR) & (between < gap) & (high - low > HAIR))
    if not len(first):
        return 0.0, 0.0
    start, end = one[first, axis + 2] - bearing, one[second, axis] + bearing
    low, high = low[first, second], high[first, second]
    over = (other[None, :, axis] <= start[:, None]) & (other[None, :, axis + 2] >= end[:, None])
    held = np.minimum(high[:, None], other[None, :, side + 2]) - np.maximum(low[:, None], other[None, :, side])
    return float((high - low).sum()), float((np.maximum(held, 0.0) * over).sum())


def _towers(low: Boxes, high: Boxes, bearing: float) -> int:
    """How many groups of boxes are tied together by nothing, over any number of layers."""
    wide = np.minimum(low[:, None, 2:], high[None, :, 2:]) - np.maximum(low[:, None, :2], high[None, :, :2])
    pairs = np.argwhere((wide > bearing).all(axis=2)).tolist()
    group = list(range(len(low) + len(high)))

    def head(box: int) -> int:
        while group[box] != box:
            group[box] = group[group[box]]
            box = group[box]
        return box

    for i, j in pairs:
        group[head(i)] = head(len(low) + j)
    return len({head(box) for box in range(len(group))})
