"""Every style that is installed, whoever wrote it, is put through the suite: none is listed that was not proved."""

from __future__ import annotations

import os

import pytest

from dieline.registry import find_style, style_names
from dieline.testing import conform

SIZES = int(os.environ.get("DIELINE_SIZES", "5"))
"""Random sizes for each style, on top of what each style's own test draws: 200 with ``make long``."""


@pytest.mark.parametrize("code", style_names())
def test_every_listed_style_conforms(code: str) -> None:
    """Smallest, typical and extreme boards, each choice of each option; the random sizes may all be refused here."""
    assert conform(find_style(code), sizes=SIZES, seed=7, least_share=0.0) >= 1
