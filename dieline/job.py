"""A job: everything that is asked for, as it was read from a file (see ``job_file``) or built in Python."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import TYPE_CHECKING, Any

from .board import Board, find_board
from .features import Feature
from .machine import MachineProfile
from .sizing import House
from .units import Size, parse_size

if TYPE_CHECKING:
    from .load import Load

__all__ = ["FORMATS", "SUPPORT", "Job", "Output", "SizeKind", "make_job"]

FORMATS = {
    "dxf": "the cut file: geometry only, for the table or the die maker",
    "svg": "the drawing: dimensions, names, legend, for people",
    "cut-svg": "the cut file as SVG: geometry only",
    "folded-svg": "the folded box as a picture",
}
"""What can be written, each with what it is for."""

SUPPORT = {"boards": "board file", "house": "house file", "machine": "machine file", "limits": "limits file"}
"""Files that a job may lean on."""


class SizeKind(Enum):
    """What the size of a job measures."""

    INSIDE = "inside"
    CREASE = "crease"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Output:
    """How files are written.

    Attributes:
        formats: Which files, see ``FORMATS``.
        dxf: ``R2010`` or ``R12``.
        unit: ``mm`` or ``in``, for the DXF.
        arcs: ``bulge`` (polylines with true arcs) or ``separate`` (LINE and ARC only).
        side: ``inside`` or ``print``: the side that faces up.
        notes: Whether the DXF also carries the notes, on layers that no tool reads.
        carry_job: Whether each file carries its job.
    """

    formats: tuple[str, ...] = ("dxf", "svg")
    dxf: str = "R2010"
    unit: str = "mm"
    arcs: str = "bulge"
    side: str = "inside"
    notes: bool = False
    carry_job: bool = True


@dataclass(frozen=True, kw_only=True)
class Job:
    """One box to be drawn.

    Attributes:
        style: Code of the style.
        size: The size as given, mm.
        board: The board.
        size_is: What the size measures.
        options: Options of the style that the job sets.
        folds: How single folds are made: name of the panel that hangs on the fold -> kind.
        features: What is put on single panels.
        house: The plant's allowances.
        machine: The machine's layers and limits.
        mass: Mass of the contents, kg; None where not given.
        load: What stands on the box; None where the job says nothing of it.
        name: Name for files and title; made from style, size and board where empty.
        revision: Revision to print.
        note: A line to print.
        output: How files are written.
        support: Texts of the files that the job leans on, so that it can be carried whole.
        sources: Names of those files, for errors.
        source: Where it came from, for errors.
    """

    style: str
    size: Size
    board: Board
    size_is: SizeKind = SizeKind.INSIDE
    options: Mapping[str, object] = field(default_factory=dict)
    folds: Mapping[str, str] = field(default_factory=dict)
    features: tuple[Feature, ...] = ()
    house: House = field(default_factory=House)
    machine: MachineProfile = field(default_factory=MachineProfile)
    mass: float | None = None
    load: Load | None = None
    name: str = ""
    revision: str = ""
    note: str = ""
    output: Output = field(default_factory=Output)
    support: Mapping[str, str] = field(default_factory=dict)
    sources: Mapping[str, str] = field(default_factory=dict, compare=False)
    source: str = "job"

    @property
    def file_name(self) -> str:
        """Name of the files without suffix: safe on every system."""
        kind = "" if self.size_is is SizeKind.INSIDE else f"-{self.size_is.value}"
        return _safe(self.name) or _safe(f"{self.style}-{self.size}{kind}-{self.board.name}")

    def data(self) -> dict[str, Any]:
        """The job as plain data, as a job file holds it; ``job_file.job_from_data`` makes the same job of it again."""
        out: dict[str, Any] = {"style": self.style, "size": _exact(self.size)}
        if self.size_is is not SizeKind.INSIDE:
            out["size_is"] = self.size_is.value
        out["board"] = self.board.name
        for key in ("name", "revision", "note"):
            if getattr(self, key):
                out[key] = getattr(self, key)
        if self.options:
            out["options"] = dict(sorted(self.options.items()))
        if self.folds:
            out["folds"] = dict(sorted(self.folds.items()))
        if self.features:
            out["feature"] = [feature.data() for feature in self.features]
        if self.mass is not None:
            out["contents"] = {"mass": self.mass}
        if self.load is not None:
            out["load"] = self.load.data()
        output, usual = self.output, Output()
        changed = {key: getattr(output, key) for key in Output.__slots__ if getattr(output, key) != getattr(usual, key)}
        if changed:
            out["output"] = {key: list(value) if isinstance(value, tuple) else value for key, value in changed.items()}
        if self.support:
            out["files"] = {key: {"text": text} for key, text in sorted(self.support.items())}
        return out

    def text(self) -> str:
        """The job as one line of JSON, to be carried in a file."""
        import json

        return json.dumps(self.data(), ensure_ascii=True, separators=(",", ":"))


def make_job(style: str, size: str | Size, board: str | Board = "C", **more: Any) -> Job:
    """A job built in Python.

    Args:
        style: Code of the style.
        size: Size, as text or mm.
        board: Name of a board in the library, or a board.
        more: Any other field of ``Job``; ``options`` is a mapping.

    Raises:
        SizeError: If the size cannot be read.
        UnknownNameError: If there is no such board.

    Example:
        >>> make_job("0201", "300x200x150", "C", options={"lap_width": 30}).file_name
        '0201-300x200x150-C'
    """
    return Job(
        style=style,
        size=parse_size(size) if isinstance(size, str) else size,
        board=find_board(board) if isinstance(board, str) else board,
        **more,
    )


_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\.|$)", re.IGNORECASE)
"""Names that one system keeps for its devices, whatever their suffix."""


def _safe(name: str) -> str:
    """A name that every system takes for a file: plain letters, no device's name, not long; empty if none is left."""
    if not name.isascii():
        import unicodedata

        name = "".join(letter for letter in unicodedata.normalize("NFKD", name) if not unicodedata.combining(letter))
    plain = re.sub(r"[^A-Za-z0-9._-]+", "-", name)[:100].strip("-.")
    return f"box-{plain}" if _RESERVED.match(plain) else plain


def _exact(size: Size) -> str:
    """A size as text that reads back to the same numbers."""
    length, breadth, height, fourth = (repr(side).removesuffix(".0") for side in map(_float, size))
    text = f"{length}x{breadth}x{height}"
    return text if size.fourth is None else f"{text}/{fourth}"


def _float(side: float | None) -> float:
    return float(side or 0.0)
