"""Answers leave at once: nothing on the wire waits for something else."""

from __future__ import annotations

import socket

from dieline.web.server import LOOPBACK, taken


def test_small_answers_are_not_gathered_before_they_are_sent() -> None:
    """asyncio sends at once on sockets that say that they are TCP; on others each small answer waits 40 ms."""
    with taken(LOOPBACK, 0) as place:
        assert place.proto == socket.IPPROTO_TCP
