"""The golfer of each picture and the other people in it, as rows for the kernels."""

from __future__ import annotations

import math
from typing import Final

import torch
from attrs import frozen
from torch import Tensor

from training.pictures.cameras import SIZE, Cameras
from training.pictures.dice import Dice
from training.pictures.rows import FIGURE, SLOTS

OTHERS_SHARE: Final = 0.3
"""Share of the pictures with other people in them."""
LOOSEST_UPPER: Final = 0.03
"""Metres that upper cloth stands off at most beyond the clothes as made."""
LOOSEST_LOWER: Final = 0.04


@frozen(kw_only=True, eq=False)
class Figures:
    """Rows of F figures in N pictures.

    Parameters
    ----------
    who : (F, 3) int32 tensor
        Golfer in the stock, picture, slot in the picture (0 is the golfer to be read).
    rows : (F, FIGURE.length) tensor
    """

    who: Tensor
    rows: Tensor

    def of_slot(self, pictures: int) -> Tensor:
        """Figure of each slot of each picture, ``(pictures, SLOTS)`` int32; -1 is nobody."""
        table = torch.full((pictures, SLOTS), -1, dtype=torch.int32, device=self.who.device)
        order = torch.arange(len(self.who), dtype=torch.int32, device=self.who.device)
        table[self.who[:, 1].long(), self.who[:, 2].long()] = order
        return table


def clothing(dice: Dice, *, looser: float = 1.0, odder: float = 1.0) -> dict[str, Tensor]:
    """Proportions and looseness of clothes, as parts of a figure's row.

    Parameters
    ----------
    dice : Dice
    looser, odder : float
        Times the looseness and the spread of proportions of training; for stress tests.
    """
    loose = dice.chance(0.7) if looser == 1.0 else dice.chance(1.0)
    waves = [2.0 * math.pi / dice.even(0.12, 0.7) * dice.direction() for _ in range(2)]
    wide = torch.exp(dice.normal(0.045 * odder, columns=2))
    tall = torch.exp(dice.normal(0.03 * odder))
    return {
        "scale": torch.cat([wide, tall], dim=1),
        "swell_upper": dice.even() ** 2 * LOOSEST_UPPER * looser * loose,
        "swell_lower": dice.even() ** 2 * LOOSEST_LOWER * looser * loose,
        "wave_a": waves[0],
        "phase_a": dice.even(0.0, 2.0 * math.pi),
        "wave_b": waves[1],
        "phase_b": dice.even(0.0, 2.0 * math.pi),
        "creases": dice.even(0.0, 0.6),
    }


def swell(parts: dict[str, Tensor], *, points: Tensor, lower: Tensor) -> Tensor:
    """How far cloth stands off at points ``(N, K, 3)``, as in the kernels, ``(N, K, 1)``."""
    waves = [
        torch.sin((points * parts[f"wave_{w}"][:, None]).sum(-1) + parts[f"phase_{w}"])
        for w in ("a", "b")
    ]
    most = torch.where(lower, parts["swell_lower"], parts["swell_upper"])
    return (most * (0.5 + 0.25 * waves[0] + 0.25 * waves[1]))[..., None]


def main_figures(parts: dict[str, Tensor], *, golfers: Tensor) -> Figures:
    """Each picture's golfer, standing where he was made."""
    count = len(golfers)
    still = torch.tensor([[1.0, 0.0]], device=golfers.device).expand(count, 2)
    rows = FIGURE.fill({**parts, "turn": still, "place": torch.zeros_like(still)})
    order = torch.arange(count, dtype=torch.int32, device=golfers.device)
    who = torch.stack([golfers.int(), order, torch.zeros_like(order)], dim=1)
    return Figures(who=who, rows=rows)


def others(dice: Dice, *, cameras: Cameras, feet: Tensor, stock: int) -> Figures:
    """Other people, beside and behind the golfer, turned anyhow.

    Parameters
    ----------
    dice : Dice
        Throws for the N pictures.
    cameras : Cameras
    feet : (N, 2) tensor
        Between the golfer's ankles, metres.
    stock : int
        Golfers to choose from.
    """
    shown = dice.chance(OTHERS_SHARE) & dice.chance(0.6, columns=SLOTS - 1)
    picture, slot = torch.nonzero(shown, as_tuple=True)
    mine = dice.for_rows(len(picture))
    away, near = cameras.looking[picture], feet[picture]
    across = torch.stack([-away[:, 1], away[:, 0]], dim=1)
    behind = mine.mostly(mine.even(-0.3, 1.2), mine.even(1.2, 12.0), share=0.25)
    distance = (cameras.position[picture, :2] - near).norm(dim=1, keepdim=True) + behind
    half = distance * (SIZE / 2.0) / cameras.focal[picture]
    # Beside the golfer nobody stands closer than arms allow.
    closest = torch.where(behind < 1.2, 0.9, 0.0)
    side = torch.where(mine.chance(0.5), 1.0, -1.0) * (closest + half * mine.even(0.0, 1.1))
    turn = mine.even(0.0, 2.0 * math.pi)
    # A figure turns about its ball; its feet stand about 0.7 m from there.
    c, s = torch.cos(turn), torch.sin(turn)
    stand = near + behind * away + side * across - 0.7 * torch.cat([-s, c], dim=1)
    rows = FIGURE.fill({**clothing(mine), "turn": torch.cat([c, s], dim=1), "place": stand})
    golfers = mine.whole(stock)[:, 0]
    who = torch.stack([golfers, picture, slot + 1], dim=1).int()
    return Figures(who=who, rows=rows)


def joined(first: Figures, second: Figures) -> Figures:
    """Two sets of figures as one."""
    return Figures(
        who=torch.cat([first.who, second.who]).contiguous(),
        rows=torch.cat([first.rows, second.rows]).contiguous(),
    )
