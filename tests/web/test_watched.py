"""A job file that is watched: each way in which an editor may change it, and the files that it leans on."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from preview_site import Serve, Site

from dieline.web.watched import Watched

JOB = 'style = "0201"\nsize = "300x200x150"\nboard = "quillby"\n[files]\nboards = "our-boards.toml"\n'
BOARD = '[[board]]\nname = "quillby"\nwall = "single"\nflutes = ["C"]\ncalliper = {calliper}\n'


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job file that leans on a board file."""
    (tmp_path / "our-boards.toml").write_text(BOARD.format(calliper=4.1), encoding="utf-8")
    path = tmp_path / "kettle.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def state(site: Site) -> dict[str, Any]:
    data: dict[str, Any] = site.ask("/api/watched").data()
    return data


def test_what_is_unchanged_is_not_sent_again(serve: Serve, job: Path) -> None:
    with serve(Watched(path=job)) as site:
        first = state(site)
        assert (first["name"], first["job"]["style"]) == ("kettle.toml", "0201")
        assert site.ask(f"/api/watched?seen={first['seen']}").data() == {"watching": True, "seen": first["seen"]}


def test_an_editor_that_puts_a_new_file_in_its_place_is_noticed(serve: Serve, job: Path) -> None:
    with serve(Watched(path=job)) as site:
        first = state(site)
        new = job.with_suffix(".new")
        new.write_text(JOB.replace("150", "160"), encoding="utf-8")
        stamp = job.stat()
        os.utime(new, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))  # the same size and the same time
        new.replace(job)
        second = state(site)
        assert second["seen"] != first["seen"]
        assert second["job"]["size"] == "300x200x160"


def test_a_change_of_the_board_file_is_a_change_of_the_job(serve: Serve, job: Path) -> None:
    with serve(Watched(path=job)) as site:
        first = state(site)
        assert "4.1" in first["job"]["files"]["boards"]["text"]
        (job.parent / "our-boards.toml").write_text(BOARD.format(calliper="4.25"), encoding="utf-8")
        second = state(site)
        assert second["seen"] != first["seen"]
        assert "4.25" in second["job"]["files"]["boards"]["text"]


def test_a_board_file_that_is_mended_mends_the_job_from_the_start(serve: Serve, job: Path) -> None:
    """The job could not be read at all when the server started, and the job file itself never changes."""
    boards = job.parent / "our-boards.toml"
    boards.write_text("[[board]]\nname = quillby\n", encoding="utf-8")
    with serve(Watched(path=job)) as site:
        first = state(site)
        assert first["job"] is None
        assert first["error"]["problems"]
        assert site.given()["error"] == first["error"]
        boards.write_text(BOARD.format(calliper=4.1), encoding="utf-8")
        second = state(site)
        assert second["seen"] != first["seen"]
        assert second["job"]["board"] == "quillby"
        assert "error" not in second


@pytest.mark.parametrize(
    "text",
    ["", "kettle", 'style = "0201"', JOB.replace("0201", "0210"), JOB.replace("300", "-300"), "\x00", "[[["],
    ids=["empty", "a word", "half a job", "no such style", "less than nothing", "no text", "no table"],
)
def test_nonsense_is_told_with_no_folder_of_this_machine(serve: Serve, job: Path, text: str) -> None:
    with serve(Watched(path=job)) as site:
        assert state(site)["job"]
        job.write_text(text, encoding="utf-8")
        wrong = state(site)
        assert wrong["job"] is None
        assert set(wrong["error"]) == {"status", "kind", "problems"}
        assert wrong["error"]["problems"]
        assert str(job.parent) not in json.dumps(wrong)
        job.write_text(JOB, encoding="utf-8")
        assert state(site)["job"]["size"] == "300x200x150"


def test_problems_have_their_line(serve: Serve, job: Path) -> None:
    job.write_text(JOB.replace("0201", "0210").replace("300x", "0x"), encoding="utf-8")
    with serve(Watched(path=job)) as site:
        assert [problem["line"] for problem in state(site)["error"]["problems"]] == [1, 2]


def test_a_file_that_is_gone_is_told_and_comes_back(serve: Serve, job: Path) -> None:
    with serve(Watched(path=job)) as site:
        first = state(site)
        job.unlink()
        assert state(site)["error"]
        job.write_text(JOB, encoding="utf-8")
        assert state(site)["job"] == first["job"]
