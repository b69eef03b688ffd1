"""The five-panel carton: a fifth panel covers the back and rises above the closed top as a header to hang it by."""

from __future__ import annotations

from dataclasses import replace

from dieline.style import (
    Design,
    Joint,
    JointKind,
    Meaning,
    Motion,
    Order,
    Parameter,
    Piece,
    Role,
    Sheet,
    Size,
    State,
    Style,
    choice,
    length,
    rectangle,
)

from . import seal
from .carton import CARTON
from .hang_header import HEADER, header_of
from .seal import SealEnd
from .tube import Tube

__all__ = ["STYLES", "FivePanelTube"]

_FIFTH = "fifth panel"
_EDGE = 3.0
"""mm. Glue keeps so far off an edge, so that none is pressed out."""


def _flush(order: Order) -> float:
    """From the middle of the last wall to the outer face of the wall at the other end."""
    return order.L.value + 1.5 * order.thickness


_TUBE = {parameter.name: parameter for parameter in CARTON}

PARAMETERS: tuple[Parameter, ...] = (
    replace(
        _TUBE["lap_end"],
        help="At which end of the blank the covered panel is, seen from the inside; the fifth panel is at the other.",
    ),
    length(
        "fifth_width",
        "Width of the fifth panel from its crease.",
        _flush,
        lambda order: min(20.0 + order.thickness, _flush(order)),
        _flush,
        why="it must be glued over 20 mm, and not stand out beyond the corner",
        source="flush with the corner: construction of our own",
    ),
    length(
        "fifth_play",
        "How far the fifth panel keeps from the inside floor and lid.",
        lambda order: min(0.5, order.H.value / 10),
        0.0,
        lambda order: order.H.value / 4,
        why="it must cover the wall",
    ),
    *(_TUBE[name] for name in ("clearance", "body_crease", "flap_crease", "flutes")),
    choice(
        "outer_on",
        "Which L wall carries the outer flaps.",
        {"back": "the back wall, which the fifth panel covers", "front": "the front wall"},
        "front",
    ),
    *seal.PARAMETERS,
    *HEADER,
)


class FivePanelTube(Tube):
    """Four walls, and a fifth panel on wall 3 that lies outside wall 0 and is glued to it.

    Wall 0 ends raw at the inner face of wall 3; wall 3 so runs from a wall in layer 0 to the fifth panel in layer 1.
    """

    def _widths(self) -> tuple[float, ...]:
        order, t = self.order, self.order.t
        ruled = (order.L + t / 2, order.span(order.B, 0, 0), order.span(order.L, 0, 0), order.span(order.B, 0, 1))
        widths = [0.0] * 4
        # Opposite walls are rounded alike, or the tube would not be square.
        for index, other in ((2, None), (1, None), (0, 2), (3, 1)):
            like = "" if other is None else f"{self._name(other)} width"
            widths[index] = order.size(f"{self._name(index)} width", ruled[index], round_as=like)
        return tuple(widths)

    def erected(self) -> dict[str, tuple[float, float]]:
        """The folds of all five panels with the tube put up, its ends open."""
        return dict.fromkeys((*(self.walls[index].name for index in (0, 2, 3)), _FIFTH), (90.0, 0.0))

    def flat_walls(self) -> dict[str, tuple[float, float]]:
        """The folds of the glued and flat tube: the fifth panel lies on wall 0, that on wall 1."""
        t = self.order.thickness
        names = [wall.name for wall in self.walls]
        return {names[0]: (180.0, t), names[2]: (0.0, 0.0), names[3]: (180.0, 2 * t), _FIFTH: (0.0, 0.0)}

    def glued_flat(self) -> State:
        """The tube as it leaves the gluer; its creases make up the board by which the fifth panel lies further out."""
        return replace(super().glued_flat(), joints=(_FIFTH,), slack=self.order.thickness)

    def pressed(self) -> tuple[tuple[str, str], ...]:
        """What may press together while the ends are closed: the flap that shares its crease line, and the header."""
        if self.order.choice("creases") == "offset" or self.order.choice("header") == "none":
            return ()
        # The crease gives half a board when the flap is down; the model lets it give from the start, on the header.
        return ((_FIFTH, f"top flap {self.walls[0].number}"),)

    def join_up(self, sheet: Sheet, meaning: Meaning) -> None:
        """Lay the fifth panel, which closes the tube round, and what hangs on it."""
        order, last = self.order, self.walls[3]
        wide = order.size("fifth panel width", order.as_set("fifth_width"))
        low, high = self._cover()
        x, onward = (last.x1, 1.0) if self.lap_left else (last.x0, -1.0)
        face = self.walls[0].face
        left, right = sorted((x, x + onward * wide))
        header = header_of(order, left, right, self._closed_top)
        outline = rectangle(left, low, right, high) if header is None else header.outline(left, right, low, high)
        holes = [] if header is None else header.holes()
        sheet.panel(_FIFTH, outline, face=face, k=1.0, role=Role.LAP, holes=holes)
        sheet.fold(last.name, _FIFTH, ((x, low), (x, high)), meaning=meaning)
        if header is not None and header.double:
            header.hang_lining(sheet, _FIFTH, order.thickness, k=2.0)
        # It first passes the end of wall 0, half a board from its own crease.
        start, end = order.thickness / 2 + _EDGE, wide - 1.5 * order.thickness - _EDGE
        zone = rectangle(x + onward * start, low + _EDGE, x + onward * end, high - _EDGE)
        sheet.join(
            Joint(kind=JointKind.GLUED, a=_FIFTH, b=self.walls[0].name, zone=zone, a_inside=True, b_inside=False)
        )

    @property
    def _closed_top(self) -> float:
        """Height of the outer face of the closed top, mm."""
        return max(wall.high for wall in self.walls) + self.order.thickness / 2

    def _cover(self) -> tuple[float, float]:
        """From where to where the fifth panel reaches: it keeps a little off the inside floor and lid, mm."""
        last, t, play = self.walls[3], self.order.thickness, self.order.number("fifth_play")
        below, above = (end.level(3, last.long) or 0.0 for end in self.ends)
        return last.low + (below + 0.5) * t + play, last.high - (above + 0.5) * t - play


