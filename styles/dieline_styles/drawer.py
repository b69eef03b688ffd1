"""The drawer in a sleeve: a tray with glued corners, or one with rolled ends, pushed into a sleeve along L."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dieline.style import (
    Closed,
    Design,
    Face,
    Gauge,
    Lock,
    Motion,
    OptionError,
    Order,
    Piece,
    Quantity,
    Sheet,
    Size,
    Slide,
    Style,
    Value,
    choice,
    format_mm,
    length,
)

from . import roll_tray
from .part import Part
from .slide import CLEARANCE, JOINT, lap_on_walls, notched_ends, notches, sleeve_part, sleeve_piece
from .tray import GluedTray, laps
from .tube_telescope import flat_state, inside_of, low_corner
from .turned import ALONG_L, turned

__all__ = ["DRAWER_SLEEVE"]


_ROLLED = roll_tray.STYLES["0422"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawer:
    """A tray as the sleeve needs to know it.

    Attributes:
        piece: The tray, standing in the box; its panels are called ``base``, ``front wall`` and ``back wall``.
        outside: Its outside length and breadth, mm.
        rim: Height of its rim above the inside of its base, mm.
        between: Its inside length and breadth, mm.
        crease: Crease-to-crease size of its base, and the height of its walls, mm.
        slit: Widest slit beside its ends, mm.
        motions: How it is put up.
        locks: What locks in it.
        gauges: What is measured on it.
        words: How it is put up, in words.
    """

    piece: Piece
    outside: tuple[float, float]
    rim: float
    between: tuple[float, float]
    crease: Size
    slit: float
    motions: tuple[Motion, ...]
    locks: tuple[Lock, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    words: str = ""


def _glued(order: Order, high: Quantity) -> _Drawer:
    """A tray whose laps are glued outside on its ends: its long walls are smooth on both sides."""
    fixed: dict[str, Value] = {"lap_side": "outside", "lap_on": "L", "lap_width": order.number("drawer_lap")}
    tray = GluedTray(Part(order, "drawer", order.L, order.B, high, fixed, laps("outside")))
    sheet = Sheet("drawer")
    tray.lay(sheet)
    return _Drawer(
        piece=Piece(blank=sheet.blank(), stand=tray.stand),
        outside=tray.outside,
        rim=tray.tall - order.thickness / 2,
        between=tray.between,
        crease=tray.crease,
        slit=tray.play,
        motions=(tray.put_up("drawer"),),
        words="Put the drawer up and glue it",
    )


def _rolled(order: Order, high: Quantity) -> _Drawer:
    """The tray 0422: ends rolled over and locked in its base, no glue."""
    t = order.thickness
    low, most = _ROLLED.thickness
    if not low <= t <= most:
        raise OptionError(
            "options.drawer",
            f"rolled, on board {order.board.name} of {format_mm(t)} mm",
            f"it must be {format_mm(low)} to {format_mm(most)} mm thick: rolled ends are locked by tabs of board",
            "take drawer=glued",
        )
    part = Part(order, "drawer", order.L, order.B, high, {"flutes": "B"}, _ROLLED.parameters, style=_ROLLED.code)
    tray = roll_tray.build(part)
    long, deep, tall, _ = tray.crease
    piece = replace(tray.pieces[0], blank=replace(tray.pieces[0].blank, name="drawer"))
    return _Drawer(
        piece=piece,
        outside=(long + t, deep + t),
        rim=tall,
        between=(order.L.value + tray.stretch[0], order.B.value + tray.stretch[1]),
        crease=tray.crease,
        slit=part.number("clearance"),  # beside the spine that makes its rim
        motions=tuple(replace(motion, piece="drawer") for motion in tray.motions),
        locks=tuple(
            replace(
                lock,
                opens={f"drawer: {name}": angle for name, angle in lock.opens.items()},
                strikes=(f"drawer: {lock.strikes[0]}", f"drawer: {lock.strikes[1]}"),
            )
            for lock in tray.locks
        ),
        gauges=tuple(replace(gauge, a=f"drawer: {gauge.a}", b=f"drawer: {gauge.b}") for gauge in tray.gauges),
        words=tray.words[0].rstrip("."),
    )


_DRAWERS = {"glued": _glued, "rolled": _rolled}


def build(order: Order) -> Design:
    """A tray in a sleeve that runs along L and ends flush with it."""
    t, clear = order.thickness, Quantity.named("clearance", order.number("clearance"))
    order.need("H", clear.value + t + 10.0, "a lower wall cannot be folded and joined")
    drawer = _DRAWERS[order.choice("drawer")](order, order.H - clear)
    opening = Quantity.named("drawer outside B", drawer.outside[1]) + clear, order.H + order.t
    long = Quantity.named("drawer outside L", drawer.outside[0])
    sleeve = sleeve_part(order, "sleeve", (*opening, long), notched_ends(order), "outside")
    (wide, tall), (x, y) = inside_of(sleeve), low_corner(sleeve)
    # The drawer rests on the floor of the sleeve; the clearance is above its rim and half to each side.
    start, across = (order.L.value - sleeve.crease_size[2]) / 2, (order.B.value + wide) / 2 + x
    lying = turned(sleeve_piece(sleeve, "sleeve", lies=True), ALONG_L, (start, across, tall + y - t))
    return Design(
        style=order.style,
        pieces=(drawer.piece, lying),
        inside=order.inside,
        crease=drawer.crease,
        sizes=tuple(order.ledger.lines),
        closed=_closed(order, drawer, sleeve.crease_size[2], tall - t),
        stretch=(drawer.between[0] - order.L.value, drawer.between[1] - order.B.value, tall - t - order.H.value),
        facts={"lap width": sleeve.order.ledger.value("lap width")},
        states=(flat_state(sleeve, "sleeve"),),
        motions=drawer.motions,
        locks=drawer.locks,
        gauges=(*drawer.gauges, *_gauges(lying, (wide - drawer.outside[1]) / 2, tall - t)),
        slides=(Slide(name="push the drawer in", piece="drawer", start=(drawer.outside[0] + t, 0.0, 0.0)),),
        words=(f"{drawer.words}; push it into the sleeve.",),
    )


def _closed(order: Order, drawer: _Drawer, long: float, tall: float) -> tuple[Closed, ...]:
    """All six faces; over the drawer's ends a slit stays open, and where a notch is meant, the notch."""
    radius, where = order.number("notch_radius"), order.choice("thumb_notch")
    deep = max(0.0, radius - (long - order.L.value) / 2)  # as far as it reaches past the ends
    low, high = (deep if where == "both" else 0.0), order.L.value - (deep if where != "none" else 0.0)
    broad, slit = order.B.value, max(tall - drawer.rim, drawer.slit)
    window = ((low, 0.0), (high, 0.0), (high, broad), (low, broad))
    top = Closed(Face.TOP) if where == "none" else Closed(Face.TOP, 0.0, window)
    ends = (Closed(face, slit) for face in (Face.LEFT, Face.RIGHT))
    return (Closed(Face.BOTTOM), top, Closed(Face.FRONT), Closed(Face.BACK), *ends)


