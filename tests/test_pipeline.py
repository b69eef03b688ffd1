"""The flow in one pure function: same job, same result; sizes any way round; folds as the job asks."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

import dieline
from dieline.errors import StyleError, UnknownNameError
from dieline.job import Job, SizeKind, make_job
from dieline.linetypes import Meaning
from dieline.pipeline import run
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


def test_a_fault_of_the_style_is_told_as_one() -> None:
    def broken(order: Any) -> Any:
        raise ValueError("no such corner")

    with pytest.raises(StyleError, match="style 0201 – cannot build 300x200x150 on C: no such corner"):
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
