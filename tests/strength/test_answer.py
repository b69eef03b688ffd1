"""Will it hold: the answer, its range, what is asked for and what is said."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from stack_trials import LOAD, board, papers, shape

from dieline.board import find_board
from dieline.errors import InputError, JobError
from dieline.force import GRAVITY
from dieline.load import Load
from dieline.strength.answer import CAUTIONS, answer
from dieline.strength.answer_data import answer_data
from dieline.strength.answer_text import answer_lines
from dieline.strength.band import chance
from dieline.strength.boards_table import boards_that_hold, candidates, rate_boards
from dieline.strength.compression import mckee_short
from dieline.strength.walls import Wall


def test_required_and_available_are_what_their_words_say() -> None:
    """Four boxes of 8.4 kg above; McKee on the perimeter through the middle of the board, times .60 and .90."""
    found = answer(shape(), board(), LOAD)
    assert found.required.value == pytest.approx(4 * 8.4 * GRAVITY)
    new = mckee_short(5.0, 4.0, 2 * (396 + 296))
    assert found.available == pytest.approx(new * 0.60 * 0.90)
    assert found.margin == pytest.approx(found.available / found.required.value)
    assert found.verdict == "holds"


def test_the_range_comes_of_formula_and_board_and_of_factors_that_are_ranges() -> None:
    plain, bound = answer(shape(), board(), LOAD), answer(shape(), board(), replace(LOAD, pattern="interlocked"))
    assert [origin.name for origin in plain.band.origins] == ["formula", "board"]
    assert [origin.name for origin in bound.band.origins] == ["formula", "board", "pattern"]
    assert bound.band.spread > plain.band.spread
    low, high = plain.margin_range
    assert low < plain.margin < high
    assert chance(plain.margin / low, plain.band.spread) == pytest.approx(0.95, abs=1e-6)
    assert bound.margin / plain.margin == pytest.approx(0.5), "the middle of 40 to 60 % lost"


@pytest.mark.parametrize(("layers", "word"), [(5, "holds"), (15, "doubtful"), (20, "does not hold")])
def test_a_range_that_crosses_one_is_told_as_doubtful(layers: int, word: str) -> None:
    found = answer(shape(), board(), replace(LOAD, layers=layers))
    assert found.verdict == word
    low, _ = found.margin_range
    assert {"holds": low >= 1, "doubtful": low < 1 <= found.margin, "does not hold": found.margin < 1}[word]
    codes = {remark.code for remark in found.remarks}
    assert ("stack-doubtful" in codes, "stack-too-weak" in codes) == (word == "doubtful", word == "does not hold")


def test_everything_missing_is_asked_for_at_once_by_name() -> None:
    with pytest.raises(JobError) as caught:
        answer(shape(), find_board("C"), Load())
    asked = [problem.where for problem in caught.value.problems]
    assert asked == ["contents.mass", "load.layers", "load.factors", "board C"]
    assert all(problem.must and problem.cure for problem in caught.value.problems)
    with pytest.raises(JobError) as caught:
        answer(shape(), board(), Load(mass=8.0, layers=5, factors="astm-d10"))
    assert [problem.where for problem in caught.value.problems] == [
        "load.days",
        "load.humidity",
        "load.pattern",
        "load.box_mass",
    ]


@pytest.mark.parametrize(("key", "load"), [
    ("load.days", Load(schedule="gb-6543")),
    ("load.factor", Load(schedule="own")),
    ("load.assurance", Load(schedule="astm-d4169", construction="1")),
    ("load.construction", Load(schedule="astm-d4169", assurance="II")),
])  # fmt: skip
def test_a_schedule_asks_for_what_it_needs(key: str, load: Load) -> None:
    with pytest.raises(JobError) as caught:
        answer(shape(), board(), replace(load, mass=8.0, box_mass=0.4, layers=5))
    assert [problem.where for problem in caught.value.problems] == [key]


def test_pallets_on_each_other_ask_for_the_pallet_between() -> None:
    with pytest.raises(JobError) as caught:
        answer(shape(), board(), replace(LOAD, pallets=2))
    assert [problem.where for problem in caught.value.problems] == ["load.per_layer", "load.pallet_mass"]
    found = answer(shape(), board(), replace(LOAD, pallets=2, per_layer=8, pallet_mass=24.0))
    assert found.required.value == pytest.approx((9 * 8.4 + 3.0) * GRAVITY)


def test_what_is_taken_as_usual_is_listed_and_what_is_said_is_not() -> None:
    found = answer(shape(), board(), LOAD)
    for key in ("pallets", "overhang", "gaps", "handling", "formula", "interior", "pallet"):
        assert any(f"(load.{key})" in line for line in found.assumed), key
    said = replace(
        LOAD, pallets=1, overhang=0.0, gaps=False, handling="careful", formula="mckee-short", interior="none"
    )
    assert [line for line in answer(shape(), board(), said).assumed if "load.pallet)" not in line] == []


def test_the_caution_stands_in_every_answer() -> None:
    for load in (LOAD, replace(LOAD, layers=1), replace(LOAD, factors=None, schedule="ista-3e")):
        found = answer(shape(), board(), load)
        text = "\n".join(answer_lines(found))
        for caution in CAUTIONS:
            assert caution in text
        assert answer_data(found)["cautions"] == list(CAUTIONS)
    assert "ISO 12048" in CAUTIONS[0]
    assert "D642" in CAUTIONS[0]
    assert "T 804" in CAUTIONS[0]


def test_one_layer_needs_nothing_and_the_report_is_plain_json() -> None:
    found = answer(shape(), board(), replace(LOAD, layers=1))
    assert math.isinf(found.margin)
    data = answer_data(found)
    assert data["margin"] is None
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_the_report_has_what_scripts_ask_for() -> None:
    data = answer_data(answer(shape(), board(), LOAD))
    for key in ("required_N", "available_N", "margin", "formula", "factors", "per_layer", "layers", "findings"):
        assert key in data
    assert [factor["name"] for factor in data["factors"]] == ["time", "humidity", "pattern"]
    assert all(factor["source"] and factor["confidence"] for factor in data["factors"])


def codes(found: object) -> set[str]:
    return {remark.code for remark in found.remarks}  # type: ignore[attr-defined]


@pytest.mark.parametrize(("code", "changed"), [
    ("stack-low-box", {"height": 150.0}),
    ("stack-long-box", {"length": 1000.0}),
    ("stack-style", {"regular": False}),
    ("stack-perforation", {"tears": True}),
])  # fmt: skip
def test_what_lies_outside_the_formula_is_said(code: str, changed: dict[str, float]) -> None:
    assert code in codes(answer(shape(**changed), board(), LOAD))
    assert code not in codes(answer(shape(), board(), LOAD))


def test_just_inside_the_limits_nothing_is_said() -> None:
    """A seventh of the perimeter, and three to one."""
    assert "stack-low-box" not in codes(answer(shape(height=2 * 692 / 7 + 0.01), board(), LOAD))
    assert "stack-low-box" in codes(answer(shape(height=2 * 692 / 7 - 0.01), board(), LOAD))
    assert "stack-long-box" not in codes(answer(shape(length=900.0), board(), LOAD))


def test_a_box_outside_the_formula_never_simply_holds_and_gets_no_probability() -> None:
    found = answer(shape(regular=False), board(), LOAD)
    assert (found.verdict, found.chance) == ("doubtful", None)
    assert answer_data(found)["outside"] == ["stack-style"]


def test_fine_flutes_and_several_walls_are_said() -> None:
    assert "stack-flute" in codes(answer(shape(), board("E", 3.0), LOAD))
    double = answer(shape(), board("BC", 8.0), LOAD)
    assert "stack-wall" in codes(double)
    assert double.losses[0].middle == pytest.approx(0.915), "the middle of none and 17 %"


def test_walls_with_lying_flutes_bear_nothing() -> None:
    walls = tuple(replace(wall, upright=int(wall.face in ("front", "back"))) for wall in shape().walls)
    found, whole = answer(shape(walls=walls), board(), LOAD), answer(shape(), board(), LOAD)
    assert found.available / whole.available == pytest.approx(396 / (396 + 296))
    assert "stack-lying-flutes" in codes(found)


def test_a_second_wall_is_named_and_not_added() -> None:
    walls = tuple(replace(wall, upright=2) for wall in shape().walls)
    found = answer(shape(walls=walls), board(), LOAD)
    assert found.available == answer(shape(), board(), LOAD).available
    assert "stack-double-walls" in codes(found)


def test_holes_take_10_to_40_percent() -> None:
    walls = (Wall(face="front", length=396.0, open_width=115.0), *shape().walls[1:])
    found, whole = answer(shape(walls=walls), board(), LOAD), answer(shape(), board(), LOAD)
    assert found.available / whole.available == pytest.approx(0.75)
    assert found.band.spread > whole.band.spread


def test_fitments_and_goods_are_not_added() -> None:
    for interior in ("fitment", "goods"):
        found = answer(shape(), board(), replace(LOAD, interior=interior))
        assert "stack-interior" in codes(found)
        assert found.available == answer(shape(), board(), LOAD).available


def test_schedules_count_no_time_or_climate() -> None:
    found = answer(shape(), board(), replace(LOAD, factors=None, schedule="ista-3e"))
    assert found.factors == ()
    assert found.available == found.box
    assert found.required.value == pytest.approx(3 * 4 * 8.4 * GRAVITY)


def test_full_mckee_asks_for_bending_and_kellicutt_for_its_flutes() -> None:
    with pytest.raises(InputError, match="bending_md"):
        answer(shape(), board(), replace(LOAD, formula="mckee-full"))
    with pytest.raises(InputError, match="constants are known for A, B, C"):
        answer(shape(), board("EB", 7.0), replace(LOAD, formula="kellicutt"))


def test_the_set_that_says_nothing_of_gaps_says_so() -> None:
    found = answer(shape(), board(), replace(LOAD, factors="astm-d10", gaps=True))
    assert "stack-not-counted" in codes(found)
    assert found.verdict != "holds"


def test_boards_lightest_first_and_each_as_its_own_answer_says() -> None:
    own = {
        "light": replace(find_board("C"), name="light", papers=papers(1.6, 1.4, 1.6, grammage=100.0)),
        "heavy": replace(find_board("BC"), name="heavy", papers=papers(4.0, 2.0, 2.0, 2.0, 4.0, grammage=200.0)),
        "middle": replace(find_board("C"), name="middle", papers=papers(2.6, 2.0, 2.6)),
    }
    load = replace(LOAD, box_mass=None, layers=7)
    plain = answer(shape(), own["middle"], load)
    rows = rate_boards(plain, candidates(own))
    weighed = [row for row in rows if row.mass is not None]
    assert [row.name for row in weighed] == ["light", "middle", "heavy"]
    assert weighed == sorted(weighed, key=lambda row: row.mass or 0.0)
    assert rows[: len(weighed)] == weighed, "boards of unknown mass come after"
    for row in weighed:
        alone = answer(shape().on(own[row.name].thickness), own[row.name], load)
        assert row.margin == pytest.approx(alone.margin)
        assert (row.low, row.high) == pytest.approx(alone.margin_range)
    held = boards_that_hold(rows)
    assert held
    assert all(row.low >= 1.0 for row in held)
    flutes = [row.name.rpartition(" ")[0] for row in held if row.mass is None]
    assert len(flutes) == len(set(flutes)), "of each flute the weakest grade only"


def test_the_same_answer_twice_is_the_same() -> None:
    one, two = (answer_data(answer(shape(), board(), LOAD)) for _ in range(2))
    assert json.dumps(one) == json.dumps(two)
