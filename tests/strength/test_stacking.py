"""From the result of a job to an answer: what the folded box tells of its walls, the report, the command."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dieline.cli.draw import Wishes
from dieline.cli.stack import stack_command
from dieline.errors import InputError, JobError
from dieline.job import make_job
from dieline.job_file import job_from_data
from dieline.pipeline import Result, run
from dieline.stacking import box_shape, stack_answer, stack_report

FULL = {
    "ect": 5.0,
    "box_mass": 0.4,
    "layers": 5,
    "days": 30,
    "humidity": 60,
    "pattern": "column",
    "factors": "handbook",
}
NOTHING = Wishes(files={}, output={})


def result(style: str = "0201", size: str = "390x290x240", board: str = "C", **more: object) -> Result:
    return run(make_job(style, size, board, **more))


def loaded(load: dict[str, object], **more: object) -> Result:
    data = {"style": "0201", "size": "390x290x240", "board": "C", "contents": {"mass": 8.0}, "load": load, **more}
    return run(job_from_data(data))


def test_a_slotted_case_stands_on_four_walls_with_upright_flutes() -> None:
    found = result()
    shape = box_shape(found)
    assert shape.regular
    assert [(wall.face, wall.upright, wall.lying) for wall in shape.walls] == [
        ("front", 1, 0),
        ("back", 1, 0),
        ("left", 1, 0),
        ("right", 1, 0),
    ]
    assert shape.outside == found.folded.outside
    crease = found.design.crease
    assert shape.perimeter == pytest.approx(2 * (crease.length + crease.breadth)), "crease to crease, as McKee's"
    assert shape.area == pytest.approx(sum(piece.blank.area for piece in found.design.pieces) / 1e6)


def test_the_box_grows_with_its_board_as_the_sizes_do() -> None:
    """The table of boards reckons the outside of another board; drawing the box on that board gives the same."""
    grown = box_shape(result()).on(7.0)
    drawn = box_shape(result(board="BC"))
    assert grown.outside == pytest.approx(drawn.outside, abs=0.01)


def test_a_roll_end_tray_has_two_walls_whose_flutes_lie() -> None:
    shape = box_shape(result("0422", "380x280x300"))
    assert not shape.regular
    upright = [wall.face for wall in shape.walls if wall.upright]
    assert len(upright) == 2
    assert 0.0 < shape.bearing < 1.0


def test_a_telescope_of_full_height_has_second_walls() -> None:
    shape = box_shape(result("0320", "400x300x250"))
    assert any(wall.upright > 1 for wall in shape.walls)
    assert shape.pieces == 2


def test_hand_holes_are_seen_and_slits_are_not() -> None:
    holed = box_shape(result(options={"hand_holes": "B"}))
    assert [wall.open_width for wall in holed.walls if wall.face in ("left", "right")] == pytest.approx([115.0, 115.0])
    assert all(wall.open_width == 0.0 for wall in box_shape(result()).walls)


def test_a_case_without_top_is_no_regular_box() -> None:
    assert not box_shape(result("0200")).regular


def test_a_fitment_is_no_box() -> None:
    with pytest.raises(InputError, match="fitment"):
        box_shape(result("0933", "300x200x150"))


def test_the_report_carries_the_answer_only_where_the_job_speaks_of_a_load() -> None:
    assert "stack" not in result().report()
    report = loaded(FULL).report()["stack"]
    assert report["verdict"] == "holds"
    assert report["layers"] == 5
    json.dumps(report, allow_nan=False)


def test_an_incomplete_load_is_asked_for_in_the_report_and_draws_all_the_same() -> None:
    found = loaded({"layers": 5})
    assert found.ok
    asked = [entry["where"] for entry in stack_report(found)["asked"]]
    assert asked == ["load.factors", "board C"]


def test_a_mass_said_twice_must_be_one() -> None:
    with pytest.raises(InputError, match="must agree"):
        stack_answer(loaded({**FULL, "mass": 9.0}))
    assert stack_answer(loaded({**FULL, "mass": 8.0})).standing.gross == pytest.approx(8.4)


def test_the_command_lays_its_values_over_the_job_and_ends_with_1_where_it_does_not_hold(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "case.toml"
    rows = "\n".join(f"{key} = {json.dumps(value)}" for key, value in FULL.items())
    path.write_text(
        f'style = "0201"\nsize = "390x290x240"\nboard = "C"\n[contents]\nmass = 8\n[load]\n{rows}\n', encoding="utf-8"
    )
    assert stack_command([str(path)], NOTHING, []) == 0
    assert "HOLDS" in capsys.readouterr().out
    assert stack_command([str(path)], NOTHING, ["layers=40"], out=tmp_path / "out") == 1
    text = capsys.readouterr().out
    assert "DOES NOT HOLD" in text
    assert "CAUTION" in text
    assert (tmp_path / "out/0201-390x290x240-C-margin.svg").read_text(encoding="utf-8").startswith("<?xml")
    assert stack_command([str(path)], NOTHING, ["schedule=ista-3e"], boards=True, report="json") == 0
    data = json.loads(capsys.readouterr().out)
    assert data["schedule"] == "ista-3e"
    assert data["factor_set"] is None
    assert data["boards"]


@pytest.mark.parametrize(
    ("pair", "says"), [("layers", "name=value"), ("humidity=140", "0 to 100"), ("layers=0", "least one")]
)
def test_slips_on_the_command_line_are_told(pair: str, says: str) -> None:
    with pytest.raises(InputError, match=says) as caught:
        stack_command(["0201", "390x290x240"], Wishes(board="C", files={}, output={}), [pair])
    assert isinstance(caught.value, JobError) or caught.value.where == "--load"


def test_everything_missing_is_asked_for_by_the_command() -> None:
    with pytest.raises(JobError) as caught:
        stack_command(["0201", "390x290x240"], Wishes(board="C", files={}, output={}), [])
    assert {problem.where for problem in caught.value.problems} >= {"contents.mass", "load.layers", "load.factors"}
