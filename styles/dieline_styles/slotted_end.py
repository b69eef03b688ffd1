"""Slotted closures: the flap sets of the 02xx codes, each written once for either end of a tube."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dieline.style import Closed, Face, Meaning, Order, Path, Quantity, Role, Sheet, format_mm

from .end import End, Wall
from .fold_ways import FOLD_WAYS
from .tube import Tube

_LEAST_STRIP = 1.0
"""mm. A strip of board narrower than this does not bend; it leans with the rest."""

__all__ = ["FLAP_SETS", "FlapSet", "OpenEnd", "SlottedEnd"]


@dataclass(frozen=True, slots=True)
class FlapSet:
    """How long the flaps of one end are.

    Attributes:
        code: The code whose flaps they are.
        outer: The flaps on the L panels: ``meet``, ``overlap``, ``full`` or ``short``.
        inner: The flaps on the B panels: ``equal`` to the outer ones, or ``meet``.
        words: What it is called.
    """

    code: str
    outer: str
    inner: str
    words: str

    @property
    def layered(self) -> bool:
        """Whether the last outer flap lies over the first."""
        return self.outer in ("overlap", "full")


FLAP_SETS = {
    flap_set.code: flap_set
    for flap_set in (
        FlapSet("0201", "meet", "equal", "outer flaps meet; all flaps alike"),
        FlapSet("0202", "overlap", "equal", "outer flaps overlap by o; all flaps alike"),
        FlapSet("0203", "full", "equal", "outer flaps overlap fully"),
        FlapSet("0204", "meet", "meet", "outer flaps meet, inner flaps meet"),
        FlapSet("0205", "overlap", "meet", "inner flaps meet, outer flaps overlap by o"),
        FlapSet("0206", "full", "meet", "inner flaps meet, outer flaps overlap fully"),
        FlapSet("0209", "short", "equal", "short flaps that leave the middle open"),
    )
}


OpenEnd = End
"""No flaps: the walls end in a raw edge level with the inside."""


class SlottedEnd(End):
    """Four flaps with slots between them.

    Args:
        order: The order, with the options of ``slotted.parameters``.
        flap_set: Which flaps.
        top: Whether it closes the top.
    """

    def __init__(self, order: Order, flap_set: FlapSet, *, top: bool) -> None:
        super().__init__(top=top)
        self.order = order
        self.set = flap_set
        self.offset = order.choice("creases") == "offset"
        self._slot = order.number("slot_width"), order.number("slot_depth"), order.choice("slot_end") == "round"
        self._end = "top" if top else "bottom"

    # The last flap to close hangs on wall 2, the L or B wall away from the joint.

    def _hinge(self, wall: int, long: bool) -> float:
        """Boards between a flap and the inside, at its crease."""
        if not long:
            return 0.0
        return 2.0 if self._is_last(wall, long) and self.offset else 1.0

    def _is_last(self, wall: int, long: bool) -> bool:
        return self.set.layered and long and wall in (2, 3)

    def level(self, wall: int, long: bool) -> float | None:
        """One line serves all flaps half a board below the inner ones; offset creases lie each at their own height."""
        return self._hinge(wall, long) if self.offset else 0.5

    def slot(self) -> tuple[float, float, bool]:
        """As the options say."""
        return self._slot

    def closed(self, tube: Tube) -> Closed | None:
        """Shut but for the seam, as wide as the house makes it, and for the small squares where slot corners meet."""
        if self.set.outer == "short":
            return None
        order = self.order
        corner = order.number("slot_width") - order.thickness
        outer = order.ledger.value(f"{self._end} outer flap")
        gap = 0.0 if self.set.layered else tube.crease_size[1] - 2 * outer
        return Closed(Face.TOP if self.top else Face.BOTTOM, max(gap, corner / 2))

    def lengths(self, tube: Tube) -> dict[str, float]:
        """The flap lengths from crease to free edge, recorded: ``inner``, ``outer`` and, where it differs, ``last``."""
        order, t = self.order, self.order.t
        gap = order.quantity("flap_gap")
        drawn = tube.crease_size
        along, across = _as_drawn(order.L + t, drawn[0], "L panel"), _as_drawn(order.B + t, drawn[1], "B panel")
        if self.set.outer == "meet":
            outer = self._down((across - gap) / 2)
        elif self.set.outer == "overlap":
            overlap = Quantity.named("o", order.inside.fourth or 0.0)
            outer = (across + overlap) / 2
        elif self.set.outer == "full":
            outer = self._down(across - order.quantity("shortfall"))
        else:
            outer = order.as_set("short_flap")
        meet = self._down((along - gap) / 2)
        inner = meet if self.set.inner == "meet" else outer
        cut_back = order.choice("inner_flaps") == "fit" and inner.value > meet.value + 1e-9
        if cut_back:
            inner = Quantity(
                meet.value, f"{meet.text}, cut back from {format_mm(inner.value)} so that they do not collide"
            )
        lengths = {"inner": order.size(f"{self._end} inner flap", inner)}
        if self.set.outer == "full" and self.offset:
            # The wall of the last flap comes down past the first one, which must end at its inner face.
            face = _as_drawn(order.B + t / 2, drawn[1] - t.value / 2, "B panel less t / 2,")
            first = self._down(face - order.quantity("shortfall"))
            lengths["outer"] = order.size(f"{self._end} outer flap", first)
            lengths["last"] = order.size(f"{self._end} last flap", outer)
        else:
            lengths["outer"] = lengths["last"] = order.size(f"{self._end} outer flap", outer)
        return lengths

    def _down(self, ruled: Quantity) -> Quantity:
        """A length that must not grow where the house rounds: what meets would run into each other."""
        step = self.order.house.step
        down = math.floor(ruled.value / step + 1e-9) * step if step else ruled.value
        if ruled.value - down < 1e-9:
            return ruled
        return Quantity(down, f"{ruled.text}, rounded down to {format_mm(step, 4)}")

    def hang(self, tube: Tube, sheet: Sheet) -> None:
        """Hang inner flaps (folded first) and outer flaps on the four walls."""
        lengths = self.lengths(tube)
        meaning = FOLD_WAYS[self.order.choice("flap_crease")]
        for wall in tube.walls:
            if not wall.long:
                self._flap(tube, sheet, wall, lengths["inner"], meaning, stage=2)
        for wall in tube.walls:
            if wall.long and not self._is_last(wall.index, True):
                self._flap(tube, sheet, wall, lengths["outer"], meaning, stage=3)
        for wall in tube.walls:
            if wall.long and self._is_last(wall.index, True):
                self._flap(tube, sheet, wall, lengths["last"], meaning, stage=4)

    def _flap(self, tube: Tube, sheet: Sheet, wall: Wall, reach: float, meaning: Meaning, *, stage: int) -> None:
        t = self.order.thickness
        left, right = tube.trims(wall, self._slot[0])
        x0, x1 = wall.x0 + left, wall.x1 - right
        y, up = (wall.high, 1.0) if self.top else (wall.low, -1.0)
        level = self.level(wall.index, wall.long)
        assert level is not None
        hinge = self._hinge(wall.index, wall.long)
        face = Face.TOP if self.top else Face.BOTTOM
        name = f"{self._end} flap {wall.number}"
        climb = None
        if self._is_last(wall.index, wall.long):
            climb = None if self.offset else self._climb(tube, reach)
            hinge = hinge if climb else 2.0
        rise, slope = climb or (reach, 0.0)
        level_again = climb is not None and reach - rise > _LEAST_STRIP
        if not level_again:
            rise = reach  # the overlap is so small that the flap is up only at its end: it stays leaning
        sheet.panel(name, _strip(x0, x1, y, y + up * rise), face=face, k=hinge, role=Role.FLAP)
        sheet.fold(
            wall.name,
            name,
            ((x0, y), (x1, y)),
            angle=90.0 - slope,
            shift=(hinge - level) * t,
            meaning=meaning,
            stage=stage,
        )
        if level_again:
            over = f"{name}, over"
            sheet.panel(over, _strip(x0, x1, y + up * rise, y + up * reach), face=face, k=hinge + 1, role=Role.FLAP)
            # The board bends here by itself while it is closed over the first flap; nothing is creased.
            bend = ((x0, y + up * rise), (x1, y + up * rise))
            sheet.fold(name, over, bend, angle=slope, meaning=None, stage=stage)

    def _climb(self, tube: Tube, reach: float) -> tuple[float, float] | None:
        """Length of the strip on which the last flap climbs over the first one's end (mm), and its slope (degrees).

        From crease to free edge the first flap leaves ``room`` in front of the last one's hinge; the strip must be up
        by then, less the half board that its bend takes. None without room: the crease itself must then give, and the
        proof judges whether it can.
        """
        t = self.order.thickness
        across = tube.width[1] if not tube.long(1) else tube.width[2]
        room = across - reach
        if room < 2 * t - 1e-9:
            return None
        # The strip leaves the crease half a board along its own leaning normal and ends where the flap lies level.
        slope = math.atan2(t, room)
        for _ in range(30):
            rise = t * (1.5 - 0.5 * math.cos(slope))
            ahead = room - t / 2 * math.tan(slope / 2)
            slope = math.atan2(rise, ahead + t / 2 * math.sin(slope))
        return t * (1.5 - 0.5 * math.cos(slope)) / math.sin(slope), math.degrees(slope)


def _as_drawn(ruled: Quantity, drawn: float, name: str) -> Quantity:
    """The room from wall to wall: as ruled, or as drawn where the house or rounding has made it less."""
    return Quantity.named(name, drawn) if drawn < ruled.value - 1e-9 else ruled


def _strip(x0: float, x1: float, y0: float, y1: float) -> Path:
    """A flap between its crease at ``y0`` and its free edge, counter-clockwise from the crease's left end."""
    if y1 < y0:
        return Path(((x0, y0), (x0, y1), (x1, y1), (x1, y0)), closed=True)
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)
