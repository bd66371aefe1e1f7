"""Colours of skin, clothes and clubs, and what each is made of."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum
from typing import Final

import torch
from attrs import frozen
from torch import Tensor

from training.pictures.dice import Dice


class Swell(IntEnum):
    """Which cloth a class belongs to: each picture loosens upper and lower cloth by itself."""

    NONE = 0
    UPPER = 1
    LOWER = 2


@frozen(kw_only=True)
class Material:
    """How a class of faces takes the light.

    Parameters
    ----------
    swell : Swell
    creased : bool
    gloss : float
        Exponent of the highlight: large is small and sharp.
    shine : float
        Strength of the highlight.
    """

    swell: Swell = Swell.NONE
    creased: bool = False
    gloss: float = 14.0
    shine: float = 0.05


_UPPER: Final = Material(swell=Swell.UPPER, creased=True)
_LOWER: Final = Material(swell=Swell.LOWER, creased=True)
_METAL: Final = Material(gloss=40.0, shine=0.8)
MATERIALS: Final = {
    "shirt": _UPPER,
    "shirt2": _UPPER,
    "bottom": _LOWER,
    "grip": Material(gloss=40.0),
    "shaft": _METAL,
    "head": _METAL,
    "ball": Material(gloss=40.0, shine=0.25),
}

SKINS: Final = (
    "d9a884", "c08a68", "a36b48", "7a4a2e", "4d2f1e", "e3b999", "b57b58", "efc9ab", "35221a",
)  # fmt: skip
HAIRS: Final = (
    "2b1b10", "15110e", "5a3a20", "a88453", "8c8a86", "6b2f1a", "c9c6c0", "d8b878",
)  # fmt: skip
TROUSERS: Final = (
    "8a8474", "2a2d35", "e7e5df", "3c4a5f", "5b5f63", "b49a72", "1b1b1e", "6c7f93",
)  # fmt: skip
PLAIN_SHIRTS: Final = ("f2f2ee", "1c1d22", "3a3f4a", "d7c4a3")
SHOES: Final = ("eeeeee", "222222", "8a8d90", "f4f4f4")
SOLES: Final = ("333333", "d0d0d0", "ffffff", "8a7a5a")
CAPS: Final = ("f0f0f0", "17181b", "23427a", "b0282c", "d9cfb4", "5c6b46")
SOCKS: Final = ("d8d8d4", "1a1a1c")
SHAFTS: Final = ("b9bcc2", "8c9098")
HEADS: Final = ("c4c7cc", "1d2027", "8a8d92")


def material_table(classes: Sequence[str], *, device: str) -> tuple[Tensor, Tensor]:
    """What the kernels ask of each class: ``(C, 3)`` creased, gloss, shine; ``(C,)`` swells."""
    made = [MATERIALS.get(name, Material()) for name in classes]
    table = [[float(each.creased), each.gloss, each.shine] for each in made]
    swells = torch.tensor([int(each.swell) for each in made], dtype=torch.int32, device=device)
    return torch.tensor(table, device=device), swells


def colours(dice: Dice, *, classes: Sequence[str], ground: Tensor) -> Tensor:
    """Colours of every class for each figure, ``(N, C, 3)``, as light (linear).

    Parameters
    ----------
    dice : Dice
    classes : sequence of str
        A class that this module does not know gets any colour.
    ground : (N, 3) tensor
        Colour of the ground: one shirt in eight can hardly be told from it.
    """
    chosen = _colours(dice, ground=ground)
    rows = [chosen.get(name, dice.any_colour()) for name in classes]
    return torch.stack(rows, dim=1).clamp(0.0, 1.0).contiguous()


def _colours(dice: Dice, *, ground: Tensor) -> dict[str, Tensor]:
    hair, shirt = dice.one_of(HAIRS), _shirt(dice, ground=ground)
    bottom = dice.mostly(dice.one_of(TROUSERS), dice.any_colour(), share=0.6)
    bottom = dice.mostly(bottom, shirt, share=0.9)
    cap = dice.mostly(dice.one_of(CAPS), dice.any_colour(), share=0.6)
    return {
        "skin": dice.one_of(SKINS, spread=0.08),
        "fixed": dice.flat(1.0, columns=3),
        "shirt": shirt,
        "shirt2": dice.any_colour(),
        "bottom": bottom,
        "belt": dice.mostly(bottom, dice.any_colour(0.01, 0.6), share=0.3),
        "hair": hair,
        "brow": 0.5 * hair,
        "cap": cap,
        "brim": dice.mostly(cap, dice.any_colour(), share=0.7),
        "glove": dice.mostly(dice.one_of(("e8e8e6",)), dice.any_colour(), share=0.7),
        "sock": dice.mostly(dice.one_of(SOCKS), dice.any_colour(), share=0.6),
        "shoe": dice.mostly(dice.one_of(SHOES), dice.any_colour(), share=0.6),
        "sole": dice.one_of(SOLES),
        **_equipment(dice),
    }


def _shirt(dice: Dice, *, ground: Tensor) -> Tensor:
    shirt = dice.mostly(dice.one_of(PLAIN_SHIRTS), dice.any_colour(), share=0.25)
    return dice.mostly(ground, shirt, share=0.12)


def _equipment(dice: Dice) -> dict[str, Tensor]:
    white = dice.one_of(("f4f4f2",), spread=0.05)
    return {
        "grip": dice.any_colour(0.01, 0.25),
        "shaft": dice.mostly(dice.one_of(SHAFTS), dice.any_colour(0.02, 0.4), share=0.75),
        "head": dice.mostly(dice.one_of(HEADS), dice.any_colour(0.02, 0.7), share=0.6),
        "ball": dice.mostly(white, dice.one_of(("f2e21e", "ff8a2a")), share=0.85),
        "tee": dice.any_colour(0.3, 0.9),
    }
