"""Where the boxes lie on a pallet, and how high they stand, as SVG."""

from __future__ import annotations

from typing import Any

from ..units import format_mm
from .pallet import Layer
from .pallet_deck import Pallet
from .placing import PalletLoad

__all__ = ["layer_svg"]

INK, BOARD, BOARD_TURNED, WOOD, SLAT, LIMIT = "#3b2a1a", "#d9b98c", "#c99b66", "#efe6d8", "#e2d3bb", "#a8321e"
PLAN, GAP, TOP, FOOT = 110.0, 14.0, 20.0, 12.0
"""mm on the sheet: width of the plan, room between plan and side view, for the title and for the words below."""

PALLET_SHOWN = 144.0
"""mm. A pallet whose height is not known is drawn this high, that of the euro pallet, and the words say so."""

TEXT = 3.0


def layer_svg(found: PalletLoad, *, title: str = "") -> str:
    """The layer from above and the load from the side, to one scale; boxes over the edge are outlined in red.

    Args:
        found: What stands on the pallet.
        title: Name of the box.
    """
    import svgwrite  # only where a picture is asked for

    over_x, over_y = found.overhangs
    pallet = found.pallet
    wide, deep = pallet.length + 2 * over_x, pallet.breadth + 2 * over_y
    scale = PLAN / wide
    under = pallet.height or PALLET_SHOWN
    high = (under + found.layers * found.box_height) * scale
    laid = [found.layer_at(number) for number in range(1 if found.bond is None else 2)]
    width, height = 2 * 8 + (len(laid) + 1) * (PLAN + GAP) - GAP, TOP + max(deep * scale, high) + FOOT
    size = (f"{width:.2f}mm", f"{height:.2f}mm")
    drawing = svgwrite.Drawing(size=size, viewBox=f"0 0 {width:.2f} {height:.2f}", debug=False)
    drawing.set_desc(title=f"Layer and load {title}".strip())
    drawing.add(drawing.rect((0, 0), (round(width, 2), round(height, 2)), fill="white"))
    base = height - FOOT
    for number, layer in enumerate(laid):
        _plan(drawing, found.pallet, layer, scale, (8 + number * (PLAN + GAP) + over_x * scale, base - over_y * scale))
    _side(drawing, found, scale, (8 + len(laid) * (PLAN + GAP) + over_x * scale, base), under)
    _words(drawing, found, title, height)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing.tostring()}\n'


def _plan(drawing: Any, pallet: Pallet, layer: Layer, scale: float, corner: tuple[float, float]) -> None:
    """The layer from above on its deck; ``corner`` is the deck's near left corner on the sheet."""
    left, base = corner
    _box(drawing, (left, base - pallet.breadth * scale), (pallet.length * scale, pallet.breadth * scale), WOOD, INK)
    for low, far in pallet.board_edges():
        _box(drawing, (left, base - far * scale), (pallet.length * scale, (far - low) * scale), SLAT, INK, 0.1)
    for place in layer.places:
        x0, y0, x1, y1 = layer.footprint(place)
        over = min(x0, y0) < -1e-6 or x1 > pallet.length + 1e-6 or y1 > pallet.breadth + 1e-6
        at = (left + x0 * scale, base - y1 * scale)
        fill = BOARD_TURNED if place.turned else BOARD
        _box(drawing, at, ((x1 - x0) * scale, (y1 - y0) * scale), fill, LIMIT if over else INK, 0.5 if over else 0.3)


def _side(drawing: Any, found: PalletLoad, scale: float, corner: tuple[float, float], under: float) -> None:
    """The load from its long side; the boxes that stand at the front are drawn."""
    left, base = corner
    _box(drawing, (left, base - under * scale), (found.pallet.length * scale, under * scale), WOOD, INK)
    fronts = [_front(found.layer_at(number)) for number in (0, 1)]
    for number in range(found.layers):
        top = base - (under + (number + 1) * found.box_height) * scale
        for x0, x1, turned in fronts[number % 2]:
            fill = BOARD_TURNED if turned else BOARD
            _box(drawing, (left + x0 * scale, top), ((x1 - x0) * scale, found.box_height * scale), fill, INK)


def _front(layer: Layer) -> list[tuple[float, float, bool]]:
    """The boxes that are seen from the front: those with no other box before them."""
    spots = [(*layer.footprint(place), place.turned) for place in layer.places]
    return [
        (x0, x1, turned)
        for x0, y0, x1, _, turned in sorted(spots)
        if not any(a0 < x1 - 1e-6 and a1 > x0 + 1e-6 and b0 < y0 - 1e-6 for a0, b0, a1, _, _ in spots)
    ]


def _box(
    drawing: Any, at: tuple[float, float], size: tuple[float, float], fill: str, ink: str, pen: float = 0.3
) -> None:
    at, size = (round(at[0], 3), round(at[1], 3)), (round(size[0], 3), round(size[1], 3))
    drawing.add(drawing.rect(at, size, fill=fill, stroke=ink, stroke_width=pen))


def _words(drawing: Any, found: PalletLoad, title: str, height: float) -> None:
    words = drawing.g(font_family="Helvetica, Arial, sans-serif", font_size=TEXT, fill=INK)
    pallet, layer = found.pallet, found.layer
    head = f"{title}: " if title else ""
    proved = "no more fit, proved" if layer.proved else f"no layer holds more than {layer.bound}"
    sizes = f"{format_mm(pallet.length)} x {format_mm(pallet.breadth)} mm"
    high = (
        "height of the pallet not known" if found.height is None else f"{format_mm(found.height, 0)} mm with the pallet"
    )
    over = max(found.overhangs)
    lying = "each layer lies as the one below"
    if found.bond is not None:
        lying = f"first and second layer, in turn: {found.bond.how}, {found.bond.bridged:.0%} of the joints bridged"
    lines = [
        (6.5, 4.0, "bold", f"{head}layer and load"),
        (11.5, TEXT, "normal", f"pallet {pallet.name}, {sizes}; {layer.count} boxes to a layer: {proved}"),
        (
            height - 6.0,
            TEXT,
            "normal",
            f"{found.layers} layers, {found.boxes} boxes, {found.mass:.0f} kg, {high}; "
            + (f"{format_mm(over)} mm over the edge" if over else "nothing over the edge"),
        ),
        (height - 2.2, 2.6, "normal", f"darker boxes are turned; {lying}; side view: the front row"),
    ]
    for y, size, weight, text in lines:
        plain = "".join(letter for letter in text if letter.isprintable())
        words.add(drawing.text(plain, insert=(8, round(y, 3)), font_size=size, font_weight=weight))
    drawing.add(words)
