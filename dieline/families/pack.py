"""All drawings of a family in one zip, the same bytes for the same drawings."""

from __future__ import annotations

import contextlib
import os
import zipfile
from collections.abc import Iterable
from pathlib import Path

from ..errors import OutputError

__all__ = ["PACK", "pack_files"]

PACK = "drawings.zip"
_MOMENT = (1980, 1, 1, 0, 0, 0)
"""The date of every entry: zip must have one, and the same job must give the same bytes."""


def pack_files(folder: Path, files: Iterable[str]) -> Path:
    """Put the files of all items into one zip; the single files stay, so that a later run need not draw them again.

    Args:
        folder: The family's folder.
        files: Their names.

    Raises:
        OutputError: If the zip cannot be written.
    """
    path = folder / PACK
    part = folder / f".{PACK}.{os.getpid()}.part"
    try:
        with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as pack:
            for name in files:
                entry = zipfile.ZipInfo(name, _MOMENT)
                entry.compress_type = zipfile.ZIP_DEFLATED
                entry.external_attr = 0o644 << 16
                pack.writestr(entry, (folder / name).read_bytes())
        part.replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise OutputError(str(path), error.strerror or str(error), "it must be a place with room") from None
    return path
