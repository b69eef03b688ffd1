"""Corner posts: rolled square tubes that stand in the corners of a box and carry what is stacked on it."""

from __future__ import annotations

from dieline.style import (
    Blank,
    Design,
    Gauge,
    Joint,
    JointKind,
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
    length,
    rectangle,
)

from .fitment import PLAY, fitment

__all__ = ["STYLES"]

_LEAST_HOLLOW = 10.0
"""mm. Narrower panels than this cannot be folded round."""

_TURN = (90.0, 0.0)


def _least(order: Order, boards: int) -> float:
    return _LEAST_HOLLOW + boards * order.thickness


def _usual(order: Order, side: float, boards: int) -> float:
    """A sixth of the side, so that the goods keep the rest."""
    return max(_least(order, boards), min(60.0, round(side / 6, 1), (side - order.number("play")) / 2))


def _room(order: Order, side: float) -> float:
    """Two posts along a side must not meet."""
    return (side - order.number("play")) / 2


PARAMETERS = (
    PLAY,
    length(
        "post_length",
        "Outside size of a post along L.",
        lambda order: _usual(order, order.L.value, 2),
        lambda order: _least(order, 2),
        lambda order: _room(order, order.L.value),
        why="its panels must be 10 mm broad inside, and two posts must stand side by side",
    ),
    length(
        "post_breadth",
        "Outside size of a post along B; two boards of it are wall and tail, one the other wall.",
        lambda order: _usual(order, order.B.value, 3),
        lambda order: _least(order, 3),
        lambda order: _room(order, order.B.value),
        why="its panels must be 10 mm broad inside, and two posts must stand side by side",
    ),
    length(
        "tail_play",
        "How far the tail ends from the far wall of the post.",
        lambda order: min(2.0, order.number("post_length") / 10),
        0.3,
        lambda order: order.number("post_length") / 2,
        why="the tail must reach in to be glued, and not press against the wall",
    ),
    count("posts", "How many posts stand in the box.", 4, 1, 4, why="a box has four corners"),
    choice("joint", "How the tail is held.", {"glued": "glued", "stitched": "stitched with wire"}, "glued"),
    choice(
        "flutes",
        "Which way the flutes (or the grain) run.",
        {"upright": "along H, to carry the stack", "level": "round the post"},
        "upright",
        source="flutes of what carries run along H: trade association",
    ),
)


def build(order: Order) -> Design:
    """Four walls and a tail, rolled up; the tail lies inside the first wall and is joined to it."""
    t, play = order.thickness, order.number("play")
    order.need("L", 2 * _least(order, 2) + play, "two posts of 10 mm inside must stand side by side")
    order.need("B", 2 * _least(order, 3) + play, "two posts of 10 mm inside must stand side by side")
    order.need("H", 20.0 + play, "the posts must be 20 mm high")
    a, b = order.quantity("post_length"), order.quantity("post_breadth")
    widths = {
        "first wall": order.size("first wall width", a - order.t / 2),
        "second wall": order.size("second wall width", b - order.t),
        "third wall": order.size("third wall width", a - order.t, round_as="first wall width"),
        # It ends at the tail, a board inside the first wall.
        "fourth wall": order.size("fourth wall width", b - 2 * order.t, round_as="second wall width"),
        "tail": order.size("tail width", a - 1.5 * order.t - order.quantity("tail_play"), round_as="first wall width"),
    }
    tall = order.size("post height", order.H - order.quantity("play"))
    blank = _roll(order, widths, tall)
    stands = _stands(order, widths)
    number = round(order.number("posts"))
    over = widths["third wall"] + t, widths["second wall"] + t
    return fitment(
        order,
        (Piece(blank=blank, stand=stands[0], more=tuple(stands[1:number]), count=number),),
        Size(over[0] - t, over[1] - t, tall),
        gauges=_gauges(over, t, number),
        motions=(Motion(piece="post", steps=_STEPS),),
        words=("Roll it up: tail in, fourth, second and first wall over it; join the tail inside the first wall.",),
    )


_STEPS = (
    Step("fold the tail in", {"tail": _TURN}),
    Step("fold up the fourth wall", {"fourth wall": _TURN}),
    Step("fold up the second wall", {"second wall": _TURN}),
    Step("lay the first wall on the tail", {"first wall": _TURN}),
)


def _roll(order: Order, widths: dict[str, float], tall: float) -> Blank:
    sheet = Sheet("post", flutes="y" if order.choice("flutes") == "upright" else "x")
    places: dict[str, float] = {}
    x = 0.0
    for name, wide in widths.items():
        places[name] = x
        x += wide
    # The third wall is the root: the roll closes over it from both sides.
    for name in ("third wall", "fourth wall", "tail", "second wall", "first wall"):
        outline = rectangle(places[name], 0.0, places[name] + widths[name], tall)
        sheet.panel(name, outline, role=Role.LAP if name == "tail" else Role.WALL)
    for parent, child, at, stage in (
        ("third wall", "fourth wall", "fourth wall", 2),
        ("fourth wall", "tail", "tail", 1),
        ("third wall", "second wall", "third wall", 3),
        ("second wall", "first wall", "second wall", 4),
    ):
        sheet.fold(parent, child, ((places[at], 0.0), (places[at], tall)), stage=stage)
    edge = min(2.0, widths["tail"] / 10)
    low = min(2.0, tall / 10)
    zone = rectangle(
        places["tail"] + order.thickness / 2 + edge, low, places["tail"] + widths["tail"] - edge, tall - low
    )
    kind = JointKind.GLUED if order.choice("joint") == "glued" else JointKind.STITCHED
    sheet.join(Joint(kind=kind, a="tail", b="first wall", zone=zone))
    return sheet.blank()


def _stands(order: Order, widths: dict[str, float]) -> list[Stand]:
    """Where the third wall of each post stands: at the far side of each post along B."""
    t, half = order.thickness, order.number("play") / 2
    a, b = widths["third wall"] + t, widths["second wall"] + t
    left, right = half, order.L.value - half - a
    front, back = half, order.B.value - half - b
    corners = ((left, front), (right, back), (right, front), (left, back))
    at = (widths["first wall"] + widths["second wall"], 0.0)
    return [Stand(at, (x + t / 2, y + b - t / 2, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)) for x, y in corners]


def _gauges(over: tuple[float, float], t: float, number: int) -> list[Gauge]:
    post = "post 1: " if number > 1 else ""
    pairs = (("along L", "second wall", "fourth wall", over[0]), ("along B", "first wall", "third wall", over[1]))
    outside = [
        Gauge(name=f"post {way}", a=post + a, b=post + b, a_inside=False, b_inside=False, expected=size)
        for way, a, b, size in pairs
    ]
    inside = Gauge(name="hollow along B", a=post + "tail", b=post + "third wall", expected=over[1] - 3 * t)
    return [*outside, inside]


STYLES: dict[str, Style] = {
    "corner-post": Style(
        code="corner-post",
        title="rolled corner post",
        group="fitment",
        summary="Four walls and a tail rolled up to a square tube, the tail joined inside the first wall. Stands "
        "in a corner of the box; four to a box unless asked otherwise.",
        use="Carries the stack past goods that cannot, and holds them off the corners.",
        parameters=PARAMETERS,
        build=build,
        example="380x280x250",
        thickness=(0.5, 9.0),
    )
}
