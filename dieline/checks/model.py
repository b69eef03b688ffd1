"""What a finding is, what every check is given, and the list of checks."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property

from ..blank import Panel, Role
from ..board import Board
from ..drawing.model import Drawing, Side
from ..fold import FoldReport
from ..geometry.arc import Point
from ..linetypes import Meaning
from ..machine import MachineProfile
from ..style.design import Design
from ..style.order import Order
from ..units import format_mm
from .limits import Limit, Limits, shipped_limits
from .spacing import Spacing, measure_spacing
from .waste import WastePiece, waste_pieces

__all__ = ["Check", "Finding", "Inspected", "Severity", "catalogue", "check", "inspect"]

_LEAST_REACH = 12.0
"""mm. Up to here distances of knives are looked for, so that the die report can state one for ordinary slots."""


class Severity(Enum):
    """How much a finding matters."""

    NOTE = "note"
    WARNING = "warning"
    ERROR = "error"


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check says about one place.

    Attributes:
        check: Name of the check.
        severity: A note to read, a warning to decide on, or an error: it cannot be made or used so.
        place: Where: a panel, or a place in drawing coordinates.
        message: One line: the number, the limit, who says so, what to change.
        measured: What was measured, in the limit's unit; None where nothing is.
        limit: The limit that it was held against.
        source: What the limit rests on.
    """

    check: str
    severity: Severity
    place: str
    message: str
    measured: float | None = None
    limit: float | None = None
    source: str = ""


@dataclass(frozen=True, kw_only=True)
class Inspected:
    """What every check is given. What several checks need is worked out once.

    Attributes:
        order: The settled order.
        design: The design.
        board: Its board.
        drawings: The cut drawing of each piece.
        folded: What the folded box measured.
        machine: The plant's machine.
        mass: Mass of the contents, kg; None where not known.
        limits: What is held against it.
    """

    order: Order
    design: Design
    board: Board
    drawings: tuple[Drawing, ...]
    folded: FoldReport
    machine: MachineProfile = field(default_factory=MachineProfile)
    mass: float | None = None
    limits: Limits = field(default_factory=shipped_limits)

    @cached_property
    def spacing(self) -> tuple[Spacing, ...]:
        """How near the strokes of each piece come to each other."""
        limits = self.limits
        names = ("knife_distance", "slot_from_rule", "parallel_rules")
        reach = max(_LEAST_REACH, self.crease_apart, self.crease_to_edge, *(limits[name].value for name in names))
        return tuple(measure_spacing(drawing, reach) for drawing in self.drawings)

    @cached_property
    def waste(self) -> tuple[tuple[WastePiece, ...], ...]:
        """The pieces of waste of each piece."""
        return tuple(
            waste_pieces(drawing, spacing) for drawing, spacing in zip(self.drawings, self.spacing, strict=True)
        )

    @property
    def crease_apart(self) -> float:
        """Least distance of two creases on this board, mm."""
        limits = self.limits
        return limits["crease_apart_factor"].value * (self.board.calliper.value + limits["crease_rule_width"].value)

    @property
    def crease_to_edge(self) -> float:
        """Least distance of a crease from a cut beside it, mm: on solid board only the rubber must fit."""
        return self.limits["crease_to_edge_least" if self.board.corrugated else "knife_distance"].value

    @cached_property
    def panels(self) -> tuple[tuple[str, Panel], ...]:
        """Every panel with its name, that of its piece in front where there are several."""
        return tuple(
            (self.panel_name(number, panel.name), panel)
            for number, piece in enumerate(self.design.pieces)
            for panel in piece.blank.panels
        )

    @cached_property
    def walls(self) -> tuple[tuple[str, Panel], ...]:
        """The walls with their names."""
        return tuple(entry for entry in self.panels if entry[1].role is Role.WALL)

    @property
    def slotted(self) -> bool:
        """Whether it is a corrugated case with slots between its flaps."""
        return self.board.corrugated and "slot width" in self.design.facts

    def panel_name(self, piece: int, name: str) -> str:
        """Name of a panel, that of its piece in front where there are several."""
        return f"{self.design.pieces[piece].name}: {name}" if len(self.design.pieces) > 1 else name

    def place(self, piece: int, point: Point) -> str:
        """Words for a point of a drawing: the panel that it lies on or beside, and its coordinates."""
        import shapely  # only when there is something to report

        from ..geometry.region import region

        blank, drawing = self.design.pieces[piece].blank, self.drawings[piece]
        x0, y0, x1, _ = blank.bounds
        x, y = point
        spot = shapely.Point(x1 - x if drawing.side is Side.PRINT else x + x0, y + y0)
        away = [shapely.distance(region(panel.outline, chord=0.1), spot) for panel in blank.panels]
        nearest = min(range(len(away)), key=away.__getitem__)
        name = self.panel_name(piece, blank.panels[nearest].name)
        return f"{name} at x {format_mm(x, 1)}, y {format_mm(y, 1)}"

    @cached_property
    def openings(self) -> tuple[tuple[str, Panel, str, tuple[float, float, float, float]], ...]:
        """Every cut-out of a wall and every flap cut into one: the wall, what it is, its bounds in the blank, mm."""
        return tuple(
            (name, panel, what, bounds)
            for name, panel in self.walls
            if panel.holes or panel.marks
            for what, bounds in self._openings(panel)
        )

    def _openings(self, panel: Panel) -> Iterator[tuple[str, tuple[float, float, float, float]]]:
        options = self.order.options
        asked = options.get("hand_hole_width"), options.get("hand_hole_height")
        for hole in panel.holes:
            bounds = hole.bounds
            size = bounds[2] - bounds[0], bounds[3] - bounds[1]
            is_hand = all(isinstance(a, float) and abs(a - b) < 1e-6 for a, b in zip(asked, size, strict=True))
            yield ("hand hole" if is_hand and options.get("hand_holes") != "none" else "cut-out"), bounds
        for mark in panel.marks:
            if mark.meaning is Meaning.CUT and mark.name:
                yield mark.name, mark.path.bounds


