"""The commands that judge a job by looking at it: the page, and the stack."""

from pathlib import Path
from typing import Annotated

import typer

from .guard import guarded
from .options import (
    Boards,
    Features,
    Folds,
    House,
    JobBoard,
    Limits,
    Machine,
    Mass,
    Name,
    Options,
    Report,
    Size,
    SizeIs,
    Target,
    Unit,
)

__all__ = ["preview", "stack"]


def preview(
    target: Target,
    board: JobBoard = "",
    size: Size = "",
    options: Options = None,
    folds: Folds = None,
    features: Features = None,
    size_is: SizeIs = "",
    unit: Unit = "",
    boards: Boards = None,
    house: House = None,
    machine: Machine = None,
    limits: Limits = None,
    mass: Mass = "",
    name: Name = "",
    html: Annotated[
        Path | None, typer.Option("--html", help="Write the page as one file to send by mail, and stop.")
    ] = None,
    host: Annotated[
        str, typer.Option("--host", help="Address to listen on; this machine alone by default.", show_default=False)
    ] = "",
    port: Annotated[
        int | None, typer.Option("--port", min=0, max=65535, help="Port to listen on; 0 takes any that is free.")
    ] = None,
    show: Annotated[bool, typer.Option("--open/--no-open", help="Whether to open the page in a browser.")] = True,
) -> None:
    """Open a page that shows the blank, folds it, explains it, and redraws it as the numbers change."""
    from .draw import Wishes
    from .preview import preview as show_page

    wishes = Wishes(
        board=board,
        size=size,
        options=tuple(options or ()),
        folds=tuple(folds or ()),
        features=tuple(features or ()),
        size_is=size_is,
        unit=unit,
        files=_files(boards, house, machine, limits),
        output={},
        mass=mass,
        name=name,
    )
    guarded(lambda: show_page(target, wishes, html=html, host=host, port=port, show=show), "")


def stack(
    target: Target,
    load: Annotated[
        list[str] | None,
        typer.Option("--load", "-l", metavar="NAME=VALUE", help="A value of the load table: layers=5, days=30 …"),
    ] = None,
    board: JobBoard = "",
    size: Size = "",
    options: Options = None,
    size_is: SizeIs = "",
    unit: Unit = "",
    boards: Boards = None,
    house: House = None,
    mass: Mass = "",
    name: Name = "",
    table: Annotated[bool, typer.Option("--table", help="List the boards that would hold, lightest first.")] = False,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Folder for the pictures of the stack.")] = None,
    report: Report = "",
) -> None:
    """Say whether the box holds its stack: required against available compression, with the band of uncertainty."""
    from .draw import Wishes
    from .stack import stack_command

    wishes = Wishes(
        board=board,
        size=size,
        options=tuple(options or ()),
        size_is=size_is,
        unit=unit,
        files=_files(boards, house, None, None),
        output={},
        mass=mass,
        name=name,
    )
    guarded(lambda: stack_command(target, wishes, load or (), boards=table, out=out, report=report), report)


def _files(boards: Path | None, house: Path | None, machine: Path | None, limits: Path | None) -> dict[str, Path]:
    """The user's own files that are given, by what they are."""
    given = {"boards": boards, "house": house, "machine": machine, "limits": limits}
    return {kind: path for kind, path in given.items() if path is not None}
