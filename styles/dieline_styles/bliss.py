"""The three-piece box: a body round bottom, sides and top, and two ends joined to it by flanges."""

from __future__ import annotations

from dataclasses import dataclass

from dieline.style import (
    Closed,
    Design,
    Face,
    Gauge,
    Motion,
    Order,
    Parameter,
    Piece,
    Quantity,
    Role,
    Sheet,
    Size,
    Stand,
    Step,
    Style,
    choice,
    length,
    polygon,
    rectangle,
)

from .column import Row, lay_row
from .folder import CLEARANCE, FLAP_GAP, meeting, stand

__all__ = ["BLISS"]

_TURN = (90.0, 0.0)


def _widest_flange(order: Order) -> float:
    """Flanges of the two ends must not meet along L, nor those of one end across B; they fit under the rim."""
    t = order.thickness
    return min(0.45 * order.L.value, 0.45 * order.B.value, 0.8 * order.H.value) - t


PARAMETERS: tuple[Parameter, ...] = (
    FLAP_GAP,
    CLEARANCE,
    choice(
        "flanges",
        "Which pieces carry the flanges.",
        {"ends": "the ends, folded inside the body", "body": "the body, folded over plain ends from outside"},
        "ends",
    ),
    length(
        "flange",
        "Width of the flanges that are glued or stapled.",
        lambda order: max(min(40.0, _widest_flange(order)), min(10.0 + order.thickness, _widest_flange(order))),
        lambda order: min(10.0 + order.thickness, _widest_flange(order)),
        _widest_flange,
        why="a flange needs 10 mm to be glued or stapled, and flanges must not meet",
        source="30–40 mm as other glued joints: common practice, no source",
    ),
    choice(
        "top",
        "How the top is closed.",
        {"meet": "by two halves of the body that meet", "open": "not at all: the sides end at the rim"},
        "meet",
    ),
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """What body and ends have in common.

    Attributes:
        on_ends: Whether the ends carry the flanges.
        top: Whether the body closes the top.
        k: Boards between the body's sides and bottom and the inside.
        flange: Flange width, mm.
        play: Clearance, mm.
        gap: Gap between the two halves of the top, mm.
    """

    on_ends: bool
    top: bool
    k: int
    flange: float
    play: float
    gap: float


def build(order: Order) -> Design:
    """Body and two ends; with flanges on the ends the inside is measured between the flanges."""
    t, play = order.thickness, order.number("clearance")
    order.need("B", 6 * t + 20.0, "the flanges need 10 mm each and must not meet")
    order.need("L", 6 * t + 20.0, "the flanges need 10 mm each and must not meet")
    order.need("H", 5 * t + 15.0, "the flanges on the sides need 10 mm to hold")
    on_ends = order.choice("flanges") == "ends"
    flange = order.size("flange", order.as_set("flange"))
    plan = _Plan(on_ends, order.choice("top") == "meet", int(on_ends), flange, play, order.number("flap_gap"))
    body, bottom, tall = _body(order, plan)
    end = _end(order, plan)
    # The ends stand flush with the body, or against its flanges.
    apart = bottom.length - (2 if on_ends else 3) * t
    middle, out = order.L.value / 2, (apart + t) / 2
    near = Stand((0.0, 0.0), (middle - out, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    far = Stand((0.0, 0.0), (middle + out, order.B.value, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
    ends = 0.0 if on_ends else play
    gap = bottom.height - 2 * order.ledger.value("top half") if plan.top else 0.0
    top = (Closed(Face.TOP, max(gap, ends)),) if plan.top else ()
    return Design(
        style=order.style,
        pieces=(
            Piece(blank=body.blank(), stand=stand(order, plan.k)),
            Piece(blank=end.blank(), stand=near, more=(far,), count=2),
        ),
        inside=order.inside,
        crease=Size(bottom.length, bottom.height, tall),
        sizes=tuple(order.ledger.lines),
        closed=(
            *(Closed(face) for face in (Face.BOTTOM, Face.FRONT, Face.BACK)),
            *(Closed(face, ends) for face in (Face.LEFT, Face.RIGHT)),
            *top,
        ),
        stretch=(
            apart - order.L.value,
            bottom.height - (2 * plan.k + 1) * t - order.B.value,
            tall - (plan.k + (1.0 if plan.top else 0.5)) * t - order.H.value,
        ),
        gauges=tuple(_gauges(plan)),
        motions=tuple(_motions(order, plan)),
        words=(_WORDS[on_ends],),
    )


_WORDS = {
    True: "Fold the flanges of the ends in, stand the ends on the body, fold up the sides and join them to these.",
    False: "Fold up the sides, stand the ends between them, fold the flanges over the ends and join them.",
}


def _body(order: Order, plan: _Plan) -> tuple[Sheet, Row, float]:
    """Bottom, two sides and the two halves of the top; returns the bottom and the sides' height too."""
    k = plan.k
    sheet = Sheet("body")
    # Without flanges of its own it ends flush with the ends' outer faces, with flanges it has a crease beyond them.
    long = order.size("body length", order.L + 2 * order.t if plan.on_ends else order.span(order.L, 1, 1))
    deep = order.size("bottom breadth", order.span(order.B, k, k))
    middle = order.L.value / 2, order.B.value / 2
    bottom = Row("bottom", middle[0] - long / 2, middle[0] + long / 2, middle[1] - deep / 2, middle[1] + deep / 2)
    ruled = order.span(order.H, k, 0) if plan.top else order.H + (k + 0.5) * order.t
    tall = order.size("side height", ruled)
    across = order.B + (2 * k + 1) * order.t - order.quantity("flap_gap")
    half = meeting(order, "top half", across / 2) if plan.top else 0.0
    lay_row(sheet, bottom, None, Face.BOTTOM, k=k)
    back = order.thickness + plan.play
    for face in (Face.FRONT, Face.BACK):
        up = face is Face.BACK
        name = f"{face.value} side"
        side = bottom.above(name, long, tall) if up else bottom.below(name, long, tall)
        lay_row(sheet, side, bottom, face, k=k)
        if plan.top:
            name = f"{face.value} top"
            top = side.above(name, long, half) if up else side.below(name, long, half)
            lay_row(sheet, top, side, Face.TOP, stage=3)
        if not plan.on_ends:
            _flanges(sheet, side, plan.flange, (back, back), (up, not up))
    if not plan.on_ends:
        _flanges(sheet, bottom, plan.flange, (back, back), (True, True))
    return sheet, bottom, tall


def _flanges(
    sheet: Sheet, row: Row, reach: float, back: tuple[float, float], mitred: tuple[bool, bool], *, end: bool = False
) -> None:
    """Hang a flange at the left and the right of a panel, its ends square or cut at 45 degrees.

    Args:
        sheet: Where.
        row: The panel.
        reach: Width of the flanges, mm.
        back: How far they keep from the panel's lower and upper edge, mm.
        mitred: Whether their lower and their upper end is cut at 45 degrees.
        end: Whether they lie inside the body's sides, not outside an end.
    """
    y0, y1 = row.y0 + back[0], row.y1 - back[1]
    foot, tip = (reach if cut else 0.0 for cut in mitred)
    whose = "" if end else f"{row.name} "
    for place, face, x, far in (
        ("left", Face.FRONT, row.x0, row.x0 - reach),
        ("right", Face.BACK, row.x1, row.x1 + reach),
    ):
        name = f"{whose}{place} flange"
        outline = polygon([(x, y0), (far, y0 + foot), (far, y1 - tip), (x, y1)])
        # Outside the ends they bound no space: it is the end that makes the face.
        sheet.panel(name, outline, face=face if end else None, k=0.0 if end else 1.0, role=Role.LAP)
        sheet.fold(row.name, name, ((x, y0), (x, y1)), stage=1 if end else 2)


def _end(order: Order, plan: _Plan) -> Sheet:
    """One end, as it stands at the left, seen from inside: its x is the box's y, its y the box's z."""
    t = order.thickness
    sheet = Sheet("end")
    if not plan.on_ends:
        clear = Quantity.named("c", plan.play)
        wide = order.size("end width", order.B - 2 * clear, round_as="bottom breadth")
        under = order.H - (2 if plan.top else 1) * clear  # an open rim is level
        tall = order.size("end height", under, round_as="side height")
        plain = Row("panel", plan.play, plan.play + wide, plan.play, plan.play + tall)
        lay_row(sheet, plain, None, Face.LEFT)
        return sheet
    wide = order.size("end width", order.span(order.B, 0, 0), round_as="bottom breadth")
    # From the crease of the lower flange to the raw rim.
    tall = order.size("end height", order.H + order.t / 2, round_as="side height")
    row = Row("panel", order.B.value / 2 - wide / 2, order.B.value / 2 + wide / 2, -t / 2, -t / 2 + tall)
    lay_row(sheet, row, None, Face.LEFT)
    _flanges(sheet, row, plan.flange, (t / 2 + plan.play, 0.0), (False, False), end=True)
    back = t / 2 + plan.play
    lower = Row("bottom flange", row.x0 + back, row.x1 - back, row.y0 - plan.flange, row.y0)
    sheet.panel(lower.name, rectangle(lower.x0, lower.y0, lower.x1, lower.y1), face=Face.BOTTOM, role=Role.LAP)
    sheet.fold("panel", lower.name, ((lower.x0, lower.y1), (lower.x1, lower.y1)))
    return sheet


def _gauges(plan: _Plan) -> list[Gauge]:
    """Each flange lies on what it is joined to, without a gap."""
    if plan.on_ends:
        met = {"left flange": "front side", "right flange": "back side", "bottom flange": "bottom"}
        return [
            Gauge(name=f"{flange} on the {on}", a=f"end {n}: {flange}", b=f"body: {on}", a_inside=False, expected=0.0)
            # The second end stands the other way round: its left flange lies at the back.
            for n, turn in ((1, met), (2, met | {"left flange": "back side", "right flange": "front side"}))
            for flange, on in turn.items()
        ]
    return [
        Gauge(
            name=f"{on} flange on the {place} end",
            a=f"body: {on} {place} flange",
            b=f"end {n}: panel",
            b_inside=False,
            expected=0.0,
        )
        for n, place in ((1, "left"), (2, "right"))
        for on in ("bottom", "front side", "back side")
    ]


def _motions(order: Order, plan: _Plan) -> list[Motion]:
    sides = Step("fold up the sides", {"front side": _TURN, "back side": _TURN})
    steps = [sides]
    tight: tuple[tuple[str, str], ...] = ()
    if not plan.on_ends:
        names = [f"{on} {place} flange" for on in ("bottom", "front side", "back side") for place in ("left", "right")]
        steps.append(Step("fold the flanges over the ends", dict.fromkeys(names, _TURN)))
    if plan.top:
        steps.append(Step("close the top", {"front top": _TURN, "back top": _TURN}))
        if plan.gap < order.thickness**2 / order.B.value:
            tight = (("front top", "back top"),)  # raw edges that all but touch press past each other
    motions = [Motion(piece="body", steps=tuple(steps), free=tight)]
    if plan.on_ends:
        names = ["left flange", "right flange", "bottom flange"]
        motions.append(Motion(piece="end", steps=(Step("fold the flanges in", dict.fromkeys(names, _TURN)),)))
    return motions


BLISS = Style(
    code="bliss-box",
    title="three-piece box, body and two ends",
    group="rigid",
    summary="A body wraps bottom, sides and top; two end panels are glued or stapled to it by flanges, on the ends or "
    "on the body. Inside it is exact between the flanges.",
    use="Heavy goods and bulk: boxes set up by machine for fruit, fish, meat and hardware; ends that carry the stack.",
    parameters=PARAMETERS,
    build=build,
    example="400x300x200",
    thickness=(1.0, 9.0),
    assembly="MA",
    source="group 06 of the international fibreboard case code: two end panels and a body joined by the user; "
    "construction of our own",
)
