"""The walls of a box as its strength sees them: plain values, gathered by whoever knows the folded box."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["BoxShape", "Wall"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One of the upright walls.

    Attributes:
        face: ``front``, ``back``, ``left`` or ``right``.
        length: Level length, mm.
        upright: Boards in it whose flutes stand upright and that reach from the base to the top.
        lying: Boards in it whose flutes lie, and that reach from the base to the top.
        open_width: Sum of the widths of holes and cut-outs in it, mm.
    """

    face: str
    length: float
    upright: int = 1
    lying: int = 0
    open_width: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxShape:
    """The box as its strength sees it.

    Attributes:
        outside: L, B and H over everything, mm.
        thickness: Thickness of its board, mm.
        walls: Its upright walls.
        regular: Whether it is a slotted box, as the formulas were fitted on.
        style: Its style in words.
        pieces: How many pieces it has.
        tears: Whether a wall has a tear strip or perforation.
        area: Board in it, m²; 0 where not known.
        layers: Boards across L, B and H that grow with the board's thickness, in thicknesses.
    """

    outside: tuple[float, float, float]
    thickness: float
    walls: tuple[Wall, ...]
    regular: bool = True
    style: str = "0201"
    pieces: int = 1
    tears: bool = False
    area: float = 0.0
    layers: tuple[float, float, float] = (2.0, 2.0, 4.0)

    @property
    def perimeter(self) -> float:
        """Perimeter Z through the middle of the board, mm."""
        return 2.0 * (self.outside[0] + self.outside[1] - 2.0 * self.thickness)

    @property
    def height(self) -> float:
        """Outside height, mm."""
        return self.outside[2]

    @property
    def bearing(self) -> float:
        """Share of the perimeter whose board stands with upright flutes, 0 to 1."""
        total = sum(wall.length for wall in self.walls)
        return sum(wall.length for wall in self.walls if wall.upright) / total if total else 0.0

    def on(self, thickness: float) -> BoxShape:
        """The same inside in board of another thickness, by the rule of sizes (so many boards across each side)."""
        import dataclasses

        more = thickness - self.thickness
        length, breadth, height = (side + count * more for side, count in zip(self.outside, self.layers, strict=True))
        return dataclasses.replace(self, outside=(length, breadth, height), thickness=thickness)
