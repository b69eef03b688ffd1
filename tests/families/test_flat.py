"""A family of any size takes little room: what is done lies on disk, and what is to be done in its table."""

from __future__ import annotations

import tracemalloc
from pathlib import Path

import pytest

from dieline.errors import InputError
from dieline.families.plan import Plan
from dieline.families.store import Journal
from dieline.families.summary import Summary, write_summaries
from dieline.families.table import read_table
from dieline.families.work import Outcome

BASE = {"style": "0201", "board": "C"}
COUNT = 5000


def _plan(folder: Path, count: int) -> Plan:
    table = folder / f"{count}.csv"
    rows = "".join(f"{200 + 0.1 * number:.1f},150,{100 + number % 7},shop {number}\n" for number in range(count))
    table.write_text(f"length,breadth,height,shop\n{rows}", encoding="utf-8")
    return Plan(read_table(table), BASE)


def test_of_each_item_next_to_nothing_is_held(tmp_path: Path) -> None:
    """From the table to the summaries, some 100 bytes an item; a job, its entry and its row would take 6000."""
    _plan(tmp_path, 10)
    tracemalloc.start()
    plan = _plan(tmp_path, COUNT)
    journal = Journal(tmp_path, len(plan))
    for item in plan:
        summary = {"blank width": 300.0 + item.place, "blank length": 1000.0, "errors": 0, "picture": "M0 0" * 100}
        journal.add(Outcome(item, ((f"{item.name}.dxf", 13000),), summary))
    assert journal.finish() == []
    write_summaries(tmp_path, journal, ("csv", "html"), 5.0)
    held, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    journal.close()
    assert held < 150 * COUNT
    assert len((tmp_path / "summary.csv").read_text(encoding="utf-8").splitlines()) == COUNT + 1


def test_widths_are_grouped_from_the_least_of_each_group(tmp_path: Path) -> None:
    plan = _plan(tmp_path, 6)
    journal = Journal(tmp_path, len(plan))
    for item, width in zip(plan, (310.0, 300.0, 305.0, 300.0, 305.1, 311.0), strict=True):
        journal.add(Outcome(item, (), {"blank width": width}))
    rows = list(Summary(journal, 5.0))
    journal.close()
    assert [row["width group"] for row in rows] == [2, 1, 1, 1, 2, 3]
    assert [row["width shared by"] for row in rows] == [1, 2, 1, 2, 1, 1]
    assert [row["shop"] for row in rows] == [f"shop {number}" for number in range(6)]


def test_ranges_that_multiply_beyond_reason_are_refused(tmp_path: Path) -> None:
    table = tmp_path / "t.csv"
    table.write_text("length,breadth,height\n1..2000 step 1,1..2000 step 1,100\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"row 2.*its ranges make 4000000 boxes together"):
        Plan(read_table(table), BASE)


def test_a_cell_longer_than_any_table_has_is_told_with_its_line(tmp_path: Path) -> None:
    table = tmp_path / "t.csv"
    table.write_text(f"length,breadth,height\n300,200,100\n300,{'2' * 200_000},100\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"line 3.*is no table: field larger than field limit"):
        read_table(table)
