"""The most boxes that lie on one layer of a pallet, and the proof that no more do.

Found by cutting the layer into blocks (``pallet_blocks``), bounded from above by rows and rods (``pallet_bounds``);
where the two differ, every way to fill the deck is tried (``pallet_fill``), up to a fixed amount of work. What then
is still open is told: the layer holds ``count`` boxes, and no layer holds more than ``bound``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from ..errors import SizeError
from ..units import format_mm
from .pallet_blocks import Blocks, Spot
from .pallet_bounds import Sides, proved_bound, small_instance
from .pallet_fill import Filling

__all__ = ["MOST_BOXES", "Layer", "Place", "best_layer"]

UNIT = 1000
"""Sizes are taken to the thousandth of a millimetre: no board is cut so finely that a fraction of that matters."""

MOST_BOXES = 1000
"""Boxes on one layer. More, and what stands on the pallet are pieces, not boxes; it is nearly always a slip of the
unit."""

FILL_BOXES = 250
"""Layers of more boxes than this are not searched to the end: it would come to nothing within the work allowed."""

FILL_STATES = 30_000
"""Skylines looked at before the search to the end gives up: about half a second."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where one box lies on a layer.

    Attributes:
        x: Distance of its near corner from the deck's corner along the deck's length, mm; negative where it overhangs.
        y: The same along the deck's breadth, mm.
        turned: Whether its length lies along the deck's breadth.
    """

    x: float
    y: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of equal boxes on a pallet.

    Attributes:
        places: Where the boxes lie, the whole pattern centred on the deck.
        count: How many there are.
        bound: How many no layer exceeds, proved.
        proved: Whether the two are equal, so that this layer is the best there is.
        method: How it was found, and what proves it.
        box: Outside length and breadth of a box, mm.
        deck: Length and breadth of the deck, mm.
        overhang: How far boxes may stand beyond each edge, mm.
    """

    places: tuple[Place, ...]
    count: int
    bound: int
    proved: bool
    method: str
    box: tuple[float, float]
    deck: tuple[float, float]
    overhang: float = 0.0

    def footprint(self, place: Place) -> tuple[float, float, float, float]:
        """Near and far corner of a box on the deck: x and y, then x and y, mm."""
        across, up = self.box[::-1] if place.turned else self.box
        return place.x, place.y, place.x + across, place.y + up

    @property
    def fill(self) -> float:
        """Share of the deck's area that boxes cover; more than 1 is possible where they overhang."""
        return self.count * self.box[0] * self.box[1] / (self.deck[0] * self.deck[1])


def best_layer(box: tuple[float, float], deck: tuple[float, float], overhang: float = 0.0) -> Layer:
    """The layer of the most boxes, all standing upright, their sides along the sides of the deck.

    Args:
        box: Outside length and breadth of a box, mm, above 0.
        deck: Length and breadth of the deck, mm, above 0.
        overhang: How far boxes may stand beyond each edge of the deck, mm, 0 or more.

    Returns:
        The layer, centred; the same for the same sizes, always.

    Raises:
        SizeError: If a size is no finite number above 0, a box is larger than the deck, or there would be more
            than 1000 boxes.

    Example:
        >>> layer = best_layer((600, 400), (1200, 1000))
        >>> layer.count, layer.proved
        (5, True)
    """
    for value, name in (*zip(box, ("box length", "box breadth"), strict=True), *zip(deck, _DECK, strict=True)):
        _check(value, name, least_is_zero=False)
    _check(overhang, "overhang", least_is_zero=True)
    return _best_layer((float(box[0]), float(box[1])), (float(deck[0]), float(deck[1])), float(overhang))


_DECK = ("pallet length", "pallet breadth")


def _check(value: object, name: str, *, least_is_zero: bool) -> None:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if not number or not math.isfinite(float(value)):  # type: ignore[arg-type]  # a number, as was just seen
        raise SizeError(name, f"{value!r} is no finite number", "it must be a length in mm", "check the size")
    length = float(value)  # type: ignore[arg-type]  # the same
    if length < 0 or (length == 0 and not least_is_zero):
        raise SizeError(name, f"{length:g} mm", f"it must be {'0 or' if least_is_zero else 'a length of'} more than 0")


@lru_cache(maxsize=64)
def _best_layer(box: tuple[float, float], deck: tuple[float, float], overhang: float) -> Layer:
    longer, shorter = max(box), min(box)
    sides = (
        math.floor((deck[0] + 2 * overhang) * UNIT + 0.5),
        math.floor((deck[1] + 2 * overhang) * UNIT + 0.5),
        math.floor(longer * UNIT + 0.5),
        math.floor(shorter * UNIT + 0.5),
    )
    _check_fit(sides, box, deck, overhang)
    spots, bound, method = _pattern(sides)
    places = _centred(spots, sides, deck, lies_turned=box[0] < box[1])
    return Layer(places, len(places), bound, len(places) == bound, method, box, deck, overhang)


