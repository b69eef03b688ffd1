"""The strokes of a blank, taken from its panels: shared edges fold, free edges are cut, nothing is doubled."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..blank import Blank
from ..geometry.arrangement import Carriers
from ..geometry.path import Path
from ..linetypes import Meaning
from .chain import chain_loops, chain_runs

__all__ = ["Stroke", "strokes_of"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """One run of a tool.

    Attributes:
        meaning: What the tool does.
        path: Where it runs, mm.
        name: What it is, for people (``outline``, ``panel 2 – panel 3``).
        outline: Whether it is the outline that frees the blank from the sheet.
    """

    meaning: Meaning
    path: Path
    name: str = ""
    outline: bool = False


def strokes_of(blank: Blank) -> list[Stroke]:
    """Every stroke of a blank, unordered: folds, inner cuts and marks, and the outline.

    An edge shared by two panels with a fold between them takes the fold's meaning; shared without a fold it is one
    slit; an edge of one panel alone is cut. Parts of an edge that no neighbour covers, the ends of slots, are cut.
    """
    carriers = Carriers()
    for number, panel in enumerate(blank.panels):
        for p, q, bulge in panel.outline.segments():
            carriers.add(p, q, bulge, number)
    index = {panel.name: number for number, panel in enumerate(blank.panels)}
    folds = {frozenset((index[fold.parent], index[fold.child])): fold for fold in blank.folds}
    free: list[Path] = []
    slits: list[Path] = []
    strokes: list[Stroke] = []
    runs: dict[tuple[Meaning, str], list[Path]] = {}
    for carrier in carriers:
        for part in carrier.parts():
            path = Path((part.p, part.q), (part.bulge,) if part.bulge else ())
            if len(part.owners) == 1:
                free.append(path)
                continue
            fold = folds.get(frozenset(part.owners))
            if fold is None:
                slits.append(path)
            elif fold.meaning is not None:
                runs.setdefault((fold.meaning, f"{fold.parent} – {fold.child}"), []).append(path)
    for (meaning, name), paths in runs.items():
        strokes += [Stroke(meaning, path, name) for path in chain_runs(paths)]
    strokes += [Stroke(Meaning.CUT, path, "slit") for path in chain_runs(slits)]
    loops = chain_loops(free)
    loops.sort(key=lambda path: -abs(path.area))
    strokes += [Stroke(Meaning.CUT, path, "cut-out") for path in loops[1:]]
    for panel in blank.panels:
        strokes += [Stroke(Meaning.CUT, hole, f"cut-out in {panel.name}") for hole in panel.holes]
        strokes += [Stroke(mark.meaning, mark.path, f"{mark.name} on {panel.name}") for mark in panel.marks]
    return _joined(strokes) + [Stroke(Meaning.CUT, loop, "outline", outline=True) for loop in loops[:1]]


def _joined(strokes: Iterable[Stroke]) -> list[Stroke]:
    """Marks of one meaning that continue each other in a straight line (a tear strip over several walls) become one."""
    kept: list[Stroke] = []
    marks: dict[tuple[Meaning, str], list[Stroke]] = {}
    for stroke in strokes:
        if " on " in stroke.name and not stroke.path.closed and len(stroke.path.points) == 2:
            marks.setdefault((stroke.meaning, stroke.name.split(" on ")[0]), []).append(stroke)
        else:
            kept.append(stroke)
    for (meaning, name), group in marks.items():
        kept += [Stroke(meaning, path, name) for path in chain_runs([stroke.path for stroke in group])]
    return kept
