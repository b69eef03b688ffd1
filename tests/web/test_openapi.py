"""The description of the interface, and schemathesis asking all that it allows and much that it does not."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import hypothesis
import pytest
import schemathesis
from preview_site import CASE, Site, serving
from schemathesis.core.result import Ok
from schemathesis.specs.openapi.checks import positive_data_acceptance

from dieline.web.watched import Watched

WAYS = {
    "/api/draw",
    "/api/form",
    "/api/files",
    "/api/catalogue",
    "/api/openapi.json",
    "/api/watched",
}


@pytest.fixture(scope="module")
def own_site() -> Iterator[Site]:
    """A server for this module alone: it is asked a great deal."""
    with serving(Watched(job=CASE)) as site:
        yield site


@pytest.fixture(scope="module")
def described(own_site: Site) -> schemathesis.BaseSchema:
    """The description as the server hands it out, put to the server."""
    return schemathesis.openapi.from_url(f"http://127.0.0.1:{own_site.port}/api/openapi.json")


def test_every_question_is_described(own_site: Site) -> None:
    data = own_site.ask("/api/openapi.json").data()
    assert set(data["paths"]) == WAYS
    assert data["openapi"].startswith("3.1")


def test_the_description_names_every_style_and_board(own_site: Site) -> None:
    data, catalogue = (own_site.ask(way).data() for way in ("/api/openapi.json", "/api/catalogue"))
    text = json.dumps(data)
    for entry in catalogue["styles"]:
        assert f'"{entry["code"]}"' in text


@pytest.mark.parametrize("way", sorted(WAYS - {"/api/openapi.json"}))
def test_whatever_is_asked_is_answered_as_described(described: schemathesis.BaseSchema, way: str) -> None:
    """No answer but those described: none of status 500, none without its shape, whatever the body."""
    operations = [found.ok() for found in described.get_all_operations() if isinstance(found, Ok)]
    (operation,) = (operation for operation in operations if operation.path == way)
    modes = [schemathesis.GenerationMode.POSITIVE, schemathesis.GenerationMode.NEGATIVE]
    cases = hypothesis.strategies.one_of(*(operation.as_strategy(generation_mode=mode) for mode in modes))

    @hypothesis.settings(max_examples=25, deadline=None, suppress_health_check=list(hypothesis.HealthCheck))
    @hypothesis.given(case=cases)
    def attack(case: schemathesis.Case[Any]) -> None:
        answer = case.call(timeout=30)
        assert answer.status_code < 500 or answer.status_code in (503, 504), answer.text
        # Not every order that is well written can be made: 422 says why, and is described.
        case.validate_response(answer, excluded_checks=[positive_data_acceptance])
        assert "Traceback" not in answer.text

    attack()
