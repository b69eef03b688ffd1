"""What a worker can be asked for, each made from ``pipeline.run`` and the tables of the product."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from ..board import Board, boards, boards_from_text
from ..errors import DielineError
from ..job import FORMATS, Job
from ..job_file import job_from_data, read_job
from ..pipeline import Result, run
from ..registry import BrokenStyle, find_style, iter_styles
from ..report import report_data
from ..style.contract import Style
from ..textfile import parse_toml, read_text
from .errors import RefusalError, refusal_of
from .form import form_data
from .job_text import job_text
from .openapi import openapi_data
from .scene import scene_data

__all__ = ["VERBS", "answer_draw", "answer_files"]

MEDIA = {"dxf": "image/vnd.dxf", "svg": "image/svg+xml", "job": "application/toml", "page": "text/html"}
"""Media types of what can be taken away."""


def answer_draw(data: Mapping[str, Any]) -> dict[str, Any]:
    """A job drawn: the job as understood, the report, what the page draws, and the form.

    Args:
        data: The job as a job file holds it; it may carry the text of files, but may not name any.
    """
    job = job_from_data(data, "order")
    return _drawn(run(job))


def _drawn(result: Result) -> dict[str, Any]:
    job, style = result.job, result.style
    board = job.board
    return {
        "job": job.data(),
        "style": {
            "code": style.code,
            "title": style.title,
            "summary": style.summary,
            "use": style.use,
            "source": style.source,
        },
        "grammage": board.grammage.value if board.grammage else None,
        "own_boards": [_board(own) for own in _own_boards(job)],
        "report": report_data(result),
        "scene": scene_data(result),
        "form": form_data(style, job, result.order),
    }


def _own_boards(job: Job) -> list[Board]:
    text = job.support.get("boards")
    return list(boards_from_text(text, "board file of the job").values()) if text else []


def answer_form(data: Mapping[str, Any]) -> dict[str, Any]:
    """The form of a style, for a job whose options may still be wrong."""
    needed = ("style", "size", "size_is", "unit", "board", "files")
    job = job_from_data({key: data[key] for key in needed if key in data}, "order")
    return form_data(find_style(job.style), job)


def answer_files(data: Mapping[str, Any]) -> dict[str, Any]:
    """The files of one kind, written, read back and measured as ``dieline draw`` does it, or the job as a job file.

    Args:
        data: ``job`` and ``kind``: one of ``FORMATS``, ``job``, or ``page`` for the whole page as one file.
    """
    kind = data.get("kind")
    if kind not in (*FORMATS, "job", "page"):
        must = f"it must be one of {', '.join((*FORMATS, 'job', 'page'))}"
        raise RefusalError.of(422, "input", "kind", repr(kind), must)
    job = job_from_data(data.get("job", {}), "order")
    if kind == "job":
        return {"files": [_file(f"{job.file_name}.toml", kind, job_text(job))]}
    if kind == "page":
        from .page import mail_page

        return {"files": [_file(f"{job.file_name}.html", kind, mail_page(job))]}
    result = run(replace(job, output=replace(job.output, formats=(kind,))))
    return {"files": [_file(name, kind, text) for name, text in written(result).items()]}


def written(result: Result) -> dict[str, str]:
    """The files of a result by name, after they stood on disk and were read back from there.

    Raises:
        ProofError: If a proof failed.
    """
    from ..files import write

    with TemporaryDirectory(prefix="dieline-") as folder:
        return {path.name: path.read_text(encoding="utf-8") for path in write(result, Path(folder))}


def _file(name: str, kind: str, text: str) -> dict[str, str]:
    media = MEDIA["svg"] if kind.endswith("svg") else MEDIA[kind]
    return {"name": name, "kind": kind, "media": media, "text": text}


def answer_catalogue(_: Mapping[str, Any]) -> dict[str, Any]:
    """The styles and boards to choose from; broken styles with the reason why."""
    found = list(iter_styles())
    tops = _tops([style for style in found if isinstance(style, Style)])
    return {
        "styles": [_style(style, tops) for style in found if isinstance(style, Style)],
        "broken": [{"code": style.code, "reason": style.reason} for style in found if isinstance(style, BrokenStyle)],
        "boards": [_board(board) for board in boards().values()],
        "formats": FORMATS,
    }


def _style(style: Style, tops: Mapping[str, list[str]]) -> dict[str, Any]:
    return {
        "code": style.code,
        "title": style.title,
        "summary": style.summary,
        "group": style.group,
        "example": style.example,
        "thickness": style.thickness,
        "tops": tops.get(style.code, []),
    }


def _tops(styles: list[Style]) -> dict[str, list[str]]:
    """For each style that takes another closure at the top: the styles whose closure it takes."""
    codes = [style.code for style in styles]
    return {
        style.code: [code for code in codes if code != style.code and _pairs(style, code)]
        for style in styles
        if style.combine is not None
    }


def _pairs(style: Style, code: str) -> bool:
    try:
        return style.combine is not None and style.combine(code) is not None
    except Exception:  # whatever a stranger's style raises: then it does not pair
        return False


def _board(board: Board) -> dict[str, Any]:
    return {
        "name": board.name,
        "wall": board.wall,
        "flutes": "".join(board.flutes),
        "thickness": board.thickness,
        "grammage": board.grammage.value if board.grammage else None,
        "note": board.note,
    }


def answer_read(data: Mapping[str, Any]) -> dict[str, Any]:
    """The job file that the server was started on, or what is wrong with it, and the files that it leans on.

    Only the server asks for this, with the file that it was started on; no page can.
    """
    path = Path(data["path"])
    leans_on = _leaned_on(path)
    try:
        return {"job": read_job(path).data(), "leans_on": leans_on}
    except DielineError as error:
        refusal = refusal_of(error).data()
        return {"job": None, "error": _without_folder(refusal, path), "leans_on": leans_on}


def _leaned_on(path: Path) -> list[str]:
    """The files that a job file names, even where something is wrong with it or with them."""
    try:
        files = parse_toml(read_text(path, "job file"), str(path), "job file").get("files")
    except DielineError:
        return []
    names = files.values() if isinstance(files, Mapping) else ()
    return [str(path.parent / name) for name in names if isinstance(name, str)]


def _without_folder(refusal: Any, path: Path) -> Any:
    """A refusal that names files without their folder: that is no business of a page."""
    if isinstance(refusal, str):
        return refusal.replace(str(path), path.name).replace(str(path.parent / "_")[:-1], "")
    if isinstance(refusal, Mapping):
        return {key: _without_folder(value, path) for key, value in refusal.items()}
    return [_without_folder(value, path) for value in refusal] if isinstance(refusal, list) else refusal


def answer_openapi(_: Mapping[str, Any]) -> dict[str, Any]:
    """The description of this interface."""
    return openapi_data(
        [style.code for style in iter_styles() if isinstance(style, Style)], list(boards()), [*FORMATS, "job", "page"]
    )


VERBS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "draw": answer_draw,
    "form": answer_form,
    "files": answer_files,
    "catalogue": answer_catalogue,
    "openapi": answer_openapi,
    "read": answer_read,
}
"""What a worker can be asked for."""
