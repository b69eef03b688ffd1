"""Telescopes of two trays: a base, and a lid of the same construction turned over it (0300, 0301, 0306, 0308, 0309)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from dieline.style import (
    Design,
    Face,
    FourthSize,
    Gauge,
    Order,
    Piece,
    Quantity,
    Size,
    SizeError,
    Slide,
    Style,
    Value,
    format_mm,
    length,
)

from . import tray, web_tray
from .part import Part
from .tray import GluedTray, laps
from .tray_body import FLUTES, sheet_of
from .web_tray import WEBS, WebTray

__all__ = ["STYLES"]

_LEAST_LID = 8.0
"""mm. A lower wall cannot be folded and joined, besides a board."""

_TELESCOPE = 2.0 / 3.0
"""Share of the depth from which on a lid makes a telescope. Source: Fibre Box Association's text as a box maker
reprints it, pgsiaminterco.com/en/products/telescopic-box."""

CLEARANCE = length(
    "clearance",
    "By how much the inside of the lid is larger than the outside of the base, along L and along B.",
    lambda order: max(2.0, order.house.step / 2),
    lambda order: order.house.step / 2,
    lambda order: 6.0 + order.thickness + order.house.step / 2,
    why="rounding may take half a step of it, and with more the lid rattles and its walls no longer carry the base's",
    source="1–3 mm: common practice, no source",
)


@dataclass(frozen=True, slots=True)
class _Kind:
    """What makes one of the styles.

    Attributes:
        body: What base and lid are built as.
        options: Options that are fixed.
        least: Least depth of the lid, as a share of H.
        most: Its depth must be less than this share of H; None for down to the underside of the base.
        why: Why.
    """

    body: type[GluedTray] | type[WebTray] = GluedTray
    options: tuple[tuple[str, Value], ...] = ()
    least: float = 0.0
    most: float | None = None
    why: str = ""


_KINDS = {
    "0300": _Kind(),
    "0301": _Kind(least=_TELESCOPE, why="a lower lid makes a box with cover, 0306, not a full telescope"),
    "0306": _Kind(most=_TELESCOPE, why="a deeper lid makes a telescope, 0300 or 0301"),
    "0308": _Kind(options=(("lap_side", "outside"),)),
    "0309": _Kind(body=WebTray),
}


def build(order: Order) -> Design:
    """Base and lid; the lid's inside is the base's outside and the clearance."""
    kind = _KINDS[order.style]
    order.need("H", order.thickness + _LEAST_LID, "a lower wall cannot be folded and joined")
    depth = _depth(order, kind)
    base = kind.body(Part(order, "base", order.L, order.B, order.H, dict(kind.options)))
    clear = Quantity.named("clearance", order.number("clearance"))
    long, deep = (Quantity.named(f"base outside {name}", base.outside[i]) + clear for i, name in enumerate("LB"))
    lid = kind.body(Part(order, "lid", long, deep, depth, dict(kind.options)), base)
    pieces = []
    for name, body in (("base", base), ("lid", lid)):
        sheet = sheet_of(order, name)
        body.lay(sheet)
        pieces.append(Piece(blank=sheet.blank(), stand=body.stand))
    return Design(
        style=order.style,
        pieces=tuple(pieces),
        inside=order.inside,
        crease=base.crease,
        sizes=tuple(order.ledger.lines),
        closed=(*base.shut(), *lid.shut()[:1]),
        stretch=base.stretch,
        facts={"lid reaches over the base": depth.value},
        motions=tuple(move for name, body in (("base", base), ("lid", lid)) if (move := body.put_up(name))),
        gauges=_gauges(base, lid),
        slides=(Slide(name="put the lid over the base", piece="lid", start=(0.0, 0.0, depth.value + order.thickness)),),
        words=(_put_up(base), _called(order, depth.value)),
    )


def _depth(order: Order, kind: _Kind) -> Quantity:
    """Inside depth of the lid, h.

    Raises:
        SizeError: With the limit and its reason.
    """
    t, high, h = order.thickness, order.H.value, order.inside.fourth or 0.0
    where, what = "size, fourth size (h)", f"{format_mm(h)} mm"
    least = max(_LEAST_LID + t, kind.least * high)
    if h < least - 1e-6:
        why = kind.why if kind.least * high >= least else "a lower lid cannot be folded and joined"
        raise SizeError(where, what, f"it must be at least {format_mm(least)} mm: {why}")
    if kind.most is not None and h >= kind.most * high - 1e-6:
        raise SizeError(where, what, f"it must be less than {format_mm(kind.most * high)} mm: {kind.why}")
    if h > high + t + 1e-6:
        raise SizeError(
            where, what, f"it must be at most {format_mm(high + t)} mm: a deeper lid reaches under the base"
        )
    return Quantity.named("h", h)


def _gauges(base: GluedTray | WebTray, lid: GluedTray | WebTray) -> tuple[Gauge, ...]:
    """The clearance on all four sides, where base and lid come nearest to each other."""
    found = []
    for side in (Face.LEFT, Face.RIGHT, Face.FRONT, Face.BACK):
        # The lid's blank is turned over: its left wall stands at the right.
        over = next(other for other in Face if lid.face(other) is side)
        found.append(
            Gauge(
                name=f"clearance at the {side.value}",
                a=f"base: {base.outermost(side)}",
                b=f"lid: {lid.innermost(over)}",
                a_inside=False,
                expected=(lid.between[side.axis] - base.outside[side.axis]) / 2,
            )
        )
    return tuple(found)


def _put_up(base: GluedTray | WebTray) -> str:
    words = tray.WORDS[base.laps_inside] if isinstance(base, GluedTray) else web_tray.WORDS
    return f"Base and lid alike: {words[0].lower()}{words[1:]} Put the lid over the base."


def _called(order: Order, depth: float) -> str:
    """Telescope or box with cover, by the trade association's rule."""
    limit = _TELESCOPE * order.H.value
    telescope = depth >= limit - 1e-6
    what, than = ("a telescope box", "at least") if telescope else ("a box with cover", "less than")
    return (
        f"The lid is {format_mm(depth)} mm deep, {than} two thirds of {format_mm(order.H.value)} mm: {what} "
        "(Fibre Box Association)."
    )


