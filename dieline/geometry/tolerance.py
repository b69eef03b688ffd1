"""Every tolerance in one place, each with its reason. All in mm unless the name says otherwise."""

from __future__ import annotations

__all__ = [
    "AREA_RELATIVE",
    "CHORD",
    "CLASH_VOLUME",
    "CLOSE_POINTS",
    "CONTACT",
    "MIN_STROKE",
    "NODING",
    "SAME_LINE",
    "SIZE_EXACT",
    "WRITTEN",
]

CLOSE_POINTS = 1e-6
"""Two points nearer than this are one point. Coordinates up to 10 m carry an error of some 1e-12 after a few
operations; no tool resolves a micrometre, let alone a nanometre."""

NODING = 1e-5
"""Grid on which strokes are noded before they are searched for faces: a stroke that ends on another misses it by a
rounding error, and must still count as meeting it."""

SAME_LINE = 1e-6
"""Two lines whose offset differs by less are one line; the same reasoning as for points."""

CHORD = 0.01
"""Greatest distance between an arc and the chords that stand for it where a check needs straight edges: a tenth of
the 0.1 mm that die makers offer as accuracy."""

MIN_STROKE = 0.05
"""Shortest stroke that a cutting file may hold. Importers close gaps of 0.025 to 0.05 mm, so a shorter stroke may
vanish or be taken for a gap."""

AREA_RELATIVE = 1e-9
"""Two areas of the same thing agree to this fraction."""

SIZE_EXACT = 1e-6
"""Folded inside sizes agree with the asked ones to this: the model is exact, so a larger difference is a fault."""

CONTACT = 1e-6
"""Two faces nearer than this touch."""

CLASH_VOLUME = 0.02
"""Volume, in cubes of the board thickness, below which an overlap of two slabs counts as touching: a fiftieth of a
board cube is less than any crease rounds off. A trial at 0.02 flagged every slot that was 0.2 mm too narrow."""

WRITTEN = 0.01
"""Sizes read back from a written file agree with the computed ones to this."""
