"""Every closure of a tube carton by name, and which top goes with which bottom."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from dieline.style import Design, OptionError, Order, Parameter

from . import auto_lock, gable, hinge, rim, seal, slotted, snap_lock, tongue_front, tuck, tuck_slit, tuck_tongue
from .auto_lock import AutoLockEnd
from .carton import CARTON, carton_design
from .end import End
from .gable import GableEnd
from .rim import RimEnd
from .seal import SealEnd
from .slotted_end import FLAP_SETS, SlottedEnd
from .snap_lock import SnapLockEnd
from .tongue_front import FrontTongueEnd
from .tuck import TuckEnd
from .tuck_slit import SlitLockEnd
from .tuck_tongue import TongueEnd

__all__ = ["CLOSURES", "LID_WALLS", "Closure", "compose", "parameters_of"]

LID_WALLS = {"back": 0, "front": 2}
"""The L walls by name: the lap hangs on the back one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """One way to finish an end of a tube.

    Attributes:
        words: What it is; shown where it can be chosen.
        closing: How it is closed, one line for the drawing.
        make: Makes it from the order, whether it is the top, and the L wall that carries its lid or outer flap.
        parameters: The options that it needs besides those of the tube.
        top: Whether it can be the top.
        bottom: Whether it can be the bottom.
        shuts: Whether it shuts its end.
        last: Whether it can be left open until the box is filled, and closed then.
        why: Why it cannot be a top, or a bottom, or the last to be closed.
    """

    words: str
    closing: str
    make: Callable[[Order, bool, int], End]
    parameters: tuple[Parameter, ...] = ()
    top: bool = True
    bottom: bool = True
    shuts: bool = True
    last: bool = True
    why: str = ""


def _slot_width(order: Order) -> float:
    """Carton board is cut with a die: a slot as narrow as rule can be bent, and a millimetre wider than the board."""
    if order.board.corrugated:
        return float(_SLOT["slot_width"].default_for(order))
    return min(max(2.4, math.ceil(10 * (order.thickness + 1.0)) / 10), _SLOT["slot_width"].range_for(order)[1])


_SLOT = {parameter.name: parameter for parameter in slotted.PARAMETERS}
_SLOTTED = (
    *hinge.PARAMETERS,
    replace(_SLOT["slot_width"], default=_slot_width),
    *(_SLOT[name] for name in ("slot_end", "slot_depth", "flap_gap", "inner_flaps")),
)


def _slotted(order: Order, top: bool, wall: int) -> End:  # noqa: ARG001  # its flaps are alike on both walls
    least = order.number("slot_width") - order.thickness + 5.0
    order.need("B", least, "the flaps on the B panels must keep 5 mm between their slots")
    order.need("L", least, "the flaps on the L panels must keep 5 mm between their slots")
    order.need("H", 3.0 + 2 * order.number("slot_depth"), "the walls must keep 3 mm between the slots")
    order.need("L", order.number("flap_gap") + 10.0, "the inner flaps, too, must be longer than the gap between them")
    if order.choice("inner_flaps") == "equal":
        order.need("L", order.B.value, "inner flaps as long as the outer ones must not run into each other")
    return SlottedEnd(order, FLAP_SETS["0201"], top=top)


