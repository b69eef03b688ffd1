"""A preview server in a thread of its own, asked over real sockets."""

from __future__ import annotations

import http.client
import json
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from dieline.web.server import LOOPBACK, make_server, taken
from dieline.web.watched import Watched

CASE = {"style": "0201", "size": "300x200x150", "board": "C"}


@dataclass(frozen=True)
class Answer:
    """What the server answered."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    def data(self) -> Any:
        return json.loads(self.body)

    def problems(self) -> list[dict[str, Any]]:
        """The problems of an answer in the one error shape; it must have that shape and show no code."""
        data = self.data()
        assert self.headers["content-type"] == "application/json"
        assert set(data) == {"error"}
        assert set(data["error"]) == {"status", "kind", "problems"}
        assert data["error"]["status"] == self.status
        assert data["error"]["problems"]
        for problem in data["error"]["problems"]:
            assert set(problem) == {"where", "what", "must", "cure", "line", "text"}
            assert problem["where"] in problem["text"]
        assert b"Traceback" not in self.body
        assert b'.py\\"' not in self.body
        return list(data["error"]["problems"])


@dataclass(frozen=True)
class Site:
    """A server that runs."""

    port: int

    def ask(self, way: str, body: Any = None, method: str = "", **headers: str) -> Answer:
        """One request: GET, or POST of JSON; bytes are sent as they are."""
        line = http.client.HTTPConnection(LOOPBACK, self.port, timeout=30)
        sent = {key.replace("_", "-"): value for key, value in headers.items()}
        if body is not None:
            sent.setdefault("Content-Type", "application/json")
            body = body if isinstance(body, bytes) else json.dumps(body).encode()
        try:
            line.request(method or ("GET" if body is None else "POST"), way, body, sent)
            answer = line.getresponse()
            return Answer(answer.status, {key.lower(): value for key, value in answer.getheaders()}, answer.read())
        finally:
            line.close()

    def draw(self, **job: Any) -> Answer:
        """A drawing of the plain case, with what is given laid over it."""
        return self.ask("/api/draw", CASE | job)

    def given(self) -> dict[str, Any]:
        """What the page starts with."""
        text = self.ask("/").body.decode()
        data: dict[str, Any] = json.loads(text.partition('id="given">')[2].partition("</script>")[0])
        return data


Serve = Callable[[Watched], Any]


@contextmanager
def serving(order: Watched) -> Iterator[Site]:
    """A server that runs while it is asked."""
    with taken(LOOPBACK, 0) as place:
        begun = threading.Event()
        server = make_server(order, place, LOOPBACK, lambda _: begun.set())
        thread = threading.Thread(target=server.run, kwargs={"sockets": [place]})
        thread.start()
        try:
            assert begun.wait(20)
            yield Site(place.getsockname()[1])
        finally:
            server.should_exit = True
            thread.join(20)
            assert not thread.is_alive()
