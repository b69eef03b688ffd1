"""The page as one file to send: everything in it, nothing that it would have to fetch, no text that can break out."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from html.parser import HTMLParser
from typing import Any

import pytest
from preview_site import CASE, Site

from dieline.job_file import job_from_data
from dieline.web.page import mail_page
from dieline.web.worker import answer

pytestmark = pytest.mark.usefixtures("built")

NASTY = '</script><script>alert("kettle")</script><!-- & \u2028 </style>'


class _Parts(HTMLParser):
    """Elements of a page, with what stands in scripts and styles."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inside: dict[str, str] = {}
        self._open = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._open = str(dict(attrs).get("type", tag)) if tag in ("script", "style") else ""

    def handle_data(self, data: str) -> None:
        if self._open:
            self.inside[self._open] = self.inside.get(self._open, "") + data

    def handle_endtag(self, tag: str) -> None:
        self._open = ""


@pytest.fixture(scope="module")
def parts() -> _Parts:
    return _Parts(mail_page(job_from_data(CASE | {"name": NASTY, "note": NASTY})))


def test_it_holds_the_drawing_and_its_files(parts: _Parts) -> None:
    job = CASE | {"name": NASTY, "note": NASTY}
    given = json.loads(parts.inside["application/json"])
    assert given["live"] is False
    status, body = answer("draw", job)
    assert (status, given["answer"]) == (200, json.loads(body))
    files = {file["kind"]: file for file in given["files"]}
    assert set(files) == {"dxf", "svg", "job"}
    for kind, file in files.items():
        _, body = answer("files", {"job": job, "kind": kind})
        assert json.loads(body)["files"] == [file]


def test_what_a_customer_is_called_cannot_break_out_of_its_place(parts: _Parts) -> None:
    kinds = [attributes.get("type") for tag, attributes in parts.tags if tag == "script"]
    assert kinds == ["application/json", "module"]
    assert [tag for tag, _ in parts.tags].count("style") == 1


def test_it_fetches_nothing(parts: _Parts) -> None:
    for tag, attributes in parts.tags:
        for key in ("src", "href", "action", "data"):
            assert (attributes.get(key) or "data:").startswith("data:"), (tag, key)
    assert not re.search(r"@import|url\((?!['\"]?data:)", parts.inside["style"])


def test_its_policy_allows_its_own_script_and_no_network(parts: _Parts) -> None:
    policy = next(
        str(attributes["content"])
        for tag, attributes in parts.tags
        if tag == "meta" and attributes.get("http-equiv") == "Content-Security-Policy"
    )
    rules = {words[0]: words[1:] for rule in policy.split(";") if (words := rule.split())}
    assert rules["default-src"] == ["'none'"]
    assert "connect-src" not in rules
    assert rules["script-src"] == [_digest(parts.inside["module"])]
    assert rules["style-src"] == [_digest(parts.inside["style"])]
    assert [tag for tag, _ in parts.tags].index("meta") < [tag for tag, _ in parts.tags].index("style")


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def test_the_same_job_gives_the_same_bytes() -> None:
    assert mail_page(job_from_data(CASE)) == mail_page(job_from_data(CASE))


def test_every_piece_is_in_it() -> None:
    job: dict[str, Any] = {"style": "drawer-sleeve", "size": "200x150x60", "board": "E"}
    given = json.loads(_Parts(mail_page(job_from_data(job))).inside["application/json"])
    assert len([file for file in given["files"] if file["kind"] == "dxf"]) == 2
    assert len(given["answer"]["scene"]["pieces"]) == 2


def test_the_server_hands_out_the_same_file(site: Site) -> None:
    (file,) = site.ask("/api/files", {"job": CASE, "kind": "page"}).data()["files"]
    assert (file["name"], file["media"]) == ("0201-300x200x150-C.html", "text/html")
    assert file["text"] == mail_page(job_from_data(CASE))
