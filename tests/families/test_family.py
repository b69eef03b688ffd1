"""A family is drawn whole, whatever stops it in between, and nothing is lost or doubled."""

from __future__ import annotations

import csv
import json
import os
import random
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path
from typing import Any

import pytest

from dieline import files
from dieline.errors import OutputError
from dieline.families import family
from dieline.families.store import JOURNAL

BASE = {"style": "0201", "board": "E"}


def _table(tmp_path: Path, count: int = 12, name: str = "t.csv") -> Path:
    rows = "".join(f"{200 + 2 * i},150,100,shop {i}\n" for i in range(count))
    path = tmp_path / name
    path.write_text(f"length,breadth,height,shop\n{rows}", encoding="utf-8")
    return path


def _tree(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_every_row_becomes_its_files_and_a_row_of_the_summary(tmp_path: Path) -> None:
    result = family(_table(tmp_path), tmp_path / "o", base=BASE, workers=1, summaries=("csv", "html", "xlsx"))
    assert (result.drawn, result.kept, result.ok) == (12, 0, True)
    files = _tree(tmp_path / "o")
    assert sum(name.endswith(".dxf") for name in files) == sum(name.endswith(".svg") for name in files) == 12
    with (tmp_path / "o/summary.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["shop"] for row in rows] == [f"shop {i}" for i in range(12)]
    assert rows[0]["inside L"] == "200.0"
    assert rows[0]["outside H"] == "106.0"
    assert {row["width shared by"] for row in rows} == {"12"}
    page = files["summary.html"].decode()
    assert page.count("<tr>") == 13
    assert "http" not in page
    assert "failed.csv" not in files


def test_two_workers_give_the_same_bytes_as_one(tmp_path: Path) -> None:
    for workers in (1, 2):
        family(
            _table(tmp_path, 20),
            tmp_path / str(workers),
            base=BASE,
            workers=workers,
            pack=True,
            summaries=("csv", "xlsx"),
        )
    assert _tree(tmp_path / "1") == _tree(tmp_path / "2")
    with zipfile.ZipFile(tmp_path / "1/drawings.zip") as pack:
        assert len(pack.namelist()) == 40
        assert pack.testzip() is None


def test_a_second_run_draws_nothing_and_changes_nothing(tmp_path: Path) -> None:
    table = _table(tmp_path)
    family(table, tmp_path / "o", base=BASE, workers=1)
    before = _tree(tmp_path / "o")
    again = family(table, tmp_path / "o", base=BASE, workers=1)
    assert (again.drawn, again.kept) == (0, 12)
    assert _tree(tmp_path / "o") == before


def test_changed_rows_are_redrawn_and_removed_ones_reported(tmp_path: Path) -> None:
    table = _table(tmp_path)
    family(table, tmp_path / "o", base=BASE, workers=1)
    lines = table.read_text(encoding="utf-8").splitlines()
    lines[3] = lines[3].replace("shop 2", "shop two")
    table.write_text("\n".join(lines[:-1]) + "\n", encoding="utf-8")
    again = family(table, tmp_path / "o", base=BASE, workers=1)
    assert (again.drawn, again.kept) == (1, 10)
    assert again.removed == ("0201-222x150x100-E",)
    lost = tmp_path / "o/0201-200x150x100-E.dxf"
    lost.unlink()
    assert family(table, tmp_path / "o", base=BASE, workers=1).drawn == 1
    assert lost.exists()


def test_bad_rows_go_to_failed_csv_ready_to_mend(tmp_path: Path) -> None:
    table = tmp_path / "t.csv"
    table.write_text(
        "length,breadth,height,shop\n300,200,150,a\n200,300,150,b\nwide,200,150,c\n300..320 step 20,9,150,d\n",
        encoding="utf-8",
    )
    result = family(table, tmp_path / "o", base={"style": "0201", "board": "AAA"}, workers=1)
    assert not result.ok
    assert [failure.row for failure in result.failures] == [3, 4, 5, 5] or len(result.failures) >= 2
    with (tmp_path / "o/failed.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows[0]["shop"] == "b"
    assert "L ≥ B" in rows[0]["reason"]
    mended = tmp_path / "o/failed.csv"
    text = (
        mended.read_text(encoding="utf-8").replace("200,300", "300,210").replace("wide", "330").replace(",9,", ",205,")
    )
    (tmp_path / "m.csv").write_text(text, encoding="utf-8")
    assert family(tmp_path / "m.csv", tmp_path / "o2", base={"style": "0201", "board": "AAA"}, workers=1).ok


def test_each_item_may_have_a_folder_of_its_own(tmp_path: Path) -> None:
    family(_table(tmp_path, 3), tmp_path / "o", base=BASE, workers=1, by_item=True)
    assert (tmp_path / "o/0201-200x150x100-E/0201-200x150x100-E.dxf").exists()


def test_groups_of_near_widths_are_named(tmp_path: Path) -> None:
    table = tmp_path / "t.csv"
    table.write_text("length,breadth,height\n300,200,100\n310,200,103\n320,200,130\n", encoding="utf-8")
    family(table, tmp_path / "o", base=BASE, workers=1, near=5.0)
    with (tmp_path / "o/summary.csv").open(encoding="utf-8", newline="") as file:
        assert [row["width group"] for row in csv.DictReader(file)] == ["1", "1", "2"]


def _command(table: Path, out: Path, *more: str) -> list[str]:
    return [sys.executable, "-m", "dieline", "family", str(table), "--style", "0201", "-b", "E", "-o", str(out), *more]


def test_killed_at_any_moment_it_goes_on_to_the_same_bytes(tmp_path: Path) -> None:
    """kill -9, again and again, at random moments; then once to the end: the same as an undisturbed run."""
    table = _table(tmp_path, 60)
    subprocess.run(_command(table, tmp_path / "whole"), check=True, capture_output=True)
    rng = random.Random(3)
    out = tmp_path / "killed"
    for _ in range(7):
        process = subprocess.Popen(
            _command(table, out, "--workers", "2"),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        time.sleep(rng.uniform(0.3, 1.0))
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()
    subprocess.run(_command(table, out), check=True, capture_output=True)
    whole, killed = _tree(tmp_path / "whole"), _tree(out)
    parts = [name for name in killed if name.endswith(".part")]
    assert {name: text for name, text in killed.items() if name not in parts} == whole
    assert parts == []
    assert not list(out.glob(".dieline-work-*"))


def test_a_half_line_of_the_journal_is_no_line(tmp_path: Path) -> None:
    table = _table(tmp_path)
    family(table, tmp_path / "o", base=BASE, workers=1)
    before = _tree(tmp_path / "o")
    journal = tmp_path / "o" / JOURNAL
    journal.write_bytes(journal.read_bytes()[:-30])
    again = family(table, tmp_path / "o", base=BASE, workers=1)
    assert again.drawn == 1
    assert _tree(tmp_path / "o") == before


def test_ctrl_c_stops_within_a_second_and_keeps_what_is_finished(tmp_path: Path) -> None:
    table = _table(tmp_path, 400)
    out = tmp_path / "o"
    process = subprocess.Popen(
        _command(table, out, "--workers", "2"),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    for _ in range(1000):
        if (out / JOURNAL).exists() and (out / JOURNAL).stat().st_size > 2000:
            break
        time.sleep(0.01)
    os.killpg(process.pid, signal.SIGINT)
    start = time.monotonic()
    _, stderr = process.communicate(timeout=20)
    took = time.monotonic() - start
    assert process.returncode in (130, 0)
    assert "Traceback" not in stderr
    assert took < 5.0  # within a second on a quiet machine; this one may be busy
    assert len((out / JOURNAL).read_text(encoding="utf-8").splitlines()) >= 1
    again = subprocess.run(_command(table, out, "--report", "json"), capture_output=True, text=True, check=True)
    report = json.loads(again.stdout)
    assert report["kept"] >= 1
    assert report["kept"] + report["drawn"] == 400


def test_a_full_disk_stops_it_with_the_message(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import errno

    calls = 0

    def full(*args: Any, **more: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls > 9:
            raise OSError(errno.ENOSPC, "No space left on device")
        return open(*args, **more)

    table = _table(tmp_path)
    monkeypatch.setattr(files, "open", full, raising=False)
    with pytest.raises(OutputError, match="No space left on device"):
        family(table, tmp_path / "o", base=BASE, workers=1)
    monkeypatch.undo()
    again = family(table, tmp_path / "o", base=BASE, workers=1)
    assert again.kept >= 1
    assert again.kept + again.drawn == 12


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "o").write_text("", encoding="utf-8")
    with pytest.raises(OutputError):
        family(_table(tmp_path), tmp_path / "o", base=BASE, workers=1)


def test_a_worker_killed_in_mid_run_loses_nothing(tmp_path: Path) -> None:
    """A local cluster of two workers; one is killed while it draws. Nothing lost, nothing doubled, the same bytes."""
    distributed = pytest.importorskip("distributed")
    import threading

    table = _table(tmp_path, 80)
    family(table, tmp_path / "here", base=BASE, workers=2)
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as cluster:
        address = cluster.scheduler_address
        victim = next(iter(cluster.workers.values()))
        pid = victim.pid

        killed = threading.Event()

        def kill() -> None:
            while not list((tmp_path / "there").glob("*.dxf")):
                time.sleep(0.005)
            os.kill(pid, signal.SIGKILL)
            killed.set()

        killer = threading.Thread(target=kill, daemon=True)
        killer.start()
        result = family(table, tmp_path / "there", base=BASE, cluster=address)
        killer.join(10)
    assert killed.is_set()
    assert (result.drawn, result.failures) == (80, ())
    assert _tree(tmp_path / "there") == _tree(tmp_path / "here")


def test_the_template_can_be_drawn(tmp_path: Path) -> None:
    made = subprocess.run(
        [sys.executable, "-m", "dieline", "family", "--template"], capture_output=True, text=True, check=True
    )
    (tmp_path / "t.csv").write_text(made.stdout, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "dieline", "family", "t.csv", "--style", "0201", "--report", "json"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
    )
    assert json.loads(done.stdout)["drawn"] == 7


def test_the_summary_says_whether_each_box_holds_its_stack(tmp_path: Path) -> None:
    """A load in the job file is judged row by row; a board of unknown strength is asked for, not passed over."""
    table = tmp_path / "t.csv"
    table.write_text("length,breadth,height,board\n390,290,240,light\n390,290,240,C\n", encoding="utf-8")
    boards = '[[board]]\nname = "light"\nwall = "single"\nflutes = ["C"]\ncalliper = 4.0\ngrammage = 500\nect = 4.0\n'
    base = {
        "style": "0201",
        "contents": {"mass": "6 kg"},
        "load": {"layers": 4, "days": 30, "humidity": 65, "pattern": "column", "factors": "handbook"},
        "files": {"boards": {"text": boards, "name": "own.toml"}},
    }
    family(table, tmp_path / "o", base=base, workers=1, summaries=("csv",))
    with (tmp_path / "o/summary.csv").open(encoding="utf-8", newline="") as file:
        light, library = csv.DictReader(file)
    assert light["stack"] == "holds"
    assert float(light["stack margin"]) == pytest.approx(
        float(light["stack available N"]) / float(light["stack required N"]), abs=0.01
    )
    assert library["stack"].startswith("asks: board C")
