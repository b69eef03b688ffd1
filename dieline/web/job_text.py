"""A job as a job file: TOML that reads back to the same job."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

from ..job import Job

__all__ = ["job_text"]

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def job_text(job: Job) -> str:
    """The text of a job file for a job; files that it leans on are carried within it.

    Example:
        >>> from dieline.job import make_job
        >>> print(job_text(make_job("0201", "300x200x150", "C", options={"lap_width": 30.0})))
        style = "0201"
        size = "300x200x150"
        board = "C"
        <BLANKLINE>
        [options]
        lap_width = 30
        <BLANKLINE>
    """
    return "\n".join(_table(job.data(), ())) + "\n"


def _table(data: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    """The lines of a table: its plain values first, then the tables in it."""
    for key, value in data.items():
        if not _nested(value):
            yield f"{_key(key)} = {_value(value)}"
    for key, value in data.items():
        inner = (*path, _key(key))
        if isinstance(value, Mapping):
            yield from ("", f"[{'.'.join(inner)}]", *_table(value, inner))
        elif _nested(value):
            for entry in value:
                yield from ("", f"[[{'.'.join(inner)}]]", *_table(entry, inner))


def _nested(value: object) -> bool:
    return isinstance(value, Mapping) or (isinstance(value, list) and bool(value) and isinstance(value[0], Mapping))


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _quoted(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(float(value)).removesuffix(".0")
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    text = str(value)
    return _block(text) if "\n" in text else _quoted(text)


def _quoted(text: str) -> str:
    """A basic string: JSON's escapes are TOML's, but for the delete character."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _block(text: str) -> str:
    """A string over several lines, as it was written."""
    lines = [_quoted(line)[1:-1] for line in text.split("\n")]
    return '"""\n' + "\n".join(lines) + '"""'
