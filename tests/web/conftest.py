"""What the tests of the preview share: a server that runs, and the page that it serves."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from preview_site import CASE, Serve, Site, serving

import dieline.web.page as page
from dieline.web.watched import Watched

BUILT = Path(page.__file__).with_name("page")


@pytest.fixture(scope="session", autouse=True)
def _page_parts(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The page as it was built, or a stand-in: what the server answers does not depend on it."""
    with pytest.MonkeyPatch.context() as patch:
        if not all((BUILT / name).is_file() for name in page.PARTS):
            folder = tmp_path_factory.mktemp("page")
            (folder / "page.js").write_text("document.title = 'stand-in'", encoding="utf-8")
            (folder / "page.css").write_text("body { margin: 0 }", encoding="utf-8")
            patch.setattr(page, "_BUILT", folder)
        yield


@pytest.fixture(scope="session")
def built() -> Path:
    """The folder of the built page; a test that needs the page itself fails without it."""
    for name in page.PARTS:
        assert (BUILT / name).is_file(), f"{BUILT / name} is missing: pip install -e '.[test]' builds it"
    return BUILT


@pytest.fixture
def serve() -> Serve:
    """Runs a server on a job or a job file, as a context."""
    return serving


@pytest.fixture(scope="session")
def site(_page_parts: None) -> Iterator[Site]:
    """A server that was started on the plain case."""
    with serving(Watched(job=CASE)) as running:
        yield running
