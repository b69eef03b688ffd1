"""Tube cartons with a bottom that locks: by hand (snap-lock) or by itself (auto-lock); and cartons with a gable top."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from dieline.style import Design, Order, Style, choice

from .closures import CLOSURES, LID_WALLS, compose, parameters_of

__all__ = ["STYLES"]

_LID = choice(
    "lid_on",
    "Which L wall carries the lid of the top.",
    {"back": "the back wall, on which the lap hangs", "front": "the front wall"},
    "back",
)
_GABLE_BOTTOMS = ("auto", "snap", "seal")
_BOTTOM = choice("bottom", "What closes the bottom.", {name: CLOSURES[name].words for name in _GABLE_BOTTOMS}, "auto")


def _built(bottom: str, top: str) -> Callable[[Order], Design]:
    """A build with these closures; the bottom is the option ``bottom`` where it is left empty."""

    def build(order: Order) -> Design:
        wall = LID_WALLS[str(order.options.get("lid_on", "back"))]
        design = compose(order, (bottom or order.choice("bottom"), wall), (top, wall))
        if order.options.get("handle") == "flap":
            below, above = design.words
            return replace(design, words=(below, f"{above}, the flap of one through the other and up behind it"))
        return design

    return build


_BOARDS = (0.3, 5.0)
"""mm. From folding carton to A flute: the constructions were tried from 0.3 to 5 mm."""

_SNAP = (
    "The bottom is put together by hand without glue: each of its four flaps is held by the next, and the tongue of "
    "the last comes up onto the first."
)
_AUTO = (
    "Two corners of the bottom are glued by the maker; it closes by itself when the flat tube is opened. "
    "Needs L of at least nine tenths of B."
)
_NUMBER = "number of the international case code; construction of our own, proved by folding"
_OWN = "construction of our own, proved by folding; lengths are common practice"

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="0215",
            title="tuck top, snap-lock bottom",
            group="snap-lock",
            summary=f"{_SNAP} The top is a lid that tucks in over dust flaps.",
            use="Retail carton for heavier goods, put up by hand: bottles, teapots, tools.",
            parameters=parameters_of(("snap", "tuck"), own=(_LID,)),
            build=_built("snap", "tuck"),
            example="160x110x180",
            thickness=_BOARDS,
            assembly="M",
            source=_NUMBER,
        ),
        Style(
            code="0216",
            title="slotted top, snap-lock bottom",
            group="snap-lock",
            summary=f"{_SNAP} The top has flaps as 0201, to be taped.",
            use="Shipping case put up by hand without tape below.",
            parameters=parameters_of(("snap", "slotted")),
            build=_built("snap", "slotted"),
            example="300x200x250",
            thickness=_BOARDS,
            assembly="M",
            source=_NUMBER,
        ),
        Style(
            code="snap-lock-carrier",
            title="gable carrier, snap-lock bottom",
            group="gable",
            summary=f"{_SNAP} The top is a roof with a handle on its ridge; gussets close the ends.",
            use="Carrier for gifts, cakes, take-away food; stored flat and put up by hand.",
            parameters=parameters_of(("snap", "gable")),
            build=_built("snap", "gable"),
            example="200x130x120",
            thickness=_BOARDS,
            long_first=True,
            assembly="M",
            source=_OWN,
        ),
        Style(
            code="0711",
            title="slotted top, auto-lock bottom",
            group="ready-glued",
            summary=f"{_AUTO} The top has flaps as 0201, to be taped.",
            use="Shipping case that is put up in a second, for packing by hand.",
            parameters=parameters_of(("auto", "slotted")),
            build=_built("auto", "slotted"),
            example="300x200x250",
            thickness=_BOARDS,
            assembly="M",
            source=_NUMBER,
        ),
        Style(
            code="0713",
            title="tuck top, auto-lock bottom",
            group="ready-glued",
            summary=f"{_AUTO} The top is a lid that tucks in over dust flaps.",
            use="Retail carton and mail-order box that is put up in a second.",
            parameters=parameters_of(("auto", "tuck"), own=(_LID,)),
            build=_built("auto", "tuck"),
            example="200x120x160",
            thickness=_BOARDS,
            assembly="M",
            source=_NUMBER,
        ),
        Style(
            code="0706",
            title="open tray, auto-lock bottom",
            group="ready-glued",
            summary=f"{_AUTO} The top is open, its edge cut.",
            use="Tray for long goods, put up in a second.",
            parameters=parameters_of(("auto", "open")),
            build=_built("auto", "open"),
            example="400x120x100",
            thickness=_BOARDS,
            assembly="M",
            source=_NUMBER,
        ),
        Style(
            code="gable-carton",
            title="gable carton",
            group="gable",
            summary="A roof with a handle on its ridge over an auto-lock, snap-lock or glued bottom. Gussets fold in "
            "under the roof; a flap of one fin goes through the hand hole of the other and holds the roof shut.",
            use="Carrier for gifts, cakes, take-away food; leaves the gluer flat.",
            parameters=parameters_of(("auto", "snap", "seal", "gable"), own=(_BOTTOM,)),
            build=_built("", "gable"),
            example="200x130x130",
            thickness=_BOARDS,
            long_first=True,
            assembly="MA",
            source=_OWN,
        ),
    )
}
