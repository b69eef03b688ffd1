"""``dieline preview`` as a process: its address, its ends, its one file; and a server that outlives what befalls it."""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.request
from pathlib import Path
from typing import Any

import pytest
from preview_site import CASE, Serve, Site

from dieline.web.watched import Watched

COMMAND = [sys.executable, "-m", "dieline", "preview"]


def started(*words: str) -> tuple[subprocess.Popen[str], str]:
    process = subprocess.Popen(
        [*COMMAND, *words, "--no-open"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    return process, process.stdout.readline().strip()


def ended(process: subprocess.Popen[str]) -> str:
    """Ended by Ctrl-C; what was written to stderr."""
    process.send_signal(signal.SIGINT)
    _, told = process.communicate(timeout=20)
    return told


@pytest.mark.usefixtures("built")
def test_it_prints_its_address_and_ctrl_c_ends_it_cleanly() -> None:
    process, address = started("0201", "300x200x150", "--board", "C", "--port", "0")
    with urllib.request.urlopen(address, timeout=10) as page:
        assert page.status == 200
        assert b"<title>" in page.read()
    told = ended(process)
    assert process.returncode in (0, 130)
    assert "Traceback" not in told


@pytest.mark.usefixtures("built")
def test_a_taken_port_says_so() -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        done = subprocess.run(
            [*COMMAND, "0201", "300x200x150", "--board", "C", "--no-open", "--port", port],
            capture_output=True,
            text=True,
            timeout=30,
            check=False,
        )
    assert done.returncode == 2
    assert port in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.usefixtures("built")
def test_other_machines_are_let_in_with_a_warning_only() -> None:
    process, address = started("0201", "300x200x150", "--board", "C", "--port", "0", "--host", "0.0.0.0")
    told = ended(process)
    assert address
    assert "warning" in told


@pytest.mark.usefixtures("built")
def test_a_job_that_cannot_be_is_told_before_anything_is_served(tmp_path: Path) -> None:
    done = subprocess.run(
        [*COMMAND, "0201", "300x200x0", "--board", "C", "--no-open", "--port", "0"],
        capture_output=True,
        text=True,
        timeout=30,
        check=False,
    )
    assert done.returncode == 2
    assert "error:" in done.stderr


@pytest.mark.usefixtures("built")
def test_one_file_is_written_whole_and_asks_for_nothing(tmp_path: Path) -> None:
    file = tmp_path / "box.html"
    subprocess.run([*COMMAND, "0427", "300x200x80", "--board", "E", "--html", str(file)], check=True, timeout=60)
    text = file.read_text(encoding="utf-8")
    assert "Content-Security-Policy" in text
    assert not re.findall(r"""(?:src|href)=["'](?!data:)[^"']*""", text.split("<script", 1)[0])
    assert list(tmp_path.iterdir()) == [file]


def test_fifty_pages_at_once_are_all_answered(serve: Serve) -> None:
    """Each is drawn or told to wait; none hangs, none breaks the server."""
    with serve(Watched(job=CASE)) as site:
        answers: list[int] = []

        def ask(number: int) -> None:
            answers.append(site.ask("/api/draw", {**CASE, "size": f"{300 + number}x200x150"}).status)

        guests = [threading.Thread(target=ask, args=(number,)) for number in range(50)]
        for guest in guests:
            guest.start()
        for guest in guests:
            guest.join(60)
        assert len(answers) == 50
        assert set(answers) <= {200, 503}
        assert answers.count(200) >= 10
        assert site.ask("/api/draw", CASE).status == 200


def test_a_worker_that_is_killed_is_replaced(serve: Serve) -> None:
    """A style in C code may end the process that draws it; the server lives, and the next box is drawn."""
    with serve(Watched(job=CASE)) as site:
        assert site.ask("/api/draw", CASE).status == 200
        for child in children(os.getpid()):
            os.kill(child, signal.SIGKILL)
        time.sleep(0.2)
        statuses = [site.ask("/api/draw", {**CASE, "size": f"{310 + i}x200x150"}).status for i in range(4)]
        assert set(statuses) <= {200, 500, 503}
        assert statuses[-1] == 200


def children(parent: int) -> list[int]:
    """Processes that a process started: its workers."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text(encoding="utf-8").rsplit(")", 1)[1].split()
        except OSError:
            continue
        if int(fields[1]) == parent and "python" in (stat.parent / "cmdline").read_text(
            encoding="utf-8", errors="replace"
        ):
            found.append(int(stat.parent.name))
    return found


def test_a_job_file_that_is_edited_into_nonsense_is_told_and_mended(serve: Serve, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text('style = "0201"\nsize = "300x200x150"\nboard = "C"\n', encoding="utf-8")
    with serve(Watched(path=job)) as site:
        first = site.ask("/api/watched").data()
        assert first["watching"]
        assert first["job"]["size"] == "300x200x150"
        job.write_text('style = "0201"\nsize = "300x\nboard = "C"\n', encoding="utf-8")
        wrong = told(site, first["seen"])
        assert "error" in wrong
        job.write_text('style = "0201"\nsize = "320x200x150"\nboard = "C"\n', encoding="utf-8")
        assert told(site, wrong["seen"])["job"]["size"] == "320x200x150"


def told(site: Site, seen: str) -> Any:
    """What is said of the job file once its state is another than the one seen."""
    for _ in range(100):
        data = site.ask(f"/api/watched?seen={seen}").data()
        if data["seen"] != seen:
            return data
        time.sleep(0.05)
    raise AssertionError(f"the change was not seen: {json.dumps(data)[:200]}")
