"""The best layer: no box on another, none beyond what is allowed, and never more or fewer than can be proved."""

from __future__ import annotations

import math
import random
import re
from itertools import combinations

import pytest

from dieline.errors import SizeError
from dieline.strength.pallet import Layer, best_layer
from dieline.strength.pallet_blocks import Blocks
from dieline.strength.pallet_bounds import (
    proved_bound,
    rods_bound,
    row_lengths,
    rows,
    rows_bound,
    small_instance,
)
from dieline.strength.pallet_fill import Filling

HAIR = 1e-3
"""mm. Sizes are taken to a thousandth; a box pushed by half of that lies on no other."""


def assert_lies_well(layer: Layer) -> None:
    """Every box within the deck and its overhang, none on another, the pattern in the middle."""
    boxes = [layer.footprint(place) for place in layer.places]
    over = layer.overhang + HAIR
    assert len(boxes) == layer.count <= layer.bound
    assert layer.proved is (layer.count == layer.bound)
    for x0, y0, x1, y1 in boxes:
        assert x0 >= -over
        assert y0 >= -over
        assert x1 <= layer.deck[0] + over
        assert y1 <= layer.deck[1] + over
        assert sorted((x1 - x0, y1 - y0)) == pytest.approx(sorted(layer.box))
    for a, b in combinations(boxes, 2):
        apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
        assert apart >= -HAIR
    for axis, side in enumerate(layer.deck):
        low, high = min(box[axis] for box in boxes), max(box[axis + 2] for box in boxes)
        assert low + high == pytest.approx(side, abs=HAIR)


def by_hand(deck: tuple[int, int], box: tuple[int, int]) -> int:
    """The most boxes by trying every cell, for a handful of boxes: slow, and with nothing in common with dieline."""
    width, height = deck
    best = 0

    def go(cell: int, filled: int, count: int) -> None:
        nonlocal best
        best = max(best, count)
        while cell < width * height and filled >> cell & 1:
            cell += 1
        free = width * height - cell - (filled >> cell).bit_count()
        if count + free // (box[0] * box[1]) <= best:
            return
        x, y = cell % width, cell // width
        for across, up in {box, box[::-1]}:
            if x + across <= width and y + up <= height:
                row = ((1 << across) - 1) << cell
                shape = sum(row << (width * k) for k in range(up))
                if not filled & shape:
                    go(cell + 1, filled | shape, count + 1)
        go(cell + 1, filled | 1 << cell, count)

    go(0, 0, 0)
    return best


def test_small_decks_hold_what_trying_every_cell_finds() -> None:
    rng = random.Random(6)
    for _ in range(60):
        breadth = rng.randint(1, 4)
        box = (rng.randint(breadth, 5), breadth)
        deck = (rng.randint(box[0], 9), rng.randint(box[0], 7))
        if deck[0] * deck[1] > 14 * box[0] * box[1]:
            continue
        layer = best_layer(box, deck)
        assert_lies_well(layer)
        assert layer.proved
        assert layer.count == by_hand(deck, box), (box, deck)


def test_boxes_lie_well_and_sizes_count_to_a_tenth() -> None:
    rng = random.Random(66)
    for _ in range(40):
        box = (rng.randint(1000, 6000) / 10, rng.randint(1000, 4000) / 10)
        over = rng.choice([0.0, 0.0, 12.5])
        assert_lies_well(best_layer(box, (1200, 800), over))


def test_a_box_broader_than_long_has_the_same_layer() -> None:
    long, broad = best_layer((313.4, 190.2), (1200, 1000)), best_layer((190.2, 313.4), (1200, 1000))
    assert (long.count, long.proved) == (broad.count, broad.proved)
    assert_lies_well(broad)


def test_a_turned_deck_holds_as_many() -> None:
    for box in [(283.0, 147.0), (401.5, 263.2), (97.0, 64.0)]:
        assert best_layer(box, (1200, 800)).count == best_layer(box, (800, 1200)).count


def test_a_tenth_too_much_costs_a_row() -> None:
    """Three of 400 fill 1200 to the hair; three of 400.1 do not."""
    assert best_layer((400, 800), (1200, 800)).count == 3
    assert best_layer((400.1, 800), (1200, 800)).count == 2
    assert best_layer((400.1, 800), (1200, 800), overhang=0.2).count == 3


def test_a_box_as_large_as_the_pallet_is_one() -> None:
    layer = best_layer((1200, 800), (1200, 800))
    assert [(place.x, place.y, place.turned) for place in layer.places] == [(0, 0, False)]
    assert layer.proved
    assert layer.fill == 1


