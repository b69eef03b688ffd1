"""Turns errors into one clear message and an exit code: never a traceback."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import typer

from ..errors import DielineError, InputError, JobError, ProofError

__all__ = ["error_data", "guarded", "print_json"]


def guarded(action: Callable[[], int | None], report: str) -> None:
    """Run an action and leave with its exit code.

    Args:
        action: What to do; returns an exit code, None for 0.
        report: ``json`` prints errors as one JSON document too.
    """
    code = 0
    try:
        if report not in ("", "json"):
            raise InputError("--report", repr(report), "it must be json")
        code = action() or 0
    except DielineError as error:
        code = 1 if isinstance(error, ProofError) else 2
        if report == "json":
            print_json({"ok": False, "errors": error_data(error)})
        else:
            print(f"error: {error}", file=sys.stderr)
    if code:
        raise typer.Exit(code)


def error_data(error: DielineError) -> list[dict[str, Any]]:
    """An error as plain data; a file's problems one by one."""
    if isinstance(error, JobError):
        return [entry for problem in error.problems for entry in error_data(problem)]
    return [
        {
            "where": error.where,
            "what": error.what,
            "must": error.must,
            "cure": error.cure,
            "line": error.line,
            "text": error.text,
        }
    ]


def print_json(data: Any) -> None:
    """Print plain data as one JSON document."""
    import json

    sys.stdout.write(json.dumps(data, indent=2, ensure_ascii=False) + "\n")
