"""The display tray (0460): a high back wall, a low front, sides that fall from one to the other."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    FourthSize,
    Order,
    Parameter,
    Path,
    Piece,
    Point,
    SizeError,
    Style,
    format_mm,
    length,
    polygon,
)

from .tray import GluedTray, laps
from .tray_body import FLUTES, sheet_of

__all__ = ["DISPLAY_TRAY"]


def _least_lap(order: Order) -> float:
    return 10.0 + order.thickness


def _lowest(order: Order) -> float:
    """Inside height of the front, mm; whether it can be is looked at when the tray is built."""
    return max(0.0, min(order.inside.fourth or 0.0, order.H.value))


def _level(order: Order) -> float:
    """What of the sides' rim may be level in all, so that the slope keeps a third, mm."""
    return 2.0 * order.B.value / 3.0


PARAMETERS: tuple[Parameter, ...] = (
    *(parameter for parameter in laps("inside") if parameter.name not in ("lap_on", "lap_width")),
    length(
        "back_lap",
        "Length of the laps of the back wall, from their crease.",
        lambda order: max(_least_lap(order), min(round(0.4 * order.B.value, 1), 60.0)),
        _least_lap,
        lambda order: max(_least_lap(order), 0.5 * order.B.value),
        why="a lap needs 10 mm to be joined, and it shares the side with the lap of the front",
    ),
    length(
        "front_lap",
        "Length of the laps of the front wall, from their crease.",
        lambda order: max(_least_lap(order), min(round(0.3 * order.B.value, 1), 35.0)),
        _least_lap,
        lambda order: max(_least_lap(order), order.B.value - order.number("back_lap") - 1.0),
        why="a lap needs 10 mm to be joined, and it shares the side with the lap of the back",
    ),
    length(
        "lap_drop",
        "How far the upper edge of the laps keeps below the rim of the sides, so that it does not show.",
        lambda order: min(2.0, round(_lowest(order) / 20, 1)),
        0.0,
        lambda order: max(0.5, _lowest(order) / 10),
        why="the laps must hold the sides up to their rim, those of the low front too",
    ),
    length(
        "front_level",
        "How far the rim of the sides is level with the front wall, from the front corner on.",
        lambda order: min(20.0, round(0.2 * order.B.value, 1)),
        0.0,
        _level,
        why="the rest is the slope",
    ),
    length(
        "back_level",
        "How far the rim of the sides is level with the back wall, from the back corner on.",
        lambda order: min(15.0, round(0.15 * order.B.value, 1)),
        0.0,
        lambda order: max(0.0, _level(order) - order.number("front_level")),
        why="the rest is the slope",
    ),
    FLUTES,
)


