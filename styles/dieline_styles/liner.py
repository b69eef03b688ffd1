"""The liner (0904): four panels round the inside of a box, to carry the stack and to cushion."""

from __future__ import annotations

from itertools import accumulate

from dieline.style import (
    Blank,
    Design,
    Face,
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
    length,
    rectangle,
)

from .fitment import PLAY, TURN, UNDER, fitment, play_of

__all__ = ["LINER"]

_FLUTES = choice(
    "flutes",
    "Which way the flutes (or the grain) run.",
    {"upright": "along H, to carry the stack", "level": "round the box"},
    "upright",
)


def build(order: Order) -> Design:
    """Four panels round the inside of the box; the first butts against the last, nothing is joined."""
    t, play = order.thickness, play_of(order)
    for name in "LB":
        order.need(name, 10.0 + 3 * t + UNDER + play.value, "each panel must be 10 mm broad")
    order.need("H", 10.0 + order.number("height_play"), "the liner must be 10 mm high")
    long, short = order.L - play - 2 * order.t, order.B - play - 2 * order.t  # between its walls
    back = order.size("back width", long + order.t)
    left = order.size("left width", short + order.t)
    front = order.size("front width", long + order.t / 2 - UNDER, round_as="back width")
    right = order.size("right width", short + 1.5 * order.t, round_as="left width")
    tall = order.size("liner height", order.H - order.quantity("height_play"))
    widths = {Face.FRONT: front, Face.LEFT: left, Face.BACK: back, Face.RIGHT: right}
    blank = _row(widths, tall, "y" if order.choice("flutes") == "upright" else "x")
    half = play.value / 2
    out = half + 1.5 * t + left - t  # from the front wall of the box to the middle of the back panel
    stand = Stand((front + left, 0.0), (half + t / 2, out, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    around = Step("fold left and front round", {"left": TURN, "front": TURN})
    return fitment(
        order,
        (Piece(blank=blank, stand=stand),),
        Size(back, left, tall),
        gauges=_gauges(back, left, t),
        motions=(Motion(steps=(around, Step("fold the right panel to it", {"right": TURN}))),),
        words=("Fold it round and put it into the box, where it springs against the walls; it is not joined.",),
    )


def _row(widths: dict[Face, float], tall: float, flutes: str) -> Blank:
    """The panels side by side; the back is the root, folded to are left, front and right."""
    sheet = Sheet("liner", flutes=flutes)
    starts = dict(zip(widths, accumulate(widths.values(), initial=0.0), strict=False))
    for face in (Face.BACK, Face.LEFT, Face.FRONT, Face.RIGHT):
        outline = rectangle(starts[face], 0.0, starts[face] + widths[face], tall)
        sheet.panel(face.value, outline, face=face, role=Role.WALL)
    for parent, child, at, stage in (
        (Face.BACK, Face.LEFT, Face.BACK, 1),
        (Face.LEFT, Face.FRONT, Face.LEFT, 1),
        (Face.BACK, Face.RIGHT, Face.RIGHT, 2),
    ):
        sheet.fold(parent.value, child.value, ((starts[at], 0.0), (starts[at], tall)), stage=stage)
    return sheet.blank()


def _gauges(back: float, left: float, t: float) -> list[Gauge]:
    """Room left inside it, and how large it is outside, along L and along B."""
    found = []
    for way, pair, middle in (("L", ("left", "right"), back), ("B", ("front", "back"), left)):
        a, b = pair
        found.append(Gauge(name=f"room left along {way}", a=a, b=b, expected=middle - t))
        over = f"over it along {way}"
        found.append(Gauge(name=over, a=a, b=b, a_inside=False, b_inside=False, expected=middle + t))
    return found


LINER = Style(
    code="0904",
    title="liner, four panels",
    group="fitment",
    summary="Four panels with three creases, folded round inside the walls of a box; the first edge butts "
    "against the last panel. Not joined: it springs against the walls.",
    use="A second wall round the goods: more stacking strength, and cushioning on all four sides.",
    parameters=(
        PLAY,
        length(
            "height_play",
            "How much lower than the box inside it is.",
            lambda order: min(order.thickness, 0.1 * order.H.value),
            0.0,
            lambda order: order.H.value / 2,
            why="lower, it no longer helps to carry the stack",
            source="the height of the box less a board, as a box maker publishes it "
            "(herculeindustrial.com/products/corrugated/fefco)",
        ),
        _FLUTES,
    ),
    build=build,
    example="380x280x250",
    thickness=(0.3, 9.0),
    source="international fibreboard case code; a four-panel sleeve, unglued, as box makers publish it "
    "(herculeindustrial.com/products/corrugated/fefco, qps4u.com/Slotted-Boxes-s/206.htm)",
)
