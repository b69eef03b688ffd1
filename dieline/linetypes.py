"""What a stroke means, and how each meaning looks: one table, read by every writer.

House layer names and colours are our own; the colours are from the Okabe–Ito palette, which people with any kind of
colour vision can tell apart. A plant's own names and colours come from its machine profile.
"""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

__all__ = ["IN_TURN", "LOOKS", "TOOL_ORDER", "Look", "Meaning"]


class Meaning(Enum):
    """What is done to the board along a stroke, or what a mark on the drawing is for."""

    CUT = "cut"
    CREASE = "crease"
    CREASE_BACK = "reverse crease"
    PERFORATION = "perforation"
    HALF_CUT = "half cut"
    CUT_CREASE = "cut-crease"
    GLUE = "glue"
    BLEED = "bleed"
    NOTE = "note"
    SHEET = "sheet"


class Look(NamedTuple):
    """How a meaning is named and drawn.

    Attributes:
        layer: House layer name, ASCII.
        colour: sRGB as ``#rrggbb``.
        colour_index: Nearest DXF colour index, for R12 readers.
        dash: Dash pattern in mm on the drawing; empty is solid.
        line_type: DXF line type name.
        step: The processing step of ISO 19593-1 that it corresponds to.
        words: What the legend says.
    """

    layer: str
    colour: str
    colour_index: int
    dash: tuple[float, ...]
    line_type: str
    step: str
    words: str


LOOKS: dict[Meaning, Look] = {
    Meaning.CUT: Look("DL_THRU", "#0072B2", 5, (), "CONTINUOUS", "Cutting", "cut through"),
    Meaning.CREASE: Look("DL_FOLD", "#D55E00", 30, (6.0, 2.0), "DL_DASH", "Creasing", "crease"),
    Meaning.CREASE_BACK: Look(
        "DL_FOLDBACK",
        "#E69F00",
        40,
        (6.0, 1.5, 1.0, 1.5),
        "DL_DASHDOT",
        "ReverseCreasing",
        "crease from the other side",
    ),
    Meaning.PERFORATION: Look("DL_TEAR", "#009E73", 94, (1.5, 1.5), "DL_DOT", "Perforating", "perforation"),
    Meaning.HALF_CUT: Look(
        "DL_HALF", "#CC79A7", 221, (3.0, 1.0), "DL_SHORT", "PartialCutting", "cut part of the depth"
    ),
    Meaning.CUT_CREASE: Look(
        "DL_STITCHFOLD", "#882255", 235, (5.0, 1.5, 1.5, 1.5), "DL_LONGDOT", "CuttingCreasing", "cut and crease in turn"
    ),
    Meaning.GLUE: Look("DL_GLUE", "#56B4E9", 140, (0.5, 1.0), "DL_FINE", "Gluing", "glue area"),
    Meaning.BLEED: Look("DL_BLEED", "#999999", 9, (0.5, 1.0), "DL_FINE", "Bleed", "bleed"),
    Meaning.NOTE: Look("DL_NOTE", "#555555", 8, (), "CONTINUOUS", "Dimensions", "dimensions and texts"),
    Meaning.SHEET: Look("DL_SHEET", "#BBBBBB", 254, (), "CONTINUOUS", "Legend", "sheet edge"),
}

TOOL_ORDER: tuple[Meaning, ...] = (
    Meaning.CREASE,
    Meaning.CREASE_BACK,
    Meaning.CUT_CREASE,
    Meaning.PERFORATION,
    Meaning.HALF_CUT,
    Meaning.CUT,
)
"""The meanings that a tool acts on, in the order of the file: the sheet is still held while it is creased
(common practice, no source)."""

IN_TURN: tuple[Meaning, ...] = (Meaning.PERFORATION, Meaning.CUT_CREASE)
"""The meanings along which the board is cut and left in turn; how long each is, is the tool's: it is not drawn."""
