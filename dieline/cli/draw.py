"""``dieline draw``: from what was typed to files and a report."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..errors import DielineError, InputError
from ..features import feature_from_text
from ..job import SUPPORT, Job
from ..job_file import job_from_data, read_job
from ..pipeline import run
from ..textfile import read_text
from .guard import print_json

__all__ = ["Wishes", "draw_all", "job_of"]


@dataclass(frozen=True, kw_only=True)
class Wishes:
    """What the command line asks for beside the target; empty values ask for nothing."""

    board: str = ""
    size: str = ""
    options: tuple[str, ...] = ()
    folds: tuple[str, ...] = ()
    features: tuple[str, ...] = ()
    size_is: str = ""
    unit: str = ""
    files: Mapping[str, Path | None]
    output: Mapping[str, Any]
    mass: str = ""
    name: str = ""
    revision: str = ""

    def over(self, data: dict[str, Any]) -> dict[str, Any]:
        """A job's data with these wishes laid over it."""
        out = dict(data)
        for key in ("board", "size", "size_is", "unit", "name", "revision"):
            if getattr(self, key):
                out[key] = getattr(self, key)
        for key, pairs in (("options", self.options), ("folds", self.folds)):
            if pairs:
                out[key] = {**out.get(key, {}), **dict(_pair(text, key) for text in pairs)}
        if self.features:
            out["feature"] = [*out.get("feature", []), *(feature_from_text(text) for text in self.features)]
        if self.mass:
            out["contents"] = {"mass": self.mass}
        files = {
            key: {"text": read_text(path, SUPPORT[key]), "name": str(path)}
            for key, path in self.files.items()
            if path is not None
        }
        if files:
            out["files"] = {**out.get("files", {}), **files}
        output = {key: value for key, value in self.output.items() if value not in ("", [], False, None)}
        if self.output.get("carry_job") is False:
            output["carry_job"] = False
        if output:
            out["output"] = {**out.get("output", {}), **output}
        return out


def _pair(text: str, key: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip() or not value.strip():
        flag = {"options": "--set", "folds": "--fold"}[key]
        raise InputError(flag, repr(text), "it must be name=value")
    return name.strip(), value.strip()


def job_of(target: Sequence[str], wishes: Wishes) -> Job:
    """The job of one target: a style and a size, a job file, or a drawing that carries its job.

    Raises:
        InputError: If it is none of these.
    """
    if len(target) == 2:
        return job_from_data(wishes.over({"style": target[0], "size": target[1]}), "command line")
    path = Path(target[0])
    suffix = path.suffix.lower()
    if wishes.unit and not wishes.size:
        raise InputError(
            "--unit", repr(wishes.unit), "it speaks of the numbers of a size on the command line", "add --size"
        )
    if suffix == ".toml":
        job = read_job(path)
        return job_from_data(wishes.over(job.data()), str(path)) if wishes != _NO_WISHES else job
    if suffix in (".svg", ".dxf"):
        return job_from_data(wishes.over(_carried(path, suffix)), str(path))
    raise InputError(
        "draw",
        repr(" ".join(target)),
        "it must be a style and a size, a job file (.toml), or a drawing that carries its job (.svg, .dxf)",
        "write: dieline draw 0201 300x200x150 --board C",
    )


_NO_WISHES = Wishes(files={}, output={})


def _carried(path: Path, suffix: str) -> dict[str, Any]:
    """The job that a drawing carries."""
    import json

    text = read_text(path, "drawing")
    try:
        if suffix == ".svg":
            from ..export.read_svg import job_in_svg

            carried = job_in_svg(text)
        else:
            from ..export.read_dxf import job_in_dxf

            carried = job_in_dxf(text)
    except DielineError as error:
        error.where = str(path)
        raise
    if not carried:
        raise InputError(str(path), "carries no job", "it must be a drawing that dieline wrote with its job in it")
    try:
        data = json.loads(carried)
    except ValueError:
        data = None
    if not isinstance(data, dict):
        raise InputError(
            str(path), "carries a job that cannot be read", "it was changed by another program", "draw it anew"
        )
    return data


def draw_all(target: Sequence[str], wishes: Wishes, out: Path, report: str) -> int:
    """Draw every target; the exit code is the worst one."""
    if len(target) > 1 and all(Path(name).suffix.lower() in (".toml", ".svg", ".dxf") for name in target):
        from .draw_many import draw_many

        return draw_many(target, wishes, out, report)
    if len(target) > 2:
        raise InputError("draw", f"{len(target)} targets", "several targets must all be job files or drawings")
    code, data = draw_one(job_of(list(target), wishes), out, report)
    if report == "json":
        print_json(data)
    return code


def draw_one(job: Job, out: Path, report: str, aside: Path | None = None) -> tuple[int, dict[str, Any]]:
    """Draw a job, say what a person wants to know, and return the exit code and the report's data."""
    from ..files import write
    from ..report import report_data

    result = run(job)
    files = [] if result.failures else write(result, out, aside=aside)
    code = 0 if result.ok else 1
    if report == "json":
        return code, report_data(result, [str(path) for path in files])
    from .show import show_result

    show_result(result, files)
    return code, {}
