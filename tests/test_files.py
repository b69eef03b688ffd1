"""Files appear whole, read back, or not at all."""

from __future__ import annotations

import errno
import os
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from dieline import files
from dieline.errors import OutputError, ProofError
from dieline.files import file_texts, write
from dieline.job import FORMATS, Job, Output, make_job
from dieline.pipeline import Result, run


def _result(**output: Any) -> Result:
    return run(make_job("0201", "120x80x60", "E", output=Output(**output)))


def test_every_format_is_written_and_read_back(tmp_path: Path) -> None:
    names = [path.name for path in write(_result(formats=tuple(FORMATS)), tmp_path)]
    stem = "0201-120x80x60-E"
    assert names == [f"{stem}.dxf", f"{stem}.svg", f"{stem}-cut.svg", f"{stem}-folded.svg"]
    assert sorted(names) == sorted(path.name for path in tmp_path.iterdir())


@pytest.mark.parametrize("dxf", ["R2010", "R12"])
@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("arcs", ["bulge", "separate"])
@pytest.mark.parametrize("side", ["inside", "print"])
def test_every_kind_of_dxf_passes_the_read_back(tmp_path: Path, dxf: str, unit: str, arcs: str, side: str) -> None:
    job = make_job(
        "0201",
        "400x300x200",
        "BC",
        options={"slot_end": "round", "hand_holes": "B", "vents": "L"},
        output=Output(formats=("dxf",), dxf=dxf, unit=unit, arcs=arcs, side=side, notes=True),
    )
    assert write(run(job), tmp_path)


def test_a_failed_proof_makes_no_text_and_no_file(tmp_path: Path) -> None:
    result = run(make_job("0203", "300x200x150", "C", options={"inner_flaps": "equal"}))
    with pytest.raises(ProofError, match="the folded proof – bottom flap 2 runs into bottom flap 4"):
        write(result, tmp_path / "o")
    assert not (tmp_path / "o").exists()


@pytest.mark.parametrize("kind", ["dxf", "svg", "cut-svg"])
def test_a_fault_of_the_writer_is_caught_by_the_read_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    result = run(make_job("0201", "300x200x150", "C", output=Output(formats=(kind,))))
    honest = files._Maker.piece

    def faulty(self: Any, number: int, kind: str) -> str:
        text = honest(self, number, kind)
        if kind == "dxf":
            return text.replace("\n102\n", "\n102.03\n", 2)
        at = text.index('class="tool"')
        moved = re.sub(r' d="M(\S+) ', lambda d: f' d="M{float(d[1]) + 0.03:.4f} ', text[at:], count=1)
        return text[:at] + moved

    monkeypatch.setattr(files._Maker, "piece", faulty)
    with pytest.raises(ProofError, match="the written proof"):
        write(result, tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("holes", ["none", "B"])
@pytest.mark.parametrize(("kind", "old", "new"), [("dxf", "  8\nDL_FOLD\n", "  8\nDL_THRU\n"), ("dxf", "LINE", "TEXT")])
def test_a_stroke_on_a_wrong_layer_or_lost_is_caught(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, holes: str, kind: str, old: str, new: str
) -> None:
    """Where the flat proof has measured the strokes (no holes), and where the file is measured by itself."""
    result = run(make_job("0201", "300x200x150", "C", options={"hand_holes": holes}, output=Output(formats=(kind,))))
    assert result.flat[0].measured is (holes == "none")
    honest = files._Maker.piece

    def faulty(self: Any, number: int, kind: str) -> str:
        head, entities = honest(self, number, kind).split("ENTITIES", 1)
        return f"{head}ENTITIES{entities.replace(old, new, 1)}"

    monkeypatch.setattr(files._Maker, "piece", faulty)
    with pytest.raises(ProofError, match="the written proof"):
        write(result, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_files_may_be_found_right_in_another_folder(tmp_path: Path) -> None:
    names = [path.name for path in write(_result(), tmp_path / "o", aside=tmp_path / "aside")]
    assert sorted(names) == sorted(path.name for path in (tmp_path / "o").iterdir())
    assert list((tmp_path / "aside").iterdir()) == []


@pytest.mark.parametrize("step", ["open", "replace"])
def test_a_full_disk_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    place: Any = files if step == "open" else os
    honest: Any = open if step == "open" else os.replace
    calls = 0

    def full(*args: Any, **more: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == 2:
            raise OSError(errno.ENOSPC, "No space left on device")
        return honest(*args, **more)

    monkeypatch.setattr(place, step, full, raising=False)
    with pytest.raises(OutputError, match="No space left on device"):
        write(_result(), tmp_path)
    monkeypatch.undo()
    assert not [path for path in tmp_path.iterdir() if path.name.endswith(".part")]
    if step == "open":
        assert list(tmp_path.iterdir()) == []


def test_a_stop_in_the_middle_leaves_no_part(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: Any) -> Any:
        raise KeyboardInterrupt

    monkeypatch.setattr(files._Reader, "faults", stopped)
    with pytest.raises(KeyboardInterrupt):
        write(_result(), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_places_that_cannot_be_written_are_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(OutputError, match="is a file"):
        write(_result(), tmp_path / "file")
    with pytest.raises(OutputError):
        write(_result(), tmp_path / "file" / "deeper")
    with pytest.raises(OutputError):
        write(_result(), Path("/proc/nowhere"))


def test_the_job_can_be_left_out() -> None:
    with_job, without = (file_texts(_result(carry_job=carry)) for carry in (True, False))
    for name, text in with_job.items():
        assert "120x80x60" in text
        assert "lap_width" not in without[name]
    assert "dieline job" in with_job["0201-120x80x60-E.dxf"]
    assert "dieline job" not in without["0201-120x80x60-E.dxf"]


def test_a_result_is_written_by_its_job_s_name(tmp_path: Path) -> None:
    result = _result()
    job: Job = replace(result.job, name="tea pot / lid")
    assert [path.name for path in write(replace(result, job=job), tmp_path)] == ["tea-pot-lid.dxf", "tea-pot-lid.svg"]
