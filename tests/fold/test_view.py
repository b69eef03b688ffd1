"""The folded view shows what a ray from the viewer meets first, all of it, once."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely

from dieline.blank import Face
from dieline.board import find_board
from dieline.errors import InputError
from dieline.fold.hidden import visible_parts
from dieline.fold.motion import opened, stage_bends
from dieline.fold.pose import Array, Bend
from dieline.fold.skin import Skin
from dieline.fold.slab import Slab, stand_up
from dieline.fold.view import ViewFace, folded_view
from dieline.geometry.path import Frame, circle, rounded
from dieline.linetypes import Meaning
from dieline.style.design import Design, Piece, Stand
from dieline.style.sheet import Sheet
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
    return Design(
        style="hexagon", pieces=(Piece(blank=sheet.blank(), stand=stand),), inside=size, crease=size, sizes=()
    ), t


def _bends(design: Design, state: str | float) -> list[Bend]:
    if state == OPEN_TOP:
        return [opened(piece.blank, {Face.TOP}, 110.0) for piece in design.pieces]
    return [stage_bends(piece.blank, float(state)) for piece in design.pieces]


def _axes(turn: float, tilt: float) -> Array:
    """Right, up and toward a viewer who walked round to the right by ``turn`` and looks down by ``tilt``."""
    a, b = math.radians(turn), math.radians(tilt)
    right = np.array((math.cos(a), math.sin(a), 0.0))
    toward = np.array((math.sin(a) * math.cos(b), -math.cos(a) * math.cos(b), math.sin(b)))
    return np.array((right, np.cross(toward, right), toward))


def _shape(face: ViewFace) -> shapely.Geometry:
    """A face with its holes: rings that run clockwise are taken out."""
    rings = [shapely.Polygon(ring) for ring in face.rings]
    solid = [ring for ring in rings if ring.exterior.is_ccw]
    holes = [ring for ring in rings if not ring.exterior.is_ccw]
    return shapely.difference(_union(solid), _union(holes), grid_size=GRID)


def _union(shapes: list[shapely.Geometry]) -> shapely.Geometry:
    return shapely.union_all(shapes, grid_size=GRID)


def _depth(slab: Slab, start: Array, toward: Array) -> float:
    """How far toward the viewer a ray through ``start`` meets a slab last; minus infinity if it misses."""
    assert slab.panel is not None
    area = shapely.Polygon(slab.flat, [hole.flatten(0.05) for hole in slab.panel.holes])
    at, way = (start - slab.offset) @ slab.rotation, toward @ slab.rotation
    low, high = -1e4, 1e4
    if abs(way[2]) >= 1e-9:
        low, high = sorted(((-slab.half - at[2]) / way[2], (slab.half - at[2]) / way[2]))
    elif abs(at[2]) > slab.half:
        return -math.inf
    beside = float(np.hypot(way[0], way[1]))
    if beside < 1e-9:
        return high if area.contains(shapely.Point(at[:2])) else -math.inf
    ray = shapely.LineString((at[:2] + low * way[:2], at[:2] + high * way[:2])).intersection(area)
    along = (shapely.get_coordinates(ray) - at[:2]) @ way[:2] / beside**2
    return float(along.max()) if len(along) else -math.inf


def _bend_zones(design: Design, slabs: tuple[Slab, ...], t: float, axes: Array) -> dict[str, list[shapely.Geometry]]:
    """For each panel the strips along its creases in the picture, where the bend may stand before the slabs."""
    by_name = {slab.name: slab for slab in slabs}
    zones: dict[str, list[shapely.Geometry]] = {slab.name: [] for slab in slabs}
    for fold in design.pieces[0].blank.folds:
        slab = by_name[fold.child]
        ends = (np.array(fold.line) @ slab.rotation[:, :2].T + slab.offset) @ axes[:2].T
        zone = shapely.LineString(ends).buffer(1.6 * t + abs(fold.shift))
        zones[fold.child].append(zone)
        zones[fold.parent].append(zone)
    return zones


def _strangers(design: Design, t: float, turn: float, tilt: float, bends: Sequence[Bend]) -> list[str]:
    """Points of the picture where the view shows another panel than the first one that a ray meets."""
    view, axes = folded_view(design, t, turn=turn, tilt=tilt, bends=bends), _axes(turn, tilt)
    slabs = stand_up(design, t, bends).items
    zones = _bend_zones(design, slabs, t, axes)
    shapes = [_shape(face) for face in view.faces]
    tree, draw, wrong = shapely.STRtree(shapes), random.Random(7), []
    for _ in range(60):
        x, y = draw.uniform(0.0, view.width), draw.uniform(0.0, view.height)
        at = np.array((x - view.origin[0], y - view.origin[1]))
        depth, first = max((_depth(slab, at @ axes[:2], axes[2]), slab.name) for slab in slabs)
        spot = shapely.Point(x, y)
        shown = [view.faces[i].panel for i in tree.query(spot, predicate="within").tolist()]
        expected = [first] if depth > -math.inf else []
        in_bend = any(zone.contains(shapely.Point(at)) for name in shown + expected for zone in zones[name])
        on_edge = any(shape.boundary.distance(spot) < 0.03 for shape in shapes)
        if shown != expected and not in_bend and not on_edge:
            wrong.append(f"({x:.1f}, {y:.1f}) shows {shown}, not {expected}")
    return wrong


ZOO: dict[str, tuple[Callable[[], tuple[Design, float]], str | float, float, float]] = {
    "regular": (_slotted, 1.0, 30.0, 25.0),
    "regular, open": (_slotted, OPEN_TOP, 30.0, 25.0),
    "regular, flat": (_slotted, 0.0, 30.0, 25.0),
    "regular, half-way": (_slotted, 0.55, -140.0, 40.0),
    "straight on": (_slotted, 1.0, 0.0, 0.0),
    "straight down": (_slotted, 0.8, 0.0, 90.0),
    "full overlap, from below": (lambda: _slotted("0203"), 1.0, 200.0, -30.0),
    "taped, hand holes": (lambda: _slotted("0200", joint="taped", hand_holes="B"), 1.0, 60.0, 30.0),
    "triple wall": (lambda: _slotted("0201", "600x400x400", "AAA"), OPEN_TOP, 30.0, 25.0),
    "carton": (lambda: _slotted("0201", "60x40x120", "carton-0.4"), OPEN_TOP, 30.0, 25.0),
    "round slots, vents": (lambda: _slotted("0204", slot_end="round", vents="all"), 0.9, 45.0, 35.264),
    "hexagon": (_hexagon, 1.0, 30.0, 40.0),
    "hexagon, half-way": (_hexagon, 0.6, -75.0, 20.0),
}


@pytest.mark.parametrize("case", ZOO)
def test_every_point_shows_the_first_panel_on_its_ray(case: str) -> None:
    """An independent reckoning, ray by ray through the slabs, finds the same panel outside the bends."""
    build, state, turn, tilt = ZOO[case]
    design, t = build()
    assert _strangers(design, t, turn, tilt, _bends(design, state)) == []


@pytest.mark.parametrize("case", ZOO)
def test_nothing_twice_and_nothing_missing(case: str) -> None:
    """The visible areas add up to their union, which fills the slabs' shadow and exceeds it by no more than a bend."""
    build, state, turn, tilt = ZOO[case]
    design, t = build()
    bends = _bends(design, state)
    view = folded_view(design, t, turn=turn, tilt=tilt, bends=bends)
    shapes = [_shape(face) for face in view.faces]
    total = sum(face.area for face in view.faces)
    silhouette = _union(shapes)
    assert total == pytest.approx(silhouette.area, rel=1e-6, abs=0.02)
    axes, moved = _axes(turn, tilt), np.array(view.origin)
    shadow = _union([_shadow(slab, axes, moved) for slab in stand_up(design, t, bends).items])
    missing = shapely.difference(shadow, silhouette, grid_size=GRID)
    assert missing.area < 0.01 * missing.length / 2 + 0.02
    # A liner goes round its crease at half the board and the shift at the most.
    reach = t / 2 + max(abs(fold.shift) for fold in design.pieces[0].blank.folds)
    assert shapely.difference(silhouette, shadow.buffer(reach), grid_size=GRID).area < 0.02
    assert silhouette.area <= shadow.convex_hull.buffer(reach).area


