"""An order: size, board and options of one box, settled and checked, as a style's ``build`` receives it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from ..board import Board
from ..errors import DielineError, InputError, JobError, OptionError, SizeError, UnknownNameError
from ..sizing import House, Ledger, Quantity, span
from ..units import Size, format_mm
from .parameter import Value

if TYPE_CHECKING:
    from .contract import Style

__all__ = ["Order", "settle"]


class Order:
    """What a style builds from. Made by ``settle``, which checks everything first.

    Attributes:
        style: Code of the style.
        inside: Inside size asked for, mm.
        board: The board.
        house: The plant's own allowances.
        L: Inside length as a quantity, mm.
        B: Inside breadth, likewise.
        H: Inside height, likewise.
        t: Design thickness, likewise.
    """

    def __init__(self, style: str, inside: Size, board: Board, house: House) -> None:
        self.style = style
        self.inside = inside
        self.board = board
        self.house = house
        self.L = Quantity.named("L", inside.length)
        self.B = Quantity.named("B", inside.breadth)
        self.H = Quantity.named("H", inside.height)
        self.t = Quantity.named("t", board.thickness)
        self.ledger = Ledger(style, board.name, house)
        self._options: dict[str, Value] = {}
        self._given: set[str] = set()

    @property
    def options(self) -> Mapping[str, Value]:
        """Every option by name, defaults filled in."""
        return self._options

    @property
    def given(self) -> frozenset[str]:
        """The options that the job itself sets."""
        return frozenset(self._given)

    @property
    def thickness(self) -> float:
        """Design thickness, mm."""
        return self.t.value

    @property
    def crush(self) -> float:
        """How far walls may press into each other at the joint's corner, mm."""
        return self.house.crush * self.t.value

    def number(self, name: str) -> float:
        """A length, angle, number or count."""
        value = self._options[name]
        if isinstance(value, str | bool):
            raise TypeError(f"the option '{name}' holds no number")
        return value

    def quantity(self, name: str) -> Quantity:
        """A length that remembers its name, for derivations."""
        return Quantity.named(name.replace("_", " "), self.number(name))

    def as_set(self, name: str) -> Quantity:
        """A length that is a dimension by itself; its derivation says who set it."""
        value = self.number(name)
        if name in self._given:
            who = "as asked"
        elif self.house.default(self.style, self.board.name, name) is not None:
            who = "house default"
        else:
            who = "default"
        return Quantity(value, f"{format_mm(value, 3)} ({who})")

    def choice(self, name: str) -> str:
        """A choice."""
        value = self._options[name]
        if not isinstance(value, str):
            raise TypeError(f"the option '{name}' is no choice")
        return value

    def flag(self, name: str) -> bool:
        """A switch."""
        value = self._options[name]
        if not isinstance(value, bool):
            raise TypeError(f"the option '{name}' is no switch")
        return value

    def size(self, name: str, ruled: Quantity | float, *, round_as: str = "") -> float:
        """Record a named dimension and return its final value, mm; see ``Ledger.size``."""
        return self.ledger.size(name, ruled, round_as=round_as)

    def span(self, size: Quantity, k1: float, k2: float) -> Quantity:
        """Crease-to-crease size of a panel between walls k₁ and k₂ boards out: the rule."""
        return span(size, k1, k2, self.t)

    def need(self, name: str, least: float, why: str) -> None:
        """Refuse a size that is too small for this style.

        Args:
            name: ``L``, ``B`` or ``H``.
            least: Least value, mm.
            why: The reason, in words of the trade.

        Raises:
            SizeError: If the size is smaller.
        """
        value = {"L": self.L, "B": self.B, "H": self.H}[name].value
        if value < least - 1e-9:
            raise SizeError(
                f"size, {name}",
                f"{format_mm(value)} mm",
                f"it must be at least {format_mm(least)} mm on board {self.board.name}: {why}",
            )

    def at_most(self, name: str, most: float, why: str) -> None:
        """Refuse a size that is too large for this style; see ``need``.

        Raises:
            SizeError: If the size is larger.
        """
        value = {"L": self.L, "B": self.B, "H": self.H}[name].value
        if value > most + 1e-9:
            raise SizeError(
                f"size, {name}",
                f"{format_mm(value)} mm",
                f"it must be at most {format_mm(most)} mm on board {self.board.name}: {why}",
            )


def settle(
    style: Style,
    inside: Size,
    board: Board,
    given: Mapping[str, object] | None = None,
    house: House | None = None,
    *,
    where: str = "options",
) -> Order:
    """An order with every option settled: the job's value, else the house's, else the style's default.

    Args:
        style: The style.
        inside: Inside size, mm.
        board: The board.
        given: Options of the job.
        house: The plant's own allowances and defaults.
        where: Name of the place of the options, for errors.

    Raises:
        SizeError: If this style cannot have that size.
        OptionError: If one option is wrong; JobError if several are.
    """
    given = dict(given or {})
    house = house or House()
    problems: list[DielineError] = []
    if given or house.defaults:
        problems += _unknown(style, given, house, where)
    order = Order(style.code, _with_fourth(style, inside, board), board, house)
    try:
        style.accept(inside, board)
    except InputError as error:
        problems.append(error)
        # Ranges mean nothing for a size that cannot be, but kinds of value can still be told.
        problems += _misread(style, given, where)
    else:
        problems += _settle_options(style, order, given, where)
    if len(problems) == 1:
        raise problems[0]
    if problems:
        raise JobError(where, problems)
    return order


def _unknown(style: Style, given: Mapping[str, object], house: House, where: str) -> Iterator[DielineError]:
    """Options of the job or the house that the style does not have."""
    known = [parameter.name for parameter in style.parameters]
    for name in given:
        if name not in known:
            yield UnknownNameError(f"{where}.{name}", name, known)
    for pattern, _, name, _ in house.defaults:
        if pattern == style.code and name not in known:
            yield UnknownNameError(f"{house.name or 'house file'}: default of {pattern}", name, known)


def _misread(style: Style, given: Mapping[str, object], where: str) -> list[DielineError]:
    """Options whose value is of the wrong kind."""
    problems: list[DielineError] = []
    for parameter in style.parameters:
        if parameter.name in given:
            try:
                parameter.read(given[parameter.name], f"{where}.{parameter.name}")
            except OptionError as error:
                problems.append(error)
    return problems


def _settle_options(style: Style, order: Order, given: Mapping[str, object], where: str) -> list[DielineError]:
    """Give every option its value, in the order they are declared, and say what is wrong with any."""
    problems: list[DielineError] = []
    house, options = order.house, order._options
    unfit = False
    for parameter in style.parameters:
        name, place = parameter.name, f"{where}.{parameter.name}"
        asked = name in given
        try:
            if asked:
                value = parameter.read(given[name], place)
                order._given.add(name)
            elif house.defaults and (raw := house.default(style.code, order.board.name, name)) is not None:
                asked, place = True, f"{house.name or 'house file'}: {name}"
                value = parameter.read(raw, place)
            else:
                value = parameter.default_for(order)
            options[name] = value
            parameter.check(value, order, place, asked=asked)
        except OptionError as error:
            # A default that does not fit follows from the size or from another option; the next ones follow from it.
            if asked or not unfit:
                problems.append(error)
            unfit = unfit or not asked
            options.setdefault(name, parameter.default_for(order))
    return problems


def _with_fourth(style: Style, inside: Size, board: Board) -> Size:
    """The size with the style's default in the place of a fourth size that the job leaves open."""
    if style.fourth is None or inside.fourth is not None:
        return inside
    return inside._replace(fourth=style.fourth.default(inside, board.thickness))
