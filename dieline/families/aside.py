"""A hidden folder for each worker, in which its files lie until they are read back and get their names.

Two processes that make files in one folder wait for each other at every file: by measurement an item then takes up to
three times as long on disk as with a folder each. Moving a finished file out of it is short.
"""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

__all__ = ["clear_aside", "folder_aside", "run_mark"]

_MARK = ".dieline-work-"


def run_mark() -> str:
    """What the folders of this run are called by; the process that hands out the work asks for it."""
    return f"{_MARK}{os.getpid()}"


def folder_aside(folder: Path, mark: str) -> Path:
    """The folder of the process that asks, in the folder that the drawings go to: on one disk with it.

    Args:
        folder: Where the drawings go.
        mark: Mark of the run.
    """
    return folder / f"{mark}-{os.getpid()}"


def clear_aside(folder: Path, mark: str = _MARK) -> None:
    """Remove the folders of one run, or of every run, with what a worker that was stopped left in them.

    Args:
        folder: Where the drawings go.
        mark: Mark of the run; any run's if not given.
    """
    with suppress(OSError):
        for left in folder.glob(f"{mark}*"):
            shutil.rmtree(left, ignore_errors=True)
