"""A blank cannot exist unless its panels hang together on one tree of folds."""

from __future__ import annotations

import pytest

from dieline.blank import Blank, Face, Fold, Joint, JointKind, Panel, Role
from dieline.errors import StyleError
from dieline.geometry.path import circle, line, rectangle
from dieline.linetypes import LOOKS, TOOL_ORDER, Meaning
from dieline.style.sheet import Sheet


def _two() -> Sheet:
    sheet = Sheet("body")
    sheet.panel("wall", rectangle(0, 0, 100, 50), face=Face.FRONT, role=Role.WALL)
    sheet.hang("flap", "wall", ((100, 50), (0, 50)), [(5, 0), (95, 0), (95, 30), (5, 30)], face=Face.TOP)
    return sheet


def test_a_panel_is_hung_on_an_edge_in_the_edge_s_own_frame() -> None:
    blank = _two().blank()
    assert blank.by_name["flap"].outline.bounds == pytest.approx((5, 50, 95, 80))
    assert blank.by_name["flap"].outline.area == pytest.approx(2700)
    assert blank.size == pytest.approx((100, 80))
    assert blank.area == pytest.approx(7700)


def test_a_clockwise_outline_is_turned_round() -> None:
    sheet = Sheet()
    panel = sheet.panel("a", [(0, 0), (0, 5), (5, 5), (5, 0)], holes=[circle((2, 2), 1).reversed()])
    assert panel.outline.area == 25
    assert panel.area == pytest.approx(25 - 3.14159265)


def test_folds_must_make_one_tree() -> None:
    sheet = _two()
    sheet.panel("loose", rectangle(200, 0, 210, 10))
    with pytest.raises(StyleError, match="not hung on anything: loose"):
        sheet.blank()
    sheet = _two()
    sheet.fold("wall", "flap", ((0, 0), (1, 0)))
    with pytest.raises(StyleError, match="out of order or doubled"):
        sheet.blank()
    sheet = _two()
    sheet.panel("flap", rectangle(200, 0, 210, 10))
    with pytest.raises(StyleError, match="one name"):
        sheet.blank()
    with pytest.raises(StyleError, match="open, empty or clockwise"):
        Blank("b", (Panel(name="a", outline=line((0, 0), (1, 0))),))


def test_a_joint_must_name_panels_that_are_there() -> None:
    sheet = _two()
    sheet.join(Joint(kind=JointKind.GLUED, a="wall", b="nobody", zone=rectangle(0, 0, 1, 1)))
    with pytest.raises(StyleError, match="nobody"):
        sheet.blank()


def test_folds_can_be_exchanged_for_another_state() -> None:
    blank = _two().blank()
    (fold,) = blank.folds
    flat = blank.with_folds([Fold(parent=fold.parent, child=fold.child, line=fold.line, angle=0.0)])
    assert flat.folds[0].angle == 0.0
    assert flat.panels == blank.panels


def test_faces_know_their_axis_and_their_end() -> None:
    assert [
        (face.axis, face.far) for face in (Face.LEFT, Face.RIGHT, Face.FRONT, Face.BACK, Face.BOTTOM, Face.TOP)
    ] == [
        (0, False),
        (0, True),
        (1, False),
        (1, True),
        (2, False),
        (2, True),
    ]


def test_every_meaning_has_a_look_and_house_layer_of_its_own() -> None:
    assert set(LOOKS) == set(Meaning)
    layers = [look.layer for look in LOOKS.values()]
    assert len(set(layers)) == len(layers)
    assert all(layer.isascii() and layer.startswith("DL_") for layer in layers)


def test_the_cut_comes_last_of_all_tools() -> None:
    assert TOOL_ORDER[-1] is Meaning.CUT
    assert set(TOOL_ORDER) == set(Meaning) - {Meaning.GLUE, Meaning.BLEED, Meaning.NOTE, Meaning.SHEET}