def _shadow(slab: Slab, axes: Array, moved: Array) -> shapely.Geometry:
    """A slab in the picture: its two faces, and what they sweep over between them."""
    assert slab.panel is not None
    outer, inner = np.split(slab.corners @ axes[:2].T + moved, 2)
    ahead = [np.roll(side, -1, axis=0) for side in (outer, inner)]
    strips = shapely.convex_hull(shapely.multipoints(np.stack((outer, ahead[0], ahead[1], inner), axis=1)))
    faces = []
    for side, z in ((outer, -slab.half), (inner, slab.half)):
        holes = [
            (np.column_stack((hole.flatten(0.05), np.full(len(hole.flatten(0.05)), z))) @ slab.rotation.T + slab.offset)
            @ axes[:2].T
            + moved
            for hole in slab.panel.holes
        ]
        faces.append(shapely.Polygon(side, holes))
    solid = shapely.set_precision(np.array([*faces, *strips.tolist()], dtype=object), GRID)
    return _union(solid.tolist())


def test_a_closed_box_shows_three_faces() -> None:
    """From front, right and above: the front, the right and the top, in three different lights; no inside but slits."""
    design, t = _slotted()
    view = folded_view(design, t)
    total = sum(face.area for face in view.faces)
    broad = [face for face in view.faces if face.area > 0.02 * total]
    assert {face.skin for face in broad} == {Skin.OUTSIDE}
    assert len({face.shade for face in broad}) == 3
    by_name = design.pieces[0].blank.by_name
    assert {by_name[face.panel].face for face in broad} == {Face.FRONT, Face.RIGHT, Face.TOP}
    assert sum(face.area for face in view.faces if face.skin is Skin.INSIDE) < 1e-3 * total


