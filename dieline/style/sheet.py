"""Builds a blank panel by panel, the way the trade describes it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..blank import Blank, Face, Fold, Joint, Mark, Panel, Role, Seam
from ..geometry.arc import Point
from ..geometry.path import Frame, Path, polygon
from ..linetypes import Meaning

__all__ = ["Sheet"]


class Sheet:
    """Builds a blank panel by panel, the way the trade describes it: take an edge, hang a panel on it.

    Args:
        name: Name of the piece.
        flutes: Direction of flutes or grain: ``y`` or ``x``.
    """

    def __init__(self, name: str = "body", *, flutes: str = "y") -> None:
        self.name = name
        self.flutes = flutes
        self._panels: list[Panel] = []
        self._folds: list[Fold] = []
        self._joints: list[Joint] = []
        self._seams: list[Seam] = []

    def panel(
        self,
        name: str,
        outline: Path | Iterable[Point],
        *,
        face: Face | None = None,
        k: float = 0.0,
        role: Role = Role.PART,
        intrudes: bool = False,
        holes: Sequence[Path] = (),
        marks: Sequence[Mark] = (),
    ) -> Panel:
        """Lay down a panel given in blank coordinates; the first one is the root.

        Args:
            name: Its name.
            outline: Closed path, or the corners of a polygon.
            face: The face of the box that it makes.
            k: Boards between it and the inside.
            role: What it is for.
            intrudes: Whether it may stand in the inside space.
            holes: Closed cut-outs.
            marks: Strokes inside it.
        """
        path = outline if isinstance(outline, Path) else polygon(outline)
        made = Panel(
            name=name,
            outline=path.counter_clockwise(),
            holes=tuple(hole.counter_clockwise() for hole in holes),
            marks=tuple(marks),
            face=face,
            k=k,
            role=role,
            intrudes=intrudes,
        )
        self._panels.append(made)
        return made

    def fold(
        self,
        parent: str,
        child: str,
        line: tuple[Point, Point],
        *,
        angle: float = 90.0,
        shift: float = 0.0,
        meaning: Meaning | None = Meaning.CREASE,
        stage: int = 1,
        give: float | None = None,
    ) -> None:
        """Join two panels that are laid down already by a fold; see ``Fold`` for the meaning of each argument."""
        self._folds.append(
            Fold(
                parent=parent,
                child=child,
                line=line,
                angle=angle,
                shift=shift,
                meaning=meaning,
                stage=stage,
                give=give,
            )
        )

    def hang(
        self,
        name: str,
        on: str,
        edge: tuple[Point, Point],
        outline: Path | Iterable[Point],
        *,
        angle: float = 90.0,
        shift: float = 0.0,
        meaning: Meaning | None = Meaning.CREASE,
        stage: int = 1,
        give: float | None = None,
        face: Face | None = None,
        k: float = 0.0,
        role: Role = Role.FLAP,
        intrudes: bool = False,
    ) -> Panel:
        """Hang a panel on an edge of another.

        Args:
            name: Name of the new panel.
            on: Name of the panel that it hangs on.
            edge: The edge, walked counter-clockwise round that panel.
            outline: The new panel in the edge's own frame: u along the edge from its first point, v away from it.
            angle: How far it turns, degrees.
            shift: How far it leaves the crease, mm.
            meaning: How the fold is made.
            stage: When it is folded.
            give: Greatest shift allowed, mm.
            face: The face of the box that it makes.
            k: Boards between it and the inside.
            role: What it is for.
            intrudes: Whether it may stand in the inside space.
        """
        path = outline if isinstance(outline, Path) else polygon(outline)
        made = self.panel(name, path.placed(Frame.outward(*edge)), face=face, k=k, role=role, intrudes=intrudes)
        self.fold(on, name, edge, angle=angle, shift=shift, meaning=meaning, stage=stage, give=give)
        return made

    def seam(
        self, a: str, b: str, line: tuple[Point, Point], *, meaning: Meaning | None = Meaning.CREASE, miss: float = 0.0
    ) -> None:
        """Close a loop: two panels laid down already are one board along this edge; see ``Seam``."""
        self._seams.append(Seam(a=a, b=b, line=line, meaning=meaning, miss=miss))

    def join(self, joint: Joint) -> None:
        """Hold two panels together in the finished box."""
        self._joints.append(joint)

    def blank(self) -> Blank:
        """The finished blank.

        Raises:
            StyleError: If panels and folds do not make one tree.
        """
        return Blank(
            self.name, tuple(self._panels), tuple(self._folds), tuple(self._joints), self.flutes, tuple(self._seams)
        )
