"""Where the milliseconds of one warm box go: the steps of ``write(run(job))`` one by one, in their order."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

from dieline.drawing.flat import prove_flat
from dieline.drawing.model import draw_blank
from dieline.drawing.notes import annotate
from dieline.export.dxf import dxf_text
from dieline.export.faces import by_meaning
from dieline.export.read_dxf import read_dxf
from dieline.export.read_svg import read_svg
from dieline.export.same import same_strokes
from dieline.export.svg import svg_text
from dieline.fold.proof import prove_folded
from dieline.job import Job
from dieline.pipeline import build
from dieline.registry import find_style

__all__ = ["stage_medians"]


class Laps:
    """Takes the time of one step after the other."""

    def __init__(self) -> None:
        self.times: dict[str, list[float]] = {}
        self.at = 0.0

    def start(self) -> None:
        """Begin a round."""
        self.at = time.perf_counter()

    def lap(self, name: str) -> None:
        """The step of this name is done."""
        now = time.perf_counter()
        self.times.setdefault(name, []).append((now - self.at) * 1000)
        self.at = time.perf_counter()


def stage_medians(job: Job, folder: Path, rounds: int) -> dict[str, float]:
    """Median ms of each step, taken in turn as a run takes them, so that none finds its data just used."""
    laps = Laps()
    for _ in range(rounds):
        one_round(job, folder, laps)
        for path in folder.glob("stages.*"):
            path.unlink()
    return {name: statistics.median(times) for name, times in laps.times.items()}


def one_round(job: Job, folder: Path, laps: Laps) -> None:
    """One box of one piece, from the job to files that were read back."""
    style, profile = find_style(job.style), job.machine
    lap = laps.lap
    laps.start()
    _, design = build(style, job, job.size)
    blank = design.pieces[0].blank
    lap("settle and build")
    drawing = draw_blank(blank)
    lap("strokes in order")
    if not prove_flat(blank, drawing).measured:
        raise AssertionError("the strokes do not bound the panels corner for corner")
    lap("flat proof")
    folded = prove_folded(design, job.board)
    lap("folded proof")
    title, outside = str(design.inside), folded.outside
    noted = annotate(drawing, blank, design, job.board, title=title, outside=outside, style_title=style.title)
    lap("notes and dimensions")
    dxf = dxf_text(drawing, profile, job=job.text())
    lap("DXF text")
    svg = svg_text(noted, profile, job=job.text())
    lap("SVG text")
    paths = [folder / "stages.dxf", folder / "stages.svg"]
    for path, text in zip(paths, (dxf, svg), strict=True):
        part = path.with_suffix(".part")
        part.write_bytes(text.encode())
        part.replace(path)
    dxf, svg = (path.read_bytes().decode() for path in paths)
    lap("two files written and read")
    strokes = by_meaning(read_dxf(dxf).strokes, profile)
    lap("DXF understood")
    drawn = [(s.meaning, s.path.points, s.path.bulges, s.path.closed) for s in drawing.strokes]
    if not same_strokes(strokes, drawn):
        raise AssertionError("the file does not hold the strokes of the blank")
    lap("DXF compared with the strokes proved")
    others = by_meaning(read_svg(svg), profile)
    lap("SVG understood")
    if not same_strokes(others, drawn):
        raise AssertionError("the file does not hold the strokes of the blank")
    lap("SVG compared with the strokes proved")
