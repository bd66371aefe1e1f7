"""Sun and sky over a picture, and how the camera develops them."""

from __future__ import annotations

import math

import torch
from attrs import frozen
from torch import Tensor

from training.pictures.dice import Dice

SPAN: float = 4.2
"""Metres across the light's depth buffer: a golfer with club, and his shadow."""


@frozen(kw_only=True, eq=False)
class Light:
    """Light of N pictures, in the names of a picture's row."""

    light_axes: Tensor
    light_origin: Tensor
    light_span: Tensor
    sun: Tensor
    ambient: Tensor
    shadow: Tensor
    exposure: Tensor
    gamma: Tensor

    @property
    def usual(self) -> Tensor:
        """Light on something upright, half in the sun, ``(N, 3)``."""
        return self.ambient + 0.5 * self.sun


def light(dice: Dice, *, middle: Tensor) -> Light:
    """Random light: overcast in three pictures of ten, else sun from anywhere.

    Parameters
    ----------
    dice : Dice
    middle : (N, 2) tensor
        The golfer's middle on the ground, metres.
    """
    turn, height = dice.even(0.0, 2.0 * math.pi), torch.deg2rad(dice.even(15.0, 80.0))
    level = torch.cat([torch.cos(turn), torch.sin(turn)], dim=1)
    to_light = torch.cat([torch.cos(height) * level, torch.sin(height)], dim=1)
    overcast = dice.chance(0.3)
    sun = torch.where(overcast, dice.even(0.0, 0.5), dice.even(0.8, 2.6))
    ambient = torch.where(overcast, dice.even(0.7, 1.2), dice.even(0.25, 0.7))
    warm = torch.tensor([[1.0, 0.95, 0.87]], device=dice.device)
    blue = torch.tensor([[0.93, 0.98, 1.06]], device=dice.device)
    return Light(
        light_axes=_axes(to_light),
        light_origin=torch.cat([middle - 0.6 * level, dice.flat(0.4)], dim=1),
        light_span=dice.flat(SPAN),
        sun=sun * warm * torch.exp(dice.normal(0.04, columns=3)),
        ambient=ambient * blue * torch.exp(dice.normal(0.05, columns=3)),
        shadow=dice.even(0.5, 1.0),
        exposure=torch.exp(dice.normal(0.3)) * 1.6 / (ambient + 0.55 * sun) ** 0.6,
        gamma=1.0 / dice.even(1.7, 2.6),
    )


def _axes(to_light: Tensor) -> Tensor:
    """Right, down and towards-the-light axes as one row of nine."""
    helper = torch.tensor([[0.3, 0.1, 1.0]], device=to_light.device).expand_as(to_light)
    right = torch.linalg.cross(to_light, helper)
    right = right / right.norm(dim=1, keepdim=True)
    down = torch.linalg.cross(to_light, right)
    return torch.cat([right, down, to_light], dim=1)
