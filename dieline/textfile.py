"""Reading text and TOML files, with errors that say which file and what to do."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from .errors import BoardError

__all__ = ["parse_toml", "read_text"]

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
