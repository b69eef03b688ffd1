"""Seal ends: flaps glued over each other by the packer, either overlapping fully or meeting in the middle."""

from __future__ import annotations

from dieline.style import Closed, Face, Joint, JointKind, Order, Parameter, Path, Sheet, Step, length, rectangle

from .carton import clearance
from .end import End
from .hinge import PARAMETERS as HINGE
from .hinge import Hinge, inside_length, level_of
from .tube import Tube

__all__ = ["PARAMETERS", "SEAL", "SealEnd"]


_SLOT = 2.4
"""mm. Narrowest strip of waste that is bent from cutting rule: 3/32 in. Source: Graphic Dies, how small,
graphicdies.com/how-small."""

_EDGE = 3.0
"""mm. Glue keeps so far off an edge, so that none is pressed out."""


def _longest(order: Order) -> float:
    return order.L.value / 2 - order.number("clearance")


SEAL: tuple[Parameter, ...] = (
    length(
        "minor_length",
        "Length of the flaps on the B panels.",
        lambda order: min(_longest(order), round(0.7 * order.B.value, 1)),
        lambda order: min(8.0, _longest(order)),
        _longest,
        why="shorter ones cannot be glued, and at half of L they meet",
    ),
    length(
        "seam_gap",
        "Gap left between outer flaps that meet.",
        0.5,
        0.0,
        6.0,
        why="wider, dust comes in",
    ),
    length(
        "flap_taper",
        "How much narrower the outer flaps are at their free edge, on each side.",
        0.0,
        0.0,
        lambda order: min(order.L.value / 10, order.number("minor_length") / 2 - _EDGE),
        why="the flaps must cover the end, and lie on the minor flaps that they are glued to",
    ),
)

PARAMETERS: tuple[Parameter, ...] = (*HINGE, *SEAL)
"""What a carton with this closure declares after the options of the tube."""


class SealEnd(End):
    """Minor flaps (layer 0) on the B walls, and the majors on the L walls glued over them.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
        top: Whether it closes the top.
        wall: The L wall that carries the outer flap, folded last: 0 or 2.
        meeting: Whether the majors meet in the middle; else the outer one (layer 2) covers the inner one (layer 1).
    """

    def __init__(self, order: Order, *, top: bool, wall: int = 2, meeting: bool = False) -> None:
        super().__init__(top=top)
        self.order = order
        self.wall = wall
        self.meeting = meeting
        self.end = "top" if top else "bottom"
        self.clear = order.number("clearance")
        order.need("L", 2 * (8.0 + self.clear), "the minor flaps need 8 mm each and must not meet")
        order.need("B", 10.0 + 2 * self.clear, "the minor flaps need 10 mm of width")
        # The majors reach to half a board from the crease between two walls; the minors leave the rest of the slot.
        self.beside = max(self.clear, min(_SLOT - order.thickness / 2, (order.B.value - 10.0) / 2))

    def layer(self, wall: int, long: bool) -> float:
        """Boards between the flap of a wall and the inside."""
        if not long:
            return 0.0
        return 2.0 if wall == self.wall and not self.meeting else 1.0

    def level(self, wall: int, long: bool) -> float | None:
        """Each flap lies a board higher than the one that it covers."""
        return level_of(self.order, self.layer(wall, long))

    def closed(self, tube: Tube) -> Closed | None:
        """Shut; but for the seam where the majors meet, and their tapered corners beside the minors."""
        face = Face.TOP if self.top else Face.BOTTOM
        if not self.meeting:
            return Closed(face)
        across = inside_length(tube, long=False) + self.order.thickness
        gap = across - 2 * self.order.ledger.value(f"{self.end} major flap")
        return Closed(face, max(0.0, gap, self.clear if self.order.number("flap_taper") else 0.0))

    def _name(self, tube: Tube, index: int) -> str:
        return f"{self.end} flap {tube.walls[index].number}"

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang minors, then the inner and the outer major, and glue them."""
        order, side = self.order, self.beside
        broad = inside_length(tube, long=False)
        minor = order.size(f"{self.end} minor flap", order.as_set("minor_length"))
        for index in (1, 3):
            box = rectangle(side, 0.0, broad - side, minor)
            ends = (side, broad - side)
            Hinge(tube, index, self.top).hang(sheet, self._name(tube, index), box, ends, k=0.0, stage=2)
        if self.meeting:
            inner = outer = order.size(f"{self.end} major flap", (order.B + order.t - order.quantity("seam_gap")) / 2)
        else:
            # The wall of the outer flap comes up past the inner one, which must end before its inner face.
            inner = order.size(f"{self.end} inner flap", order.B + order.t / 2 - clearance(order))
            outer = order.size(f"{self.end} outer flap", order.B + order.t)
        self._major(tube, sheet, 2 - self.wall, inner, stage=3)
        self._major(tube, sheet, self.wall, outer, stage=3 if self.meeting else 4)
        self._glue(tube, sheet, minor, inner)

    def _major(self, tube: Tube, sheet: Sheet, index: int, deep: float, *, stage: int) -> None:
        wide = inside_length(tube, long=True)
        taper = self.order.number("flap_taper")
        outline = [(0.0, 0.0), (wide, 0.0), (wide - taper, deep), (taper, deep)]
        k = self.layer(index, True)
        Hinge(tube, index, self.top).hang(sheet, self._name(tube, index), outline, (0.0, wide), k=k, stage=stage)

    def _glue(self, tube: Tube, sheet: Sheet, minor: float, inner: float) -> None:
        """The outer major on the inner one; majors that meet, on the minors."""
        wide, taper = inside_length(tube, long=True), self.order.number("flap_taper")
        edge = taper + _EDGE
        names = {index: self._name(tube, index) for index in range(4)}
        if self.meeting:
            for index in (0, 2):
                frame = Hinge(tube, index, self.top).frame
                # Wall 3 stands where s is 0, wall 1 at the other end.
                for start, other in ((edge, 3), (wide - minor + _EDGE, 1)):
                    end = start + minor - edge - _EDGE if other == 3 else wide - edge
                    zone = rectangle(start, self.beside + _EDGE, end, inner - _EDGE).placed(frame)
                    sheet.join(_glued(names[index], names[other], zone))
            return
        frame = Hinge(tube, self.wall, self.top).frame
        zone = rectangle(edge, 2 * _EDGE, wide - edge, inner - _EDGE)
        sheet.join(_glued(names[self.wall], names[2 - self.wall], zone.placed(frame)))

    def steps(self, tube: Tube) -> list[Step]:
        """Minors, then one major after the other."""
        t = self.order.thickness
        shifts = {
            index: (self.layer(index, tube.long(index)) - level_of(self.order, self.layer(index, tube.long(index)))) * t
            for index in range(4)
        }
        one, last = 2 - self.wall, self.wall
        return [
            Step(f"fold the {self.end} minor flaps in", {self._name(tube, i): (90.0, shifts[i]) for i in (1, 3)}),
            Step(f"fold {self._name(tube, one)} over them", {self._name(tube, one): (90.0, shifts[one])}),
            Step(f"glue {self._name(tube, last)} down", {self._name(tube, last): (90.0, shifts[last])}),
        ]


def _glued(outer: str, inner: str, zone: Path) -> Joint:
    return Joint(kind=JointKind.GLUED, a=outer, b=inner, zone=zone, a_inside=True, b_inside=False)