def test_an_opened_top_shows_the_inside() -> None:
    """Lifted flaps and the walls behind them show their inner liner."""
    design, t = _slotted()
    view = folded_view(design, t, tilt=50.0, bends=_bends(design, OPEN_TOP))
    inside = {face.panel for face in view.faces if face.skin is Skin.INSIDE and face.area > 1000.0}
    by_name = design.pieces[0].blank.by_name
    assert {by_name[name].face for name in inside} >= {Face.BACK, Face.LEFT, Face.TOP}


def test_raw_edges_have_the_thickness_of_the_board() -> None:
    """Straight down on a half slotted case the rim of the walls is a frame as wide as the board, round at the bends."""
    design, t = _slotted("0200")
    view = folded_view(design, t, turn=0.0, tilt=90.0)
    rim = sum(face.area for face in view.faces if face.skin is Skin.EDGE and face.panel.startswith("panel"))
    frame = (300 + 2 * t) * (200 + 2 * t) - 300 * 200
    rounded_off = 3 * (1 - math.pi / 4) * (t / 2) ** 2
    assert rim == pytest.approx(frame - rounded_off, abs=3 * t * t / 4 + 2.0)


def test_a_hand_hole_is_open() -> None:
    """The wall shows less of itself by the area of the hole, as foreshortened."""
    (design, t), (with_hole, _) = _slotted(), _slotted(hand_holes="B")
    areas = []
    for one in (design, with_hole):
        right = next(panel.name for panel in one.pieces[0].blank.panels if panel.face is Face.RIGHT and panel.k == 0)
        faces = [face for face in folded_view(one, t).faces if face.panel == right and face.skin is Skin.OUTSIDE]
        areas.append(max(face.area for face in faces))
    hole = next(panel for panel in with_hole.pieces[0].blank.panels if panel.holes).holes[0]
    squeezed = math.sin(math.radians(30.0)) * math.cos(math.radians(25.0))
    assert areas[0] - areas[1] == pytest.approx(hole.area * squeezed, rel=0.005)


