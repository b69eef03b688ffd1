"""The summary as one page that needs no network: a table that can be sorted and searched, with small pictures."""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

__all__ = ["summary_page"]

_HIDDEN = ("picture", "row")

_STYLE = """
:root { color-scheme: light dark; --line: #8886; --head: #8882; }
body { font: 14px/1.4 sans-serif; margin: 1.5rem; }
table { border-collapse: collapse; }
th, td { border-bottom: 1px solid var(--line); padding: .25rem .6rem; text-align: right; white-space: nowrap; }
th { position: sticky; top: 0; background: Canvas; vertical-align: bottom; }
th button { font: inherit; font-weight: bold; border: 0; background: none; color: inherit; cursor: pointer; }
th[aria-sort=ascending] button::after { content: " \\2191"; }
th[aria-sort=descending] button::after { content: " \\2193"; }
td.text, th.text { text-align: left; }
td.long { white-space: normal; min-width: 16rem; text-align: left; }
svg { width: 96px; height: 48px; fill: none; stroke: currentColor; stroke-width: .8; }
.fail { font-weight: bold; }
@media print { th { position: static; } }
"""

_SCRIPT = """
const body = document.querySelector('tbody'), rows = [...body.rows], find = document.querySelector('#find');
document.querySelectorAll('th button').forEach((button, column) => button.addEventListener('click', () => {
  const head = button.parentElement, up = head.getAttribute('aria-sort') !== 'ascending';
  document.querySelectorAll('th').forEach(other => other.removeAttribute('aria-sort'));
  head.setAttribute('aria-sort', up ? 'ascending' : 'descending');
  const at = head.cellIndex, value = row => row.cells[at].dataset.v ?? row.cells[at].textContent;
  const order = (a, b) => { const x = value(a), y = value(b), n = x - y;
    return Number.isNaN(n) || x === '' || y === '' ? x.localeCompare(y) : n; };
  rows.sort((a, b) => up ? order(a, b) : order(b, a)).forEach(row => body.append(row));
}));
find.addEventListener('input', () => { const words = find.value.toLowerCase();
  let shown = 0;
  rows.forEach(row => { row.hidden = !row.textContent.toLowerCase().includes(words); shown += !row.hidden; });
  document.querySelector('#shown').textContent = shown; });
"""


def summary_page(heads: Mapping[str, bool], rows: Iterable[Mapping[str, Any]], count: int) -> Iterator[str]:
    """The page as HTML, part by part.

    Args:
        heads: The columns, and whether each holds nothing but numbers.
        rows: Rows of the summary, each with its picture as path data.
        count: How many rows there are.
    """
    numeric = {head: only for head, only in heads.items() if head not in _HIDDEN}
    columns = "".join(
        f'<th scope="col"{"" if only else " class=text"}><button type="button">{html.escape(head)}</button></th>'
        for head, only in numeric.items()
    )
    yield (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width">\n<title>family of sizes</title>\n'
        f"<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n<h1>Family of sizes</h1>\n"
        f'<p><label>Find <input id="find" type="search"></label> <span id="shown">{count}</span> of {count} '
        f"boxes. Lengths in mm. A head sorts its column.</p>\n"
        f'<table>\n<thead><tr><th scope="col" class="text">picture</th>{columns}</tr></thead>\n<tbody>\n'
    )
    for row in rows:
        yield f"{_row(row, numeric)}\n"
    yield f"</tbody>\n</table>\n</main>\n<script>{_SCRIPT}</script>\n</body>\n</html>\n"


def _row(row: Mapping[str, Any], numeric: Mapping[str, bool]) -> str:
    name = html.escape(str(row.get("file", "")))
    path = f'<path d="{row.get("picture", "")}"/>'
    picture = f'<td><svg viewBox="-1 -1 98 50" role="img" aria-label="{name}">{path}</svg></td>'
    return f"<tr>{picture}{''.join(_cell(head, row.get(head), only) for head, only in numeric.items())}</tr>"


def _cell(head: str, value: Any, numeric: bool) -> str:
    text = "" if value is None else html.escape(str(value))
    if numeric:
        return f"<td>{text}</td>"
    kinds = "long" if head == "worst finding" else "text fail" if value == "fail" else "text"
    return f'<td class="{kinds}">{text}</td>'
