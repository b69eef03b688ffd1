"""Reads an SVG drawing back, knowing nothing of how it was written: strokes in mm, and the job that it carries."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator

from ..errors import InputError

__all__ = ["ReadStroke", "job_in_svg", "read_svg"]

Point = tuple[float, float]

ReadStroke = tuple[str, tuple[Point, ...], tuple[float, ...], bool]
"""Layer, corners (mm, y up), bulge of each segment (0 for a straight one), and whether it is closed."""

_SVG = "{http://www.w3.org/2000/svg}"
_PATH = f"{_SVG}path"
_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_COMMAND = re.compile(r"([MLHVAZ])([^MLHVAZ]*)")
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*mm\s*")
_ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Z": 0}
_MUST = "it must hold M, L, H, V, A and Z, each with its numbers"
_JOB = "dieline-job"


def read_svg(text: str) -> list[ReadStroke]:
    """The tool strokes of a drawing in the order of the file; notes, zones and the page are left out.

    Lengths are what the file says they measure: its width and height in mm over its view box. The lower left corner
    of all strokes together is the origin.

    Args:
        text: The SVG file.

    Raises:
        InputError: If it is broken, not in mm, or holds what no drawing of ours holds.
    """
    root = _root(text)
    scale_x, scale_y = _scale(root)
    if abs(scale_x - scale_y) > 1e-9:
        raise InputError("svg", f"{scale_x:g} mm to the unit across, {scale_y:g} up", "both must be the same")
    found = [run for group in root.iter(f"{_SVG}g") if group.get("class") == "tool" for run in _group(group)]
    if not found:
        raise InputError("svg", "holds no strokes", "it must be a drawing with a group for each layer")
    lows = [_low(points, bulges, closed) for _, (points, bulges, closed) in found]
    x0, y0 = min(x for x, _ in lows), min(y for _, y in lows)
    return [
        (layer, tuple([((x - x0) * scale_x, (y - y0) * scale_x) for x, y in points]), tuple(bulges), closed)
        for layer, (points, bulges, closed) in found
    ]


def job_in_svg(text: str) -> str | None:
    """The text of the job that a drawing carries; None if it carries none.

    Raises:
        InputError: If the file is broken.
    """
    if _JOB not in text:
        return None
    for element in _root(text).iter(f"{_SVG}metadata"):
        if element.get("id") == _JOB:
            return element.text or ""
    return None


def _root(text: str) -> ElementTree.Element:
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        line, column = error.position
        reason = str(error).split(":")[0]
        raise InputError(
            "svg", f"is broken at column {column + 1}: {reason}", "it must be an SVG file", line=line
        ) from None
    except ValueError as error:
        raise InputError("svg", f"is broken: {error}", "it must be an SVG file") from None
    if root.tag != f"{_SVG}svg":
        raise InputError("svg", f"begins with '{root.tag}'", "it must be an SVG file")
    return root


def _scale(root: ElementTree.Element) -> tuple[float, float]:
    """Millimetres to the unit, across and up."""
    box = (root.get("viewBox") or "").replace(",", " ").split()
    scales = []
    for name, index in (("width", 2), ("height", 3)):
        length = _LENGTH.fullmatch(root.get(name) or "")
        try:
            span = float(box[index])
        except (IndexError, ValueError):
            span = 0.0
        if length is None or not span > 0.0:
            raise InputError(
                f"svg, {name}", repr(root.get(name)), "it must be in mm, with a view box, or nobody knows its scale"
            )
        scales.append(float(length[1]) / span)
    return scales[0], scales[1]


def _group(group: ElementTree.Element) -> Iterator[tuple[str, Run]]:
    """The runs of a layer, with its name."""
    layer, moved = group.get("id") or "", group.get("transform")
    for number, element in enumerate(group, 1):
        where = f"svg, layer {layer or '(without id)'}, element {number}"
        if element.tag != _PATH or moved or element.get("transform"):
            kind = element.tag.removeprefix(_SVG)
            raise InputError(where, f"'{kind}' or a transform", "every stroke must be a path that is not transformed")
        for run in _runs(element.get("d") or "", where):
            yield layer, run


Run = tuple[list[Point], list[float], bool]
"""Points, the bulges between them, and whether it is closed, in the file's own units, but y up."""


