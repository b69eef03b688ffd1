"""The double slide box: two sleeves, one pushed across into the other."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    Gauge,
    Order,
    Piece,
    Quantity,
    Size,
    Slide,
    Style,
    choice,
)

from .end import End
from .slide import CLEARANCE, JOINT, lap_on_walls, sleeve_part, sleeve_piece
from .tube import Tube
from .tube_telescope import flat_state, inside_of, low_corner
from .turned import ALONG_B, ALONG_L, UPRIGHT, turned

__all__ = ["DOUBLE_SLIDE"]


def build(order: Order) -> Design:
    """An inner sleeve along L, and an outer one across it that shuts its ends."""
    t, clear = order.thickness, Quantity.named("clearance", order.number("clearance"))
    order.need("L", clear.value + 20.0, "the inner sleeve needs 20 mm between the walls of the outer one")
    order.need("B", 20.0, "the laps need room")
    order.need("H", 20.0, "the laps need room")
    open_ends = End(top=False), End(top=True)
    inner = sleeve_part(order, "inner", (order.B, order.H, order.L - clear), open_ends, "inside")
    (broad, tall), (x, y), deep = inside_of(inner), low_corner(inner), inner.crease_size[2]
    upright = order.choice("outer_runs") == "up"
    over_b, over_h = Quantity.named("inner outside B", broad + 2 * t), Quantity.named("inner outside H", tall + 2 * t)
    inside = (order.L, over_b + clear, over_h) if upright else (over_h + clear, order.L, over_b)
    outer = sleeve_part(order, "outer", inside, open_ends, "outside")
    first, second = inside_of(outer)
    long, over = (first, second - broad) if upright else (second, first - tall)
    lying = turned(sleeve_piece(inner, "inner", lies=True), ALONG_L, ((long - deep) / 2, broad + x, tall + y))
    half, off = over / 2 - t, low_corner(outer)
    if upright:
        piece = turned(sleeve_piece(outer, "outer", lies=False), UPRIGHT, (-off[0], -t - half - off[1], -t))
    else:
        piece = turned(sleeve_piece(outer, "outer", lies=True), ALONG_B, (-off[1], -t, -t - half - off[0]))
    double = (Face.FRONT, Face.BACK) if upright else (Face.BOTTOM, Face.TOP)
    single = (Face.BOTTOM, Face.TOP) if upright else (Face.FRONT, Face.BACK)
    return Design(
        style=order.style,
        pieces=(lying, piece),
        inside=order.inside,
        crease=Size(long + t, broad + t, tall + t),
        sizes=tuple(order.ledger.lines),
        closed=(
            *(Closed(face) for face in (Face.LEFT, Face.RIGHT, *double)),
            *(Closed(face, (long - deep) / 2) for face in single),
        ),
        stretch=(long - order.L.value, broad - order.B.value, tall - order.H.value),
        facts={"lap width": inner.order.ledger.value("lap width")},
        states=(flat_state(inner, "inner"), flat_state(outer, "outer")),
        slides=(Slide(name="slide the outer sleeve over the inner one", piece="outer", start=_start(outer, upright)),),
        gauges=_gauges(lying, piece, double, half),
        words=("Open both sleeves, fill the inner one, push it into the outer one across its opening.",),
    )


def _start(outer: Tube, upright: bool) -> tuple[float, float, float]:
    """Where the outer sleeve comes from: its own length away, mm."""
    far = outer.crease_size[2] + outer.order.thickness
    return (0.0, 0.0, far) if upright else (0.0, -far, 0.0)


def _gauges(inner: Piece, outer: Piece, faces: tuple[Face, ...], expected: float) -> tuple[Gauge, ...]:
    names = [
        {panel.face: panel.name for panel in piece.blank.panels if panel.name != "lap"} for piece in (inner, outer)
    ]
    return tuple(
        Gauge(
            name=f"play at the {face.value}",
            a=f"inner: {names[0][face]}",
            b=f"outer: {names[1][face]}",
            a_inside=False,
            expected=expected,
        )
        for face in faces
    )


DOUBLE_SLIDE = Style(
    code="double-slide",
    title="double slide box",
    group="slide",
    summary="Two sleeves, one pushed across into the other: two layers on two sides, one on the rest, all six shut.",
    use="Framed and flat goods, files, heavy small parts: no flap to tape, strong edges.",
    parameters=(
        JOINT,
        CLEARANCE,
        lap_on_walls(lambda order: min(order.L.value, order.B.value, order.H.value)),
        choice(
            "outer_runs",
            "Which way the outer sleeve runs.",
            {"up": "along H: front and back are double", "across": "along B: top and bottom are double"},
            "up",
        ),
    ),
    build=build,
    example="300x200x120",
    thickness=(0.3, 9.0),
    assembly="M",
    source="two scored shells one in the other, two layers on the sides: supplier's page (qps4u.com); dimensions of "
    "our own",
)
