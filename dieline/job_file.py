"""Reads a job from a file or from plain data, and tells every problem that it meets, each with its place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .board import Board, boards_from_text, find_board
from .errors import DielineError, InputError, JobError, UnknownNameError
from .features import Feature, feature_from_data
from .house import house_from_text
from .job import FORMATS, SUPPORT, Job, Output, SizeKind
from .machine import MachineProfile, machine_from_text
from .registry import find_style
from .sizing import House
from .style.contract import Style
from .style.order import settle
from .textfile import line_of, parse_toml, read_text
from .units import Size, parse_mass, parse_size

if TYPE_CHECKING:
    from .load import Load

__all__ = ["job_from_data", "job_from_text", "read_job"]

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
    "load",
    "files",
    "output",
)
_FOLDS = ("crease", "perforated", "cut-crease", "reverse crease")
_CHOICES = {"dxf": ("R2010", "R12"), "unit": ("mm", "in"), "arcs": ("bulge", "separate"), "side": ("inside", "print")}


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
        load = self._load() if "load" in data else None
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
            load=load,
            name=name,
            revision=revision,
            note=note,
            output=output,
            support=self.support,
            sources=self.sources,
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

    def _load(self) -> Load:
        from .load import load_from_data  # most jobs say nothing of it

        return load_from_data(self._table("load"), self.problems)

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
