"""An answer in words, for people who stack pallets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ..force import GRAVITY, to_lb_in, to_lbf
from ..units import format_mm
from .answer import CAUTIONS, Answer
from .boards_table import BoardRow

__all__ = ["answer_lines", "board_lines"]


def answer_lines(answer: Answer) -> Iterator[str]:
    """The answer, what it is made of, what was assumed, and the cautions."""
    yield from _verdict(answer)
    yield from _box(answer)
    yield from _load(answer)
    if answer.carrier is not None:
        yield f"Carriers' rule (Item 222): {answer.carrier.message}"
    yield from _scatter(answer)
    if answer.assumed:
        yield "Assumed, as the job does not say:"
        yield from (f"  - {line}" for line in answer.assumed)
    if answer.remarks:
        yield "To be said:"
        yield from (f"  - {remark.severity}: {remark.message} [{remark.code}]" for remark in answer.remarks)
    yield from (f"CAUTION: {line}" for line in CAUTIONS)


def _verdict(answer: Answer) -> Iterator[str]:
    if math.isinf(answer.margin):
        yield "NOTHING STANDS ON THE BOX: one layer, one pallet."
        return
    low, high = answer.margin_range
    span = f"margin {answer.margin:.2f}; nine of ten times between {low:.2f} and {high:.2f}"
    if answer.chance is None:
        span += " by the formula, but this box lies outside what the formula was made from: test it."
    else:
        span += f"; the bottom box holds with a probability of {_percent(answer.chance)} by the scatter below alone."
    yield f"{answer.verdict.upper()}: {span}"
    yield f"  required   {_force(answer.required.value)}   {_required(answer)}"
    left = math.prod(factor.middle for factor in answer.factors)
    yield f"  available  {_force(answer.available)}   {answer.box:.0f} N" + (
        f" × {left:.3f}" if answer.factors else ", as tested in the laboratory"
    )


def _required(answer: Answer) -> str:
    """What the load is made of: boxes above and the share of pallets between; or the rule of a schedule."""
    standing = answer.standing
    if answer.load.schedule is not None:
        return answer.required.basis.text
    text = f"{standing.above} boxes of {standing.gross:.2f} kg above"
    if standing.pallets > 1:
        text += (
            f", {standing.pallets - 1} × pallet of {format_mm(standing.pallet_mass or 0.0)} kg on {standing.per_layer}"
        )
    return text


def _box(answer: Answer) -> Iterator[str]:
    strength, press = answer.strength, answer.compression
    yield f"Board {answer.board.name}:"
    yield (
        f"  ECT {strength.ect:.2f} kN/m ({to_lb_in(strength.ect):.1f} lb/in), {format_mm(strength.calliper)} mm thick"
        + (f", {strength.grammage:.0f} g/m²" if strength.grammage else "")
    )
    yield f"  ECT: {strength.ect_basis.text} [{strength.ect_basis.confidence}]"
    yield f"Box, new and dry: {_force(answer.box)}"
    yield f"  {press.basis.text} = {press.value:.0f} N, Z {format_mm(answer.shape.perimeter, 1)} mm"
    yield f"  holds for: {press.basis.validity} [{press.basis.confidence}]"
    for factor in (*answer.losses, *answer.factors):
        span = f"{factor.middle:.2f}"
        if factor.best > factor.worst:
            span += f" ({factor.worst:g} to {factor.best:g})"
        yield f"  × {span} {factor.name}: {factor.condition} [{factor.basis.text}, {factor.basis.confidence}]"


def _load(answer: Answer) -> Iterator[str]:
    standing = answer.standing
    found = answer.pallet_load
    layers = f"{standing.layers} layer" + ("s" if standing.layers > 1 else "")
    per = f" of {standing.per_layer} boxes" if standing.per_layer else ""
    high = f", {standing.pallets} pallets high" if standing.pallets > 1 else ""
    yield f"Load: {layers}{per}{high}; one box {standing.gross:.2f} kg ({answer.gross_text})"
    if found is not None:
        size = f"{found.boxes} boxes"
        if found.height is not None:
            size += f", {format_mm(found.height, 0)} mm high with the pallet"
        size += f", {found.mass:.0f} kg of boxes"
        yield f"  on pallet {found.pallet.name}: {size}"
        proved = "no more fit, proved" if found.layer.proved else f"no layer holds more than {found.layer.bound}"
        yield f"  {found.per_layer} boxes to a layer: {proved} ({found.layer.method})"


def _scatter(answer: Answer) -> Iterator[str]:
    yield "What may scatter, as standard deviation:"
    for origin in answer.band.origins:
        yield f"  {100 * origin.variation:.1f} % {origin.name}: {origin.source} [{origin.confidence}]"


def board_lines(rows: Sequence[BoardRow]) -> Iterator[str]:
    """The table of boards that would hold, lightest first."""
    if not rows:
        yield "No board of the library or of your file would hold over its whole range."
        return
    yield "Boards that would hold over their whole range, lightest first (those of unknown mass by their ECT):"
    yield f"  {'board':22} {'ECT kN/m':>8} {'g/m²':>6} {'box kg':>7} {'box m²':>7} {'margin':>6}  range"
    for row in rows:
        grammage = "?" if row.grammage is None else f"{row.grammage:.0f}"
        mass = "?" if row.mass is None else f"{row.mass:.3f}"
        yield (
            f"  {row.name:22} {row.ect:8.2f} {grammage:>6} {mass:>7} {row.area:7.3f} {row.margin:6.2f}  "
            f"{row.low:.2f} to {row.high:.2f}"
        )


def _force(value: float) -> str:
    return f"{value:.0f} N ({value / GRAVITY:.0f} kg, {to_lbf(value):.0f} lbf)"


def _percent(share: float) -> str:
    if share > 0.999:
        return "over 99.9 %"
    return "under 0.1 %" if share < 0.001 else f"{100 * share:.1f} %"
