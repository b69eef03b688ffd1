"""The flow in one pure function: a job becomes a design, is proved flat and folded, drawn, and looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from shapely.errors import GEOSException

from .blank import Blank, Fold
from .checks import Finding, Inspected, Severity, inspect
from .checks.limits import Limits, limits_from_text, shipped_limits
from .drawing.flat import FlatReport, prove_flat
from .drawing.model import Drawing, Side, draw_blank
from .errors import DielineError, SizeError, StyleError, UnknownNameError
from .feature_shapes import apply_features
from .fold.proof import FoldReport, prove_folded
from .fold.slab import stand_up
from .job import Job, SizeKind
from .linetypes import Meaning
from .registry import find_style
from .style.contract import Style
from .style.design import Design
from .style.order import Order, settle
from .units import Size, check_size

if TYPE_CHECKING:
    from .checks.die_report import DieReport

__all__ = ["Result", "build", "run"]

_FOLDS = {
    "crease": Meaning.CREASE,
    "perforated": Meaning.PERFORATION,
    "cut-crease": Meaning.CUT_CREASE,
    "reverse crease": Meaning.CREASE_BACK,
}


_STYLE_SLIPS = (ArithmeticError, AttributeError, LookupError, NotImplementedError, TypeError, ValueError)
"""What a style that is written wrongly raises: it is told to the user as the style's fault, not shown as a crash."""


