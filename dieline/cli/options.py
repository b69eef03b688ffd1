"""Options that several commands share, each declared once."""

from pathlib import Path
from typing import Annotated

import typer

__all__ = [
    "Boards",
    "Features",
    "Folds",
    "House",
    "JobBoard",
    "Limits",
    "Machine",
    "Mass",
    "Name",
    "Options",
    "Report",
    "Size",
    "SizeIs",
    "Target",
    "Unit",
]

Target = Annotated[
    list[str],
    typer.Argument(
        metavar="STYLE SIZE | FILE...",
        help="A style and a size (0201 300x200x150), job files (.toml), or drawings with their job (.svg, .dxf).",
        show_default=False,
    ),
]
JobBoard = Annotated[str, typer.Option("--board", "-b", help="Name of the board.", show_default=False)]
Size = Annotated[str, typer.Option("--size", help="Another size for a job file or drawing.", show_default=False)]
Options = Annotated[list[str] | None, typer.Option("--set", "-s", metavar="NAME=VALUE", help="An option of the style.")]
Folds = Annotated[
    list[str] | None,
    typer.Option(
        "--fold",
        metavar="PANEL=KIND",
        help="How the fold that a panel hangs on is made: crease, perforated, cut-crease, reverse crease.",
    ),
]
Features = Annotated[
    list[str] | None,
    typer.Option(
        "--feature",
        metavar="KIND:PANEL[:WxH][@X,Y]",
        help="Put on a panel: hand-hole, vent, window, cut-out, hang-hole, thumb-notch, tear-strip, perforation.",
    ),
]
SizeIs = Annotated[
    str, typer.Option("--size-is", help="What the size measures: inside, crease or outside.", show_default=False)
]
Unit = Annotated[
    str, typer.Option("--unit", help="Unit of bare numbers in the size: mm, cm or in.", show_default=False)
]
Boards = Annotated[Path | None, typer.Option("--boards", help="Your own board file.")]
House = Annotated[Path | None, typer.Option("--house", help="Your house file: allowances and defaults.")]
Machine = Annotated[Path | None, typer.Option("--machine", help="Your machine file: layers, colours, limits.")]
Limits = Annotated[Path | None, typer.Option("--limits", help="Your own limits for findings.")]
Mass = Annotated[str, typer.Option("--mass", help="Mass of the contents, such as '8.5 kg'.", show_default=False)]
Name = Annotated[str, typer.Option("--name", help="Name for the files and the title.", show_default=False)]
Report = Annotated[str, typer.Option("--report", metavar="json", help="Print one JSON document and nothing else.")]
