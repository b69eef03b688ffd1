"""The strokes of a blank, taken from its panels: shared edges fold, free edges are cut, nothing is doubled."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from ..blank import Blank
from ..geometry.arc import Point
from ..geometry.arrangement import Carriers
from ..geometry.path import Path
from ..geometry.tolerance import NODING
from ..linetypes import Meaning
from .chain import Step, chain_loops, chain_runs

__all__ = ["Stroke", "StrokeRole", "strokes_of"]


class StrokeRole(Enum):
    """What a stroke is in the blank, whatever the tool that makes it."""

    OUTLINE = ("outline", True)
    FOLD = ("fold", True)
    SLIT = ("slit", True)
    GAP = ("gap", True)
    HOLE = ("hole", False)
    MARK = ("mark", False)

    parts: bool
    """Whether it parts one panel from another or from the sheet; holes and marks lie within a panel."""

    def __new__(cls, word: str, parts: bool) -> StrokeRole:
        """A role known by its word."""
        role = object.__new__(cls)
        role._value_ = word
        role.parts = parts
        return role


@dataclass(frozen=True, slots=True)
class Stroke:
    """One run of a tool.

    Attributes:
        meaning: What the tool does.
        path: Where it runs, mm.
        name: What it is, for people (``outline``, ``panel 2 – panel 3``).
        role: What it is in the blank.
    """

    meaning: Meaning
    path: Path
    name: str = ""
    role: StrokeRole = StrokeRole.MARK

    @property
    def outline(self) -> bool:
        """Whether it is the outline that frees the blank from the sheet."""
        return self.role is StrokeRole.OUTLINE


_Line = tuple[Point, Point]

_SLIT: tuple[Meaning | None, str, str, _Line] = (None, "", "", ((0.0, 0.0), (0.0, 0.0)))


def strokes_of(blank: Blank) -> list[Stroke]:
    """Every stroke of a blank, unordered: folds, inner cuts and marks, and the outline.

    An edge shared by two panels with a fold between them takes the fold's meaning; shared without a fold, or straight
    and beside the fold's line, it is one slit; an edge of one panel alone is cut. Parts of an edge that no neighbour
    covers, the ends of slots, are cut.
    """
    carriers = Carriers()
    for number, panel in enumerate(blank.panels):
        for p, q, bulge in panel.outline.segments():
            carriers.add(p, q, bulge, number)
    index = {panel.name: number for number, panel in enumerate(blank.panels)}
    folds = {
        frozenset((index[fold.parent], index[fold.child])): (fold.meaning, fold.parent, fold.child, fold.line)
        for fold in blank.folds
    }
    folds |= {
        frozenset((index[seam.a], index[seam.b])): (seam.meaning, seam.a, seam.b, seam.line) for seam in blank.seams
    }
    free: list[Step] = []
    slits: list[Step] = []
    strokes: list[Stroke] = []
    runs: dict[tuple[Meaning, str], list[Step]] = {}
    for carrier in carriers:
        for p, q, bulge, owners in carrier.parts():
            if len(owners) == 1:
                free.append((p, q, bulge))
                continue
            meaning, one, other, line = folds.get(frozenset(owners), _SLIT)
            if one == other or not (bulge or _along(line, p, q)):
                slits.append((p, q, bulge))
            elif meaning is not None:
                runs.setdefault((meaning, f"{one} – {other}"), []).append((p, q, bulge))
    for (meaning, name), steps in runs.items():
        strokes += [Stroke(meaning, path, name, StrokeRole.FOLD) for path in chain_runs(steps)]
    strokes += [Stroke(Meaning.CUT, path, "slit", StrokeRole.SLIT) for path in chain_runs(slits)]
    loops = chain_loops(free)
    if len(loops) > 1:
        loops.sort(key=lambda path: -abs(path.area))
    strokes += [Stroke(Meaning.CUT, path, "gap", StrokeRole.GAP) for path in loops[1:]]
    for panel in blank.panels:
        strokes += [Stroke(Meaning.CUT, hole, f"cut-out in {panel.name}", StrokeRole.HOLE) for hole in panel.holes]
    strokes += _marks(blank)
    strokes += [Stroke(Meaning.CUT, loop, "outline", StrokeRole.OUTLINE) for loop in loops[:1]]
    return strokes


def _along(line: _Line, p: Point, q: Point) -> bool:
    """Whether two points lie on a fold's line; what two folded panels share beside it is slit (the ears of a tuck)."""
    (ax, ay), (bx, by) = line
    (px, py), (qx, qy) = p, q
    ux, uy = bx - ax, by - ay
    most = NODING * math.hypot(ux, uy)
    return abs(ux * (py - ay) - uy * (px - ax)) <= most and abs(ux * (qy - ay) - uy * (qx - ax)) <= most


def _marks(blank: Blank) -> list[Stroke]:
    """The marks; straight ones that continue each other (a tear strip over several walls) are one."""
    found: list[Stroke] = []
    straight: dict[tuple[Meaning, str], list[Step]] = {}
    for panel in blank.panels:
        for mark in panel.marks:
            if not mark.path.closed and not mark.path.bulges and len(mark.path.points) == 2:
                p, q = mark.path.points
                straight.setdefault((mark.meaning, mark.name), []).append((p, q, 0.0))
            else:
                found.append(Stroke(mark.meaning, mark.path, f"{mark.name} on {panel.name}"))
    for (meaning, name), steps in straight.items():
        found += [Stroke(meaning, path, name) for path in chain_runs(steps)]
    return found
