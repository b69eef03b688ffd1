"""Families at scale, side by side with ezdxf writing the same number of DXF files; ratios within one run.

Run with the number of boxes as argument; 2000 by itself, 10000 for the figures of record. Nothing is deleted before the
end: some file systems keep inodes that were just deleted back for minutes, and search past all of them for each new
file. For the same reason let five minutes pass between two runs.
"""

from __future__ import annotations

import multiprocessing
import resource
import shutil
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from dieline.families import family
from dieline.job import make_job
from dieline.pipeline import run

WORKERS = 2


def _theirs(part: tuple[str, int, int]) -> int:
    """ezdxf alone: as many DXF files with the same entities, in a folder of its own."""
    import ezdxf

    folder, start, stop = part
    strokes = run(make_job("0201", "300x200x150", "C")).drawings[0].strokes
    for number in range(start, stop):
        document = ezdxf.new("R2010")  # type: ignore[attr-defined]  # ezdxf does not list it
        space = document.modelspace()
        for stroke in strokes:
            bulges = stroke.path.bulges or (0.0,) * len(stroke.path.points)
            points = [(x, y, bulge) for (x, y), bulge in zip(stroke.path.points, bulges, strict=False)]
            space.add_lwpolyline(points, format="xyb", close=stroke.path.closed)
        document.saveas(Path(folder) / f"{number}.dxf")
    return stop - start


def theirs(count: int, folder: str) -> float:
    """Seconds that ezdxf takes with two workers."""
    start = time.perf_counter()
    parts = []
    for worker in range(WORKERS):
        own = Path(folder) / str(worker)
        own.mkdir(parents=True)
        parts.append((str(own), worker * count // WORKERS, (worker + 1) * count // WORKERS))
    with ProcessPoolExecutor(WORKERS, multiprocessing.get_context("spawn")) as pool:
        assert sum(pool.map(_theirs, parts)) == count
    return time.perf_counter() - start


def ours(count: int, folder: str) -> float:
    """Seconds that a family takes with two workers: DXF and SVG, all proofs, summary."""
    table = Path(folder) / "t.csv"
    rows = "".join(f"{200 + 0.1 * number:.1f},150,{100 + number % 7}\n" for number in range(count))
    table.write_text(f"length,breadth,height\n{rows}", encoding="utf-8")
    start = time.perf_counter()
    result = family(
        table, Path(folder) / "out", base={"style": "0201", "board": "C"}, workers=WORKERS, summaries=("csv",)
    )
    assert result.drawn == count
    return time.perf_counter() - start


def main() -> int:
    """Print the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    folder = tempfile.mkdtemp()
    try:
        few = min(500, count)
        rates = {}
        for number in (few, count):
            place = Path(folder) / f"ours{number}"
            place.mkdir(exist_ok=True)
            rates[number] = number / ours(number, str(place))
        other = theirs(count, f"{folder}/theirs")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    took = count / rates[count]
    print(f"{count} boxes, {WORKERS} workers: {took:.1f} s, {rates[count]:.0f}/s (at {few}: {rates[few]:.0f}/s)")
    print(f"ezdxf alone, {count} DXF files: {other:.1f} s; ratio {took / other:.2f} (bound 1.0, aim 0.5)")
    print(f"parent's peak memory {memory:.0f} MiB (bound 200)")
    return 0 if took <= other and memory < 200 else 1


if __name__ == "__main__":
    sys.exit(main())
