"""Features go on any panel of any style, fit it or are refused, and are proved with the rest."""

from __future__ import annotations

import math
from typing import Any

import pytest

from dieline.errors import DielineError, InputError, OptionError, UnknownNameError
from dieline.features import KINDS, Feature, feature_from_data, feature_from_text
from dieline.job import make_job
from dieline.job_file import job_from_data
from dieline.linetypes import Meaning
from dieline.pipeline import Result, run


def _feature(**table: Any) -> Feature:
    problems: list[DielineError] = []
    feature = feature_from_data({"panel": "panel 1", **table}, "feature 1", problems)
    assert feature is not None, problems
    return feature


def _drawn(*features: Feature, **more: Any) -> Result:
    return run(make_job("0201", "400x300x250", "C", features=features, **more))


def _area_taken(result: Result) -> float:
    return run(make_job("0201", "400x300x250", "C")).design.pieces[0].blank.area - result.design.pieces[0].blank.area


@pytest.mark.parametrize(
    ("table", "taken"),
    [
        ({"kind": "window", "width": 80, "height": 50}, 4000.0),
        ({"kind": "window", "width": 80, "height": 50, "radius": 5}, 4000 - (4 - math.pi) * 25),
        ({"kind": "cut-out", "width": 60, "shape": "circle"}, math.pi * 900),
        ({"kind": "hand-hole"}, 115 * 38 - (4 - math.pi) * 19**2),
        ({"kind": "vent"}, math.pi * 12.5**2),
        ({"kind": "hang-hole"}, 26 * 6 + math.pi * 9 + math.pi * 36 / 2),
        ({"kind": "thumb-notch", "panel": "top flap 1"}, math.pi * 15**2 / 2),
        ({"kind": "thumb-notch", "panel": "top flap 1", "width": 40, "height": 30}, 40 * 10 + math.pi * 20**2 / 2),
    ],
    ids=str,
)
def test_a_hole_takes_just_its_area_and_the_box_still_proves(table: dict[str, Any], taken: float) -> None:
    result = _drawn(_feature(**table))
    assert result.failures == ()
    assert _area_taken(result) == pytest.approx(taken)


@pytest.mark.parametrize("edge", ["top", "bottom", "left", "right"])
@pytest.mark.parametrize("depth", [6, 15, 25])
def test_a_notch_bites_into_whatever_edge_it_is_asked_for(edge: str, depth: float) -> None:
    panel = {"top": "top flap 3", "bottom": "bottom flap 3", "left": "bottom flap 2", "right": "top flap 4"}[edge]
    result = _drawn(_feature(kind="thumb-notch", panel=panel, edge=edge, height=depth))
    assert result.failures == ()
    share = 1.0 if depth >= 15 else None
    assert _area_taken(result) > 0
    if share:
        assert _area_taken(result) == pytest.approx(30 * (depth - 15) + math.pi * 15**2 / 2)


def test_a_notch_in_a_creased_edge_or_over_its_ends_is_refused() -> None:
    for table in ({"panel": "panel 2", "edge": "top"}, {"panel": "lap", "edge": "left", "width": 400, "height": 4}):
        with pytest.raises(OptionError, match="that edge must be free, straight and long enough"):
            _drawn(_feature(kind="thumb-notch", **table))


def test_a_piece_left_in_is_a_slit_and_a_hinge() -> None:
    result = _drawn(_feature(kind="hand-hole", left_in=True, at=[0, 40]))
    assert result.failures == ()
    assert _area_taken(result) == 0
    names = [stroke.name for stroke in result.drawings[0].strokes if "hand hole" in stroke.name]
    assert len(names) == 2
    with pytest.raises(OptionError, match="straight upper edge"):
        _drawn(_feature(kind="vent", left_in=True))


def test_strips_and_perforations_run_right_across() -> None:
    result = _drawn(
        _feature(kind="tear-strip", at=[0, 30]), _feature(kind="perforation", panel="top flap 2", upright=True)
    )
    assert result.failures == ()
    lengths = result.drawings[0].lengths()
    assert lengths[Meaning.PERFORATION] == pytest.approx(2 * 402 + 152)


