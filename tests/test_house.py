"""House and machine files: read whole, or refused with every problem at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from dieline.errors import BoardError, JobError, UnknownNameError
from dieline.house import house_from_text, read_house
from dieline.job import make_job
from dieline.linetypes import Meaning
from dieline.machine import machine_from_text, read_machine
from dieline.pipeline import run

SAMPLES = Path(__file__).parents[1] / "samples"


def test_the_sample_house_is_read_as_it_is_written() -> None:
    house = read_house(SAMPLES / "quillby-house.toml")
    assert house.name == "Quillby house"
    assert [entry.size for entry in house.allowances] == ["panel 2 width", "panel 4 width"]
    assert house.allowances[0].add == pytest.approx(25.4 / 32)
    assert house.allowances[1].same_as == "panel 2 width"
    assert house.default("0201", "C", "lap_width") == "1 1/2 in"
    assert house.step == pytest.approx(25.4 / 64)


def test_a_default_of_an_option_that_the_style_has_not_is_refused() -> None:
    house = house_from_text("name='h'\n[[default]]\nstyle='0201'\noption='lap_widht'\nvalue=3\n", "h.toml")
    with pytest.raises(UnknownNameError, match=r"h: default of 0201 – 'lap_widht' .* did you mean lap_width"):
        run(make_job("0201", "300x200x150", "C", house=house))


def test_joint_and_crease_say_how_far_board_gives_way() -> None:
    house = house_from_text("[joint]\ncrush=0.5\n[crease]\ngive=1.0\n", "h")
    assert (house.crush, house.give) == (0.5, 1.0)
    assert house_from_text("name='x'", "h").give is None


def test_every_problem_of_a_house_file_is_told_at_once() -> None:
    text = (
        "colour=1\nrounding=5\n"
        "[[allowance]]\nadd='wide'\n[[allowance]]\nsize='a'\nsie='b'\n[[allowance]]\nsize='a'\n"
        "[[default]]\noption='x'\n"
    )
    with pytest.raises(JobError) as caught:
        house_from_text(text, "h.toml")
    told = str(caught.value)
    for part in (
        "colour",
        "rounding",
        "allowance 1.size (line 3) – is missing",
        "'wide'",
        "allowance 2.sie (line 7)",
        "allowance 3 (line 8) – changes nothing",
        "default 1.value (line 10)",
    ):
        assert part in told


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[rounding]\nto = 10", r"rounding.to \(line 2\) – 10 – it must be 0 to 5: coarser, sizes miss"),
        ("[rounding]\nto = -1", r"rounding.to \(line 2\) – -1 – it must be 0 to 5"),
        ("[joint]\ncrush = 2", r"joint.crush \(line 2\) – 2 – it must be 0 to 1"),
        ("[crease]\ngive = 9", r"crease.give \(line 2\) – 9 – it must be 0 to 3"),
    ],
)
def test_a_house_may_not_talk_the_proofs_away(text: str, told: str) -> None:
    with pytest.raises(JobError, match=told):
        house_from_text(text, "h.toml")


def test_what_is_no_house_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BoardError, match="house file"):
        read_house(tmp_path / "none.toml")
    with pytest.raises(JobError, match="allowance"):
        house_from_text("allowance = 3", "h")


def test_the_sample_machine_renames_layers_and_sets_limits() -> None:
    machine = read_machine(SAMPLES / "quillby-machine.toml")
    assert machine.pens[Meaning.CUT].layer == "KNIFE"
    assert machine.pens[Meaning.CUT].pen == 1
    assert machine.pens[Meaning.PERFORATION].layer == "DL_TEAR"
    assert machine.pens[Meaning.PERFORATION].pattern == (6.0, 3.0)
    assert machine.pens[Meaning.CUT_CREASE].pattern is None
    assert machine.limits["blank_length"].most == 2400
    assert machine.limits["slot"].only == (6.0, 9.0)


def test_one_tool_may_make_two_meanings_if_the_file_says_so() -> None:
    text = "[lines.cut]\nlayer='A'\nindex=1\npen=2\n[lines.half-cut]\nlayer='A'\nindex=1\npen=2"
    pens = machine_from_text(text, "m.toml").pens
    assert len({pen.layer for pen in pens.values()}) == len(pens) - 1


def test_we_ship_no_machine_limits() -> None:
    from dieline.machine import MachineProfile

    assert MachineProfile().limits == {}


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("[lines.knife]\nlayer='X'", "lines.knife"),
        ("[lines.cut]\nlayer='Über'", "ASCII"),
        ("[lines.cut]\nlayer='a/b'", "ASCII"),
        ("[lines.cut]\nlayer=' lead'", "ASCII"),
        ("[lines.cut]\nlayer='DL_FOLD'", "lines.cut.layer (line 2) – 'DL_FOLD' – cut and crease would be one layer"),
        ("[lines.crease]\nlayer='dl_thru'", "cut and crease would be one layer"),
        ("[lines.cut]\nlayer='A'\nindex=1\n[lines.crease]\nlayer='A'\nindex=2", "lines.crease.layer (line 5)"),
        ("[lines.cut]\ncolour='red'", "#rrggbb"),
        ("[lines.cut]\nindex=300", "1 to 255"),
        ("[lines.cut]\npen=-1", "0 to 99"),
        ("[lines.cut]\nthick=1", "nothing else"),
        ("[lines.cut]\npattern=[6,3]", "only perforation and cut-crease are cut and left in turn"),
        ("[lines.perforation]\npattern=6", "mm cut, mm left"),
        ("[lines.perforation]\npattern=[6,0]", "more than 0"),
        ("lines=3", "tables"),
        ("limits=3", "table of sizes"),
        ("[limits]\nbox=[1,2]", "box"),
        ("[limits]\nlap=[50,20]", "must not be more"),
        ("[limits]\nlap=50", "least, greatest"),
        ("[limits]\nslot={only=['x']}", "not a length"),
        ("speed=3", "speed"),
    ],
)
def test_what_a_machine_file_gets_wrong_is_named(text: str, part: str) -> None:
    with pytest.raises(JobError) as caught:
        machine_from_text(text, "m.toml")
    assert part in str(caught.value)