def test_no_line_is_drawn_where_the_board_bends_without_a_crease() -> None:
    """With the same bend creased, the picture has one more line along the flap."""
    design, t = _slotted("0203")
    (piece,) = design.pieces
    creased = [replace(fold, meaning=fold.meaning or Meaning.CREASE) for fold in piece.blank.folds]
    other = replace(design, pieces=(replace(piece, blank=piece.blank.with_folds(creased)),))
    bends = _bends(design, OPEN_TOP)
    lengths = [
        sum(shapely.LineString(line.points).length for line in folded_view(one, t, bends=bends).lines)
        for one in (design, other)
    ]
    along = math.hypot(math.cos(math.radians(30.0)), math.sin(math.radians(30.0)) * math.sin(math.radians(25.0)))
    assert lengths[1] - lengths[0] > 0.9 * 300 * along


@pytest.mark.parametrize("case", ZOO)
def test_no_line_is_drawn_twice(case: str) -> None:
    """Edges seen from two faces are one line."""
    build, state, turn, tilt = ZOO[case]
    design, t = build()
    view = folded_view(design, t, turn=turn, tilt=tilt, bends=_bends(design, state))
    lines = np.array([shapely.LineString(line.points) for line in view.lines if line.meaning is None], dtype=object)
    beside = shapely.buffer(lines, 0.003, cap_style="flat")
    one, other = shapely.STRtree(lines).query(beside, predicate="intersects")
    apart = one != other
    both = shapely.length(shapely.intersection(beside[one[apart]], lines[other[apart]]))
    assert both.max() < 0.5


def test_marks_lie_on_the_faces_that_are_seen() -> None:
    """A tear strip runs as two perforations round the two walls in view, and nowhere else."""
    design, t = _slotted(tear_strip=True)
    view = folded_view(design, t)
    tears = [shapely.LineString(line.points) for line in view.lines if line.meaning is Meaning.PERFORATION]
    a, b = math.radians(30.0), math.radians(25.0)
    front = math.hypot(math.cos(a), math.sin(a) * math.sin(b)) * (300 + t)
    right = math.hypot(math.sin(a), math.cos(a) * math.sin(b)) * (200 + t)
    assert len(tears) == 4
    assert sum(line.length for line in tears) == pytest.approx(2 * (front + right), rel=0.01)


def test_the_same_design_gives_the_same_view() -> None:
    """Built and seen twice, every number agrees."""
    views = [folded_view(*_slotted(hand_holes="B"), bends=None) for _ in range(2)]
    assert views[0] == views[1]


def test_the_picture_begins_at_its_corner() -> None:
    """All faces and lines lie within width and height, and touch all four sides."""
    view = folded_view(*_slotted(), turn=-50.0, tilt=10.0)
    points = np.array([point for face in view.faces for ring in face.rings for point in ring])
    assert points.min(axis=0) == pytest.approx((0.0, 0.0))
    assert points.max(axis=0) == pytest.approx((view.width, view.height))
    lines = np.array([point for line in view.lines for point in line.points])
    assert lines.min() > -0.01
    assert np.all(lines.max(axis=0) < (view.width + 0.01, view.height + 0.01))


@pytest.mark.parametrize(
    ("turn", "tilt", "place"), [(math.nan, 25.0, "turn"), (30.0, 91.0, "tilt"), (0.0, math.nan, "tilt")]
)
def test_an_angle_that_is_no_view_is_refused(turn: float, tilt: float, place: str) -> None:
    """The error names the angle and its range."""
    with pytest.raises(InputError, match=f"^{place} – .* must be"):
        folded_view(*_slotted(), turn=turn, tilt=tilt)


