"""The same items on a Dask cluster: texts come back to this machine, which writes, reads back and moves them."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from ..errors import InputError, OutputError
from .plan import Item
from .work import Outcome, draw_item

__all__ = ["run_on_cluster"]

_CHUNK = 8
_PATIENCE = 600.0
"""Seconds to wait for one chunk that is drawn again."""


def _draw_texts(items: Sequence[Item], by_item: bool) -> list[tuple[Outcome, dict[str, bytes]]]:
    """Draw items on a worker, in a folder of its own that goes away, and hand back what lies in it."""
    import tempfile

    done: list[tuple[Outcome, dict[str, bytes]]] = []
    with tempfile.TemporaryDirectory() as folder:
        for item in items:
            outcome = draw_item(item, folder, by_item)
            done.append((outcome, {name: (Path(folder) / name).read_bytes() for name, _ in outcome.files}))
    return done


def run_on_cluster(items: Sequence[Item], folder: Path, *, by_item: bool, address: str) -> Iterator[Outcome]:
    """Draw items on a cluster and yield what became of each, in the order they finish.

    A worker that is lost has its items drawn again by another; each item is written here once.

    Raises:
        InputError: If Dask is not installed, or no scheduler answers.
        OutputError: If workers are lost again and again.
    """
    try:
        import distributed
    except ModuleNotFoundError:
        raise InputError("--cluster", address, "it needs dask.distributed", "pip install 'dieline[cluster]'") from None
    dask: Any = distributed  # it has no types of its own
    chunks = [items[start : start + _CHUNK] for start in range(0, len(items), _CHUNK)]
    try:
        client = dask.Client(None if address == "local" else address, timeout="10s")
    except (OSError, ValueError, TimeoutError) as error:
        raise InputError(
            "--cluster", address, f"no scheduler answers there: {error}", "start one with: dask scheduler"
        ) from None
    with contextlib.closing(client):
        futures = client.map(_draw_texts, chunks, by_item=by_item, pure=False, retries=3)
        for future in dask.as_completed(futures):
            try:
                # A worker may die with its result before it is fetched: then this waits until another has made it.
                drawn = future.result(timeout=_PATIENCE)
            except Exception as error:
                what = f"a task was lost: {error or type(error).__name__}"
                raise OutputError("--cluster", what, "", "are the workers healthy?") from error
            for outcome, texts in drawn:
                yield _store(outcome, texts, folder)
            future.release()


def _store(outcome: Outcome, texts: dict[str, bytes], folder: Path) -> Outcome:
    from .store import replace_file

    try:
        for name, text in texts.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            replace_file(path, text)
    except OSError as error:
        return Outcome(outcome.place, reason=str(error), stop=True)
    return outcome
