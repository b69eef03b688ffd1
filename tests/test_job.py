"""Job files: read whole, or refused with every problem at once, each with its key and line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dieline.errors import BoardError, DielineError, JobError
from dieline.job import Job, Output, SizeKind, make_job
from dieline.job_file import job_from_data, job_from_text, read_job

SAMPLES = sorted(path for path in (Path(__file__).parents[1] / "samples").glob("*.toml") if "quillby-" not in path.name)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_read_and_carried_whole(path: Path) -> None:
    """What a file carries makes the same job again, without any other file."""
    job = read_job(path)
    again = job_from_data(json.loads(job.text()), str(path))
    assert again == job


def test_a_job_needs_style_size_and_board_and_nothing_else() -> None:
    job = job_from_text('style="0201"\nsize="300x200x150"\nboard="C"')
    assert (job.style, job.board.name, job.size_is, job.output) == ("0201", "C", SizeKind.INSIDE, Output())
    assert job.file_name == "0201-300x200x150-C"
    assert make_job("0201", "300x200x150", "C").data() == job.data()


BAD = """\
style = "0210x"
size = "300x200"
board = "CC"
colour = "red"

[options]
lap_width = 30

[folds]
"top flap 1" = "glued"

[contents]
mass = "heavy"
volume = 3

[output]
formats = ["pdf"]
dxf = "R9"
notes = "yes"
"""


def test_every_problem_is_told_at_once_with_key_and_line() -> None:
    with pytest.raises(JobError) as caught:
        job_from_text(BAD, "teapot.toml")
    lines = str(caught.value).splitlines()
    assert lines[0] == "teapot.toml – 10 problems"
    for number, part in (
        (1, "style (line 1) – '0210x' is not known"),
        (2, "size (line 2) – '300x200' is not a size"),
        (3, "board (line 3) – 'CC' is not known"),
        (4, "colour (line 4) – 'colour' is not known"),
        (5, "folds.top flap 1 (line 10) – 'glued'"),
        (6, "contents.mass (line 13)"),
        (7, "contents.volume (line 14)"),
        (8, "output.formats (line 17)"),
        (9, "output.dxf (line 18)"),
        (10, "output.notes (line 19)"),
    ):
        assert part in lines[number]


def test_options_are_checked_with_the_rest() -> None:
    with pytest.raises(JobError) as caught:
        job_from_text(
            'style="0201"\nsize="300x200x150"\nboard="C"\n[options]\nlap_widht=3\nslot_width="wide"\njoint="nailed"'
        )
    text = str(caught.value)
    assert "options.lap_widht (line 5) – 'lap_widht' is not known – did you mean lap_width" in text
    assert "options.slot_width (line 6) – 'wide' is not a length" in text
    assert "options.joint (line 7) – 'nailed' – it must be one of glued, stitched, taped" in text


def test_options_are_checked_even_where_size_or_house_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        job_from_text('style="0201"\nsize="300"\nboard="C"\nrevision=3\n[options]\nlap_widht=3\njoint="nailed"')
    text = str(caught.value)
    for part in ("size (line 2)", "revision (line 4) – 3", "options.lap_widht (line 6)", "options.joint (line 7)"):
        assert part in text
    (tmp_path / "h.toml").write_text("[rounding]\nto=99", encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text(
        'style="0201"\nsize="300x200x150"\nboard="C"\n[options]\njoint="nailed"\n[files]\nhouse="h.toml"',
        encoding="utf-8",
    )
    with pytest.raises(JobError) as caught:
        read_job(path)
    assert "h.toml, rounding.to (line 2) – 99" in str(caught.value)
    assert "options.joint (line 5) – 'nailed'" in str(caught.value)


def test_features_and_formats_are_told_with_their_lines() -> None:
    with pytest.raises(JobError) as caught:
        job_from_text(
            'style="0201"\nsize="300x200x150"\nboard="C"\n[output]\nformats=["dxf","sgv"]\n'
            '[[feature]]\nkind="vent"\npanel="panel 1"\n[[feature]]\nkind="windw"\npanel="panel 1"'
        )
    assert "output.formats (line 5) – 'sgv' is not known – did you mean svg" in str(caught.value)
    assert "feature 2.kind (line 10) – 'windw' is not known – did you mean window" in str(caught.value)


def test_a_format_that_is_no_word_is_refused() -> None:
    data = {"style": "0201", "size": "300x200x150", "board": "C", "output": {"formats": [["dxf"], {"svg": 1}]}}
    with pytest.raises(JobError, match=r"output.formats – .*dxf.* is not known"):
        job_from_data(data)


@pytest.mark.parametrize("mass", ["null", "[1]", "{}", "true"])
def test_a_mass_that_is_none_is_refused(mass: str) -> None:
    data = {"style": "0201", "size": "300x200x150", "board": "C", "contents": {"mass": json.loads(mass)}}
    with pytest.raises(JobError, match=r"contents.mass – .* is not a mass"):
        job_from_data(data)


def test_a_range_depends_on_size_and_board_and_says_why() -> None:
    with pytest.raises(
        JobError, match=r"options.lap_width \(line 5\) – 300 mm – it must be 9 to 199 mm: the lap needs"
    ):
        job_from_text('style="0201"\nsize="300x200x150"\nboard="C"\n[options]\nlap_width=300')


def test_a_swapped_size_is_refused_and_the_swap_offered() -> None:
    with pytest.raises(JobError, match="write 300x200x150 if the sides may be swapped"):
        job_from_text('style="0201"\nsize="200x300x150"\nboard="C"')


def test_files_are_looked_for_beside_the_job(tmp_path: Path) -> None:
    (tmp_path / "h.toml").write_text("[rounding]\nto=0.5", encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text('style="0201"\nsize="300x200x150"\nboard="C"\n[files]\nhouse="h.toml"', encoding="utf-8")
    assert read_job(path).house.step == 0.5
    path.write_text('style="0201"\nsize="300x200x150"\nboard="C"\n[files]\nhouse="none.toml"', encoding="utf-8")
    with pytest.raises(JobError, match="No such file"):
        read_job(path)


def test_a_job_that_may_not_name_files_is_refused_when_it_does() -> None:
    with pytest.raises(JobError, match="may not name files"):
        job_from_text('style="0201"\nsize="300x200x150"\nboard="C"\n[files]\nhouse="/etc/passwd"')


def test_problems_of_a_named_file_are_told_with_the_rest(tmp_path: Path) -> None:
    (tmp_path / "b.toml").write_text('[[board]]\nname="x"\nwall="solid"', encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text('style="0201"\nsize="3x2"\nboard="C"\n[files]\nboards="b.toml"', encoding="utf-8")
    with pytest.raises(JobError) as caught:
        read_job(path)
    assert "b.toml, board 1 'x'.calliper (line 1) – is missing" in str(caught.value)
    assert "'3x2' is not a size" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "is empty"),
        ("style = ", "is not TOML"),
        ('style=3\nsize="1x1x1"\nboard="C"', "text in quotes"),
        ('size="300x200x150"\nboard="C"', "a job must name its style"),
        ('style="0201"\nsize="300x200x150"\nboard="C"\noptions=3', "it must be a table"),
        ('style="0201"\nsize="300x200x150"\nboard="C"\nunit="furlong"', "it must be one of mm, cm, in"),
        ('style="0201"\nsize="300x200x150"\nboard="C"\n[files]\nhouse=3', "name of a file"),
        ('style="0201"\nsize="300x200x150"\nboard="AAA"\nsize_is="outside"\n[options]\nslots=3', "slots"),
        ('style="0201/0999"\nsize="300x200x150"\nboard="C"', "top of 0201"),
    ],
)
def test_what_is_no_job_is_refused(text: str, part: str) -> None:
    with pytest.raises(DielineError) as caught:
        job_from_text(text)
    assert part in str(caught.value)


def test_a_job_file_that_is_not_there_is_a_clear_error(tmp_path: Path) -> None:
    with pytest.raises(BoardError, match="job file"):
        read_job(tmp_path / "none.toml")


def test_file_names_are_safe_on_every_system() -> None:
    job = make_job("0201/0204", "300x200x150/40".removesuffix("/40"), "C", name='a/b:c*"d" é')
    assert job.file_name == "a-b-c-d-e"
    for name in ("///", "..", "   ", "箱"):
        assert make_job("0201", "300x200x150", "C", name=name).file_name == "0201-300x200x150-C"
    for name in ("CON", "nul", "com1.final", "Aux.txt"):
        assert make_job("0201", "300x200x150", "C", name=name).file_name == f"box-{name}"
    assert make_job("0201", "300x200x150", "C", name="console").file_name == "console"
    assert make_job("0201", "300x200x150", "C", name="Küche -").file_name == "Kuche"
    assert len(make_job("0201", "300x200x150", "C", name="x" * 300).file_name) == 100
    assert "/" not in Job(style="0201/0204", size=job.size, board=job.board).file_name


def test_a_bare_unit_holds_for_the_size() -> None:
    job = job_from_text('style="0201"\nsize="12x9x6"\nunit="in"\nboard="C"')
    assert job.size.length == pytest.approx(304.8)
