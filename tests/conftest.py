"""What every test shares: hypothesis profiles, and a slotted box in one call."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any, Protocol

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from dieline.pipeline import Result

settings.register_profile("short", max_examples=40, deadline=None, derandomize=True)
settings.register_profile(
    "long", max_examples=2000, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "short"))


class Draw(Protocol):
    """Draws a box from a style, a size, a board and options."""

    def __call__(self, style: str = ..., size: str = ..., board: str = ..., **options: Any) -> Result: ...


@pytest.fixture
def draw() -> Draw:
    """Draws a box from a style, a size, a board and options."""
    from dieline.job import make_job
    from dieline.pipeline import run

    def drawn(style: str = "0201", size: str = "300x200x150", board: str = "C", **options: Any) -> Result:
        return run(make_job(style, size, board, options=options))

    return drawn


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--record", action="store_true", help="record the golden drawings anew")
