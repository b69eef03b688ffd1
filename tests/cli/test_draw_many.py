"""Several jobs in one run: every good one is drawn, every bad one is told, in the order they were named."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

_MANY = 18
"""More than are drawn in the command's own process."""


def _jobs(folder: Path, count: int) -> list[str]:
    names = []
    for number in range(count):
        path = folder / f"job-{number:02}.toml"
        path.write_text(f'style="0201"\nsize="{300 + number}x200x150"\nboard="C"\nname="case {number:02}"\n')
        names.append(path.name)
    return names


def _draw(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "dieline", "draw", *words, "--out", "out"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=240)
    assert "Traceback" not in done.stderr, done.stderr
    return done


@pytest.mark.parametrize("count", [3, _MANY])
def test_the_good_are_drawn_and_the_bad_are_told_in_order(tmp_path: Path, count: int) -> None:
    names = _jobs(tmp_path, count)
    (tmp_path / names[1]).write_text('style="0201"\nsize="300x200x150"\nboard="Q"\n')
    done = _draw(tmp_path, *names)
    assert done.returncode == 2
    written = [Path(line).name for line in done.stdout.splitlines()]
    kept = [f"case-{number:02}" for number in range(count) if number != 1]
    assert written == [f"{name}.{suffix}" for name in kept for suffix in ("dxf", "svg")]
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(written)
    assert "'Q' is not known" in done.stderr
    assert names[1] in done.stderr


def test_many_in_several_processes_give_the_same_bytes_as_one_alone(tmp_path: Path) -> None:
    names = _jobs(tmp_path, _MANY)
    assert _draw(tmp_path, *names).returncode == 0
    together = (tmp_path / "out" / "case-07.dxf").read_bytes()
    assert _draw(tmp_path, names[7]).returncode == 0
    assert (tmp_path / "out" / "case-07.dxf").read_bytes() == together


def test_the_report_of_many_is_one_document_in_order(tmp_path: Path) -> None:
    names = _jobs(tmp_path, _MANY)
    (tmp_path / names[5]).write_text("style = 3")
    (tmp_path / names[9]).write_text((tmp_path / names[8]).read_text())
    done = _draw(tmp_path, *names, "--report", "json")
    reports = json.loads(done.stdout)
    assert [report["ok"] for report in reports] == [number not in (5, 9) for number in range(_MANY)]
    assert "would be written as case-08, as job-08.toml is" in reports[9]["errors"][0]["text"]
    assert reports[3]["inside"]["L"] == 303
    assert done.stderr == ""


@pytest.mark.parametrize("count", [3, _MANY])
def test_a_folder_that_is_a_file_stops_the_run_once(tmp_path: Path, count: int) -> None:
    names = _jobs(tmp_path, count)
    (tmp_path / "out").write_text("")
    done = _draw(tmp_path, *names)
    assert done.returncode == 2
    assert done.stderr.count("error: out –") == 1