def _style(code: str, title: str, summary: str, depth: str, default: Callable[[Size, float], float]) -> Style:
    kind = _KINDS[code]
    body = WEBS if kind.body is WebTray else laps(str(dict(kind.options).get("lap_side", "")))
    return Style(
        code=code,
        title=title,
        group="telescope",
        summary=summary,
        use=_USES[code],
        parameters=(*body, CLEARANCE, FLUTES),
        build=build,
        example=_EXAMPLES[code],
        thickness=(0.3, 5.0) if kind.body is WebTray else (0.3, 9.0),
        fourth=FourthSize("h", f"depth of the lid, inside; {depth}", default),
        assembly="MA",
        source=_SOURCES[code],
    )


def _full(size: Size, t: float) -> float:
    """Down to the underside of the base."""
    return size.height + t


def _two_thirds(size: Size, t: float) -> float:
    """Just enough to be called a telescope."""
    return max(_TELESCOPE * size.height, min(_LEAST_LID + t, size.height + t))


def _shallow(size: Size, t: float) -> float:
    return max(round(0.35 * size.height, 1), _LEAST_LID + t)


_MAKER = "herculeindustrial.com/products/corrugated/fefco"
_SOURCES = {
    "0300": "international fibreboard case code; construction as a trade association shows it (wellpappe-wissen.de)",
    "0301": "international fibreboard case code; full telescope design style as a box maker publishes it "
    "(elsonsinternational.com/basic-box-styles)",
    "0306": "international fibreboard case code (number and construction from memory of the trade)",
    "0308": f"international fibreboard case code; laps outside as a box maker publishes it ({_MAKER})",
    "0309": f"international fibreboard case code; webbed corners as a box maker publishes it ({_MAKER})",
}
_USES = {
    "0300": "Goods that are laid in from above and must be got at again; the depth of the lid is free.",
    "0301": "Heavy and fragile goods: double walls all round, and the depth may follow the goods.",
    "0306": "Shoes, garments, files, tiles: a deep tray and a shallow cover.",
    "0308": "Goods that must not catch on the laps: the inside of base and lid is smooth.",
    "0309": "Wet or fine goods in a telescope: the corners of base and lid are not cut.",
}
_EXAMPLES = {
    "0300": "355x205x120/40",
    "0301": "355x205x120",
    "0306": "330x200x120/40",
    "0308": "400x300x120",
    "0309": "400x300x120",
}

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        _style(
            "0300",
            "telescope of two trays",
            "A base and a lid, both trays with glued corners; the lid goes over the base down to any depth.",
            "two thirds of H if left out",
            _two_thirds,
        ),
        _style(
            "0301",
            "full telescope of two trays",
            "A base and a lid, both trays with glued corners; the lid reaches over the full depth of the base.",
            "down to the underside of the base if left out",
            _full,
        ),
        _style(
            "0306",
            "tray with cover",
            "A deep tray with glued corners, and a shallow cover of the same construction over its rim.",
            "35 % of H if left out",
            _shallow,
        ),
        _style(
            "0308",
            "telescope of two trays, laps outside",
            "A base and a lid whose corner laps are joined on the outside of the walls, so that the inside is smooth.",
            "down to the underside of the base if left out",
            _full,
        ),
        _style(
            "0309",
            "telescope of two trays with web corners",
            "A base and a lid whose corners are not cut but folded double as webs and glued to the walls.",
            "down to the underside of the base if left out",
            _full,
        ),
    )
}
