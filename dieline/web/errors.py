"""The one shape of every error that the preview answers with."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from ..errors import DielineError, InputError, JobError, OutputError, ProofError, StyleError

__all__ = ["RefusalError", "problems_of", "refusal_of"]

_KINDS: tuple[tuple[type[DielineError], str, int], ...] = (
    (ProofError, "proof", 422),
    (StyleError, "style", 422),
    (OutputError, "output", 500),
    (InputError, "input", 422),
    (DielineError, "input", 422),
)

Problem = Mapping[str, Any]
"""One problem: where, what, must, cure, line and the whole text."""


class RefusalError(Exception):
    """A request that is not answered with what it asked for.

    Args:
        status: HTTP status.
        kind: ``input``, ``style``, ``proof``, ``output``, ``request``, ``guest``, ``busy``, ``time`` or ``server``.
        problems: What is wrong.
    """

    def __init__(self, status: int, kind: str, *problems: Problem) -> None:
        self.status, self.kind, self.problems = status, kind, problems
        super().__init__("; ".join(str(problem["text"]) for problem in problems))

    @classmethod
    def of(cls, status: int, kind: str, where: str, what: str, must: str = "", cure: str = "") -> RefusalError:
        """A refusal with one problem."""
        return cls(status, kind, *problems_of(DielineError(where, what, must, cure)))

    def data(self) -> dict[str, Any]:
        """The one error shape: ``status``, ``kind`` and ``problems``."""
        return {"status": self.status, "kind": self.kind, "problems": [dict(problem) for problem in self.problems]}

    def body(self) -> bytes:
        """The body of the answer: the error shape as ``error``."""
        return json.dumps({"error": self.data()}).encode()


def problems_of(error: DielineError) -> tuple[Problem, ...]:
    """An error as plain data; the problems of a file one by one."""
    if isinstance(error, JobError):
        return tuple(entry for problem in error.problems for entry in problems_of(problem))
    facts = ("where", "what", "must", "cure", "line", "text")
    return ({fact: getattr(error, fact) for fact in facts},)


def refusal_of(error: DielineError) -> RefusalError:
    """The refusal that an error of the product leads to."""
    parts = error.problems if isinstance(error, JobError) else ()
    told = parts[0] if parts and all(isinstance(part, StyleError) for part in parts) else error
    kind, status = next((kind, status) for cause, kind, status in _KINDS if isinstance(told, cause))
    return RefusalError(status, kind, *problems_of(error))
