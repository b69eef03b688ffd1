"""What a person reads after a draw; piped, only the names of the files."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..checks import Severity
from ..linetypes import Meaning
from ..pipeline import Result
from ..units import format_inches, format_mm

if TYPE_CHECKING:
    from ..checks.die_report import PieceDie

__all__ = ["show_result", "sizes_text"]


def sizes_text(values: Sequence[float | None], *, inches: bool = False) -> str:
    """Three sizes as ``300 x 200 x 150``."""
    form = format_inches if inches else format_mm
    return " x ".join(form(value) for value in values if value is not None)


def show_result(result: Result, files: Sequence[Path]) -> None:
    """Say what was drawn and what was proved; findings and failures go to the error stream."""
    terminal = sys.stdout.isatty()
    if terminal:
        print("\n".join(_summary(result)))
    for line in result.failures:
        print(f"failed: {line}", file=sys.stderr)
    for finding in result.findings:
        if finding.severity is Severity.NOTE and not terminal:
            continue
        stream = sys.stdout if finding.severity is Severity.NOTE else sys.stderr
        print(f"{finding.severity.value}: {finding.place}: {finding.message} [{finding.check}]", file=stream)
    if result.failures:
        print("nothing was written: a drawing that fails a proof would not make a box", file=sys.stderr)
    for path in files:
        print(f"wrote {path}" if terminal else path)


def _summary(result: Result) -> list[str]:
    design, folded, board = result.design, result.folded, result.job.board
    lines = [
        f"{design.style} {result.style.title}, {design.inside} inside, "
        f"board {board.name} ({format_mm(board.thickness)} mm)"
    ]
    for name, values in (("inside", design.inside[:3]), ("crease", design.crease[:3]), ("outside", folded.outside)):
        lines.append(f"  {name:8}{sizes_text(values)} mm   {sizes_text(values, inches=True)} in")
    for piece, drawing in zip(design.pieces, result.drawings, strict=True):
        lengths = drawing.lengths()
        tools = ", ".join(
            f"{meaning.value} {format_mm(lengths[meaning] / 1000)} m" for meaning in Meaning if meaning in lengths
        )
        count = f"{piece.count} x " if piece.count > 1 else ""
        lines.append(
            f"  {count}{piece.name}: blank {format_mm(drawing.width)} x {format_mm(drawing.height)} mm, "
            f"{piece.blank.area / 1e6:.4f} m², {tools}"
        )
    lines += [f"  die of {_die(piece)}" for piece in result.die.pieces]
    widest = max((len(line.name) for line in design.sizes), default=0)
    lines += [f"  {line.name:{widest}}  {format_mm(line.value):>7} = {line.derivation}" for line in design.sizes]
    if not result.failures:
        faces = ", ".join(shut.face.value for shut in design.closed)
        lines += [
            f"  flat proof     {sum(report.faces for report in result.flat)} faces bounded, one piece, nothing doubled",
            f"  folded proof   inside measures {sizes_text(folded.inside)} mm, no clash"
            + (f"; shut: {faces}" if faces else ""),
            "  written proof  every file read back and measured to 0.01 mm",
        ]
    return lines


def _die(piece: PieceDie) -> str:
    """What a die maker asks first, in one line."""
    text = f"{piece.name}: {len(piece.waste)} pieces of waste"
    if piece.waste:
        text += f", the smallest {format_mm(piece.waste[0].area / 100)} cm²"
    if piece.knife_distance is not None:
        text += f"; least distance of knives {format_mm(piece.knife_distance)} mm"
    return f"{text}; about {piece.force:.0f} kN to cut"
