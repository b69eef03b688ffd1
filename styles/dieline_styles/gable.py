"""The gable top: two roofs that carry a handle, with gussets folded in at the ends."""

from __future__ import annotations

import math
from dataclasses import replace

from dieline.style import (
    Blank,
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
    Seam,
    Sheet,
    SizeLine,
    Step,
    angle,
    choice,
    format_mm,
    polygon,
    rectangle,
)

from .back_crease import BACK, back_meaning
from .carton import flap_meaning
from .end import End
from .gable_fin import FINS, Fins, need_fins
from .gable_plan import GablePlan, gable_linkage
from .hinge import Hinge, inside_length
from .tube import Tube

__all__ = ["GABLE", "PARAMETERS", "GableEnd"]

GABLE: tuple[Parameter, ...] = (
    angle(
        "roof_slope",
        "How steep the roof is.",
        45.0,
        30.0,
        65.0,
        why="flatter, gussets and roofs press on each other; steeper, the box grows high without holding more",
    ),
    choice(
        "roof_corners",
        "How the corners are made in which roof, gusset and walls meet.",
        {
            "closed": "the creases meet in one point, and the board gives there",
            "hole": "a small hole takes what would be crushed",
        },
        lambda order: "hole" if order.board.corrugated else "closed",
    ),
    *FINS,
)

PARAMETERS: tuple[Parameter, ...] = (*BACK, *GABLE)
"""What a carton with this closure declares after the options of the tube."""


_STRIPPED = 30.0
"""mm². Waste of this size is stripped without trouble (common practice, no source)."""


