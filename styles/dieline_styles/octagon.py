"""The octagonal box (0350): an eight-panel tube, and two equal shallow trays over its ends."""

from __future__ import annotations

import math

from dieline.style import (
    Closed,
    Design,
    Face,
    FourthSize,
    Gauge,
    Joint,
    Motion,
    Order,
    Parameter,
    Piece,
    Role,
    Sheet,
    Size,
    SizeError,
    Slide,
    Stand,
    State,
    Style,
    choice,
    format_mm,
    length,
    polygon,
    rectangle,
)

from .octagon_plan import HALF, SIDES, SIN, Octagon
from .octagon_tray import kind_of, lap_foot, lay_tray, play_of, tray_base
from .tube_telescope import CLEARANCE

__all__ = ["STYLES"]

_ROW = ("back", "back right", "right", "front right", "front", "front left", "left", "back left")
"""The walls from the lap on, left to right on the blank seen from the inside."""

_ROOT = 4


def _least_corner(order: Order) -> float:
    """The joint's lap lies on a corner wall."""
    return (12.0 + order.thickness) / math.sqrt(2.0)


def _greatest_corner(order: Order) -> float:
    """The straight walls must carry two laps of the trays each."""
    least = 2 * (_least_corner(order) + 12.0 + order.thickness + play_of(order))
    for side in ("B", "L"):
        order.need(side, least, "a corner wall must carry the joint, a straight wall two laps of the trays")
    return (min(order.L.value, order.B.value) - 2 * (12.0 + order.thickness + play_of(order))) / 2


def _usual_corner(order: Order) -> float:
    """Short walls and corner walls alike: a regular octagon where L is B."""
    regular = min(order.L.value, order.B.value) / (2.0 + math.sqrt(2.0))
    return max(_least_corner(order), min(round(regular, 1), _greatest_corner(order)))


def _tray_side(order: Order) -> float:
    """The shortest straight wall of a tray, mm."""
    short = min(order.L.value, order.B.value) - 2 * order.number("corner")
    return short - 2 * (order.thickness + play_of(order))


def _longest_tray_lap(order: Order) -> float:
    """Two of them share a straight wall, and their lower edges are cut at 45 degrees."""
    foot = lap_foot(order.thickness, play_of(order))
    return min(0.48 * _tray_side(order), (order.inside.fourth or 0.0) - foot - 4.0)


PARAMETERS: tuple[Parameter, ...] = (
    length(
        "corner",
        "How much a corner cuts off L and off B, inside.",
        _usual_corner,
        _least_corner,
        _greatest_corner,
        why="a corner wall must carry the joint, a straight wall two laps of the trays",
    ),
    CLEARANCE,
    choice("joint", "How tube and trays are joined.", {"glued": "glued", "stitched": "stitched with wire"}, "glued"),
    length(
        "lap_width",
        "Width of the tube's lap, joined inside the last wall.",
        lambda order: min(35.0, round(math.sqrt(2.0) * order.number("corner") - 2.0, 1)),
        lambda order: 5.0 + order.thickness,
        lambda order: math.sqrt(2.0) * order.number("corner") - 1.0,
        why="the lap needs 5 mm to be glued, and must not reach the next crease",
        source="30–35 mm glued: trade pages",
    ),
    length(
        "tray_lap",
        "Length of the trays' laps, joined outside on the straight walls.",
        lambda order: min(25.0, _longest_tray_lap(order)),
        lambda order: min(8.0, _longest_tray_lap(order)),
        _longest_tray_lap,
        why="a lap must hold, and two of them share a wall; its lower edge is cut at 45 degrees",
    ),
    choice(
        "flutes",
        "Which way the flutes (or the grain) run in the tube.",
        {"vertical": "along H, to carry the stack", "horizontal": "round the box"},
        "vertical",
        source="flutes of a tube run along H: trade association",
    ),
)


