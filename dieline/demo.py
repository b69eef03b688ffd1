"""``make demo``: draws the first sample job and says where the files are and what was proved."""

from __future__ import annotations

import sys
from pathlib import Path

from .cli.show import sizes_text
from .errors import DielineError
from .files import write
from .job_file import read_job
from .pipeline import run

__all__ = ["main"]


def main() -> int:
    """Draw the sample; 0 if its proofs held."""
    job = Path("samples/kettle-shipper.toml")
    folder = Path("out")
    try:
        result = run(read_job(job))
        files = write(result, folder)
    except DielineError as error:
        print(f"error: {error}", file=sys.stderr)
        return 2
    folded = result.folded
    print(f"\nDrew {job}: {result.style.code} {result.style.title}, inside {result.design.inside} mm\n")
    for path in files:
        print(f"  {path.resolve()}")
    print(
        f"\nProved before anything was written:"
        f"\n  flat      {sum(report.faces for report in result.flat)} faces bounded, one piece, nothing doubled"
        f"\n  folded    inside measures {sizes_text(folded.inside)} mm; {len(folded.clashes)} clashes; "
        + ", ".join(f"{shut.face.value} shut" for shut in result.design.closed)
        + "\n  written   each file read back from disk, every stroke where it was measured, to 0.001 mm\n"
        "\nOpen the .svg in a browser; send the .dxf to the cutting table."
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
