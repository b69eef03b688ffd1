"""A real browser for the tests of the page: Debian's Chromium, driven by Playwright."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright
from preview_site import Site

__all__ = ["browser", "drawn", "field", "fold_to", "opened", "page", "way"]

expect.set_options(timeout=15_000)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The browser, started once for each module: while it runs, nothing else in the process may run a loop."""
    place = shutil.which("chromium")
    assert place, "the browser tests need Debian's package chromium"
    with sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=place, args=["--no-sandbox"])
        yield running
        running.close()


@pytest.fixture
def page(browser: Browser, built: Path) -> Iterator[Page]:
    """A new page, which must not have complained when the test is over."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, accept_downloads=True)
    fresh = context.new_page()
    wrong: list[str] = []
    fresh.on("pageerror", lambda error: wrong.append(str(error)))
    fresh.on(
        "console", lambda message: wrong.append(message.text) if _is_complaint(message.type, message.text) else None
    )
    yield fresh
    context.close()
    assert not wrong, wrong


def _is_complaint(kind: str, text: str) -> bool:
    # A refused order is an answer of the interface, which the browser logs as a failure to load. And the server of a
    # test may stop before its page is closed, which asks it every second whether the job file has changed.
    return kind == "error" and "422" not in text and "net::ERR_CONNECTION" not in text and "ERR_EMPTY" not in text


def opened(page: Page, site: Site, link: str = "") -> Page:
    """The page of a server, once it has drawn."""
    page.goto(f"http://127.0.0.1:{site.port}/{link}")
    page.wait_for_selector("body[data-drawn][data-folded]")
    # The styles and boards to pick from have come.
    expect(page.locator(".order optgroup").first).to_be_attached()
    return page


def drawn(page: Page) -> int:
    """How often the page has drawn."""
    return int(page.locator("body").get_attribute("data-drawn") or 0)


def field(page: Page, label: str) -> Locator:
    """A field of the order."""
    return page.get_by_label(label, exact=True)


def way(page: Page) -> Locator:
    """The slider from flat to closed."""
    return page.get_by_label("Flat to closed")


def fold_to(page: Page, part: float) -> None:
    """Move the slider: 0 is flat, 1 is closed."""
    way(page).evaluate(
        """(slider, part) => {
            slider.value = String(Number(slider.max) * part);
            slider.dispatchEvent(new Event("input", { bubbles: true }));
            return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
        }""",
        part,
    )


SHOTS = Path(os.environ.get("DIELINE_SHOTS", ""))
"""Where screenshots are kept, to be looked at; empty keeps none."""


def shoot(target: Page | Locator, name: str) -> bytes:
    """A screenshot; kept where the environment variable DIELINE_SHOTS says."""
    picture = target.screenshot()
    if os.environ.get("DIELINE_SHOTS"):
        SHOTS.mkdir(parents=True, exist_ok=True)
        (SHOTS / f"{name}.png").write_bytes(picture)
    return picture
