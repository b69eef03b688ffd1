"""Styles that are broken, hang, die or chatter: each is answered, and the next box is drawn."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest
from preview_site import CASE, Serve

import dieline.web.bench as bench_module
from dieline.web.bench import Bench
from dieline.web.errors import RefusalError
from dieline.web.watched import Watched

STRANGER = """
import os, sys, time
from dataclasses import replace
from dieline_styles.folder import STYLES

def kettle(code, build):
    return replace(STYLES["0401"], code=code, build=build)

def hang(order):
    while True:
        time.sleep(0.01)

def die(order):
    os._exit(3)

def leave(order):
    sys.exit("enough")

def fail(order):
    raise KeyError("spout")

def dig(order):
    return dig(order)

def hoard(order):
    return bytearray(1 << 40)

def chatter(order):
    print("200 7\\nkettle!")
    sys.stdout.flush()
    return STYLES["0401"].build(order)

def nothing(order):
    return None

KETTLES = {f"kettle-{build.__name__}": kettle(f"kettle-{build.__name__}", build)
           for build in (hang, die, leave, fail, dig, hoard, chatter, nothing)}
"""
NAMES = ("hang", "die", "leave", "fail", "dig", "hoard", "chatter", "nothing")


@pytest.fixture
def strangers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A package of styles by somebody else, installed; one of its modules cannot even be imported."""
    (tmp_path / "kettle_styles.py").write_text(STRANGER, encoding="utf-8")
    (tmp_path / "kettle_broken.py").write_text("import a_kettle_that_there_is_not", encoding="utf-8")
    notes = tmp_path / "kettle_styles-1.0.dist-info"
    notes.mkdir()
    (notes / "METADATA").write_text("Metadata-Version: 2.1\nName: kettle-styles\nVersion: 1.0\n", encoding="utf-8")
    entries = [f"kettle-{name} = kettle_styles:KETTLES" for name in NAMES]
    entries.append("kettle-broken = kettle_broken:KETTLE")
    (notes / "entry_points.txt").write_text("[dieline.styles]\n" + "\n".join(entries) + "\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))


def asked(questions: Callable[[Bench], Awaitable[Any]], *, workers: int = 1, seconds: float = 20.0) -> Any:
    """What comes of questions to workers that are started for them and ended after them."""

    async def asking() -> Any:
        bench = Bench(workers=workers, seconds=seconds)
        await bench.open()
        try:
            return await questions(bench)
        finally:
            await bench.close()

    return asyncio.run(asking())


async def _then_the_next(bench: Bench, code: str) -> tuple[int, Any, int]:
    """Status and answer of a stranger's style, and the status of a plain box drawn after it."""
    try:
        status, body = await bench.ask("draw", CASE | {"style": code})
    except RefusalError as refusal:
        status, body = refusal.status, refusal.body()
    after, _ = await bench.ask("draw", CASE)
    return status, json.loads(body), after


@pytest.mark.usefixtures("strangers")
@pytest.mark.parametrize(
    ("name", "status", "kind", "told"),
    [
        ("broken", 422, "style", "cannot be loaded: ModuleNotFoundError"),
        ("die", 500, "style", "ended the process"),
        ("leave", 422, "style", "SystemExit: enough"),
        ("fail", 422, "style", "spout"),
        ("dig", 422, "input", "nested too deeply"),
        ("hoard", 422, "time", "needs more memory"),
        ("nothing", 422, "style", "kettle-nothing"),
    ],
)
def test_a_style_at_fault_is_told_and_the_next_box_is_drawn(name: str, status: int, kind: str, told: str) -> None:
    got, data, after = asked(lambda bench: _then_the_next(bench, f"kettle-{name}"))
    assert (got, data["error"]["kind"], after) == (status, kind, 200), data
    text = " ".join(problem["text"] for problem in data["error"]["problems"])
    assert told in text
    assert "Traceback" not in text
    assert ".py" not in text


@pytest.mark.usefixtures("strangers")
def test_what_a_style_prints_does_not_come_between_the_answers() -> None:
    status, data, after = asked(lambda bench: _then_the_next(bench, "kettle-chatter"))
    assert (status, after) == (200, 200)
    assert data["report"]["inside"] == {"L": 300, "B": 200, "H": 150}


@pytest.mark.usefixtures("strangers")
def test_a_style_that_hangs_is_ended_when_its_time_is_over() -> None:
    async def questions(bench: Bench) -> tuple[int, Any, int]:
        await bench.ask("draw", CASE)  # the worker has loaded all: what follows is the style's own time
        bench.seconds = 1.0
        try:
            await bench.ask("draw", CASE | {"style": "kettle-hang"})
        except RefusalError as refusal:
            bench.seconds = 20.0
            after, _ = await bench.ask("draw", CASE)
            return refusal.status, refusal.data(), after
        raise AssertionError("it came to an end")

    status, data, after = asked(questions)
    assert (status, data["kind"], after) == (504, "time", 200)
    assert "it takes more than 1 s" in data["problems"][0]["text"]


@pytest.mark.usefixtures("strangers")
def test_a_broken_style_is_listed_with_its_reason(serve: Serve) -> None:
    with serve(Watched(job=CASE)) as site:
        catalogue = site.ask("/api/catalogue").data()
        (broken,) = catalogue["broken"]
        assert broken["code"] == "kettle-broken"
        assert "a_kettle_that_there_is_not" in broken["reason"]
        answer = site.draw(style="kettle-broken")
        assert (answer.status, answer.data()["error"]["kind"]) == (422, "style")
        answer.problems()
        assert site.draw().status == 200


def test_more_than_can_wait_are_sent_away_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bench_module, "MOST_WAITING", 3)

    async def questions(bench: Bench) -> list[Any]:
        return await asyncio.gather(*(bench.ask("draw", CASE) for _ in range(30)), return_exceptions=True)

    answers = asked(questions)
    refused = [answer for answer in answers if isinstance(answer, RefusalError)]
    drawn = [answer for answer in answers if isinstance(answer, tuple)]
    assert len(refused) + len(drawn) == 30
    assert all((refusal.status, refusal.kind) == (503, "busy") for refusal in refused)
    assert refused
    assert len(drawn) >= 3
    assert {status for status, _ in drawn} == {200}


def test_a_worker_that_ended_while_it_had_nothing_to_do_is_no_fault_of_the_next_order() -> None:
    async def questions(bench: Bench) -> int:
        await bench.ask("draw", CASE)
        (worker,) = bench._all
        worker.kill()
        await worker.wait()
        status, _ = await bench.ask("draw", CASE)
        return status

    assert asked(questions) == 200


def test_no_worker_is_left_behind() -> None:
    async def questions(bench: Bench) -> list[Any]:
        await bench.ask("draw", CASE)
        return list(bench._all)

    workers = asked(questions, workers=2)
    assert workers
    assert all(worker.returncode is not None for worker in workers)
