"""Guests that may not ask, requests that are no requests, and what every answer carries."""

from __future__ import annotations

import asyncio
import contextlib
import json
import socket
from typing import Any

import pytest
from preview_site import CASE, Answer, Serve, Site

import dieline.web.app as app
import dieline.web.wire as wire
from dieline.web.guard import MOST_BYTES, Guard
from dieline.web.server import LOOPBACK
from dieline.web.watched import Watched


def _raw(site: Site, text: bytes) -> Answer:
    """Whatever bytes, sent as they are; the answer until the server hangs up."""
    with socket.create_connection((LOOPBACK, site.port), timeout=20) as line:
        line.sendall(text)
        found = b""
        while chunk := line.recv(65536):
            found += chunk
    head, _, body = found.partition(b"\r\n\r\n")
    status, *rows = head.decode().split("\r\n")
    pairs = (row.partition(": ") for row in rows)
    return Answer(int(status.split()[1]), {key.lower(): value for key, _, value in pairs}, body)


@pytest.mark.parametrize(
    "host",
    [
        "kettle.example",
        "kettle.example:8417",
        "localhost.kettle.example",
        "127.0.0.1.kettle.example",
        "",
        "[",
        "10.0.0.7",
        "@",
    ],
)
def test_a_guest_under_another_name_is_refused(site: Site, host: str) -> None:
    """Another site's name that was turned to this address: its page must not get at the server."""
    for way in ("/", "/page.js", "/api/catalogue", "/nothing"):
        answer = site.ask(way, Host=host)
        assert answer.status == 403
        assert answer.problems()[0]["where"] == f"Host {host!r}"


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:80", "127.0.0.1", "127.0.0.9:1", "[::1]:8417"])
def test_the_server_s_own_names_are_welcome(site: Site, host: str) -> None:
    assert site.ask("/api/watched", Host=host).status == 200


@pytest.mark.parametrize(
    ("header", "value"),
    [
        ("Origin", "http://kettle.example"),
        ("Origin", "null"),
        ("Origin", "http://127.0.0.1:1"),
        ("Origin", "http://["),
        ("Origin", ""),
        ("Sec_Fetch_Site", "cross-site"),
        ("Sec_Fetch_Site", "same-site"),
    ],
)
def test_the_page_of_another_site_may_not_ask(site: Site, header: str, value: str) -> None:
    answer = site.ask("/api/draw", CASE, **{header: value})
    assert answer.status == 403
    assert "only its own page may ask" in answer.problems()[0]["text"]


def test_its_own_page_may_ask(site: Site) -> None:
    host = f"localhost:{site.port}"
    assert site.ask("/api/draw", CASE, Host=host, Origin=f"http://{host}", Sec_Fetch_Site="same-origin").status == 200


@pytest.mark.parametrize("size", [MOST_BYTES + 1, 10_000_000])
def test_a_body_that_is_too_large_is_told_so(site: Site, size: int) -> None:
    answer = site.ask("/api/draw", b" " * size)
    assert answer.status == 413
    assert answer.problems()[0]["must"] == "it must be at most 1000000 bytes"


def test_a_body_that_does_not_say_how_large_it_is_is_not_kept(site: Site) -> None:
    chunk = b"10000\r\n" + b" " * 0x10000 + b"\r\n"
    head = b"POST /api/draw HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
    answer = _raw(site, head + b"Transfer-Encoding: chunked\r\n\r\n" + chunk * 160 + b"0\r\n\r\n")
    assert answer.status == 413
    answer.problems()


def test_a_body_just_within_the_limit_is_read(site: Site) -> None:
    body = json.dumps(CASE).encode()
    assert site.ask("/api/draw", body + b" " * (MOST_BYTES - len(body))).status == 200


@pytest.mark.parametrize(
    "text",
    [
        b"kettle\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: localhost\r\nHost: kettle.example\r\n\r\n",
        b"GET / HTTP/1.1\r\n\r\n",
        b"POST /api/draw HTTP/1.1\r\nHost: localhost\r\nContent-Length: -1\r\n\r\n",
        b"POST /api/draw HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n",
    ],
    ids=["a word", "the start of TLS", "two hosts", "no host", "less than no body", "two lengths"],
)
def test_what_is_no_request_is_answered_in_the_one_error_shape(site: Site, text: bytes) -> None:
    answer = _raw(site, text)
    assert answer.status == 400
    answer.problems()


