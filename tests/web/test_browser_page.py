"""What somebody does at the bench: change a number, switch lines, pick a panel, fold the box, type nonsense."""

from __future__ import annotations

import re

import pytest
from browser import browser, drawn, field, fold_to, opened, page, way
from playwright.sync_api import Page, expect
from preview_site import Serve, Site

from dieline.web.watched import Watched

__all__ = ["browser", "page"]

MAILER = {"style": "0427", "size": "300x200x80", "board": "E"}


def test_shows_the_box_it_was_started_on(page: Page, site: Site) -> None:
    opened(page, site)
    expect(page.get_by_role("heading", level=1)).to_have_text("0201 regular slotted case")
    expect(page.locator(".numbers")).to_contain_text("300 × 200 × 150 mm")
    expect(page.locator(".flat .panel")).to_have_count(13)
    expect(page.locator(".state")).to_have_class("state good")


def test_a_changed_height_is_drawn_without_a_button(page: Page, site: Site) -> None:
    opened(page, site)
    before = page.locator(".flat .panel").first.get_attribute("d")
    field(page, "H, height").fill("210")
    expect(page.locator(".numbers")).to_contain_text("300 × 200 × 210 mm")
    # H + 2t, as the derivation says too.
    expect(page.get_by_role("row", name=re.compile("panel height"))).to_contain_text("218")
    assert page.locator(".flat .panel").first.get_attribute("d") != before


def test_an_option_is_drawn_and_goes_back_to_usual(page: Page, site: Site) -> None:
    opened(page, site)
    field(page, "lap width").fill("50")
    expect(page.locator("dt:text-is('blank') + dd")).to_have_text("1064 × 362 mm")
    page.get_by_role("button", name="lap width: back to what is usual").click()
    expect(page.locator("dt:text-is('blank') + dd")).to_have_text("1049 × 362 mm")
    expect(field(page, "lap width")).to_have_value("35")


def test_inches_change_the_figures_and_not_the_box(page: Page, site: Site) -> None:
    opened(page, site)
    count = drawn(page)
    page.get_by_label("inches").check()
    expect(field(page, "L, length")).to_have_value("11.811024")
    expect(page.locator("dt:text-is('blank') + dd")).to_have_text("41.299 × 14.252 in")
    assert drawn(page) == count
    field(page, "L, length").fill("12 1/2")
    page.get_by_label("mm", exact=True).check()
    expect(field(page, "L, length")).to_have_value("317.5")


def test_an_impossible_value_explains_itself_and_the_last_drawing_stays(page: Page, site: Site) -> None:
    opened(page, site)
    before = page.locator(".flat .panel").first.get_attribute("d")
    entry = field(page, "lap width")
    entry.fill("900")
    expect(entry).to_have_attribute("aria-invalid", "true")
    expect(entry).to_have_accessible_description(re.compile("900 mm – it must be 9 to 199 mm"))
    expect(page.locator(".state")).to_have_text("The order cannot be made like this; the last good drawing stays.")
    assert page.locator(".flat .panel").first.get_attribute("d") == before
    entry.fill("40")
    expect(entry).not_to_have_attribute("aria-invalid", "true")
    expect(page.locator(".state")).to_have_class("state good")


@pytest.mark.parametrize("size", ["1000000", "0", "-5", "NaN", "wide", "1e400"])
def test_an_impossible_size_stands_beside_its_field(page: Page, site: Site, size: str) -> None:
    opened(page, site)
    field(page, "L, length").fill(size)
    expect(page.locator(".sizes .wrong:not(:empty)").first).to_be_visible()
    expect(page.locator(".numbers")).to_contain_text("300 × 200 × 150 mm")


def test_another_style_brings_its_own_form(page: Page, site: Site) -> None:
    opened(page, site)
    field(page, "style").select_option("0427")
    expect(page.get_by_role("heading", level=1)).to_have_text("0427 roll-end mailer with tuck front")
    expect(field(page, "tuck depth")).to_be_visible()
    expect(field(page, "lap width")).to_have_count(0)


def test_a_style_that_cannot_have_this_size_offers_one(page: Page, serve: Serve) -> None:
    with serve(Watched(job={"style": "0201", "size": "300x200x5000", "board": "C"})) as site:
        opened(page, site)
        field(page, "style").select_option("0427")
        page.get_by_role("button", name=re.compile("^Take 300x200x60")).click()
        expect(page.get_by_role("heading", level=1)).to_have_text("0427 roll-end mailer with tuck front")


def test_layers_are_switched(page: Page, site: Site) -> None:
    opened(page, site)
    creases = page.locator(".flat [data-meaning=crease]")
    expect(creases).to_be_visible()
    page.locator("[data-switch=crease]").uncheck()
    expect(creases).to_be_hidden()
    expect(page.locator(".flat [data-meaning=cut]")).to_be_visible()
    field(page, "H, height").fill("160")
    expect(page.locator(".numbers")).to_contain_text("300 × 200 × 160 mm")
    expect(creases).to_be_hidden()


