"""What closes one end of a tube, as the tube asks for it, and the walls that it hangs on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dieline.style import Blank, Closed, Face, Lock, Motion, Path, Point, Sheet, Step

if TYPE_CHECKING:
    from .tube import Tube

__all__ = ["End", "Wall"]


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall of the tube, as laid out on the blank.

    Attributes:
        index: Counted from the lap, 0 to 3.
        name: ``panel 1`` to ``panel 4``, from left to right.
        long: Whether it is an L panel.
        face: The face of the box that it makes.
        x0: Left end, mm.
        x1: Right end, mm.
        low: Height of the bottom crease or raw edge, mm (0 is the inside floor).
        high: Height of the top crease or raw edge, mm.
    """

    index: int
    name: str
    long: bool
    face: Face
    x0: float
    x1: float
    low: float
    high: float

    @property
    def number(self) -> str:
        """The number in its name."""
        return self.name.removeprefix("panel ")


class End:
    """What closes one end of a tube (a closure), as the tube needs to know it; by itself an open end.

    Args:
        top: Whether it is the top.
    """

    def __init__(self, *, top: bool) -> None:
        self.top = top

    def level(self, wall: int, long: bool) -> float | None:  # noqa: ARG002  # closures ask for one or the other
        """Boards between a wall's crease line and the inside, less one half; None for a raw edge."""
        return None

    def rim(self, wall: int) -> float:  # noqa: ARG002
        """How far a raw edge stands beyond the inside face, in boards; 0 is level with it."""
        return 0.0

    def edge(self, tube: Tube, wall: int) -> list[tuple[Point, float]]:  # noqa: ARG002
        """What is cut into a wall's raw edge: points, each with the bulge after it, walked counter-clockwise."""
        return []

    def holes(self, tube: Tube, wall: int) -> list[Path]:  # noqa: ARG002
        """What is cut out of a wall for this end: slots that tongues go into."""
        return []

    def reach(self, wall: int) -> float:  # noqa: ARG002
        """How far something of this end hangs into the box along the inside of a wall, mm."""
        return 0.0

    def slot(self) -> tuple[float, float, bool]:
        """Width of the slots and their depth past the lower crease (mm), and whether their ends are round."""
        return 0.0, 0.0, False

    def lap_room(self) -> tuple[float, float]:
        """How far the lap must keep from the inside face at this end (mm), and the least bevel of its end (degrees)."""
        return 0.0, 0.0

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang the flaps of this end on the walls."""

    def closed(self, tube: Tube) -> Closed | None:  # noqa: ARG002
        """The face that it shuts, if it shuts one."""
        return None

    def steps(self, tube: Tube) -> list[Step]:  # noqa: ARG002
        """How it is closed once the tube is put up, step by step."""
        return []

    def erected(self, tube: Tube) -> dict[str, tuple[float, float]]:  # noqa: ARG002
        """Its folds once the tube is put up, where it closes with the tube."""
        return {}

    def motions(self, tube: Tube) -> list[Motion]:  # noqa: ARG002
        """How it moves by itself: a bottom while the tube is put up, a top after everything else is closed."""
        return []

    def free(self, tube: Tube) -> list[tuple[str, str]]:  # noqa: ARG002
        """Pairs of panels that are not tested against each other while it is closed: declared tuck-ins."""
        return []

    def locks(self, tube: Tube) -> list[Lock]:  # noqa: ARG002
        """What locks in it."""
        return []

    def flat_bends(self, tube: Tube) -> dict[str, tuple[float, float]]:  # noqa: ARG002
        """Its folds in the tube as it leaves the gluer, where they do not lie flat."""
        return {}

    def flat_joints(self) -> list[str]:
        """Panels of it that carry a glued zone which must also meet in the glued and flat state."""
        return []

    def drawn(self, tube: Tube, blank: Blank) -> Blank:  # noqa: ARG002
        """The blank as it is cut, where that differs from the one that is folded in the proof."""
        return blank

    def facts(self, tube: Tube) -> dict[str, float]:  # noqa: ARG002
        """Numbers for findings and the drawing, mm."""
        return {}
