"""The commands and their options. Each imports what it needs when it runs, so that every start is quick.

Annotations are real here, not put off: typer would have to evaluate each of a hundred from its text at every start.
"""

from pathlib import Path
from typing import Annotated

import typer

from . import app_looks
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

__all__ = ["app"]

app = typer.Typer(
    name="dieline",
    help="Flat blanks for corrugated and carton boxes: folded, measured and read back before they are written.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(f"dieline {version('dieline')}")
        raise typer.Exit


@app.callback()
def start(
    version: Annotated[  # its callback has done the work
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Flat blanks for corrugated and carton boxes: folded, measured and read back before they are written."""


@app.command()
def draw(
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
    formats: Annotated[
        list[str] | None, typer.Option("--format", "-f", help="dxf, svg, cut-svg or folded-svg; may be repeated.")
    ] = None,
    dxf: Annotated[str, typer.Option("--dxf", help="DXF version: R2010 or R12.", show_default=False)] = "",
    dxf_unit: Annotated[str, typer.Option("--dxf-unit", help="Unit of the DXF: mm or in.", show_default=False)] = "",
    arcs: Annotated[
        str, typer.Option("--arcs", help="Arcs in the DXF: bulge, or separate LINE and ARC.", show_default=False)
    ] = "",
    side: Annotated[str, typer.Option("--side", help="Side that faces up: inside or print.", show_default=False)] = "",
    notes: Annotated[
        bool, typer.Option("--notes", help="Put the notes into the DXF too, on layers that no tool reads.")
    ] = False,
    carry_job: Annotated[bool, typer.Option("--carry-job/--no-job", help="Whether each file carries its job.")] = True,
    mass: Mass = "",
    name: Name = "",
    revision: Annotated[str, typer.Option("--revision", help="Revision to print.", show_default=False)] = "",
    out: Annotated[Path, typer.Option("--out", "-o", help="Folder for the files.")] = Path(),
    report: Report = "",
) -> None:
    """Draw a box: build it, fold it, measure it, write the files and read them back."""
    from .draw import Wishes, draw_all

    wishes = Wishes(
        board=board,
        size=size,
        options=tuple(options or ()),
        folds=tuple(folds or ()),
        features=tuple(features or ()),
        size_is=size_is,
        unit=unit,
        files={"boards": boards, "house": house, "machine": machine, "limits": limits},
        output={
            "formats": list(formats or ()),
            "dxf": dxf,
            "unit": dxf_unit,
            "arcs": arcs,
            "side": side,
            "notes": notes,
            "carry_job": None if carry_job else False,
        },
        mass=mass,
        name=name,
        revision=revision,
    )
    guarded(lambda: draw_all(target, wishes, out, report), report)


@app.command()
def family(
    table: Annotated[str, typer.Argument(help="Table of sizes: CSV, XLSX or TOML.", show_default=False)] = "",
    style: Annotated[str, typer.Option("--style", help="Style of rows that name none.", show_default=False)] = "",
    board: Annotated[str, typer.Option("--board", "-b", help="Board of rows that name none.", show_default=False)] = "",
    options: Annotated[
        list[str] | None, typer.Option("--set", "-s", metavar="NAME=VALUE", help="An option for all rows.")
    ] = None,
    job: Annotated[Path | None, typer.Option("--job", help="A job file with what rows leave open.")] = None,
    boards: Boards = None,
    house: House = None,
    machine: Machine = None,
    limits: Limits = None,
    formats: Annotated[
        list[str] | None, typer.Option("--format", "-f", help="dxf, svg, cut-svg or folded-svg; may be repeated.")
    ] = None,
    names: Annotated[
        str, typer.Option("--names", help="Pattern of file names, made of columns.")
    ] = "{style}-{length}x{breadth}x{height}-{board}",
    by_item: Annotated[bool, typer.Option("--by-item", help="Give each item a folder of its own.")] = False,
    pack: Annotated[bool, typer.Option("--pack", help="Put all drawings into one zip too.")] = False,
    summaries: Annotated[
        list[str] | None, typer.Option("--summary", help="csv, xlsx or html; may be repeated.")
    ] = None,
    near: Annotated[float, typer.Option("--near", help="Blank widths within so many mm stand in one group.")] = 5.0,
    workers: Annotated[int, typer.Option("--workers", help="Processes; 0 takes all cores.")] = 0,
    cluster: Annotated[str, typer.Option("--cluster", help="Address of a Dask scheduler.", show_default=False)] = "",
    template: Annotated[bool, typer.Option("--template", help="Print an example of a table and stop.")] = False,
    out: Annotated[Path, typer.Option("--out", "-o", help="Folder for drawings and summary.")] = Path("family"),
    report: Report = "",
) -> None:
    """Draw a family: every row of a table, with a summary; what is finished already is kept."""
    from .draw import Wishes
    from .family import family_command

    wishes = Wishes(
        board=board,
        options=tuple(options or ()),
        files={"boards": boards, "house": house, "machine": machine, "limits": limits},
        output={"formats": list(formats or ())},
    )
    guarded(
        lambda: family_command(
            table,
            wishes,
            out,
            template=template,
            style=style,
            job=job,
            names=names,
            by_item=by_item,
            pack=pack,
            summaries=summaries or (),
            near=near,
            workers=workers,
            cluster=cluster,
            report=report,
        ),
        report,
    )


@app.command()
def styles(
    code: Annotated[str, typer.Argument(help="A style to look at closely.", show_default=False)] = "",
    svg: Annotated[Path | None, typer.Option("--svg", help="Write the style's example as an SVG.")] = None,
    report: Report = "",
) -> None:
    """List the styles, or show one: its options, defaults, ranges and a small picture."""
    from .lists import show_style, show_styles

    guarded(lambda: show_style(code, svg, report) if code else show_styles(report), report)


@app.command()
def boards(
    file: Annotated[Path | None, typer.Option("--boards", help="Your own board file, listed with the library.")] = None,
    report: Report = "",
) -> None:
    """List the boards, each with its thickness and what that rests on."""
    from .lists import show_boards

    guarded(lambda: show_boards(file, report), report)


@app.command()
def schema(report: Report = "") -> None:
    """Print the JSON Schema of the job file, made from what the styles declare."""
    from .lists import show_schema

    guarded(show_schema, report)


@app.command()
def checks(report: Report = "") -> None:
    """List the findings that a drawing can get, each with its limit and source."""
    from .lists import show_checks

    guarded(lambda: show_checks(report), report)


app.command()(app_looks.preview)
app.command()(app_looks.stack)
