"""Where the golfer stands: ground, mat and slab, walls, trees, hills and sky."""

from __future__ import annotations

import math
from typing import Final

import torch
from torch import Tensor

from training.pictures.cameras import Cameras
from training.pictures.dice import Dice
from training.pictures.light import Light
from training.pictures.rows import TREES

GRASS: Final = ("4f7a34", "5d8038", "6b8745", "42702f", "7c9450", "3f6b35", "8a8a52")
MATS: Final = ("4f9a5c", "5da168", "478a52", "74a878", "3c5f46", "2f6b3c")
SLABS: Final = ("8b8a86", "9a968c", "77797c", "b0aca4", "6a5d4e")
HORIZONS: Final = ("d6e4ee", "d9dde0", "e8e4da", "c4d6e8")
ZENITHS: Final = ("5f93cf", "b9c0c6", "7fa8d8", "3f78bd", "9fb4c8")
WALLS: Final = ("8d8f94", "b9b3a6", "5a6068", "d8d4cc", "3a3d42")
LEAVES: Final = ("3d5a2c", "4c6b33", "5a6a34", "6a6038")


def place(dice: Dice, *, cameras: Cameras, light: Light, feet: Tensor) -> dict[str, Tensor]:
    """The place's share of the pictures' rows.

    Parameters
    ----------
    dice : Dice
    cameras : Cameras
    light : Light
    feet : (N, 2) tensor
        Between the golfer's ankles, metres.
    """
    grass = dice.mostly(dice.one_of(GRASS), dice.any_colour(0.1, 0.8), share=0.75)
    return {
        **_ground(dice, grass=grass),
        "bounce": 0.5 * grass * light.ambient + 0.05 + 0.15 * light.sun * grass,
        **_mat(dice, feet=feet),
        **_walls(dice, cameras=cameras, feet=feet),
        **_trees(dice, cameras=cameras),
        "horizon": dice.one_of(HORIZONS),
        "zenith": dice.one_of(ZENITHS),
        "clouds": dice.even(),
        "hills": dice.even(0.0, 1.5),
        "seed": dice.even(0.0, 100.0),
    }


def _ground(dice: Dice, *, grass: Tensor) -> dict[str, Tensor]:
    """Two colours mixed by noise, some with stripes; one picture in eight has no place at all."""
    abstract = dice.chance(0.13)
    width = torch.where(dice.chance(0.4), dice.even(0.4, 4.0), dice.flat())
    width = torch.where(abstract, 0.1 * width, width)
    stripes = torch.cat([width, dice.even(0.03, 0.3), dice.even(0.0, math.pi)], dim=1)
    return {
        "abstract": abstract.float(),
        "ground_a": grass,
        "ground_b": dice.mostly(
            grass * torch.exp(dice.normal(0.4)), dice.any_colour(0.1, 0.8), share=0.8
        ),
        "ground_scale": dice.ratio(0.6, 40.0),
        "ground_contrast": dice.even(0.1, 0.9),
        "stripes": stripes,
    }


def _mat(dice: Dice, *, feet: Tensor) -> dict[str, Tensor]:
    """A mat under golfer and ball on a slab, as on a range."""
    x, y = feet[:, :1], feet[:, 1:]
    half, reach = dice.even(0.6, 1.1), dice.even(1.5, 5.0)
    mat = torch.cat([x - half, x + half, -dice.even(0.2, 0.8), y + dice.even(0.25, 0.8)], dim=1)
    slab = torch.cat([-reach, reach, -dice.even(1.0, 4.0), y + dice.even(0.6, 4.0)], dim=1)
    return {
        "mat_on": dice.chance(0.45).float(),
        "mat": mat,
        "mat_colour": dice.mostly(dice.one_of(MATS), dice.any_colour(0.1, 0.8), share=0.7),
        "rubber": dice.any_colour(0.02, 0.25),
        "slab": slab,
        "slab_colour": dice.one_of(SLABS),
    }


def _walls(dice: Dice, *, cameras: Cameras, feet: Tensor) -> dict[str, Tensor]:
    """Two walls at a right angle behind the golfer, square to the nearest axis of the place."""
    quarter = torch.round(cameras.bearing / (math.pi / 2.0)) * (math.pi / 2.0)
    # Looking down-the-line the far wall crosses x, face-on it crosses y: both lie in one
    # frame. Seen from elsewhere that frame is turned until its walls are behind the golfer.
    turn = torch.where((quarter > -2.0) & (quarter < 1.0), torch.zeros_like(quarter), quarter)
    c, s = torch.cos(turn), torch.sin(turn)
    x, y = feet[:, :1], feet[:, 1:]
    behind = torch.cat([c * y - s * x, c * x + s * y], dim=1)
    gap = torch.cat([dice.even(0.7, 5.0), dice.even(1.2, 6.0)], dim=1)
    return {
        "wall_on": dice.chance(0.22).float(),
        "wall": behind + gap,
        "wall_turn": torch.cat([c, s], dim=1),
        "wall_colour": dice.mostly(dice.one_of(WALLS), dice.any_colour(), share=0.6),
        "panel": torch.cat([dice.even(0.15, 2.0), dice.even(0.0, 0.7)], dim=1),
    }


def _trees(dice: Dice, *, cameras: Cameras) -> dict[str, Tensor]:
    """Round crowns 9 to 38 m away, within half a radian of where the camera looks."""
    looking = torch.atan2(cameras.looking[:, 1:], cameras.looking[:, :1])
    turn, away = looking + dice.even(-0.5, 0.5, columns=TREES), dice.even(9.0, 38.0, columns=TREES)
    where = [away * torch.cos(turn), away * torch.sin(turn)]
    size = [dice.even(0.8, 5.5, columns=TREES), dice.even(0.6, 2.4, columns=TREES)]
    shade = torch.exp(dice.normal(0.25, columns=TREES))[..., None]
    colour = dice.one_of(LEAVES)[:, None] * shade
    crowns = torch.cat([torch.stack([*where, *size], dim=-1), colour], dim=-1)
    count = dice.whole(TREES + 1).float() * dice.chance(0.75)
    return {"tree_count": count, "trees": crowns.flatten(1)}
