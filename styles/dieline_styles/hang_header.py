"""The header that a carton hangs by: the fifth panel carried on above the closed top, with a euro-style hang hole."""

from __future__ import annotations

from dataclasses import dataclass

from dieline.style import (
    Joint,
    JointKind,
    OptionError,
    Order,
    Parameter,
    Path,
    Point,
    Sheet,
    choice,
    format_mm,
    length,
    rounded,
    switch,
)

__all__ = ["HEADER", "Header", "header_of"]

_EDGE = 6.0
"""mm. Board left between the hang hole and the edges of the header."""

_GLUE = 3.0
"""mm. Glue keeps so far off an edge, so that none is pressed out."""

_LEAST = 10.0
"""mm. A lower header shows nothing and holds nothing."""


def _inset(order: Order) -> float:
    """How far the header keeps from the ends of the fifth panel, mm: its edge must not run into the crease."""
    return max(2.0, order.thickness)


def _widest_hole(order: Order) -> float:
    return max(_LEAST, order.number("fifth_width") - 2 * (_inset(order) + _EDGE))


def _highest_hole(order: Order) -> float:
    """The hump stands on a slot wider than itself."""
    return (order.number("hole_width") - 1.0) / 1.5


def _lowest_header(order: Order) -> float:
    return order.number("hole_height") + 2 * _EDGE if order.flag("hang_hole") else _LEAST


HEADER: tuple[Parameter, ...] = (
    choice(
        "header",
        "What the fifth panel carries above the closed top, to hang the carton by.",
        {
            "none": "nothing",
            "single": "a header of one board",
            "double": "a header folded over to the back and glued, two boards",
        },
        "single",
    ),
    switch("hang_hole", "Cut a euro-style hang hole into the header.", True),
    length(
        "hole_width",
        "Width of the slot of the hang hole.",
        lambda order: min(32.0, _widest_hole(order)),
        lambda order: min(12.0, _widest_hole(order)),
        _widest_hole,
        why=f"{_EDGE:g} mm of board must stay beside it",
    ),
    length(
        "hole_height",
        "Height of the hang hole with the hump that centres it on the hook.",
        lambda order: min(12.0, _highest_hole(order)),
        lambda order: min(6.0, _highest_hole(order)),
        _highest_hole,
        why="the hook must go in, and its hump stands on a slot wider than itself",
    ),
    length(
        "header_height",
        "Height of the header above the closed top.",
        lambda order: max(36.0, _lowest_header(order)),
        _lowest_header,
        lambda order: max(150.0, order.H.value),
        why=f"the hole needs {_EDGE:g} mm of board above and below it",
    ),
    length(
        "header_radius",
        "Radius of the upper corners of a single header.",
        lambda order: min(5.0, order.number("hole_width") / 4),
        0.0,
        lambda order: min(order.number("header_height"), order.number("hole_width")) / 2,
        why="the corners must leave the hole its board",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """The header on the blank, mm.

    Attributes:
        x0: Its left edge.
        x1: Its right edge.
        foot: Height of the closed top, where it begins.
        top: Height of its upper edge, or of the crease that it is folded over at.
        radius: Radius of its upper corners.
        hole: Width and height of the hang hole; none if left out.
        double: Whether it is folded over.
    """

    x0: float
    x1: float
    foot: float
    top: float
    radius: float
    hole: tuple[float, float] | None
    double: bool

    def outline(self, left: float, right: float, low: float, shoulder: float) -> Path:
        """The fifth panel with its header on it, counter-clockwise from its lower left corner."""
        corners = [(left, low), (right, low), (right, shoulder), (self.x1, shoulder), (self.x1, self.top)]
        corners += [(self.x0, self.top), (self.x0, shoulder), (left, shoulder)]
        radius = 0.0 if self.double else self.radius
        return rounded(corners, [0.0, 0.0, 0.0, 0.0, radius, radius, 0.0, 0.0])

    def holes(self, *, lining: bool = False) -> list[Path]:
        """The hang hole, half way up the header; in the lining its mirror image in the crease."""
        if self.hole is None:
            return []
        middle = (self.x0 + self.x1) / 2, (self.foot + self.top) / 2
        if lining:
            return [_hang_hole((middle[0], 2 * self.top - middle[1]), *self.hole, up=-1.0)]
        return [_hang_hole(middle, *self.hole, up=1.0)]

    def hang_lining(self, sheet: Sheet, on: str, t: float, k: float) -> None:
        """Hang what is folded over to the back on the header's upper edge, and glue it."""
        tall = self.top - self.foot
        far = self.top + tall
        corners = [(self.x0, self.top), (self.x1, self.top), (self.x1, far), (self.x0, far)]
        radius = min(self.radius, tall / 2)
        outline = rounded(corners, [0.0, 0.0, radius, radius])
        sheet.panel("header lining", outline, k=k, holes=self.holes(lining=True))
        edge = (self.x1, self.top), (self.x0, self.top)
        sheet.fold(on, "header lining", edge, angle=-180.0, shift=-t, stage=1)
        zone = rounded(
            [
                (self.x0 + _GLUE, self.top + _GLUE),
                (self.x1 - _GLUE, self.top + _GLUE),
                (self.x1 - _GLUE, far - _GLUE),
                (self.x0 + _GLUE, far - _GLUE),
            ],
            [0.0, 0.0, radius, radius],
        )
        sheet.join(Joint(kind=JointKind.GLUED, a="header lining", b=on, zone=zone, a_inside=False, b_inside=False))


def header_of(order: Order, left: float, right: float, closed_top: float) -> Header | None:
    """The header that an order asks for on a fifth panel, or none.

    Args:
        order: The order, with the options ``HEADER``.
        left: Left end of the fifth panel on the blank, mm.
        right: Right end, mm.
        closed_top: Height of the outer face of the closed top, mm.

    Raises:
        OptionError: If the fifth panel is too narrow to carry it.
    """
    kind = order.choice("header")
    if kind == "none":
        return None
    inset, hole = _inset(order), order.number("hole_width")
    if order.flag("hang_hole") and right - left < hole + 2 * (inset + _EDGE) - 1e-9:
        raise OptionError(
            "options.header",
            f"the fifth panel is {format_mm(right - left)} mm wide",
            f"its header needs {format_mm(hole + 2 * (inset + _EDGE))} mm for the hang hole",
            "make the hole narrower, or leave the hole or the header out",
        )
    tall = order.size("header height", order.as_set("header_height"))
    width = order.size("hang hole width", order.as_set("hole_width")) if order.flag("hang_hole") else 0.0
    height = order.size("hang hole height", order.as_set("hole_height")) if order.flag("hang_hole") else 0.0
    return Header(
        x0=left + inset,
        x1=right - inset,
        foot=closed_top,
        top=closed_top + tall,
        radius=order.number("header_radius"),
        hole=(width, height) if width else None,
        double=kind == "double",
    )


def _hang_hole(middle: Point, width: float, height: float, *, up: float) -> Path:
    """A slot with a half-round hump in the middle of one side; the hump takes half of the height."""
    x, y = middle
    r, hump = height / 4, height / 2
    a, low = width / 2 - r, y - up * height / 2
    high = low + up * 2 * r
    points = ((x - a, low), (x + a, low), (x + a, high), (x + hump, high), (x - hump, high), (x - a, high))
    return Path(points, (0.0, up, 0.0, up, 0.0, up), closed=True).counter_clockwise()
