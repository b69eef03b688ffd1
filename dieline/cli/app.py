"""The commands and their options. Each imports what it needs when it runs, so that every start is quick.

Annotations are real here, not put off: typer would have to evaluate each of a hundred from its text at every start.
"""

from pathlib import Path
from typing import Annotated

import typer

from .guard import guarded

__all__ = ["app"]

app = typer.Typer(
    name="dieline",
    help="Flat blanks for corrugated and carton boxes: folded, measured and read back before they are written.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Report = Annotated[str, typer.Option("--report", metavar="json", help="Print one JSON document and nothing else.")]


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
    target: Annotated[
        list[str],
        typer.Argument(
            metavar="STYLE SIZE | FILE...",
            help="A style and a size (0201 300x200x150), job files (.toml), or drawings with their job (.svg, .dxf).",
            show_default=False,
        ),
    ],
    board: Annotated[str, typer.Option("--board", "-b", help="Name of the board.", show_default=False)] = "",
    size: Annotated[
        str, typer.Option("--size", help="Another size for a job file or drawing.", show_default=False)
    ] = "",
    options: Annotated[
        list[str] | None, typer.Option("--set", "-s", metavar="NAME=VALUE", help="An option of the style.")
    ] = None,
    folds: Annotated[
        list[str] | None,
        typer.Option(
            "--fold",
            metavar="PANEL=KIND",
            help="How the fold that a panel hangs on is made: crease, perforated, cut-crease, reverse crease.",
        ),
    ] = None,
    features: Annotated[
        list[str] | None,
        typer.Option(
            "--feature",
            metavar="KIND:PANEL[:WxH][@X,Y]",
            help="Put on a panel: hand-hole, vent, window, cut-out, hang-hole, thumb-notch, tear-strip, perforation.",
        ),
    ] = None,
    size_is: Annotated[
        str, typer.Option("--size-is", help="What the size measures: inside, crease or outside.", show_default=False)
    ] = "",
    unit: Annotated[
        str, typer.Option("--unit", help="Unit of bare numbers in the size: mm, cm or in.", show_default=False)
    ] = "",
    boards: Annotated[Path | None, typer.Option("--boards", help="Your own board file.")] = None,
    house: Annotated[Path | None, typer.Option("--house", help="Your house file: allowances and defaults.")] = None,
    machine: Annotated[
        Path | None, typer.Option("--machine", help="Your machine file: layers, colours, limits.")
    ] = None,
    limits: Annotated[Path | None, typer.Option("--limits", help="Your own limits for findings.")] = None,
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
    mass: Annotated[
        str, typer.Option("--mass", help="Mass of the contents, such as '8.5 kg'.", show_default=False)
    ] = "",
    name: Annotated[str, typer.Option("--name", help="Name for the files and the title.", show_default=False)] = "",
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
    boards: Annotated[Path | None, typer.Option("--boards", help="Your own board file.")] = None,
    house: Annotated[Path | None, typer.Option("--house", help="Your house file.")] = None,
    machine: Annotated[Path | None, typer.Option("--machine", help="Your machine file.")] = None,
    limits: Annotated[Path | None, typer.Option("--limits", help="Your own limits for findings.")] = None,
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