def test_the_print_side_is_the_mirror_image(page: Page, site: Site) -> None:
    opened(page, site)
    lap = page.locator(".flat .panel[aria-label^='lap,']")
    wall = page.locator(".flat .panel[aria-label^='panel 4,']")

    def left_of() -> bool:
        a, b = lap.bounding_box(), wall.bounding_box()
        assert a is not None
        assert b is not None
        return a["x"] < b["x"]

    assert left_of()
    page.get_by_role("button", name="Print side up").click()
    assert not left_of()


def test_dimensions_come_on_request(page: Page, site: Site) -> None:
    opened(page, site)
    expect(page.locator(".dimensions")).to_have_count(0)
    page.get_by_label("Dimensions").check()
    expect(page.locator(".dimensions").get_by_text("1049", exact=True)).to_be_visible()
    expect(page.locator(".dimensions").get_by_text("362", exact=True)).to_be_visible()


def test_a_panel_picked_on_the_table_lights_up_on_the_box(page: Page, site: Site) -> None:
    opened(page, site)
    stage = page.locator(".stage")
    before = stage.screenshot()
    page.locator(".flat .panel[aria-label^='panel 3,']").click()
    page.mouse.move(2, 2)
    expect(page.locator(".slip")).to_contain_text("panel 3 304 × 158 mm")
    expect(page.locator(".slip")).to_contain_text("L 300 + (0+0+1) × t 4")
    page.wait_for_timeout(100)
    assert stage.screenshot() != before


def test_a_panel_picked_on_the_box_lights_up_on_the_table(page: Page, site: Site) -> None:
    opened(page, site)
    box = page.locator(".folded").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(page.locator(".flat .panel.picked")).to_have_count(1)


def test_the_mailer_folds_to_closed(page: Page, serve: Serve) -> None:
    with serve(Watched(job=MAILER)) as site:
        opened(page, site)
        step, stage = page.locator(".step"), page.locator(".stage")
        expect(step).to_have_text("closed")
        closed = stage.screenshot()
        fold_to(page, 0)
        expect(step).to_have_text("flat")
        flat = stage.screenshot()
        page.get_by_role("button", name="one step on").click()
        expect(step).to_contain_text("fold the corner flaps in")
        assert len({flat, closed, stage.screenshot()}) == 3
        page.get_by_role("button", name="Fold it").click()
        expect(step).to_have_text("closed")
        page.wait_for_timeout(100)
        assert stage.screenshot() == closed


def test_the_inside_size_is_shown_on_the_model(page: Page, serve: Serve) -> None:
    with serve(Watched(job=MAILER)) as site:
        opened(page, site)
        page.get_by_label("Inside size").check()
        for words in ("L 300 mm", "B 200 mm", "H 80 mm"):
            expect(page.locator(".gauge").get_by_text(words)).to_be_visible()
        fold_to(page, 0.5)
        expect(page.locator(".gauge").first).to_be_hidden()


def test_pieces_are_shown_together_and_apart(page: Page, serve: Serve) -> None:
    with serve(Watched(job={"style": "0320", "size": "400x300x250", "board": "C"})) as site:
        opened(page, site)
        stage = page.locator(".stage")
        together = stage.screenshot()
        page.get_by_label("Pieces together").uncheck()
        page.wait_for_timeout(100)
        assert stage.screenshot() != together
        expect(page.locator(".flat .blank")).to_have_count(2)


def test_a_finding_shows_its_place(page: Page, site: Site) -> None:
    opened(page, site)
    page.get_by_role("button", name="Show where: lap").first.click()
    expect(page.locator(".flat .panel.picked")).to_have_accessible_name(re.compile("^lap,"))


def test_everything_is_done_by_keyboard_alone(page: Page, site: Site) -> None:
    opened(page, site)
    field(page, "H, height").focus()
    page.keyboard.press("ArrowUp")
    expect(page.locator(".numbers")).to_contain_text("300 × 200 × 151 mm")
    panels = page.locator(".flat .panel[tabindex='0']")
    expect(panels).to_have_count(1)
    for _ in range(120):  # from the size on to the blank
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.flat .panel')"):
            break
    expect(page.locator(".slip")).to_contain_text("panel 2")
    page.keyboard.press("ArrowRight")
    expect(page.locator(".slip")).to_contain_text("panel 3")
    page.keyboard.press("ArrowUp")
    expect(page.locator(".slip")).to_contain_text("top flap 3")
    page.keyboard.press("Enter")
    expect(page.locator(".flat .panel.picked")).to_have_count(1)
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.way')"):
            break
    page.keyboard.press("Home")
    expect(page.locator(".step")).to_have_text("flat")
    page.keyboard.press("End")
    expect(way(page)).to_have_attribute("aria-valuetext", "closed")
