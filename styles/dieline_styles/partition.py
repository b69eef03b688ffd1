"""Slotted partitions (0933): strips along L and along B, each slotted half its height, that part a box into cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dieline.style import (
    Design,
    Gauge,
    Order,
    Piece,
    Point,
    Quantity,
    Role,
    Sheet,
    Size,
    Slide,
    Stand,
    Style,
    format_mm,
    polygon,
)

from .fitment import fitment
from .partition_options import PARAMETERS, cells_of, least_tooth

__all__ = ["STYLES"]


@dataclass(frozen=True, slots=True)
class _Row:
    """The cells along one side of the box.

    Attributes:
        places: Middle of each strip that parts them, from the wall of the box, mm.
        cell: Width of each cell between two strips, mm.
    """

    places: tuple[float, ...]
    cell: float


@dataclass(frozen=True, slots=True)
class _Slots:
    """What all strips have alike, mm.

    Attributes:
        width: Of the slots.
        depth: Of the slots.
        tall: Height of the strips.
        end: How far a strip keeps from the wall of the box at each end.
    """

    width: float
    depth: float
    tall: float
    end: float

    def outline(self, long: float, places: Sequence[float], *, above: bool) -> list[Point]:
        """A strip with its slots from above or from below; places are measured from the wall of the box."""
        notches = [
            point
            for place in places
            for x0, x1 in [(place - self.end - self.width / 2, place - self.end + self.width / 2)]
            for point in ((x0, 0.0), (x0, self.depth), (x1, self.depth), (x1, 0.0))
        ]
        if not above:
            return [(0.0, 0.0), *notches, (long, 0.0), (long, self.tall), (0.0, self.tall)]
        return [
            (0.0, 0.0),
            (long, 0.0),
            (long, self.tall),
            *((x, self.tall - y) for x, y in notches[::-1]),
            (0.0, self.tall),
        ]

    def told(self, name: str, places: Sequence[float]) -> str:
        """Where the slots of a strip are, in words for its drawing."""
        middles = ", ".join(format_mm(place - self.end) for place in places)
        return (
            f"{name}: slots {format_mm(self.width)} × {format_mm(self.depth)} mm, middles {middles} mm from the left."
        )


def build(order: Order) -> Design:
    """Strips along L with slots from above, strips along B with slots from below, as many as the cells ask."""
    _accept(order)
    rows = _row(order, along=True), _row(order, along=False)
    slots = _slots(order)
    flutes = "y" if order.choice("flutes") == "upright" else "x"
    pieces = []
    for name, along in (("long strip", True), ("cross strip", False)):
        side = order.L if along else order.B
        long = order.size(f"{name} length", side - order.quantity("end_play"))
        sheet = Sheet(name, flutes=flutes)
        sheet.panel("strip", polygon(slots.outline(long, rows[0 if along else 1].places, above=along)), role=Role.WALL)
        stands = [_stand(place, slots.end, along) for place in rows[1 if along else 0].places]
        pieces.append(Piece(blank=sheet.blank(), stand=stands[0], more=tuple(stands[1:]), count=len(stands)))
    cross = len(rows[0].places)
    return fitment(
        order,
        tuple(pieces),
        Size(rows[0].cell + order.thickness, rows[1].cell + order.thickness, slots.tall),
        gauges=_gauges(rows),
        slides=tuple(_lowered(n, cross, slots.tall) for n in range(1, cross + 1)),
        words=(
            f"Stand {_many(len(rows[1].places), 'long strip')} up, slots above; "
            f"lower {_many(cross, 'cross strip')} into them.",
            *(slots.told(name, rows[index].places) for index, name in enumerate(("long strip", "cross strip"))),
        ),
    )


def _accept(order: Order) -> None:
    t, least = order.thickness, least_tooth(order)
    for name in "LB":
        order.need(name, 2 * least + t, "two cells, each tooth of them 8 boards wide")
    order.need("H", 20.0 + order.number("height_play"), "strips under 20 mm do not hold each other upright")


def _slots(order: Order) -> _Slots:
    tall = order.size("strip height", order.H - order.quantity("height_play"))
    wide = order.size("slot width", order.t + order.quantity("slot_play"))
    deep = order.size("slot depth", (Quantity.named("strip height", tall) + order.quantity("depth_play")) / 2)
    return _Slots(wide, deep, tall, order.number("end_play") / 2)


def _row(order: Order, *, along: bool) -> _Row:
    """Where the strips stand that part the cells along one side."""
    way = "L" if along else "B"
    cells = round(cells_of(order, along))
    first = order.size(f"first cell along {way}", order.as_set("first_cell_along" if along else "first_cell_across"))
    pitch = order.size(f"pitch along {way}", order.as_set("pitch_along" if along else "pitch_across"))
    t = order.thickness
    return _Row(tuple(first + t / 2 + i * pitch for i in range(cells - 1)), pitch - t)


def _stand(place: float, end: float, along: bool) -> Stand:
    """A strip on the floor of the box, its lower left corner half the play from the wall."""
    at = (end, place, 0.0) if along else (place, end, 0.0)
    return Stand((0.0, 0.0), at, (1.0, 0.0, 0.0) if along else (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def _name(strip: str, number: int, strips: int) -> str:
    return f"{strip} {number}" if strips > 1 else strip


def _many(number: int, what: str) -> str:
    return f"the {what}" if number == 1 else f"the {number} {what}s"


def _lowered(number: int, strips: int, tall: float) -> Slide:
    name = _name("cross strip", number, strips)
    return Slide(name=f"lower {name} into the long strips", piece=name, start=(0.0, 0.0, tall), samples=4)


def _gauges(rows: tuple[_Row, _Row]) -> list[Gauge]:
    """The cells between each two neighbouring strips; the first and the last end at the wall of the box."""
    found = []
    for row, strip, way in ((rows[0], "cross strip", "L"), (rows[1], "long strip", "B")):
        strips = len(row.places)
        for n in range(1, strips):
            found.append(
                Gauge(
                    name=f"cell {n + 1} along {way}",
                    a=f"{strip} {n}: strip",
                    b=f"{strip} {n + 1}: strip",
                    # Seen from the inside of a strip, which looks to the front or to the right.
                    a_inside=strip == "cross strip",
                    b_inside=strip == "long strip",
                    expected=row.cell,
                )
            )
    return found


STYLES: dict[str, Style] = {
    "0933": Style(
        code="0933",
        title="slotted partition",
        group="fitment",
        summary="Strips along L slotted from above and strips along B slotted from below, each half its height, "
        "pushed into each other: n × m cells, the end cells closed by the walls of the box.",
        use="Bottles, jars, glasses, crockery: keeps them apart and helps to carry the stack.",
        parameters=PARAMETERS,
        build=build,
        example="355x205x120",
        thickness=(0.4, 9.0),
        assembly="MA",
        source="international fibreboard case code, group of interior fitments; strips, slots at the cell pitch "
        "and slots of half the height are common practice, dimensions by geometry, proved put together",
    )
}
