"""Flat blanks for corrugated and carton boxes, folded, measured and read back before they are written.

The flow in five lines::

    job = make_job("0201", "300x200x150", "C")      # or read_job(path)
    result = run(job)                               # built, proved flat, folded and measured, drawn
    print(result.folded.inside, result.failures)    # what the folded box measures
    for finding in result.findings: print(finding)  # what the trade would say
    write(result, folder)                           # files appear whole, read back, or not at all
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .board import Board, boards, find_board, read_boards
    from .checks import Finding, Severity
    from .errors import DielineError, InputError, ProofError
    from .families import family
    from .files import write
    from .job import Job, Output, make_job
    from .job_file import read_job
    from .pipeline import Result, run
    from .registry import find_style, iter_styles

_HOMES = {
    "Board": "board",
    "DielineError": "errors",
    "Finding": "checks",
    "InputError": "errors",
    "Job": "job",
    "Output": "job",
    "ProofError": "errors",
    "Result": "pipeline",
    "Severity": "checks",
    "boards": "board",
    "family": "families",
    "find_board": "board",
    "find_style": "registry",
    "iter_styles": "registry",
    "make_job": "job",
    "read_boards": "board",
    "read_job": "job_file",
    "run": "pipeline",
    "write": "files",
}

__all__ = [
    "Board",
    "DielineError",
    "Finding",
    "InputError",
    "Job",
    "Output",
    "ProofError",
    "Result",
    "Severity",
    "boards",
    "family",
    "find_board",
    "find_style",
    "iter_styles",
    "make_job",
    "read_boards",
    "read_job",
    "run",
    "write",
]


def __getattr__(name: str) -> object:
    """Load a public name when it is first asked for: a start that needs little loads little."""
    if name in _HOMES:
        return getattr(import_module(f".{_HOMES[name]}", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
