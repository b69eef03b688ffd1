"""What the preview answers: drawings, forms, files, and a clear word for every order that cannot be."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from preview_site import CASE, Site

from dieline.job import FORMATS
from dieline.job_file import job_from_data, job_from_text
from dieline.pipeline import run
from dieline.registry import find_style
from dieline.style.contract import Style
from dieline.style.design import Design
from dieline.style.order import Order
from dieline.web.worker import answer


def test_a_drawing_holds_the_report_of_the_command_line(site: Site) -> None:
    job = CASE | {"options": {"lap_width": "40 mm"}, "contents": {"mass": 8.5}, "name": "Quillby kettle, 2 litres"}
    drawn = site.draw(**job).data()
    result = run(job_from_data(job))
    assert drawn["report"] == json.loads(json.dumps(result.report()))
    assert drawn["job"] == json.loads(json.dumps(result.job.data()))
    assert drawn["report"]["fold"]["inside"] == {"L": 300, "B": 200, "H": 150}
    assert drawn["style"]["title"] == "regular slotted case"


def test_the_page_starts_with_the_first_drawing(site: Site) -> None:
    given = site.given()
    assert (given["live"], given["watching"], given["job"]) == (True, False, CASE)
    assert given["answer"] == site.draw().data()


def test_a_size_in_inches_is_drawn_in_millimetres(site: Site) -> None:
    drawn = site.draw(size="12x8x6 1/2", unit="in").data()
    assert drawn["report"]["inside"] == {"L": 304.8, "B": 203.2, "H": 165.1}
    assert "unit" not in drawn["job"]
    assert [float(side) for side in drawn["job"]["size"].split("x")] == pytest.approx([304.8, 203.2, 165.1])


def test_findings_lie_on_the_panel_that_they_name(site: Site) -> None:
    vent = {"kind": "vent", "panel": "panel 2", "at": [0, 0], "width": 4, "height": 4}
    drawn = site.draw(feature=[vent], output={"side": "print"}).data()
    findings, spots = drawn["report"]["findings"], drawn["scene"]["spots"]
    assert len(findings) == len(spots)
    told = {finding["place"]: spot for finding, spot in zip(findings, spots, strict=True)}
    named = {place: spot for place, spot in told.items() if "panel 2" in place}
    assert named
    panel = next(panel for panel in drawn["scene"]["pieces"][0]["panels"] if panel["name"] == "panel 2")
    for place, spot in named.items():
        assert (spot["piece"], spot["panel"]) == (0, "panel 2"), place
        if "at" in spot:
            assert _holds(panel["d"], spot["at"]), place


def _holds(outline: str, at: list[float]) -> bool:
    """Whether a point lies within the first ring of an SVG path of straight lines along the axes."""
    from svgelements import Path as Outline

    x0, y0, x1, y1 = Outline(outline).bbox()
    return bool(x0 <= at[0] <= x1 and y0 <= at[1] <= y1)


def test_a_link_to_the_print_side_gives_the_same_picture_from_the_inside(site: Site) -> None:
    """The page turns it round itself, so that turning needs no server."""
    inside, outside = site.draw().data(), site.draw(output={"side": "print"}).data()
    assert outside["scene"] == inside["scene"]
    assert outside["job"]["output"] == {"side": "print"}


def test_the_form_tells_ranges_for_this_size_and_board(site: Site) -> None:
    narrow, wide = (site.draw(size=size).data()["form"]["fields"] for size in ("300x60x150", "300x200x150"))
    laps = [next(field for field in fields if field["name"] == "lap_width") for fields in (narrow, wide)]
    assert laps[0]["high"] < laps[1]["high"]
    assert laps[1]["unit"] == "mm"
    assert all(field["help"] for field in wide)
    answer = site.draw(size="300x60x150", options={"lap_width": laps[1]["high"]})
    (problem,) = answer.problems()
    assert (answer.status, problem["where"]) == (422, "options.lap_width")
    assert f"to {laps[0]['high']:g} mm" in problem["must"]


def test_the_form_is_there_while_an_option_is_wrong(site: Site) -> None:
    wrong = CASE | {"options": {"lap_width": 9999, "kettle": 1}, "contents": {"mass": "heavy"}}
    assert site.ask("/api/draw", wrong).status == 422
    form = site.ask("/api/form", wrong)
    assert form.status == 200
    assert form.data() == site.ask("/api/form", CASE).data()


def test_the_form_of_a_style_with_a_fourth_size_asks_for_it(site: Site) -> None:
    drawn = site.draw(style="0312", size="300x200x150/60").data()
    assert drawn["form"]["fourth"]["default"] == 60
    assert site.draw().data()["form"]["fourth"] is None


def test_every_problem_of_an_order_is_told_at_once_each_with_its_field(site: Site) -> None:
    answer = site.draw(size="2000000x200x150", board="kettle", output={"side": "edge"})
    assert answer.status == 422
    assert [problem["where"] for problem in answer.problems()] == ["size, length", "board", "output.side"]


ABSURD: dict[str, dict[str, Any]] = {
    "a million millimetres": {"size": "1000000x1000000x1000000"},
    "not a number": {"size": "nanxnanxnan"},
    "no end": {"size": "infxinfxinf"},
    "a size beyond numbers": {"size": "1e999x1x1"},
    "a size of five thousand digits": {"size": f"{'9' * 5000}x1x1"},
    "nothing": {"size": "0x0x0"},
    "less than nothing": {"size": "-300x-200x-150"},
    "a size that is a number": {"size": 300},
    "a size that is a list": {"size": [300, 200, 150]},
    "no style": {"style": None},
    "a style that is a path": {"style": "../../../etc/passwd"},
    "a style of many": {"style": "0201/" * 5000},
    "a board that is a table": {"board": {"name": "C"}},
    "an option not a number": {"options": {"lap_width": "NaN"}},
    "an option without end": {"options": {"lap_width": "1e999"}},
    "an option that is a list": {"options": {"lap_width": [[[]]]}},
    "options in a list": {"options": [["lap_width", 3]]},
    "ten thousand options": {"options": {f"kettle {number}": number for number in range(10_000)}},
    "a feature on no panel": {"feature": [{"kind": "vent", "panel": "spout"}]},
    "features that are words": {"feature": ["vent"] * 1000},
    "a fold of no kind": {"folds": {"panel 1": {"kind": "crease"}}},
    "a mass of words": {"contents": {"mass": "a kettle"}},
    "formats of no kind": {"output": {"formats": [{"dxf": True}]}},
    "a board file that is none": {"files": {"boards": {"text": "[" * 50_000}}},
    "a board as thick as a house": {
        "files": {"boards": {"text": '[[board]]\nname="Z"\nwall="single"\nflutes=["C"]\ncalliper=4000\n'}},
        "board": "Z",
    },
    "a file by its name": {"files": {"boards": "/etc/passwd"}},
    "a machine file by its name": {"files": {"machine": "../pyproject.toml"}},
    "a key that there is not": {"path": "/etc/passwd"},
}


@pytest.mark.parametrize("way", ["/api/draw", "/api/files"])
@pytest.mark.parametrize("order", ABSURD.values(), ids=ABSURD)
def test_an_absurd_order_is_answered(site: Site, way: str, order: dict[str, Any]) -> None:
    job = CASE | order
    answer = site.ask(way, job if way == "/api/draw" else {"job": job, "kind": "dxf"})
    assert answer.status == 422
    assert answer.data()["error"]["kind"] == "input"
    assert answer.problems()
    assert b"root:" not in answer.body
    assert site.draw().status == 200


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"kettle",
        b"[]",
        b'"0201"',
        b"null",
        b'{"size": NaN}',
        b'{"size": -Infinity}',
        b'{"size": 1e999}',
        b'{"size": %s}' % (b"9" * 400),
        b'{"size": "\\ud800"}',
        b'{"size": "\xff"}',
        b"[" * 200_000,
        b'{"a":' * 100_000,
        b'{"style": "0201"',
    ],
)
def test_what_is_no_json_object_is_answered(site: Site, body: bytes) -> None:
    answer = site.ask("/api/draw", body)
    assert answer.status == 400
    assert answer.problems()[0]["where"] == "body"


@pytest.mark.parametrize("media", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""])
def test_only_json_is_read(site: Site, media: str) -> None:
    """A form of another site can send these three without being asked first."""
    answer = site.ask("/api/draw", json.dumps(CASE).encode(), Content_Type=media)
    assert answer.status == 415
    answer.problems()


def test_files_are_those_of_the_command_line(site: Site, tmp_path: Path) -> None:
    from dieline.files import write

    for kind in FORMATS:
        (path,) = write(run(job_from_data(CASE | {"output": {"formats": [kind]}})), tmp_path)
        (file,) = site.ask("/api/files", {"job": CASE, "kind": kind}).data()["files"]
        assert (file["name"], file["kind"]) == (path.name, kind)
        assert file["text"].encode() == path.read_bytes()


def test_each_piece_has_its_file_and_the_folded_view_is_one(site: Site) -> None:
    job = {"style": "0320", "size": "300x200x150", "board": "C"}
    names = {
        kind: [file["name"] for file in site.ask("/api/files", {"job": job, "kind": kind}).data()["files"]]
        for kind in ("dxf", "cut-svg", "folded-svg")
    }
    assert names == {
        "dxf": ["0320-300x200x150-C-base.dxf", "0320-300x200x150-C-cover.dxf"],
        "cut-svg": ["0320-300x200x150-C-base-cut.svg", "0320-300x200x150-C-cover-cut.svg"],
        "folded-svg": ["0320-300x200x150-C-folded.svg"],
    }


def test_a_name_from_the_page_never_leads_anywhere(site: Site) -> None:
    job = CASE | {"name": "../../kettle/../../etc/passwd\x00"}
    (file,) = site.ask("/api/files", {"job": job, "kind": "dxf"}).data()["files"]
    assert file["name"] == "kettle-..-..-etc-passwd.dxf"


@pytest.mark.parametrize("kind", ["exe", None, 3, ["dxf"], ""])
def test_there_are_no_other_files(site: Site, kind: Any) -> None:
    answer = site.ask("/api/files", {"job": CASE, "kind": kind})
    assert answer.status == 422
    assert answer.problems()[0]["where"] == "kind"


RICH = {
    "style": "0201/0203",
    "size": "355.25x205.125x120",
    "size_is": "crease",
    "board": "Quillby C",
    "name": 'Kettle "No. 2" \\ tea\x7f',
    "revision": "b",
    "note": "two lines\nof a note\ttoo",
    "options": {"lap_width": 33.3},
    "folds": {"top flap 1": "perforated"},
    "feature": [{"kind": "hand-hole", "panel": "panel 1", "at": [0, 10.5]}, {"kind": "vent", "panel": "panel 3"}],
    "contents": {"mass": 8.5},
    "files": {
        "boards": {"text": '# "ours"\n[[board]]\nname = "Quillby C"\nwall = "single"\nflutes = ["C"]\ncalliper = 4.0\n'}
    },
    "output": {"side": "print", "formats": ["dxf"], "notes": True},
}


@pytest.mark.parametrize("job", [CASE, RICH], ids=["plain", "rich"])
def test_the_job_file_reads_back_to_the_same_job(site: Site, job: dict[str, Any]) -> None:
    answer = site.ask("/api/files", {"job": job, "kind": "job"})
    assert answer.status == 200, answer.body
    (file,) = answer.data()["files"]
    assert file["name"].endswith(".toml")
    assert job_from_text(file["text"], "download").data() == job_from_data(job).data()


def test_the_catalogue_lists_styles_and_boards(site: Site) -> None:
    catalogue = site.ask("/api/catalogue").data()
    styles = {style["code"]: style for style in catalogue["styles"]}
    assert "0203" in styles["0201"]["tops"]
    assert catalogue["broken"] == []
    assert {"name": "C", "wall": "single", "flutes": "C"}.items() <= next(
        board for board in catalogue["boards"] if board["name"] == "C"
    ).items()
    for code in ("0201", "0427"):
        assert site.draw(style=code, size=styles[code]["example"]).status == 200


def test_a_drawing_that_fails_a_proof_is_shown_with_the_failure_and_not_handed_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    wrong = _with_a_wrong_inside(find_style("0201"))
    monkeypatch.setattr("dieline.pipeline.find_style", lambda _: wrong)
    status, body = answer("draw", CASE)
    assert status == 200
    assert json.loads(body)["report"]["failures"]
    status, body = answer("files", {"job": CASE, "kind": "dxf"})
    assert (status, json.loads(body)["error"]["kind"]) == (422, "proof")
    status, body = answer("files", {"job": CASE, "kind": "page"})
    assert (status, json.loads(body)["error"]["kind"]) == (422, "proof")


def _with_a_wrong_inside(style: Style) -> Style:
    """The style with a box that measures other than it says: the inside asked for is a little larger."""

    def build(order: Order) -> Design:
        design = style.build(order)
        return replace(design, inside=design.inside._replace(length=design.inside.length + 3.0))

    return replace(style, build=build)