def _gauges(lying: Piece, side: float, tall: float) -> tuple[Gauge, ...]:
    """The play to both sides of the drawer, none below it, and the height inside."""
    name = {panel.face: f"sleeve: {panel.name}" for panel in lying.blank.panels if panel.name != "lap"}
    return (
        Gauge(name="play at the front", a="drawer: front wall", b=name[Face.FRONT], a_inside=False, expected=side),
        Gauge(name="play at the back", a="drawer: back wall", b=name[Face.BACK], a_inside=False, expected=side),
        Gauge(name="play under the drawer", a="drawer: base", b=name[Face.BOTTOM], a_inside=False, expected=0.0),
        Gauge(name="height over the base", a="drawer: base", b=name[Face.TOP], expected=tall),
    )


def _widest_lap(order: Order) -> float:
    """Two laps share an end."""
    least = 2.0 * (11.0 + order.thickness)
    order.need("B", least, "two laps of at least 10 mm are joined to each end of the drawer")
    return order.B.value / 2 - 1.0


DRAWER_SLEEVE = Style(
    code="drawer-sleeve",
    title="drawer in sleeve",
    group="slide",
    summary="A tray, its corners glued or its ends rolled, in a four-panel sleeve that runs along L and ends flush "
    "with it; the tray's rim stands the clearance lower than the sleeve.",
    use="Gifts, tools, tea in tins: opened by pushing; notches show where.",
    parameters=(
        choice(
            "drawer",
            "How the drawer is made.",
            {
                "glued": "a tray with laps glued on its ends",
                "rolled": "a tray with rolled ends locked in its base, 0422",
            },
            "glued",
        ),
        JOINT,
        CLEARANCE,
        lap_on_walls(lambda order: order.H.value),
        length(
            "drawer_lap",
            "Length of a glued drawer's laps.",
            lambda order: min(35.0, max(round(0.4 * order.B.value, 1), 10.0 + order.thickness), _widest_lap(order)),
            lambda order: min(10.0 + order.thickness, _widest_lap(order)),
            _widest_lap,
            why="a lap needs 10 mm to be glued, and two of them share an end",
        ),
        *notches("top and bottom", "one"),
    ),
    build=build,
    example="200x120x50",
    thickness=(0.3, 9.0),
    assembly="M",
    source="construction of our own",
)
