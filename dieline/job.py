"""A job: everything that is asked for, read from a file or built in Python, checked all at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from typing import Any

from .board import Board, boards_from_text, find_board
from .errors import DielineError, InputError, JobError, UnknownNameError
from .features import Feature, feature_from_data
from .house import house_from_text
from .machine import MachineProfile, machine_from_text
from .registry import find_style
from .sizing import House
from .style.contract import Style
from .style.order import settle
from .textfile import line_of, parse_toml, read_text
from .units import Size, parse_mass, parse_size

__all__ = ["FORMATS", "Job", "Output", "SizeKind", "job_from_data", "job_from_text", "make_job", "read_job"]

FORMATS = {
    "dxf": "the cut file: geometry only, for the table or the die maker",
    "svg": "the drawing: dimensions, names, legend, for people",
    "cut-svg": "the cut file as SVG: geometry only",
    "folded-svg": "the folded box as a picture",
}
"""What can be written, each with what it is for."""

SUPPORT = {"boards": "board file", "house": "house file", "machine": "machine file", "limits": "limits file"}
"""Files that a job may lean on."""

_KEYS = (
    "style",
    "size",
    "size_is",
    "unit",
    "board",
    "name",
    "revision",
    "note",
    "options",
    "feature",
    "folds",
    "contents",
    "files",
    "output",
)
_FOLDS = ("crease", "perforated", "cut-crease", "reverse crease")


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


_CHOICES = {"dxf": ("R2010", "R12"), "unit": ("mm", "in"), "arcs": ("bulge", "separate"), "side": ("inside", "print")}


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
        name: Name for files and title; made from style, size and board where empty.
        revision: Revision to print.
        note: A line to print.
        output: How files are written.
        support: Texts of the files that the job leans on, so that it can be carried whole.
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
    name: str = ""
    revision: str = ""
    note: str = ""
    output: Output = field(default_factory=Output)
    support: Mapping[str, str] = field(default_factory=dict)
    source: str = "job"

    @property
    def file_name(self) -> str:
        """Name of the files without suffix: safe on every system."""
        kind = "" if self.size_is is SizeKind.INSIDE else f"-{self.size_is.value}"
        return _safe(self.name) or _safe(f"{self.style}-{self.size}{kind}-{self.board.name}")

    def data(self) -> dict[str, Any]:
        """The job as plain data, as a job file holds it; ``job_from_data`` makes the same job of it again."""
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
        changed = {
            key: getattr(self.output, key)
            for key in Output.__slots__
            if getattr(self.output, key) != getattr(Output(), key)
        }
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


def read_job(path: Path) -> Job:
    """The job of a TOML file; files that it names are looked for beside it.

    Raises:
        BoardError: If the file cannot be read or is not TOML.
        JobError: With every problem in it, each with its key and line.
    """
    return job_from_text(read_text(path, "job file"), str(path), path.parent)


def job_from_text(text: str, source: str = "job", folder: Path | None = None) -> Job:
    """The job that a TOML text describes.

    Args:
        text: The text of a job file.
        source: Where it comes from, for errors.
        folder: Where files that it names are looked for; None allows none.

    Raises:
        BoardError: If the text is not TOML.
        JobError: With every problem in it, each with its key and line.
    """
    data = parse_toml(text, source, "job file")
    try:
        return job_from_data(data, source, folder)
    except JobError as error:
        # Problems of files that the job leans on have their line in those files already.
        others = [problem for problem in error.problems if problem.line is not None]
        own = [problem for problem in error.problems if problem.line is None]
        for problem in own:
            problem.line = line_of(text, problem.where)
        raise JobError(source, [*others, *sorted(own, key=lambda problem: problem.line or 0)]) from None


def job_from_data(data: Mapping[str, Any], source: str = "job", folder: Path | None = None) -> Job:
    """The job that plain data describes.

    Raises:
        JobError: With every problem in it.
    """
    reader = _Reader(data, folder)
    job = reader.job(source)
    if reader.problems or job is None:
        raise JobError(source, reader.problems)
    return job


class _Reader:
    """Reads one job and keeps every problem that it meets."""

    def __init__(self, data: Mapping[str, Any], folder: Path | None) -> None:
        self.data = data
        self.folder = folder
        self.problems: list[DielineError] = []
        self.support: dict[str, str] = {}
        self.sources: dict[str, str] = {}

    def job(self, source: str) -> Job | None:
        data = self.data
        self._known("", data, _KEYS)
        self._support()
        boards = self._file("boards", boards_from_text, {})
        house = self._file("house", house_from_text, House())
        machine = self._file("machine", machine_from_text, MachineProfile())
        unit = self._choice("unit", ("mm", "cm", "in"), "mm")
        size_is = SizeKind(self._choice("size_is", [kind.value for kind in SizeKind], "inside"))
        style = self._try(lambda: find_style(self._text("style", needed=True)))
        size = self._try(lambda: parse_size(self._text("size", needed=True), unit=unit))
        board = self._try(lambda: find_board(self._text("board", needed=True), boards))
        options = self._table("options")
        folds = self._folds()
        features = self._features()
        contents = self._table("contents")
        self._known("contents", contents, ("mass",))
        mass = self._try(lambda: parse_mass(contents["mass"], where="contents.mass")) if "mass" in contents else None
        output = self._output()
        name, revision, note = (self._try(lambda key=key: self._text(key)) for key in ("name", "revision", "note"))
        if style is not None:
            self._settle(style, size, board, options, house or House(), size_is)
        if self.problems or style is None or size is None or board is None or house is None or machine is None:
            return None
        return Job(
            style=style.code,
            size=size,
            board=board,
            size_is=size_is,
            options=options,
            folds=folds,
            features=features,
            house=house,
            machine=machine,
            mass=mass,
            name=name,
            revision=revision,
            note=note,
            output=output,
            support=self.support,
            source=source,
        )

    def _settle(
        self,
        style: Style,
        size: Size | None,
        board: Board | None,
        options: Mapping[str, Any],
        house: House,
        kind: SizeKind,
    ) -> None:
        """Check the options too, so that one run shows every problem of the file."""
        if kind is SizeKind.INSIDE and size is not None and board is not None:
            self._try(lambda: settle(style, size, board, options, house))
            return
        # The inside size is not known yet, so ranges must wait; names and kinds of value need not.
        known = {parameter.name: parameter for parameter in style.parameters}
        for name, value in options.items():
            if name in known:
                self._try(lambda name=name, value=value: known[name].read(value, f"options.{name}"))
            else:
                self.problems.append(UnknownNameError(f"options.{name}", name, known))

    def _try(self, action: Any) -> Any:
        try:
            return action()
        except JobError as error:
            self.problems += error.problems
        except DielineError as error:
            self.problems.append(error)
        return None

    def _file(self, key: str, read: Callable[[str, str], Any], otherwise: Any) -> Any:
        """What a file that the job leans on holds; its problems are told with its name."""
        if key not in self.support:
            return otherwise
        try:
            return read(self.support[key], self.sources[key])
        except JobError as error:
            for problem in error.problems:
                problem.line = problem.line or line_of(self.support[key], problem.where)
                problem.where = f"{error.where}, {problem.where}"
            self.problems += error.problems
        except DielineError as error:
            self.problems.append(error)
        return None

    def _known(self, where: str, table: Mapping[str, Any], keys: tuple[str, ...]) -> None:
        for key in table:
            if key not in keys:
                self.problems.append(UnknownNameError(f"{where}.{key}".strip("."), key, keys))

    def _text(self, key: str, *, needed: bool = False) -> str:
        value = self.data.get(key, "")
        if not isinstance(value, str):
            raise InputError(key, repr(value), "it must be text in quotes")
        if needed and not value:
            raise InputError(key, "is missing", f"a job must name its {key}")
        return value

    def _table(self, key: str) -> dict[str, Any]:
        value = self.data.get(key, {})
        if isinstance(value, Mapping):
            return dict(value)
        self.problems.append(InputError(key, repr(value), f"it must be a table: [{key}]"))
        return {}

    def _choice(
        self, key: str, choices: Any, default: str, where: str = "", table: Mapping[str, Any] | None = None
    ) -> str:
        value = (self.data if table is None else table).get(key, default)
        if value in choices:
            return str(value)
        self.problems.append(InputError(f"{where}{key}", repr(value), f"it must be one of {', '.join(choices)}"))
        return default

    def _features(self) -> tuple[Feature, ...]:
        tables = self.data.get("feature", [])
        if not isinstance(tables, list):
            self.problems.append(InputError("feature", repr(tables), "it must be tables headed [[feature]]"))
            return ()
        found = [feature_from_data(table, f"feature {number}", self.problems) for number, table in enumerate(tables, 1)]
        return tuple(feature for feature in found if feature is not None)

    def _folds(self) -> dict[str, str]:
        folds: dict[str, str] = {}
        for name, kind in self._table("folds").items():
            if kind in _FOLDS:
                folds[name] = kind
            else:
                self.problems.append(InputError(f"folds.{name}", repr(kind), f"it must be one of {', '.join(_FOLDS)}"))
        return folds

    def _output(self) -> Output:
        table = self._table("output")
        self._known("output", table, tuple(Output.__slots__))
        formats = table.get("formats", ["dxf", "svg"])
        if not isinstance(formats, list) or not formats:
            must = f"it must be a list of {', '.join(FORMATS)}"
            self.problems.append(InputError("output.formats", repr(formats), must))
            formats = ["dxf"]
        formats = [str(name) for name in formats]
        self.problems += [UnknownNameError("output.formats", name, FORMATS) for name in formats if name not in FORMATS]
        switches = {}
        for key, default in (("notes", False), ("carry_job", True)):
            switches[key] = table.get(key, default)
            if not isinstance(switches[key], bool):
                self.problems.append(InputError(f"output.{key}", repr(switches[key]), "it must be true or false"))
        words = {key: self._choice(key, choices, choices[0], "output.", table) for key, choices in _CHOICES.items()}
        return Output(formats=tuple(dict.fromkeys(formats)), **words, **switches)  # type: ignore[arg-type]  # str and bool keys

    def _support(self) -> None:
        files = self._table("files")
        self._known("files", files, tuple(SUPPORT))
        for key, kind in SUPPORT.items():
            if key not in files:
                continue
            value = files[key]
            if isinstance(value, Mapping) and isinstance(value.get("text"), str):
                self.support[key] = value["text"]
                self.sources[key] = str(value.get("name", f"{kind} of the job"))
            elif not isinstance(value, str):
                self.problems.append(InputError(f"files.{key}", repr(value), "it must be the name of a file"))
            elif self.folder is None:
                self.problems.append(InputError(f"files.{key}", repr(value), "this job may not name files"))
            else:
                path = self.folder / value
                text = self._try(lambda path=path, kind=kind: read_text(path, kind))
                if text is not None:
                    self.support[key], self.sources[key] = text, str(path)


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
