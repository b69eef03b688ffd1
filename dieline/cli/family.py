"""``dieline family``: a table of sizes in, a folder of drawings and a summary out."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ..errors import InputError
from ..families import FamilyResult, family
from ..families.plan import Failure
from ..families.summary import FAILED
from .bar import Bar
from .draw import Wishes
from .guard import print_json

__all__ = ["TEMPLATE", "family_command"]

_TOLD = 20
"""How many different reasons are printed; all rows stand in the file to mend."""

TEMPLATE = """\
name,length (mm),breadth (mm),height (mm),board,lap_width (mm),customer note
small kettle,240,220,210,C,,front shop
kettle,260,240,230,C,,
kettle with tray,260..320 step 20,240,260,C,40,trial range
travel kettle,180,160,170,B,,
"""
"""An example of a table, every row of which can be drawn with ``--style 0201``."""


def family_command(
    table: str,
    wishes: Wishes,
    out: Path,
    *,
    template: bool,
    style: str,
    job: Path | None,
    names: str,
    by_item: bool,
    pack: bool,
    summaries: Sequence[str],
    near: float,
    workers: int,
    cluster: str,
    report: str,
) -> int:
    """Draw a family; the exit code says whether every row was drawn."""
    if template:
        sys.stdout.write(TEMPLATE)
        return 0
    if not table:
        raise InputError(
            "family", "no table", "it must name a CSV, XLSX or TOML file", "see: dieline family --template"
        )
    base = _base(style, job, wishes)
    with Bar(report) as bar:
        result = family(
            Path(table),
            out,
            base=base,
            names=names,
            by_item=by_item,
            pack=pack,
            summaries=tuple(summaries) or ("csv", "html"),
            near=near,
            workers=workers or None,
            cluster=cluster,
            progress=bar.step,
        )
    if report == "json":
        print_json(_data(result))
    else:
        _say(result)
    return 0 if result.ok else 1


def _base(style: str, job: Path | None, wishes: Wishes) -> dict[str, Any]:
    from ..job_file import read_job

    data = read_job(job).data() if job is not None else {}
    data.pop("size", None)
    if style:
        data["style"] = style
    return wishes.over(data)


def _data(result: FamilyResult) -> dict[str, Any]:
    return {
        "ok": result.ok,
        "drawn": result.drawn,
        "kept": result.kept,
        "flagged": result.flagged,
        "failed": [{"row": failure.row, "reason": failure.reason} for failure in result.failures],
        "removed": list(result.removed),
        "files": [str(path) for path in result.files],
    }


def _reason(failure: Failure) -> str:
    """Why a row was not drawn, with its row; rows of one range may say the same."""
    row = f"row {failure.row}"
    return failure.reason if failure.reason.startswith(row) else f"{row}: {failure.reason}"


def _say(result: FamilyResult) -> None:
    told = dict.fromkeys(_reason(failure) for failure in result.failures)
    for reason in list(told)[:_TOLD]:
        print(reason, file=sys.stderr)
    if len(told) > _TOLD:
        print(f"… and {len(told) - _TOLD} more", file=sys.stderr)
    for name in result.removed:
        print(f"no longer in the table: {name} (its files are left)", file=sys.stderr)
    if sys.stdout.isatty():
        kept = f", {result.kept} kept from before" if result.kept else ""
        print(
            f"{result.drawn} drawn{kept}, {len(result.failures)} failed, {result.flagged} with a finding of error level"
        )
    for path in result.files:
        print(path)
    if result.failures:
        print(f"rows to mend: {result.folder / FAILED}", file=sys.stderr)
