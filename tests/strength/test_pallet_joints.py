"""Layers in turn: joints bridged or not, counted by hand, and towers that stand alone."""

from __future__ import annotations

import pytest

from dieline.strength.pallet import Layer, Place, best_layer
from dieline.strength.pallet_joints import best_bond, bond, equal_layers


def layer_of(*places: tuple[float, float, bool], box: tuple[float, float], deck: tuple[float, float]) -> Layer:
    laid = tuple(Place(*place) for place in places)
    return Layer(laid, len(laid), len(laid), True, "by hand", box, deck)


LENGTHWISE = layer_of((0, 0, False), (0, 200, False), box=(400, 200), deck=(400, 400))
CROSSWISE = layer_of((0, 0, True), (200, 0, True), box=(400, 200), deck=(400, 400))


def test_a_column_bridges_nothing_and_every_box_is_a_tower() -> None:
    held = bond(LENGTHWISE, LENGTHWISE, "laid as below")
    assert (held.bridged, held.towers) == (0.0, 2)


def test_two_on_two_crosswise_bridge_every_joint() -> None:
    """The one joint of either layer lies in the middle of the boxes of the other."""
    held = bond(LENGTHWISE, CROSSWISE, "turned")
    assert (held.bridged, held.towers) == (1.0, 1)


def test_half_a_joint_bridged_is_a_half() -> None:
    """Four boxes in a square; above, one pair lies straight over two and the other crosses its joint."""
    box, deck = (400, 200), (800, 400)
    below = layer_of(*((x, y, False) for y in (0, 200) for x in (0, 400)), box=box, deck=deck)
    above = layer_of((0, 0, False), (0, 200, False), (400, 0, True), (600, 0, True), box=box, deck=deck)
    held = bond(below, above, "by hand")
    # Below: 400 mm across (none crossed) and 800 mm along (400 crossed by the turned pair).
    # Above: 400 along under straight boxes, 400 between the blocks, 400 between the turned pair, crossed below.
    assert held.bridged == pytest.approx((400 + 400) / (400 + 800 + 400 + 400 + 400))
    assert held.towers == 3


def test_a_hair_of_bearing_bridges_nothing() -> None:
    """A box must bear on both sides by a tenth of its breadth."""
    for shift, bridged in ((19.0, 0.0), (21.0, 1.0)):
        below = layer_of((0, 0, False), (0, 200, False), box=(400, 200), deck=(400, 600))
        above = layer_of((0, shift, False), (0, 400, False), box=(400, 200), deck=(400, 600))
        assert bond(below, above, "by hand").bridged == pytest.approx(bridged), shift


def test_five_modules_interlock_by_half_a_turn() -> None:
    held = best_bond(best_layer((600, 400), (1200, 1000)))
    assert held.towers == 1
    assert held.bridged > 0.8
    assert held.how == "turned by half a turn"
    assert held.above.count == held.below.count == 5
    assert held.above.places != held.below.places


def test_boxes_that_can_only_lie_one_way_stay_in_columns() -> None:
    """Eight of 400 x 300 fill 1200 x 800 only with their length across: 800 is twice 400 and no other row."""
    held = best_bond(best_layer((400, 300), (1200, 800)))
    assert (held.bridged, held.towers, held.how) == (0.0, 8, "laid as below")


def test_other_layers_hold_as_many_and_lie_well() -> None:
    layer = best_layer((300, 200), (1200, 800))
    pool = equal_layers(layer)
    assert pool[0] == layer
    assert len(pool) > 1
    for other in pool:
        corners = sorted(other.footprint(place) for place in other.places)
        assert len(corners) == layer.count
        assert sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in corners) == pytest.approx(1200 * 800)
        assert min(corner[0] for corner in corners) >= -1e-3
        assert max(corner[3] for corner in corners) <= 800 + 1e-3
        for i, a in enumerate(corners):
            for b in corners[:i]:
                assert max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]) >= -1e-3


def test_one_box_has_no_joint_to_bridge() -> None:
    held = best_bond(best_layer((1100, 700), (1200, 800)))
    assert (held.bridged, held.towers) == (1.0, 1)