CLOSURES: Mapping[str, Closure] = {
    "tuck": Closure(
        words="a lid that tucks in, over dust flaps",
        closing="dust flaps in, lid over them, tuck in behind the wall",
        make=lambda order, top, wall: TuckEnd(order, top=top, wall=wall),
        parameters=tuck.PARAMETERS,
    ),
    "slit": Closure(
        words="a lid that tucks in and locks under the dust flaps by slits",
        closing="dust flaps in, lid over them, tuck in until its ears snap under the dust flaps",
        make=lambda order, top, wall: SlitLockEnd(order, top=top, wall=wall),
        parameters=tuck_slit.PARAMETERS,
    ),
    "tongue": Closure(
        words="a lid with a tongue that goes down through a slotted flap",
        closing="dust flaps in, slotted flap over them, lid over it, tongue through the slot",
        make=lambda order, top, wall: TongueEnd(order, top=top, wall=wall),
        parameters=tuck_tongue.PARAMETERS,
    ),
    "tongue-front": Closure(
        words="a lid with a front flap whose tongue goes in through the wall",
        closing="dust flaps in, lid over them, front flap down, tongue into the slot of the wall",
        make=lambda order, top, wall: FrontTongueEnd(order, top=top, wall=wall),
        parameters=tongue_front.PARAMETERS,
    ),
    "seal": Closure(
        words="glued, the outer flaps overlapping fully",
        closing="side flaps in, inner flap over them, outer flap glued on it",
        make=lambda order, top, wall: SealEnd(order, top=top, wall=wall),
        parameters=seal.PARAMETERS,
    ),
    "seal-meeting": Closure(
        words="glued, the outer flaps meeting in the middle",
        closing="side flaps in, outer flaps glued on them",
        make=lambda order, top, wall: SealEnd(order, top=top, wall=wall, meeting=True),
        parameters=seal.PARAMETERS,
    ),
    "slotted": Closure(
        words="flaps as 0201, the outer ones meeting, to be taped",
        closing="inner flaps in, outer flaps over them, taped",
        make=_slotted,
        parameters=_SLOTTED,
    ),
    "snap": Closure(
        words="four flaps that lock into each other by hand",
        closing="flap with legs in, side flaps under its legs, last flap under them, its tongue up through the opening",
        make=lambda order, top, wall: SnapLockEnd(order),  # noqa: ARG005  # it has no lid, and is no top
        parameters=snap_lock.PARAMETERS,
        top=False,
        last=False,
        why="the tongue is pushed up into the empty box",
    ),
    "auto": Closure(
        words="glued at two corners, closes by itself",
        closing="closes by itself when the tube is opened; press the middle down until the noses lie flat",
        make=lambda order, top, wall: AutoLockEnd(order),  # noqa: ARG005
        parameters=auto_lock.PARAMETERS,
        top=False,
        last=False,
        why="it is closed as soon as the tube stands",
    ),
    "gable": Closure(
        words="two roofs with a handle, gussets at the ends",
        closing="gussets and roofs in together, the fins upright side by side",
        make=lambda order, top, wall: GableEnd(order),  # noqa: ARG005
        parameters=gable.PARAMETERS,
        bottom=False,
        why="a roof is no floor",
    ),
    "rim": Closure(
        words="open, the edges rolled in to a double rim",
        closing="edges rolled in, the L walls first",
        make=lambda order, top, wall: RimEnd(order, top=top),  # noqa: ARG005  # a rim has no lid
        parameters=rim.PARAMETERS,
        bottom=False,
        shuts=False,
        why="a rim is the edge of an opening that one reaches into",
    ),
    "open": Closure(
        words="open, the walls end in a cut edge",
        closing="left open",
        make=lambda order, top, wall: End(top=top),  # noqa: ARG005  # nothing hangs there
        shuts=False,
    ),
}
"""The closures by name. A further one is added here, and goes with all others that the rules below let it."""


def parameters_of(names: Iterable[str], *, own: Iterable[Parameter] = ()) -> tuple[Parameter, ...]:
    """The options of a tube carton with some closures, each once.

    Args:
        names: The closures.
        own: Options of the style itself; they stand after those of the tube.
    """
    found = {parameter.name: parameter for parameter in (*CARTON, *own)}
    for name in names:
        for parameter in CLOSURES[name].parameters:
            found.setdefault(parameter.name, parameter)
    return tuple(found.values())


def compose(order: Order, bottom: tuple[str, int], top: tuple[str, int]) -> Design:
    """A tube with a closure at each end, or the reason why the two cannot be.

    Args:
        order: The order, with the options of the tube and of both closures.
        bottom: Name of the closure at the bottom, and the L wall that carries its lid or outer flap (0 or 2).
        top: The same of the top.

    Raises:
        OptionError: If the two cannot make a box.
        SizeError: If they cannot at this size.
    """
    _accept(bottom[0], top[0])
    ends = [CLOSURES[name].make(order, up, wall) for (name, wall), up in ((bottom, False), (top, True))]
    hanging = max(sum(end.reach(wall) for end in ends) for wall in range(4))
    if hanging:
        order.need("H", hanging + order.number("clearance"), "what both ends hang into the box must not meet")
    design = carton_design(order, ends[0], ends[1])
    if bottom[0] == top[0]:
        words: tuple[str, ...] = (f"both ends: {CLOSURES[top[0]].closing}",)
    else:
        words = tuple(f"{end}: {CLOSURES[name].closing}" for end, (name, _) in (("bottom", bottom), ("top", top)))
    return replace(design, words=words)


def _accept(bottom: str, top: str) -> None:
    """Refuse two closures that do not go together, whatever the size."""
    below, above = CLOSURES[bottom], CLOSURES[top]
    if not below.bottom:
        raise OptionError("options.bottom", bottom, f"it can only be a top: {below.why}", "choose another bottom")
    if not above.top:
        raise OptionError("options.top", top, f"it can only be a bottom: {above.why}", "choose another top")
    pair = f"{bottom} below, {top} above"
    if not (below.shuts or above.shuts):
        raise OptionError(
            "options.top", pair, "one end must be shut, or the box holds nothing", "choose a bottom that closes"
        )
    if not (below.last or above.last):
        why = " and ".join(dict.fromkeys(closure.why for closure in (below, above) if closure.why))
        raise OptionError(
            "options.top",
            pair,
            f"one end must stay open to be filled, and close after that{': ' + why if why else ''}",
            "choose another top",
        )
