"""The pillow's curved crease against plain geometry: an arc by chord and rise, and an isometry done step by step.

Source: circle through chord and rise, R = (W² + 4 f²) / 8 f, Euclid, Elements III.35 (products of crossing chords);
a bent sheet keeps its lengths, Gauss, Disquisitiones generales circa superficies curvas, § 12.
"""

from __future__ import annotations

import numpy as np
import pytest

from dieline_styles.pillow_plan import Arc

STEPS = 400_000

WIDTH = 100.0


@pytest.mark.parametrize("rise", [8.0, 12.0, 15.0, 18.0, 19.0])
def test_the_radius_is_that_of_crossing_chords(rise: float) -> None:
    """Half the chord squared is the rise times the rest of the diameter."""
    arc = Arc(WIDTH, rise)
    assert pytest.approx(rise * (2 * arc.radius - rise)) == (WIDTH / 2) ** 2


def _bent(rise: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The sheet bent to the height of its own arc: flat places, heights, and places across the closed pack."""
    radius = (WIDTH**2 + 4 * rise**2) / (8 * rise)
    flat = np.linspace(-WIDTH / 2, WIDTH / 2, STEPS)
    height = np.sqrt(radius**2 - flat**2) - (radius - rise)
    step = np.diff(flat)
    across = np.concatenate(([0.0], np.cumsum(np.sqrt(step**2 - np.diff(height) ** 2))))
    return flat, height, across


@pytest.mark.parametrize("rise", [8.0, 12.0, 15.0, 18.0, 19.0])
def test_the_closed_breadth_is_what_is_left_of_the_width_when_the_sheet_is_bent(rise: float) -> None:
    _, height, across = _bent(rise)
    arc = Arc(WIDTH, rise)
    assert across[-1] == pytest.approx(arc.closed, rel=1e-6)
    edge = np.degrees(np.arctan2(height[1] - height[0], across[1] - across[0]))
    assert edge == pytest.approx(np.degrees(arc.steepness), abs=0.05)


@pytest.mark.parametrize("rise", [8.0, 15.0, 18.0])
def test_the_crease_keeps_its_length(rise: float) -> None:
    """It rises as much as it runs in, in a plane at 45 degrees; in space it is as long as the flat arc."""
    _, height, across = _bent(rise)
    arc = Arc(WIDTH, rise)
    crease = np.column_stack((across, height, height))
    length = np.linalg.norm(np.diff(crease, axis=0), axis=1).sum()
    assert length == pytest.approx(2 * arc.radius * arc.angle, rel=1e-6)


@pytest.mark.parametrize("rise", [8.0, 15.0, 18.0])
def test_the_strips_of_the_proof_stand_round_the_arc(rise: float) -> None:
    """Their corners lie on or above the arc, by less than a hundredth of its rise and width."""
    arc = Arc(WIDTH, rise)
    for place, height in arc.corners[1:-1]:
        on_arc = np.sqrt(arc.radius**2 - place**2) - (arc.radius - rise)
        assert 0.0 <= height - on_arc < 0.01 * WIDTH
