"""The same items on a Dask cluster: texts come back to this machine, which writes, reads back and moves them."""

from __future__ import annotations

import contextlib
import itertools
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from ..errors import InputError, OutputError
from .plan import Item
from .pool import chunked
from .work import Outcome, draw_item

__all__ = ["run_on_cluster"]

_UNDERWAY = 64
"""Portions of items that are on the cluster at once: enough for a few hundred workers, and few to be held here."""

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


def run_on_cluster(items: Iterable[Item], folder: Path, *, by_item: bool, address: str) -> Iterator[Outcome]:
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
    chunks = chunked(items)
    try:
        client = dask.Client(None if address == "local" else address, timeout="10s")
    except (OSError, ValueError, TimeoutError) as error:
        raise InputError(
            "--cluster", address, f"no scheduler answers there: {error}", "start one with: dask scheduler"
        ) from None
    with contextlib.closing(client):
        first = itertools.islice(chunks, max(_UNDERWAY, 3 * len(client.ncores())))
        underway = dask.as_completed([_submit(client, chunk, by_item) for chunk in first])
        for future in underway:
            if chunk := next(chunks, None):
                underway.add(_submit(client, chunk, by_item))
            try:
                # A worker may die with its result before it is fetched: then this waits until another has made it.
                drawn = future.result(timeout=_PATIENCE)
            except Exception as error:
                what = f"a task was lost: {error or type(error).__name__}"
                raise OutputError("--cluster", what, "", "are the workers healthy?") from error
            for outcome, texts in drawn:
                yield _store(outcome, texts, folder)
            future.release()


def _submit(client: Any, chunk: Sequence[Item], by_item: bool) -> Any:
    return client.submit(_draw_texts, chunk, by_item=by_item, pure=False, retries=3)


def _store(outcome: Outcome, texts: dict[str, bytes], folder: Path) -> Outcome:
    from .store import replace_file

    try:
        for name, text in texts.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            replace_file(path, text)
    except OSError as error:
        return Outcome(outcome.item, reason=str(error), stop=True)
    return outcome
