"""What comes with dieline as TOML is read from a twin that holds the same."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import dieline
from dieline import textfile

DATA = Path(dieline.__file__).with_name("data")
TABLES = sorted(path.stem for path in DATA.glob("*.toml"))


@pytest.mark.parametrize("name", TABLES)
def test_a_table_and_its_twin_hold_the_same(name: str) -> None:
    """If not, the TOML file was changed since: run ``python -m dieline.textfile``."""
    written = tomllib.loads((DATA / f"{name}.toml").read_text(encoding="utf-8"))
    read = textfile.shipped_table(name)
    assert read == written
    assert repr(read) == repr(written), "whole numbers stay whole, and the order is kept"


def test_the_tables_are_there() -> None:
    assert {"boards", "limits"} <= set(TABLES)


def test_twins_are_made_of_what_the_folder_holds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(textfile, "_DATA", tmp_path)
    (tmp_path / "kettles.toml").write_text('[[kettle]]\nname = "Größe"\nlitres = 2\nheight = 1.5\n', encoding="utf-8")
    textfile.make_twins()
    assert textfile.shipped_table("kettles") == {"kettle": [{"name": "Größe", "litres": 2, "height": 1.5}]}
