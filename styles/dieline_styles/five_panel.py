"""The five-panel folder (0410): five panels in line round L, the fifth covering the first, and layered end flaps."""

from __future__ import annotations

from dieline.style import (
    Closed,
    Design,
    Face,
    Motion,
    Order,
    Parameter,
    Piece,
    Quantity,
    Sheet,
    Size,
    Step,
    Style,
    length,
)

from .column import Row, lay_end_flaps, lay_row
from .folder import CLEARANCE, FLUTES, longest_apart, stand

__all__ = ["STYLES"]

_LAYERS = {"front": 0, "back": 0, "inner top": 1, "bottom": 2, "outer top": 3}
"""Boards between the end flaps of each panel and the goods: the order in which they are folded."""


def _longest_side_flap(order: Order) -> float:
    """The flaps on front and back must not meet."""
    return longest_apart(order.B.value, order.thickness)


PARAMETERS: tuple[Parameter, ...] = (
    CLEARANCE,
    length(
        "end_flap",
        "How far the end flaps of bottom and top reach across the ends.",
        lambda order: order.H.value,
        lambda order: order.H.value / 2 + order.number("clearance"),
        lambda order: order.H.value,
        why="with less the ends stand open between them, with more they reach past the box",
        source="as deep as the box, so that each covers the whole end: common practice, no source",
    ),
    length(
        "side_flap",
        "Length of the end flaps on front and back.",
        lambda order: min(order.number("end_flap"), _longest_side_flap(order)),
        lambda order: min(10.0 + order.thickness, _longest_side_flap(order)),
        _longest_side_flap,
        why="a shorter flap is hard to fold, and longer ones collide",
    ),
    length(
        "slot_width",
        "Width of the slots between flaps.",
        lambda order: max(order.thickness + 2 * order.number("clearance"), 3.0),
        lambda order: order.thickness + 2 * order.number("clearance"),
        lambda order: max(order.thickness + 2 * order.number("clearance"), 10.0, 2 * order.thickness),
        why="the flaps on front and back must go down between the walls; wide slots leave the corners open",
        source="4–10 mm GOST 9142-2014; cut with a die it may be narrower",
    ),
    FLUTES,
)


def build(order: Order) -> Design:
    """Inner top, front, bottom, back and outer top in line; flaps at both ends of all five."""
    t, play = order.thickness, order.number("clearance")
    slot = order.size("slot width", order.as_set("slot_width"))
    order.need("B", slot - t + 10.0, "the end flaps on bottom and top need 10 mm between their slots")
    order.need("H", slot - t + 10.0, "the end flaps on front and back need 10 mm between their slots")
    sheet = Sheet("body", flutes="x" if order.choice("flutes") == "L" else "y")
    rows = _rows(order)
    bottom, back = rows["bottom"], rows["back"]
    faces = {"front": Face.FRONT, "back": Face.BACK, "inner top": Face.TOP, "outer top": Face.TOP}
    # What is longer than front and back ends beside the slots where these end.
    over = {name: ((row.length - back.length) / 2, slot / 2) for name, row in rows.items()}
    whole = (0.0, 0.0)
    lay_row(sheet, bottom, None, Face.BOTTOM, backs=(over["bottom"], over["bottom"]))
    for stage, name in enumerate(faces, start=1):
        on = {"inner top": rows["front"], "outer top": back}.get(name, bottom)
        cut = {"inner top": (whole, over["inner top"]), "outer top": (over["outer top"], whole)}.get(
            name, (whole, whole)
        )
        lay_row(sheet, rows[name], on, faces[name], k=float(name == "outer top"), stage=max(1, stage - 1), backs=cut)
    _lay_flaps(order, sheet, rows, slot / 2)
    return Design(
        style=order.style,
        pieces=(Piece(blank=sheet.blank(), stand=stand(order)),),
        inside=order.inside,
        crease=Size(rows["front"].length, bottom.height, rows["front"].height),
        sizes=tuple(order.ledger.lines),
        closed=(
            *(Closed(face) for face in (Face.BOTTOM, Face.TOP, Face.FRONT, Face.BACK)),
            *(Closed(face, max(play, (slot - t) / 2)) for face in (Face.LEFT, Face.RIGHT)),
        ),
        stretch=(
            rows["front"].length - t - order.L.value,
            bottom.height - t - order.B.value,
            rows["front"].height - t - order.H.value,
        ),
        motions=(_motion(),),
        words=(
            "Put the goods on the bottom; front up, inner top over, back up, outer top over; then the end flaps layer "
            "by layer: front and back, inner top, bottom, outer top. Tape or glue the outer top and its flaps.",
        ),
    )


