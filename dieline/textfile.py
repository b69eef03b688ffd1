"""Reading text and TOML files, with errors that say which file and what to do."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from .errors import BoardError

__all__ = ["line_of", "make_twins", "parse_toml", "read_text", "shipped_table"]

_DATA = Path(__file__).with_name("data")

_GREATEST_FILE = 5_000_000
"""Bytes. A job, house, board or machine file is a few kilobytes; anything larger is the wrong file."""


def read_text(path: Path, kind: str) -> str:
    """The text of a file.

    Args:
        path: The file.
        kind: What it should be, for the error (``house file``).

    Raises:
        BoardError: If it cannot be read, is far too large, or is not UTF-8.
    """
    try:
        if path.is_dir():
            raise BoardError(str(path), "is a folder", f"it must be a {kind}")
        if path.stat().st_size > _GREATEST_FILE:
            raise BoardError(
                str(path), f"has {path.stat().st_size} bytes", f"a {kind} has a few thousand", "check the name"
            )
        return path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise BoardError(str(path), error.strerror or "cannot be read", f"it must be a readable {kind}") from None
    except UnicodeDecodeError:
        raise BoardError(str(path), "is not UTF-8 text", f"it must be a {kind}") from None


def parse_toml(text: str, source: str, kind: str) -> dict[str, Any]:
    """The content of a TOML text.

    Raises:
        BoardError: If it is empty or not TOML.
    """
    import tomllib  # 2 ms, and not every draw reads a file

    if not text.strip():
        raise BoardError(source, "is empty", f"it must be a {kind}")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BoardError(source, f"is not TOML: {error}", f"it must be a {kind}") from None


def shipped_table(name: str) -> dict[str, Any]:
    """The content of a TOML file that comes with dieline, read from its twin.

    The twin holds the same as JSON, which is read in a tenth of the time, at every start; a test holds the two equal.

    Args:
        name: Name of the file in ``data``, without ending.
    """
    content: dict[str, Any] = json.loads((_DATA / f"{name}.json").read_text(encoding="utf-8"))
    return content


def make_twins() -> None:
    """Write the twin of every TOML file in ``data`` anew: ``python -m dieline.textfile``, after one was changed."""
    for path in _DATA.glob("*.toml"):
        content = parse_toml(path.read_text(encoding="utf-8"), path.name, "data file")
        text = json.dumps(content, indent=1, ensure_ascii=False)
        path.with_suffix(".json").write_text(f"{text}\n", encoding="utf-8")


def line_of(text: str, where: str) -> int | None:
    """The line of a TOML text that a place stands on, counted from 1; None if it cannot be told.

    Args:
        text: The text.
        where: A dotted key, as errors name it: ``options.lap_width``, ``allowance 2.size`` (the second such table).
    """
    place = re.sub(r"'[^']*'|\s", "", where)  # a name that an error repeats is no part of the key
    short = place.split(",")[0].split(":")[0]
    counts: dict[str, int] = {}
    table, heading = "", None
    for number, row in enumerate(text.splitlines(), 1):
        header = re.match(r"\s*(\[+)\s*([^\]]+?)\s*\]", row)
        if header:
            table = re.sub(r"[\s\"']", "", header[2])
            if header[1] == "[[":
                counts[table] = counts.get(table, 0) + 1
                table += str(counts[table])
            if table in (place, short):
                return number
            if short.startswith(table + "."):
                heading = number  # at least the table that a missing key should stand in
            continue
        key = re.match(r"""\s*("[^"]*"|'[^']*'|[A-Za-z0-9_.-]+)\s*=""", row)
        if key and ".".join(filter(None, (table, key[1].strip("\"'").replace(" ", "")))) in (place, short):
            return number
    return heading


if __name__ == "__main__":
    make_twins()
