"""``dieline preview``: the page of a job, served to a browser or written as one file."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import DielineError, InputError
from .draw import Wishes, job_of

if TYPE_CHECKING:
    from ..web.watched import Watched

__all__ = ["preview"]


def preview(
    target: Sequence[str], wishes: Wishes, *, html: Path | None, host: str, port: int | None, show: bool
) -> int:
    """Serve the page until it is interrupted, or write it as one file.

    Args:
        target: A style and a size, a job file, or a drawing that carries its job.
        wishes: What the command line asks for beside it.
        html: The file to write; None serves.
        host: Address to listen on; empty for this machine alone.
        port: Port; 0 for any that is free, None for the usual one.
        show: Whether to open the page in a browser.

    Returns:
        The exit code.
    """
    if html is not None:
        return _write(target, wishes, html)
    return _serve(target, wishes, host, port, show)


def _write(target: Sequence[str], wishes: Wishes, html: Path) -> int:
    from ..families.store import replace_file
    from ..web.page import mail_page

    replace_file(html, mail_page(job_of(target, wishes)).encode())
    print(f"wrote {html}" if sys.stdout.isatty() else html)
    return 0


def _serve(target: Sequence[str], wishes: Wishes, host: str, port: int | None, show: bool) -> int:
    try:
        from ..web.server import LOOPBACK, PORT, serve
    except ModuleNotFoundError as error:
        if error.name is None or error.name.startswith("dieline"):
            raise
        cure = "install them: python -m pip install 'dieline[preview]'"
        raise InputError("preview", f"needs the package {error.name}", "starlette and uvicorn serve it", cure) from None

    def started(address: str) -> None:
        print(address, flush=True)
        if sys.stdout.isatty():
            print("Ctrl-C ends the preview", flush=True)
        if show:
            import webbrowser

            webbrowser.open(address)

    serve(_order(target, wishes), host=host or LOOPBACK, port=PORT if port is None else port, started=started)
    return 0


def _order(target: Sequence[str], wishes: Wishes) -> Watched:
    """The job to begin with. A job file is watched, unless more is asked for than it says."""
    from ..web.watched import Watched

    watched = len(target) == 1 and Path(target[0]).suffix.lower() == ".toml" and wishes == Wishes(files={}, output={})
    if not watched:
        return Watched(job=job_of(target, wishes).data())
    path = Path(target[0])
    if not path.is_file():
        job_of(target, wishes)  # says what is wrong with it
    try:
        job_of(target, wishes)
    except DielineError as error:
        print(f"error: {error}\nthe page shows it too, and draws as soon as the file is mended", file=sys.stderr)
    return Watched(path=path)
