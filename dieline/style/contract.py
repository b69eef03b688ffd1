"""The contract between dieline and a style: what a style says of itself, and the function that builds it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ..board import Board
from ..errors import InputError, SizeError
from ..sizing import House
from ..units import Size, check_size, format_mm
from .design import Design
from .order import Order, settle
from .parameter import Parameter

__all__ = ["CONTRACT", "FourthSize", "Style"]

CONTRACT = 1
"""Version of this contract. A style states the version it was written for; a later, incompatible one refuses it."""


@dataclass(frozen=True, slots=True)
class FourthSize:
    """The size after the stroke, for styles that have one.

    Attributes:
        name: Its letter: ``h`` or ``o``.
        help: What it is.
        default: Its value where the job leaves it open, from the inside size and the board thickness.
    """

    name: str
    help: str
    default: Callable[[Size, float], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """A style, as found through the entry-point group ``dieline.styles``.

    Attributes:
        code: Its published case-code number, or a plain name.
        title: What it is called.
        group: Family it is listed under.
        summary: How it is made and how it closes; two or three sentences.
        use: What it is used for.
        parameters: Its options, in the order they are settled.
        build: Builds the design from a settled order.
        example: A size that shows it well.
        thickness: Least and greatest board thickness, mm.
        long_first: Whether L must be at least B.
        regular: Whether B must be L: all walls are alike, and both are the size across two opposite walls.
        fourth: The fourth size, if it has one.
        assembly: ``M`` by hand, ``A`` by machine, ``MA`` both.
        source: What the code number and the construction rest on.
        version: Version of the style itself.
        contract: Version of the contract that it was written for.
        combine: For styles that take another closure after a stroke: the style of the pair.
    """

    code: str
    title: str
    group: str
    summary: str
    use: str
    parameters: tuple[Parameter, ...]
    build: Callable[[Order], Design]
    example: str
    thickness: tuple[float, float] = (0.3, 16.0)
    long_first: bool = False
    regular: bool = False
    fourth: FourthSize | None = None
    assembly: str = "M"
    source: str = "construction of our own"
    version: int = 1
    contract: int = CONTRACT
    combine: Callable[[str], Style | None] | None = None

    def accept(self, inside: Size, board: Board) -> None:
        """Refuse sizes and boards that this style cannot have at all.

        Raises:
            SizeError: For a side that is not above 0, L < B where L must be the longer, L that is not B where both
                are one size, a fourth size that the style does not have.
            InputError: For a board out of the style's range.
        """
        for name, value in zip(("length", "breadth", "height", "fourth size"), inside, strict=True):
            check_size(value, f"size, {name}")
        if self.long_first and inside.length < inside.breadth:
            swapped = Size(inside.breadth, inside.length, inside.height, inside.fourth)
            raise SizeError(
                "size",
                f"L {format_mm(inside.length)} is less than B {format_mm(inside.breadth)}",
                f"{self.code} must have L ≥ B: L is the longer side of the opening",
                f"write {swapped} if the sides may be swapped",
            )
        if self.regular and abs(inside.length - inside.breadth) > 1e-6:
            raise SizeError(
                "size",
                f"L {format_mm(inside.length)} is not B {format_mm(inside.breadth)}",
                f"{self.code} must have L = B: all walls are alike, and both are the size across two opposite walls",
                "write that size twice",
            )
        if inside.fourth is not None and self.fourth is None:
            cure = "leave it out; a fraction is written with its whole number: 0 1/2 in"
            raise SizeError("size, fourth size", format_mm(inside.fourth), f"{self.code} has no fourth size", cure)
        least, most = self.thickness
        if not least - 1e-9 <= board.thickness <= most + 1e-9:
            raise InputError(
                "board",
                f"{board.name} is {format_mm(board.thickness)} mm thick",
                f"{self.code} takes {format_mm(least)} to {format_mm(most)} mm",
                "choose another board or another style",
            )

    def order(
        self, inside: Size, board: Board, given: Mapping[str, object] | None = None, house: House | None = None
    ) -> Order:
        """A settled order for this style; see ``settle``."""
        return settle(self, inside, board, given, house)
