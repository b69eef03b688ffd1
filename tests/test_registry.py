"""Styles are found by entry point; pairs of codes are bottom then top; a broken one harms no other."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from dieline import registry
from dieline.errors import StyleError, UnknownNameError
from dieline.registry import BrokenStyle, find_style, iter_styles, style_names
from dieline.style import Style
from dieline_styles.slotted import STYLES


@pytest.fixture
def strangers(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Entry points of three other people's packages, two of them broken."""
    entries = dict(registry._entries())
    for name, value in (
        ("no-module", "no_such_module:STYLE"),
        ("no-style", "dieline.units:MM_PER_INCH"),
        ("old", "tests_old_style:OLD"),
    ):
        entries[name] = value
    import types

    module = types.ModuleType("tests_old_style")
    module.OLD = replace(STYLES["0201"], contract=99)  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "tests_old_style", module)
    monkeypatch.setattr(registry, "_entries", lambda: entries)
    registry._load.cache_clear()
    yield
    registry._load.cache_clear()


def test_the_slotted_family_is_found() -> None:
    assert {"0200", "0201", "0202", "0203", "0204", "0205", "0206", "0209"} <= set(style_names())
    assert find_style("0201").title == "regular slotted case"


def test_a_pair_of_codes_is_bottom_then_top() -> None:
    pair = find_style("0201/0204")
    assert (pair.code, pair.title) == ("0201/0204", "slotted case, bottom 0201, top 0204")
    assert find_style("0203 / 0200").code == "0203/0200"


@pytest.mark.parametrize(
    ("code", "part"), [("0207", "did you mean"), ("0201/0999", "top of 0201"), ("9/0201", "not known")]
)
def test_unknown_codes_get_near_ones(code: str, part: str) -> None:
    with pytest.raises(UnknownNameError, match=part):
        find_style(code)


@pytest.mark.usefixtures("strangers")
def test_a_broken_style_is_listed_with_its_reason_and_harms_no_other() -> None:
    found = {entry.code: entry for entry in iter_styles()}
    for code, part in (("no-module", "No module named"), ("no-style", "holds no Style"), ("old", "contract 99")):
        entry = found[code]
        assert isinstance(entry, BrokenStyle)
        assert part in entry.reason
        with pytest.raises(StyleError, match=part):
            find_style(code)
    assert isinstance(found["0201"], Style)


def test_what_installers_noted_is_what_a_full_search_finds() -> None:
    assert registry._noted() == registry._entries()
    assert len(registry._noted()) > 10


def test_notes_are_read_group_by_group(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Other groups, other files and a second copy of a package further down the path are left alone."""
    for folder, package, module in (
        ("one", "kettle_styles-1.0.dist-info", "new"),
        ("two", "kettle_styles-0.9.dist-info", "old"),
        ("two", "other.egg-info", "other"),
    ):
        notes = tmp_path / folder / package
        notes.mkdir(parents=True)
        text = f"[console_scripts]\n0201 = x:y\n\n[dieline.styles]\n{module}-box = {module}:STYLE\n\n[last]\nz = x:y\n"
        (notes / "entry_points.txt").write_text(text)
    (tmp_path / "one" / "no-notes-1.0.dist-info").mkdir()
    (tmp_path / "two" / "file.egg-info").write_text("")
    monkeypatch.setattr(sys, "path", [str(tmp_path / name) for name in ("one", "none", "two")])
    assert registry._noted.__wrapped__() == {"new-box": "new:STYLE", "other-box": "other:STYLE"}