def test_what_does_not_fit_is_refused_with_the_panel_s_size() -> None:
    with pytest.raises(OptionError, match=r"on panel 2, 304 x 258 mm – it must lie within the panel"):
        _drawn(_feature(kind="window", panel="panel 2", width=310, height=50))
    with pytest.raises(OptionError, match="it must lie within the panel"):
        _drawn(_feature(kind="window", width=80, height=50), _feature(kind="vent"))
    with pytest.raises(OptionError, match=r"it must be at most 401 mm on panel 1"):
        _drawn(_feature(kind="thumb-notch", panel="panel 1", edge="left", width=20, height=500))
    with pytest.raises(OptionError, match=r"its hump stands on a slot wider"):
        _drawn(_feature(kind="hang-hole", width=18, height=12))
    with pytest.raises(OptionError, match="radius"):
        _drawn(_feature(kind="window", width=80, height=50, radius=30))


def test_a_panel_that_is_not_there_is_refused_with_near_names() -> None:
    with pytest.raises(UnknownNameError, match="did you mean panel 1"):
        _drawn(_feature(kind="vent", panel="pannel 1"))


def test_a_vent_over_a_tear_strip_fails_the_flat_proof() -> None:
    result = _drawn(_feature(kind="perforation", at=[0, 10]), _feature(kind="vent"))
    assert "cut-out in panel 1 meets perforation" in str(result.failures)


BAD: list[tuple[dict[str, Any], str]] = [
    ({"kind": "door", "panel": "panel 1"}, "'door' is not known"),
    ({"panel": "panel 1"}, "kind – is missing"),
    ({"kind": "vent"}, "must name the panel"),
    ({"kind": "window", "panel": "a"}, "width"),
    ({"kind": "window", "panel": "a", "width": "wide", "height": 3}, "not a length"),
    ({"kind": "vent", "panel": "a", "at": 3}, "from the middle"),
    ({"kind": "vent", "panel": "a", "at": ["x", 3]}, "not a length"),
    ({"kind": "vent", "panel": "a", "left_in": "maybe"}, "true or false"),
    ({"kind": "vent", "panel": "a", "shap": "circle"}, "did you mean shape"),
    ({"kind": "vent", "panel": "a", "shape": "star"}, "'star' is not known"),
    ({"kind": "thumb-notch", "panel": "a", "edge": "north"}, "'north' is not known"),
]


@pytest.mark.parametrize(("table", "part"), BAD, ids=lambda value: str(value)[:40])
def test_what_is_no_feature_is_told(table: dict[str, Any], part: str) -> None:
    problems: list[DielineError] = []
    assert feature_from_data(table, "feature 1", problems) is None
    assert any(part in str(problem) for problem in problems), problems


def test_a_job_carries_its_features() -> None:
    data = {
        "style": "0201",
        "size": "400x300x250",
        "board": "C",
        "feature": [{"kind": "window", "panel": "panel 3", "width": "3 in", "height": 50, "at": [10, "-1 cm"]}],
    }
    job = job_from_data(data)
    assert job.features[0].width == pytest.approx(76.2)
    assert job.features[0].at == (10, -10)
    assert job_from_data(job.data()) == job
    with pytest.raises(InputError, match=r"feature 1.kind"):
        job_from_data({**data, "feature": [{"panel": "panel 3"}]})
    with pytest.raises(InputError, match="headed"):
        job_from_data({**data, "feature": 3})


@pytest.mark.parametrize(
    ("text", "data"),
    [
        ("vent:panel 1", {"kind": "vent", "panel": "panel 1"}),
        ("window:panel 1:80x50", {"kind": "window", "panel": "panel 1", "width": "80", "height": "50"}),
        (
            "window:lid: panel 1:80x50@0,-20",
            {"kind": "window", "panel": "lid: panel 1", "width": "80", "height": "50", "at": ["0", "-20"]},
        ),
        ("vent:panel 1:@5,5", {"kind": "vent", "panel": "panel 1", "at": ["5", "5"]}),
    ],
)
def test_features_are_written_short_on_the_command_line(text: str, data: dict[str, object]) -> None:
    assert feature_from_text(text) == data


def test_every_kind_can_be_had_on_a_wall() -> None:
    for kind in KINDS:
        panel = "top flap 1" if kind == "thumb-notch" else "panel 3"
        sides = {"width": 60, "height": 40} if kind in ("window", "cut-out") else {}
        assert not _drawn(_feature(kind=kind, panel=panel, **sides)).failures, kind


def test_one_wrong_kind_is_one_problem() -> None:
    problems: list[DielineError] = []
    assert feature_from_data({"kind": "door", "panel": "panel 1"}, "feature 1", problems) is None
    assert len(problems) == 1
