"""Layers against two judges that share no code with the product: shapely for the places, OR-Tools for the optimum.

The sizes named "hard" are instances that the literature on loading pallets with equal boxes keeps coming back to
(Bischoff and Dowsland 1982; Nelissen 1995; Letchford and Amaral 2001), as remembered: only their sizes are used, and
what is expected of them is proved here, by the area or by the solver.
"""

from __future__ import annotations

import csv
import random
from pathlib import Path

import pytest
import shapely
from ortools.sat.python import cp_model

from dieline.strength.pallet import best_layer

TABLE = Path(__file__).with_name("data") / "pallet_layers.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))


def sizes(above: str) -> list[tuple[int, ...]]:
    """Decks and boxes whose count is proved from above by one of ``area`` and ``solver``."""
    keys = ("deck_length", "deck_breadth", "box_length", "box_breadth", "boxes")
    return [tuple(int(row[key]) for key in keys) for row in ROWS if row["above"] == above]


def fits(deck: tuple[int, int], box: tuple[int, int], count: int) -> bool:
    """Whether so many boxes fit, as OR-Tools' CP-SAT finds: a choice of whole-number places, no cell used twice."""
    model = cp_model.CpModel()
    cells: dict[tuple[int, int], list[cp_model.IntVar]] = {}
    chosen = []
    for across, up in sorted({box, box[::-1]}):
        for x in range(deck[0] - across + 1):
            for y in range(deck[1] - up + 1):
                here = model.new_bool_var(f"{across} {x} {y}")
                chosen.append(here)
                for i in range(x, x + across):
                    for j in range(y, y + up):
                        cells.setdefault((i, j), []).append(here)
    for users in cells.values():
        model.add_at_most_one(users)
    model.add(sum(chosen) >= count)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE), "the solver came to no end"
    return bool(status != cp_model.INFEASIBLE)


def lies_well(deck: tuple[int, int], box: tuple[int, int]) -> int:
    """How many boxes the layer holds, once shapely has found them whole, on the deck and not on each other."""
    layer = best_layer(box, deck)
    boxes = [shapely.box(*layer.footprint(place)) for place in layer.places]
    sheet = shapely.box(0, 0, *deck)
    assert all(shapely.area(shapely.difference(one, sheet)) < 1e-6 for one in boxes)
    assert shapely.area(shapely.union_all(boxes)) == pytest.approx(layer.count * box[0] * box[1], abs=1e-6)
    assert layer.proved
    return layer.count


@pytest.mark.parametrize(("length", "breadth", "long", "short", "count"), sizes("area"))
def test_hard_decks_are_filled_as_far_as_their_area_allows(
    length: int, breadth: int, long: int, short: int, count: int
) -> None:
    assert lies_well((length, breadth), (long, short)) == count == length * breadth // (long * short)


@pytest.mark.parametrize(("length", "breadth", "long", "short", "count"), sizes("solver"))
def test_hard_decks_hold_no_box_more_than_was_said(
    length: int, breadth: int, long: int, short: int, count: int
) -> None:
    assert lies_well((length, breadth), (long, short)) == count < length * breadth // (long * short)
    assert not fits((length, breadth), (long, short), count + 1)


def test_decks_at_random_hold_what_the_solver_says() -> None:
    """Forty small decks; equal boxes of whole sizes lie at whole places without loss, so that the solver is exact."""
    dice = random.Random(12)
    for _ in range(40):
        short = dice.randint(2, 5)
        long = dice.randint(short, 9)
        deck = dice.randint(long, 22), dice.randint(long, 18)
        count = lies_well(deck, (long, short))
        assert fits(deck, (long, short), count)
        assert not fits(deck, (long, short), count + 1), f"{deck} takes more than {count} boxes of {long} x {short}"
