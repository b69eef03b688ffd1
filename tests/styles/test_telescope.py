"""Telescopes of two trays: the lid fits and goes over, its depth has its limits, and trials that must fail."""

from __future__ import annotations

from dataclasses import replace

import pytest
from carton_trials import faults
from tray_trials import BOARDS, named, tray

from dieline.errors import OptionError, SizeError
from dieline.fold import prove_folded
from dieline.sizing import House
from dieline.style import Design, Sheet, rectangle
from dieline.testing import conform
from dieline_styles.telescope import STYLES

ALL = list(STYLES)


@pytest.mark.parametrize("code", ALL)
def test_each_style_passes_the_suite(code: str) -> None:
    assert conform(STYLES[code]) > 40


@pytest.mark.parametrize("code", ALL)
@pytest.mark.parametrize("board", BOARDS[:-1])
@pytest.mark.parametrize("size", ["300x200x80", "400x300x120"])
def test_every_tried_size_holds(code: str, size: str, board: str) -> None:
    """Inside exact, the clearance half on each side, both ways, and the lid goes over."""
    result = tray(STYLES[code], size, board)
    assert result.failures == ()
    assert "x".join(f"{side:g}" for side in result.folded.inside) == size
    assert [value for _, value in result.folded.gauges] == pytest.approx([1.0] * 4)
    (slide,) = result.design.slides
    assert slide.piece == "lid"
    assert slide.start[2] > result.job.board.thickness


@pytest.mark.parametrize("on", ["L", "B"])
@pytest.mark.parametrize("side", ["inside", "outside"])
@pytest.mark.parametrize("clearance", [0.0, 1.0, 5.0])
def test_the_lid_clears_the_laps_wherever_they_are(on: str, side: str, clearance: float) -> None:
    result = tray(STYLES["0300"], lap_on=on, lap_side=side, clearance=clearance)
    assert result.failures == ()
    assert [value for _, value in result.folded.gauges] == pytest.approx([clearance / 2] * 4)


def test_the_inside_of_the_lid_is_the_outside_of_the_base_and_the_clearance() -> None:
    """Laps on front and back: L + 4 t + 2 by B + 2 t + 2; webs: L + 6 t + 2."""
    glued, web = tray(STYLES["0301"]), tray(STYLES["0309"])
    assert named(glued, "lid wall length") == pytest.approx(355 + 4 * 4 + 2 + 4)
    assert named(glued, "lid top breadth") == pytest.approx(205 + 2 * 4 + 2 + 4)
    assert named(web, "lid top length") == pytest.approx(400 + 6 * 4 + 2 + 5 * 4)
    assert named(glued, "lid wall height") == pytest.approx(120 + 4 + 2)
    derivation = next(line.derivation for line in glued.design.sizes if line.name == "lid wall length")
    assert derivation == "base outside L 371 + clearance 2 + (0+0+1) × t 4"


def test_a_full_lid_ends_level_with_the_underside_of_the_base() -> None:
    for code in ("0301", "0308", "0309"):
        result = tray(STYLES[code])
        assert result.folded.outside[2] == pytest.approx(result.job.size.height + 2 * 4)
        assert result.design.inside.fourth == pytest.approx(result.job.size.height + 4)


@pytest.mark.parametrize(
    ("size", "called"),
    [("300x200x120/79.9", "a box with cover"), ("300x200x120/80", "a telescope box"), ("300x200x120/40", "cover")],
)
def test_two_thirds_of_the_depth_make_a_telescope(size: str, called: str) -> None:
    """Source: Fibre Box Association's text as a box maker reprints it, pgsiaminterco.com."""
    result = tray(STYLES["0300"], size)
    assert any(called in line and "Fibre Box Association" in line for line in result.design.words)


@pytest.mark.parametrize(
    ("code", "size", "reason"),
    [
        ("0300", "300x200x120/11", "at least 12 mm.*folded"),
        ("0300", "300x200x120/125", "at most 124 mm.*under the base"),
        ("0301", "300x200x120/79", "at least 80 mm.*box with cover"),
        ("0306", "300x200x120/80", "less than 80 mm.*telescope"),
    ],
)
def test_the_depth_of_the_lid_has_its_limits(code: str, size: str, reason: str) -> None:
    with pytest.raises(SizeError, match=reason):
        tray(STYLES[code], size)


