"""Makes the answers and pictures of ``stacking.md`` from the sample jobs; ``make.py`` writes or compares them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from dieline.job_file import read_job
from dieline.pipeline import run
from dieline.stacking import board_rows, stack_answer, stack_pictures
from dieline.strength.answer_text import answer_lines, board_lines
from dieline.strength.boards_table import boards_that_hold

DOCS = Path(__file__).parent
SAMPLES = ("stack-kettle-case", "stack-cast-iron-case", "stack-display-tray")

__all__ = ["SAMPLES", "stacking_pages"]


def stacking_pages() -> Iterator[tuple[Path, str]]:
    """The page with its answers anew, and each picture."""
    path = DOCS / "stacking.md"
    page = path.read_text(encoding="utf-8")
    for name in SAMPLES:
        result = run(read_job(DOCS.parent / "samples" / f"{name}.toml"))
        found = stack_answer(result)
        rows = boards_that_hold(board_rows(result, found))
        pictures = list(stack_pictures(result, found))
        for file, text in pictures:
            yield DOCS / "pictures" / file, text
        lines = [*answer_lines(found), *board_lines(rows)]
        answer = "```text\n" + "\n".join(lines) + "\n```\n\n"
        answer += "".join(f"![{name}](pictures/{file})\n" for file, _ in pictures)
        mark = rf"(<!-- answer: {name} -->\n).*?(<!-- end -->)"
        page = re.sub(mark, lambda match, answer=answer: match[1] + answer + match[2], page, flags=re.DOTALL)  # type: ignore[misc]
    yield path, page


if __name__ == "__main__":
    for made, text in stacking_pages():
        made.write_text(text, encoding="utf-8", newline="\n")
        print(f"wrote {made.name}")
