"""``make bench``: speed and memory of one box, as ratios within one run, because machines are noisy.

Each ratio is the median of pairs measured in turn, A B A B …, so that a drift of the machine's speed cancels. Files lie
in memory where the system offers a place for that: a disk takes from 0.05 to 0.6 ms to make a file, by how many were
deleted on it in the last minutes, and would drown what is compared.
"""

from __future__ import annotations

import contextlib
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from stages import stage_medians

from dieline.files import write
from dieline.job import make_job
from dieline.pipeline import run

COLD_BOUND, WARM_BOUND, WARM_AIM, MEMORY_BOUND = 2.5, 0.75, 0.5, 150.0

ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""What child processes get: without compiled modules kept, each start would compile them all anew."""


Work = Callable[[], object]


def paired(a: Work, b: Work, rounds: int, before: Callable[[Work], object] = id) -> tuple[float, float, float]:
    """Median ms of ``a``, of ``b``, and of their ratio pair by pair; ``before`` goes before each of them, untimed."""
    times: list[tuple[float, float]] = []
    for _ in range(rounds):
        pair = []
        for work in (a, b):
            before(work)
            start = time.perf_counter()
            work()
            pair.append((time.perf_counter() - start) * 1000)
        times.append((pair[0], pair[1]))
    return (
        statistics.median(a for a, _ in times),
        statistics.median(b for _, b in times),
        statistics.median(a / b for a, b in times),
    )


def process(*words: str) -> Work:
    """A whole process, its output thrown away."""
    return lambda: subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL, env=ENVIRONMENT)


def cold(folder: str) -> tuple[float, float, float]:
    """A cold ``dieline draw`` with DXF and SVG against importing numpy and shapely."""
    draw = process("-m", "dieline", "draw", "0201", "300x200x150", "--board", "C", "--out", folder)
    imports = process("-c", "import numpy, shapely")
    draw()
    imports()
    return paired(draw, imports, 15)


def warm(folder: str) -> tuple[float, float, float]:
    """Warm run + DXF + SVG + read-back, all proofs on, against ezdxf: new, the same entities, write; all into files."""
    job = make_job("0201", "300x200x150", "C")
    strokes = run(job).drawings[0].strokes

    def ours() -> None:
        write(run(job), Path(folder))

    def theirs() -> None:
        import ezdxf

        document = ezdxf.new("R2010")  # type: ignore[attr-defined]  # ezdxf does not list it
        space = document.modelspace()
        for stroke in strokes:
            bulges = stroke.path.bulges or (0.0,) * len(stroke.path.points)
            points = [(x, y, bulge) for (x, y), bulge in zip(stroke.path.points, bulges, strict=False)]
            space.add_lwpolyline(points, format="xyb", close=stroke.path.closed, dxfattribs={"layer": "DL_THRU"})
        with open(Path(folder) / "theirs.dxf", "w", encoding="utf-8") as stream:
            document.write(stream)

    def warmed(work: Work) -> None:
        # Warm means after a run of its own kind; straight after the other, each would first fetch its memory and caches
        # back, which says more of the neighbours on the machine than of either.
        empty(folder)
        work()
        empty(folder)

    for _ in range(20):
        ours()
        theirs()
    return paired(ours, theirs, 200, warmed)


def empty(folder: str) -> None:
    """Take the files of a folder away: one that replaces another is flushed at once, and times the disk, not us."""
    for path in Path(folder).iterdir():
        path.unlink()


def peak_memory(folder: str) -> float:
    """Peak memory of one draw as a whole process, MiB."""
    code = "import sys; from dieline.cli import main; sys.argv = ['dieline', *sys.argv[1:]]; main()"
    words = [sys.executable, "-c", code, "draw", "0201", "300x200x150", "--board", "C", "--out", folder]
    child = subprocess.Popen(words, stdout=subprocess.DEVNULL, env=ENVIRONMENT)
    _, _, usage = os.wait4(child.pid, 0)
    with contextlib.suppress(ChildProcessError):
        child.wait()
    scale = 1024 if sys.platform != "darwin" else 1024 * 1024
    return usage.ru_maxrss / scale


def main() -> int:
    """Print the table; 1 if a bound is crossed."""
    memory_disk = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory_disk if os.access(memory_disk, os.W_OK) else None) as folder:
        rows = [
            ("cold draw, DXF + SVG", "import numpy, shapely", *cold(folder), COLD_BOUND),
            ("warm run + DXF + SVG + read back", "ezdxf new + same entities + write", *warm(folder), WARM_BOUND),
        ]
        memory = peak_memory(folder)
        stages = stage_medians(make_job("0201", "300x200x150", "C"), Path(folder), 200)
    print(f"{'ours':34}{'against':36}{'ours ms':>9}{'other ms':>10}{'ratio':>8}{'bound':>8}")
    for ours, other, a, b, ratio, bound in rows:
        print(f"{ours:34}{other:36}{a:9.2f}{b:10.2f}{ratio:8.2f}{bound:8.2f}")
    print("\nwarm, step by step" + " " * 21 + "median ms")
    for name, ms in stages.items():
        print(f"  {name:37}{ms:9.3f}")
    print(f"  {'together':37}{sum(stages.values()):9.3f}\n")
    print(f"peak memory of one draw {memory:.0f} MiB (bound {MEMORY_BOUND:.0f}); this process {_here():.0f} MiB")
    crossed = any(ratio > bound for *_, ratio, bound in rows) or memory > MEMORY_BOUND
    print("a bound is crossed" if crossed else f"within the bounds (aim for the warm ratio: {WARM_AIM})")
    return 1 if crossed else 0


def _here() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


if __name__ == "__main__":
    sys.exit(main())
