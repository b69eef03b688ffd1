"""How the boxes come to stand: on a pallet as the layers are placed, or as the job counts them."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, cast

from ..errors import InputError
from ..load import Load
from ..units import format_mm
from .basis import Remark
from .standing import Standing
from .walls import BoxShape

if TYPE_CHECKING:
    from .layers import Pallet, PalletLoad

__all__ = ["pallet_of", "place"]

_SIZE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*", re.IGNORECASE)


def pallet_of(load: Load) -> Pallet:
    """The pallet that a load names, or a plain one of the size that it states.

    Raises:
        UnknownNameError: If there is no pallet of that name.
        InputError: If its height or mass is needed and not known.
    """
    from .layers import Pallet, find_pallet

    match = _SIZE.fullmatch(load.pallet or "")
    if match is None:
        pallet = find_pallet(load.pallet or "", where="load.pallet")
    else:
        length, breadth = (float(side.replace(",", ".")) for side in match.groups())
        pallet = Pallet(name=load.pallet or "", length=length, breadth=breadth, source="the job")
    if load.pallet_mass is not None:
        pallet = replace(pallet, mass=load.pallet_mass)
    if load.pallet_height is not None:
        pallet = replace(pallet, height=load.pallet_height)
    return _known(pallet, load)


def _known(pallet: Pallet, load: Load) -> Pallet:
    """The pallet, if all that counts of it is known."""
    if pallet.mass is None and (load.pallets or 1) > 1:
        must = "the pallet above is carried too"
        raise InputError("load.pallet_mass", f"is missing and not known of pallet {pallet.name}", must, "weigh one")
    if pallet.height is None and load.height is not None:
        must = "the height of the load counts from the floor"
        cure = "measure one: pallet_height = 144"
        raise InputError("load.pallet_height", f"is missing and not known of pallet {pallet.name}", must, cure)
    return pallet


def place(
    load: Load, shape: BoxShape, gross: float, proof: bool = True
) -> tuple[Standing, PalletLoad | None, tuple[Remark, ...]]:
    """How the boxes stand, where they lie on the pallet, and what is to be said of it.

    Args:
        load: The load, with what is usual filled in.
        shape: The box.
        gross: One filled box, kg.
        proof: Whether boxes are placed, with the proof; without it ``per_layer`` and ``layers`` count as they are.

    Raises:
        InputError: If the pallet is smaller than the box, or not a single layer may stand on it.
    """
    pallets = load.pallets or 1
    if load.pallet is None or not proof:
        layers = load.layers or (2 if load.schedule == "cfr-178-606" else 1)
        standing = Standing(
            gross=gross, layers=layers, pallets=pallets, per_layer=load.per_layer, pallet_mass=load.pallet_mass
        )
        return standing, None, ()
    pallet = pallet_of(load)
    found = _loaded(load, shape, gross, pallet)
    if found.layers < 1:
        must = f"not one layer of boxes {format_mm(shape.height)} mm high may stand on pallet {pallet.name}"
        raise InputError("load.height", "leaves no room for a layer", must, "raise height or load_mass")
    per_layer = load.per_layer or found.per_layer
    standing = Standing(gross=gross, layers=found.layers, pallets=pallets, per_layer=per_layer, pallet_mass=pallet.mass)
    said = tuple(Remark("stack-pallet", "warning", "pallet", line) for line in found.findings)
    return standing, found, (*said, *_own_count(load, found))


def _loaded(load: Load, shape: BoxShape, gross: float, pallet: Pallet) -> PalletLoad:
    from .layers import load_on_pallet

    over = load.overhang or 0.0
    long, short = max(shape.outside[:2]), min(shape.outside[:2])
    far, near = max(pallet.length, pallet.breadth) + 2 * over, min(pallet.length, pallet.breadth) + 2 * over
    if long > far or short > near:
        what = f"{format_mm(pallet.length)} x {format_mm(pallet.breadth)} mm"
        must = f"it must be at least as large as the box, {format_mm(long)} x {format_mm(short)} mm outside"
        raise InputError("load.pallet", what, must, "choose a larger pallet, or allow overhang")
    pattern = "interlocked" if load.pattern == "interlocked" else "column"
    return load_on_pallet(
        shape.outside,
        gross,
        pallet,
        pattern=cast(Literal["column", "interlocked"], pattern),
        max_height=load.height,
        max_mass=load.load_mass,
        overhang=over,
        layers=load.layers,
    )


def _own_count(load: Load, found: PalletLoad) -> tuple[Remark, ...]:
    """What is said where the job counts more boxes on a layer than fit."""
    if load.per_layer is None or load.per_layer <= found.per_layer:
        return ()
    message = f"the job counts {load.per_layer} boxes on a layer; {found.per_layer} fit, proved"
    return (Remark("stack-per-layer", "warning", "load.per_layer", message, load.per_layer, found.per_layer),)
