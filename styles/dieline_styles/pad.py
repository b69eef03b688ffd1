"""Pads cut from one sheet: flat (0900), and with one to three creases."""

from __future__ import annotations

from dieline.style import (
    Design,
    Gauge,
    Motion,
    Order,
    Piece,
    Role,
    Sheet,
    Size,
    Stand,
    Step,
    Style,
    choice,
    count,
    rectangle,
)

from .fitment import PLAY, TURN, UNDER, fitment, play_of

__all__ = ["STYLES"]


def _pad(order: Order) -> Design:
    """A flat sheet, on one of the three pairs of faces of the box."""
    t, play = order.thickness, play_of(order)
    lies = order.choice("lies")
    sides = {"bottom": (order.L, order.B), "front": (order.L, order.H), "end": (order.B, order.H)}
    across, deep = sides[lies]
    order.need({"bottom": "H", "front": "B", "end": "L"}[lies], t, "the box must be as deep as the pad is thick")
    wide = order.size("pad length", across - play)
    tall = order.size("pad breadth", deep - play)
    half = play.value / 2
    origin, u, v = {
        "bottom": ((half, half, t / 2), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        "front": ((half, t / 2, half), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        "end": ((t / 2, half, half), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    }[lies]
    sheet = Sheet("pad", flutes="x" if order.choice("flutes") == "length" else "y")
    sheet.panel("pad", rectangle(0.0, 0.0, wide, tall))
    piece = Piece(blank=sheet.blank(), stand=Stand((0.0, 0.0), origin, u, v))
    where = {"bottom": "flat between layers, or on floor and lid", "front": "upright along L", "end": "upright along B"}
    return fitment(order, (piece,), Size(wide, tall, t), words=(f"Goes into the box {where[lies]}.",))


def _creased_pad(order: Order) -> Design:
    """Bottom and back; with two creases a front as well, with three a top over it."""
    t, play, creases = order.thickness, play_of(order), round(order.number("creases"))
    along = order.choice("along")
    run, across = (order.L, order.B) if along == "L" else (order.B, order.L)
    name = "B" if along == "L" else "L"
    order.need("H", 10.0 + 3 * t + UNDER + play.value, "the panels that stand up must be 10 mm high")
    order.need(name, 10.0 + 2 * t + play.value, "the panel between them must be 10 mm broad")
    wide = order.size("pad length", run - play)
    deep = order.size("bottom breadth", across - play - order.t * (0.5 if creases == 1 else 1.0))
    # Outside half a board beyond each crease; the front edge is raw where nothing stands there.
    over = deep + t * (0.5 if creases == 1 else 1.0)
    low = 0.0 if creases == 1 else t / 2
    sheet = Sheet("pad", flutes="y" if order.choice("flutes") == "upright" else "x")
    sheet.panel("bottom", rectangle(0.0, low, wide, low + deep))
    tall = order.size("back height", order.H - play - order.t * (1.0 if creases == 3 else 0.5))
    foot, head = ((0.0, low), (wide, low)), ((wide, low + deep), (0.0, low + deep))
    sheet.hang("back", "bottom", head, rectangle(0.0, 0.0, wide, tall), role=Role.WALL)
    if creases > 1:
        short = order.H - play - order.t * 0.5 if creases == 2 else order.H - play - 1.5 * order.t - UNDER
        front = order.size("front height", short, round_as="back height")
        sheet.hang("front", "bottom", foot, rectangle(0.0, 0.0, wide, front), role=Role.WALL)
    if creases == 3:
        reach = order.size("top breadth", across - play - order.t / 2, round_as="bottom breadth")
        edge = ((wide, low + deep + tall), (0.0, low + deep + tall))
        sheet.hang("top", "back", edge, rectangle(0.0, 0.0, wide, reach), stage=2)
    piece = Piece(blank=sheet.blank(), stand=_pad_stand(order, along))
    return fitment(
        order,
        (piece,),
        Size(wide, deep, tall),
        gauges=_pad_gauges(creases, over, tall + t),
        motions=(Motion(steps=_pad_steps(creases)),),
        words=(_PAD_WORDS[creases],),
    )


_PAD_WORDS = {
    1: "Fold the back up; goes into the box along bottom and one wall.",
    2: "Fold front and back up; goes into the box along bottom and two walls.",
    3: "Fold front and back up, put it into the box, fill it, fold the top over the goods.",
}


def _pad_stand(order: Order, along: str) -> Stand:
    t, half = order.thickness, order.number("play") / 2
    if along == "L":
        return Stand((0.0, 0.0), (half, half, t / 2), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    # Turned a quarter: its front comes to the right end of the box.
    return Stand((0.0, 0.0), (order.L.value - half, half, t / 2), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))


def _pad_steps(creases: int) -> tuple[Step, ...]:
    if creases == 1:
        return (Step("fold the back up", {"back": TURN}),)
    up = Step("fold front and back up", {"back": TURN, "front": TURN})
    return (up, Step("fold the top over", {"top": TURN})) if creases == 3 else (up,)


def _pad_gauges(creases: int, over: float, tall: float) -> list[Gauge]:
    gauges = []
    if creases > 1:
        gauges.append(
            Gauge(name="over front and back", a="front", b="back", a_inside=False, b_inside=False, expected=over)
        )
    if creases == 3:
        gauges.append(
            Gauge(name="over bottom and top", a="bottom", b="top", a_inside=False, b_inside=False, expected=tall)
        )
    return gauges


_PAD_FLUTES = choice(
    "flutes",
    "Which way the flutes (or the grain) run.",
    {"length": "along the longer size", "breadth": "across it"},
    "length",
)
_UPRIGHT = choice(
    "flutes",
    "Which way the flutes (or the grain) run.",
    {"upright": "up the panels that stand, across the creases", "level": "along the creases"},
    "upright",
)
STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="0900",
            title="pad",
            group="fitment",
            summary="A flat rectangle, a little smaller than the box inside: between layers, on the floor, under "
            "the lid, or against a wall.",
            use="Parts layers, fills out height, spreads the load, keeps knives and tape off the goods.",
            parameters=(
                choice(
                    "lies",
                    "Which inside faces of the box it covers.",
                    {"bottom": "bottom or top, L × B", "front": "front or back, L × H", "end": "left or right, B × H"},
                    "bottom",
                ),
                PLAY,
                _PAD_FLUTES,
            ),
            build=_pad,
            example="380x280x150",
            thickness=(0.3, 16.0),
            source="international fibreboard case code; function of a pad as a box maker publishes it "
            "(b-n-bbox.com/products/interior.html)",
        ),
        Style(
            code="creased-pad",
            title="pad with one to three creases",
            group="fitment",
            summary="A strip across the box with one crease (an L along bottom and back), two (a U with a front "
            "as well) or three (a top that folds over the goods); held by the walls of the box.",
            use="Lines and cushions two to four faces of a box; holds goods off two walls.",
            parameters=(
                count(
                    "creases",
                    "How many creases it has.",
                    2,
                    1,
                    3,
                    why="one makes an L, two a U, three go round the goods",
                ),
                choice("along", "Which way the creases run.", {"L": "along L", "B": "along B"}, "L"),
                PLAY,
                _UPRIGHT,
            ),
            build=_creased_pad,
            example="380x280x150",
            thickness=(0.3, 9.0),
        ),
    )
}
