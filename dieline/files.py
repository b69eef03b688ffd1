"""Writing the files of a result: made, written aside, read back and measured, and only then given their names."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Hashable, Iterable
from pathlib import Path
from typing import NamedTuple

from .drawing.model import Drawing, Side
from .drawing.notes import annotate
from .errors import InputError, OutputError, ProofError
from .export.dxf import dxf_text
from .export.faces import Written, by_meaning, measure_faces
from .export.measure_back import compare, compare_lengths
from .export.read_dxf import read_dxf
from .export.read_svg import read_svg
from .export.same import same_strokes
from .export.svg import svg_text
from .linetypes import TOOL_ORDER, Meaning
from .pipeline import Result
from .units import format_mm

__all__ = ["file_texts", "write"]

_SUFFIXES = {"dxf": ".dxf", "svg": ".svg", "cut-svg": "-cut.svg", "folded-svg": "-folded.svg"}


class _Entry(NamedTuple):
    """One file to be written: its text, what kind it is, and the piece that it shows (None for the folded box)."""

    text: str
    kind: str
    piece: int | None


def file_texts(result: Result) -> dict[str, str]:
    """The text of every file of a result, by file name, in the order they are written.

    Raises:
        ProofError: If the flat or the folded proof failed: such a drawing is not made.
    """
    return {name: entry.text for name, entry in _entries(result).items()}


def _entries(result: Result) -> dict[str, _Entry]:
    if result.failures:
        proof = "flat" if any(report.failures for report in result.flat) else "folded"
        raise ProofError(proof, result.failures)
    maker, base = _Maker(result), result.job.file_name
    single = len(result.drawings) == 1
    entries: dict[str, _Entry] = {}
    for number, drawing in enumerate(result.drawings):
        piece = base if single else "-".join((base, *drawing.name.split()))
        for kind in result.job.output.formats:
            if kind != "folded-svg":
                entries[piece + _SUFFIXES[kind]] = _Entry(maker.piece(number, kind), kind, number)
    if "folded-svg" in result.job.output.formats:
        entries[base + _SUFFIXES["folded-svg"]] = _Entry(maker.folded(), "folded-svg", None)
    return entries


def write(result: Result, folder: Path, *, aside: Path | None = None) -> list[Path]:
    """Write the files of a result and read each one back; all of them appear, or none.

    Args:
        result: The result.
        folder: Where to; made if it is not there.
        aside: Where files lie until they are found right, on one disk with the folder; beside their places if None.

    Returns:
        The files, in the order they were written.

    Raises:
        ProofError: If a proof failed; nothing is left behind.
        OutputError: If a file could not be written; nothing is left behind.
    """
    entries = _entries(result)
    try:
        for place in (folder, aside or folder):
            if not place.is_dir():  # mkdir, refused, costs more than asking
                place.mkdir(parents=True, exist_ok=True)
    except (FileExistsError, NotADirectoryError):
        raise OutputError(str(folder), "is a file", "it must be a folder", "choose another --out") from None
    except OSError as error:
        raise _output_error(folder, error) from None
    # Plain words: a path of pathlib takes as long to open as the system does.
    parts = {folder / name: f"{aside or folder}{os.sep}.{name}.{os.getpid()}.part" for name in entries}
    try:
        for (final, part), entry in zip(parts.items(), entries.values(), strict=True):
            _write_part(final, part, entry.text)
        reader = _Reader(result)
        failures = [
            f"{final.name}: {line}"
            for (final, part), entry in zip(parts.items(), entries.values(), strict=True)
            for line in reader.faults(part, entry)
        ]
        if failures:
            raise ProofError("written", failures)
        for final, part in parts.items():
            try:
                os.replace(part, final)
            except OSError as error:
                raise _output_error(final, error) from None
    except BaseException:
        for part in parts.values():
            with contextlib.suppress(OSError):
                os.unlink(part)
        raise
    return list(parts)


def _write_part(final: Path, part: str, text: str) -> None:
    try:
        with open(part, "wb") as file:
            file.write(text.encode())
    except OSError as error:
        raise _output_error(final, error) from None


def _output_error(path: Path, error: OSError) -> OutputError:
    return OutputError(
        str(path),
        error.strerror or str(error),
        "it must be a place with room that may be written to",
        "nothing was written",
    )


class _Maker:
    """Makes the texts of a result's files; what two of them share is made once."""

    def __init__(self, result: Result) -> None:
        self.result = result
        self.carried = result.job.text() if result.job.output.carry_job else ""
        self._annotated: dict[int, Drawing] = {}

    def piece(self, number: int, kind: str) -> str:
        """The file of one piece."""
        job, drawing = self.result.job, self.result.drawings[number]
        output = job.output
        if kind == "dxf":
            return dxf_text(
                self.annotated(number) if output.notes else drawing,
                job.machine,
                version=output.dxf,
                unit=output.unit,
                arcs=output.arcs,
                notes=output.notes,
                job=self.carried,
            )
        notes = kind == "svg"
        return svg_text(self.annotated(number) if notes else drawing, job.machine, job=self.carried, notes=notes)

    def annotated(self, number: int) -> Drawing:
        """The drawing of one piece with its notes."""
        if number not in self._annotated:
            result, job = self.result, self.result.job
            mass = [f"contents {format_mm(job.mass, 3)} kg"] if job.mass is not None else []
            self._annotated[number] = annotate(
                result.drawings[number],
                result.design.pieces[number].blank,
                result.design,
                job.board,
                title=job.name or f"{result.design.style} {result.design.inside}",
                outside=result.folded.outside,
                style_title=result.style.title,
                extra=[*result.design.words, *mass, *([job.note] if job.note else [])],
                revision=job.revision,
                patterns={meaning: pen.pattern for meaning, pen in job.machine.pens.items() if pen.pattern},
            )
        return self._annotated[number]

    def folded(self) -> str:
        """The picture of the folded box, opened and closed."""
        from .blank import Face
        from .export.folded_svg import folded_svg
        from .fold.motion import opened
        from .fold.slide import apart
        from .fold.view import folded_view

        design, t = self.result.design, self.result.job.board.thickness
        views = [folded_view(design, t)]
        looped = any(piece.blank.seams for piece in design.pieces)  # what is one board all round lifts only as a whole
        if design.slides:
            views.insert(0, folded_view(apart(design), t))
        elif any(shut.face is Face.TOP for shut in design.closed) and not looped:
            bends = [opened(piece.folded, {Face.TOP}, 110.0) for piece in design.pieces]
            views.insert(0, folded_view(design, t, bends=bends))
        return folded_svg(views, title=f"{design.style} {design.inside}, folded")


