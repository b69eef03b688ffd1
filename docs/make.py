"""Makes the pages and pictures that come from the code. ``make docs`` writes them, ``--check`` only compares."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from make_stacking import stacking_pages

from dieline.board import Board, find_board
from dieline.checks import catalogue
from dieline.cli.lists import example_board
from dieline.files import file_texts
from dieline.fold import prove_folded
from dieline.job import Output, make_job
from dieline.job_file import read_job
from dieline.pipeline import Result, run
from dieline.registry import iter_styles
from dieline.style.contract import Style
from dieline.style.parameter import Kind, Parameter
from dieline.units import format_mm, parse_size

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
_MADE = "<!-- made by docs/make.py from the code; change the code, not this page -->\n\n"


def pages() -> Iterator[tuple[Path, str]]:
    """Every generated file with its content."""
    styles = [style for style in iter_styles() if isinstance(style, Style)]
    yield DOCS / "reference" / "styles.md", _MADE + "".join(_styles(styles))
    yield DOCS / "reference" / "findings.md", _MADE + "".join(_findings())
    yield DOCS / "reference" / "commands.md", _MADE + "".join(_commands())
    yield DOCS / "sizes.md", _sizes((DOCS / "sizes.md").read_text(encoding="utf-8"))
    for style in styles:
        result = run(make_job(style.code, style.example, example_board(style)))
        yield from _pictures(result, f"{style.code}")
    yield from _pictures(run(read_job(ROOT / "samples" / "kettle-shipper.toml")), "kettle-shipper")
    yield from stacking_pages()


def _pictures(result: Result, name: str) -> Iterator[tuple[Path, str]]:
    """The drawing of each piece, and the folded box."""
    job = replace(result.job, name=name, output=Output(formats=("svg", "folded-svg"), carry_job=False))
    for file, text in file_texts(replace(result, job=job)).items():
        yield DOCS / "pictures" / file, text


def _styles(styles: list[Style]) -> Iterator[str]:
    yield "# Styles\n\nEach style at its example size, flat and folded, as dieline draws them.\n\n"
    yield "| code | group | title |\n|---|---|---|\n"
    for style in styles:
        anchor = f"{style.code} {style.title}".lower().replace(" ", "-").replace("/", "").replace(",", "")
        yield f"| [{style.code}](#{anchor}) | {style.group} | {style.title} |\n"
    for style in styles:
        yield from _style(style)


def _style(style: Style) -> Iterator[str]:
    board = example_board(style)
    result = run(make_job(style.code, style.example, board))
    yield f"\n## {style.code} {style.title}\n\n{style.summary} {style.use}\n\n"
    single = len(result.drawings) == 1
    for drawing in result.drawings:
        file = f"{style.code}.svg" if single else "-".join((style.code, *drawing.name.split())) + ".svg"
        yield f"![flat](../pictures/{file})\n"
    yield f"![folded](../pictures/{style.code}-folded.svg)\n\n"
    if style.fourth is not None:
        yield f"Fourth size, after the stroke: **{style.fourth.name}**, {style.fourth.help}.\n\n"
    yield f"Source of the code: {style.source}. Defaults and ranges at {result.order.inside} on board {board.name}:\n\n"
    yield "| option | default | range | what it is | source |\n|---|---|---|---|---|\n"
    for parameter in style.parameters:
        yield (
            f"| `{parameter.name}` | {_value(result.order.options[parameter.name])} | {_range(parameter, result)} "
            f"| {parameter.help} | {parameter.source} |\n"
        )
    yield "\n| dimension | mm | derivation |\n|---|---|---|\n"
    for line in result.design.sizes:
        yield f"| {line.name} | {format_mm(line.value, 3)} | {line.derivation} |\n"


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return format_mm(value) if isinstance(value, float | int) else str(value)


def _range(parameter: Parameter, result: Result) -> str:
    if parameter.kind is Kind.CHOICE:
        return ", ".join(f"`{word}` {meaning}" for word, meaning in (parameter.choices or {}).items())
    if parameter.kind is Kind.SWITCH:
        return "yes, no"
    low, high = parameter.range_for(result.order)
    if abs(low) == abs(high) == float("inf"):
        return parameter.kind.unit
    return f"{Parameter.range_text(low, high)} {parameter.kind.unit}".strip()


def _findings() -> Iterator[str]:
    yield (
        "# Findings\n\nWhat the trade would say about a design. A note is for information, a warning for thought; "
        "an error makes `draw` end with exit code 1. Limits can be replaced by a plant's own (`--limits FILE`, same "
        "names).\n"
    )
    for check in catalogue():
        yield f"\n## {check.name}\n\n{check.what}\n\n"
        for part in ("Why", "Limit", "Fails", "Passes"):
            yield f"- **{part}**: {check.part(part)}\n"
        for name, limit in zip(check.limits, check.limit_values(), strict=True):
            yield f"- `{name}` = {limit}: {limit.source} ({limit.confidence})\n"


def _commands() -> Iterator[str]:
    yield "# Commands\n\nExit codes: 0 fine, 1 a proof failed or a finding of error level, 2 wrong use.\n"
    yield "Every command takes `--report json` and then prints one JSON document and nothing else.\n"
    for words in ([], ["draw"], ["styles"], ["boards"], ["schema"], ["checks"]):
        done = subprocess.run(
            [sys.executable, "-m", "dieline", *words, "--help"],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "COLUMNS": "100", "TERM": "dumb", "NO_COLOR": "1"},
        )
        lines = "\n".join(line.rstrip() for line in done.stdout.strip().splitlines())
        yield f"\n## {' '.join(['dieline', *words])}\n\n```text\n{lines.replace('python -m dieline', 'dieline')}\n```\n"


def _sizes(page: str) -> str:
    """The page on sizes, its table of makers worked out anew."""
    head, _, rest = page.partition("<!-- table: maker allowances -->\n")
    _, _, tail = rest.partition("<!-- end -->")
    return f"{head}<!-- table: maker allowances -->\n{''.join(_makers())}<!-- end -->{tail}"


def _makers() -> Iterator[str]:
    yield "| maker's table | board | t mm | from inside to | maker adds L / B / H | the rule adds L / B / H | |\n"
    yield "|---|---|---|---|---|---|---|\n"
    with (ROOT / "tests/outside/data/maker_allowances.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            added = _ruled(float(row["thickness_mm"]), row["from_to"])
            maker = [float(row[f"add_{side}_mm"]) for side in "LBH"]
            same = all(abs(a - b) < 1e-6 for a, b in zip(added, maker, strict=True))
            yield (
                f"| {row['source']} | {row['board']} | {format_mm(float(row['thickness_mm']), 3)} "
                f"| {row['from_to'].removeprefix('inside to ')} | {_three(maker)} | {_three(added)} "
                f"| {'agrees' if same else 'maker adds more'} |\n"
            )


def _three(values: list[float]) -> str:
    return " / ".join(format_mm(value, 3) for value in values)


def _ruled(thickness: float, way: str) -> list[float]:
    c = find_board("C")
    board: Board = replace(c, name="maker", design=replace(c.design, value=thickness))
    size = parse_size("400x300x250")
    design = run(make_job("0201", size, board)).design
    grown = design.crease[:3] if way.endswith("crease") else prove_folded(design, board).outside
    return [float(value or 0.0) - float(asked or 0.0) for value, asked in zip(grown, size[:3], strict=True)]


def main(check: bool) -> int:
    """Write every generated file, or say which are out of date; 1 if any is."""
    stale = 0
    for path, text in pages():
        if path.exists() and path.read_text(encoding="utf-8") == text:
            continue
        stale += 1
        print(f"{'out of date' if check else 'wrote'}: {path.relative_to(ROOT)}")
        if not check:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
    return 1 if check and stale else 0


if __name__ == "__main__":
    sys.exit(main("--check" in sys.argv[1:]))
