"""The ``[load]`` table of a job: what it takes, what it refuses and how it is carried."""

from __future__ import annotations

from pathlib import Path

import pytest

from dieline.errors import DielineError, JobError
from dieline.job_file import job_from_data, job_from_text
from dieline.load import CHOICES, KEYS, Load, load_from_data
from dieline.schema import job_schema
from dieline.strength.basis import table

ROOT = Path(__file__).parents[2]


def problem(key: str, value: object) -> DielineError:
    problems: list[DielineError] = []
    load_from_data({key: value}, problems)
    assert len(problems) == 1
    return problems[0]


@pytest.mark.parametrize(("key", "value", "says"), [
    ("layers", 0, "at least one"),
    ("layers", 2.5, "whole number"),
    ("mass", 0, "more than 0"),
    ("mass", "12 stone", "not a mass"),
    ("humidity", 140, "0 to 100"),
    ("humidity", -1, "0 to 100"),
    ("humidity", "damp", "0 to 100"),
    ("ect", 44, "lb/in?"),
    ("ect", 0.4, "check the unit"),
    ("ect", "32 lb", "must be a number of kN/m"),
    ("days", 0, "above 0|number of days"),
    ("overhang", -5, "0 or more"),
    ("height", 0, "more than 0"),
    ("gaps", "yes", "true or false"),
    ("pallet", 7, "name of a pallet"),
    ("pattern", "brick", "column, misaligned, interlocked"),
    ("factors", "handbok", "handbook"),
    ("weight", 7, "known|height"),
])  # fmt: skip
def test_bad_values_are_told_with_their_key(key: str, value: object, says: str) -> None:
    found = problem(key, value)
    assert found.where == f"load.{key}"
    assert any(part in found.text for part in says.split("|")), found.text


def test_44_is_asked_whether_it_is_pounds_and_read_as_such_with_its_unit() -> None:
    assert "write '44 lb/in'" in problem("ect", 44).text
    problems: list[DielineError] = []
    assert load_from_data({"ect": "44 lb/in"}, problems).ect == pytest.approx(7.7056, abs=1e-3)
    assert not problems


@pytest.mark.parametrize(("value", "days"), [(30, 30.0), ("6 weeks", 42.0), ("3 months", 90.0), ("10 days", 10.0)])
def test_time_is_read_in_days(value: object, days: float) -> None:
    assert load_from_data({"days": value}, []).days == days


def test_factors_and_schedule_do_not_mix() -> None:
    problems: list[DielineError] = []
    load_from_data({"factors": "handbook", "schedule": "ista-3e"}, problems)
    assert [found.where for found in problems] == ["load.schedule"]


def test_all_problems_of_a_job_at_once_each_with_its_line() -> None:
    text = 'style = "0201"\nsize = "300x200x150"\nboard = "C"\n\n[load]\nlayers = 0\nhumidity = 140\nect = 44\n'
    with pytest.raises(JobError) as caught:
        job_from_text(text)
    assert [(found.where, found.line) for found in caught.value.problems] == [
        ("load.layers", 6),
        ("load.humidity", 7),
        ("load.ect", 8),
    ]


def test_a_load_is_carried_with_its_job() -> None:
    load = {"pallet": "1200x1000", "layers": 5, "humidity": 70, "days": "6 weeks", "ect": "32 lb/in", "gaps": True}
    job = job_from_data({"style": "0201", "size": "300x200x150", "board": "C", "load": load})
    again = job_from_data(job.data())
    assert again.load == job.load
    assert isinstance(job.load, Load)
    assert job.load.days == 42.0


def test_a_job_without_a_load_carries_none() -> None:
    job = job_from_data({"style": "0201", "size": "300x200x150", "board": "C"})
    assert job.load is None
    assert "load" not in job.data()


def test_words_and_tables_name_the_same() -> None:
    """Every set, schedule and formula that may be named is in the data, and the other way round."""
    assert set(CHOICES["factors"]) == set(table("factors"))
    assert set(CHOICES["schedule"]) == set(table("schedule"))
    assert set(CHOICES["formula"]) == set(table("formula"))
    assert set(job_schema()["properties"]["load"]["properties"]) == set(KEYS)
    assert set(KEYS) == set(Load.__slots__)


def test_every_key_is_on_the_page() -> None:
    page = (ROOT / "docs/stacking.md").read_text(encoding="utf-8")
    for key in KEYS:
        assert f"`{key}`" in page, key
    for words in CHOICES.values():
        for word in words:
            assert word in page, word
