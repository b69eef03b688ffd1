"""Boxes, boards and loads that the strength tests share."""

from __future__ import annotations

from dataclasses import replace

from dieline.board import Board, Given, find_board
from dieline.load import Load
from dieline.paper import Paper, Papers
from dieline.strength.walls import BoxShape, Wall

__all__ = ["LOAD", "board", "shape"]

LOAD = Load(
    mass=8.0,
    box_mass=0.4,
    layers=5,
    days=30,
    humidity=60,
    pattern="column",
    factors="handbook",
)
"""Everything that an answer must be told."""


def board(name: str = "C", ect: float = 5.0) -> Board:
    """A board of the library with a measured edge crush resistance, kN/m."""
    return replace(find_board(name), ect=Given(ect, "test", "house"))


def papers(*sct: float, grammage: float = 140.0) -> Papers:
    """Papers of one grammage with these short-span compressions, kN/m."""
    return Papers(tuple(Paper(grammage=grammage, sct=value) for value in sct))


def shape(length: float = 400.0, breadth: float = 300.0, height: float = 250.0, **more: object) -> BoxShape:
    """A regular slotted box of this outside size."""
    sides = {"front": length, "back": length, "left": breadth, "right": breadth}
    walls = tuple(Wall(face=face, length=side - 4.0) for face, side in sides.items())
    plain = BoxShape(outside=(length, breadth, height), thickness=4.0, walls=walls, area=0.8)
    return replace(plain, **more)  # type: ignore[arg-type]  # the fields of a shape
