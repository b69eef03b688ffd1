"""Any bottom with any top: every pair that can close is proved, every other refused with its reason."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from carton_trials import carton

from dieline.board import find_board
from dieline.errors import OptionError, SizeError
from dieline.testing import conform
from dieline.units import parse_size
from dieline_styles import closures
from dieline_styles.closures import CLOSURES, compose
from dieline_styles.tuck_end import STYLES

OURS = ("tuck", "slit", "tongue", "tongue-front", "seal", "seal-meeting", "slotted", "rim", "open")
PAIRS = [
    (bottom, top)
    for bottom, top in product(OURS, OURS)
    if CLOSURES[bottom].bottom and (CLOSURES[bottom].shuts or CLOSURES[top].shuts)
]


def test_the_composition_passes_the_suite() -> None:
    assert conform(STYLES["tube-carton"]) > 40


@pytest.mark.parametrize(("bottom", "top"), PAIRS, ids="/".join)
def test_every_pair_that_can_close_is_proved(bottom: str, top: str) -> None:
    """In carton and in corrugated, the top's lid on either wall."""
    for size, board in (("80x60x110", "carton-0.5"), ("300x200x250", "B")):
        for top_lid in ("back", "front"):
            result = carton("tube-carton", size, board, bottom=bottom, top=top, top_lid=top_lid)
            assert result.failures == (), (size, top_lid)


@pytest.mark.parametrize(
    ("style", "pair"),
    [
        ("0211", {"bottom": "tuck", "top": "tuck"}),
        ("straight-tuck", {"bottom": "tuck", "top": "tuck", "bottom_lid": "back"}),
        ("slit-lock-carton", {"bottom": "slit", "top": "slit"}),
        ("seal-end", {"bottom": "seal", "top": "seal", "top_lid": "front"}),
        ("tongue-front-carton", {"bottom": "tuck", "top": "tongue-front"}),
    ],
)
def test_a_pair_is_the_style_that_it_stands_for(style: str, pair: dict[str, str]) -> None:
    """Composed or by name: the same drawing."""
    assert carton(style).drawings[0].digest() == carton("tube-carton", **pair).drawings[0].digest()


def test_a_rim_is_no_bottom() -> None:
    """It cannot be chosen; a style that composes one all the same is told why."""
    with pytest.raises(OptionError, match=r"options\.bottom – 'rim' – it must be one of"):
        carton("tube-carton", bottom="rim")
    order = STYLES["tube-carton"].order(parse_size("150x100x180"), find_board("E"))
    with pytest.raises(OptionError, match=r"can only be a top: .* one reaches into – choose another bottom"):
        compose(order, ("rim", 0), ("tuck", 0))


@pytest.mark.parametrize("top", ["open", "rim"])
def test_one_end_must_be_shut(top: str) -> None:
    with pytest.raises(OptionError, match=r"open below, .* above – one end must be shut"):
        carton("tube-carton", bottom="open", top=top)


def test_one_end_must_close_after_filling(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two ends that close with the empty tube leave no way in; the reason of each is told."""
    early = replace(CLOSURES["seal"], last=False, why="it closes while the tube is put up")
    monkeypatch.setattr(closures, "CLOSURES", {**CLOSURES, "seal": early})
    with pytest.raises(OptionError, match=r"must stay open to be filled.*it closes while the tube is put up"):
        carton("tube-carton", bottom="seal", top="seal")
    assert carton("tube-carton", bottom="seal", top="tuck").failures == ()


def test_what_both_ends_hang_in_must_not_meet() -> None:
    """A tuck of 30 below and a rim of 30 above need 60 mm less the boards, and a clearance."""
    options = {"bottom": "tuck", "top": "rim", "tuck_length": 30.0, "rim_depth": 30.0, "lap_width": 10.0}
    need = 30 - 1.5 * 1.5 + 30 + 0.5
    assert carton("tube-carton", f"150x100x{need}", "E", **options).failures == ()
    with pytest.raises(SizeError, match=r"at least 58\.25 mm.*must not meet"):
        carton("tube-carton", f"150x100x{need - 0.1:g}", "E", **options)


def test_the_drawing_says_how_each_end_is_closed() -> None:
    assert carton("tube-carton", bottom="seal", top="slit").design.words == (
        "bottom: side flaps in, inner flap over them, outer flap glued on it",
        "top: dust flaps in, lid over them, tuck in until its ears snap under the dust flaps",
    )
    (both,) = carton("0211").design.words
    assert both.startswith("both ends: ")


@pytest.mark.parametrize("code", sorted(STYLES))
def test_the_lap_may_be_at_either_end(code: str) -> None:
    """Mirrored, nothing else changes: same area, same sizes."""
    left, right = (carton(code, lap_end=end) for end in ("left", "right"))
    assert right.failures == ()
    assert left.design.pieces[0].blank.area == pytest.approx(right.design.pieces[0].blank.area)
    assert left.design.pieces[0].blank.size == pytest.approx(right.design.pieces[0].blank.size)