def _rows(order: Order) -> dict[str, Row]:
    """The panels in line, from the inner top (at the foot of the blank) to the outer top."""
    t = order.thickness
    long = {
        k: order.size(f"{name} length", order.span(order.L, k, k), round_as="side length" if k else "")
        for k, name in enumerate(("side", "inner top", "bottom", "outer top"))
    }
    clear = Quantity.named("c", order.number("clearance"))
    deep = order.size("bottom breadth", order.span(order.B, 0, 0))
    middle = order.L.value / 2
    bottom = Row("bottom", middle - long[2] / 2, middle + long[2] / 2, -t / 2, -t / 2 + deep)
    front = bottom.below("front", long[0], order.size("front height", order.span(order.H, 0, 0)))
    back = bottom.above("back", long[0], order.size("back height", order.span(order.H, 0, 1), round_as="front height"))
    under, over = order.B + order.t / 2 - clear, order.B + 1.5 * order.t
    inner = front.below("inner top", long[1], order.size("inner top breadth", under, round_as="bottom breadth"))
    outer = back.above("outer top", long[3], order.size("outer top breadth", over, round_as="bottom breadth"))
    return {row.name: row for row in (inner, front, bottom, back, outer)}


def _lay_flaps(order: Order, sheet: Sheet, rows: dict[str, Row], half: float) -> None:
    t = order.thickness
    reach, clear = order.quantity("end_flap"), Quantity.named("c", order.number("clearance"))
    lengths = {
        "front": order.size("side flap", order.as_set("side_flap")),
        "inner top": order.size("inner end flap", reach + order.t / 2 - clear),
        "outer top": order.size("outer end flap", reach + 1.5 * order.t),
    }
    lengths |= {"back": lengths["front"], "bottom": lengths["inner top"]}
    # The back's flaps go under the inner top, a board lower than the crease of the outer one; tops end in raw edges.
    backs = {"back": (half, half + t), "inner top": (0.0, half), "outer top": (half, 0.0)}
    for name, row in rows.items():
        k = _LAYERS[name]
        lay_end_flaps(sheet, row, backs.get(name, (half, half)), lengths[name], k=k, stage=4 + k)


def _motion() -> Motion:
    """Round the goods in the order front, inner top, back, outer top; then flaps from the innermost layer out."""
    turn = (90.0, 0.0)
    steps = [
        Step("fold up the front", {"front": turn}),
        Step("fold the inner top over", {"inner top": turn}),
        Step("fold up the back", {"back": turn}),
        Step("fold the outer top over", {"outer top": turn}),
    ]
    for layer in range(4):
        names = [name for name, k in _LAYERS.items() if k == layer]
        bends = {f"{name} flap {place}": turn for name in names for place in ("left", "right")}
        steps.append(Step(f"fold the end flaps of {' and '.join(names)} in", bends))
    return Motion(steps=tuple(steps))


STYLES: dict[str, Style] = {
    "0410": Style(
        code="0410",
        title="five-panel folder",
        group="folder",
        summary="Five panels in line, folded round the goods; the fifth covers the first completely, and flaps on all "
        "five close the ends in four layers.",
        use="Long and narrow goods: rods, lamps, blinds, umbrellas; the many layers at the ends take the knocks.",
        parameters=PARAMETERS,
        build=build,
        example="600x90x70",
        thickness=(0.5, 9.0),
        assembly="M",
        source="international fibreboard case code; the fifth panel covers a side as box makers publish it "
        "(actionboxinc.com/box_folders.html, ipack.com/styles-of-shipping-boxes-explained)",
    )
}
