"""``dieline stack`` as a process: what it prints, what it writes, and how it ends."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

SAMPLES = Path(__file__).parents[2] / "samples"
CASE = str(SAMPLES / "stack-kettle-case.toml")


def stack(*words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "dieline", "stack", *words]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)


def test_it_answers_with_assumptions_cautions_and_the_boards_that_would_do() -> None:
    done = stack(CASE, "--table")
    assert done.returncode == 0, done.stderr
    assert "HOLDS: margin" in done.stdout
    assert "Assumed, as the job does not say:" in done.stdout
    assert done.stdout.count("CAUTION:") == 3
    assert "lightest first" in done.stdout


def test_a_stack_that_does_not_hold_ends_with_1() -> None:
    done = stack(CASE, "--load", "layers=12", "--load", "humidity=90", "--report", "json")
    data = json.loads(done.stdout)
    assert (done.returncode, data["verdict"]) == (1, "does not hold")
    assert data["available_N"] < data["required_N"]


def test_all_that_is_missing_is_asked_for_at_once() -> None:
    done = stack("0201", "300x200x150", "--board", "C")
    assert done.returncode == 2
    for key in ("contents.mass", "load.layers", "load.factors", "board C"):
        assert f"  {key} – " in done.stderr
    climate = stack("0201", "300x200x150", "--board", "C", "--load", "factors=handbook")
    for key in ("load.days", "load.humidity", "load.pattern"):
        assert f"  {key} – is missing" in climate.stderr
    assert "Traceback" not in done.stderr


def test_pictures_are_written_and_a_folder_that_cannot_be_is_told(tmp_path: Path) -> None:
    done = stack(CASE, "--out", str(tmp_path / "new"))
    assert done.returncode == 0
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == [
        "stack-kettle-case-layer.svg",
        "stack-kettle-case-margin.svg",
    ]
    (tmp_path / "file").write_text("", encoding="utf-8")
    wrong = stack(CASE, "--out", str(tmp_path / "file"))
    assert wrong.returncode == 2
    assert str(tmp_path / "file") in wrong.stderr


def test_a_unit_that_was_mistaken_is_asked_about() -> None:
    done = stack(CASE, "--load", "ect=44")
    assert done.returncode == 2
    assert "lb/in" in done.stderr
