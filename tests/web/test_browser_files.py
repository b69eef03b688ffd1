"""What goes in and out of the page: files, links, the job file on disk, and the page that is mailed."""

from __future__ import annotations

import re
from pathlib import Path

import ezdxf.bbox
import pytest
from browser import browser, drawn, field, fold_to, opened, page
from ezdxf.filemanagement import readfile
from playwright.sync_api import Browser, Page, expect
from preview_site import Serve, Site

from dieline.job import make_job
from dieline.job_file import read_job
from dieline.web.page import mail_page
from dieline.web.watched import Watched

__all__ = ["browser", "page"]

PLAIN = 'style = "0201"\nsize = "300x200x150"\nboard = "C"\n'


def _taken(page: Page, kind: str, folder: Path) -> Path:
    """Takes a file away as a visitor does."""
    with page.expect_download() as waiting:
        page.locator(f".take button[data-kind='{kind}']").click()
    path = folder / waiting.value.suggested_filename
    waiting.value.save_as(path)
    return path


def test_the_dxf_that_is_taken_away_measures_what_the_page_says(page: Page, site: Site, tmp_path: Path) -> None:
    opened(page, site)
    field(page, "H, height").fill("160")
    expect(page.locator("dt:text-is('blank') + dd")).to_have_text("1049 × 372 mm")
    path = _taken(page, "dxf", tmp_path)
    assert path.name == "0201-300x200x160-C.dxf"
    drawing = readfile(path)
    assert not drawing.audit().has_errors
    lines = drawing.modelspace().query('*[layer=="DL_THRU" | layer=="DL_FOLD"]')
    extent = ezdxf.bbox.extents(lines).size
    assert (round(extent.x, 2), round(extent.y, 2)) == (1049.0, 372.0)


def test_every_other_kind_is_taken_away(page: Page, site: Site, tmp_path: Path) -> None:
    opened(page, site)
    for kind, start in (("svg", "<"), ("cut-svg", "<"), ("folded-svg", "<"), ("page", "<!doctype html>")):
        assert _taken(page, kind, tmp_path).read_text(encoding="utf-8").lstrip().startswith(start)
    job = read_job(_taken(page, "job", tmp_path))
    assert job.data() == {"style": "0201", "size": "300x200x150", "board": "C"}


def test_a_link_opens_the_same_box(page: Page, site: Site) -> None:
    opened(page, site)
    field(page, "B, breadth").fill("180")
    field(page, "lap width").fill("44")
    expect(page.locator("dt:text-is('blank') + dd")).to_have_text("1018 × 342 mm")
    assert page.url.endswith("#style=0201&size=300x180x150&board=C&options.lap_width=44")
    link = page.url
    other = page.context.new_page()
    other.goto(link)
    expect(other.locator("dt:text-is('blank') + dd")).to_have_text("1018 × 342 mm")
    expect(field(other, "lap width")).to_have_value("44")


def test_back_and_forward_go_through_the_boxes(page: Page, site: Site) -> None:
    opened(page, site)
    title = page.get_by_role("heading", level=1)
    field(page, "style").select_option("0203")
    expect(title).to_contain_text("0203")
    field(page, "board").select_option("B")
    expect(page.locator(".summary")).to_contain_text("board B")
    page.go_back()
    expect(page.locator(".summary")).to_contain_text("board C")
    page.go_back()
    expect(title).to_contain_text("0201")
    page.go_forward()
    expect(title).to_contain_text("0203")
    expect(field(page, "style")).to_have_value("0203")


@pytest.mark.parametrize(
    "link", ["#style=nope&size=1x1x1&board=C", "#style=0201&size=300x200x150&board=C&feature={", "#%%%", "#x"]
)
def test_a_broken_link_is_told(page: Page, site: Site, link: str) -> None:
    page.goto(f"http://127.0.0.1:{site.port}/{link}")
    expect(page.locator(".flat .panel")).to_have_count(13)
    if "style" in link:
        expect(page.locator(".order .wrong:not(:empty)").first).to_be_visible()