class DisplayTray(GluedTray):
    """A tray with laps inside on front and back, whose walls differ in height.

    Args:
        order: The order.
        front: Inside height of the front wall, mm.
    """

    def __init__(self, order: Order, front: float) -> None:
        super().__init__(order)
        self.low = order.size("front wall height", order.t / 2 + front)
        half = self.end / 2
        level = order.number("back_level"), order.number("front_level")
        self.rim: tuple[Point, ...] = (
            (half, self.tall),
            (half - level[0], self.tall),
            (level[1] - half, self.low),
            (-half, self.low),
        )
        """The rim of a side from the back to the front: place along the side from its middle, and height, mm."""

    def lap_widths(self) -> dict[Face, float]:
        """Length of the laps of each holding wall, mm."""
        order = self.order
        return {
            Face.FRONT: order.size("front lap width", order.as_set("front_lap")),
            Face.BACK: order.size("back lap width", order.as_set("back_lap")),
        }

    def height(self, side: Face) -> float:
        """Height of a wall from its crease to its rim, mm."""
        return self.low if side is Face.FRONT else self.tall

    def end_outline(self, side: Face) -> Path:  # noqa: ARG002
        """Outline of a side: its frame runs from front to back, as y does."""
        half = self.end / 2
        return polygon([(-half, 0.0), (half, 0.0), *self.rim])

    def lap_outline(self, side: Face, by: float) -> list[Point]:
        """A lap that keeps below the rim of the side that it lies on; see ``GluedTray.lap_outline``."""
        drop, reach = self.order.number("lap_drop") + by, self.reach[side] - by
        cut = min(self.order.number("lap_taper"), self.height(side) / 6)
        low = self.foot(side) + by
        foot = [(by, low), (reach, low + cut)]
        half, level = self.end / 2, self.order.number("back_level" if side is Face.BACK else "front_level")
        if side is Face.FRONT or reach <= level:
            top = self.height(side) - drop
            return [*foot, (reach, top - min(cut, reach * 0.1)), (by, top)]
        tip = self._rim_at(half - self.reach[side]) - drop
        places = half - self.rim[2][0], level
        bends = [(u, self._rim_at(half - u) - drop) for u in places if by + 1.0 < u < reach - 1.0]
        return [*foot, (reach, max(tip, low + cut + 1.0)), *bends, (by, self._rim_at(half - by) - drop)]

    def _rim_at(self, place: float) -> float:
        """Height of the rim of a side at a place along it, mm."""
        (_, high), (top, _), (foot, low), _ = self.rim
        share = min(1.0, max(0.0, (place - foot) / (top - foot)))
        return low + (high - low) * share

    def shut(self) -> tuple[Closed, ...]:
        """Base and back whole, the front up to its rim, the sides up to theirs."""
        t, order = self.order.thickness, self.order
        long, deep = (side / 2 for side in self.between)
        x0, x1, y0 = order.L.value / 2 - long, order.L.value / 2 + long, order.B.value / 2
        back, low = self.tall - t / 2, self.low - t / 2
        front = ((x0, 0.0), (x1, 0.0), (x1, low), (x0, low))
        slope = [(u, v) for u, v in self.rim[1:3] if -deep < u < deep]
        rim = [(deep, self._rim_at(deep)), *slope, (-deep, self._rim_at(-deep))]
        side = ((y0 - deep, 0.0), (y0 + deep, 0.0), *((y0 + u, v - t / 2) for u, v in rim))
        return (
            Closed(Face.BOTTOM),
            Closed(Face.BACK, window=((x0, 0.0), (x1, 0.0), (x1, back), (x0, back))),
            Closed(Face.FRONT, window=front),
            *(Closed(face, window=side) for face in self.ends),
        )


def _front(order: Order) -> float:
    """Inside height of the front wall, h.

    Raises:
        SizeError: With the limit and its reason.
    """
    h, t = order.inside.fourth or 0.0, order.thickness
    least = t + 9.0
    order.need("H", least + 1.0, "the back stands above the front, and a lower front cannot be folded and joined")
    where, what = "size, fourth size (h)", f"{format_mm(h)} mm"
    if h < least - 1e-9:
        raise SizeError(where, what, f"it must be at least {format_mm(least)} mm: a lower front cannot be joined")
    if h > order.H.value - 1.0 + 1e-9:
        most = format_mm(order.H.value - 1.0)
        raise SizeError(
            where, what, f"it must be at most {most} mm: the back stands above the front; else it is a tray"
        )
    return h


def build(order: Order) -> Design:
    """A tray whose back is H high and whose front is h high, inside."""
    front = _front(order)
    order.need("B", 2.0 * _least_lap(order) + 1.0, "a lap of the front and one of the back are joined to each side")
    tray, sheet = DisplayTray(order, front), sheet_of(order, "tray")
    tray.lay(sheet)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=tray.stand),),
        inside=order.inside,
        crease=tray.crease,
        sizes=tuple(order.ledger.lines),
        closed=tray.shut(),
        stretch=tray.stretch,
        # The rims differ: that each stands as high as it should is proved by the windows that must be shut.
        measures="LB",
        motions=(tray.put_up(),),
        words=("Fold the laps in, fold up back and front, then the sides, and join the sides to the laps.",),
    )


DISPLAY_TRAY = Style(
    code="0460",
    title="display tray with one high wall",
    group="tray",
    summary="A tray whose back stands high as a display panel; the sides fall to a low front. Laps on back and front "
    "are joined inside the sides, so that the outside is smooth for print.",
    use="Shelf and counter displays: goods are seen and taken from the front, the back carries the print.",
    parameters=PARAMETERS,
    build=build,
    example="300x200x180/50",
    thickness=(0.3, 7.0),
    fourth=FourthSize(
        "h",
        "height of the front wall, inside",
        lambda size, t: min(max(round(0.3 * size.height, 1), t + 9.0), size.height),
    ),
    assembly="M",
    source="international fibreboard case code: display tray with a high wall, as a box maker publishes it "
    "(actionboxinc.com/box_folders.html); construction of our own",
)
