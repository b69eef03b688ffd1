"""The command line: a thin shell over the pipeline. It reads, writes and prints, and decides nothing."""

from __future__ import annotations

import gc
import sys

__all__ = ["main"]


def main() -> None:
    """Run the command line and leave with its exit code: 0 fine, 1 a proof or finding failed, 2 wrong use."""
    # A start makes some hundred thousand objects that stay; looking for garbage among them takes a tenth of it.
    gc.set_threshold(200_000)
    from .app import app

    # A size with a dash before it is no option: it goes on, to be refused as a size.
    words = [f" {word}" if word[:1] == "-" and word[1:2].isdigit() else word for word in sys.argv[1:]]
    try:
        app(words)
    except KeyboardInterrupt:
        print("stopped; no half-written file is left", file=sys.stderr)
        sys.exit(130)
    except BrokenPipeError:
        # The reader of our output has gone (``| head``); there is nobody left to tell.
        sys.stderr.close()
        sys.exit(141)
