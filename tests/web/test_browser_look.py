"""How the page looks: to a checker of accessibility, in the dark, in a narrow window, on paper, for every family."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser import browser, fold_to, opened, page, shoot, way
from playwright.sync_api import Browser, Page, ViewportSize, expect
from preview_site import Serve, Site

from dieline.cli.lists import example_board
from dieline.registry import iter_styles
from dieline.style.contract import Style
from dieline.web.watched import Watched

__all__ = ["browser", "page"]


def _families() -> dict[str, Style]:
    """The first style of each group."""
    found: dict[str, Style] = {}
    for style in iter_styles():
        if isinstance(style, Style):
            found.setdefault(style.group, style)
    return found


FAMILIES = _families()


def _job(style: Style) -> dict[str, Any]:
    return {"style": style.code, "size": style.example, "board": example_board(style).name}


def _violations(page: Page) -> list[str]:
    found = Axe().run(page).response["violations"]
    return [f"{entry['id']}: {node['html']} {node['failureSummary']}" for entry in found for node in entry["nodes"]]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("state", ["plain", "picked", "wrong", "narrow"])
def test_no_rule_of_accessibility_is_broken(browser: Browser, built: Any, site: Site, scheme: Any, state: str) -> None:
    size: ViewportSize = {"width": 1440, "height": 900}
    if state == "narrow":
        size = {"width": 390, "height": 800}
    # The checker is put into the page, which the page's own policy forbids.
    context = browser.new_context(viewport=size, color_scheme=scheme, bypass_csp=True)
    page = opened(context.new_page(), site)
    if state == "picked":
        page.get_by_label("Dimensions").check()
        page.locator(".plain").first.click()
    if state == "wrong":
        page.get_by_label("H, height").fill("-3")
        expect(page.locator(".wrong:not(:empty)").first).to_be_visible()
    shoot(page, f"{state}-{scheme}")
    assert _violations(page) == []
    context.close()


@pytest.mark.parametrize("group", FAMILIES)
def test_each_family_is_shown_flat_on_the_way_and_closed(page: Page, serve: Serve, group: str) -> None:
    with serve(Watched(job=_job(FAMILIES[group]))) as site:
        opened(page, site)
        expect(page.locator(".state")).to_have_class("state good")
        pictures = set()
        for part in (0.0, 0.6, 1.0):
            fold_to(page, part)
            page.wait_for_timeout(60)
            shoot(page, f"family-{group}-{part:g}")
            pictures.add(page.locator(".stage").screenshot())
        still = way(page).is_disabled()  # a pad has nothing to fold
        assert len(pictures) == (1 if still else 3)


@pytest.mark.parametrize("width", [320, 390, 768, 1100])
def test_nothing_sticks_out_of_a_narrow_window(page: Page, site: Site, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    opened(page, site)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_printing_prints_the_drawing(page: Page, site: Site) -> None:
    opened(page, site)
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    expect(page.locator(".flat")).to_be_visible()
    expect(page.locator(".dimensions").get_by_text("1049", exact=True)).to_be_visible()
    expect(page.locator(".printed")).to_contain_text("regular slotted case, 300x200x150 mm on C; body 1049 × 362 mm")
    for hidden in ("header", ".left", ".right", ".pane.box"):
        expect(page.locator(hidden)).to_be_hidden()
    shoot(page, "printed")
    page.emulate_media(media="screen")
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(page.locator(".dimensions")).to_have_count(0)
    expect(page.locator(".printed")).to_be_hidden()
