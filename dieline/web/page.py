"""The page: as the server sends it, and as one file that needs neither server nor network."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

from ..errors import OutputError
from ..job import Job

__all__ = ["PARTS", "live_page", "mail_page", "page_part"]

PARTS = {"page.js": "text/javascript; charset=utf-8", "page.css": "text/css; charset=utf-8"}
"""The built files of the page, each with its media type."""

_BUILT = Path(__file__).with_name("page")

_ICON = (
    "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 16 16'%3E%3Cpath fill='%23c89b63' "
    "d='M2 5l6-3 6 3v6l-6 3-6-3z'/%3E%3Cpath fill='none' stroke='%235a3d1c' d='M2 5l6 3 6-3M8 8v6'/%3E%3C/svg%3E"
)

_HTML = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
{policy}<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{title}</title>
<link rel="icon" href="{icon}">
{head}
</head>
<body>
<noscript>This page draws with a script; please allow it.</noscript>
<script type="application/json" id="given">{given}</script>
{script}
</body>
</html>
"""


@cache
def page_part(name: str) -> str:
    """The text of a built file of the page.

    Args:
        name: One of ``PARTS``.

    Raises:
        OutputError: If the page has not been built.
    """
    try:
        return (_BUILT / name).read_text(encoding="utf-8")
    except OSError:
        cure = "install dieline anew where you cloned it: python -m pip install -e '.[preview]' builds it"
        raise OutputError(str(_BUILT / name), "is missing", "the page must have been built", cure) from None


def live_page(given: Mapping[str, Any], title: str) -> str:
    """The page as the server sends it.

    Args:
        given: What it starts with: the first drawing, so that it is seen at once.
        title: Title of the page.
    """
    marks = {name: hashlib.sha256(page_part(name).encode()).hexdigest()[:12] for name in PARTS}
    return _HTML.format(
        policy="",
        title=escape(title),
        icon=_ICON,
        head=f'<link rel="stylesheet" href="/page.css?{marks["page.css"]}">',
        given=_json(given),
        script=f'<script type="module" src="/page.js?{marks["page.js"]}"></script>',
    )


def mail_page(job: Job) -> str:
    """The page as one file, with a job's drawing, its files and everything that the page needs in it.

    Its own policy forbids it every network access, and every script but its own.

    Args:
        job: The job.

    Raises:
        InputError: If something asked for cannot be.
        ProofError: If a proof failed: such a drawing is not handed out.
    """
    from .answers import answer_draw, answer_files

    data = job.data()
    files = [file for kind in ("dxf", "svg", "job") for file in answer_files({"job": data, "kind": kind})["files"]]
    given = {"live": False, "answer": answer_draw(data), "files": files}
    # What would end the element early, or hide its end.
    script = page_part("page.js").replace("</script", r"<\/script").replace("<!--", r"<\!--")
    style = page_part("page.css").replace("</style", r"<\/style")
    policy = (
        f"default-src 'none'; script-src '{_digest(script)}'; style-src '{_digest(style)}'; img-src data: blob:; "
        "base-uri 'none'; form-action 'none'"
    )
    return _HTML.format(
        policy=f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n',
        title=escape(job.name or f"{job.style} {job.size} on {job.board.name}"),
        icon=_ICON,
        head=f"<style>{style}</style>",
        given=_json(given),
        script=f'<script type="module">{script}</script>',
    )


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _json(data: Mapping[str, Any]) -> str:
    """JSON that can stand inside a page: nothing in it can end the element that holds it."""
    return json.dumps(data, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")
