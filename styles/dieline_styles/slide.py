"""The sleeve: a four-panel tube open at both ends, by itself (0501) and as a part of slide boxes."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from dieline.style import (
    Design,
    Face,
    Order,
    Parameter,
    Piece,
    Point,
    Quantity,
    Sheet,
    Size,
    Style,
    Value,
    choice,
    length,
)

from . import joint
from .end import End
from .part import Part
from .tube import Tube
from .tube_telescope import closed_walls, flat_state

__all__ = ["CLEARANCE", "JOINT", "STYLES", "lap_on_walls", "notched_ends", "notches", "sleeve_part", "sleeve_piece"]


class NotchedEnd(End):
    """An open end with a half-round thumb notch in the raw edges of both L panels.

    Args:
        top: Whether it is the top.
        radius: Of the notches, mm; 0 cuts none.
    """

    def __init__(self, *, top: bool, radius: float) -> None:
        super().__init__(top=top)
        self.radius = radius

    def edge(self, tube: Tube, wall: int) -> list[tuple[Point, float]]:
        """The notch in the middle of an L panel; none in one that the lap lies on."""
        if not self.radius or not tube.long(wall) or (wall == 3 and tube.joint != "taped"):
            return []
        place = tube.walls[wall]
        middle, y = tube.centre(place), place.high if self.top else place.low
        onward = -self.radius if self.top else self.radius
        return [((middle - onward, y), -1.0), ((middle + onward, y), 0.0)]


CLEARANCE = length(
    "clearance",
    "By how much a sleeve is larger inside than what slides in it, along both sides of its opening.",
    lambda order: max(1.5 if order.board.corrugated else 0.6, order.house.step),
    lambda order: order.house.step,  # rounding both pieces may take that much of it
    lambda order: 4.0 + order.thickness,
    why="with more it does not hold",
    source="1–2 mm: common practice, no source",
)

JOINT = choice(
    "joint",
    "How sleeves are closed by their maker; laps lie where nothing rubs on them.",
    {"glued": "a lap, glued", "stitched": "a lap, stitched with wire"},
    "glued",
)


def notches(walls: str, usual: str) -> tuple[Parameter, ...]:
    """The options of thumb notches, cut into the panels named."""
    return (
        choice(
            "thumb_notch",
            f"Half-round notches in the ends of the sleeve, in {walls}.",
            {"none": "none", "one": "at one end", "both": "at both ends"},
            usual,
        ),
        length(
            "notch_radius",
            "Radius of the notches.",
            lambda order: min(max(12.0, 3 * order.thickness + 6.0), _widest_notch(order)),
            lambda order: min(8.0, _widest_notch(order)),
            lambda order: _widest_notch(order),
            why="a finger must get in, and the panel must keep its corners",
        ),
    )


def _widest_notch(order: Order) -> float:
    side = order.L.value if order.style == "0501" else order.B.value
    along = order.H.value if order.style == "0501" else order.L.value
    return min(0.35 * side, 0.3 * along)


def notched_ends(order: Order) -> tuple[End, End]:
    """Both ends of a sleeve, with the notches that are asked for."""
    radius, where = order.number("notch_radius"), order.choice("thumb_notch")
    return (
        NotchedEnd(top=False, radius=radius if where == "both" else 0.0),
        NotchedEnd(top=True, radius=0.0 if where == "none" else radius),
    )


def build(order: Order) -> Design:
    """A four-panel tube open at both ends: L × B is its opening, H its length."""
    order.need("H", 10.0 + 2 * order.number("lap_play"), "the lap must keep its outer edge")
    tube = Tube(order, *notched_ends(order))
    sheet = Sheet("sleeve", flutes="y" if order.choice("flutes") == "vertical" else "x")
    tube.lay(sheet)
    radius = order.number("notch_radius")
    low = radius if order.choice("thumb_notch") == "both" else 0.0
    high = order.H.value - (radius if order.choice("thumb_notch") != "none" else 0.0)
    window = ((0.0, low), (order.L.value, low), (order.L.value, high), (0.0, high))
    walls = closed_walls(tube)
    if order.choice("thumb_notch") != "none":
        walls = tuple(replace(w, window=window) if w.face in (Face.FRONT, Face.BACK) else w for w in walls)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tube.stand),),
        inside=order.inside,
        crease=Size(*tube.crease_size),
        sizes=tuple(order.ledger.lines),
        closed=walls,
        stretch=tube.stretch,
        facts={"lap width": order.ledger.value("lap width")} if tube.joint != "taped" else {},
        hand=tube.hand,
        states=(flat_state(tube, "sleeve"),),
        words=("Ships glued and flat; opened by hand or by the machine and pushed over drawer or goods.",),
    )


def sleeve_part(
    order: Order, name: str, inside: tuple[Quantity, Quantity, Quantity], ends: tuple[End, End], lap: str
) -> Tube:
    """A sleeve that is one of several pieces.

    Args:
        order: The whole order.
        name: Its name.
        inside: Its opening, and its length, mm.
        ends: Its ends.
        lap: On which side the lap lies: where nothing rubs on it, ``inside`` or ``outside``.
    """
    deep = inside[2].value
    options: dict[str, Value] = {"lap_side": lap, "lap_on": "L", "lap_end": "left", "lap_play": 0.0}
    options["lap_bevel"] = min(15.0, math.floor(math.degrees(math.atan2(0.25 * deep, order.number("lap_width")))))
    return Tube(Part(order, name, *inside, options), *ends)


def sleeve_piece(tube: Tube, name: str, *, lies: bool) -> Piece:
    """The sleeve laid out, and standing upright by itself; where it will lie, its flutes run round it to stand up."""
    sheet = Sheet(name, flutes="x" if lies else "y")
    tube.lay(sheet)
    return Piece(blank=sheet.blank(), stand=tube.stand)


def lap_on_walls(breadth: Callable[[Order], float]) -> Parameter:
    """The lap of sleeves that are pieces of a box; ``breadth`` says how broad the walls are that it lies on, mm."""

    def room(order: Order) -> float:
        return breadth(order) - 1.0

    def least(order: Order) -> float:
        return min(5.0 + order.thickness, room(order))

    return length(
        "lap_width",
        "Width of the laps of sleeves.",
        lambda order: max(least(order), min(35.0 if order.board.corrugated else 15.0, room(order))),
        least,
        room,
        why="a lap needs 5 mm to be glued, and the wall that it lies on must be broader",
        source="30–35 mm glued: trade pages",
    )


STYLES: dict[str, Style] = {
    "0501": Style(
        code="0501",
        title="sleeve",
        group="slide",
        summary="A four-panel tube open at both ends, glued, stitched or taped; L × B is its opening, H its length.",
        use="Outer part of a slide box; band round trays, cartons or goods.",
        parameters=(
            *joint.PARAMETERS,
            *notches("both L panels", "none"),
            choice(
                "flutes",
                "Which way the flutes (or the grain) run.",
                {"vertical": "along the sleeve", "horizontal": "round the opening"},
                "vertical",
            ),
        ),
        build=build,
        example="200x60x150",
        thickness=(0.3, 9.0),
        assembly="MA",
        source="international fibreboard case code: sleeve, one piece, joint by the maker",
    ),
}
