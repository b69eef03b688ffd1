"""Boxes on a pallet: most to a layer with proof, layers up to height and mass, overhang, and what is refused."""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from stack_trials import LOAD, board, shape

from dieline.errors import InputError
from dieline.load import Load
from dieline.strength.answer import Answer, answer
from dieline.strength.layer_picture import layer_svg

ROOT = Path(__file__).parents[2]
CASE = shape(398.0, 298.0, 256.0)


def stacked(**more: object) -> Answer:
    load: Load = replace(LOAD, **{"pallet": "euro", **more})  # type: ignore[arg-type]  # the fields of a load
    return answer(CASE, board(), load)


def test_boxes_of_the_module_fill_the_euro_pallet_with_proof() -> None:
    found = stacked().pallet_load
    assert found is not None
    assert (found.per_layer, found.layer.bound, found.layer.proved) == (8, 8, True)
    assert found.overhangs == (0.0, 0.0)
    assert found.height == pytest.approx(144 + 5 * 256)


def test_layers_go_up_to_the_height_and_to_the_mass() -> None:
    by_height = stacked(layers=None, height=144 + 4 * 256.0)
    assert by_height.standing.layers == 4
    assert stacked(layers=None, height=144 + 4 * 256.0 - 0.01).standing.layers == 3
    assert stacked(layers=None, load_mass=8 * 8.4 * 2).standing.layers == 2
    assert stacked(layers=None, height=2000.0, load_mass=8 * 8.4 * 2).standing.layers == 2


def test_boxes_over_the_edge_weaken_the_stack_and_are_shown() -> None:
    load = replace(LOAD, pallet="1180x780", pallet_mass=20.0)
    flush = answer(CASE, board(), load)
    over = answer(CASE, board(), replace(load, overhang=10.0))
    assert flush.pallet_load is not None
    assert over.pallet_load is not None
    assert (flush.standing.per_layer, over.standing.per_layer) == (6, 8)
    assert over.pallet_load.overhangs == pytest.approx((6.0, 8.0))
    assert over.margin / flush.margin == pytest.approx(0.7), "the middle of 20 to 40 % lost"
    assert "stack-overhang" in {remark.code for remark in over.remarks}
    assert "8 mm over the edge" in layer_svg(over.pallet_load)


def test_overhang_that_is_allowed_but_not_used_costs_nothing() -> None:
    assert stacked(overhang=5.0).margin == stacked().margin


@pytest.mark.parametrize(("key", "says", "more"), [
    ("load.pallet", "smaller than the box", {"pallet": "390x290"}),
    ("load.pallet", "not known", {"pallet": "large one"}),
    ("load.height", "no room for a single layer", {"layers": None, "height": 300.0}),
    ("load.load_mass", "no room for a single layer", {"layers": None, "load_mass": 20.0}),
    ("load.pallet_height", "missing", {"layers": None, "height": 1000.0, "pallet": "1200x1000"}),
    ("load.pallet_mass", "missing", {"pallets": 2, "pallet": "1200x1000"}),
])  # fmt: skip
def test_what_cannot_stand_is_told_with_its_key(key: str, says: str, more: dict[str, object]) -> None:
    with pytest.raises(InputError, match=says) as caught:
        stacked(**more)
    assert caught.value.where == key


def test_too_much_is_said() -> None:
    codes = {remark.code for remark in stacked(per_layer=9, height=1000.0, load_mass=100.0).remarks}
    assert {"stack-per-layer", "stack-too-high", "stack-too-heavy"} <= codes


def test_the_picture_shows_every_box_of_the_layer() -> None:
    found = stacked().pallet_load
    assert found is not None
    text = layer_svg(found, title="kettle-case")
    boards = len(found.pallet.boards)
    assert boards == 5
    assert text.count("<rect") == 1 + 1 + boards + 8 + 1 + 5 * 4, (
        "sheet, deck, its boards, layer, pallet, four boxes seen in five layers"
    )
    assert "8 boxes to a layer: no more fit, proved" in text
    assert text == layer_svg(found, title="kettle-case")


def test_layers_that_bind_each_other_are_laid_in_turn() -> None:
    load = replace(LOAD, pallet="1200x1000", pattern="interlocked")
    found = answer(shape(590.0, 390.0, 300.0), board(), load).pallet_load
    assert found is not None
    assert found.bond is not None
    assert found.bond.towers == 1
    assert found.layer_at(0).count == found.layer_at(1).count == found.layer.count
    assert found.layer_at(0).places != found.layer_at(1).places
    assert found.layer_at(2) is found.layer_at(0)
    assert "in turn" in layer_svg(found)


def test_boxes_that_no_pattern_ties_together_are_called_towers() -> None:
    """Two boxes that fill half the deck each can only lie as the two below."""
    found = answer(shape(800.0, 600.0, 300.0), board(), replace(LOAD, pallet="euro", pattern="interlocked"))
    assert "stack-towers" in {remark.code for remark in found.remarks}


def test_the_page_on_stacking_and_its_pictures_are_up_to_date() -> None:
    """If not, run ``python docs/make_stacking.py``."""
    spec = importlib.util.spec_from_file_location("make_stacking", ROOT / "docs/make_stacking.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["make_stacking"] = module
    spec.loader.exec_module(module)
    for path, text in module.stacking_pages():
        assert path.read_text(encoding="utf-8") == text, path.name
