"""The application: the page, its two files, and an interface of a few questions that the workers answer."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Awaitable, Callable, Collection, Mapping
from contextlib import asynccontextmanager
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from .bench import Bench
from .errors import RefusalError
from .guard import Guard, failure, read_body
from .openapi import MARK
from .page import PARTS, live_page, page_part
from .watched import Watched

__all__ = ["make_app"]

_BODY_SECONDS = 10.0
"""How long a guest may take to send a request."""

_MOST_DIGITS = 15
"""Digits of a whole number that every reader of JSON takes for the same."""

_JSON = "application/json"


def make_app(order: Watched, bench: Bench, *, names: Collection[str] = (), open_to_all: bool = False) -> Guard:
    """The application, ready to be served.

    Args:
        order: The job that it starts with, and the file that it may come from.
        bench: The workers.
        names: Names that the server goes by.
        open_to_all: Whether other machines may ask too.
    """
    desk = _Desk(order, bench)

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        await bench.open()
        desk.begin()
        try:
            yield
        finally:
            await bench.close()

    app = Starlette(
        routes=[
            Route("/", desk.page),
            *(Route(f"/{name}", _part(name)) for name in PARTS),
            *(Route(f"/api/{verb}", desk.answer(verb), methods=["POST"]) for verb in ("draw", "form", "files")),
            Route("/api/catalogue", desk.told("catalogue")),
            Route("/api/openapi.json", desk.told("openapi")),
            Route("/api/watched", desk.watched),
        ],
        exception_handlers={HTTPException: _not_there, RefusalError: _refused, Exception: _failed},
        lifespan=lifespan,
    )
    app.router.redirect_slashes = False
    return Guard(app, names, open_to_all)


def _part(name: str) -> Callable[[Request], Awaitable[Response]]:
    async def answer(_: Request) -> Response:
        headers = {"Cache-Control": "max-age=31536000, immutable"}
        return Response(page_part(name), media_type=PARTS[name], headers=headers)

    return answer


async def _not_there(request: Request, error: Exception) -> Response:
    """The one error shape for addresses and methods that there are not."""
    assert isinstance(error, HTTPException)
    where = f"{request.method} {request.url.path[:100]}"
    refusal = RefusalError.of(
        error.status_code, "request", where, str(error.detail).lower(), "", "see /api/openapi.json"
    )
    return Response(refusal.body(), error.status_code, error.headers, _JSON)


async def _refused(_: Request, error: Exception) -> Response:
    assert isinstance(error, RefusalError)
    headers = {"Connection": "close"} if error.status == 413 else None
    return Response(error.body(), error.status, headers, _JSON)


async def _failed(request: Request, error: Exception) -> Response:
    """The server lives, whatever fails."""
    return await _refused(request, failure(error))


class _Desk:
    """Takes questions and hands them to the workers."""

    def __init__(self, order: Watched, bench: Bench) -> None:
        self.order, self.bench = order, bench
        self._known: dict[str, bytes] = {}
        self._begun: asyncio.Task[tuple[Mapping[str, Any] | None, dict[str, Any]]] | None = None

    def begin(self) -> None:
        """Draw the first box while the browser is still on its way."""
        self._begun = asyncio.create_task(self._ahead())

    async def _ahead(self) -> tuple[Mapping[str, Any] | None, dict[str, Any]]:
        job = (await self.order.state(self.bench))["job"]
        return job, {} if job is None else await self._draw(job)

    async def page(self, _: Request) -> Response:
        """The page with the first drawing in it, so that it is seen at once."""
        given: dict[str, Any] = {"live": True, **await self.order.state(self.bench)}
        if given["job"] is not None:
            given |= await self._first(given["job"])
        return Response(live_page(given, "dieline preview"), media_type="text/html")

    async def _first(self, job: Mapping[str, Any]) -> dict[str, Any]:
        """The first drawing, made ahead or now."""
        begun, self._begun = self._begun, None
        if begun is not None:
            drawn, answer = await begun
            if drawn == job:
                return answer
        return await self._draw(job)

    async def _draw(self, job: Mapping[str, Any]) -> dict[str, Any]:
        """A drawing as ``answer``, or as ``error`` why there is none."""
        try:
            status, body = await self.bench.ask("draw", job)
        except RefusalError as refusal:
            return {"error": refusal.data()}
        answer = json.loads(body)
        return {"answer": answer} if status == 200 else answer

    def answer(self, verb: str) -> Callable[[Request], Awaitable[Response]]:
        """Answers a question that comes with a job."""

        async def answered(request: Request) -> Response:
            status, body = await self.bench.ask(verb, await _data_of(request))
            return Response(body, status, media_type=_JSON)

        return answered

    def told(self, verb: str) -> Callable[[Request], Awaitable[Response]]:
        """Answers a question whose answer stays the same as long as the server runs."""

        async def answered(_: Request) -> Response:
            if verb not in self._known:
                status, body = await self.bench.ask(verb, {})
                if status != 200:
                    return Response(body, status, media_type=_JSON)
                self._known[verb] = body
            return Response(self._known[verb], media_type=_JSON)

        return answered

    async def watched(self, request: Request) -> Response:
        """The job file, if it has changed since the page last saw it."""
        seen = request.query_params.get("seen")
        if seen is not None and len(seen) > MARK:
            raise RefusalError.of(422, "request", "seen", f"has {len(seen)} characters", f"a mark has at most {MARK}")
        found = await self.order.state(self.bench)
        if seen == found["seen"]:
            found = {"watching": found["watching"], "seen": found["seen"]}
        return Response(json.dumps(found), media_type=_JSON)


async def _data_of(request: Request) -> Mapping[str, Any]:
    """The JSON object that a request carries.

    Raises:
        RefusalError: If it carries anything else.
    """
    media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media != _JSON:
        raise RefusalError.of(415, "request", "content-type", repr(media), f"it must be {_JSON}")
    try:
        body = await asyncio.wait_for(read_body(request.receive), _BODY_SECONDS)
    except TimeoutError:
        raise RefusalError.of(400, "request", "body", f"does not come within {_BODY_SECONDS:g} s") from None
    try:
        data = json.loads(body.decode(), parse_int=_whole, parse_constant=_no_number)
        json.dumps(data, ensure_ascii=False, allow_nan=False).encode()  # half a character is no text, 1e999 no number
    except (ValueError, RecursionError) as error:
        raise RefusalError.of(400, "request", "body", f"is not JSON: {error}") from None
    if not isinstance(data, dict):
        raise RefusalError.of(400, "request", "body", "is no JSON object", "it must be a job as a job file holds it")
    return data


def _whole(word: str) -> int:
    if len(word) > _MOST_DIGITS:
        raise ValueError(f"a number of {len(word)} digits")
    return int(word)


def _no_number(word: str) -> float:
    raise ValueError(f"{word} is no number in JSON")
