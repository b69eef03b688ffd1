"""The auto-lock (crash-lock) bottom: glued at two corners by its maker, it closes by itself when the tube is opened."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from dieline.style import (
    Closed,
    Face,
    Joint,
    JointKind,
    Lock,
    Motion,
    Order,
    Parameter,
    Point,
    Role,
    Sheet,
    Step,
    polygon,
)

from .auto_options import AUTO, half_across
from .auto_plan import AutoPlan, linkage, nose_gap, rise_length, short_of_middle
from .back_crease import BACK, back_meaning
from .carton import flap_meaning
from .end import End
from .hinge import Hinge, inside_length
from .tube import Tube

__all__ = ["PARAMETERS", "AutoLockEnd"]

_LEVEL = 0.5
"""All four creases lie on one line: on stepped ones the glued corner would shift by a board as the box opens."""

_OPENING = (60.0, 66.0, 72.0, 78.0, 84.0, 90.0)
"""Inside angles of the corner at which the opening is proved with the board's full thickness, degrees.

Nearer to flat the five layers at the corner take more room than its angle leaves: there the walls must bulge, which
no stiff slab can. The flat state is proved for itself."""


PARAMETERS: tuple[Parameter, ...] = (*BACK, *AUTO)
"""What a carton with this closure declares after the options of the tube."""


class AutoLockEnd(End):
    """Main flaps with noses on the L walls; side flaps whose corners, beyond a 45-degree crease, are glued under them.

    The glued corners are at the two upright creases that fold when the tube is made flat: between walls 0 and 1, and
    between walls 2 and 3.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
    """

    def __init__(self, order: Order) -> None:
        super().__init__(top=False)
        self.order = order
        self.clear = order.number("clearance")
        self._accept()

    def _accept(self) -> None:
        """Refuse sizes at which the flaps cannot lock, or cannot lie in the flat tube."""
        order, t, c = self.order, self.order.thickness, self.clear
        glue, nose = order.number("glue_depth"), order.number("nose_length")
        order.need("B", 2 * glue + c + t / 2, "the side flaps need their depth on either side")
        before = max(3.5 * t, order.number("corner_relief") + 0.06 * glue + 7.0)
        least = 2 * (before + rise_length(t) + short_of_middle(t)) - t
        order.need("B", least, "the main flaps must be glued before their noses rise")
        order.need("L", 2 * (glue + c), "the side flaps must not meet")
        slant = (half_across(order) + nose) / math.tan(math.radians(order.number("glued_edge")))
        beside = order.number("corner_relief") + nose_gap(t) + max(4.0, 4 * t)
        order.need("L", 2 * (slant + beside) - t, "the noses must keep their width; make L the longer side")
        order.need("H", half_across(order) + nose, "the bottom must lie within the walls when the box is folded flat")
        lean = 1.0 + math.tan(math.radians(order.number("lap_bevel")))
        lap = order.number("lap_width") * lean + self.lap_room()[0] + order.number("lap_play")
        order.need("H", lap + 5.0, "the lap leans back by its own width at the bottom")

    # ------------------------------------------------------------------ what the tube asks

    def level(self, wall: int, long: bool) -> float | None:  # noqa: ARG002
        """All four creases on one line."""
        return _LEVEL

    def lap_room(self) -> tuple[float, float]:
        """The lap's end runs along the 45-degree edge of the side flap that lies over it in the flat box."""
        return max(2.5 * self.order.thickness, 1.0), 45.0

    def closed(self, tube: Tube) -> Closed | None:  # noqa: ARG002
        """Shut but for the relief at the corners and the gap between the noses."""
        t = self.order.thickness
        return Closed(Face.BOTTOM, max(self.order.number("corner_relief") - t / 2, 2 * nose_gap(t)))

    # ------------------------------------------------------------------ laying out

    def plan(self, tube: Tube) -> AutoPlan:
        """The flaps, their sizes recorded."""
        order, t = self.order, self.order.t
        middle = (order.B + t) / 2
        side = order.size("bottom side flap length", order.as_set("glue_depth"))
        main = order.size("bottom main flap length", middle + order.quantity("nose_length"))
        return AutoPlan(
            wide=inside_length(tube, long=True),
            broad=inside_length(tube, long=False),
            t=t.value,
            c=self.clear,
            nose=main - middle.value,
            glue=side,
            far=min(tube.width[0], tube.width[2] - t.value / 2) - self.clear,
            relief=order.number("corner_relief"),
            edge=order.number("glued_edge"),
        )

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang main and side flaps, with noses and glued corners."""
        self._plan, self._sheet = self.plan(tube), sheet
        self._corners = [f"bottom glued corner {tube.walls[index].number}" for index in (1, 3)]
        for main, side in ((0, 1), (2, 3)):
            self._main(tube, sheet, main)
            self._side(tube, sheet, side)
            self._glue(tube, sheet, main, side)

    def _main(self, tube: Tube, sheet: Sheet, index: int) -> None:
        plan, name = self._plan, f"bottom main flap {tube.walls[index].number}"
        put = self._placed(tube, index)
        _lay(sheet, name, put(plan.main()), 0.0)
        crease = put([(plan.relief, 0.0), (plan.far, 0.0)])
        self._crease(sheet, tube.walls[index].name, name, crease, shift=-_LEVEL * plan.t)
        rise, nose = (f"bottom {what} {tube.walls[index].number}" for what in ("nose rise", "nose"))
        for parent, child, outline, depth, way in (
            (name, rise, plan.rise(), plan.bend, 1.0),
            (rise, nose, plan.nosed(), plan.base, -1.0),
        ):
            _lay(sheet, child, put(outline), -1.0, intrudes=True)
            line = put([(plan.glued_edge(depth), depth), (plan.inner, depth)])
            # The board bends here by itself as the noses slide onto each other.
            sheet.fold(parent, child, (line[0], line[1]), angle=way * plan.lean, meaning=None, stage=2)

    def _side(self, tube: Tube, sheet: Sheet, index: int) -> None:
        plan, number = self._plan, tube.walls[index].number
        name, corner = f"bottom side flap {number}", f"bottom glued corner {number}"
        put = self._placed(tube, index)
        _lay(sheet, name, put(plan.side()), 1.0)
        crease = put([(plan.relief, 0.0), (plan.side()[1][0], 0.0)])
        self._crease(sheet, tube.walls[index].name, name, crease, shift=_LEVEL * plan.t)
        _lay(sheet, corner, put(plan.corner()), 1.0)
        diagonal = put([(plan.relief, plan.relief), (plan.glue, plan.glue)])
        line = diagonal[0], diagonal[1]
        sheet.fold(name, corner, line, angle=0.0, meaning=back_meaning(self.order), stage=2)

    def _crease(self, sheet: Sheet, parent: str, child: str, line: list[Point], *, shift: float) -> None:
        sheet.fold(parent, child, (line[0], line[1]), shift=shift, meaning=flap_meaning(self.order), stage=2)

    def _glue(self, tube: Tube, sheet: Sheet, main: int, side: int) -> None:
        sheet.join(
            Joint(
                kind=JointKind.GLUED,
                a=f"bottom glued corner {tube.walls[side].number}",
                b=f"bottom main flap {tube.walls[main].number}",
                zone=polygon(self._placed(tube, side)(self._plan.zone())).counter_clockwise(),
                a_inside=True,
                b_inside=False,
            )
        )

    def _placed(self, tube: Tube, index: int) -> Callable[[Iterable[Point]], list[Point]]:
        """Turns places given from the glued corner into places on the blank."""
        plan, frame = self._plan, Hinge(tube, index, False).frame
        half = plan.t / 2
        # Walls 0 and 3 are measured toward the glued corner, walls 1 and 2 away from it.
        size = {0: plan.wide, 3: plan.broad}.get(index)
        if size is None:
            return lambda points: [frame.point(a - half, v) for a, v in points]
        return lambda points: [frame.point(size + half - a, v) for a, v in points]

    # ------------------------------------------------------------------ flat, opening, locked

    def _bends(
        self, tube: Tube, main: tuple[float, float], side: tuple[float, float], corner: tuple[float, float]
    ) -> dict[str, tuple[float, float]]:
        numbers = [wall.number for wall in tube.walls]
        bends = {}
        for index, under in ((0, 1), (2, 3)):
            bends[f"bottom main flap {numbers[index]}"] = main
            bends[f"bottom side flap {numbers[under]}"] = side
            bends[f"bottom glued corner {numbers[under]}"] = corner
        return bends

    def _noses(self, tube: Tube, lean: float) -> dict[str, tuple[float, float]]:
        numbers = [tube.walls[index].number for index in (0, 2)]
        return {f"bottom nose rise {number}": (lean, 0.0) for number in numbers} | {
            f"bottom nose {number}": (-lean, 0.0) for number in numbers
        }

    def flat_bends(self, tube: Tube) -> dict[str, tuple[float, float]]:
        """In the flat tube: flaps up against the walls, glued corners folded back, five boards at the two corners."""
        t = self.order.thickness
        bends = self._bends(tube, (180.0, t), (180.0, t), (-180.0, -t)) | self._noses(tube, 0.0)
        # The walls stand off by the stack between them, so the lap has its room and no wall must lean.
        return bends | {tube.walls[0].name: (180.0, 4 * t), tube.walls[3].name: (180.0, 4 * t), "lap": (0.0, -t)}

    def flat_joints(self) -> list[str]:
        """The glued corners must lie on their main flaps in the flat tube too."""
        return self._corners

    def erected(self, tube: Tube) -> dict[str, tuple[float, float]]:
        """Closed as soon as the tube stands."""
        half = _LEVEL * self.order.thickness
        return self._bends(tube, (90.0, -half), (90.0, half), (0.0, 0.0)) | self._noses(tube, self._plan.lean)

    def motions(self, tube: Tube) -> list[Motion]:
        """The corner opened from 60 degrees to the square, stiff boards of full thickness all the way.

        The glue holds only if side flap and corner keep to their creases and the glued corner leaves the diagonal a
        board more than the main flap leaves its own; that flap then lies by a board, later three quarters, farther in.
        """
        t, short = self.order.thickness, tube.lap_shift
        steps = []
        for corner in _OPENING:
            fold, back = linkage(corner)
            main = -t if corner > 72.0 else -0.75 * t
            walls = {
                tube.walls[0].name: (180.0 - corner, 0.0),
                tube.walls[2].name: (corner, 0.0),
                tube.walls[3].name: (180.0 - corner, 0.0),
                "lap": (corner, -t + (t + short) * math.sin(math.radians(corner))),
            }
            bends = walls | self._bends(tube, (fold, main), (fold, 0.0), (-back, main + t))
            steps.append(Step(f"open the tube to {corner:g} degrees", bends | self._noses(tube, self._plan.lean)))
        return [Motion(steps=tuple(steps), free=self._pinched(tube), samples=0)]

    def _pinched(self, tube: Tube) -> tuple[tuple[str, str], ...]:
        """What stands on the walls of a folding corner: the board is pinched there in its bend, as the walls are."""
        on = {wall.name: [wall.name] for wall in tube.walls}
        for fold in self._sheet.blank().folds:
            if fold.parent in on and fold.child not in on and not fold.child.startswith("bottom"):
                on[fold.parent].append(fold.child)
        corners = ((on[tube.walls[one].name], on[tube.walls[one + 1].name]) for one in (0, 2))
        return tuple((a, b) for ones, others in corners for a in ones for b in others)

    def locks(self, tube: Tube) -> list[Lock]:
        """Both main flaps pushed out at once: each nose strikes the other flap."""
        plan = self._plan
        flaps = [f"bottom main flap {tube.walls[index].number}" for index in (0, 2)]
        noses = [f"bottom nose {tube.walls[index].number}" for index in (0, 2)]
        # A point off the middle moves past the other flap by twice that distance times the turn.
        turn = math.degrees(math.atan2(plan.t / 40, plan.nose))
        return [
            Lock(name=f"{nose} on {flap}", opens=dict.fromkeys(flaps, turn), strikes=(nose, flap), catch=plan.catch)
            for nose, flap in zip(noses, reversed(flaps), strict=True)
        ]


def _lay(sheet: Sheet, name: str, outline: list[Point], k: float, *, intrudes: bool = False) -> None:
    sheet.panel(name, polygon(outline), face=Face.BOTTOM, k=k, role=Role.FLAP, intrudes=intrudes)