def test_overhang_is_used_and_shared_between_the_sides() -> None:
    layer = best_layer((610, 410), (1200, 800), overhang=10)
    assert layer.count == 4
    corners = [layer.footprint(place) for place in layer.places]
    assert min(corner[0] for corner in corners) == -10
    assert max(corner[3] for corner in corners) == 810


def test_the_same_sizes_give_the_same_layer() -> None:
    from dieline.strength.pallet import _best_layer

    one = best_layer((176.3, 121.9), (1200, 1000))
    _best_layer.cache_clear()
    assert best_layer((176.3, 121.9), (1200, 1000)) == one


@pytest.mark.parametrize(
    ("box", "deck", "over", "text"),
    [
        ((1300, 900), (1200, 800), 0, "pallet – 1200 x 800 mm is smaller than the box of 1300 x 900 mm"),
        ((900, 900), (1200, 800), 0, "at least one box must fit on it – take a larger pallet"),
        ((900, 900), (1200, 800), 20, "with 20 mm of overhang on each side"),
        ((3, 3), (1200, 800), 0, "no more than 1000 boxes: more are pieces, not boxes – check the unit"),
        ((1e-9, 3), (1200, 800), 0, "no more than 1000 boxes"),
        ((math.nan, 300), (1200, 800), 0, "box length – nan is no finite number"),
        ((300, math.inf), (1200, 800), 0, "box breadth – inf is no finite number"),
        ((300, 200), (1200, -800), 0, "pallet breadth – -800 mm – it must be a length of more than 0"),
        ((300, 200), (0, 800), 0, "pallet length – 0 mm"),
        ((300, 200), (1200, 800), -5, "overhang – -5 mm – it must be 0 or more than 0"),
        ((300, 200), (1200, 800), math.nan, "overhang – nan"),
        ((True, 200), (1200, 800), 0, "box length – True is no finite number"),
    ],
)
def test_sizes_that_cannot_be_are_refused(
    box: tuple[float, float], deck: tuple[float, float], over: float, text: str
) -> None:
    with pytest.raises(SizeError, match=re.escape(text)):
        best_layer(box, deck, over)


def test_rows_are_the_fullest_that_fit() -> None:
    assert rows(43, 7, 3) == ((0, 14), (1, 12), (2, 9), (3, 7), (4, 5), (5, 2), (6, 0))
    assert row_lengths(11, 4, 3) == [0, 3, 4, 6, 7, 8, 9, 10, 11]


def test_an_exchanged_deck_takes_every_row_of_the_real_one() -> None:
    rng = random.Random(3)
    for _ in range(50):
        sides = (rng.randint(900, 1300), rng.randint(700, 1100), rng.randint(150, 400), rng.randint(80, 150))
        small = small_instance(sides)
        for new, old in zip(small[:2], sides[:2], strict=True):
            assert all(i * small[2] + j * small[3] <= new for i, j in rows(old, *sides[2:]))
        assert proved_bound(sides)[0] <= small[0] * small[1] // (small[2] * small[3])


def test_no_bound_is_below_what_lies_there() -> None:
    """Bounds of many sizes against layers that a search without them finds."""
    rng = random.Random(4)
    for _ in range(60):
        sides = (rng.randint(30, 60), rng.randint(20, 50), rng.randint(7, 13), rng.randint(2, 6))
        found = Blocks(sides, 10**6).search()
        assert found <= proved_bound(sides)[0] <= min(rods_bound(sides), rows_bound(sides))


def test_the_search_to_the_end_says_no_as_well_as_yes() -> None:
    """34 boxes of 5 x 4 fit on 22 x 32, 35 do not, and with hardly any work allowed it cannot tell."""
    sides = (22, 32, 5, 4)
    yes, no, open_ = Filling(sides, 34, 100_000), Filling(sides, 35, 100_000), Filling(sides, 35, 10)
    assert yes.search() is True
    assert len(yes.boxes) == 34
    assert no.search() is False
    assert open_.search() is None


def test_a_layer_that_stays_open_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without work allowed, the count and the bound stay one apart, and nothing is called proved."""
    from dieline.strength import pallet

    monkeypatch.setattr(pallet, "FILL_STATES", 1)
    pallet._best_layer.cache_clear()
    layer = best_layer((7, 3), (43, 26))
    pallet._best_layer.cache_clear()
    assert (layer.count, layer.bound, layer.proved) == (52, 53, False)
    assert "search not finished" in layer.method
    assert_lies_well(layer)