def test_a_lid_left_open_has_the_depth_of_its_style() -> None:
    depths = {code: tray(STYLES[code], "300x200x120").design.inside.fourth for code in ALL}
    assert depths == {"0300": pytest.approx(80), "0301": 124, "0306": 42, "0308": 124, "0309": 124}


def test_laps_outside_leave_the_inside_smooth() -> None:
    """0308: no board of base or lid stands in from the walls, so clear and inside are one, and the ends are flush."""
    result = tray(STYLES["0308"])
    blank = result.design.pieces[0].blank
    assert blank.by_name["front left lap"].k == 1.0
    assert result.folded.clear == result.folded.inside
    assert "lap_side" not in result.order.options


def test_rounding_to_the_plants_step_still_closes() -> None:
    for code in ALL:
        result = tray(STYLES[code], "303.3x201.7x61.1", "C-inch", House(step=0.5))
        assert result.failures == ()


@pytest.mark.parametrize("code", ALL)
def test_rounding_leaves_the_lid_its_clearance(code: str) -> None:
    """Half a step may be lost to it: that much is the least, and then the lid still goes over, at every residue."""
    with pytest.raises(OptionError, match=r"clearance.*0.25 to .*rounding"):
        tray(STYLES[code], board="C-inch", house=House(step=0.5), clearance=0.0)
    for more in range(10):
        size = f"{300 + more / 10:g}x{200 + more / 10:g}x80"
        for board in ("E", "C-inch", "F"):
            assert tray(STYLES[code], size, board, House(step=0.5), clearance=0.25).failures == ()


# ---------------------------------------------------------------------- trials that must fail


def _beside(design: Design, x: float, y: float) -> Design:
    """The design with its lid moved aside."""
    base, lid = design.pieces
    ox, oy, oz = lid.stand.origin
    return replace(design, pieces=(base, replace(lid, stand=replace(lid.stand, origin=(ox + x, oy + y, oz)))))


@pytest.mark.parametrize("code", ALL)
@pytest.mark.parametrize("way", [(1.0, 0.0), (0.0, 1.0)])
def test_a_lid_a_tenth_beyond_its_clearance_strikes(code: str, way: tuple[float, float]) -> None:
    result = tray(STYLES[code])
    just, over = (_beside(result.design, way[0] * by, way[1] * by) for by in (1.0, 1.1))
    text = faults(over, result)
    assert "runs into lid: " in text
    assert "put the lid over the base: " in text
    assert "runs into" not in faults(just, result)


def test_a_lid_too_small_by_a_millimetre_strikes_on_two_sides() -> None:
    """The lid of a base that is 3 mm shorter, over this one."""
    result, small = tray(STYLES["0301"]), tray(STYLES["0301"], "352x205x120")
    base, lid = result.design.pieces
    wrong = replace(result.design, pieces=(base, replace(lid, blank=small.design.pieces[1].blank)))
    text = faults(wrong, result)
    assert "base: left end runs into lid: " in text
    assert "base: right end runs into lid: " in text


def test_a_lid_that_hangs_higher_or_lower_than_the_rim_is_noticed() -> None:
    result = tray(STYLES["0300"])
    base, lid = result.design.pieces
    for by, told in ((1.0, "inside H measures 121"), (-1.0, "runs into lid: top")):
        x, y, z = lid.stand.origin
        moved = replace(lid, stand=replace(lid.stand, origin=(x, y, z + by)))
        assert told in faults(replace(result.design, pieces=(base, moved)), result)


def test_what_stands_in_the_way_of_the_lid_is_struck_although_the_lid_is_free_at_its_place() -> None:
    """A shelf beside the base, above the lowered lid's rim and below the raised one's top."""
    result = tray(STYLES["0300"], "355x205x120/40")
    sheet = Sheet("shelf")
    sheet.panel("shelf", rectangle(0.0, 0.0, 30.0, 30.0))
    base, lid = result.design.pieces
    shelf = replace(
        base, blank=sheet.blank(), stand=replace(base.stand, at=(0.0, 0.0), origin=(-15.0, 60.0, 120.0 + 4.0 + 10.0))
    )
    crowded = replace(result.design, pieces=(base, lid, shelf), gauges=())
    failures = prove_folded(crowded, result.job.board).failures
    assert any(line.startswith("put the lid over the base: ") for line in failures)
    assert not any("runs into" in line for line in failures)