def test_an_endless_address_is_not_repeated_to_the_guest(site: Site) -> None:
    answer = site.ask("/" + "a" * 50_000)
    assert answer.status == 404
    assert len(answer.body) < 1000
    answer.problems()


def test_a_guest_that_says_nothing_is_not_waited_for(serve: Serve, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(wire, "_FIRST_SECONDS", 0.2)
    with serve(Watched(job=CASE)) as site, socket.create_connection((LOOPBACK, site.port), timeout=10) as line:
        line.sendall(b"GET / HT")
        with contextlib.suppress(ConnectionResetError):
            assert line.recv(1) == b""  # hung up


def test_a_body_that_never_comes_is_not_waited_for(serve: Serve, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(app, "_BODY_SECONDS", 0.2)
    with serve(Watched(job=CASE)) as site:
        head = b"POST /api/draw HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 50\r\n"
        answer = _raw(site, head + b"Connection: close\r\n\r\n{")
    assert answer.status == 400
    assert answer.problems()[0]["what"] == "does not come within 0.2 s"


@pytest.mark.parametrize("way", ["/", "/page.js", "/page.css", "/api/catalogue", "/nothing", "/api/draw"])
def test_every_answer_carries_the_strict_policy(site: Site, way: str) -> None:
    headers = site.ask(way).headers
    rules = dict(rule.strip().partition(" ")[::2] for rule in headers["content-security-policy"].split(";"))
    assert rules["default-src"] == "'none'"
    assert {rules[kind] for kind in ("script-src", "style-src", "connect-src")} == {"'self'"}
    assert {rules[kind] for kind in ("base-uri", "form-action", "frame-ancestors")} == {"'none'"}
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["referrer-policy"] == "no-referrer"
    assert "server" not in headers
    assert "access-control-allow-origin" not in headers


@pytest.mark.parametrize(
    ("method", "way", "status"),
    [
        ("GET", "/api/draw", 405),
        ("DELETE", "/", 405),
        ("OPTIONS", "/api/draw", 405),
        ("GET", "/api/read", 404),
        ("POST", "/api/read", 404),
        ("GET", "/../../etc/hostname", 404),
        ("GET", "/%2e%2e/%2e%2e/etc/hostname", 404),
        ("GET", "/page/page.js", 404),
        ("GET", "/api/draw/", 404),
    ],
)
def test_there_is_nothing_else_to_ask_for(site: Site, method: str, way: str, status: int) -> None:
    answer = site.ask(way, method=method)
    assert answer.status == status
    answer.problems()


async def _through(guard: Guard, *headers: tuple[bytes, bytes]) -> list[Any]:
    sent: list[Any] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request"}

    async def send(message: Any) -> None:
        sent.append(message)

    await guard({"type": "http", "headers": list(headers), "method": "GET", "path": "/"}, receive, send)
    return sent


async def _fails(*_: Any) -> None:
    raise KeyError("the secret of the kettle")


def test_an_error_that_nobody_foresaw_is_answered_and_tells_nothing_of_the_code() -> None:
    start, body = asyncio.run(_through(Guard(_fails), (b"host", b"localhost")))
    assert start["status"] == 500
    (problem,) = json.loads(body["body"])["error"]["problems"]
    assert problem["text"] == "server – cannot answer: KeyError – tell the authors of dieline"


@pytest.mark.parametrize(
    ("host", "status"), [(b"192.168.1.7:8417", 500), (b"workbench", 500), (b"kettle.example", 403), (b"localhost", 500)]
)
def test_a_server_for_all_goes_by_its_addresses_and_its_name_only(host: bytes, status: int) -> None:
    """500: the guard let it through to the application, which fails here."""
    start, _ = asyncio.run(_through(Guard(_fails, {"workbench"}, open_to_all=True), (b"host", host)))
    assert start["status"] == status
