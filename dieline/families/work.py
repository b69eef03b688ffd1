"""What one worker does: draw an item, write its files whole, and say in a few numbers what it became."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..checks import Severity
from ..errors import DielineError, OutputError
from ..files import write
from ..job_file import job_from_data
from ..linetypes import Meaning
from ..pipeline import Result, run
from .aside import folder_aside
from .plan import Item

__all__ = ["Outcome", "draw_item", "summary_of"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of an item.

    Attributes:
        item: The item.
        files: Name and size (bytes) of each file, relative to the family's folder.
        summary: Its row of the summary.
        reason: Why it was not drawn; empty if it was.
        stop: Whether the whole run must stop (a full disk, a folder that cannot be written).
    """

    item: Item
    files: tuple[tuple[str, int], ...] = ()
    summary: Mapping[str, Any] = field(default_factory=dict)
    reason: str = ""
    stop: bool = False


def draw_item(item: Item, folder: str, by_item: bool, mark: str = "") -> Outcome:
    """Draw one item into the family's folder.

    Args:
        item: The item.
        folder: The family's folder.
        by_item: Whether each item has a folder of its own in it.
        mark: Mark of the run, where several workers draw at once: each writes in a hidden folder of its own first.
    """
    out = Path(folder)
    try:
        result = run(job_from_data(item.job, f"row {item.row}"))
        if result.failures:
            return Outcome(item, reason="; ".join(result.failures))
        files = write(result, out / item.name if by_item else out, aside=folder_aside(out, mark) if mark else None)
        sizes = tuple((path.relative_to(out).as_posix(), path.stat().st_size) for path in files)
        return Outcome(item, sizes, summary_of(result))
    except OutputError as error:
        return Outcome(item, reason=str(error), stop=True)
    except DielineError as error:
        return Outcome(item, reason=" ".join(str(error).split()))
    except Exception as error:  # a style of a stranger may raise anything; one row must not end the run
        return Outcome(item, reason=f"{type(error).__name__}: {error}")


def summary_of(result: Result) -> dict[str, Any]:
    """The row of the summary: sizes in mm, area in m², mass in kg."""
    design, folded, job = result.design, result.folded, result.job
    row: dict[str, Any] = {"style": design.style, "board": job.board.name}
    for name, sizes in (("inside", design.inside[:3]), ("crease", design.crease[:3]), ("outside", folded.outside)):
        row |= {f"{name} {side}": _mm(value) for side, value in zip("LBH", sizes, strict=True)}
    area = sum(piece.blank.area * piece.count for piece in design.pieces) / 1e6
    lengths: dict[Meaning, float] = {}
    for piece, drawing in zip(design.pieces, result.drawings, strict=True):
        for meaning, value in drawing.lengths().items():
            lengths[meaning] = lengths.get(meaning, 0.0) + value * piece.count
    row |= {
        "pieces": sum(piece.count for piece in design.pieces),
        "blank length": _mm(result.drawings[0].width),
        "blank width": _mm(result.drawings[0].height),
        "area m2": round(area, 6),
        "mass kg": round(area * job.board.grammage.value / 1000, 4) if job.board.grammage else None,
        "cut m": round(lengths.get(Meaning.CUT, 0.0) / 1000, 4),
        "crease m": round((lengths.get(Meaning.CREASE, 0.0) + lengths.get(Meaning.CREASE_BACK, 0.0)) / 1000, 4),
    }
    row |= _stack(result)
    severities = [finding.severity for finding in result.findings]
    row |= {f"{severity.value}s": severities.count(severity) for severity in Severity}
    row["machine"] = _machine(result)
    row["worst finding"] = _worst(result)
    row["picture"] = _picture(result)
    return row


def _stack(result: Result) -> dict[str, Any]:
    """Whether it holds its stack, where the job says how it is stacked; N."""
    if result.job.load is None:
        return {}
    from ..stacking import stack_report

    said = stack_report(result)
    if "asked" in said:
        return {"stack": "asks: " + "; ".join(problem["where"] for problem in said["asked"])}
    return {
        "stack": said["verdict"],
        "stack required N": said["required_N"],
        "stack available N": said["available_N"],
        "stack margin": said["margin"],
    }


def _mm(value: float | None) -> float:
    return round(value or 0.0, 3)


def _machine(result: Result) -> str:
    if not result.job.machine.limits:
        return ""
    failed = any(
        finding.check.startswith("machine") and finding.severity is Severity.ERROR for finding in result.findings
    )
    return "fail" if failed else "pass"


def _worst(result: Result) -> str:
    loud = [finding for finding in result.findings if finding.severity is not Severity.NOTE]
    loud.sort(key=lambda finding: finding.severity is not Severity.ERROR)
    return f"{loud[0].place}: {loud[0].message}" if loud else ""


_WIDE, _HIGH = 96.0, 48.0


def _picture(result: Result) -> str:
    """The strokes of the first piece as tiny path data, in a box of 96 by 48."""
    drawing = result.drawings[0]
    scale = min(_WIDE / drawing.width, _HIGH / drawing.height)
    runs = []
    for stroke in drawing.strokes:
        points = stroke.path.flatten(1.0 / scale)
        words = [f"{x * scale:.0f} {(drawing.height - y) * scale:.0f}" for x, y in points]
        kept = [word for word, before in zip(words, [None, *words], strict=False) if word != before]
        if len(kept) > 1:
            runs.append(f"M{'L'.join(kept)}{'Z' if stroke.path.closed else ''}")
    return "".join(runs)