class _Reader:
    """Reads written files back and says what is wrong with them: the third proof.

    Where the flat proof has found the strokes of a drawing to bound its panels corner for corner, a file that holds
    these strokes, each to a thousandth of a millimetre, is right. Else its faces are measured anew and compared with
    the blank; a further file of the piece then only has to hold the same strokes as one that was found right.
    """

    def __init__(self, result: Result) -> None:
        self.result = result
        self.profile = result.job.machine
        self._right: dict[int, list[Written]] = {}

    def faults(self, part: str, entry: _Entry) -> list[str]:
        """What is wrong with a file as it lies on disk."""
        if entry.piece is None:
            return []
        try:
            with open(part, "rb") as file:
                text = file.read().decode()
            strokes = self._strokes(text, entry.kind)
        except InputError as error:
            return [str(error)]
        right = self._right.get(entry.piece)
        if right is None and self.result.flat[entry.piece].measured:
            right = self._right[entry.piece] = self._drawn(entry.piece)
        if right is not None and same_strokes(strokes, right):
            return []
        found = self._measured(strokes, entry.piece)
        if not found:
            self._right[entry.piece] = strokes
        return found

    def _strokes(self, text: str, kind: str) -> list[Written]:
        """What tools do in a file; notes and glue zones, where it has any, are for people."""
        strokes = read_dxf(text).strokes if kind == "dxf" else read_svg(text)
        return [stroke for stroke in by_meaning(strokes, self.profile) if stroke[0] in TOOL_ORDER]

    def _drawn(self, piece: int) -> list[Written]:
        """The strokes of a drawing, as a file that is right gives them back."""
        paths = [stroke.path for stroke in self.result.drawings[piece].strokes]
        meanings = self._read_as(stroke.meaning for stroke in self.result.drawings[piece].strokes)
        return [(meaning, path.points, path.bulges, path.closed) for meaning, path in zip(meanings, paths, strict=True)]

    def _read_as(self, meanings: Iterable[Meaning]) -> list[Hashable]:
        """What meanings come back as: those that share a layer in this profile come back as one."""
        pens = self.profile.pens
        return [
            key for key, *_ in by_meaning([(pens[meaning].layer, (), (), False) for meaning in meanings], self.profile)
        ]

    def _measured(self, strokes: list[Written], piece: int) -> list[str]:
        faces = measure_faces(strokes)
        lengths = self.result.drawings[piece].lengths()
        wanted: dict[Hashable, float] = {}
        for key, length in zip(self._read_as(lengths), lengths.values(), strict=True):
            wanted[key] = wanted.get(key, 0.0) + length
        side = Side(self.result.job.output.side)
        return [
            *compare(faces, self.result.design.pieces[piece].blank, side),
            *compare_lengths(faces, wanted),
        ]