@dataclass(frozen=True, kw_only=True)
class Result:
    """Everything that came of a job; files are made from it and nothing else.

    Attributes:
        job: The job.
        style: Its style.
        order: The settled order.
        design: The design.
        drawings: The cut drawing of each piece.
        flat: What the flat proof found, for each piece.
        folded: What the folded box measured.
        limits: What findings are measured against.
    """

    job: Job
    style: Style
    order: Order
    design: Design
    drawings: tuple[Drawing, ...]
    flat: tuple[FlatReport, ...]
    folded: FoldReport
    limits: Limits

    @property
    def failures(self) -> tuple[str, ...]:
        """Every failure of the flat and the folded proof; empty when both hold."""
        return (*(line for report in self.flat for line in report.failures), *self.folded.failures)

    @cached_property
    def inspected(self) -> Inspected:
        """What the checks look at."""
        return Inspected(
            order=self.order,
            design=self.design,
            board=self.job.board,
            drawings=self.drawings,
            folded=self.folded,
            machine=self.job.machine,
            mass=self.job.mass,
            limits=self.limits,
        )

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the trade would say about the design."""
        return inspect(self.inspected)

    @cached_property
    def die(self) -> DieReport:
        """What a die maker asks."""
        from .checks.die_report import die_report

        return die_report(self.inspected)

    @property
    def ok(self) -> bool:
        """Whether the proofs hold and no finding is an error."""
        return not self.failures and not any(finding.severity is Severity.ERROR for finding in self.findings)

    def report(self) -> dict[str, Any]:
        """The report as plain data: mm and m²."""
        from .report import report_data

        return report_data(self)


def run(job: Job, style: Style | None = None) -> Result:
    """Build, prove and draw a job. Pure: it reads and writes no file.

    Args:
        job: The job.
        style: The style, where it is not installed (an author trying it out); else it is found by its code.

    Returns:
        The result, whether or not its proofs hold: ``Result.failures`` says what failed.

    Raises:
        InputError: If something asked for cannot be.
        StyleError: If the style is at fault.
    """
    style = style or find_style(job.style)
    limits = _limits(job)
    inside = inside_of(style, job)
    order, plain = build(style, job, inside)
    try:
        return _proved(job, style, order, plain, limits)
    except DielineError:
        raise
    except (*_STYLE_SLIPS, GEOSException) as error:
        what = f"built something for {inside} on {job.board.name} that cannot be drawn or folded: {error}"
        raise StyleError(f"style {style.code}", what, "", "look at the house file, or change the size") from error


def _limits(job: Job) -> Limits:
    """The limits of a job: its own, or as shipped."""
    text = job.support.get("limits")
    return limits_from_text(text, job.sources.get("limits", "limits file of the job")) if text else shipped_limits()


def _proved(job: Job, style: Style, order: Order, plain: Design, limits: Limits) -> Result:
    """The design with its features, drawn, proved flat and folded."""
    # Holes and notches that the job adds are meant: the box is folded without them, which is the harder test.
    design = apply_features(plain, job.features) if job.features else plain
    side = Side(job.output.side)
    drawings = tuple(draw_blank(piece.blank, side) for piece in design.pieces)
    return Result(
        job=job,
        style=style,
        order=order,
        design=design,
        drawings=drawings,
        flat=tuple(prove_flat(piece.blank, drawing) for piece, drawing in zip(design.pieces, drawings, strict=True)),
        folded=prove_folded(plain, job.board, job.house.give),
        limits=limits,
    )


def build(style: Style, job: Job, inside: Size) -> tuple[Order, Design]:
    """The settled order and the design of a job, for a given inside size."""
    order = settle(style, inside, job.board, job.options, job.house)
    try:
        design = style.build(order)
    except DielineError:
        raise
    except _STYLE_SLIPS as error:
        what = f"cannot build {inside} on {job.board.name}: {type(error).__name__}: {error}"
        raise StyleError(f"style {style.code}", what, "", "tell the author of the style") from error
    return order, _with_folds(design, job.folds) if job.folds else design


def _with_folds(design: Design, folds: Mapping[str, str]) -> Design:
    """The design with single folds made as the job asks; a fold goes by the panel that hangs on it, or by the pair."""
    used: set[str] = set()

    def changed(fold: Fold) -> Fold:
        for name in (fold.child, f"{fold.parent} – {fold.child}", f"{fold.child} – {fold.parent}"):
            if name in folds and fold.meaning is not None:
                used.add(name)
                return replace(fold, meaning=_FOLDS[folds[name]])
        return fold

    pieces = tuple(replace(piece, blank=_refolded(piece.blank, changed)) for piece in design.pieces)
    for name in folds:
        if name not in used:
            known = [fold.child for piece in design.pieces for fold in piece.blank.folds if fold.meaning is not None]
            raise UnknownNameError(f"folds.{name}", name, known)
    return replace(design, pieces=pieces)


def _refolded(blank: Blank, changed: Any) -> Blank:
    return blank.with_folds(changed(fold) for fold in blank.folds)


def inside_of(style: Style, job: Job) -> Size:
    """The inside size of a job that may state crease or outside sizes.

    Both grow with the inside by a constant, so the first correction is already exact; a second one proves it. The start
    is larger than any answer, so that no size which the style can have is refused on the way.

    Raises:
        SizeError: If no box has that size.
    """
    if job.size_is is SizeKind.INSIDE:
        return job.size
    inside = job.size
    for _ in range(6):
        try:
            reached = _reached(style, job, inside)
        except SizeError as error:
            least = "even more than" if inside == job.size else "as"
            what = f"{error.what}, {least} {job.size_is.value} {job.size} leaves inside"
            raise SizeError(error.where, what, error.must, error.cure) from None
        miss = [asked - got for asked, got in zip(job.size[:3], reached, strict=True)]
        if max(abs(value) for value in miss) < 1e-9:
            return inside
        sides = [value + off for value, off in zip(inside[:3], miss, strict=True)]
        for name, value in zip("LBH", sides, strict=True):
            check_size(value, f"size, {name} ({job.size_is.value} {job.size}, less the board)")
        inside = Size(sides[0], sides[1], sides[2], job.size.fourth)
    raise SizeError("size", f"{job.size_is.value} {job.size}", "no inside size leads to it", "give the inside size")


def _reached(style: Style, job: Job, inside: Size) -> tuple[float, float, float]:
    _, design = build(style, job, inside)
    if job.size_is is SizeKind.CREASE:
        return design.crease[:3]
    slabs = stand_up(design, job.board.thickness)
    low, high = slabs.low.min(axis=0), slabs.high.max(axis=0)
    length, breadth, height = (float(value) for value in high - low)
    return length, breadth, height
