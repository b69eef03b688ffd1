"""A progress bar for what takes long."""

from __future__ import annotations

import sys
from typing import Any

__all__ = ["Bar"]


class Bar:
    """A progress bar with rate and time left, on a terminal only."""

    def __init__(self, report: str) -> None:
        self.shown = sys.stderr.isatty() and report != "json"
        self.progress: Any = None
        self.task: Any = None

    def __enter__(self) -> Bar:
        if self.shown:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

            self.progress = Progress(
                TextColumn("drawing"),
                BarColumn(),
                MofNCompleteColumn(),
                TextColumn("{task.fields[rate]}"),
                TimeRemainingColumn(),
                console=Console(stderr=True),
            )
            self.progress.start()
            self.task = self.progress.add_task("", total=None, rate="")
        return self

    def step(self, done: int, total: int) -> None:
        """Move the bar."""
        if self.progress is not None:
            speed = self.progress.tasks[0].speed
            self.progress.update(self.task, completed=done, total=total, rate=f"{speed:.0f}/s" if speed else "")

    def __exit__(self, *_: object) -> None:
        if self.progress is not None:
            self.progress.stop()
