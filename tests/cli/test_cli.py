"""The command line as a user meets it: files, reports, exit codes, and a clear word for every slip."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]


def dieline(*words: str, cwd: Path, check: int = 0, **more: Any) -> subprocess.CompletedProcess[str]:
    """Run the command; its exit code must be ``check`` and it never shows a traceback."""
    done = subprocess.run(
        [sys.executable, "-m", "dieline", *words], cwd=cwd, capture_output=True, text=True, timeout=120, **more
    )
    assert "Traceback" not in done.stderr, done.stderr
    assert done.returncode == check, (done.returncode, done.stdout, done.stderr)
    return done


def report(*words: str, cwd: Path, check: int = 0) -> Any:
    done = dieline(*words, "--report", "json", cwd=cwd, check=check)
    return json.loads(done.stdout)


def test_a_broken_drawing_is_told_with_its_name(tmp_path: Path) -> None:
    dieline("draw", "0201", "300x200x150", "--board", "C", "--name", "whole", cwd=tmp_path)
    text = (tmp_path / "whole.svg").read_text(encoding="utf-8")
    (tmp_path / "half.svg").write_text(text[: len(text) // 2], encoding="utf-8")
    assert "error: half.svg (line " in dieline("draw", "half.svg", cwd=tmp_path, check=2).stderr


def test_two_jobs_of_one_run_never_take_each_others_place(tmp_path: Path) -> None:
    """Without a name of their own, two jobs that differ in an option only would be one file."""
    for name, width in (("a", 30), ("b", 40)):
        text = f'style="0201"\nsize="300x200x150"\nboard="C"\n[options]\nlap_width={width}\n'
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    done = dieline("draw", "a.toml", "b.toml", "--out", "o", cwd=tmp_path, check=2)
    assert "b.toml – would be written as 0201-300x200x150-C, as a.toml is" in done.stderr
    assert 'lap_width\\":30' in (tmp_path / "o" / "0201-300x200x150-C.dxf").read_text(encoding="utf-8")
    (tmp_path / "b.toml").write_text('name="b"\n' + text, encoding="utf-8")
    dieline("draw", "a.toml", "b.toml", "--out", "o", cwd=tmp_path)
    assert len(list((tmp_path / "o").iterdir())) == 4


def test_a_draw_writes_both_files_and_reports_the_folded_inside(tmp_path: Path) -> None:
    data = report("draw", "0201", "300x200x150", "--board", "C", "--out", "o", cwd=tmp_path)
    assert data["fold"]["inside"] == {"L": 300, "B": 200, "H": 150}
    assert data["inside"] == {"L": 300, "B": 200, "H": 150}
    assert data["board"] == {"name": "C", "wall": "single", "calliper": 4.0, "design_thickness": 4.0}
    assert (data["fold"]["clashes"], data["fold"]["open_faces"], data["ok"]) == ([], [], True)
    (piece,) = data["pieces"]
    assert piece["blank"] == {"width": 1049, "height": 362, "area": pytest.approx(0.367467, abs=1e-6)}
    assert {panel["name"] for panel in piece["panels"]} >= {"panel 1", "lap", "top flap 4"}
    assert {"name": "panel 2 width", "value": 204, "derivation": "B 200 + (0+0+1) × t 4"} in data["sizes"]
    assert sorted(path.name for path in (tmp_path / "o").iterdir()) == [
        "0201-300x200x150-C.dxf",
        "0201-300x200x150-C.svg",
    ]
    assert [Path(name).name for name in data["files"]] == ["0201-300x200x150-C.dxf", "0201-300x200x150-C.svg"]
    assert all({"check", "severity", "place", "message"} <= set(finding) for finding in data["findings"])


def test_piped_it_prints_the_files_and_nothing_else(tmp_path: Path) -> None:
    done = dieline("draw", "0201", "300x200x150", "-b", "C", cwd=tmp_path)
    assert done.stdout.split() == ["0201-300x200x150-C.dxf", "0201-300x200x150-C.svg"]


def test_the_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    words = [
        "draw",
        "0202",
        "300x200x150/60",
        "-b",
        "BC",
        "-s",
        "hand_holes=B",
        "-f",
        "dxf",
        "-f",
        "svg",
        "-f",
        "cut-svg",
        "-f",
        "folded-svg",
    ]
    for name in ("a", "b"):
        dieline(*words, "-o", name, cwd=tmp_path)
    first, second = ({path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("a", "b"))
    assert len(first) == 4
    assert first == second


@pytest.mark.parametrize("suffix", ["svg", "dxf"])
def test_a_drawing_carries_its_job_and_is_redrawn_changed(tmp_path: Path, suffix: str) -> None:
    house = ROOT / "samples" / "quillby-house.toml"
    dieline("draw", "0201", "300x200x150", "-b", "C", "--house", str(house), "-s", "lap_on=B", "-o", "a", cwd=tmp_path)
    carried = tmp_path / "a" / f"0201-300x200x150-C.{suffix}"
    (moved := tmp_path / f"elsewhere.{suffix}").write_bytes(carried.read_bytes())
    carried.unlink()
    data = report("draw", moved.name, "--set", "lap_width=31.75", "-o", "b", cwd=tmp_path)
    assert data["options"]["lap_width"] == 31.75
    assert data["options"]["lap_on"] == "B"
    wider = next(size for size in data["sizes"] if size["name"] == "lap width")
    assert wider["value"] == 31.75


def test_a_drawing_without_its_job_cannot_be_redrawn_and_says_so(tmp_path: Path) -> None:
    dieline("draw", "0201", "300x200x150", "-b", "C", "--no-job", cwd=tmp_path)
    for suffix in ("svg", "dxf"):
        done = dieline("draw", f"0201-300x200x150-C.{suffix}", cwd=tmp_path, check=2)
        assert "carries no job" in done.stderr


@pytest.mark.parametrize(
    ("given", "inside"),
    [("inside", (300, 200, 150)), ("crease", (296, 196, 142)), ("outside", (292, 192, 134))],
)
def test_sizes_may_be_given_inside_crease_or_outside(tmp_path: Path, given: str, inside: tuple[int, ...]) -> None:
    data = report("draw", "0201", "300x200x150", "-b", "C", "--size-is", given, cwd=tmp_path)
    assert tuple(data["fold"]["inside"].values()) == inside
    assert tuple(data[given].values()) == (300, 200, 150)


@pytest.mark.parametrize("path", sorted((ROOT / "samples").glob("*.toml")), ids=lambda path: path.stem)
def test_every_sample_is_drawn(tmp_path: Path, path: Path) -> None:
    if path.name.startswith("quillby-"):
        return
    data = report("draw", str(path), "-o", "o", cwd=tmp_path)
    assert data["ok"]
    assert data["files"]


WRONG: list[tuple[list[str], str]] = [
    (["draw"], "Missing argument"),
    (["draw", "0201"], "it must be a style and a size"),
    (["draw", "0201", "300x200x150"], "a job must name its board"),
    (["draw", "0299", "300x200x150", "-b", "C"], "did you mean"),
    (["draw", "0201", "300x200x150", "-b", "Q"], "list them with: dieline boards"),
    (["draw", "0201", "0x200x150", "-b", "C"], "more than 0"),
    (["draw", "0201", "-5x200x150", "-b", "C"], "it must be more than 0"),
    (["draw", "0201", "nanx200x150", "-b", "C"], "is not a size"),
    (["draw", "0201", "1e9x200x150", "-b", "C"], "check the unit"),
    (["draw", "0201", "200x300x150", "-b", "C"], "write 300x200x150"),
    (["draw", "0201", "20x4x20", "-b", "AAA"], "at least"),
    (["draw", "0201", "300x200x150/40", "-b", "C"], "has no fourth size"),
    (["draw", "0201", "300x200x1/2 in", "-b", "C"], "a fraction is written with its whole number"),
    (["draw", "0201", "300x200x40", "-b", "C", "-s", "hand_holes=B"], "hand_hole_height – 38 mm (the default)"),
    (["draw", "0201", "300x200x150", "-b", "C", "-s", "lap_width=1000"], "it must be 9 to 199 mm"),
    (["draw", "0201", "300x200x150", "-b", "C", "-s", "lap_widht=30"], "did you mean lap_width"),
    (["draw", "0201", "300x200x150", "-b", "C", "-s", "lap_width"], "it must be name=value"),
    (["draw", "0201", "300x200x150", "-b", "C", "--fold", "roof=crease"], "roof"),
    (["draw", "0201", "300x200x150", "-b", "C", "--fold", "lap=glued"], "it must be one of"),
    (["draw", "0201", "300x200x150", "-b", "C", "-f", "pdf"], "output.formats – 'pdf' is not known"),
    (["draw", "0201", "300x200x150", "-b", "C", "--dxf", "R9"], "it must be one of R2010, R12"),
    (["draw", "0201", "300x200x150", "-b", "C", "--report", "xml"], "it must be json"),
    (["draw", "0201", "300x200x150", "-b", "C", "--house", "none.toml"], "No such file"),
    (["draw", "0201", "300x200x150", "-b", "C", "--mass", "heavy"], "not a mass"),
    (["draw", "none.toml"], "No such file"),
    (["draw", "none.svg"], "No such file"),
    (["draw", "a.toml", "b.toml", "c.txt"], "several targets"),
    (["styles", "0299"], "did you mean"),
    (["boards", "--boards", "none.toml"], "No such file"),
    (["nothing"], "o such command"),
]


@pytest.mark.parametrize(("words", "part"), WRONG, ids=lambda value: " ".join(value) if isinstance(value, list) else "")
def test_wrong_use_is_told_clearly_and_writes_nothing(tmp_path: Path, words: list[str], part: str) -> None:
    done = dieline(*words, cwd=tmp_path, check=2)
    assert part in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_errors_are_json_too_where_json_is_asked_for(tmp_path: Path) -> None:
    data = report("draw", "0201", "200x300x150", "--board", "C", cwd=tmp_path, check=2)
    assert data["ok"] is False
    assert data["errors"][0]["where"] == "size"
    assert "300x200x150" in data["errors"][0]["cure"]


def test_a_failed_proof_writes_nothing_and_leaves_with_one(tmp_path: Path) -> None:
    words = ["draw", "0203", "300x200x150", "-b", "C", "-s", "inner_flaps=equal", "-o", "o"]
    done = dieline(*words, cwd=tmp_path, check=1)
    assert "bottom flap 2 runs into bottom flap 4 by" in done.stderr
    assert "nothing was written" in done.stderr
    assert not (tmp_path / "o").exists()
    data = report(*words, cwd=tmp_path, check=1)
    assert data["fold"]["clashes"]
    assert data["files"] == []


def test_a_finding_of_error_level_leaves_with_one_but_the_drawing_is_written(tmp_path: Path) -> None:
    machine = tmp_path / "m.toml"
    machine.write_text("[limits]\nblank_length=[300, 800]\n", encoding="utf-8")
    data = report("draw", "0201", "300x200x150", "-b", "C", "--machine", "m.toml", "-o", "o", cwd=tmp_path, check=1)
    assert [finding["check"] for finding in data["findings"] if finding["severity"] == "error"]
    assert len(data["files"]) == 2


def test_an_output_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "o").write_text("", encoding="utf-8")
    done = dieline("draw", "0201", "300x200x150", "-b", "C", "-o", "o", cwd=tmp_path, check=2)
    assert "is a file" in done.stderr


def _full_disk(tmp_path: Path) -> Path | None:
    """A file system of a few kilobytes, where this machine lets one be made."""
    folder = tmp_path / "disk"
    folder.mkdir()
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=8k", "tmpfs", str(folder)], capture_output=True)
    return folder if made.returncode == 0 else None


def test_a_full_disk_leaves_no_half_file(tmp_path: Path) -> None:
    folder = _full_disk(tmp_path)
    if folder is None:
        pytest.skip("no file system can be made here; the same path is tested in tests/test_files.py")
    try:
        done = dieline("draw", "0201", "300x200x150", "-b", "C", "-o", str(folder), cwd=tmp_path, check=2)
        assert "No space left" in done.stderr
        assert list(folder.iterdir()) == []
    finally:
        subprocess.run(["umount", str(folder)], check=False)


def test_ctrl_c_leaves_no_half_file_and_no_traceback(tmp_path: Path) -> None:
    """Stopped at any moment of many draws: what is there is whole, and no part file stays."""
    jobs = []
    for number in range(60):
        job = tmp_path / f"j{number}.toml"
        job.write_text(f'style="0201"\nsize="{300 + number}x200x150"\nboard="C"\n', encoding="utf-8")
        jobs.append(job.name)
    process = subprocess.Popen(
        [sys.executable, "-m", "dieline", "draw", *jobs, "-o", "o"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    folder = tmp_path / "o"
    for _ in range(600):
        if folder.exists() and len(list(folder.iterdir())) > 6:
            break
        time.sleep(0.01)
    process.send_signal(signal.SIGINT)
    _, stderr = process.communicate(timeout=30)
    assert "Traceback" not in stderr
    assert process.returncode in (130, 0)
    names = [path.name for path in folder.iterdir()]
    assert not [name for name in names if name.endswith(".part")]
    assert all((folder / name).stat().st_size > 1000 for name in names)


def test_a_reader_that_goes_away_is_no_error(tmp_path: Path) -> None:
    done = subprocess.run(
        f"{sys.executable} -m dieline schema | head -1", shell=True, cwd=tmp_path, capture_output=True, text=True
    )
    assert "Traceback" not in done.stderr


def test_styles_boards_and_checks_are_listed(tmp_path: Path) -> None:
    assert "0201\tslotted\tregular slotted case" in dieline("styles", cwd=tmp_path).stdout
    assert dieline("boards", cwd=tmp_path).stdout.startswith("A\tsingle\tA\t5\t5\t")
    assert dieline("checks", cwd=tmp_path).stdout
    one = dieline("styles", "0201/0204", cwd=tmp_path).stdout
    assert "slotted case, bottom 0201, top 0204" in one
    assert "lap_width\t35\t9 to 199 mm" in one
    assert "⣿" in one or "⡇" in one or "⢸" in one
    for words in (["styles"], ["styles", "0201"], ["boards"], ["checks"]):
        assert report(*words, cwd=tmp_path)


def test_a_style_s_example_is_written_as_svg(tmp_path: Path) -> None:
    dieline("styles", "0204", "--svg", "x.svg", cwd=tmp_path)
    assert (tmp_path / "x.svg").read_text(encoding="utf-8").startswith("<?xml")
    done = dieline("styles", "0204", "--svg", "none/x.svg", cwd=tmp_path, check=2)
    assert "none/x.svg" in done.stderr


def test_the_schema_takes_the_samples_and_refuses_slips(tmp_path: Path) -> None:
    import tomllib

    import jsonschema

    schema = json.loads(dieline("schema", cwd=tmp_path).stdout)
    validator = jsonschema.Draft202012Validator(schema)
    validator.check_schema(schema)
    for path in (ROOT / "samples").glob("*.toml"):
        if not path.name.startswith("quillby-"):
            validator.validate(tomllib.loads(path.read_text(encoding="utf-8")))
    for slip in ({"lap_widht": 3}, {"joint": "nailed"}, {"tear_strip": "maybe"}):
        job = {"style": "0201", "size": "300x200x150", "board": "C", "options": slip}
        assert not validator.is_valid(job)


def test_the_version_is_told(tmp_path: Path) -> None:
    assert dieline("--version", cwd=tmp_path).stdout.startswith("dieline 0.")


def test_a_broken_style_plug_in_is_listed_and_harms_nothing(tmp_path: Path) -> None:
    """A stranger's package whose module does not import: listed with its reason, everything else works."""
    info = tmp_path / "site" / "stranger-1.0.dist-info"
    info.mkdir(parents=True)
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: stranger\nVersion: 1.0\n", encoding="utf-8")
    (info / "entry_points.txt").write_text("[dieline.styles]\nodd-box = stranger_styles:BOX\n", encoding="utf-8")
    (tmp_path / "site" / "stranger_styles.py").write_text("raise OSError('no licence file')\n", encoding="utf-8")
    env = {**os.environ, "PYTHONPATH": str(tmp_path / "site")}
    listed = dieline("styles", cwd=tmp_path, env=env).stdout
    assert "odd-box\tbroken\tcannot be loaded: OSError: no licence file" in listed
    dieline("draw", "0201", "300x200x150", "-b", "C", cwd=tmp_path, env=env)
    done = dieline("draw", "odd-box", "300x200x150", "-b", "C", cwd=tmp_path, env=env, check=2)
    assert "no licence file" in done.stderr
