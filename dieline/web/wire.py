"""The wire: requests that are no HTTP at all are answered in the one error shape too."""

from __future__ import annotations

import asyncio
from http import HTTPStatus

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from .errors import RefusalError

__all__ = ["Wire"]

_FIRST_SECONDS = 10.0
"""How long a guest may take to say what it wants."""


class Wire(H11Protocol):
    """HTTP as uvicorn speaks it, but for its plain-text answer to what it cannot read, and its endless patience."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]  # as uvicorn has it
        """Wait for a request, but not for ever: connections that say nothing would use up all there are."""
        super().connection_made(transport)
        self.loop.call_later(_FIRST_SECONDS, self._give_up)

    def _give_up(self) -> None:
        cycle: object | None = self.cycle  # none until a request has come, whatever its declaration says
        if cycle is None:
            self.transport.abort()

    def send_400_response(self, msg: str) -> None:
        """Answer what is no HTTP, or has too long an address, and hang up."""
        body = RefusalError.of(400, "request", "request", "cannot be read", "it must be HTTP", msg.lower()).body()
        headers = [
            (b"content-type", b"application/json"),
            (b"content-length", str(len(body)).encode()),
            (b"x-content-type-options", b"nosniff"),
            (b"connection", b"close"),
        ]
        for event in (
            h11.Response(status_code=400, headers=headers, reason=HTTPStatus.BAD_REQUEST.phrase.encode()),
            h11.Data(data=body),
            h11.EndOfMessage(),
        ):
            self.transport.write(self.conn.send(event))
        self.transport.close()
