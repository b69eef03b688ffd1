"""The blank: panels with closed outlines, the tree of folds between them, and the joints that hold them.

A blank is flat. Its coordinates are mm, x to the right and y up, z = 0 at the middle of the board, and +z is the
inside of the box: a blank is seen from the inside, as the case code draws it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property

from .errors import StyleError
from .geometry.arc import Point
from .geometry.path import Path
from .linetypes import Meaning

__all__ = ["Blank", "Face", "Fold", "Joint", "JointKind", "Mark", "Panel", "Role", "Seam"]


class Face(Enum):
    """A face of the box. L runs along x, B along y, H along z; the front is y = 0, seen with x to the right."""

    LEFT = ("left", 0, False)
    RIGHT = ("right", 0, True)
    FRONT = ("front", 1, False)
    BACK = ("back", 1, True)
    BOTTOM = ("bottom", 2, False)
    TOP = ("top", 2, True)

    axis: int
    """The axis it stands across: 0, 1 or 2."""
    far: bool
    """Whether it is the face at the greater end of its axis."""

    def __new__(cls, word: str, axis: int, far: bool) -> Face:
        """A face known by its word."""
        face = object.__new__(cls)
        face._value_ = word
        face.axis, face.far = axis, far
        return face


class Role(Enum):
    """What a panel is for; reports and machine limits ask for it."""

    WALL = "wall"
    FLAP = "flap"
    LAP = "lap"
    PART = "part"


class JointKind(Enum):
    """How two panels are held together."""

    GLUED = "glued"
    STITCHED = "stitched"
    TAPED = "taped"
    LOCKED = "locked"


@dataclass(frozen=True, slots=True)
class Mark:
    """A stroke inside a panel that does not part it: a tear line, a hand hole's slit, the hinge of its flap.

    Attributes:
        meaning: What is done along it.
        path: Where it runs, blank coordinates.
        name: What it belongs to, ``hand hole`` or ``tear strip``.
    """

    meaning: Meaning
    path: Path
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One flat part of the blank between creases and cuts.

    Attributes:
        name: Its name, unique in the blank.
        outline: Closed path, counter-clockwise, blank coordinates.
        holes: Closed paths cut out of it, counter-clockwise.
        marks: Strokes inside it that do not part it.
        face: The face of the box that it makes, if any.
        k: Boards between it and the inside space.
        role: What it is for.
        intrudes: Whether it may stand in the inside space (a lap, a tuck).
    """

    name: str
    outline: Path
    holes: tuple[Path, ...] = ()
    marks: tuple[Mark, ...] = ()
    face: Face | None = None
    k: float = 0.0
    role: Role = Role.PART
    intrudes: bool = False

    @property
    def area(self) -> float:
        """Area of board in it, mm², exact for arcs too."""
        return self.outline.area - sum(hole.area for hole in self.holes)

    @property
    def size(self) -> tuple[float, float]:
        """Width (along x) and height (along y) of its outline in the blank, mm."""
        x0, y0, x1, y1 = self.outline.bounds
        return x1 - x0, y1 - y0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """A crease (or perforation …) between two panels.

    Attributes:
        parent: Name of the panel nearer to the root.
        child: Name of the panel that turns.
        line: Two points of the crease line, blank coordinates.
        angle: How far the child turns, degrees; positive toward the inside.
        shift: How far the folded child leaves the crease along its outward normal, mm.
        meaning: How the fold is made; None for a bend that is not drawn (the board bends there while closing).
        stage: When it is folded while the box is put up; 1 is first.
        give: Greatest shift allowed, mm, where the style knows better than the board; None asks the board.
    """

    parent: str
    child: str
    line: tuple[Point, Point]
    angle: float = 90.0
    shift: float = 0.0
    meaning: Meaning | None = Meaning.CREASE
    stage: int = 1
    give: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """An edge at which two panels are one board although the fold tree does not join them: it closes a loop.

    Web corners, gables and curved creases have such edges. The proof demands that both panels bring the edge to the
    same place in the finished box.

    Attributes:
        a: One panel.
        b: The other.
        line: Two points of the shared edge, blank coordinates.
        meaning: How it is made; None for a bend that is not drawn.
        miss: By how much the two images of the edge may miss each other, mm (a 180° crease parts them by a board).
    """

    a: str
    b: str
    line: tuple[Point, Point]
    meaning: Meaning | None = Meaning.CREASE
    miss: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two panels held together in the finished box.

    Attributes:
        kind: How they are held.
        a: The panel that carries the zone.
        b: The panel that it meets.
        zone: Where they meet, on ``a``: a closed path for glue or stitches, an open one for a taped edge.
        a_inside: Whether the zone is on the inside (+z) of ``a``.
        b_inside: Whether it meets the inside of ``b``.
        play: Distance by which the two may miss each other, mm (house sizes that do not close exactly).
        crush: How far the two, and their neighbours at the corner, may press into each other, mm.
    """

    kind: JointKind
    a: str
    b: str
    zone: Path
    a_inside: bool = False
    b_inside: bool = True
    play: float = 0.0
    crush: float = 0.0


@dataclass(frozen=True)
class Blank:
    """A flat piece of board, ready to be drawn and folded.

    Attributes:
        name: Name of the piece (``body``, ``lid``).
        panels: Every panel; the first is the root of the fold tree.
        folds: The folds, parents before children.
        joints: What is held to what in the finished box.
        flutes: Direction of flutes or grain in the blank: ``y`` (up the drawing) or ``x``.
        seams: Edges that close loops of panels.
    """

    name: str
    panels: tuple[Panel, ...]
    folds: tuple[Fold, ...] = ()
    joints: tuple[Joint, ...] = ()
    flutes: str = "y"
    seams: tuple[Seam, ...] = ()

    def __post_init__(self) -> None:
        known = {panel.name for panel in self.panels}
        if len(known) != len(self.panels):
            raise StyleError(self.name, "two panels have one name")
        for panel, area in zip(self.panels, self.areas, strict=True):
            if area <= 0:
                raise StyleError(f"{self.name}: {panel.name}", "its outline is open, empty or clockwise")
        reached = {self.panels[0].name}
        for fold in self.folds:
            if fold.parent not in reached or fold.child not in known or fold.child in reached:
                raise StyleError(
                    f"{self.name}: {fold.child}", f"its fold on '{fold.parent}' is out of order or doubled"
                )
            reached.add(fold.child)
        if reached != known:
            raise StyleError(self.name, f"not hung on anything: {', '.join(sorted(known - reached))}")
        for joint in self.joints:
            if not {joint.a, joint.b} <= known:
                raise StyleError(self.name, f"a joint names '{joint.a}' and '{joint.b}', which are not both panels")
        for seam in self.seams:
            if not {seam.a, seam.b} <= known:
                raise StyleError(self.name, f"a seam names '{seam.a}' and '{seam.b}', which are not both panels")

    @cached_property
    def by_name(self) -> Mapping[str, Panel]:
        """The panels by name."""
        return {panel.name: panel for panel in self.panels}

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Bounds of all outlines: least x, least y, greatest x, greatest y, mm."""
        x0, y0, x1, y1 = zip(*(panel.outline.bounds for panel in self.panels), strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the blank, mm."""
        x0, y0, x1, y1 = self.bounds
        return x1 - x0, y1 - y0

    @cached_property
    def areas(self) -> tuple[float, ...]:
        """Area that the outline of each panel bounds, mm², holes counted in; 0 where it is open."""
        outlines = [panel.outline for panel in self.panels]
        return tuple([outline.area if outline.closed else 0.0 for outline in outlines])

    @cached_property
    def area(self) -> float:
        """Area of board in the blank, mm²."""
        return sum(panel.area for panel in self.panels)

    def with_folds(self, folds: Iterable[Fold]) -> Blank:
        """The same blank with other folds: another state, or another way of creasing."""
        return replace(self, folds=tuple(folds))
