"""Tube cartons by name: tuck ends, locks, seal ends, the tray with a rolled rim, and every bottom with every top."""

from __future__ import annotations

from collections.abc import Callable

from dieline.style import Design, Order, Parameter, Style, choice

from .closures import CLOSURES, LID_WALLS, compose, parameters_of

__all__ = ["STYLES"]

_WALLS = {
    "back": "the back wall, on which the lap hangs",
    "front": "the front wall",
}


def _wall_choice(name: str, help: str, default: str = "back") -> Parameter:  # the word of the contract
    return choice(name, help, _WALLS, default)


_LID = _wall_choice("lid_on", "Which L wall carries the lid of the top.")
_LIDS = choice(
    "lids",
    "Whether the lids of top and bottom hang on one wall.",
    {
        "reverse": "on opposite walls, which saves board in the layout",
        "straight": "on one wall, which so has no raw edge",
    },
    "reverse",
)
_OUTER = _wall_choice("outer_on", "Which L wall carries the outer flaps.", "front")


def _two(bottom: str, top: str, *, straight: bool | None = None) -> Callable[[Order], Design]:
    """A build with these closures, the lids on one wall, on opposite walls, or (None) as the option ``lids`` says."""

    def build(order: Order) -> Design:
        wall = LID_WALLS[order.choice("lid_on")]
        same = order.choice("lids") == "straight" if straight is None else straight
        return compose(order, (bottom, wall if same else 2 - wall), (top, wall))

    return build


def _sealed(name: str) -> Callable[[Order], Design]:
    def build(order: Order) -> Design:
        wall = LID_WALLS[order.choice("outer_on")]
        return compose(order, (name, wall), (name, wall))

    return build


def _rimmed(order: Order) -> Design:
    return compose(order, (order.choice("bottom"), LID_WALLS[order.choice("outer_on")]), ("rim", 0))


def _any(order: Order) -> Design:
    bottom, top = ((order.choice(end), LID_WALLS[order.choice(f"{end}_lid")]) for end in ("bottom", "top"))
    return compose(order, bottom, top)


def _words(names: tuple[str, ...]) -> dict[str, str]:
    return {name: CLOSURES[name].words for name in names}


_RIM_BOTTOMS = ("slotted", "seal", "seal-meeting")
_BOTTOMS = tuple(name for name, closure in CLOSURES.items() if closure.bottom)
_TOPS = tuple(name for name, closure in CLOSURES.items() if closure.top)

_BOARDS = (0.3, 5.0)
"""mm. From folding carton to A flute: the constructions were tried from 0.3 to 5 mm."""