_CLOSED = "Both ends: side flaps in, inner flap over them, outer flap glued on it."

_WORDS = {
    "none": f"Ships glued and flat. {_CLOSED}",
    "single": f"Ships glued and flat. {_CLOSED} Hangs by the header.",
    "double": f"Its header is folded to the back and glued first; ships glued and flat. {_CLOSED} Hangs by the header.",
}


def build(order: Order) -> Design:
    """Five panels, sealed at both ends."""
    order.need("H", 10.0 + 4 * _EDGE + 2 * order.number("fifth_play"), "the fifth panel needs 10 mm of glue")
    order.need("L", 20.0 + 2 * order.thickness + 2 * _EDGE, "the fifth panel needs 20 mm of glue")
    wall = {"back": 0, "front": 2}[order.choice("outer_on")]
    ends = SealEnd(order, top=False, wall=wall), SealEnd(order, top=True, wall=wall)
    tube = FivePanelTube(order, *ends)
    sheet = Sheet("body", flutes="y" if order.choice("flutes") == "vertical" else "x")
    tube.lay(sheet)
    steps = tuple(step for end in ends for step in end.steps(tube))
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tube.stand),),
        inside=order.inside,
        crease=Size(*tube.crease_size),
        sizes=tuple(order.ledger.lines),
        closed=tuple(shut for end in ends if (shut := end.closed(tube)) is not None),
        stretch=tube.stretch,
        hand=tube.hand,
        states=(tube.glued_flat(),),
        motions=(Motion(start=tube.erected(), steps=steps, free=tube.pressed()),),
        words=(_WORDS[order.choice("header")],),
    )


STYLES: dict[str, Style] = {
    "five-panel-carton": Style(
        code="five-panel-carton",
        title="five-panel carton with hanging header",
        group="tube",
        summary="A tube with a fifth panel that covers the back wall from outside and is glued to it all over; it "
        "rises above the closed top as a header with a hang hole, of one board or folded double. Both ends sealed "
        "with full overlap. Leaves the gluer flat.",
        use="Small goods sold from a hook; without the header, a double wall where the goods press or the print must "
        "not show a joint. The inside is smooth, without a lap.",
        parameters=PARAMETERS,
        build=build,
        example="120x80x160",
        thickness=(0.3, 5.0),
        assembly="MA",
    )
}
