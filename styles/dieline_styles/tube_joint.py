"""The joint of a tube: a lap, glued or stitched, inside or outside the last wall; or edges that meet under a tape."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from dieline.style import Joint, JointKind, Meaning, Role, Sheet, polygon, polyline

if TYPE_CHECKING:
    from .tube import Tube

__all__ = ["lay_joint"]


def lay_joint(tube: Tube, sheet: Sheet, meaning: Meaning) -> None:
    """Lay the lap on a sheet, or join the two raw edges where the joint is taped.

    Args:
        tube: The tube, its walls laid out.
        sheet: Where to lay it.
        meaning: How the upright folds are made.
    """
    order, t = tube.order, tube.order.thickness
    first, last = tube.walls[0], tube.walls[3]
    # Rounding may leave the tube a step short of closing; anything more the house must stand for.
    play = min(max(abs(value) for value in tube.mismatch), order.house.step)
    x = first.x0 if tube.lap_left else first.x1
    outward = -1.0 if tube.lap_left else 1.0
    low, high = _lap_reach(tube)
    if tube.joint == "taped":
        edge = last.x1 if tube.lap_left else last.x0
        sheet.join(
            Joint(
                kind=JointKind.TAPED,
                a=last.name,
                b=first.name,
                zone=polyline([(edge, max(last.low, 0.0)), (edge, min(last.high, order.H.value))]),
                play=play,
                crush=order.crush + play,
            )
        )
        return
    reach = order.size("lap width", order.as_set("lap_width"))
    bevels = [max(order.number("lap_bevel"), end.lap_room()[1]) for end in tube.ends]
    rise, fall = (reach * math.tan(math.radians(bevel)) for bevel in bevels)
    sheet.panel(
        "lap",
        polygon([(x, low), (x, high), (x + outward * reach, high - fall), (x + outward * reach, low + rise)]),
        face=last.face,
        k=1.0 if tube.outside else -1.0,
        role=Role.LAP,
        intrudes=not tube.outside,
    )
    give = (order.board.give if order.house.give is None else order.house.give) * t + play
    sheet.fold(first.name, "lap", ((x, low), (x, high)), shift=tube.lap_shift, meaning=meaning, give=give)
    edge_play = min(2.0, reach / 10)
    start = edge_play + (t / 2 if tube.outside else 0.0)  # outside, the lap first passes the end of its own wall
    zone = polygon(
        [
            (x + outward * start, low + edge_play),
            (x + outward * start, high - edge_play),
            (x + outward * (reach - edge_play), high - fall - edge_play),
            (x + outward * (reach - edge_play), low + rise + edge_play),
        ]
    )
    sheet.join(
        Joint(
            kind=JointKind.GLUED if tube.joint == "glued" else JointKind.STITCHED,
            a="lap",
            b=last.name,
            zone=zone.counter_clockwise(),
            a_inside=tube.outside,
            b_inside=not tube.outside,
            play=play,
            crush=order.crush + play,
        )
    )


def _lap_reach(tube: Tube) -> tuple[float, float]:
    """Lower and upper end of the lap's crease: it keeps a little off the inside floor and lid, mm."""
    play, t = tube.order.number("lap_play"), tube.order.thickness
    first = tube.walls[0]
    back = [0.0 if end.level(0, first.long) is None else play for end in tube.ends]
    back = [max(least, end.lap_room()[0]) for least, end in zip(back, tube.ends, strict=True)]
    below, above = (end.level(0, first.long) for end in tube.ends)
    floor = first.low + (tube.ends[0].rim(0) if below is None else below + 0.5) * t
    lid = first.high - (tube.ends[1].rim(0) if above is None else above + 0.5) * t
    low = first.low if below is None and not back[0] else floor + back[0]
    high = first.high if above is None and not back[1] else lid - back[1]
    return low, high