def _runs(data: str, where: str) -> Iterator[Run]:
    """Each run of a path's data; ``where`` is the place of the path, for errors."""
    points: list[Point] = []
    bulges: list[float] = []
    x = y = 0.0
    for command, words in _commands(data, where):
        values = _values(command, words, where)
        if command == "M":
            if bulges:
                yield points, bulges, False
            x, y = values[0], -values[1]
            points, bulges = [(x, y)], []
            continue
        if not points:
            raise InputError(where, f"'{command}' before any M", "a path must begin with M")
        if command == "H":
            x = values[0]
        elif command == "V":
            y = -values[0]
        elif command == "Z":
            yield _closed(points, bulges)
            x, y = points[0]
            points, bulges = [(x, y)], []
            continue
        else:
            x, y = values[-2], -values[-1]
        bulges.append(_bulge(values, points[-1], (x, y)) if command == "A" else 0.0)
        points.append((x, y))
    if bulges:
        yield points, bulges, False


def _commands(data: str, where: str) -> list[tuple[str, str]]:
    """Each command with the words of its numbers."""
    found: list[tuple[str, str]] = _COMMAND.findall(data)
    if data and data[0] not in _ARGUMENTS:
        raise InputError(where, f"'{data[:40]}' as path data", _MUST)
    return found


def _values(command: str, words: str, where: str) -> list[float]:
    """The numbers of a command."""
    try:
        values = [float(words)] if _ARGUMENTS[command] == 1 else [*map(float, words.replace(",", " ").split())]
    except ValueError:
        values = [math.nan]
    if len(values) != _ARGUMENTS[command] or not math.isfinite(sum(values)):
        raise InputError(where, f"'{(command + words).strip()}' in its path data", _MUST)
    return values


def _closed(points: list[Point], bulges: list[float]) -> Run:
    """The run closed: by its last step if that came home already, else by a straight one."""
    if len(points) > 1 and math.dist(points[0], points[-1]) < 1e-9:
        return points[:-1], bulges, True
    return points, [*bulges, 0.0], True


def _bulge(values: list[float], p: Point, q: Point) -> float:
    """Bulge of an arc command: a quarter of its sweep, as SVG finds it, widening a radius that is too small."""
    radius, large, sweep = values[0], values[3], values[4]
    half = math.dist(p, q) / 2.0
    quarter = math.asin(min(1.0, half / radius)) / 2.0 if radius > 0.0 else 0.0
    if large:
        quarter = math.pi / 2.0 - quarter
    # Sweep 1 runs with positive angles: to the left where y runs down, to the right where it runs up.
    return math.tan(quarter) * (-1.0 if sweep else 1.0)


def _low(points: list[Point], bulges: list[float], closed: bool) -> Point:
    """Least x and least y of a run, arcs and all."""
    xs, ys = zip(*points, strict=True)
    x0, y0 = min(xs), min(ys)
    if any(bulges):
        ends = points[1:] + points[:1] if closed else points[1:]
        for p, q, bulge in zip(points, ends, bulges, strict=False):
            if bulge:
                x0, y0 = min(x0, _least(p, q, bulge, 0)), min(y0, _least(p, q, bulge, 1))
    return x0, y0


def _least(p: Point, q: Point, bulge: float, axis: int) -> float:
    """Least coordinate of an arc: its ends', or its circle's if the arc runs through that point."""
    half_x, half_y = (q[0] - p[0]) / 2.0, (q[1] - p[1]) / 2.0
    lean = (1.0 / bulge - bulge) / 2.0
    centre = (p[0] + half_x - half_y * lean, p[1] + half_y + half_x * lean)
    radius = math.hypot(half_x, half_y) * (1.0 / abs(bulge) + abs(bulge)) / 2.0
    tip = (centre[0] - radius, centre[1]) if axis == 0 else (centre[0], centre[1] - radius)
    # The arc holds the points on the right of its chord if it turns left, on the left if it turns right.
    side = (q[0] - p[0]) * (tip[1] - p[1]) - (q[1] - p[1]) * (tip[0] - p[0])
    return tip[axis] if side * bulge < 0.0 else min(p[axis], q[axis])
