"""The folded view shows what a ray from the viewer meets first, all of it, once."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely

from dieline.blank import Face, Sheet
from dieline.board import find_board
from dieline.errors import InputError
from dieline.fold.hidden import visible_parts
from dieline.fold.motion import opened, stage_bends
from dieline.fold.pose import Array, Bend
from dieline.fold.skin import Skin
from dieline.fold.slab import Slab, stand_up
from dieline.fold.view import View, ViewFace, folded_view
from dieline.geometry.path import Frame, circle, rounded
from dieline.linetypes import Meaning
from dieline.style.design import Design, Piece, Stand
from dieline.units import Size, parse_size
from dieline_styles.slotted import STYLES

GRID = 2.0**-13
OPEN_TOP = "top lifted by 110 degrees"


def _slotted(style: str = "0201", size: str = "300x200x150", board: str = "C", **options: Any) -> tuple[Design, float]:
    found = STYLES[style]
    stock = find_board(board)
    return found.build(found.order(parse_size(size), stock, options)), stock.thickness


def _hexagon() -> tuple[Design, float]:
    """A six-sided tray with a round hole, leaning walls, and wavy flaps folded by 30 to 180 degrees."""
    radius, height, t = 80.0, 50.0, 3.0
    sheet = Sheet("tray")
    corners = [
        (radius * math.cos(math.radians(60 * i + 10)), radius * math.sin(math.radians(60 * i + 10))) for i in range(6)
    ]
    sheet.panel("base", corners, face=Face.BOTTOM, holes=[circle((0, 0), 15)])
    for i, (p, q) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        width, lean = math.dist(p, q), 8.0 if i % 2 else -4.0
        wall = [(0.0, 0.0), (width, 0.0), (width + lean, height), (-lean, height)]
        sheet.hang(f"wall {i}", "base", (p, q), wall, angle=90.0 if i % 2 else 75.0)
        frame = Frame.outward(p, q)
        edge = frame.point(-lean, height), frame.point(width + lean, height)
        length = width + 2 * lean
        wave = [(0.0, 0.0), (length, 0.0), (0.8 * length, 20.0), (0.5 * length, 8.0), (0.2 * length, 20.0)]
        sheet.hang(
            f"flap {i}",
            f"wall {i}",
            edge,
            rounded(wave, [0, 0, 6, 3, 6]),
            angle=(180.0, 90.0, -60.0, 120.0, 179.0, 30.0)[i],
            shift=t if i in (0, 4) else 0.0,
            stage=2,
        )
    stand = Stand((0.0, 0.0), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    size = Size(100, 100, height)
    return Design(style="hexagon", pieces=(Piece(blank=sheet.blank(), stand=stand),), inside=size, crease=size, sizes=()), t


def _bends(design: Design, state: str | float) -> list[Bend | None]:
    if state == OPEN_TOP:
        return [opened(piece.blank, {Face.TOP}, 110.0) for piece in design.pieces]
    return [stage_bends(piece.blank, float(state)) for piece in design.pieces]


def _axes(turn: float, tilt: float) -> Array:
    """Right, up and toward the viewer, by turning the plain front view: first about z, then about the picture's x."""
    a, b = math.radians(turn), math.radians(tilt)
    about_z = np.array(((math.cos(a), -math.sin(a), 0), (math.sin(a), math.cos(a), 0), (0, 0, 1)))
    front = np.array(((1, 0, 0), (0, 0, 1), (0, -1, 0)))
    about_x = np.array(((1, 0, 0), (0, math.cos(b), -math.sin(b)), (0, math.sin(b), math.cos(b))))
    return about_x.T.T @ front @ about_z.T


def _shape(face: ViewFace) -> shapely.Geometry:
    """A face with its holes: rings that run clockwise are taken out."""
    rings = [shapely.Polygon(ring) for ring in face.rings]
    solid = [ring for ring in rings if ring.exterior.is_ccw]
    holes = [ring for ring in rings if not ring.exterior.is_ccw]
    return shapely.difference(
        shapely.union_all(solid, grid_size=GRID), shapely.union_all(holes, grid_size=GRID), grid_size=GRID
    )


def _depth(slab: Slab, origin: Array, toward: Array) -> float:
    """How far toward the viewer a ray through ``origin`` meets a slab, a prism with holes; minus infinity if it misses."""
    assert slab.panel is not None
    area = shapely.Polygon(slab.flat, [hole.flatten(0.05) for hole in slab.panel.holes])
    start, way = (origin - slab.offset) @ slab.rotation, toward @ slab.rotation
    if abs(way[2]) < 1e-9:
        low, high = (-1e4, 1e4) if abs(start[2]) <= slab.half else (1.0, 0.0)
    else:
        low, high = sorted(((-slab.half - start[2]) / way[2], (slab.half - start[2]) / way[2]))
    beside = float(np.hypot(way[0], way[1]))
    if low > high:
        return -math.inf
    if beside < 1e-9:
        return high if area.contains(shapely.Point(start[:2])) else -math.inf
    ray = shapely.LineString((start[:2] + low * way[:2], start[:2] + high * way[:2])).intersection(area)
    along = (shapely.get_coordinates(ray) - start[:2]) @ way[:2] / beside**2
    return float(along.max()) if len(along) else -math.inf


def _strangers(design: Design, t: float, view: View, bends: list[Bend | None], axes: Array) -> list[str]:
    """Points of the picture where the view shows another panel than the first one on the ray."""
    slabs = stand_up(design, t, bends)
    shapes = [_shape(face) for face in view.faces]
    tree = shapely.STRtree(shapes)
    flat = np.concatenate([slab.corners for slab in slabs.items]) @ axes[:2].T
    # The picture's corner: bends may reach past the slabs, so it is found by the largest shape that both know.
    shift = _corner(view, shapes, slabs.items, axes)
    creases = {
        fold.child: (fold.parent, shapely.LineString(np.array(fold.line)), abs(fold.shift))
        for fold in design.pieces[0].blank.folds
    }
    lines: dict[str, list[shapely.Geometry]] = {}
    for slab in slabs.items:
        if slab.name in creases:
            parent, line, reach = creases[slab.name]
            ends = (shapely.get_coordinates(line) @ slab.rotation[:, :2].T + slab.offset) @ axes[:2].T
            zone = shapely.LineString(ends).buffer(1.6 * t + reach)
            lines.setdefault(slab.name, []).append(zone)
            lines.setdefault(parent, []).append(zone)
    draw = random.Random(7)
    wrong = []
    for _ in range(80):
        x, y = draw.uniform(*flat[:, 0][[flat[:, 0].argmin(), flat[:, 0].argmax()]]), draw.uniform(
            flat[:, 1].min(), flat[:, 1].max()
        )
        depth, first = max((_depth(slab, x * axes[0] + y * axes[1], axes[2]), slab.name) for slab in slabs.items)
        spot = shapely.Point(x - shift[0], y - shift[1])
        shown = [view.faces[i].panel for i in tree.query(spot, predicate="within")]
        expected = [first] if depth > -math.inf else []
        at_bend = any(zone.contains(shapely.Point(x, y)) for name in shown + expected for zone in lines.get(name, ()))
        on_edge = any(shape.boundary.distance(spot) < 0.03 for shape in shapes)
        if shown != expected and not at_bend and not on_edge:
            wrong.append(f"({x:.1f}, {y:.1f}) shows {shown}, not {expected}")
    return wrong


def _corner(view: View, shapes: list[shapely.Geometry], slabs: tuple[Slab, ...], axes: Array) -> tuple[float, float]:
    raise NotImplementedError
