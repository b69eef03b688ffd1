"""Every check is documented in one form, and its own examples prove it: one fails, one passes, both really built."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from check_examples import look_at

import dieline.checks.model as model
from dieline.checks import Check, Severity, catalogue, inspect, shipped_limits

CHECKS = catalogue()
EACH = pytest.mark.parametrize("entry", CHECKS, ids=lambda entry: entry.name)


def test_names_are_unique_and_plain() -> None:
    names = [entry.name for entry in CHECKS]
    assert len(set(names)) == len(names)
    assert all(name == name.lower() and name.isascii() and " " not in name for name in names)


@EACH
def test_docstring_has_every_part(entry: Check) -> None:
    assert entry.what.endswith(".")
    for heading in ("Why", "Limit", "Fails", "Passes"):
        assert entry.part(heading), heading
    order = [entry.text.index(f"\n{heading}: ") for heading in ("Why", "Limit", "Fails", "Passes")]
    assert order == sorted(order)


@EACH
def test_docstring_states_its_limits_as_they_are_shipped(entry: Check) -> None:
    text = " ".join(entry.text.split())
    for name in entry.limits:
        limit = shipped_limits()[name]
        number = str(limit).removesuffix(f" ({limit.by})")
        assert f"{name} {number}" in text
        assert limit.by in text


@EACH
def test_every_check_says_what_it_rests_on(entry: Check) -> None:
    assert entry.source
    assert bool(entry.limits) != bool(entry.rests_on)


@EACH
def test_failing_example_fails(entry: Check) -> None:
    found = list(entry.run(look_at(entry.part("Fails"))))
    assert found
    assert {finding.check for finding in found} == {entry.name}


@EACH
def test_passing_example_passes(entry: Check) -> None:
    assert list(entry.run(look_at(entry.part("Passes")))) == []


@EACH
def test_messages_are_one_plain_line_with_a_cure(entry: Check) -> None:
    for finding in entry.run(look_at(entry.part("Fails"))):
        assert finding.place
        assert "\n" not in finding.message
        assert not finding.message.endswith(".")
        assert ";" in finding.message
        assert "None" not in finding.message
        assert finding.source


def test_findings_come_in_the_order_of_the_catalogue() -> None:
    order = {entry.name: place for place, entry in enumerate(CHECKS)}
    found = inspect(look_at("0203 120x80x60 C; hand_holes=none; lap_width=20; flutes=horizontal; mass 40 kg"))
    places = [order[finding.check] for finding in found]
    assert len(set(places)) > 5
    assert places == sorted(places)


def test_a_check_of_ones_own_joins_the_list(monkeypatch: pytest.MonkeyPatch) -> None:
    """A check is a function on a list: nothing else has to know it."""
    monkeypatch.setattr(model, "_CHECKS", [])

    @model.check("too-blue", source="our own eyes")
    def too_blue(inspected: model.Inspected) -> Iterator[model.Finding]:
        """Too blue."""
        yield model.Finding("too-blue", Severity.NOTE, "print", f"{inspected.board.name} is too blue; use less")

    (finding,) = inspect(look_at("0201 300x200x150 C"))
    assert finding.message == "C is too blue; use less"
    assert [entry.name for entry in catalogue()] == ["too-blue"]
    assert catalogue()[0].source == "our own eyes"
