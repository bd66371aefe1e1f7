"""Dress a posed body from top to toe."""

from __future__ import annotations

import numpy as np

from training.golfers.bones import SIDES
from training.golfers.clothes.garments import legs_of_cloth, skirt, top
from training.golfers.clothes.heads import eyes, hair, hat, skin
from training.golfers.clothes.shoes import shoe, sock
from training.golfers.clothes.wearer import Wearer
from training.golfers.surface import Mesh


def dress(wearer: Wearer, rng: np.random.Generator) -> list[Mesh]:
    """Everything that makes the golfer's outline: skin, clothes, shoes, hair, hat."""
    outfit = wearer.outfit
    meshes = [skin(wearer), eyes(wearer), legs_of_cloth(wearer, rng)]
    if outfit.bottom in {"skirt", "dress"}:
        meshes.append(skirt(wearer, rng))
    meshes.append(top(wearer, rng))
    for side in SIDES:
        meshes += shoe(wearer, side)
        if outfit.socks != "none" and outfit.bottom != "trousers":
            meshes.append(sock(wearer, side, rng=rng))
    return [*meshes, *hair(wearer, rng), *hat(wearer, rng)]
