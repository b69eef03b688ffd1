"""Features on any panel of any style: hand holes, vents, windows, notches, hang holes, tear strips, perforations."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .errors import DielineError, InputError, UnknownNameError
from .geometry.arc import Point
from .units import format_mm, parse_length

__all__ = ["ACROSS", "KINDS", "SHAPES", "Feature", "feature_from_data", "feature_from_text"]

KINDS = {
    "hand-hole": "an obround to carry by; 115 x 38 mm by itself (published ergonomic guide)",
    "vent": "a hole to let air through; 25 mm by itself",
    "window": "a hole to look through",
    "cut-out": "any other hole",
    "hang-hole": "a slot with a hump in the middle, to hang the pack on a hook; 32 x 12 mm by itself",
    "thumb-notch": "a half-round notch in a free edge, to open by; 30 x 15 mm by itself",
    "tear-strip": "a strip between two perforations right across the panel",
    "perforation": "one perforation right across the panel",
}
"""What can be put on a panel."""

SHAPES = {
    "rectangle": "a rectangle; with a radius, its corners are rounded",
    "obround": "a slot with half-round ends",
    "circle": "a circle (width counts)",
}
"""Shapes of holes."""

_USUAL = {
    "hand-hole": (115.0, 38.0, "obround"),
    "vent": (25.0, 25.0, "circle"),
    "hang-hole": (32.0, 12.0, "obround"),
    "thumb-notch": (30.0, 15.0, "obround"),
    "tear-strip": (0.0, 12.0, "rectangle"),
    "perforation": (0.0, 0.0, "rectangle"),
}
ACROSS = ("tear-strip", "perforation")
"""Kinds that run right across a panel."""

_EDGES = ("top", "bottom", "left", "right")
_KEYS = ("kind", "panel", "width", "height", "radius", "shape", "at", "left_in", "edge", "upright")


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One feature, as the job asks for it.

    Attributes:
        kind: What it is, see ``KINDS``.
        panel: Name of the panel, with the name of its piece in front where there are several.
        width: Width along x on the drawing, mm.
        height: Height along y, mm.
        shape: Shape of a hole, see ``SHAPES``.
        radius: Corner radius of a rectangle, mm.
        at: Its middle, from the middle of the panel: to the right and up, seen from the inside, mm.
        left_in: Whether the piece stays in, hinged at its upper edge (obrounds and rectangles).
        edge: The free edge that a notch is cut into: ``top``, ``bottom``, ``left`` or ``right`` on the drawing.
        upright: Whether a strip or perforation runs up the drawing instead of across.
    """

    kind: str
    panel: str
    width: float
    height: float
    shape: str = "rectangle"
    radius: float = 0.0
    at: Point = (0.0, 0.0)
    left_in: bool = False
    edge: str = "top"
    upright: bool = False

    def data(self) -> dict[str, object]:
        """The feature as plain data, as a job file holds it."""
        return {
            "kind": self.kind,
            "panel": self.panel,
            "width": self.width,
            "height": self.height,
            "shape": self.shape,
            "radius": self.radius,
            "at": list(self.at),
            "left_in": self.left_in,
            "edge": self.edge,
            "upright": self.upright,
        }


def feature_from_data(table: object, where: str, problems: list[DielineError]) -> Feature | None:
    """A feature of a job file; problems are added to the list.

    Args:
        table: The table as read.
        where: Name of the place, for errors.
        problems: Where problems go.
    """
    if not isinstance(table, Mapping):
        problems.append(InputError(where, repr(table), "it must be a table headed [[feature]]"))
        return None
    before = len(problems)
    problems += [UnknownNameError(f"{where}.{key}", key, _KEYS) for key in table if key not in _KEYS]
    kind = _word(table, "kind", tuple(KINDS), where, problems)
    panel = table.get("panel")
    if not isinstance(panel, str) or not panel:
        problems.append(InputError(f"{where}.panel", repr(panel), "it must name the panel that it goes on"))
    if not kind:
        return None  # what else is wrong depends on what it is
    usual = _USUAL.get(kind, (0.0, 0.0, "rectangle"))
    shape = _word(table, "shape", tuple(SHAPES), where, problems, usual[2])
    edge = _word(table, "edge", _EDGES, where, problems, "top")
    width = _length(table, "width", usual[0], where, problems)
    height = _length(
        table, "height", usual[1] if "width" not in table or usual[1] != usual[0] else width, where, problems
    )
    radius = _length(table, "radius", 0.0, where, problems)
    at = _place(table, where, problems)
    switches = {key: table.get(key, False) for key in ("left_in", "upright")}
    for key, value in switches.items():
        if not isinstance(value, bool):
            problems.append(InputError(f"{where}.{key}", repr(value), "it must be true or false"))
    if shape == "circle":
        height = width
    for key, value, needed in (("width", width, kind not in ACROSS), ("height", height, kind != "perforation")):
        if needed and value <= 0:
            problems.append(InputError(f"{where}.{key}", format_mm(value), "it must be more than 0"))
    if len(problems) > before:
        return None
    return Feature(
        kind=kind,
        panel=str(panel),
        width=width,
        height=height,
        shape=shape,
        radius=radius,
        at=at,
        left_in=bool(switches["left_in"]),
        edge=edge,
        upright=bool(switches["upright"]),
    )


def feature_from_text(text: str, where: str = "--feature") -> dict[str, object]:
    """A feature as written on the command line, as plain data: ``window:panel 1:80x50@0,10``.

    Raises:
        InputError: If it cannot be read so.
    """
    parts = text.split(":")
    size, _, place = parts[-1].partition("@") if len(parts) > 2 else ("", "", "")
    if len(parts) == 2:
        parts.append("")
    if len(parts) < 3:
        raise InputError(where, repr(text), "it must be kind:panel, kind:panel:WxH or kind:panel:WxH@X,Y")
    data: dict[str, object] = {"kind": parts[0].strip(), "panel": ":".join(parts[1:-1]).strip()}
    sides = [side.strip() for side in size.lower().split("x")] if size.strip() else []
    if len(sides) > 2:
        raise InputError(where, repr(size), "its size must be written WxH")
    data |= dict(zip(("width", "height"), sides, strict=False))
    if place:
        data["at"] = [value.strip() for value in place.split(",")]
    return data


def _word(
    table: Mapping[str, object],
    key: str,
    known: Sequence[str],
    where: str,
    problems: list[DielineError],
    default: str = "",
) -> str:
    value = table.get(key, default)
    if isinstance(value, str) and value in known:
        return value
    if isinstance(value, str) and value:
        problems.append(UnknownNameError(f"{where}.{key}", value, known))
    else:
        problems.append(InputError(f"{where}.{key}", "is missing", f"it must be one of {', '.join(known)}"))
    return default


def _length(table: Mapping[str, object], key: str, default: float, where: str, problems: list[DielineError]) -> float:
    try:
        return parse_length(table.get(key, default), where=f"{where}.{key}")  # type: ignore[arg-type]  # it refuses the rest
    except InputError as error:
        problems.append(error)
        return max(default, 1.0)


def _place(table: Mapping[str, object], where: str, problems: list[DielineError]) -> Point:
    raw = table.get("at", [0.0, 0.0])
    if not isinstance(raw, list) or len(raw) != 2:
        problems.append(InputError(f"{where}.at", repr(raw), "it must be [right, up] from the middle of the panel"))
        return 0.0, 0.0
    try:
        x, y = (parse_length(value, where=f"{where}.at") for value in raw)
    except InputError as error:
        problems.append(error)
        return 0.0, 0.0
    return x, y
