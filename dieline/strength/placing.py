"""How the boxes come to stand: placed on a pallet with proof, in the layers that are allowed or that the job counts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..errors import InputError, SizeError, UnknownNameError
from ..load import Load
from ..units import format_mm
from .basis import Remark
from .pallet import Layer, best_layer
from .pallet_deck import Pallet, find_pallet, pallets
from .pallet_joints import Bond, best_bond
from .standing import Standing
from .walls import BoxShape

__all__ = ["PalletLoad", "pallet_of", "place"]

_SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class PalletLoad:
    """What stands on one pallet.

    Attributes:
        pallet: The pallet.
        layer: Where the boxes of a layer lie, with the proof.
        bond: How the layers lie on each other in turn; None where each lies as the one below.
        layers: Layers.
        box_height: Outside height of a box, mm.
        gross: One filled box, kg.
    """

    pallet: Pallet
    layer: Layer
    layers: int
    box_height: float
    gross: float
    bond: Bond | None = None

    def layer_at(self, number: int) -> Layer:
        """The layer of a number, counted from 0 at the deck."""
        if self.bond is None:
            return self.layer
        return self.bond.above if number % 2 else self.bond.below

    @property
    def per_layer(self) -> int:
        """Boxes in a layer."""
        return self.layer.count

    @property
    def boxes(self) -> int:
        """Boxes on the pallet."""
        return self.layer.count * self.layers

    @property
    def height(self) -> float | None:
        """Height with the pallet, mm; None where the pallet's is not known."""
        return None if self.pallet.height is None else self.pallet.height + self.layers * self.box_height

    @property
    def mass(self) -> float:
        """Mass of all boxes, kg, without the pallet."""
        return self.boxes * self.gross

    @property
    def overhangs(self) -> tuple[float, float]:
        """How far boxes stand over the ends and over the long sides of the deck, mm; 0 where they do not."""
        laid = (self.layer_at(0), self.layer_at(1))
        spots = [layer.footprint(spot) for layer in laid for spot in layer.places]
        sides = (self.pallet.length, self.pallet.breadth)
        over = [max(max(-spot[axis], spot[axis + 2] - side) for spot in spots) for axis, side in enumerate(sides)]
        return max(0.0, over[0]), max(0.0, over[1])


def pallet_of(load: Load) -> Pallet:
    """The pallet that a load names, or a plain one of the size that it states.

    Raises:
        UnknownNameError: If there is no pallet of that name.
        InputError: If its height or mass is needed and not known.
    """
    name = load.pallet or ""
    try:
        pallet = find_pallet(name)
    except UnknownNameError:
        raise UnknownNameError("load.pallet", name, pallets()) from None
    except SizeError as error:
        raise InputError("load.pallet", error.what, error.must, error.cure) from None
    pallet = replace(pallet, mass=load.pallet_mass or pallet.mass, height=load.pallet_height or pallet.height)
    if pallet.mass is None and (load.pallets or 1) > 1:
        must = "the pallet above is carried too"
        raise InputError("load.pallet_mass", f"is missing and not known of pallet {name}", must, "weigh one")
    if pallet.height is None and load.height is not None:
        must = "the height of the load counts from the floor"
        cure = "measure one: pallet_height = 144"
        raise InputError("load.pallet_height", f"is missing and not known of pallet {name}", must, cure)
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
    high = load.pallets or 1
    if load.pallet is None or not proof:
        layers = load.layers or (2 if load.schedule == "cfr-178-606" else 1)
        standing = Standing(
            gross=gross, layers=layers, pallets=high, per_layer=load.per_layer, pallet_mass=load.pallet_mass
        )
        return standing, None, ()
    pallet = pallet_of(load)
    try:
        layer = best_layer(shape.outside[:2], (pallet.length, pallet.breadth), load.overhang or 0.0)
    except SizeError as error:
        raise InputError("load.pallet", error.what, error.must, error.cure) from None
    layers = _layers(load, shape, pallet, (load.per_layer or layer.count) * gross)
    bond = best_bond(layer) if load.pattern == "interlocked" else None
    found = PalletLoad(pallet=pallet, layer=layer, layers=layers, box_height=shape.height, gross=gross, bond=bond)
    standing = Standing(
        gross=gross,
        layers=layers,
        pallets=high,
        per_layer=load.per_layer or layer.count,
        pallet_mass=pallet.mass,
    )
    return standing, found, tuple(_said(load, found))


def _layers(load: Load, shape: BoxShape, pallet: Pallet, layer_mass: float) -> int:
    """Layers as the job counts them, else as many as height and mass allow."""
    if load.layers is not None:
        return load.layers
    most = 1 if load.schedule == "cfr-178-606" and load.height is None and load.load_mass is None else math.inf
    if load.height is not None:
        most = min(most, math.floor((load.height - (pallet.height or 0.0)) / shape.height + _SAME))
    if load.load_mass is not None:
        most = min(most, math.floor(load.load_mass / layer_mass + _SAME))
    if most < 1:
        key = "load.load_mass" if load.height is None else "load.height"
        must = f"one layer is {format_mm(shape.height)} mm high and weighs {format_mm(layer_mass)} kg"
        raise InputError(key, "leaves no room for a single layer", must, "raise height or load_mass")
    return int(most)


def _said(load: Load, found: PalletLoad) -> Iterator[Remark]:
    layer, bond = found.layer, found.bond
    if bond is not None and bond.towers > 1:
        message = (
            f"the boxes stand in {bond.towers} towers that nothing ties together, however layers of {layer.count} "
            "boxes are laid; wrap or strap the load, or lay fewer boxes to a layer"
        )
        yield Remark("stack-towers", "warning", "pallet", message, bond.towers, 1)
    elif bond is not None:
        message = f"second layers are {bond.how}: {bond.bridged:.0%} of the joints are bridged by the layer on them"
        yield Remark("stack-bond", "note", "pallet", message, bond.bridged, None)
    if not layer.proved:
        message = (
            f"{layer.count} boxes to a layer; no layer holds more than {layer.bound}: between them nothing is proved"
        )
        yield Remark("stack-layer-open", "note", "pallet", message, layer.count, layer.bound)
    if load.per_layer is not None and load.per_layer > layer.bound:
        message = f"the job counts {load.per_layer} boxes on a layer; no more than {layer.bound} fit, proved"
        yield Remark("stack-per-layer", "warning", "load.per_layer", message, load.per_layer, layer.bound)
    if load.height is not None and found.height is not None and found.height > load.height + _SAME:
        message = (
            f"{found.layers} layers are {format_mm(found.height)} mm high, over the {format_mm(load.height)} mm allowed"
        )
        yield Remark("stack-too-high", "warning", "load.layers", message, found.height, load.height)
    for limit, whose in ((load.load_mass, "allowed"), (found.pallet.load, "that the pallet may carry")):
        if limit is not None and found.mass > limit + _SAME:
            message = f"the boxes weigh {found.mass:.0f} kg, over the {limit:.0f} kg {whose}"
            yield Remark("stack-too-heavy", "warning", "load", message, found.mass, limit, found.pallet.source)
    over = max(found.overhangs)
    if over > 0.0:
        message = f"boxes stand {format_mm(over)} mm over the pallet's edge: 20 to 40 % of their strength is lost there"
        yield Remark("stack-overhang", "warning", "pallet", message, over, 0.0)
    if load.pattern == "interlocked" and layer.count == 1:
        yield Remark("stack-one-box", "note", "load.pattern", "one box to a layer cannot interlock", 1)
