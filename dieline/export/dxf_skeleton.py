"""The DXF skeletons: everything of a DXF file that is the same for every drawing, made once by ezdxf.

Run ``python -m dieline.export.dxf_skeleton`` to make them anew. Nothing that writes a drawing imports this file; a
test holds the shipped skeletons equal to what it makes.
"""

from __future__ import annotations

import io
from itertools import pairwise
from pathlib import Path

from ezdxf.document import Drawing as Document

from ..linetypes import LOOKS

__all__ = ["VERSIONS", "make_skeleton", "skeleton_path"]

Record = list[tuple[str, str]]
"""A part of the file that begins with group code 0: (code, value) pairs as written."""

VERSIONS = ("R12", "R2010")

_HEADER = {
    "$ACADVER", "$ACADMAINTVER", "$DWGCODEPAGE", "$INSBASE", "$EXTMIN", "$EXTMAX", "$LIMMIN", "$LIMMAX", "$LTSCALE",
    "$TEXTSIZE", "$TEXTSTYLE", "$CLAYER", "$CELTYPE", "$CECOLOR", "$CELTSCALE", "$LUNITS", "$LUPREC", "$AUNITS",
    "$AUPREC", "$ANGBASE", "$ANGDIR", "$HANDLING", "$HANDSEED", "$PLINEGEN", "$TILEMODE", "$LWDISPLAY", "$PSTYLEMODE",
    "$EXTNAMES", "$CMATERIAL",
}  # fmt: skip
"""What a reader needs; the rest is the state of an editor, dates and identities among it."""

_NUMBERS = {
    "700001.5": "x0",
    "700002.5": "y0",
    "700003.5": "x1",
    "700004.5": "y1",
    "700005.5": "view x",
    "700006.5": "view y",
    "700007.5": "view height",
    "700008.5": "line scale",
}
"""Numbers that no skeleton holds by chance, and the place that each of them marks."""

_SEAT = "LAYERS_STAND_HERE"

_XDATA = 1000
"""Group codes from here on are a program's private data."""


def skeleton_path(version: str) -> Path:
    """Where the skeleton of a version is shipped."""
    return Path(__file__).parents[1] / "data" / f"skeleton_{version.lower()}.dxf"


def make_skeleton(version: str) -> str:
    """A skeleton with a named place, ``<x0>`` or ``<entities>``, for whatever differs from drawing to drawing.

    Args:
        version: ``R12`` or ``R2010``.
    """
    document = Document.new(version)
    _tables(document)
    _sizes(document)
    stream = io.StringIO()
    document.write(stream)
    records = _without_maker(_records(stream.getvalue()))
    records[0] = _short_header(records[0])
    # ezdxf takes the classes from a set: sorted, they no longer stand in another order each time.
    classes = iter(sorted(record for record in records if record[0][1] == "CLASS"))
    records = [next(classes) if record[0][1] == "CLASS" else record for record in records]
    return _with_places("".join(f"{code}\n{value}\n" for record in records for code, value in record))


def _tables(document: Document) -> None:
    """Line types by meaning, a seat for the layers after layer 0, no other entry of ours."""
    for look in LOOKS.values():
        if look.dash and look.line_type not in document.linetypes:
            signed = [length if number % 2 == 0 else -length for number, length in enumerate(look.dash)]
            words = ", ".join(other.words for other in LOOKS.values() if other.line_type == look.line_type)
            document.linetypes.add(look.line_type, [sum(look.dash), *signed], description=words)
    document.layers.remove("Defpoints")
    document.layers.add(_SEAT)


def _sizes(document: Document) -> None:
    """Numbers that mark the places of extents, limits, the first view and the scale of the dashes."""
    x0, y0, x1, y1, view_x, view_y, view_height, scale = (float(number) for number in _NUMBERS)
    document.set_modelspace_vport(height=view_height, center=(view_x, view_y))
    space = document.modelspace()
    space.dxf.extmin, space.dxf.extmax = (x0, y0, 0.0), (x1, y1, 0.0)
    space.dxf.limmin, space.dxf.limmax = (x0, y0), (x1, y1)
    document.header["$LTSCALE"] = scale
    if document.dxfversion == "AC1009":
        document.header["$HANDLING"] = 0


def _records(text: str) -> list[Record]:
    """The file as records."""
    lines = text.split("\n")
    records: list[Record] = []
    for code, value in zip(lines[0::2], lines[1::2], strict=False):
        if code == "  0":
            records.append([])
        records[-1].append((code, value))
    return records


def _short_header(header: Record) -> Record:
    """The header cut down to what a reader needs, with the units, which ezdxf leaves out of R12."""
    kept: Record = []
    name = ""
    for code, value in header:
        name = value if code == "  9" else name
        if not name or name in _HEADER:
            kept.append((code, value))
    return [*kept, ("  9", "$MEASUREMENT"), (" 70", "<metric>"), ("  9", "$INSUNITS"), (" 70", "<unit>")]


def _without_maker(records: list[Record]) -> list[Record]:
    """The records without ezdxf's own: its application name, and what it notes of its version and the date."""
    own = {value for record in records for code, value in _own_handles(record)}
    kept: list[Record] = []
    for record in records:
        if record[0][1] == "DICTIONARYVAR" or (record[0][1] == "APPID" and ("  2", "EZDXF") in record):
            continue
        if any(code == "  5" and value in own for code, value in record):
            continue
        kept.append([pair for pair in _without_entry(record, own) if int(pair[0]) < _XDATA])
    return [_counted(record, kept) for record in kept]


def _own_handles(record: Record) -> Record:
    """The pair that points to ezdxf's notes, in the dictionary that holds it."""
    return [pair for before, pair in pairwise(record) if before == ("  3", "EZDXF_META")]


def _without_entry(record: Record, own: set[str]) -> Record:
    """A record without the entry that points to ezdxf's notes."""
    return [pair for pair in record if pair != ("  3", "EZDXF_META") and not (pair[0] == "350" and pair[1] in own)]


def _counted(record: Record, records: list[Record]) -> Record:
    """A table's head with the true count of its entries."""
    if record[0][1] != "TABLE":
        return record
    name = record[1][1]
    count = sum(other[0][1] == name for other in records)
    words = "<layer count>" if name == "LAYER" else str(count)
    return [(code, words if code == " 70" else value) for code, value in record]


def _with_places(text: str) -> str:
    """Numbers that mark places exchanged for names, and places for layers, entities and the next free handle."""
    for number, place in _NUMBERS.items():
        if f"\n{number}\n" not in text:
            raise ValueError(f"ezdxf wrote nothing for '{place}'")
        text = text.replace(f"\n{number}\n", f"\n<{place}>\n")
    before, after = text.split(f"  2\n{_SEAT}\n")
    text = before[: before.rindex("  0\nLAYER\n")] + "<layers>\n" + after[after.index("  0\n") :]
    text = text.replace("  2\nENTITIES\n", "  2\nENTITIES\n<entities>\n")
    if "$HANDSEED" in text:
        before, after = text.split("$HANDSEED\n  5\n")
        text = f"{before}$HANDSEED\n  5\n<next handle>{after[after.index(chr(10)) :]}"
    return text


def main() -> None:
    """Make both skeletons anew."""
    for version in VERSIONS:
        path = skeleton_path(version)
        path.write_text(make_skeleton(version), encoding="ascii", newline="\n")
        print(f"{path}: {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
