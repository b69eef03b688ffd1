"""The one bridge from paths to Shapely, for areas, overlaps and distances."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from .path import Path
from .tolerance import CHORD

__all__ = ["line_string", "region"]


def region(outline: Path, holes: Sequence[Path] = (), *, chord: float = CHORD) -> shapely.Polygon:
    """A Shapely polygon of a closed path with holes, arcs replaced by chords.

    Args:
        outline: Closed path.
        holes: Closed paths inside it.
        chord: Greatest distance between an arc and its chords, mm.
    """
    rings = [np.asarray(hole.flatten(chord)) for hole in holes]
    return shapely.Polygon(np.asarray(outline.flatten(chord)), rings)


def line_string(path: Path, *, chord: float = CHORD) -> shapely.LineString:
    """A Shapely line of a path, arcs replaced by chords; a closed path ends where it began."""
    points = path.flatten(chord)
    if path.closed:
        points.append(points[0])
    return shapely.LineString(np.asarray(points))
