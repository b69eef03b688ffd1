"""Where the flaps of tube cartons hang: the crease of one wall at one end, with places taken from inside the box."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dieline.style import (
    Face,
    Frame,
    Order,
    Parameter,
    Path,
    Point,
    Role,
    Sheet,
    choice,
    polygon,
)

from .carton import flap_meaning
from .tube import Tube

__all__ = ["PARAMETERS", "Hinge", "inside_length", "level_of"]

PARAMETERS: tuple[Parameter, ...] = (
    choice(
        "creases",
        "Where the flap creases lie.",
        {
            "offset": "each flap a board higher than the one that it covers",
            "one": "two layers on one line; the creases give half a board each way",
        },
        "offset",
    ),
)


def level_of(order: Order, k: float) -> float:
    """Level of the crease of a flap that lies k boards outside the inside space, in boards.

    On one line, layers 0 and 1 share a crease half a board between them, and layer 2 hangs half a board below its own.
    """
    if order.choice("creases") == "offset":
        return k
    return 0.5 if k <= 1.0 else k - 0.5


def inside_length(tube: Tube, *, long: bool) -> float:
    """Inside size along L or along B as the walls are really drawn (house sizes and rounding applied), mm."""
    return tube.width[2 if tube.long(2) == long else 1] - tube.order.thickness


@dataclass(frozen=True, slots=True)
class Hinge:
    """The crease of a wall at one end.

    Places are given as (s, v): s along the wall's inside (x from wall 3 for walls 0 and 2, y from wall 0 for walls 1
    and 3; wall 3 is the one that the lap is glued to), v away from the crease, mm.

    Attributes:
        tube: The tube, its walls worked out.
        index: The wall.
        top: Whether it is the upper end.
    """

    tube: Tube
    index: int
    top: bool

    @property
    def frame(self) -> Frame:
        """The frame of (s, v) on the blank."""
        wall = self.tube.walls[self.index]
        x0 = self.tube.at(self.index, 0.0)
        onward = 1.0 if self.tube.at(self.index, 1.0) > x0 else -1.0
        return Frame((x0, wall.high if self.top else wall.low), (onward, 0.0), (0.0, 1.0 if self.top else -1.0))

    def hang(
        self,
        sheet: Sheet,
        name: str,
        outline: Path | Iterable[Point],
        crease: tuple[float, float],
        *,
        k: float,
        stage: int,
        holes: Iterable[Path] = (),
    ) -> None:
        """Hang a flap on the wall.

        Args:
            sheet: The sheet.
            name: Its name.
            outline: Its outline, (s, v).
            crease: From where to where its crease runs, s.
            k: Boards between it and the inside.
            stage: When it is folded.
            holes: Cut-outs, (s, v).
        """
        order = self.tube.order
        frame = self.frame
        path = outline if isinstance(outline, Path) else polygon(outline)
        sheet.panel(
            name,
            path.placed(frame),
            face=Face.TOP if self.top else Face.BOTTOM,
            k=k,
            role=Role.FLAP,
            holes=[hole.placed(frame) for hole in holes],
        )
        ends = frame.point(crease[0], 0.0), frame.point(crease[1], 0.0)
        shift = (k - level_of(order, k)) * order.thickness
        sheet.fold(self.tube.walls[self.index].name, name, ends, shift=shift, meaning=flap_meaning(order), stage=stage)

    def extend(
        self,
        sheet: Sheet,
        name: str,
        outline: Path | Iterable[Point],
        on: str,
        crease: tuple[Point, Point],
        *,
        face: Face | None,
        k: float,
        stage: int,
        intrudes: bool = False,
    ) -> None:
        """Hang a further panel on a flap that hangs here already: a tuck on its lid.

        Args:
            sheet: The sheet.
            name: Its name.
            outline: Its outline, (s, v).
            on: The flap that it hangs on.
            crease: Its crease, two places (s, v).
            face: The face of the box that it lies in; None if it bounds nothing.
            k: Boards between it and the inside.
            stage: When it is folded.
            intrudes: Whether it may stand in the inside space.
        """
        frame = self.frame
        path = outline if isinstance(outline, Path) else polygon(outline)
        sheet.panel(name, path.placed(frame), face=face, k=k, role=Role.FLAP, intrudes=intrudes)
        ends = frame.point(*crease[0]), frame.point(*crease[1])
        sheet.fold(on, name, ends, meaning=flap_meaning(self.tube.order), stage=stage)
