"""What the page is given to draw and fold, for every style: folded by the page's own formulas it is the same box."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from dieline.board import boards
from dieline.fold.pose import pose_panels
from dieline.job import make_job
from dieline.linetypes import LOOKS, Meaning
from dieline.pipeline import Result, run
from dieline.registry import find_style, style_names
from dieline.web.scene import scene_data

Array = NDArray[np.float64]
Pose = tuple[Array, Array]
BOARDS = ("C", "E", "B", "carton-0.5")


def _drawn(code: str) -> tuple[Result, dict[str, Any]]:
    """The style's example on the first board that suits it, and its scene as the page gets it."""
    style = find_style(code)
    low, high = style.thickness
    board = next(name for name in BOARDS if low <= boards()[name].thickness <= high)
    result = run(make_job(code, style.example, board))
    return result, json.loads(json.dumps(scene_data(result), allow_nan=False))


def _root(stand: dict[str, Any]) -> Pose:
    u, v = np.array(stand["u"]), np.array(stand["v"])
    turn = np.column_stack((u, v, np.cross(u, v)))
    return turn, np.array(stand["origin"]) - turn @ np.array([*stand["at"], 0.0])


def _folded(solid: dict[str, Any], stand: dict[str, Any], bends: dict[int, tuple[float, float]]) -> list[Pose]:
    """The poses of all panels by the formulas that the page is told to use."""
    poses = {0: _root(stand)}
    for number, fold in enumerate(solid["folds"]):
        angle, shift = bends[number]
        turn, offset = poses[fold["parent"]]
        px, py, qx, qy = fold["line"]
        ax, ay = np.array([qx - px, qy - py]) / math.hypot(qx - px, qy - py)
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        about = np.array(
            [
                [c + ax * ax * (1 - c), ax * ay * (1 - c), ay * s],
                [ax * ay * (1 - c), c + ay * ay * (1 - c), -ax * s],
                [-ay * s, ax * s, c],
            ]
        )
        own = turn @ about
        poses[fold["child"]] = own, offset + turn @ np.array([px, py, 0.0]) - own @ np.array([px, py, shift])
    return [poses[number] for number in range(len(solid["panels"]))]


def _after(steps: list[dict[str, Any]], piece: int, folds: int) -> dict[int, tuple[float, float]]:
    """Where the folds of a piece stand when all steps are done."""
    bends = dict.fromkeys(range(folds), (0.0, 0.0))
    for step in steps:
        if step.get("piece") == piece:
            bends |= {int(number): tuple(bend) for number, bend in step["bends"].items()}
    return bends


@pytest.mark.parametrize("code", style_names())
def test_the_last_step_ends_at_the_box_that_was_proved(code: str) -> None:
    result, scene = _drawn(code)
    for number, (piece, told) in enumerate(zip(result.design.pieces, scene["pieces"], strict=True)):
        solid = told["solid"]
        assert len(solid["stands"]) == len(piece.stands)
        bends = _after(scene["steps"], number, len(solid["folds"]))
        for stand, place in zip(piece.stands, solid["stands"], strict=True):
            proved = pose_panels(piece.folded, stand)
            for panel, (turn, offset) in zip(solid["panels"], _folded(solid, place, bends), strict=True):
                assert np.allclose(turn, proved[panel["name"]][0], atol=1e-6), panel["name"]
                assert np.allclose(offset, proved[panel["name"]][1], atol=1e-3), panel["name"]


@pytest.mark.parametrize("code", style_names())
def test_every_style_can_be_shown(code: str) -> None:
    result, scene = _drawn(code)
    assert scene["thickness"] == result.job.board.thickness
    for told, drawing in zip(scene["pieces"], result.drawings, strict=True):
        names = {panel["name"] for panel in told["panels"]}
        solid = told["solid"]
        assert {panel["shown"] for panel in solid["panels"]} <= names
        assert len(told["strokes"]) == len(drawing.strokes)
        assert {stroke["meaning"] for stroke in told["strokes"]} <= {look["meaning"] for look in scene["looks"]}
        seen = {0}
        for fold in solid["folds"]:  # each fold comes after the one that its parent hangs on
            assert fold["parent"] in seen
            seen.add(fold["child"])
        assert seen == set(range(len(solid["panels"])))
        for axis, extent in ((0, told["width"]), (1, told["height"])):
            places = told["stations"][axis]
            assert places == sorted(places)
            assert (places[0], places[-1]) == pytest.approx((0, extent), abs=1e-3)
        area = sum(_area(panel["outline"]) - sum(map(_area, panel["holes"])) for panel in solid["panels"])
        assert area == pytest.approx(result.design.pieces[scene["pieces"].index(told)].blank.area, rel=2e-3)


def _area(flat: list[float]) -> float:
    x, y = np.array(flat[::2]), np.array(flat[1::2])
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2


@pytest.mark.parametrize("code", style_names())
def test_sizes_that_explain_a_panel_measure_the_same(code: str) -> None:
    result, scene = _drawn(code)
    for told in scene["pieces"]:
        for panel in told["panels"]:
            for key, measure in (("across", panel["width"]), ("along", panel["height"])):
                if panel[key] is not None:
                    assert result.design.sizes[panel[key]].value == pytest.approx(measure, abs=0.011)


def test_a_panel_of_the_regular_case_is_explained() -> None:
    result, scene = _drawn("0201")
    panels = {panel["name"]: panel for panel in scene["pieces"][0]["panels"]}
    told = {name: result.design.sizes[panel["across"]].derivation for name, panel in panels.items() if "panel" in name}
    assert told == {
        "panel 1": told["panel 1"],
        "panel 2": "B 200 + (0+0+1) × t 4",
        "panel 3": "L 300 + (0+0+1) × t 4",
        "panel 4": told["panel 4"],
    }
    assert all(value.startswith(("L 300", "B 200")) for value in told.values())


def test_pieces_come_together_in_the_last_steps() -> None:
    _, scene = _drawn("drawer-sleeve")
    kinds = ["gather" in step for step in scene["steps"]]
    assert kinds == sorted(kinds)
    slide = scene["steps"][-1]
    assert slide["gather"] == [[0, 0]] or slide["gather"] == [[1, 0]]
    assert len(slide["from"]) == 3


def test_the_legend_has_the_house_colours_and_only_what_is_drawn() -> None:
    result, scene = _drawn("0201")
    assert [look["meaning"] for look in scene["looks"]] == ["crease", "cut", "glue"]
    for look in scene["looks"]:
        known = LOOKS[Meaning(look["meaning"])]
        assert (look["colour"], look["words"]) == (known.colour, known.words)
    taped = scene_data(run(make_job("0201", "300x200x150", "C", options={"joint": "taped"})))
    assert "glue" not in [look["meaning"] for look in taped["looks"]]
    assert result.ok


def test_holes_that_the_job_adds_are_seen_through() -> None:
    from dieline.job_file import job_from_data

    hole = {"kind": "hand-hole", "panel": "panel 1"}
    scene = scene_data(run(job_from_data({"style": "0201", "size": "400x300x300", "board": "C", "feature": [hole]})))
    panels = {panel["name"]: panel for panel in scene["pieces"][0]["solid"]["panels"]}
    (ring,) = panels["panel 1"]["holes"]
    assert len(ring) > 16  # its round ends are laid out in chords
    assert panels["panel 2"]["holes"] == []
