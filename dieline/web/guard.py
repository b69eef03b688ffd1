"""What stands between a guest and the application: who may ask, what every answer carries, nothing left unanswered."""

from __future__ import annotations

import asyncio
import contextlib
import ipaddress
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from urllib.parse import SplitResult, urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from .errors import RefusalError

__all__ = ["MOST_BYTES", "Guard", "failure", "read_body"]

MOST_BYTES = 1_000_000
"""Bytes of a request. A job with its house file has some ten thousand."""

_PASS_OVER_BYTES = 100_000_000
_PASS_OVER_SECONDS = 5.0
"""How much of a larger body is waited for before it is refused."""

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types"
)

_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


@dataclass(frozen=True, slots=True)
class Guard:
    """Refuses foreign guests, adds the headers of every answer, and answers where the application fails.

    A page of another site can make a browser ask this server in two ways: under its own name, turned to this address
    (then the Host header gives it away), or from its own page (then the Origin header does).

    Attributes:
        app: The application.
        names: Names that the server goes by, beside its addresses and ``localhost``.
        open_to_all: Whether it was told to listen to other machines: then all of its addresses are its own.
    """

    app: ASGIApp
    names: Collection[str] = ()
    open_to_all: bool = False

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        begun = False

        async def sent(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    headers[name] = value
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        try:
            self._admit(Headers(scope=scope))
            await self.app(scope, receive, sent)
        except RefusalError as refusal:
            if refusal.status == 413:
                await _pass_over(receive)
            await _refuse(refusal, sent)
        except Exception as error:  # the server lives, whatever fails
            if not begun:
                await _refuse(failure(error), sent)

    def _admit(self, headers: Mapping[str, str]) -> None:
        host = headers.get("host", "")
        name = _split(f"//{host}").hostname
        if not name or not self._own(name):
            where = f"Host {host!r}"
            raise RefusalError.of(403, "guest", where, "is not this server", "it must be its own name", "use localhost")
        origin = headers.get("origin")
        foreign = origin is not None and _split(origin)[:2] not in (("http", host), ("https", host))
        if foreign or headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            where = f"Origin {origin!r}"
            raise RefusalError.of(403, "guest", where, "is another site", "only its own page may ask this server")
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > MOST_BYTES:
            raise _too_large()

    def _own(self, name: str) -> bool:
        try:
            address = ipaddress.ip_address(name)
        except ValueError:
            return name == "localhost" or name in self.names
        return self.open_to_all or address.is_loopback  # only names can be turned to another address, numbers cannot


def _split(url: str) -> SplitResult:
    try:
        return urlsplit(url)
    except ValueError:
        return SplitResult("", "", "", "", "")


def _too_large() -> RefusalError:
    return RefusalError.of(413, "request", "body", "is too large", f"it must be at most {MOST_BYTES} bytes", "")


async def _pass_over(receive: Receive) -> None:
    """Let a body go by unread: a guest that is still sending could not hear that it is too large."""
    passed = 0
    with contextlib.suppress(TimeoutError):
        async with asyncio.timeout(_PASS_OVER_SECONDS):
            while passed < _PASS_OVER_BYTES:
                message = await receive()
                passed += len(message.get("body", b""))
                if not message.get("more_body", False):
                    return


async def read_body(receive: Receive) -> bytes:
    """The body of a request.

    Raises:
        RefusalError: If it is larger than allowed; no more than that is kept.
    """
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            raise RefusalError.of(400, "request", "body", "ends early")
        body += message.get("body", b"")
        if len(body) > MOST_BYTES:
            if message.get("more_body", False):
                await _pass_over(receive)
            raise _too_large()
        if not message.get("more_body", False):
            return bytes(body)


def failure(error: Exception) -> RefusalError:
    """The refusal for an error that nobody foresaw: its kind, and nothing of the code."""
    what = f"cannot answer: {type(error).__name__}"
    return RefusalError.of(500, "server", "server", what, "", "tell the authors of dieline")


async def _refuse(refusal: RefusalError, send: Send) -> None:
    body = refusal.body()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    if refusal.status == 413:
        headers.append((b"connection", b"close"))
    await send({"type": "http.response.start", "status": refusal.status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