STYLES: dict[str, Style] = {
    style.code: style
    for style in (
        Style(
            code="straight-tuck",
            title="tuck-end carton, lids on one wall",
            group="tuck-end",
            summary="A tube with a lid and two dust flaps at each end; both lids hang on one wall, which so "
            "has no raw edge, and tuck in behind the other. Leaves the gluer flat.",
            use="Retail carton with an unbroken front: cosmetics, medicine, tableware.",
            parameters=parameters_of(("tuck",), own=(_LID,)),
            build=_two("tuck", "tuck", straight=True),
            example="120x80x160",
            thickness=_BOARDS,
            assembly="MA",
            source="construction of our own, proved by folding; shapes of dust flap and tuck are common practice",
        ),
        Style(
            code="0211",
            title="tuck-end carton, lids on opposite walls",
            group="tuck-end",
            summary="A tube with a lid and two dust flaps at each end; the lids hang on opposite walls and tuck in "
            "behind the other one. Leaves the gluer flat.",
            use="Retail carton or small corrugated case, closed by hand without glue or tape.",
            parameters=parameters_of(("tuck",), own=(_LID,)),
            build=_two("tuck", "tuck", straight=False),
            example="120x80x160",
            thickness=_BOARDS,
            assembly="MA",
            source="lids and dust flaps as an encyclopaedia describes the code (de.zxc.wiki, FEFCO-ESBO-Code); "
            "dimensions by geometry, proved by folding",
        ),
        Style(
            code="slit-lock-carton",
            title="tuck-end carton with slit locks",
            group="tuck-end",
            summary="As a tuck-end carton, but the crease of each tuck is slit at both ends: the ears snap under "
            "shoulders of the dust flaps, and the lid cannot spring open.",
            use="Heavier or springy contents in a tuck-end carton.",
            parameters=parameters_of(("slit",), own=(_LID, _LIDS)),
            build=_two("slit", "slit"),
            example="120x80x160",
            thickness=_BOARDS,
            assembly="MA",
        ),
        Style(
            code="tongue-lock-carton",
            title="carton with tongue locks",
            group="tuck-end",
            summary="Each lid lies over a flap of the opposite wall; its barbed tongue goes down through a slot at "
            "that flap's crease and holds under it.",
            use="Contents that push against the ends; shows when it has been opened.",
            parameters=parameters_of(("tongue",), own=(_LID, _LIDS)),
            build=_two("tongue", "tongue"),
            example="150x100x180",
            thickness=_BOARDS,
        ),
        Style(
            code="tongue-front-carton",
            title="carton with a front tongue",
            group="tuck-end",
            summary="The lid's front flap hangs down outside the opposite wall and its tongue goes in through a slot "
            "there. The bottom is a tuck end.",
            use="Gift and mail cartons that are opened and closed again.",
            parameters=parameters_of(("tuck", "tongue-front"), own=(_LID, _LIDS)),
            build=_two("tuck", "tongue-front"),
            example="150x100x180",
            thickness=_BOARDS,
        ),
        Style(
            code="seal-end",
            title="seal-end carton, full overlap",
            group="seal-end",
            summary="Four flaps at each end: the side flaps go in first, the inner flap covers them, the outer flap "
            "is glued on it. Leaves the gluer flat; glued shut on the packing line.",
            use="Cartons filled and closed by machine: tea, cereals, powders.",
            parameters=parameters_of(("seal",), own=(_OUTER,)),
            build=_sealed("seal"),
            example="120x80x160",
            thickness=_BOARDS,
            assembly="A",
        ),
        Style(
            code="seal-end-meeting",
            title="seal-end carton, outer flaps meeting",
            group="seal-end",
            summary="Four flaps at each end: the side flaps go in first, the outer flaps are glued on them and meet in "
            "the middle. Takes less board than a full overlap.",
            use="Cartons filled and closed by machine where the end need not be tight.",
            parameters=parameters_of(("seal-meeting",), own=(_OUTER,)),
            build=_sealed("seal-meeting"),
            example="120x80x160",
            thickness=_BOARDS,
            assembly="A",
        ),
        Style(
            code="0214",
            title="open box with a rolled rim",
            group="slotted",
            summary="A body with bottom flaps; the upper edges of all walls are folded in twice and hang inside the "
            "walls: a double rim, smooth to the hand. No lid.",
            use="Open storage and display boxes; fruit and vegetables.",
            parameters=parameters_of(
                (*_RIM_BOTTOMS, "rim"),
                own=(choice("bottom", "How the bottom is closed.", _words(_RIM_BOTTOMS), "slotted"), _OUTER),
            ),
            build=_rimmed,
            example="300x200x150",
            thickness=_BOARDS,
            source="as a box maker describes the code (Hercule Industrial, herculeindustrial.com/products/corrugated/"
            "fefco); dimensions by geometry, proved by folding",
        ),
        Style(
            code="tube-carton",
            title="tube carton with any bottom and any top",
            group="tube",
            summary="A four-panel tube, its bottom and its top chosen freely; two that cannot make a box together are "
            "refused with the reason.",
            use="Cartons that no single style describes.",
            parameters=parameters_of(
                CLOSURES,
                own=(
                    choice("bottom", "What closes the bottom.", _words(_BOTTOMS), "seal"),
                    choice("top", "What closes the top.", _words(_TOPS), "tuck"),
                    _wall_choice("bottom_lid", "Which L wall carries the bottom's lid or outer flap.", "front"),
                    _wall_choice("top_lid", "Which L wall carries the top's lid or outer flap."),
                ),
            ),
            build=_any,
            example="150x100x180",
            thickness=_BOARDS,
            assembly="MA",
        ),
    )
}
