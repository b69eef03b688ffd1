"""What a die maker asks for a price: pieces, waste, rule by kind, narrow places, and a first estimate of the force."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..drawing.model import Drawing
from ..geometry.arc import Point
from ..linetypes import TOOL_ORDER, Meaning
from ..units import MM_PER_INCH
from .chords import Kind
from .limits import Limits
from .model import Inspected
from .spacing import Spacing
from .waste import WastePiece, least_width

__all__ = ["DieReport", "PieceDie", "Waste", "die_report"]

_KNIVES = (Meaning.CUT, Meaning.PERFORATION, Meaning.HALF_CUT, Meaning.CUT_CREASE)
_NEWTON_PER_LBF = 4.4482216152605
"""Exact by definition: 0.45359237 kg × 9.80665 m/s²."""


@dataclass(frozen=True, slots=True)
class Waste:
    """One piece of waste.

    Attributes:
        area: Its area, mm².
        width: Its narrowest place, mm.
        inner: Whether it is cut out all round; otherwise it lies at the edge of the sheet.
        place: A point in it or on its edge, drawing coordinates.
    """

    area: float
    width: float
    inner: bool
    place: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceDie:
    """The die of one piece, one up.

    Attributes:
        name: Name of the piece.
        count: How many of it make one box.
        rule: Length of each kind of rule, mm, in tool order.
        waste: The pieces of waste, smallest first.
        knife_distance: Least distance of two knives, mm; None if none are within a thumb's breadth.
        small_holes: Holes of up to 3/8 in.
        force_rule: Length of knife that the force is estimated with, mm: close pairs and small holes weigh more.
        force: First estimate of the cutting force, kN, rubber included.
    """

    name: str
    count: int
    rule: Mapping[Meaning, float]
    waste: tuple[Waste, ...]
    knife_distance: float | None
    small_holes: int
    force_rule: float
    force: float


@dataclass(frozen=True, slots=True)
class DieReport:
    """The dies of a design.

    Attributes:
        pieces: One entry for each piece.
    """

    pieces: tuple[PieceDie, ...]

    @property
    def rule(self) -> dict[Meaning, float]:
        """Length of each kind of rule for one of each piece, mm."""
        total: dict[Meaning, float] = {}
        for piece in self.pieces:
            for meaning, length in piece.rule.items():
                total[meaning] = total.get(meaning, 0.0) + length
        return total

    @property
    def knife_distance(self) -> float | None:
        """Least distance of two knives in any piece, mm."""
        return min((piece.knife_distance for piece in self.pieces if piece.knife_distance is not None), default=None)

    @property
    def small_holes(self) -> int:
        """Small holes in all pieces."""
        return sum(piece.small_holes for piece in self.pieces)

    @property
    def force(self) -> float:
        """First estimate of the cutting force for one of each piece, kN."""
        return sum(piece.force for piece in self.pieces)

    def data(self) -> dict[str, Any]:
        """The report as plain data; lengths in mm, areas in mm², forces in kN."""
        return {
            "knife_distance": _rounded(self.knife_distance),
            "small_holes": self.small_holes,
            "cutting_force_kn": round(self.force, 1),
            "pieces": [_piece_data(piece) for piece in self.pieces],
        }


def die_report(inspected: Inspected) -> DieReport:
    """What the die of each piece holds.

    The force is a first estimate: so much for each inch of knife, half the shorter one more for parallel knives that
    stand close, a small hole as much as a good length of knife, and a share on top for the rubber.

    Args:
        inspected: The design and everything that was made of it.

    Source: the limits ``cutting_force``, ``parallel_rules``, ``small_hole``, ``small_hole_rule`` and ``rubber_force``
        (die makers, prodies.com and contechusa.com).
    """
    return DieReport(
        tuple(
            _piece_die(drawing, spacing, waste, inspected.limits, piece.count)
            for piece, drawing, spacing, waste in zip(
                inspected.design.pieces, inspected.drawings, inspected.spacing, inspected.waste, strict=True
            )
        )
    )


def _piece_die(
    drawing: Drawing, spacing: Spacing, pieces: tuple[WastePiece, ...], limits: Limits, count: int
) -> PieceDie:
    lengths = drawing.lengths()
    rule = {meaning: lengths[meaning] for meaning in TOOL_ORDER if meaning in lengths}
    knives = [pair for pair in spacing.facing if Kind.CREASE not in pair.kinds]
    holes = [piece for piece in pieces if piece.inner and piece.across <= limits["small_hole"].value + 1e-6]
    close = limits["parallel_rules"].value
    force_rule = (
        sum(length for meaning, length in rule.items() if meaning in _KNIVES)
        - sum(drawing.strokes[hole.stroke].path.length for hole in holes)
        + sum(pair.shorter / 2 for pair in knives if pair.parallel and pair.distance <= close + 1e-6)
        + len(holes) * limits["small_hole_rule"].value
    )
    pounds = force_rule / MM_PER_INCH * limits["cutting_force"].value * (1 + limits["rubber_force"].value / 100)
    waste = [Waste(piece.area, least_width(piece, spacing), piece.inner, piece.place) for piece in pieces]
    return PieceDie(
        name=drawing.name,
        count=count,
        rule=rule,
        waste=tuple(sorted(waste, key=lambda piece: (round(piece.area, 6), piece.place))),
        knife_distance=knives[0].distance if knives else None,
        small_holes=len(holes),
        force_rule=force_rule,
        force=pounds * _NEWTON_PER_LBF / 1000,
    )


def _piece_data(piece: PieceDie) -> dict[str, Any]:
    return {
        "name": piece.name,
        "count": piece.count,
        "rule": {meaning.value: _rounded(length) for meaning, length in piece.rule.items()},
        "knife_distance": _rounded(piece.knife_distance),
        "small_holes": piece.small_holes,
        "cutting_force_kn": round(piece.force, 1),
        "waste_pieces": len(piece.waste),
        "smallest_waste_mm2": _rounded(min((waste.area for waste in piece.waste), default=None)),
        "narrowest_waste": _rounded(min((waste.width for waste in piece.waste), default=None)),
        "waste": [
            {
                "area": _rounded(waste.area),
                "width": _rounded(waste.width),
                "inner": waste.inner,
                "x": _rounded(waste.place[0]),
                "y": _rounded(waste.place[1]),
            }
            for waste in piece.waste
        ],
    }


def _rounded(value: float | None) -> float | None:
    """A length or an area with rounding noise taken off."""
    return None if value is None else round(value, 3) + 0.0
