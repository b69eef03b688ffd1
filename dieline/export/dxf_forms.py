"""DXF records as text: layers, lines, arcs, polylines and texts, each in the form of R2010 and of R12."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..drawing.model import Text
from ..errors import InputError
from ..geometry.arc import Point, arc_between
from ..geometry.path import Path
from ..linetypes import LOOKS, TOOL_ORDER, Meaning
from ..machine import Pen

__all__ = ["FIRST_HANDLE", "LAYER_TABLE", "MATERIAL", "MODEL_SPACE", "PLOT_STYLE", "Form", "Numbers", "OldForm"]

MODEL_SPACE, LAYER_TABLE, PLOT_STYLE, MATERIAL = "17", "1", "13", "21"
"""Handles in the R2010 skeleton that our records point to; a test reads them from it."""

FIRST_HANDLE = 0x100
"""Our own handles begin here, above every one of the skeleton."""

_OLD_SIGNS = str.maketrans({"×": "x", "–": "-", "—": "-", "’": "'", "°": "%%d", "±": "%%p", "Ø": "%%c", "⌀": "%%c"})
"""The format's own codes for degree, plus-minus and diameter, and what a typewriter has for the others."""


class Numbers(dict[float, str]):
    """Numbers as written: fixed, at most 6 decimals, no exponent, never -0.

    Six decimals of an inch are a fortieth of a micrometre. A box repeats its few sizes all over, so each is made once.

    Args:
        factor: Millimetres in one unit of the file; 1 for angles and bulges.
    """

    def __init__(self, factor: float = 1.0) -> None:
        super().__init__()
        self.factor = factor

    def __missing__(self, value: float) -> str:
        number = float(value) / self.factor
        rounded = (number if number % 1.0 == 0.0 else round(number, 6)) + 0.0  # most are whole; rounding takes its time
        if not abs(rounded) < 1e9:
            raise InputError("drawing", f"a coordinate of {value}", "it must be a length that a sheet can have")
        text = repr(rounded) if rounded == 0.0 or abs(rounded) >= 1e-4 else f"{rounded:.6f}".rstrip("0")
        self[value] = text
        return text


class Form:
    """Records as R2010 writes them, with ascending handles.

    Args:
        factor: Millimetres in one unit of the file.
        separate: Whether runs are taken apart into single lines and arcs.

    Attributes:
        handle: The next free handle.
        number: Lengths as written.
        plain: Angles and bulges as written.
    """

    def __init__(self, factor: float, *, separate: bool) -> None:
        self.number = Numbers(factor)
        self.plain = Numbers()
        self.separate = separate
        self.handle = FIRST_HANDLE

    def layer(self, pen: Pen, meaning: Meaning) -> str:
        """A layer record; layers that no tool reads are not plotted."""
        handle, self.handle = self.handle, self.handle + 1
        colour = f" 62\n{pen.pen}\n" if pen.pen else self._colour(pen)
        plotted = "" if meaning in TOOL_ORDER else "290\n0\n"
        return (
            f"  0\nLAYER\n  5\n{handle:X}\n330\n{LAYER_TABLE}\n100\nAcDbSymbolTableRecord\n"
            f"100\nAcDbLayerTableRecord\n  2\n{pen.layer}\n 70\n0\n{colour}  6\n{LOOKS[meaning].line_type}\n"
            f"{plotted}370\n-3\n390\n{PLOT_STYLE}\n347\n{MATERIAL}\n"
        )

    def look(self, pen: Pen, meaning: Meaning) -> str:
        """Line type and colour of a single entity, where its layer does not give them."""
        return f"  6\n{LOOKS[meaning].line_type}\n{self._colour(pen)}"

    def run(self, layer: str, path: Path, look: str = "") -> Iterator[str]:
        """A path as one entity, or taken apart."""
        if self.separate or (len(path.points) == 2 and not path.bulges and not path.closed):
            for p, q, bulge in path.segments():
                yield self.arc(layer, p, q, bulge, look) if bulge else self.line(layer, p, q, look)
        else:
            yield self.polyline(layer, path, look)

    def line(self, layer: str, p: Point, q: Point, look: str = "") -> str:
        """A straight line."""
        n = self.number
        return (
            f"{self._head('LINE', layer, 'AcDbLine', look)} 10\n{n[p[0]]}\n 20\n{n[p[1]]}\n 30\n0.0\n"
            f" 11\n{n[q[0]]}\n 21\n{n[q[1]]}\n 31\n0.0\n"
        )

    def arc(self, layer: str, p: Point, q: Point, bulge: float, look: str = "") -> str:
        """An arc; DXF knows them counter-clockwise only."""
        n, (cx, cy) = self.number, arc_between(p, q, bulge).centre
        a, b = (math.degrees(math.atan2(y - cy, x - cx)) % 360.0 for x, y in ((p, q) if bulge > 0 else (q, p)))
        return (
            f"{self._head('ARC', layer, 'AcDbCircle', look)} 10\n{n[cx]}\n 20\n{n[cy]}\n 30\n0.0\n"
            f" 40\n{n[math.hypot(p[0] - cx, p[1] - cy)]}\n{self._class('AcDbArc')}"
            f" 50\n{self.plain[a]}\n 51\n{self.plain[b]}\n"
        )

    def polyline(self, layer: str, path: Path, look: str = "") -> str:
        """A run of lines and arcs as one entity."""
        n, b, points = self.number, self.plain, path.points
        if path.bulges:
            # An open run has no arc after its last point.
            pairs = zip(points, (*path.bulges, 0.0), strict=False)
            way = [f" 10\n{n[x]}\n 20\n{n[y]}\n 42\n{b[bulge]}\n" for (x, y), bulge in pairs]
        else:
            way = [f" 10\n{n[x]}\n 20\n{n[y]}\n" for x, y in points]
        head = self._head("LWPOLYLINE", layer, "AcDbPolyline", look)
        return f"{head} 90\n{len(points)}\n 70\n{int(path.closed)}\n{''.join(way)}"

    def text(self, layer: str, text: Text) -> str:
        """One line of text."""
        n = self.number
        x, y = n[text.at[0]], n[text.at[1]]
        anchor = ("start", "middle", "end").index(text.anchor)
        aligned = f" 72\n{anchor}\n 11\n{x}\n 21\n{y}\n 31\n0.0\n" if anchor else ""
        return (
            f"{self._head('TEXT', layer, 'AcDbText')} 10\n{x}\n 20\n{y}\n 30\n0.0\n 40\n{n[text.height]}\n"
            f"  1\n{self._words(text.text)}\n 50\n{self.plain[text.angle]}\n{aligned}{self._class('AcDbText')}"
        )

    def _words(self, text: str) -> str:
        return "".join(sign if sign.isprintable() else " " for sign in text)

    def _head(self, kind: str, layer: str, marker: str, look: str = "") -> str:
        handle, self.handle = self.handle, self.handle + 1
        return f"  0\n{kind}\n  5\n{handle:X}\n330\n{MODEL_SPACE}\n100\nAcDbEntity\n  8\n{layer}\n{look}100\n{marker}\n"

    def _class(self, marker: str) -> str:
        return f"100\n{marker}\n"

    def _colour(self, pen: Pen) -> str:
        return f" 62\n{pen.colour_index}\n420\n{int(pen.colour[1:], 16)}\n"


