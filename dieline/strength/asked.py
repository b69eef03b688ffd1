"""What an answer must be told, and what it may take as usual: asked for by name, or listed as an assumption."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from ..board import Board
from ..errors import DielineError, InputError, JobError
from ..load import CHOICES, Load
from ..units import format_mm
from .board_strength import BoardStrength, strength_of
from .walls import BoxShape

__all__ = ["asked_for", "gross_mass", "settled"]

_USUAL: dict[str, tuple[Any, str]] = {
    "pallets": (1, "one pallet high: nothing stands on the load (load.pallets)"),
    "overhang": (0.0, "no box stands over the pallet's edge (load.overhang)"),
    "gaps": (False, "the walls do not stand over gaps between deck boards (load.gaps)"),
    "handling": ("careful", "careful handling, nothing counted for it (load.handling)"),
    "formula": ("mckee-short", "short McKee formula (load.formula)"),
    "interior": ("none", "nothing inside bears load (load.interior)"),
}
"""What is taken where the job says nothing, and the words for it."""


def settled(load: Load) -> tuple[Load, tuple[str, ...]]:
    """The load with what is usual filled in, and every such assumption in words."""
    open_keys = [key for key in _USUAL if getattr(load, key) is None]
    said = [_USUAL[key][1] for key in open_keys]
    if load.pallet is None:
        said.append("no pallet named: the boxes stand on a flat firm floor (load.pallet)")
    if load.pattern == "misaligned" and load.offset is None and load.factors:
        said.append("how far columns are out of line was not measured: the set's range for it (load.offset)")
    return replace(load, **{key: _USUAL[key][0] for key in open_keys}), tuple(said)


def asked_for(load: Load, board: Board, shape: BoxShape, source: str = "load") -> BoardStrength:
    """The strength of the board, if everything that an answer needs is there.

    Args:
        load: The load as the job states it.
        board: The board.
        shape: The box.
        source: Where the load comes from, for the error.

    Raises:
        JobError: With every missing input at once, each with its key and what would do.
    """
    problems: list[DielineError] = list(_missing(load))
    strength: BoardStrength | None = None
    try:
        strength = strength_of(board, load.ect)
    except JobError as error:
        problems += error.problems
    except DielineError as error:
        problems.append(error)
    if load.box_mass is None and (strength is not None and (strength.grammage is None or not shape.area)):
        must = "the empty boxes are carried too"
        cure = "give the mass of one, or the grammage or papers of the board"
        problems.append(InputError("load.box_mass", "is missing", must, cure))
    if problems or strength is None:
        raise JobError(source, problems)
    return strength


def _missing(load: Load) -> Iterator[InputError]:
    if load.mass is None:
        yield _ask("contents.mass", "what one box holds is what loads the stack", "write mass = '8.5 kg' in [contents]")
    yield from _missing_stack(load)
    if load.factors is None and load.schedule is None:
        words = f"factors = {_or('factors')}; or schedule = {_or('schedule')}"
        yield _ask("load.factors", "a stack weakens with time and climate, or is tested by a schedule", words)
    if load.factors is not None:
        yield from _missing_climate(load)
    if load.schedule == "gb-6543" and load.days is None:
        yield _ask("load.days", "K of this rule goes by the time of storage", "write days = 30")
    if load.schedule == "own" and load.factor is None:
        yield _ask("load.factor", "this schedule is your own safety factor", "write factor = 4")
    if load.schedule == "astm-d4169":
        for key in ("assurance", "construction"):
            if getattr(load, key) is None:
                yield _ask(f"load.{key}", "F goes by it", f"write {key} = {_or(key)}")


def _missing_stack(load: Load) -> Iterator[InputError]:
    if load.schedule == "cfr-178-606":
        return
    by_height = load.height is not None or load.load_mass is not None
    if load.layers is None and not by_height:
        yield _ask(
            "load.layers", "nobody can tell how high you stack", "write layers = 5, or height = 1400 (with pallet)"
        )
    if load.layers is None and by_height and load.pallet is None:
        yield _ask("load.pallet", "layers up to a height or mass stand on a pallet", "write pallet = '1200x1000'")
    if (load.pallets or 1) > 1 and load.pallet is None:
        if load.per_layer is None:
            yield _ask("load.per_layer", "a layer shares the pallet above", "give it, or load.pallet")
        if load.pallet_mass is None:
            yield _ask("load.pallet_mass", "the pallet above is carried too", "give it, or load.pallet")


def _missing_climate(load: Load) -> Iterator[InputError]:
    if load.days is None:
        yield _ask("load.days", "board under load creeps", "write days = 30, or '6 weeks'")
    if load.humidity is None:
        yield _ask("load.humidity", "damp board is weak board", "write humidity = 70 (% RH, the dampest on the way)")
    if load.pattern is None:
        yield _ask("load.pattern", "corners bear most if they stand on corners", f"write pattern = {_or('pattern')}")


def _ask(key: str, why: str, cure: str) -> InputError:
    return InputError(key, "is missing", why, cure)


def _or(key: str) -> str:
    return " or ".join(f"'{word}'" for word in CHOICES[key])


def gross_mass(load: Load, strength: BoardStrength, shape: BoxShape) -> tuple[float, str]:
    """Mass of one filled box, kg, and how it is made up; ``asked_for`` must have passed."""
    contents = load.mass or 0.0
    if load.box_mass is not None:
        return contents + load.box_mass, f"{format_mm(contents)} kg + box {format_mm(load.box_mass, 3)} kg as given"
    empty = (strength.grammage or 0.0) * shape.area / 1000.0
    text = f"{format_mm(contents)} kg + box {format_mm(shape.area, 3)} m² × {strength.grammage:.0f} g/m²"
    return contents + empty, text