_Run = Callable[[Inspected], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Check:
    """One check, as the catalogue lists it.

    Attributes:
        name: Its short name, which never changes.
        family: The file that it stands in.
        run: What does it.
        limits: The limits that it holds designs against.
        rests_on: What it rests on where that is no number.
    """

    name: str
    family: str
    run: _Run
    limits: tuple[str, ...] = ()
    rests_on: str = ""

    @property
    def text(self) -> str:
        """Its whole docstring, unindented: what, why, limit, a failing and a passing example."""
        import inspect as introspection  # only for the catalogue

        return introspection.getdoc(self.run) or ""

    @property
    def what(self) -> str:
        """What it checks, in one paragraph."""
        return " ".join(self.text.split("\n\n")[0].split())

    def part(self, heading: str) -> str:
        """One part of the docstring: ``Why``, ``Limit``, ``Fails`` or ``Passes``."""
        found = re.search(rf"^{heading}: (.*?)(?=^\w+: |\Z)", self.text, re.MULTILINE | re.DOTALL)
        return "" if found is None else " ".join(found[1].split())

    @property
    def source(self) -> str:
        """What its limits rest on, each source once."""
        shipped = shipped_limits()
        return self.rests_on or "; ".join(dict.fromkeys(shipped[name].source for name in self.limits))

    def limit_values(self) -> tuple[Limit, ...]:
        """The shipped limits that it uses."""
        shipped = shipped_limits()
        return tuple(shipped[name] for name in self.limits)


_CHECKS: list[Check] = []


def check(name: str, *limits: str, source: str = "") -> Callable[[_Run], _Run]:
    """Puts a check on the list.

    Args:
        name: Its short name.
        limits: Names of the limits that it uses.
        source: What it rests on where that is no limit.
    """

    def register(run: _Run) -> _Run:
        _CHECKS.append(Check(name, run.__module__.rpartition(".")[2], run, limits, source))
        return run

    return register


def inspect(inspected: Inspected) -> tuple[Finding, ...]:
    """Every finding about a design, in the order of the catalogue.

    Args:
        inspected: The design and everything that was made of it.
    """
    return tuple(finding for entry in _CHECKS for finding in entry.run(inspected))


def catalogue() -> tuple[Check, ...]:
    """Every check, family by family."""
    return tuple(_CHECKS)
