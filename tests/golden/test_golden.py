"""Golden drawings: a readable dump, the SVG and the DXF of chosen jobs, byte for byte.

Record them anew with ``make golden`` (``pytest tests/golden --record``), look at the diff, and name the change in the
changelog.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from pathlib import Path

import pytest

from dieline.files import file_texts
from dieline.job import Job, Output, make_job
from dieline.pipeline import Result, run

HERE = Path(__file__).parent

CASES: dict[str, Job] = {
    "0201/plain": make_job("0201", "300x200x150", "C"),
    "0201/lap-right-on-b-print-side": make_job(
        "0201", "355x205x120", "B", options={"lap_on": "B", "lap_end": "right"}, output=Output(side="print", dxf="R12")
    ),
    "0201/hand-holes-round-slots": make_job(
        "0201", "400x300x250", "BC", options={"hand_holes": "B", "hand_hole_left_in": True, "slot_end": "round"}
    ),
    "0201/small-carton": make_job("0201", "60x40x120", "carton-0.4", options={"slot_width": 2}),
    "0202/overlap": make_job("0202", "355x205x120/40", "C", output=Output(dxf="R12", unit="in", arcs="separate")),
    "0203/offset": make_job("0203", "300x200x150", "BC", options={"creases": "offset", "lap_side": "outside"}),
    "0204-0200/taped": make_job("0204/0200", "300x200x150", "E", options={"joint": "taped", "vents": "L"}),
    "0209/tear-strip": make_job("0209", "400x300x250", "C", options={"tear_strip": True}),
}


def dump(result: Result) -> str:
    """The design as a person can read it: sizes, panels, folds, strokes."""
    return "\n".join(_lines(result)) + "\n"


def _lines(result: Result) -> Iterator[str]:
    design = result.design
    yield f"{design.style} {design.inside} on {result.job.board.name}"
    yield f"inside {result.folded.inside} clear {result.folded.clear} outside {result.folded.outside}"
    for line in design.sizes:
        yield f"size {line}"
    for piece, drawing in zip(design.pieces, result.drawings, strict=True):
        yield f"piece {piece.name}: {drawing.width:.4f} x {drawing.height:.4f}, geometry {drawing.digest()}"
        for panel in piece.blank.panels:
            width, height = panel.size
            face = panel.face.value if panel.face else "-"
            yield f"  panel {panel.name}: {width:.4f} x {height:.4f}, {face}, k {panel.k:g}"
        for fold in piece.blank.folds:
            kind = fold.meaning.value if fold.meaning else "bend"
            turn = f"{fold.angle:.4f} deg, shift {fold.shift:.4f}, stage {fold.stage}"
            yield f"  fold {fold.child} on {fold.parent}: {kind}, {turn}"
        for stroke in drawing.strokes:
            points = " ".join(f"{x:.3f},{y:.3f}" for x, y in stroke.path.points)
            yield f"  {stroke.meaning.value} {stroke.name}: {points}{' closed' if stroke.path.closed else ''}"


def _files(result: Result) -> dict[str, str]:
    return {
        "dump.txt": dump(result),
        **{f"drawing{Path(name).suffix}": text for name, text in file_texts(result).items()},
    }


def _difference(name: str, golden: str, made: str) -> str:
    return "\n".join(
        difflib.unified_diff(golden.splitlines(), made.splitlines(), f"golden {name}", f"now {name}", lineterm="", n=1)
    )


@pytest.mark.parametrize("case", CASES)
def test_the_drawing_is_still_the_golden_one(case: str, request: pytest.FixtureRequest) -> None:
    result = run(CASES[case])
    assert result.failures == ()
    folder = HERE / case
    if request.config.getoption("--record"):
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in _files(result).items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
    for name, text in _files(result).items():
        difference = _difference(f"{case}/{name}", (folder / name).read_text(encoding="utf-8"), text)
        assert not difference, difference


def test_the_comparison_can_fail() -> None:
    """A golden test that cannot fail is no test: a lap a hundredth wider is seen in every file."""
    result = run(make_job("0201", "300x200x150", "C", options={"lap_width": 35.01}))
    for name, text in _files(result).items():
        golden = (HERE / "0201/plain" / name).read_text(encoding="utf-8")
        assert "35.01" in _difference(name, golden, text)


def test_every_golden_folder_belongs_to_a_case() -> None:
    folders = {str(path.parent.relative_to(HERE)) for path in HERE.rglob("dump.txt")}
    assert folders == set(CASES)
