"""Checks: what the trade would say about a design. Numbers against limits, each with its source.

A check is a function that is given everything known about a design and yields findings; ``docs/findings.md`` is made
from the docstrings, which all have one form: what it checks, why it matters on the machine, the limit and what it
rests on, an example that fails and one that passes.
"""

# Each family puts its checks on the list when it is loaded; the order of the list is the order of this line.
from . import flaps, handling, house, knives, lap, machine, openings, slots, stripping, walls  # noqa: F401
from .limits import Limit, Limits, limits_from_text, read_limits, shipped_limits
from .model import Check, Finding, Inspected, Severity, catalogue, inspect

__all__ = [
    "Check",
    "Finding",
    "Inspected",
    "Limit",
    "Limits",
    "Severity",
    "catalogue",
    "inspect",
    "limits_from_text",
    "read_limits",
    "shipped_limits",
]