# Small scenes, whose answer is known by hand.


def _seen(*faces: tuple[shapely.Geometry, tuple[float, float, float]]) -> list[shapely.Geometry]:
    shapes = np.array([shape for shape, _ in faces], dtype=object)
    found: list[shapely.Geometry] = visible_parts(shapes, np.array([plane for _, plane in faces])).tolist()
    return found


def test_a_nearer_sheet_hides_what_it_covers() -> None:
    """Half of the farther square is left; a sheet that stands alone is whole."""
    far, near, alone = shapely.box(0, 0, 10, 10), shapely.box(5, 0, 15, 10), shapely.box(50, 50, 52, 52)
    parts = _seen((far, (0, 0, 0)), (near, (0, 0, 1)), (alone, (0, 0, -9)))
    assert [part.area for part in parts] == pytest.approx([50.0, 100.0, 4.0])
    assert parts[0].equals(shapely.box(0, 0, 5, 10))


def test_sheets_that_pierce_each_other_are_cut_where_they_cross() -> None:
    """Of two squares one above the other that cross at x = 4, each shows on its own side."""
    square = shapely.box(0, 0, 10, 10)
    level, slanting = _seen((square, (0, 0, 0)), (square, (1, 0, -4)))
    assert level.symmetric_difference(shapely.box(0, 0, 4, 10)).area < 0.01
    assert slanting.symmetric_difference(shapely.box(4, 0, 10, 10)).area < 0.01


def test_of_two_sheets_in_one_plane_the_first_is_shown() -> None:
    """Nothing is shown twice where board touches board."""
    a, b = shapely.box(0, 0, 10, 10), shapely.box(8, 0, 18, 10)
    plane = (0.3, -0.2, 1.0)
    assert [part.area for part in _seen((a, plane), (b, plane))] == pytest.approx([100.0, 80.0])


def test_a_hidden_sheet_hides_nothing_wrongly() -> None:
    """Three in a pile: the middle one is gone, the lowest shows what only it has."""
    low, middle, top = shapely.box(0, 0, 20, 10), shapely.box(2, 2, 8, 8), shapely.box(0, 0, 10, 10)
    parts = _seen((low, (0, 0, 0)), (middle, (0, 0, 1)), (top, (0, 0, 2)))
    assert [part.area for part in parts] == pytest.approx([100.0, 0.0, 100.0])


def test_slivers_and_needles_are_not_shown() -> None:
    """A strip of a two-hundredth of a millimetre is dropped; a needle on a part is cut off, the part stays."""
    sheet, cover = shapely.box(0, 0, 100, 10), shapely.box(0, 0, 99.995, 10)
    assert _seen((sheet, (0, 0, 0)), (cover, (0, 0, 1)))[0].is_empty
    slit = shapely.Polygon([(0, 0), (100, 0), (100, 5), (2, 9.9995), (2, 12), (0, 12)])
    below = shapely.Polygon([(0, 0), (100, 0), (100, 5.0005), (2, 10), (2, 12), (0, 12)])
    assert _seen((below, (0, 0, 0)), (slit, (0, 0, 1)))[0].is_empty
    tooth = shapely.Polygon([(0, 0), (3, 0), (3, 2), (90, 2.001), (3, 2.001), (3, 3), (0, 3)])
    (part,) = _seen((tooth, (0, 0, 0)))
    assert part.area == pytest.approx(9.0, abs=0.02)
    assert part.bounds[2] < 3.01


def test_a_hole_in_the_nearer_sheet_shows_the_farther_one() -> None:
    """Through a window one sees as much as the window is large."""
    window = shapely.box(0, 0, 20, 20).difference(shapely.box(5, 5, 10, 10))
    far, near = _seen((shapely.box(0, 0, 20, 20), (0, 0, 0)), (window, (0, 0, 5)))
    assert far.equals(shapely.box(5, 5, 10, 10))
    assert near.area == pytest.approx(375.0)
