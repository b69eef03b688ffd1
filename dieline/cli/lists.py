"""``dieline styles``, ``boards``, ``schema`` and ``checks``: tables for people, one JSON document for scripts."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ..board import Board, boards, find_board, read_boards
from ..job import make_job
from ..registry import BrokenStyle, find_style, iter_styles
from ..style.contract import Style
from ..style.order import Order
from ..style.parameter import Kind, Parameter
from ..units import format_mm
from .guard import print_json

__all__ = ["show_boards", "show_checks", "show_schema", "show_style", "show_styles"]

_ASSEMBLY = {"M": "by hand", "A": "by machine", "MA": "by hand or machine"}


def show_styles(report: str) -> int:
    """The table of styles; broken ones stand in it with their reason."""
    found = list(iter_styles())
    if report == "json":
        print_json([_style_data(entry) for entry in found])
        return 0
    rows = [
        (entry.code, "broken", entry.reason, "")
        if isinstance(entry, BrokenStyle)
        else (entry.code, entry.group, entry.title, _ASSEMBLY[entry.assembly])
        for entry in found
    ]
    _table(("code", "group", "title", "put up"), rows)
    if sys.stdout.isatty():
        print("Slotted codes may be paired, bottom then top: 0201/0204.  One style: dieline styles CODE")
    return 0


def _style_data(entry: Style | BrokenStyle) -> dict[str, Any]:
    if isinstance(entry, BrokenStyle):
        return {"code": entry.code, "broken": entry.reason}
    return {
        "code": entry.code,
        "title": entry.title,
        "group": entry.group,
        "summary": entry.summary,
        "use": entry.use,
        "assembly": entry.assembly,
        "source": entry.source,
        "version": entry.version,
        "example": entry.example,
    }


def show_style(code: str, svg: Path | None, report: str) -> int:
    """One style: what it is, its options at the example size, and a small picture."""
    from ..pipeline import run

    style = find_style(code)
    job = make_job(style.code, style.example, example_board(style))
    result = run(job)
    order = result.order
    if svg is not None:
        _write_example(result, svg)
    if report == "json":
        print_json({**_style_data(style), "parameters": [_parameter_data(p, order) for p in style.parameters]})
        return 0
    print(f"{style.code}  {style.title}\n{style.summary}\n{style.use}\nSource of the code: {style.source}.")
    if style.fourth is not None:
        print(f"Fourth size, after the stroke: {style.fourth.name}, {style.fourth.help}.")
    print(f"\nAt {order.inside} on board {job.board.name}:\n")
    if sys.stdout.isatty() or svg is None:
        from .picture import picture

        print("\n\n".join(picture(drawing) for drawing in result.drawings) + "\n")
    rows = [
        (parameter.name, _value(order.options[parameter.name]), _range(parameter, order), parameter.help)
        for parameter in style.parameters
    ]
    _table(("option", "default", "range", "what it is"), rows)
    meanings = [
        (parameter.name, choice, meaning)
        for parameter in style.parameters
        for choice, meaning in (parameter.choices or {}).items()
        if meaning
    ]
    if meanings:
        print("\nWhat the choices mean:\n")
        _table(("option", "choice", "what it means"), meanings)
    return 0


def example_board(style: Style) -> Board:
    """A board that suits the style's example: C flute if it may be that thick, else E, else thin carton board."""
    for name in ("C", "E", "carton-0.5"):
        board = find_board(name)
        if style.thickness[0] <= board.thickness <= style.thickness[1]:
            return board
    return next(board for board in boards().values() if style.thickness[0] <= board.thickness <= style.thickness[1])


def _write_example(result: Any, svg: Path) -> None:
    from dataclasses import replace

    from ..files import file_texts
    from ..job import Output

    texts = file_texts(replace(result, job=replace(result.job, output=Output(formats=("svg",)))))
    try:
        svg.write_text(next(iter(texts.values())), encoding="utf-8", newline="\n")
    except OSError as error:
        from ..errors import OutputError

        raise OutputError(str(svg), error.strerror or str(error), "it must be a file that may be written") from None


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return format_mm(value) if isinstance(value, float | int) else str(value)


def _range(parameter: Parameter, order: Order) -> str:
    if parameter.kind is Kind.CHOICE:
        return " | ".join(parameter.choices or ())
    if parameter.kind is Kind.SWITCH:
        return "yes | no"
    low, high = parameter.range_for(order)
    if low == float("-inf") and high == float("inf"):
        return parameter.kind.unit
    return f"{Parameter.range_text(low, high)} {parameter.kind.unit}".strip()


def _parameter_data(parameter: Parameter, order: Order) -> dict[str, Any]:
    low, high = parameter.range_for(order)
    return {
        "name": parameter.name,
        "kind": parameter.kind.value,
        "unit": parameter.kind.unit,
        "default": order.options[parameter.name],
        "low": None if low == float("-inf") else low,
        "high": None if high == float("inf") else high,
        "choices": dict(parameter.choices or {}),
        "help": parameter.help,
        "why": parameter.why,
        "source": parameter.source,
    }


def show_boards(file: Path | None, report: str) -> int:
    """The table of boards."""
    found = {**boards(), **(read_boards(file) if file is not None else {})}
    if report == "json":
        print_json(
            [
                {
                    "name": board.name,
                    "wall": board.wall,
                    "flutes": list(board.flutes),
                    "calliper": board.calliper.value,
                    "design_thickness": board.thickness,
                    "flute_height": list(board.flute_height),
                    "flute_pitch": list(board.flute_pitch),
                    "sources": [{"value": key, "source": s, "confidence": c} for key, s, c in board.sources],
                }
                for board in found.values()
            ]
        )
        return 0
    rows = [
        (
            board.name,
            board.wall,
            " ".join(board.flutes) or "-",
            format_mm(board.calliper.value),
            format_mm(board.thickness),
            board.calliper.confidence,
            board.calliper.source,
        )
        for board in found.values()
    ]
    _table(("board", "wall", "flutes", "calliper mm", "design mm", "confidence", "source"), rows)
    return 0


def show_schema() -> int:
    """The JSON Schema of the job file."""
    from ..schema import job_schema

    print_json(job_schema())
    return 0


def show_checks(report: str) -> int:
    """The catalogue of findings."""
    from ..checks import catalogue

    found = list(catalogue())
    if report == "json":
        print_json([{"check": entry.name, "text": entry.text} for entry in found])
        return 0
    _table(("check", "what it checks"), [(entry.name, entry.text.splitlines()[0]) for entry in found])
    return 0


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """A table for a terminal; piped, one row a line with tabs between."""
    if not sys.stdout.isatty():
        for row in rows:
            print("\t".join(row))
        return
    from rich.box import SIMPLE
    from rich.console import Console
    from rich.table import Table

    table = Table(box=SIMPLE, pad_edge=False)
    for head in heads:
        table.add_column(head, overflow="fold")
    for row in rows:
        table.add_row(*row)
    Console().print(table)
