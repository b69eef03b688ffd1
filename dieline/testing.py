"""The conformance suite: what every style must hold, for authors to run on their own.

from dieline.testing import conform
from my_styles import STYLE

def test_my_style():
    conform(STYLE)
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from .board import Board, boards
from .checks import Severity
from .errors import DielineError, InputError
from .files import write
from .job import Job
from .pipeline import Result, run
from .style.contract import CONTRACT, Style
from .style.parameter import Kind
from .units import Size, parse_size

__all__ = ["ConformanceError", "boards_for", "conform", "random_sizes"]


class ConformanceError(AssertionError):
    """A style that does not hold what every style must; the text says what and at which size."""


def conform(style: Style, *, sizes: int = 40, seed: int = 20, least_share: float = 0.5) -> int:
    """Put a style through the suite.

    It must declare itself well; build its example on every board that it takes; take or refuse random sizes with a
    clear error, and prove flat and folded what it takes; build every choice of every option, and write and read back
    what comes of it; build the same thing twice.

    Args:
        style: The style.
        sizes: How many random sizes to try.
        seed: Seed of the random sizes.
        least_share: Least share of random sizes that it must take.

    Returns:
        How many boxes were proved.

    Raises:
        ConformanceError: At the first thing that does not hold.
    """
    _declared(style)
    example = parse_size(style.example)
    proved = 0
    for board in boards_for(style):
        proved += _prove(style, example, board, {}, must=board is _typical(style))
    proved += _choices(style, example)
    taken = sum(
        _prove(style, size, board, {}, written=False)
        for size, board in zip(random_sizes(style, sizes, seed), _cycle(style, sizes, seed), strict=True)
    )
    if taken < least_share * sizes:
        raise ConformanceError(
            f"{style.code}: takes only {taken} of {sizes} random sizes round its example {style.example}"
        )
    _same_twice(style, example)
    return proved + taken


def boards_for(style: Style) -> list[Board]:
    """The library's boards that a style takes."""
    low, high = style.thickness
    return [board for board in boards().values() if low <= board.thickness <= high]


def random_sizes(style: Style, count: int, seed: int) -> Iterator[Size]:
    """Sizes between a fifth and eight times the style's example, never under 20 mm nor over 3 m."""
    rng = random.Random(seed)
    example = parse_size(style.example)
    for _ in range(count):
        sides = [
            min(3000.0, max(20.0, side * math.exp(rng.uniform(math.log(0.2), math.log(8))))) for side in example[:3]
        ]
        length, breadth, height = (round(side, 1) for side in sides)
        if style.long_first and length < breadth:
            length, breadth = breadth, length
        if style.regular:
            breadth = length
        yield Size(length, breadth, height)


def _cycle(style: Style, count: int, seed: int) -> Sequence[Board]:
    rng = random.Random(seed + 1)
    fitting = boards_for(style)
    return [rng.choice(fitting) for _ in range(count)]


def _typical(style: Style) -> Board:
    fitting = boards_for(style)
    if not fitting:
        raise ConformanceError(f"{style.code}: no board of the library is {style.thickness} mm thick")
    return next((board for board in fitting if board.name == "C"), fitting[0])


def _declared(style: Style) -> None:
    """What a style says of itself must be complete and make sense."""
    if style.contract != CONTRACT:
        raise ConformanceError(f"{style.code}: written for contract {style.contract}, this is {CONTRACT}")
    for word in (style.code, style.title, style.group, style.summary, style.use, style.source):
        if not word:
            raise ConformanceError(f"{style.code}: code, title, group, summary, use and source must all be said")
    if not style.code.isascii():
        raise ConformanceError(f"{style.code}: the code must be ASCII, it becomes a file name")
    names = [parameter.name for parameter in style.parameters]
    if len(set(names)) != len(names):
        raise ConformanceError(f"{style.code}: two parameters have one name")
    for parameter in style.parameters:
        if not parameter.name.isidentifier() or not parameter.name.islower():
            raise ConformanceError(f"{style.code}: '{parameter.name}' must be a lower-case identifier")
        if not parameter.help.endswith("."):
            raise ConformanceError(f"{style.code}: help of '{parameter.name}' must be a sentence")
        if parameter.kind is Kind.CHOICE and not parameter.choices:
            raise ConformanceError(f"{style.code}: '{parameter.name}' is a choice without choices")


def _prove(
    style: Style, size: Size, board: Board, options: dict[str, object], *, must: bool = False, written: bool = True
) -> bool:
    """Whether the style takes it; what it takes must pass its proofs."""
    what = f"{style.code} {size} on {board.name} {options or ''}".strip()
    try:
        result = run(Job(style=style.code, size=size, board=board, options=options), style)
    except InputError as error:
        if must:
            raise ConformanceError(f"{what}: refused: {error}") from error
        return False
    except Exception as error:
        raise ConformanceError(f"{what}: {type(error).__name__}: {error}") from error
    if result.failures and options and _told(result):
        return False
    if result.failures:
        raise ConformanceError(f"{what}: {'; '.join(result.failures)}")
    _sound(result, what)
    if written and result.ok:
        with TemporaryDirectory() as folder:
            try:
                write(result, Path(folder))
            except DielineError as error:
                raise ConformanceError(f"{what}: {error}") from error
    return True


def _told(result: Result) -> bool:
    """Whether a finding of error level says what is wrong: a choice may be impossible here, but not silently."""
    return any(finding.severity is Severity.ERROR for finding in result.findings)


def _sound(result: Result, what: str) -> None:
    """What a proved design must also hold."""
    if not result.design.sizes or not all(line.derivation for line in result.design.sizes):
        raise ConformanceError(f"{what}: every dimension must be recorded with its derivation")
    for drawing in result.drawings:
        if drawing.width <= 0 or drawing.height <= 0 or not drawing.strokes:
            raise ConformanceError(f"{what}: {drawing.name} is an empty drawing")


def _choices(style: Style, example: Size) -> int:
    """Every choice of every option, one at a time."""
    board = _typical(style)
    proved = 0
    for parameter in style.parameters:
        if parameter.kind is Kind.CHOICE:
            for value in parameter.choices or ():
                proved += _prove(style, example, board, {parameter.name: value})
        elif parameter.kind is Kind.SWITCH:
            for on in (True, False):
                proved += _prove(style, example, board, {parameter.name: on})
    return proved


def _same_twice(style: Style, example: Size) -> None:
    job = Job(style=style.code, size=example, board=_typical(style))
    first, second = (tuple(drawing.digest() for drawing in run(job, style).drawings) for _ in range(2))
    if first != second:
        raise ConformanceError(f"{style.code}: the same job gave two different drawings")
