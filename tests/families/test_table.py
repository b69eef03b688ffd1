"""Tables of sizes are read as people write them; what is wrong is told with row and column."""

from __future__ import annotations

from pathlib import Path

import pytest

from dieline.errors import DielineError, InputError
from dieline.families.plan import plan_items, safe_name
from dieline.families.table import read_table

BASE = {"style": "0201", "board": "C"}


def _table(tmp_path: Path, text: str, name: str = "t.csv") -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("divider", [",", ";", "\t"])
def test_a_csv_is_read_whatever_divides_it(tmp_path: Path, divider: str) -> None:
    text = "length,breadth,height,board\n300,200,150,C\n\n310,200,150,B\n".replace(",", divider)
    items, failures = plan_items(read_table(_table(tmp_path, text)), BASE)
    assert [item.job["size"] for item in items] == ["300x200x150", "310x200x150"]
    assert [item.job["board"] for item in items] == ["C", "B"]
    assert [item.row for item in items] == [2, 4]
    assert failures == []


def test_units_stand_in_the_header_or_in_the_cell(tmp_path: Path) -> None:
    text = "Length (cm),Width [in],depth mm,lap_width in\n30,8,150,1.5\n300 mm,20cm,15 cm,1 1/4 in\n"
    items, failures = plan_items(read_table(_table(tmp_path, text)), BASE)
    assert failures == []
    assert items[0].job["size"] == "300x203.2x150"
    assert items[1].job["size"] == "300x200x150"
    assert items[0].job["options"] == {"lap_width": "1.5"} or items[0].job["options"] == {"lap_width": "1.5 in"}


def test_a_range_makes_a_row_for_each_value_and_several_multiply(tmp_path: Path) -> None:
    text = "length,breadth,height\n300..360 step 20,200,100..120 step 10\n"
    items, _ = plan_items(read_table(_table(tmp_path, text)), BASE)
    assert len(items) == 4 * 3
    assert items[0].job["size"] == "300x200x100"
    assert items[-1].job["size"] == "360x200x120"


def test_a_toml_range_needs_no_table(tmp_path: Path) -> None:
    path = _table(tmp_path, '[range]\nlength = "300..320 step 10"\nbreadth = 200\nheight = 150\n', "r.toml")
    items, _ = plan_items(read_table(path), BASE)
    assert [item.job["size"] for item in items] == ["300x200x150", "310x200x150", "320x200x150"]
    path = _table(tmp_path, '[[item]]\nlength=300\nbreadth=200\nheight=150\nlap_on="B"\n', "i.toml")
    items, _ = plan_items(read_table(path), BASE)
    assert items[0].job["options"] == {"lap_on": "B"}


def test_an_xlsx_is_read(tmp_path: Path) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    book.active.append(["length", "breadth", "height", "customer", "hand_holes"])
    book.active.append([300, 200, 150.5, "front shop", "B"])
    book.save(tmp_path / "t.xlsx")
    items, failures = plan_items(read_table(tmp_path / "t.xlsx"), BASE)
    assert failures == []
    assert items[0].job["size"] == "300x200x150.5"
    assert items[0].extra == {"customer": "front shop"}
    assert items[0].job["options"] == {"hand_holes": "B"}


def test_bad_rows_are_told_with_row_and_column_and_the_others_stand(tmp_path: Path) -> None:
    text = (
        "length,breadth,height,board\n300,200,150,C\nwide,200,150,C\n300,,150,C\n300,200,150\n300,200,150,C,left over\n"
    )
    items, failures = plan_items(read_table(_table(tmp_path, text)), {"style": "0201"}, "{row}")
    assert [item.row for item in items] == [2]
    reasons = {failure.row: failure.reason for failure in failures}
    assert reasons[3].startswith("row 3, length – 'wide' is not a length")
    assert "no breadth" in reasons[4]
    assert "no board" in reasons[5]
    assert "beyond the last column" in reasons[6]


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "is empty"),
        ("length,breadth,height\n", "has no rows"),
        ("length,,height\n1,2,3\n", "column 2"),
        ("length,length,height\n1,2,3\n", "'length' twice"),
        ("length,L,height\n1,2,3\n", "only one column"),
    ],
)
def test_a_table_that_is_none_is_refused(tmp_path: Path, text: str, part: str) -> None:
    with pytest.raises(DielineError, match=part):
        read_table(_table(tmp_path, text))


def test_files_that_are_no_table_are_refused(tmp_path: Path) -> None:
    for name, text in (("t.pdf", "x"), ("t.toml", "a=1"), ("t.xlsx", "no archive")):
        with pytest.raises(DielineError):
            read_table(_table(tmp_path, text, name))
    with pytest.raises(DielineError, match="No such file"):
        read_table(tmp_path / "none.csv")
    with pytest.raises(DielineError, match="No such file"):
        read_table(tmp_path / "none.xlsx")


@pytest.mark.parametrize("cell", ["600..300", "300..600 step 0", "300..600 step -5", "1..9999 step 0.001"])
def test_ranges_that_do_not_run_are_refused_before_anything_is_drawn(tmp_path: Path, cell: str) -> None:
    table = read_table(_table(tmp_path, f"length,breadth,height\n{cell},200,150\n"))
    with pytest.raises(InputError):
        plan_items(table, BASE)


def test_two_items_of_one_name_are_refused_before_anything_is_drawn(tmp_path: Path) -> None:
    table = read_table(_table(tmp_path, "length,breadth,height,note\n300,200,150,a\n300,200,150,b\n"))
    with pytest.raises(InputError, match=r"rows 2 and 3 – '0201-300x200x150-C' twice"):
        plan_items(table, BASE)
    items, _ = plan_items(table, BASE, "{note}-{length}")
    assert [item.name for item in items] == ["a-300", "b-300"]


def test_names_that_differ_only_in_case_collide(tmp_path: Path) -> None:
    table = read_table(_table(tmp_path, "length,breadth,height,code\n300,200,150,ab\n310,200,150,AB\n"))
    with pytest.raises(InputError, match="whatever its case"):
        plan_items(table, BASE, "{code}")


def test_a_pattern_that_names_no_column_is_told(tmp_path: Path) -> None:
    table = read_table(_table(tmp_path, "length,breadth,height\n300,200,150\n"))
    _, failures = plan_items(table, BASE, "{lenght}")
    assert "{lenght}" in failures[0].reason


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("a/b\\c:d", "a-b-c-d"),
        ("NUL", "NUL-"),
        ("com1.box", "com1.box-"),
        ("..", "item"),
        ("  -x-  ", "x"),
        ("ü" * 5 + "a", "a"),
        ("x" * 500, "x" * 120),
    ],
)
def test_names_are_safe_on_every_system(text: str, name: str) -> None:
    assert safe_name(text) == name


def test_the_digest_changes_with_the_job_and_the_carried_columns(tmp_path: Path) -> None:
    def digest(row: str) -> str:
        items, _ = plan_items(read_table(_table(tmp_path, f"length,breadth,height,shop\n{row}\n")), BASE)
        return items[0].digest

    assert digest("300,200,150,a") == digest("300,200,150,a")
    assert len({digest("300,200,150,a"), digest("300,200,150,b"), digest("301,200,150,a")}) == 3
