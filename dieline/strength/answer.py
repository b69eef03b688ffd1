"""Will it hold: required against available compression, with the range that the answer may lie in."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..board import Board
from ..force import GRAVITY
from ..load import Load
from ..units import format_mm
from .asked import asked_for, gross_mass, settled
from .band import Band, band, chance
from .basis import Basis, Remark, table
from .board_strength import BoardStrength
from .carrier import CarrierAnswer, carrier_rule
from .compression import Compression, compression
from .factors import Factor, loss_factors, product
from .placing import PalletLoad, place
from .standing import Required, Standing, required
from .validity import validity
from .walls import BoxShape

__all__ = ["CAUTIONS", "Answer", "answer"]

CAUTIONS = (
    "This is an estimate from published formulae, not a test. Stacks fall on people: before use have filled boxes "
    "tested in compression (ISO 12048, ASTM D642 or TAPPI T 804).",
    "Dangerous goods and food need licensed approval; local codes and your site's own stacking rules go before this.",
    "It holds for dry, square, undamaged boxes closed as meant; a box out of square loses about 30 %, wet board all.",
)
"""Printed with every answer."""

_OUTSIDE = frozenset(
    ("stack-low-box", "stack-long-box", "stack-flute", "stack-style", "stack-lying-flutes", "stack-not-counted")
)
"""Remarks that take the ground from under a probability: nobody has published how far off the numbers then are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a load needs and a box has.

    Attributes:
        shape: The box.
        board: Its board.
        load: The load with what is usual filled in.
        strength: What counts of the board.
        standing: How the boxes stand.
        gross_text: How the mass of a filled box is made up.
        required: What the bottom box must bear.
        compression: What the formula gives for a new empty regular slotted box.
        losses: What is left for holes, more walls and lying flutes.
        factors: What time, climate and so on leave.
        band: How far the available strength scatters.
        pallet_load: Where the boxes lie on the pallet, if there is one.
        carrier: What the carriers' rule says.
        assumed: Everything that was taken as usual.
        remarks: Everything that must be said.
    """

    shape: BoxShape
    board: Board
    load: Load
    strength: BoardStrength
    standing: Standing
    gross_text: str
    required: Required
    compression: Compression
    losses: tuple[Factor, ...]
    factors: tuple[Factor, ...]
    band: Band
    pallet_load: PalletLoad | None
    carrier: CarrierAnswer | None
    assumed: tuple[str, ...]
    remarks: tuple[Remark, ...]

    @property
    def box(self) -> float:
        """Compression of the box itself, new and dry, N."""
        return self.compression.value * product(self.losses)

    @property
    def available(self) -> float:
        """What is left of it under this load, N."""
        return self.box * product(self.factors)

    @property
    def margin(self) -> float:
        """Available over required: 1 just holds; infinite where nothing stands on the box."""
        return self.available / self.required.value if self.required.value else math.inf

    @property
    def margin_range(self) -> tuple[float, float]:
        """The margin at both ends of the middle 90 %."""
        return self.band.ends(self.margin)

    @property
    def outside(self) -> tuple[str, ...]:
        """Codes of all remarks that the box or its load lies beyond what the numbers were made from."""
        return tuple(remark.code for remark in self.remarks if remark.code in _OUTSIDE)

    @property
    def chance(self) -> float | None:
        """The probability that the bottom box holds, by the scatter alone; None where the numbers do not reach."""
        if self.outside:
            return None
        return 1.0 if math.isinf(self.margin) else chance(self.margin, self.band.spread)

    @property
    def verdict(self) -> str:
        """The answer in a few words: ``holds``, ``doubtful`` or ``does not hold``.

        A box that lies outside what the formulas were made from never gets a better word than ``doubtful``.
        """
        word = verdict(self.margin, self.band)
        return "doubtful" if word == "holds" and self.outside else word


def verdict(margin: float, scatter: Band) -> str:
    """``holds`` if the whole range does, ``does not hold`` if its middle does not, else ``doubtful``."""
    if margin < 1.0:
        return "does not hold"
    return "holds" if scatter.ends(margin)[0] >= 1.0 else "doubtful"


def answer(shape: BoxShape, board: Board, load: Load, *, source: str = "load", proof: bool = True) -> Answer:
    """Whether a box bears its load.

    Args:
        shape: The box.
        board: Its board.
        load: The load as the job states it.
        source: Where the load comes from, for errors.
        proof: Whether boxes are placed on the pallet, with the proof that no more fit; without it ``per_layer``
            and ``layers`` of the load count.

    Raises:
        JobError: With every input that is missing.
        InputError: If a formula or a set does not reach.
    """
    strength = asked_for(load, board, shape, source)
    load, assumed = settled(load)
    gross, gross_text = gross_mass(load, strength, shape)
    standing, pallet_load, said = place(load, shape, gross, proof)
    press = compression(board, strength, shape.perimeter, load.formula or "")
    losses = shape_losses(shape, board, press.formula)
    factors: tuple[Factor, ...] = ()
    remarks = [*said, *validity(shape, board, press.formula, load.interior)]
    if load.factors is not None:
        over = bool(load.overhang) if pallet_load is None else max(pallet_load.overhangs) > 0.0
        factors, more = loss_factors(load, shape.outside[:2], over)
        remarks += more
    needed = required(load, standing, shape.height)
    scatter = band((*losses, *factors))
    available = press.value * product(losses) * product(factors)
    remarks += [*needed.remarks, *_verdict_remark(needed, available, scatter)]
    carrier = carrier_rule(board.wall, gross, shape.outside, strength.ect)
    if not carrier.holds:
        remarks.append(Remark("stack-carrier", "note", "Item 222", carrier.message, source=carrier.source))
    return Answer(
        shape=shape,
        board=board,
        load=load,
        strength=strength,
        standing=standing,
        gross_text=gross_text,
        required=needed,
        compression=press,
        losses=losses,
        factors=factors,
        band=scatter,
        pallet_load=pallet_load,
        carrier=carrier,
        assumed=(*assumed, *strength.assumed),
        remarks=tuple(remarks),
    )


def shape_losses(shape: BoxShape, board: Board, formula: str) -> tuple[Factor, ...]:
    """What the box itself lacks of the regular slotted box, single wall, that the formula speaks of."""
    found = []
    if shape.bearing < 1.0:
        source = "walls weighted by their length: J. Pereira (ABPO), Resistencia de Coluna III, O Papel (c. 2013)"
        basis = Basis(text="share of the perimeter with upright flutes", source=source, confidence="published")
        found.append(Factor("lying flutes", f"{shape.bearing:.0%} stands upright", shape.bearing, shape.bearing, basis))
    if board.wall != "single" and formula.startswith("mckee"):
        found.append(_loss("double_wall", f"{board.wall} wall", "formula fitted on single wall"))
    if any(wall.open_width for wall in shape.walls):
        found.append(_loss("openings", "holes", "hand holes, vents and cut-outs in the walls"))
    return tuple(found)


def _loss(key: str, name: str, condition: str) -> Factor:
    row = table("loss")[key]
    basis = Basis(text=f"{row['best']:g} to {row['worst']:g}", source=row["source"], confidence=row["confidence"])
    return Factor(name, condition, row["best"], row["worst"], basis)


def _verdict_remark(needed: Required, available: float, scatter: Band) -> Sequence[Remark]:
    if not needed.value:
        return [Remark("stack-single", "note", "load", "nothing stands on the box: one layer, one pallet", 0.0)]
    margin = available / needed.value
    low, high = scatter.ends(margin)
    word = verdict(margin, scatter)
    if word == "holds":
        return []
    kilograms = f"{available / GRAVITY:.0f} kg of {needed.value / GRAVITY:.0f} kg"
    said = f"margin {format_mm(margin)} ({format_mm(low)} to {format_mm(high)}): the bottom box bears {kilograms}"
    if word == "doubtful":
        message = f"{said}; it may or may not hold; take a stronger board, fewer layers or less time and damp, and test"
        return [Remark("stack-doubtful", "warning", "stack", message, margin, 1.0)]
    message = f"{said}; it does not hold; take a stronger board, fewer layers or less time and damp"
    return [Remark("stack-too-weak", "error", "stack", message, margin, 1.0)]
