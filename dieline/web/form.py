"""The form of the page: what a style asks for, with defaults and ranges for this size and this board."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from ..errors import InputError
from ..job import Job
from ..pipeline import inside_of
from ..style.contract import Style
from ..style.order import Order, settle
from ..style.parameter import Parameter, Value
from ..units import parse_size

__all__ = ["form_data"]


def form_data(style: Style, job: Job, order: Order | None = None) -> dict[str, Any]:
    """The fields of a style, in the order they are declared.

    Args:
        style: The style.
        job: The job: ranges and defaults are worked out for its size, board and other options.
        order: Its settled order, where it could be settled.
    """
    order = order or _settled(style, job)
    fourth = style.fourth
    return {
        "fourth": {"name": fourth.name, "help": fourth.help, "default": order.inside.fourth} if fourth else None,
        "fields": [_field(parameter, order, job) for parameter in style.parameters],
    }


def _settled(style: Style, job: Job) -> Order:
    """An order to work ranges out for: the job's, without its options if they are wrong, or the style's own example."""
    try:
        inside = inside_of(style, job)
    except InputError:
        inside = job.size
    for size, options in ((inside, job.options), (inside, {})):
        try:
            return settle(style, size, job.board, options, job.house)
        except InputError:
            continue
    return _nearest(style, job)


def _nearest(style: Style, job: Job) -> Order:
    """The order of the style's example, on the job's board or, where the style cannot take that, on one it can."""
    from ..board import boards

    size = parse_size(style.example)
    for board in (job.board, *boards().values()):
        try:
            return settle(style, size, board, {}, job.house)
        except InputError:
            continue
    raise InputError("board", f"no board suits {style.code}", "it must be made of some board", "add a board file")


def _field(parameter: Parameter, order: Order, job: Job) -> dict[str, Any]:
    low, high = parameter.range_for(order)
    default = order.house.default(order.style, order.board.name, parameter.name)
    return {
        "name": parameter.name,
        "kind": parameter.kind.value,
        "unit": parameter.kind.unit,
        "help": parameter.help,
        "why": parameter.why,
        "source": parameter.source,
        "default": _plain(parameter.default_for(order) if default is None else default),
        "low": _finite(low),
        "high": _finite(high),
        "choices": _choices(parameter.choices),
        "asked": _plain(job.options[parameter.name]) if parameter.name in job.options else None,
    }


def _choices(choices: Mapping[str, str] | None) -> list[dict[str, str]]:
    return [{"value": value, "words": words} for value, words in (choices or {}).items()]


def _plain(value: object) -> Value:
    if isinstance(value, bool | str):
        return value
    if isinstance(value, int | float):
        return round(float(value), 6)
    return str(value)


def _finite(value: float) -> float | None:
    return round(float(value), 6) if math.isfinite(value) else None
