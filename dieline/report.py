"""The report of a result as plain data, one JSON document for scripts: lengths in mm, areas in m²."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from .blank import Blank, Panel
from .drawing.model import Drawing
from .linetypes import Meaning

if TYPE_CHECKING:
    from .pipeline import Result

__all__ = ["report_data"]


def report_data(result: Result, files: Sequence[str] = ()) -> dict[str, Any]:
    """The report of a result.

    Args:
        result: The result.
        files: Names of the files that were written.
    """
    design, folded, board = result.design, result.folded, result.job.board
    out: dict[str, Any] = {
        "style": design.style,
        "name": result.job.file_name,
        "ok": result.ok,
        "inside": _lbh(design.inside[:3]),
        "crease": _lbh(design.crease[:3]),
        "outside": _lbh(folded.outside),
        "fourth": design.inside.fourth,
        "board": {
            "name": board.name,
            "wall": board.wall,
            "calliper": board.calliper.value,
            "design_thickness": board.thickness,
        },
        "options": dict(result.order.options),
        "hand": design.hand,
        "pieces": [
            _piece(piece.blank, drawing, piece.count)
            for piece, drawing in zip(design.pieces, result.drawings, strict=True)
        ],
        "sizes": [
            {"name": line.name, "value": _mm(line.value), "derivation": line.derivation} for line in design.sizes
        ],
        "fold": {
            "inside": _lbh(folded.inside),
            "clear": _lbh(folded.clear),
            "clashes": [
                {"a": clash.a, "b": clash.b, "depth": _mm(clash.depth), "volume": _mm(clash.volume)}
                for clash in folded.clashes
            ],
            "open_faces": [{"face": face, "width": _mm(width)} for face, width in folded.open_faces],
        },
        "failures": list(result.failures),
        "die": result.die.data(),
        "findings": [
            {
                "check": finding.check,
                "severity": finding.severity.value,
                "place": finding.place,
                "message": finding.message,
                "measured": finding.measured,
                "limit": finding.limit,
                "source": finding.source,
            }
            for finding in result.findings
        ],
        "files": list(files),
    }
    if result.job.load is not None:
        from .stacking import stack_report  # only a job that speaks of its load

        out["stack"] = stack_report(result)
    return out


def _piece(blank: Blank, drawing: Drawing, count: int) -> dict[str, Any]:
    lengths = drawing.lengths()
    return {
        "name": blank.name,
        "count": count,
        "blank": {"width": _mm(drawing.width), "height": _mm(drawing.height), "area": round(blank.area / 1e6, 9)},
        "cut_length": _mm(lengths.get(Meaning.CUT, 0.0)),
        "crease_length": _mm(lengths.get(Meaning.CREASE, 0.0) + lengths.get(Meaning.CREASE_BACK, 0.0)),
        "perforation_length": _mm(lengths.get(Meaning.PERFORATION, 0.0)),
        "cut_crease_length": _mm(lengths.get(Meaning.CUT_CREASE, 0.0)),
        "panels": [
            {"name": name, "width": _mm(width), "height": _mm(height)} for name, width, height in _panels(blank)
        ],
    }


def _panels(blank: Blank) -> list[tuple[str, float, float]]:
    """Name and size of each panel as drawn; parts that only bend into each other are one."""
    head = {panel.name: panel.name for panel in blank.panels}
    for fold in blank.folds:
        if fold.meaning is None:
            head[fold.child] = head[fold.parent]
    groups: dict[str, list[Panel]] = {}
    for panel in blank.panels:
        groups.setdefault(head[panel.name], []).append(panel)
    sizes = []
    for name, panels in groups.items():
        x0, y0, x1, y1 = zip(*(panel.outline.bounds for panel in panels), strict=True)
        sizes.append((name, max(x1) - min(x0), max(y1) - min(y0)))
    return sizes


def _lbh(values: Sequence[float | None]) -> dict[str, float]:
    return {name: _mm(value) for name, value in zip("LBH", values, strict=True) if value is not None}


def _mm(value: float) -> float:
    """A length with a micrometre's noise rounded off."""
    return round(value, 6) + 0.0
