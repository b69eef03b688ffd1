"""A plant that rounds every dimension: folders, telescopes and slides must still fit together."""

from __future__ import annotations

import pytest

from dieline.board import find_board
from dieline.job import Job
from dieline.pipeline import run
from dieline.sizing import House
from dieline.style.contract import Style
from dieline.units import parse_size
from dieline_styles import (
    bliss,
    book_wrap,
    double_cover,
    five_panel,
    folder,
    octagon,
    slide,
    tube_telescope,
    wrap_around,
)
from dieline_styles.double_slide import DOUBLE_SLIDE
from dieline_styles.drawer import DRAWER_SLEEVE

STYLES: list[Style] = [
    style
    for module in (folder, wrap_around, five_panel, book_wrap, tube_telescope, double_cover, octagon, slide)
    for style in module.STYLES.values()
] + [bliss.BLISS, DRAWER_SLEEVE, DOUBLE_SLIDE]


@pytest.mark.parametrize("step", [0.5, 1.0])
@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.code)
def test_rounded_sizes_still_fit(style: Style, step: float) -> None:
    """On boards whose thickness is no multiple of the step too: nothing strikes, gapes or misses its joint."""
    for board in ("E", "B", "EB", "C", "BC"):
        job = Job(
            style=style.code,
            size=parse_size(style.example),
            board=find_board(board),
            house=House(name="plant", step=step),
        )
        result = run(job, style)
        assert result.failures == (), board
        first = result.design.sizes[0]
        assert first.value / step == pytest.approx(round(first.value / step)), "it is the rounded box that was proved"
