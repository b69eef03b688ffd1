"""A worker: a process that answers one question after the other, and may be ended at any time."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping
from typing import Any, BinaryIO

from ..errors import DielineError
from .errors import RefusalError, refusal_of

__all__ = ["answer", "serve"]

_MEMORY = 4 << 30
"""Bytes of address space. A large family of boxes needs a tenth of it; what needs more is no box."""


def serve() -> None:
    """Answer questions from the standard input until it ends.

    A question is one line of JSON: ``verb`` and ``data``. An answer is one line, the HTTP status and the length of the
    body, and then the body.
    """
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a style prints must not come between the answers
    _limit_memory()
    from . import answers  # loaded while the server still starts  # noqa: F401

    for line in sys.stdin.buffer:
        question = json.loads(line)
        _send(out, *answer(question["verb"], question["data"]))


def _send(out: BinaryIO, status: int, body: bytes) -> None:
    out.write(f"{status} {len(body)}\n".encode() + body)
    out.flush()


def _limit_memory() -> None:
    try:
        import resource
    except ImportError:  # not every system can limit a process
        return
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    most = _MEMORY if hard == resource.RLIM_INFINITY else min(_MEMORY, hard)
    resource.setrlimit(resource.RLIMIT_AS, (most, hard))


def answer(verb: str, data: Mapping[str, Any]) -> tuple[int, bytes]:
    """The HTTP status and body of an answer; whatever goes wrong is answered too.

    Args:
        verb: One of ``answers.VERBS``.
        data: What it speaks of.
    """
    from .answers import VERBS

    try:
        # A report holds no number that is not finite; if one did, no browser could read it.
        return 200, json.dumps(VERBS[verb](data), allow_nan=False, separators=(",", ":")).encode()
    except RefusalError as refusal:
        found = refusal
    except DielineError as error:
        found = refusal_of(error)
    except MemoryError:
        found = RefusalError.of(
            422, "time", "order", "needs more memory than a box can", "", "make it smaller or simpler"
        )
    except RecursionError:
        found = RefusalError.of(
            422, "input", "order", "is nested too deeply", "it must be a job as a job file holds it"
        )
    except (Exception, SystemExit) as error:  # a stranger's style may raise anything
        found = _unforeseen(error, data)
    return found.status, found.body()


def _unforeseen(error: BaseException, data: Mapping[str, Any]) -> RefusalError:
    """An error that nobody foresaw, told without a trace of the code."""
    job = data.get("job", data)
    code = job.get("style", "") if isinstance(job, Mapping) else ""
    what = f"fails on this order: {type(error).__name__}: {error}"
    return RefusalError.of(
        422, "style", f"style {code}".strip(), what, "", "it is at fault, not your order: tell its author"
    )
