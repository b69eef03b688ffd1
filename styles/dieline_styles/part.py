"""The order for one piece of a design of several: a size of its own, its dimensions named after it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dieline.style import House, Order, Parameter, Quantity, Size, Value

__all__ = ["Part"]


class Part(Order):
    """What a body or a closure needs to be built as one piece of a larger design.

    Its dimensions are recorded in the whole order with the piece's name in front (``lid panel 1 width``), so that a
    house file can speak of each piece; the piece's own ledger knows them by their plain names.

    Args:
        order: The whole order.
        name: What stands in front of the names of its dimensions.
        L: Its own inside length, mm.
        B: Its own inside breadth, mm.
        H: Its own inside height, mm.
        options: Options that this piece has otherwise, as fixed by the style or asked for under another name.
        own: Options of this piece that the whole order does not declare (or means otherwise); they take their defaults.
        style: Code of the style that it is built as, where that is another.
    """

    def __init__(
        self,
        order: Order,
        name: str,
        L: Quantity,
        B: Quantity,
        H: Quantity,
        options: Mapping[str, Value] | None = None,
        own: Sequence[Parameter] = (),
        style: str = "",
    ) -> None:
        # Its own ledger must not apply the house's allowances a second time.
        super().__init__(style or order.style, Size(L.value, B.value, H.value), order.board, House())
        self.house = order.house
        self.L, self.B, self.H = L, B, H
        self._options = {**order.options, **(options or {})}
        self._given = set(order.given).difference(parameter.name for parameter in own)
        for parameter in own:
            if not options or parameter.name not in options:
                self._options[parameter.name] = parameter.default_for(self)
        self._whole, self._name = order, name

    def size(self, name: str, ruled: Quantity | float, *, round_as: str = "") -> float:
        """Record a dimension of this piece; see ``Order.size``."""
        other = f"{self._name} {round_as}" if round_as else ""
        return self.ledger.size(name, self._whole.size(f"{self._name} {name}", ruled, round_as=other))
