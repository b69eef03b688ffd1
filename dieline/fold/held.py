"""Whether what is glued, stitched or taped really meets, and whether creases can give what the sizes ask of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely

from ..blank import Blank, Fold, Joint, JointKind
from ..board import Board
from ..geometry.tolerance import CONTACT
from ..units import format_mm
from .pose import Array
from .slab import CHORD_FOLDED, Slab, Slabs

__all__ = ["crease_faults", "give_of", "joint_faults", "seam_faults", "zone_fault"]

LEAST_CONTACT = 0.9
"""Share of a glued zone that must lie on the other panel: a bond over at least 90 % of the joint is asked for.

Source: trade page (box plant quality control)."""


def joint_faults(slabs: Slabs, blank: Blank, prefix: str) -> Iterator[str]:
    """One line for each joint of a blank that does not meet.

    Args:
        slabs: The folded panels.
        blank: The blank whose joints are looked at.
        prefix: What stands before its panels' names in ``slabs``.
    """
    for joint in blank.joints:
        fault = zone_fault(slabs, joint, prefix)
        if fault:
            yield f"{joint.kind.value} joint of {prefix}{joint.a} and {prefix}{joint.b}: {fault}"


def seam_faults(slabs: Slabs, blank: Blank, prefix: str) -> Iterator[str]:
    """One line for each seam whose two panels bring their shared edge to different places."""
    for seam in blank.seams:
        a, b = slabs.items[slabs.index(prefix + seam.a)], slabs.items[slabs.index(prefix + seam.b)]
        edge = np.array(seam.line)
        images = [edge @ slab.rotation[:, :2].T + slab.offset for slab in (a, b)]
        miss = float(np.linalg.norm(images[0] - images[1], axis=1).max())
        if miss > seam.miss + CONTACT:
            yield (
                f"the edge between {prefix}{seam.a} and {prefix}{seam.b} does not close: its ends miss each other by "
                f"{format_mm(miss, 3)} mm; the board would tear or gape"
            )


def zone_fault(slabs: Slabs, joint: Joint, prefix: str, slack: float = 0.0) -> str:
    """What is wrong with a joint in some state of the box; empty if it meets.

    Args:
        slabs: The folded panels.
        joint: The joint.
        prefix: What stands before its panels' names in ``slabs``.
        slack: How far its zone may be displaced, mm.
    """
    return _taped(slabs, joint, prefix) if joint.kind is JointKind.TAPED else _laid(slabs, joint, prefix, slack)


def _laid(slabs: Slabs, joint: Joint, prefix: str, slack: float) -> str:
    a, b = slabs.items[slabs.index(prefix + joint.a)], slabs.items[slabs.index(prefix + joint.b)]
    flat = np.array(joint.zone.flatten(CHORD_FOLDED))
    side = a.half if joint.a_inside else -a.half
    world = flat @ a.rotation[:, :2].T + a.offset + a.rotation[:, 2] * side
    local = (world - b.offset) @ b.rotation
    away = local[:, 2] - b.half if joint.b_inside else -b.half - local[:, 2]
    gap, press = float(away.max()), float(-away.min())
    if gap > CONTACT + joint.play:
        return f"the faces stay {format_mm(gap)} mm apart; change the shift or the k of one of them"
    if press > CONTACT + joint.crush:
        return f"the faces press {format_mm(press)} mm into each other; change the shift or the k of one of them"
    if _within(local[:, :2], b):
        return ""
    zone, target = shapely.Polygon(local[:, :2]), shapely.Polygon(b.flat)
    if target.covers(zone):
        return ""
    share = target.buffer(joint.play + slack + CONTACT).intersection(zone).area / zone.area
    return "" if share >= LEAST_CONTACT else f"only {share:.0%} of the zone lies on the other panel; move or shorten it"


def _within(zone: Array, slab: Slab) -> bool:
    """Whether a zone lies on a convex slab, to ``CONTACT``: a yes spares the shapes, a no only means to look closer."""
    if slab.hull is not slab.flat:
        return False
    corners, points = slab.flat.tolist(), zone.tolist()
    for (px, py), (qx, qy) in pairwise([*corners, corners[0]]):
        ux, uy = qx - px, qy - py
        least = -CONTACT * math.hypot(ux, uy)
        if any(ux * (y - py) - uy * (x - px) < least for x, y in points):
            return False
    return True


def _taped(slabs: Slabs, joint: Joint, prefix: str) -> str:
    a, b = slabs.items[slabs.index(prefix + joint.a)], slabs.items[slabs.index(prefix + joint.b)]
    flat = np.array(joint.zone.flatten(CHORD_FOLDED))
    points = np.linspace(flat[0], flat[-1], 9)
    world = points @ a.rotation[:, :2].T + a.offset
    local = (world - b.offset) @ b.rotation
    target = shapely.Polygon(b.flat)
    beside = shapely.distance(target, shapely.points(local[:, :2]))
    above = np.maximum(np.abs(local[:, 2]) - b.half, 0.0)
    gap = float(np.hypot(beside, above).max()) - a.half
    if gap > CONTACT + joint.play:
        return f"the edges stay {format_mm(gap)} mm apart; lengthen one of them"
    return ""


def give_of(fold: Fold, board: Board, house: float | None) -> float:
    """Greatest shift that a crease may be asked for, mm: the style's word, else the house's, else the board's."""
    if fold.give is not None:
        return fold.give
    if abs(fold.angle) > 120.0:
        return board.give_flat * board.thickness
    return (board.give if house is None else house) * board.thickness


def crease_faults(blank: Blank, board: Board, house: float | None, prefix: str) -> Iterator[str]:
    """One line for each fold that asks its crease for more than the board gives."""
    for fold in blank.folds:
        limit = give_of(fold, board, house)
        if abs(fold.shift) > limit + CONTACT:
            yield (
                f"crease between {prefix}{fold.parent} and {prefix}{fold.child}: the panel must shift by "
                f"{format_mm(abs(fold.shift))} mm, the board gives {format_mm(limit)} mm; "
                "use offset creases, or state the give of this board in a house file"
            )
