"""The pallets: found by name or by size, and refused where they cannot be."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import dieline
from dieline.errors import SizeError, UnknownNameError
from dieline.strength.pallet_deck import Pallet, find_pallet, loaded_heights, modules, pallets
from dieline.textfile import parse_toml

DATA = Path(dieline.__file__).parent / "data"


def test_every_number_says_where_it_comes_from() -> None:
    found = [(pallet.source, pallet.confidence) for pallet in pallets().values()]
    found += [(module.source, module.confidence) for module in modules()]
    found += [(height.source, height.confidence) for height in loaded_heights()]
    assert len(found) > 12
    for source, confidence in found:
        assert source
        assert confidence in ("published", "trade practice", "derived")
    boards = {pallet.boards_confidence for pallet in pallets().values() if pallet.boards}
    assert boards == {"common practice, no source"}


def test_the_twin_holds_the_same() -> None:
    text = (DATA / "pallets.toml").read_text(encoding="utf-8")
    assert json.loads((DATA / "pallets.json").read_text(encoding="utf-8")) == parse_toml(text, "pallets", "data file")


def test_names_are_found_whatever_their_capitals() -> None:
    assert find_pallet("Euro") is pallets()["euro"]
    assert find_pallet(" 1200x800 ").height is None


def test_a_size_is_a_bare_deck() -> None:
    pallet = find_pallet("1250 x 850.5")
    assert (pallet.deck, pallet.height, pallet.mass, pallet.gap) == ((1250.0, 850.5), None, None, None)


def test_an_unknown_name_offers_what_is_near() -> None:
    with pytest.raises(UnknownNameError, match="did you mean euro"):
        find_pallet("eurp")


def test_deck_boards_spread_evenly_and_the_gap_follows() -> None:
    pallet = Pallet(name="own", length=1000, breadth=500, boards=(100, 100, 100))
    assert pallet.gap == 100
    assert pallet.board_edges() == [(0, 100), (200, 300), (400, 500)]
    assert Pallet(name="own", length=1000, breadth=500).board_edges() == []


@pytest.mark.parametrize(
    ("more", "text"),
    [
        ({"length": 0.0}, "pallet length – 0 mm"),
        ({"breadth": float("nan")}, "pallet breadth – is no finite number"),
        ({"height": -1.0}, "pallet height – -1 mm"),
        ({"mass": 0.0}, "pallet mass – 0 kg"),
        ({"load": float("inf")}, "pallet load – inf kg"),
        ({"gap": 900.0}, "pallet gap – 900 mm"),
        ({"boards": (500.0, 500.0)}, "pallet boards – 1000 mm in all"),
    ],
)
def test_numbers_that_cannot_be_are_refused(more: dict[str, float], text: str) -> None:
    with pytest.raises(SizeError, match=text):
        Pallet(**{"name": "own", "length": 1200.0, "breadth": 800.0, **more})  # type: ignore[arg-type]  # wrong on purpose