def _check_fit(sides: Sides, box: tuple[float, float], deck: tuple[float, float], overhang: float) -> None:
    """Refuse a box that does not fit on the deck at all, and sizes of which thousands would.

    Raises:
        SizeError: With both sizes.
    """
    along, across, length, breadth = sides
    sizes = " x ".join(map(format_mm, box)), " x ".join(map(format_mm, deck))
    if length > max(along, across) or breadth > min(along, across):
        over = f" with {format_mm(overhang)} mm of overhang on each side" if overhang else ""
        raise SizeError(
            "pallet",
            f"{sizes[1]} mm is smaller than the box of {sizes[0]} mm",
            f"at least one box must fit on it{over}",
            "take a larger pallet, or allow more overhang",
        )
    if min(length, breadth) == 0 or along * across // (length * breadth) > MOST_BOXES:
        raise SizeError(
            "box",
            f"{sizes[0]} mm on a pallet of {sizes[1]} mm",
            f"a layer must hold no more than {MOST_BOXES} boxes: more are pieces, not boxes",
            "check the unit, or reckon with the case that the pieces are packed in",
        )


def _pattern(sides: Sides) -> tuple[list[Spot], int, str]:
    """The best pattern, the proved bound, and how both were had."""
    bound, by = proved_bound(sides)
    blocks = Blocks(sides, bound)
    count = blocks.search()
    if count == bound or bound > FILL_BOXES:
        return blocks.spots(), bound, f"blocks; bound by {by}"
    small = small_instance(sides)
    work = FILL_STATES
    while bound > count:
        filling = Filling(_broad(small), bound, work)
        answer = filling.search()
        work -= filling.states
        if answer is None:
            return blocks.spots(), bound, f"blocks; bound by {by}, search not finished"
        if answer:
            spots = _stretched(filling.boxes, small, sides)
            if spots is None:
                return blocks.spots(), bound, f"blocks; bound by {by}, search not finished"
            return spots, bound, f"search to the end; bound by {by}"
        bound, by = bound - 1, "search to the end"
    return blocks.spots(), bound, "blocks; bound by search to the end"


def _broad(sides: Sides) -> Sides:
    """The deck with its shorter side along the skyline, which then has fewer shapes."""
    return (min(sides[:2]), max(sides[:2]), *sides[2:])


def _stretched(boxes: Sequence[Spot], small: Sides, sides: Sides) -> list[Spot] | None:
    """A pattern of small whole numbers in the sizes of the real box; None if it needs a larger deck.

    Boxes one after the other along the deck stay so, the others stay one above the other.
    """
    if small[0] > small[1]:
        boxes = [(y, x, not turned) for x, y, turned in boxes]
    xs, ys = (_pushed(boxes, small, sides, axis) for axis in (0, 1))
    if xs is None or ys is None:
        return None
    return [(xs[i], ys[i], boxes[i][2]) for i in range(len(boxes))]


def _pushed(boxes: Sequence[Spot], small: Sides, sides: Sides, axis: int) -> list[int] | None:
    """Where boxes begin along one side of the deck when pushed together; None if they need more room."""
    sizes = [small[3 if turned != (axis == 1) else 2] for _, _, turned in boxes]
    others = [small[3 if turned == (axis == 1) else 2] for _, _, turned in boxes]
    real = [sides[3 if turned != (axis == 1) else 2] for _, _, turned in boxes]
    starts = [0] * len(boxes)
    for i in sorted(range(len(boxes)), key=lambda i: boxes[i][axis]):
        for j, box in enumerate(boxes):
            before = box[axis] + sizes[j] <= boxes[i][axis]
            # Boxes already apart along the deck need not be kept apart across it.
            apart = axis == 1 and (box[0] + others[j] <= boxes[i][0] or boxes[i][0] + others[i] <= box[0])
            if before and not apart:
                starts[i] = max(starts[i], starts[j] + real[j])
        if starts[i] + real[i] > sides[axis]:
            return None
    return starts


def _centred(spots: Sequence[Spot], sides: Sides, deck: tuple[float, float], *, lies_turned: bool) -> tuple[Place, ...]:
    """The pattern in mm in the middle of the deck, in order; ``lies_turned`` where a box is broader than long."""
    _, _, length, breadth = sides
    wide = max(x + (breadth if turned else length) for x, y, turned in spots)
    high = max(y + (length if turned else breadth) for x, y, turned in spots)
    left, low = (deck[0] * UNIT - wide) / 2, (deck[1] * UNIT - high) / 2
    return tuple(
        Place(round((x + left) / UNIT, 4), round((y + low) / UNIT, 4), turned != lies_turned)
        for x, y, turned in sorted(spots, key=lambda spot: (spot[1], spot[0]))
    )
