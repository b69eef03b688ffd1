"""The preview: from a change to the redrawn blank, folding, the first picture, and how much the page weighs.

Needs Debian's chromium, whose SwiftShader draws without a graphics card. Figures are of the machine it runs on; run it
while nothing else does. 1 if a bound is crossed.
"""

from __future__ import annotations

import gzip
import shutil
import subprocess
import sys
import time
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

REDRAW, FRAMES, FIRST, WEIGHT = 100.0, 50.0, 1000.0, 300.0
"""Bounds: ms for the 95th percentile, frames a second at least, ms from the command's start, kB compressed."""

BOXES = (("0201", "300x200x150", "C"), ("0427", "300x200x80", "E"), ("gable-carton", "120x80x100", "E"))

_PAGE = Path(__file__).parents[1] / "dieline/web/page"

_CHANGE = """async () => {
  const label = [...document.querySelectorAll('label')].find((l) => l.textContent === 'H, height');
  const field = document.getElementById(label.htmlFor);
  const start = Number(field.value);
  const times = [];
  for (let i = 0; i < 60; i++) {
    const before = document.body.dataset.drawn;
    await new Promise((done) => setTimeout(done, 60));
    const begin = performance.now();
    field.value = String(start + 1 + (i % 40));
    field.dispatchEvent(new Event('input', { bubbles: true }));
    await new Promise((done) => {
      const watch = new MutationObserver(() => {
        if (document.body.dataset.drawn === before) return;
        watch.disconnect();
        requestAnimationFrame(() => setTimeout(done));
      });
      watch.observe(document.body, { attributes: true });
    });
    times.push(performance.now() - begin);
  }
  return times.sort((a, b) => a - b);
}"""

_FOLD = """async () => {
  const way = document.querySelector('.box input[type=range]');
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const begin = performance.now();
  const count = 120;
  for (let i = 0; i < count; i++) {
    const far = (i % 60) / 60;
    way.value = String(Number(way.min) + far * (Number(way.max) - Number(way.min)));
    way.dispatchEvent(new Event('input', { bubbles: true }));
    await frame();
  }
  return (1000 * count) / (performance.now() - begin);
}"""


_PAINTED = """() => performance.getEntriesByName('first-contentful-paint')[0].startTime"""
"""The browser's own account of when the first picture, the page with its blank, stood on the screen."""


def opened(browser: Browser, *words: str) -> tuple[subprocess.Popen[str], Page, float]:
    """The command's process, its page once it has drawn, and the ms from the command's start to the first picture.

    The browser runs and has a tab ready, as on a designer's desk: how long a browser takes to start is not ours.
    """
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    begin = time.perf_counter()
    command = [sys.executable, "-m", "dieline", "preview", *words, "--no-open", "--port", "0"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    address = process.stdout.readline().strip()
    listening = (time.perf_counter() - begin) * 1000
    page.goto(address)
    page.wait_for_selector("body[data-drawn]")
    painted: float = page.evaluate(_PAINTED)
    return process, page, listening + painted


def main() -> int:
    """Print the table."""
    crossed = False
    weight = sum(len(gzip.compress((_PAGE / name).read_bytes())) for name in ("page.js", "page.css")) / 1000
    place = shutil.which("chromium")
    if place is None:
        sys.exit("chromium is missing: apt-get install chromium")
    print(f"page {weight:.0f} kB compressed (bound {WEIGHT:g})\n")
    print(f"{'box':16}{'first ms':>10}{'median ms':>11}{'95 % ms':>9}{'frames/s':>10}")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=place, args=["--no-sandbox"])
        browser.new_page().close()
        for style, size, board in BOXES:
            process, page, first = opened(browser, style, size, "--board", board)
            times: list[float] = page.evaluate(_CHANGE)
            frames: float = max(page.evaluate(_FOLD) for _ in range(3))
            page.close()
            process.terminate()
            process.wait()
            median, late = times[len(times) // 2], times[int(0.95 * len(times))]
            print(f"{style:16}{first:10.0f}{median:11.1f}{late:9.1f}{frames:10.0f}")
            crossed |= first > FIRST or late > REDRAW or frames < FRAMES
        browser.close()
    crossed |= weight > WEIGHT
    print(f"\nbounds: {FIRST:g} ms, {REDRAW:g} ms, {FRAMES:g} frames/s")
    print("a bound is crossed" if crossed else "within the bounds")
    return 1 if crossed else 0


if __name__ == "__main__":
    sys.exit(main())
