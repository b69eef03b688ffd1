"""Hexagonal, octagonal, five-panel and pillow cartons: classical geometry, and trials that must fail."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from piece_trials import faults, named, proved, with_fold

from dieline.errors import InputError
from dieline.registry import find_style
from dieline.testing import conform

CARTONS = {"hexagon-tuck": 0.5, "hexagon-seal": 0.5, "octagon-tuck": 0.5, "five-panel-carton": 0.5, "pillow-pack": 0.1}
"""Each with the share of random sizes that it must take: a pillow's height and breadth go with each other."""


@pytest.mark.parametrize("code", CARTONS)
def test_it_passes_the_suite(code: str) -> None:
    assert conform(find_style(code), least_share=CARTONS[code]) > 15


@pytest.mark.parametrize(("code", "sides"), [("hexagon-tuck", 6), ("hexagon-seal", 6), ("octagon-tuck", 8)])
def test_a_regular_prism_has_its_classical_walls(code: str, sides: int) -> None:
    """A side is the distance across the flats times tan(180 / n), through the middle of the board (plain geometry)."""
    carton = proved(find_style(code), "120x120x150")
    t = carton.job.board.thickness
    assert named(carton, "panel width") == pytest.approx((120 + t) * math.tan(math.pi / sides), abs=1e-6)
    radius = (120 + t) / 2 / math.cos(math.pi / sides)
    corners = [(radius * math.cos(turn), radius * math.sin(turn)) for turn in np.arange(sides) * 2 * math.pi / sides]
    assert named(carton, "panel width") == pytest.approx(shapely.Polygon(corners).length / sides, abs=1e-6)


def test_a_prism_must_be_as_broad_as_long() -> None:
    with pytest.raises(InputError):
        proved(find_style("hexagon-tuck"), "120x110x150")


def test_a_hexagon_folded_by_less_than_60_degrees_stays_open() -> None:
    carton = proved(find_style("hexagon-tuck"), "120x120x150")
    assert faults(with_fold(carton.design, "panel 3", lambda fold: replace(fold, angle=fold.angle - 5.0)), carton)


@pytest.mark.parametrize("size", ["150x90x24", "200x110x30", "100x70x19"])
def test_the_arcs_of_the_pillow_have_the_radius_of_chord_and_rise(size: str) -> None:
    """R = (W² + 4 f²) / 8 f for a chord W and a rise f (plain geometry of the circle), creases and free edges alike."""
    pack = proved(find_style("pillow-pack"), size, "carton-0.5")
    wide, rise = named(pack, "panel width"), named(pack, "arc rise")
    assert rise == pytest.approx((pack.design.inside.height + 0.5) / 2)
    radii = [
        math.dist(a, b) * (1 + bulge**2) / (4 * abs(bulge))
        for stroke in pack.drawings[0].strokes
        for a, b, bulge in zip(stroke.path.points, stroke.path.points[1:], stroke.path.bulges, strict=False)
        if bulge
    ]
    assert len(radii) >= 8
    assert radii == pytest.approx([(wide**2 + 4 * rise**2) / (8 * rise)] * len(radii), rel=1e-6)


def test_a_pillow_too_high_for_its_breadth_is_refused() -> None:
    """Rise over width above 0.207 would need side edges steeper than a right angle (plain geometry)."""
    with pytest.raises(InputError):
        proved(find_style("pillow-pack"), "150x90x45", "carton-0.5")


def test_the_fifth_panel_covers_the_first() -> None:
    carton = proved(find_style("five-panel-carton"), "120x80x160")
    t = carton.job.board.thickness
    assert named(carton, "fifth panel width") <= 120 + 1.5 * t + 1e-9
    assert named(carton, "panel 1 width") == pytest.approx(120 + t / 2)
    assert named(carton, "panel 4 width") == pytest.approx(80 + 2 * t)