def test_saving_the_job_file_refreshes_the_page(page: Page, serve: Serve, tmp_path: Path) -> None:
    path = tmp_path / "kettle.toml"
    path.write_text(PLAIN, encoding="utf-8")
    with serve(Watched(path=path)) as site:
        opened(page, site)
        expect(page.locator(".watched")).to_have_text("follows kettle.toml")
        path.write_text(PLAIN.replace("x150", "x175"), encoding="utf-8")
        expect(page.locator(".numbers")).to_contain_text("300 × 200 × 175 mm")
        expect(field(page, "H, height")).to_have_value("175")
        expect(page.get_by_role("status").first).to_contain_text("kettle.toml was saved")


def test_a_job_file_edited_into_nonsense_shows_its_errors(page: Page, serve: Serve, tmp_path: Path) -> None:
    path = tmp_path / "kettle.toml"
    path.write_text(PLAIN, encoding="utf-8")
    with serve(Watched(path=path)) as site:
        opened(page, site)
        path.write_text('style = "0201"\nsize = [\n', encoding="utf-8")
        expect(page.locator(".general")).to_contain_text("kettle.toml")
        expect(page.locator(".numbers")).to_contain_text("300 × 200 × 150 mm")
        path.write_text(PLAIN + "colour = 3\n", encoding="utf-8")
        expect(page.locator(".general")).to_contain_text("colour")
        path.write_text(PLAIN.replace("x150", "x140"), encoding="utf-8")
        expect(page.locator(".numbers")).to_contain_text("300 × 200 × 140 mm")
        expect(page.locator(".general")).to_be_empty()


def test_a_server_that_has_gone_is_told(browser: Browser, built: Path, site: Site) -> None:
    page = opened(browser.new_page(), site)
    page.route("**/api/draw", lambda route: route.abort())
    field(page, "H, height").fill("160")
    expect(page.locator(".general")).to_contain_text("the preview does not answer")
    page.unroute("**/api/draw")
    field(page, "H, height").fill("161")
    expect(page.locator(".numbers")).to_contain_text("300 × 200 × 161 mm")
    page.close()


def test_names_are_never_taken_for_markup(page: Page, serve: Serve) -> None:
    name = "</script><img src=x onerror=alert(1)>"
    with serve(Watched(job={"style": "0201", "size": "300x200x150", "board": "C", "name": name})) as site:
        opened(page, site)
        expect(page.get_by_role("heading", level=1)).to_contain_text(name)
        expect(page.locator("img")).to_have_count(0)


def test_the_mailed_page_works_from_disk_without_a_network(browser: Browser, built: Path, tmp_path: Path) -> None:
    path = tmp_path / "mailer.html"
    path.write_text(mail_page(make_job("0427", "300x200x80", "E")), encoding="utf-8")
    context = browser.new_context(offline=True, accept_downloads=True)
    page = context.new_page()
    wrong: list[str] = []
    asked: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    page.wait_for_selector("body[data-drawn][data-folded]")
    stage = page.locator(".stage")
    expect(page.locator(".step")).to_have_text("closed")
    closed = stage.screenshot()
    fold_to(page, 0)
    expect(page.locator(".step")).to_have_text("flat")
    assert stage.screenshot() != closed
    page.locator("[data-switch=crease]").uncheck()
    expect(page.locator(".flat [data-meaning=crease]")).to_be_hidden()
    expect(page.get_by_role("row", name=re.compile("^base length"))).to_contain_text("L 300")
    assert drawn(page) == 1
    dxf = readfile(_taken(page, "dxf", tmp_path))
    assert not dxf.audit().has_errors
    assert _taken(page, "svg", tmp_path).read_text(encoding="utf-8").lstrip().startswith("<")
    assert read_job(_taken(page, "job", tmp_path)).style == "0427"
    expect(page.locator(".take button")).to_have_count(3)
    context.close()
    assert wrong == []
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
