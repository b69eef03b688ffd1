"""Turns the examples of the checks' docstrings into designs that were really built, folded and drawn.

An example reads ``0201 300x200x150 C; lap_width=20; mass 24 kg; machine: slot = { only = [9] }``: style, size and board
first, then options, and whatever else the check needs.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from dieline.board import Board, Given, find_board
from dieline.checks import Inspected, limits_from_text
from dieline.drawing.model import Side, draw_blank
from dieline.fold import prove_folded
from dieline.machine import MachineProfile, machine_from_text
from dieline.sizing import Allowance, House
from dieline.style import Style
from dieline.units import parse_mass, parse_size
from dieline_styles.slotted import STYLES, combination

__all__ = ["look_at"]


@cache
def look_at(example: str, side: Side = Side.INSIDE) -> Inspected:
    """Everything that a check is given about the box of an example."""
    head, *rest = (part.strip() for part in example.split(";"))
    code, size, board_name = head.split()
    board, options, mass = find_board(board_name), {}, None
    tables: dict[str, list[str]] = {"limits": [], "machine": [], "house": []}
    for part in rest:
        kind, colon, line = part.partition(":")
        if part.startswith("mass "):
            mass = parse_mass(part.removeprefix("mass "))
        elif colon and kind == "board":
            board = _measured(board, line)
        elif colon:
            tables[kind].append(line.strip())
        else:
            name, _, value = part.partition("=")
            options[name] = value
    house = _house(tables["house"])
    style = _style(code)
    order = style.order(parse_size(size), board, options, house)
    design = style.build(order)
    return Inspected(
        order=order,
        design=design,
        board=board,
        drawings=tuple(draw_blank(piece.blank, side) for piece in design.pieces),
        folded=prove_folded(design, board, house.give),
        machine=_machine(tables["machine"]),
        mass=mass,
        limits=limits_from_text("\n".join(tables["limits"]) or "# as shipped", "example"),
    )


def _style(code: str) -> Style:
    bottom, _, top = code.partition("/")
    found = combination(bottom, top) if top else STYLES[code]
    assert found is not None
    return found


def _measured(board: Board, line: str) -> Board:
    name, value = (part.strip() for part in line.split("="))
    return replace(board, **{name: Given(float(value), "measured at the plant", "house")})  # type: ignore[arg-type]


def _house(lines: list[str]) -> House:
    house = House(name="our house")
    for line in lines:
        if match := re.fullmatch(r"(.+) \+ ([\d.]+)", line):
            house = replace(house, allowances=(*house.allowances, Allowance(size=match[1], add=float(match[2]))))
        else:
            name, value = line.split()
            house = replace(house, **{name: float(value)})  # type: ignore[arg-type]  # give or step
    return house


def _machine(lines: list[str]) -> MachineProfile:
    if not lines:
        return MachineProfile()
    return machine_from_text("\n".join(['name = "old slotter"', "[limits]", *lines]), "machine.toml")