def build(order: Order) -> Design:
    """Tube and tray; the tray stands twice, below as it is drawn and above turned over."""
    t, depth = order.thickness, _depth(order)
    body, inside, slit = _body(order)
    base = tray_base(order, inside)
    tray, steps = lay_tray(order, base, depth)
    below = Stand((0.0, 0.0), (0.0, 0.0, -t / 2), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    tall = order.ledger.value("panel height")
    above = Stand((0.0, 0.0), (0.0, inside.breadth, tall + t / 2), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    return Design(
        style=order.style,
        pieces=(body, Piece(blank=tray, stand=below, more=(above,), count=2)),
        inside=order.inside,
        crease=Size(inside.length + t, inside.breadth + t, tall),
        sizes=tuple(order.ledger.lines),
        closed=_closed(inside, tall, slit),
        stretch=(inside.length - order.L.value, inside.breadth - order.B.value, tall - order.H.value),
        facts={"lap width": order.ledger.value("lap width"), "corner wall": inside.sides[2]},
        states=(_flat(order),),
        motions=(Motion(piece="tray", steps=steps),),
        slides=(
            Slide(name="set the tube into the floor", piece="tray 1", start=(0.0, 0.0, -depth - t), samples=4),
            Slide(name="put the lid over the tube", piece="tray 2", start=(0.0, 0.0, depth + t), samples=4),
        ),
        gauges=_gauges(inside.grown(t), base.grown(-t / 2)),
        words=("Put both trays up; open the tube, set it into one, fill it, put the other on.",),
    )


def _depth(order: Order) -> float:
    """Inside depth of a tray, h.

    Raises:
        SizeError: With the limit and its reason.
    """
    depth, least, most = order.inside.fourth or 0.0, 15.0 + order.thickness, (order.H.value - 5.0) / 2
    order.need("H", 2 * least + 5.0, "lid and floor must not meet, and each must be deep enough to be joined")
    where, what = "size, fourth size (h)", f"{format_mm(depth)} mm"
    if depth < least - 1e-9:
        raise SizeError(where, what, f"it must be at least {format_mm(least)} mm: its laps are cut at 45 degrees")
    if depth > most + 1e-9:
        raise SizeError(where, what, f"it must be at most {format_mm(most)} mm: lid and floor must stay 5 mm apart")
    return depth


def _closed(inside: Octagon, tall: float, slit: float) -> tuple[Closed, ...]:
    """Lid and floor over the octagon, the straight walls between the corner walls; a slit beside the joint."""
    a = inside.corner
    sides = {Face.FRONT: inside.length, Face.BACK: inside.length, Face.LEFT: inside.breadth, Face.RIGHT: inside.breadth}
    walls = (
        Closed(
            face, max(0.0, slit) if face is Face.BACK else 0.0, ((a, 0.0), (wide - a, 0.0), (wide - a, tall), (a, tall))
        )
        for face, wide in sides.items()
    )
    return (Closed(Face.BOTTOM, 0.0, inside.points), Closed(Face.TOP, 0.0, inside.points), *walls)


def _body(order: Order) -> tuple[Piece, Octagon, float]:
    """Eight walls and the lap; returns the inside that its widths make, and the slit beside the joint, too."""
    t = order.thickness
    corner = order.quantity("corner")
    more = order.t * HALF  # half of it at either crease, which lies t/2 outside
    long = order.size("long panel width", order.L - 2 * corner + more)
    short = order.size("short panel width", order.B - 2 * corner + more)
    across = order.size("corner panel width", corner * math.sqrt(2.0) + more)
    # The lap's crease lets it in by half a board, the crease itself gives the other half.
    first = order.size("first panel width", order.L - 2 * corner + more - order.t / 2 / SIN)
    tall = order.size("panel height", order.H)
    grow = t * HALF
    a = (across - grow) * SIN
    inside = Octagon(0.0, 0.0, long - grow + 2 * a, short - grow + 2 * a, a)
    widths = [first, across, short, across, long, across, short, across]
    sheet = Sheet("tube", flutes="y" if order.choice("flutes") == "vertical" else "x")
    places = [sum(widths[:i]) for i in range(8)]
    faces = dict(SIDES)
    for i in (4, 3, 2, 1, 0, 5, 6, 7):
        outline = rectangle(places[i], 0.0, places[i] + widths[i], tall)
        # A corner wall cuts the corner off the box L × B × H; that is what this box is.
        sheet.panel(f"{_ROW[i]} wall", outline, face=faces[_ROW[i]], role=Role.WALL, intrudes=faces[_ROW[i]] is None)
    for parent, child in ((4, 3), (3, 2), (2, 1), (1, 0), (4, 5), (5, 6), (6, 7)):
        x = places[max(parent, child)]
        sheet.fold(f"{_ROW[parent]} wall", f"{_ROW[child]} wall", ((x, 0.0), (x, tall)), angle=45.0)
    _lay_lap(order, sheet, tall, (long - first) * SIN)
    # The wall that carries the lap begins where the lap turns in, half a board from the inner corner.
    slit = long - first - grow / 2
    left = inside.x + inside.length - a + grow / 2
    stand = Stand((places[_ROOT], 0.0), (left, -t / 2, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    return Piece(blank=sheet.blank(), stand=stand), inside, slit


def _lay_lap(order: Order, sheet: Sheet, tall: float, inset: float) -> None:
    """The lap and its glue; by its crease alone it would stand ``inset`` mm inside the wall that it is joined to."""
    reach = order.size("lap width", order.as_set("lap_width"))
    lean = min(reach * math.tan(math.radians(15.0)), tall / 4)
    outline = polygon([(0.0, 0.0), (0.0, tall), (-reach, tall - lean), (-reach, lean)])
    sheet.panel("lap", outline, k=-1.0, role=Role.LAP, intrudes=True)
    t = order.thickness
    sheet.fold("back wall", "lap", ((0.0, 0.0), (0.0, tall)), angle=45.0, shift=inset - t, give=_give(order))
    edge = min(2.0, reach / 10)
    start = edge + t / 2
    zone = polygon(
        [(-start, start), (-start, tall - start), (edge - reach, tall - lean - edge), (edge - reach, lean + edge)]
    )
    sheet.join(Joint(kind=kind_of(order), a="lap", b="back left wall", zone=zone.counter_clockwise()))


def _give(order: Order) -> float:
    """How far the lap's crease may let it in, mm: what the board gives, and a step of rounding."""
    return (order.board.give if order.house.give is None else order.house.give) * order.thickness + order.house.step


def _flat(order: Order) -> State:
    """The tube as it leaves the gluer: folded at two opposite corners, the last walls leaning over the lap."""
    t, value = order.thickness, order.ledger.value
    room = value("short panel width") + value("corner panel width") - t / 2 - value("lap width")
    lean = math.degrees(math.asin(min(1.0, t / room)))
    bends = {"back right wall": (180.0, t), "left wall": (180.0 - lean, t)}
    return State(name="tube, glued flat", bends=bends, rest="flat", piece="tube")


def _gauges(tube: Octagon, tray: Octagon) -> tuple[Gauge, ...]:
    """The clearance between the outside of the tube and the inside of both trays, on all eight sides."""
    flipped = {"front": "back", "back": "front", "left": "left", "right": "right"}

    def over(name: str) -> str:
        return " ".join(flipped[word] if word in ("front", "back") else word for word in name.split())

    return tuple(
        Gauge(
            name=f"clearance at the {name} of the {where}",
            a=f"tube: {name} wall",
            b=f"tray {number}: {over(name) if number == 2 else name} wall",
            a_inside=False,
            expected=tray.apart(face) - tube.apart(face),
        )
        for number, where in ((1, "floor"), (2, "lid"))
        for name, face in SIDES
    )


STYLES: dict[str, Style] = {
    "0350": Style(
        code="0350",
        title="octagonal box with shallow lid",
        group="telescope",
        summary="An eight-panel tube, its corners cut off at 45 degrees, and two equal shallow trays that go over its "
        "ends as lid and floor; glued or stitched.",
        use="Round or bulky goods and bulk: eight walls bulge less than four, and stand without a pallet collar.",
        parameters=PARAMETERS,
        build=build,
        example="400x400x300",
        thickness=(1.0, 9.0),
        fourth=FourthSize(
            "h", "depth of lid and floor, inside", lambda size, t: max(15.0 + t, min(40.0, size.height / 5))
        ),
        assembly="M",
        source="international fibreboard case code; eight-cornered body and very short lid as a supplier publishes it "
        "(verpackungen.de/info/stuelpschachtel); dimensions of our own",
    )
}