class GableEnd(End):
    """Roofs on the L walls with a fin each; gussets on the B walls, and four webs that turn in under the roofs.

    Args:
        order: The order, with the options of ``carton.CARTON`` and of ``PARAMETERS`` here.
    """

    def __init__(self, order: Order) -> None:
        super().__init__(top=True)
        self.order = order
        self.clear = order.number("clearance")
        self.slope = order.number("roof_slope")
        order.need("L", order.B.value, "the gussets of both ends would meet under the ridge")
        order.need("B", 20.0 + 12 * order.thickness, "the webs need room under the roof")
        need_fins(order)

    # ------------------------------------------------------------------ what the tube asks

    def level(self, wall: int, long: bool) -> float | None:  # noqa: ARG002
        """The gussets' inner faces start level with the inside; the roofs' creases lie higher by a board's cosine."""
        slope = math.radians(self.slope)
        gusset = (math.tan(math.pi / 4 - slope / 2) - 1.0) / 2
        return gusset + math.cos(slope) if long else gusset

    def lap_room(self) -> tuple[float, float]:
        """The lap stays below the gusset."""
        return max(self.clear, self.order.number("lap_play")), 0.0

    def closed(self, tube: Tube) -> Closed | None:  # noqa: ARG002
        """The roofs cover the box, but for what the house's rounding takes off the wall with the lap."""
        return Closed(Face.TOP, self.order.thickness + self.order.house.step)

    def names(self, tube: Tube) -> dict[str, str]:
        """Names of the parts by short words: ``roof 0``, ``fin 2``, ``gusset 1``, ``web 01``, ``roof lap``."""
        number = [wall.number for wall in tube.walls]
        names = {f"{part} {index}": f"top {part} {number[index]}" for part in ("roof", "fin") for index in (0, 2)}
        names |= {f"gusset {index}": f"top gusset {number[index]}" for index in (1, 3)}
        names |= {f"web {a}{b}": f"top web {number[a]}-{number[b]}" for a, b in ((0, 1), (2, 1), (2, 3), (0, 3))}
        return names | {"roof lap": "top roof lap"}

    # ------------------------------------------------------------------ laying out

    def plan(self, tube: Tube) -> GablePlan:
        """The parts, their sizes recorded."""
        order = self.order
        broad = inside_length(tube, long=False)
        roof = broad / 2 / math.cos(math.radians(self.slope))
        # Never rounded: the roofs must meet just over the middle.
        text = f"inside {format_mm(broad, 3)} / 2 / cos {format_mm(self.slope)}°"
        order.ledger.lines.append(SizeLine("top roof slope", roof, text, roof))
        return GablePlan(
            broad=broad,
            t=order.thickness,
            c=self.clear,
            slope=self.slope,
            roof=roof,
            fin=order.size("top fin height", order.as_set("fin_height")),
            relief=self._relief(),
        )

    def _relief(self) -> float:
        """The web begins a board above the roof's crease; a hole that is cut there must be large enough to strip."""
        t, slope = self.order.thickness, math.radians(self.slope)
        least = t * (1.0 + math.cos(slope))
        if self.order.choice("roof_corners") == "closed":
            return least
        return max(least, min(math.sqrt(_STRIPPED / math.cos(slope)), 0.1 * self.order.B.value))

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang roofs with fins and webs, the gussets, and the lap that the seam's web is glued to."""
        self._plan = self.plan(tube)
        self._names = self.names(tube)
        for index in (0, 2):
            self._roof(tube, sheet, index)
        for index in (1, 3):
            self._gusset(tube, sheet, index)
        for index, corner, roof in ((1, 0, 0), (1, 1, 2), (3, 1, 2)):
            self._web(tube, sheet, index, corner, roof)
        self._seam(tube, sheet)
        roofs = self._names["roof 0"], self._names["roof 2"]
        self._fins = Fins(tube, self._plan, roofs, (self._span(tube, 0), self._span(tube, 2)))
        self._fins.hang(sheet)

    def _span(self, tube: Tube, index: int) -> tuple[float, float]:
        """From where to where a roof runs: as far as its wall; on the side of the lap, to the lap's crease."""
        end = inside_length(tube, long=True) + tube.order.thickness / 2
        return end - tube.width[index], end

    def _roof(self, tube: Tube, sheet: Sheet, index: int) -> None:
        plan, meaning, frame = self._plan, flap_meaning(self.order), Hinge(tube, index, True).frame
        roof = self._names[f"roof {index}"]
        s0, s1 = self._span(tube, index)
        sheet.panel(roof, rectangle(s0, 0.0, s1, plan.roof).placed(frame), face=Face.TOP, k=0.0, role=Role.FLAP)
        line = frame.point(s0, 0.0), frame.point(s1, 0.0)
        sheet.fold(tube.walls[index].name, roof, line, angle=plan.turn, meaning=meaning, stage=3)

    def _placed(self, tube: Tube, index: int, corner: int, points: list[Point]) -> list[Point]:
        """Turns places beside a corner of an end wall, the one at wall 0 or at wall 2, into places on the blank."""
        half, frame = self._plan.t / 2, Hinge(tube, index, True).frame
        a, b = (-half, 1.0) if corner == 0 else (self._plan.broad + half, -1.0)
        return [frame.point(a + b * w, v) for w, v in points]

    def _gusset(self, tube: Tube, sheet: Sheet, index: int) -> None:
        plan, name = self._plan, self._names[f"gusset {index}"]
        seam = index == 3
        sides = [plan.seam_side() if seam else plan.gusset_side(False), plan.gusset_side(seam)]
        left, right = (self._placed(tube, index, corner, side) for corner, side in enumerate(sides))
        sheet.panel(name, polygon([*left, *reversed(right)]), face=Face.TOP, k=0.0, role=Role.FLAP)
        sheet.fold(
            tube.walls[index].name,
            name,
            (left[0], right[0]),
            angle=plan.turn,
            meaning=flap_meaning(self.order),
            stage=3,
        )

    def _web(self, tube: Tube, sheet: Sheet, index: int, corner: int, roof: int) -> None:
        plan, name = self._plan, self._names[f"web {roof}{index}"]
        outline = self._placed(tube, index, corner, plan.web())
        sheet.panel(name, polygon(outline), k=1.0, role=Role.FLAP)
        line = outline[0], outline[-1]
        meaning = flap_meaning(self.order)
        sheet.fold(self._names[f"roof {roof}"], name, line, angle=180.0, shift=plan.t, meaning=meaning, stage=3)
        a, b = self._placed(tube, index, corner, list(plan.web_crease(index == 3)))
        sheet.seam(
            name, self._names[f"gusset {index}"], (a, b), meaning=back_meaning(self.order), miss=plan.slip + 1e-9
        )

    def _seam(self, tube: Tube, sheet: Sheet) -> None:
        """The web at the joint hangs on its gusset, and is glued to a lap on the roof of wall 0."""
        plan, meaning = self._plan, flap_meaning(self.order)
        web, gusset, lap = self._names["web 03"], self._names["gusset 3"], self._names["roof lap"]
        outline = self._placed(tube, 3, 0, plan.seam_web())
        sheet.panel(web, polygon(outline), k=1.0, role=Role.FLAP)
        back = gable_linkage(plan.turn, plan.slope)[2]
        sheet.fold(gusset, web, (outline[0], outline[1]), angle=back, meaning=back_meaning(self.order), stage=3)
        start, reach = self._span(tube, 0)[0], self.order.ledger.value("lap width")
        frame = Hinge(tube, 0, True).frame
        off = start + plan.t / 2
        points = [frame.point(start - u, v) for u, v in plan.roof_lap(off, reach)]
        sheet.panel(lap, polygon(points), k=1.0, role=Role.LAP)
        line = points[0], points[1]
        sheet.fold(self._names["roof 0"], lap, line, angle=180.0, shift=plan.t, meaning=meaning, stage=3)
        zone = polygon([frame.point(start - u, v) for u, v in plan.roof_glue(off, reach)])
        sheet.join(Joint(kind=JointKind.GLUED, a=lap, b=web, zone=zone.counter_clockwise()))

    def drawn(self, tube: Tube, blank: Blank) -> Blank:
        """Without holes in the corners webs and gussets run right into them; stiff slabs cannot, the board gives."""
        if self.order.choice("roof_corners") == "hole":
            return blank
        plan, names, shapes = self._plan, self._names, {}
        seams = {frozenset((seam.a, seam.b)): seam for seam in blank.seams}
        for index in (1, 3):
            feet = [[(0.0, 0.0), plan.gusset_side(index == 3)[-1]]] * 2
            if index == 3:
                feet[0] = plan.seam_side()
            left, right = (self._placed(tube, index, corner, side) for corner, side in enumerate(feet))
            shapes[names[f"gusset {index}"]] = polygon([*left, *reversed(right)])
        for index, corner, roof in ((1, 0, 0), (1, 1, 2), (3, 1, 2)):
            web, gusset, wall = names[f"web {roof}{index}"], names[f"gusset {index}"], tube.walls[roof].name
            outline, crease = plan.drawn_web(index == 3)
            points = self._placed(tube, index, corner, outline)
            shapes[web] = polygon(points)
            a, b = self._placed(tube, index, corner, list(crease))
            seams[frozenset((web, gusset))] = replace(seams[frozenset((web, gusset))], line=(a, b))
            seams[frozenset((web, wall))] = Seam(a=web, b=wall, line=(points[0], points[-1]))
        panels = tuple(
            replace(panel, outline=shapes[panel.name].counter_clockwise()) if panel.name in shapes else panel
            for panel in blank.panels
        )
        return replace(blank, panels=panels, seams=tuple(seams.values()))

    # ------------------------------------------------------------------ flat, standing, closing

    def flat_bends(self, tube: Tube) -> dict[str, tuple[float, float]]:
        """In the flat tube webs and roof lap follow the walls that they stand over."""
        walls = tube.flat_walls() | tube.ends[0].flat_bends(tube)
        first, last = walls[tube.walls[0].name], walls[tube.walls[3].name]
        names = self._names
        return {names["web 01"]: first, names["web 23"]: last, names["roof lap"]: walls["lap"]}

    def erected(self, tube: Tube) -> dict[str, tuple[float, float]]:
        """Webs and roof lap stand square to the roofs while the top is open."""
        names = self._names
        webs = {names[name]: (90.0, 0.0) for name in ("web 01", "web 21", "web 23")}
        return webs | {names["roof lap"]: (90.0, tube.lap_shift)}

    def motions(self, tube: Tube) -> list[Motion]:
        """Roofs and gussets come down together, the webs turning in under the roofs; the fins stay upright."""
        start = tube.erected()
        for end in tube.ends:
            start |= end.erected(tube)
        for step in tube.ends[0].steps(tube):
            start |= step.bends
        steps = [self._at(tube, (part / 5) ** 2) for part in range(1, 6)]
        steps += self._fins.steps()
        # Roof lap and web are glued to each other; the linkage is worked out exactly at each position.
        free = ((self._names["roof lap"], self._names["web 03"]), *self._fins.free())
        return [Motion(start=start, steps=tuple(steps), free=free, samples=0)]

    def _at(self, tube: Tube, share: float) -> Step:
        plan, names = self._plan, self._names
        turn = plan.turn * share
        gusset, web, back = gable_linkage(turn, plan.slope)
        shift = plan.t * share
        bends = {names[f"roof {index}"]: (turn, 0.0) for index in (0, 2)}
        bends |= {names[f"fin {index}"]: (-turn, 0.0) for index in (0, 2)}
        bends |= {names[f"gusset {index}"]: (gusset, 0.0) for index in (1, 3)}
        bends |= {names[f"web {pair}"]: (web, shift) for pair in ("01", "21", "23")}
        short = tube.lap_shift * (1 - share)
        bends |= {names["roof lap"]: (web, shift + short), names["web 03"]: (back, 0.0)}
        return Step(f"bring the roofs down, {share:.0%}", bends)

    def locks(self, tube: Tube) -> list[Lock]:  # noqa: ARG002
        """One roof lifted: the flap strikes the other fin from behind."""
        return self._fins.locks()
