"""Every error says where, what, what it must be and what to do, in that order, in one line."""

from __future__ import annotations

import pytest

from dieline import errors


def test_the_parts_stand_in_one_fixed_order() -> None:
    error = errors.InputError("board", "'X' is not known", "it must be a board", "list them", line=7)
    assert str(error) == "board (line 7) – 'X' is not known – it must be a board – list them"


def test_parts_that_are_not_there_leave_no_gap() -> None:
    assert str(errors.SizeError("size", "0 mm")) == "size – 0 mm"


def test_each_error_is_also_the_nearest_builtin() -> None:
    assert issubclass(errors.InputError, ValueError)
    assert issubclass(errors.UnknownNameError, LookupError)
    assert issubclass(errors.OutputError, OSError)
    assert issubclass(errors.ProofError, ArithmeticError)


def test_near_names_are_offered_and_far_ones_are_not() -> None:
    assert "did you mean C-inch?" in str(errors.UnknownNameError("board", "C-inc", ["A", "C-inch"]))
    assert "known: A, B" in str(errors.UnknownNameError("board", "zzz", ["A", "B"]))
    assert "40 are known" in str(errors.UnknownNameError("style", "zzz", [f"{n:04}" for n in range(40)]))


def test_a_file_reports_all_its_problems_each_on_a_line() -> None:
    problems = [errors.SizeError("size", "0 mm"), errors.OptionError("options.lap", "x")]
    assert str(errors.JobError("job.toml", problems)).splitlines() == [
        "job.toml – 2 problems",
        "  size – 0 mm",
        "  options.lap – x",
    ]


def test_an_output_error_keeps_the_text_of_its_fields() -> None:
    with pytest.raises(OSError, match="is a file"):
        raise errors.OutputError("out", "is a file", "it must be a folder")
