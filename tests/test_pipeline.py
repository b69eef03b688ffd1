"""The flow in one pure function: same job, same result; sizes any way round; folds as the job asks."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

import dieline
from dieline.errors import JobError, StyleError, UnknownNameError
from dieline.job import Job, SizeKind, make_job
from dieline.linetypes import Meaning
from dieline.pipeline import run
from dieline.sizing import Allowance, House
from dieline.units import Size
from dieline_styles.slotted import STYLES


def test_the_public_names_are_all_there_and_few() -> None:
    for name in dieline.__all__:
        assert getattr(dieline, name) is not None
    assert len(dieline.__all__) <= 22
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = dieline.nothing


def test_the_flow_of_the_package_s_first_page(tmp_path: Any) -> None:
    result = dieline.run(dieline.make_job("0201", "300x200x150", "C"))
    assert result.folded.inside == (300, 200, 150)
    assert result.failures == ()
    assert len(dieline.write(result, tmp_path)) == 2


@pytest.mark.parametrize("style", ["0201", "0202", "0203", "0204/0200", "0206"])
@pytest.mark.parametrize("kind", [SizeKind.CREASE, SizeKind.OUTSIDE])
def test_crease_and_outside_sizes_lead_to_the_inside_that_leads_back(style: str, kind: SizeKind) -> None:
    inside = Size(311.3, 207.7, 154.9, 40.0 if style == "0202" else None)
    straight = run(Job(style=style, size=inside, board=dieline.find_board("BC")))
    grown = straight.design.crease if kind is SizeKind.CREASE else Size(*straight.folded.outside)
    asked = Size(grown[0], grown[1], grown[2], inside.fourth)
    back = run(Job(style=style, size=asked, board=dieline.find_board("BC"), size_is=kind))
    assert back.folded.inside == pytest.approx(straight.folded.inside, abs=1e-6)


def test_an_outside_size_smaller_than_its_board_is_refused() -> None:
    with pytest.raises(dieline.InputError, match="less the board"):
        run(make_job("0201", "300x200x30", "AAA", size_is=SizeKind.OUTSIDE))


def test_a_size_refused_on_the_way_says_what_it_came_from() -> None:
    with pytest.raises(dieline.InputError, match="20 mm, even more than outside 20x20x20 leaves inside"):
        run(make_job("0201", "20x20x20", "AAA", size_is=SizeKind.OUTSIDE))


def test_a_house_that_leaves_no_drawing_is_told_and_no_crash() -> None:
    house = House(allowances=(Allowance(size="*", put=10.0),))
    with pytest.raises(StyleError, match=r"cannot be drawn or folded: .* look at the house file"):
        run(make_job("0201", "300x200x150", "C", house=house))


@pytest.mark.parametrize("step", [0.1, 0.25, 0.5, 1.0, 25.4 / 64])
@pytest.mark.parametrize("style", ["0201", "0203", "0204", "0202"])
@pytest.mark.parametrize("creases", ["one", "offset"])
def test_house_rounding_still_makes_a_box(style: str, step: float, creases: str) -> None:
    for size in ("301.3x201.7x150.2", "377x211x96.6"):
        job = make_job(style, size, "B", options={"creases": creases}, house=House(step=step))
        assert run(job).failures == ()


@pytest.mark.parametrize("over", [0.006, 0.02, 0.05, 0.09, 0.1, 0.3])
@pytest.mark.parametrize("board", ["E", "C", "BC"])
def test_a_slot_a_hair_wider_than_the_board_leaves_no_tiny_stroke(over: float, board: str) -> None:
    width = dieline.find_board(board).thickness + over
    assert run(make_job("0201", "300x200x150", board, options={"slot_width": width})).failures == ()


def test_a_limits_file_is_told_by_its_name(tmp_path: Any) -> None:
    (tmp_path / "ours.toml").write_text("knife_distence = 3\n")
    (tmp_path / "job.toml").write_text('style="0201"\nsize="300x200x150"\nboard="C"\n[files]\nlimits="ours.toml"\n')
    with pytest.raises(JobError, match=r"ours\.toml – 1 problem\n.*knife_distence"):
        run(dieline.read_job(tmp_path / "job.toml"))


def test_single_folds_are_made_as_the_job_asks() -> None:
    result = run(
        make_job("0201", "300x200x150", "C", folds={"top flap 1": "perforated", "panel 3 – panel 4": "cut-crease"})
    )
    lengths = result.drawings[0].lengths()
    assert lengths[Meaning.PERFORATION] == pytest.approx(298)
    assert lengths[Meaning.CUT_CREASE] == pytest.approx(158)
    assert not result.failures


def test_a_fold_that_is_not_there_is_refused_with_near_names() -> None:
    with pytest.raises(UnknownNameError, match="did you mean top flap 1"):
        run(make_job("0201", "300x200x150", "C", folds={"topflap 1": "perforated"}))


@pytest.mark.parametrize("slip", [ValueError, TypeError, AttributeError, IndexError, ZeroDivisionError])
def test_a_fault_of_the_style_is_told_as_one(slip: type[Exception]) -> None:
    def broken(order: Any) -> Any:
        raise slip("no such corner")

    with pytest.raises(StyleError, match=f"0201 – cannot build 300x200x150 on C: {slip.__name__}: no such corner"):
        run(make_job("0201", "300x200x150", "C"), replace(STYLES["0201"], build=broken))


def test_a_result_is_ok_unless_a_proof_or_an_error_says_otherwise() -> None:
    assert run(make_job("0201", "300x200x150", "C")).ok
    assert not run(make_job("0203", "300x200x150", "C", options={"inner_flaps": "equal"})).ok


def test_the_report_is_plain_data() -> None:
    import json

    report = run(make_job("0201", "300x200x150", "C")).report()
    assert json.loads(json.dumps(report)) == report
    assert report["die"]
    assert report["hand"] == "left"
