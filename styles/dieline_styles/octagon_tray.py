"""The shallow octagonal tray: lid and floor of the octagonal box."""

from __future__ import annotations

import math

from dieline.style import (
    Blank,
    Face,
    Frame,
    Joint,
    JointKind,
    Order,
    Quantity,
    Role,
    Sheet,
    Step,
    polygon,
    rectangle,
)

from .edge import shortened
from .octagon_plan import HALF, SIDES, SIN, Octagon

__all__ = ["kind_of", "lap_foot", "lay_tray", "play_of", "tray_base"]

_KNIVES = 3.0
"""mm. Room between two knives side by side, so that ejection rubber fits between them."""


def play_of(order: Order) -> float:
    """Play of raw edges beside board, mm."""
    return max(0.5, round(0.15 * order.thickness, 2))


def kind_of(order: Order) -> JointKind:
    """How tube and trays are joined."""
    return JointKind.GLUED if order.choice("joint") == "glued" else JointKind.STITCHED


def tray_base(order: Order, inside: Octagon) -> Octagon:
    """The base of a tray, crease to crease: a board and half the clearance outside the middle of the tube's walls."""
    more = (2 * order.t + order.quantity("clearance")) * HALF
    names = ("long", "short", "corner")
    widths = (Quantity.named(f"{name} panel width", order.ledger.value(f"{name} panel width")) for name in names)
    long, short, across = (order.size(f"tray {n} edge", w + more) for n, w in zip(names, widths, strict=True))
    a = across * SIN
    x, y = (inside.length - long) / 2 - a, (inside.breadth - short) / 2 - a
    return Octagon(x, y, long + 2 * a, short + 2 * a, a)


def lay_tray(order: Order, base: Octagon, depth: float) -> tuple[Blank, tuple[Step, ...]]:
    """Base, eight walls, and two laps on each corner wall, joined outside on the straight walls beside it."""
    t, play = order.thickness, play_of(order)
    tall = order.size("tray wall height", depth + order.t / 2)
    over = order.size("tray corner wall overhang", order.t / SIN)  # as far as the laps lie outside
    reach = order.size("tray lap length", order.as_set("tray_lap"))
    low = lap_foot(t, play)
    back = HALF * t / 2 + t + play  # a straight wall ends where its outer edge would meet the corner wall
    sheet = Sheet("tray")
    sheet.panel("base", polygon(base.points), face=Face.BOTTOM)
    for (name, face), edge in zip(SIDES, base.edges, strict=True):
        if face is not None:
            crease = shortened(edge, back, back)
            wall = rectangle(0.0, 0.0, math.dist(*crease), tall)
            sheet.hang(f"{name} wall", "base", crease, wall, face=face, k=1.0, role=Role.WALL)
    for (name, face), edge in zip(SIDES, base.edges, strict=True):
        if face is None:
            wide = math.dist(*edge)
            foot = [(-over, low), (0.0, 0.0), (wide, 0.0), (wide + over, low)]
            outline = polygon([*foot, (wide + over, tall), (-over, tall)])
            sheet.hang(f"{name} wall", "base", edge, outline, k=1.0, role=Role.WALL, stage=2, intrudes=True)
            _lay_tray_laps(order, sheet, name, Frame.outward(*edge), (wide + over, -over, tall, reach))
    straight = {f"{name} wall": (90.0, 0.0) for name, face in SIDES if face is not None}
    corners = {f"{name} wall": (90.0, 0.0) for name, face in SIDES if face is None}
    shift = t - over * SIN  # nothing, unless a plant rounds
    laps = {f"{name} lap {n}": (45.0, shift) for name, face in SIDES if face is None for n in (1, 2)}
    steps = (
        Step("fold up the straight walls", straight),
        Step("fold up the corner walls", corners),
        Step("fold the laps round the straight walls", laps),
    )
    return sheet.blank(), steps


def lap_foot(t: float, play: float) -> float:
    """Where a lap's crease begins above the base, so that its 45 degree edge stays a knife's room off the neighbour."""
    apart = (HALF * t / 2 + t + play) / SIN - t / SIN  # of the two edges where the lap would begin on the base
    return max(play, _KNIVES / SIN - apart)


def _lay_tray_laps(
    order: Order, sheet: Sheet, name: str, frame: Frame, place: tuple[float, float, float, float]
) -> None:
    """The two laps of a corner wall; their lower edges run parallel to the neighbours' side edges.

    Args:
        order: The order.
        sheet: Where.
        name: The corner.
        frame: The frame of the corner's edge of the base.
        place: Where its laps hang (u of each), the height of the wall, and their length, mm.
    """
    t, play = order.thickness, play_of(order)
    after, before, tall, reach = place
    overhang = -before
    names = [side for side, _ in SIDES]
    spot = names.index(name)
    for number, x, out, met in ((1, before, -1.0, names[spot - 1]), (2, after, 1.0, names[(spot + 1) % 8])):
        lap = f"{name} lap {number}"
        low = lap_foot(t, play)
        tip = low + reach
        cut = min(3.0, 0.1 * tall)
        outline = [(x, low), (x + out * reach, tip), (x + out * reach, tall - cut), (x, tall)]
        sheet.panel(lap, polygon([frame.point(u, v) for u, v in outline]), k=2.0, role=Role.LAP, intrudes=True)
        crease, shift = (frame.point(x, low), frame.point(x, tall)), t - overhang * SIN
        sheet.fold(f"{name} wall", lap, crease, angle=45.0, shift=shift, stage=3)
        start, edge = 0.21 * t + play, min(1.5, reach / 8)  # it passes the end of the straight wall first
        zone = [
            (x + out * (start + edge), low + start + 2 * edge),
            (x + out * (reach - edge), tip + edge),
            (x + out * (reach - edge), tall - cut - edge),
            (x + out * (start + edge), tall - cut - edge),
        ]
        path = polygon([frame.point(u, v) for u, v in zone]).counter_clockwise()
        sheet.join(Joint(kind=kind_of(order), a=lap, b=f"{met} wall", zone=path, a_inside=True, b_inside=False))