class OldForm(Form):
    """Records as R12 writes them: no handles, no class markers, no true colours, polylines vertex by vertex."""

    def layer(self, pen: Pen, meaning: Meaning) -> str:
        """A layer record; a negative colour switches a layer off, R12's only way not to plot it."""
        colour = (pen.pen or pen.colour_index) * (1 if meaning in TOOL_ORDER else -1)
        return f"  0\nLAYER\n  2\n{pen.layer}\n 70\n0\n 62\n{colour}\n  6\n{LOOKS[meaning].line_type}\n"

    def polyline(self, layer: str, path: Path, look: str = "") -> str:
        """A run of lines and arcs as a head, its vertices and an end."""
        n, b, vertex = self.number, self.plain, f"  0\nVERTEX\n  8\n{layer}\n 10\n"
        pairs = zip(path.points, (*(path.bulges or (0.0,) * len(path.points)), 0.0), strict=False)
        way = [
            f"{vertex}{n[x]}\n 20\n{n[y]}\n 30\n0.0\n" + (f" 42\n{b[bulge]}\n" if bulge else "")
            for (x, y), bulge in pairs
        ]
        head = (
            f"{self._head('POLYLINE', layer, '', look)} 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n 70\n{int(path.closed)}\n"
        )
        return f"{head}{''.join(way)}  0\nSEQEND\n  8\n{layer}\n"

    def _words(self, text: str) -> str:
        """In ASCII: common signs as old readers know them, the rest as ``\\U+XXXX``."""
        units = super()._words(text).translate(_OLD_SIGNS).encode("utf-16-be")
        codes = [units[i] << 8 | units[i + 1] for i in range(0, len(units), 2)]
        return "".join(chr(code) if code < 127 else f"\\U+{code:04X}" for code in codes)

    def _head(self, kind: str, layer: str, marker: str, look: str = "") -> str:  # noqa: ARG002  # R12 has no markers
        return f"  0\n{kind}\n  8\n{layer}\n{look}"

    def _class(self, marker: str) -> str:  # noqa: ARG002  # as above
        return ""

    def _colour(self, pen: Pen) -> str:
        return f" 62\n{pen.colour_index}\n"
