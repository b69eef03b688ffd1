"""Serving the preview: the port is taken first, so that a taken one is told, and Ctrl-C ends everything cleanly."""

from __future__ import annotations

import contextlib
import errno
import ipaddress
import socket
import sys
import threading
from collections.abc import Callable

import uvicorn

from ..errors import InputError
from .app import make_app
from .bench import Bench
from .page import PARTS, page_part
from .watched import Watched
from .wire import Wire

__all__ = ["LOOPBACK", "PORT", "make_server", "serve", "taken"]

LOOPBACK = "127.0.0.1"
"""The address that only this machine reaches."""

PORT = 8417
"""The port where none is asked for: fixed, so that links stay good."""


def serve(order: Watched, *, host: str = LOOPBACK, port: int = PORT, started: Callable[[str], None]) -> None:
    """Serve the preview until it is interrupted.

    Args:
        order: The job that it starts with.
        host: Address to listen on.
        port: Port; 0 takes any that is free.
        started: Called with the address of the page as soon as it can be asked for.

    Raises:
        InputError: If the port is taken, or there is no such address.
        OutputError: If the page has not been built.
    """
    for name in PARTS:
        page_part(name)
    with taken(host, port) as place:
        if not _is_loopback(place):
            print(
                f"warning: {host} can be reached from other machines; whoever reaches it can draw and download here",
                file=sys.stderr,
            )
        with contextlib.suppress(KeyboardInterrupt):
            make_server(order, place, host, started).run(sockets=[place])


def make_server(order: Watched, place: socket.socket, host: str, started: Callable[[str], None]) -> uvicorn.Server:
    """A server that is ready to be run on a socket.

    Args:
        order: The job that it starts with.
        place: The socket that it listens on.
        host: The address as it was asked for.
        started: Called with the address of the page as soon as it can be asked for.
    """
    outside = not _is_loopback(place)
    names = {host.lower()}
    if outside:
        names |= {socket.gethostname().lower(), socket.getfqdn().lower()}
    config = uvicorn.Config(
        make_app(order, Bench(), names=names, open_to_all=outside),
        http=Wire,
        ws="none",
        log_level="critical",
        access_log=False,
        server_header=False,
        timeout_keep_alive=5,
        timeout_graceful_shutdown=2,
    )
    address = f"http://{_shown(host)}:{place.getsockname()[1]}/"
    return _Server(config, lambda: started(address))


class _Server(uvicorn.Server):
    """A server that says when it can be asked."""

    def __init__(self, config: uvicorn.Config, started: Callable[[], None]) -> None:
        super().__init__(config)
        self._tell = started

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to listen, and say so; what is told to a browser may take its time."""
        await super().startup(sockets)
        if self.started:
            threading.Thread(target=self._tell, daemon=True).start()


def taken(host: str, port: int) -> socket.socket:
    """A socket that listens on a port of an address.

    Raises:
        InputError: If the port is taken, or there is no such address.
    """
    where = "--port" if port else "--host"
    try:
        family, _, _, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        # Named as TCP, or asyncio leaves it to gather small packets: every answer would come 40 ms late.
        place = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        place.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        place.bind(address)
        place.listen(128)
    except (OSError, OverflowError, UnicodeError) as error:
        number = getattr(error, "errno", None)
        if number == errno.EADDRINUSE:
            raise InputError("--port", f"{port} is taken", "", "choose another, or 0 for any that is free") from None
        if number == errno.EACCES:
            raise InputError("--port", f"{port} may not be used", "", "choose one above 1023") from None
        raise InputError(where, f"{host} port {port}: {error}", "it must be an address of this machine") from None
    return place


def _is_loopback(place: socket.socket) -> bool:
    address: str = place.getsockname()[0]
    return ipaddress.ip_address(address.partition("%")[0]).is_loopback


def _shown(host: str) -> str:
    """The host as it stands in an address; where all addresses of this machine will do, the one that surely works."""
    if host in ("0.0.0.0", "::"):
        return LOOPBACK
    return f"[{host}]" if ":" in host else host
