"""Cameras that see a golfer face-on, down-the-line, or from where nobody should measure.

World frame: origin under the ball, +y from the ball to the golfer, +z up, +x to the target.
A camera stands at ``g + d (sin φ, -cos φ)`` from the golfer's middle ``g``: φ = 0 is face-on,
φ = -90° down-the-line.
"""

from __future__ import annotations

import math
from typing import Final

import torch
from attrs import frozen
from torch import Tensor

from training.pictures.dice import Dice

FACE_ON: Final = 0
DOWN_THE_LINE: Final = 1
REFUSED: Final = 2

SIZE: Final = 320
"""Side of the cut-out, pixels; the product's."""

CROP: Final = 1.42
"""Side of the cut-out in heights of the golfer; the product's rule."""
CROP_SHIFT: Final = (0.08, 0.05)
"""How far its middle lies right of and below the middle of the golfer, in heights."""

LARGEST_AZIMUTH: Final = math.radians(27.0)
"""The farthest that a camera to be read stands off square: 25° with some margin."""
REFUSED_FROM: Final = math.radians(38.0)
"""From here on a view is to be refused; between the two nothing is taught."""


@frozen(kw_only=True, eq=False)
class Cameras:
    """One camera a picture, looking at cut-outs of ``SIZE`` pixels.

    Parameters
    ----------
    rotation : (N, 3, 3) tensor
        Camera from world; x right, y down, z forward.
    translation : (N, 3) tensor
        ``X_camera = R X_world + t``, metres.
    focal : (N, 1) tensor
        Pixels of the cut-out.
    centre : (N, 2) tensor
        Where the optical axis meets the cut-out, pixels.
    distortion : (N, 2) tensor
        k1 and k2 of the factor ``1 + k1 r² + k2 r⁴``.
    bearing : (N, 1) tensor
        φ, radian.
    """

    rotation: Tensor
    translation: Tensor
    focal: Tensor
    centre: Tensor
    distortion: Tensor
    bearing: Tensor

    @property
    def looking(self) -> Tensor:
        """Horizontal unit vector of the view, ``(N, 2)``."""
        return torch.cat([-torch.sin(self.bearing), torch.cos(self.bearing)], dim=1)

    @property
    def position(self) -> Tensor:
        """Where the cameras stand, ``(N, 3)``, metres."""
        return -(self.rotation.transpose(1, 2) @ self.translation[:, :, None])[:, :, 0]

    def bent_rays(self, points: Tensor) -> tuple[Tensor, Tensor]:
        """Distorted image-plane places ``(N, K, 2)`` and depths ``(N, K)`` of world points."""
        seen = points @ self.rotation.transpose(1, 2) + self.translation[:, None]
        plane = seen[..., :2] / seen[..., 2:]
        r2 = (plane * plane).sum(-1, keepdim=True)
        k1, k2 = self.distortion[:, None, :1], self.distortion[:, None, 1:]
        return plane * (1.0 + k1 * r2 + k2 * r2 * r2), seen[..., 2]

    def pixels(self, points: Tensor) -> tuple[Tensor, Tensor]:
        """Cut-out pixels ``(N, K, 2)`` and depths ``(N, K)`` of world points ``(N, K, 3)``."""
        plane, depth = self.bent_rays(points)
        return plane * self.focal[:, None] + self.centre[:, None], depth


def bearings(dice: Dice, *, views: Tensor) -> Tensor:
    """Bearings φ ``(N, 1)`` for views ``(N, 1)``.

    Most cameras that are to be read stand within 5° (sd) of square, a fifth within 11°,
    and a fifth anywhere up to 27°; common practice of hand-held phones, no source.
    """
    sd = torch.where(dice.chance(0.25), dice.flat(11.0), dice.flat(5.0))
    off = torch.deg2rad(sd) * dice.normal()
    limit = LARGEST_AZIMUTH
    off = dice.mostly(dice.even(-limit, limit), off, share=0.2).clamp(-limit, limit)
    square = torch.where(views == DOWN_THE_LINE, -math.pi / 2.0, 0.0)
    half = math.pi / 4.0 - REFUSED_FROM
    between = -math.pi / 4.0 + dice.even(-half, half)
    beyond = dice.even(REFUSED_FROM, 1.5 * math.pi - REFUSED_FROM)
    refused = dice.mostly(between, beyond, share=0.12)
    return torch.where(views == REFUSED, refused, square + off)


def cameras(dice: Dice, *, views: Tensor, middle: Tensor, outline: Tensor) -> Cameras:
    """Random cameras, with the product's cut-out around the golfer.

    Parameters
    ----------
    dice : Dice
    views : (N, 1) tensor
        :data:`FACE_ON`, :data:`DOWN_THE_LINE` or :data:`REFUSED`.
    middle : (N, 2) tensor
        The golfer's middle on the ground, metres.
    outline : (N, K, 3) tensor
        Points that bound the golfer, metres.
    """
    bearing = bearings(dice, views=views)
    distance = dice.even(2.1, 3.9) * dice.mostly(dice.even(1.0, 1.9), dice.flat(1.0), share=0.35)
    height = dice.mostly(dice.even(0.4, 1.75), dice.even(0.15, 2.3), share=0.9)
    away = torch.cat([torch.sin(bearing), -torch.cos(bearing)], dim=1)
    position = torch.cat([middle + distance * away, height], dim=1)
    aim = dice.normal(0.1, columns=2)
    target = torch.cat([middle + aim, 0.74 + dice.normal(0.12)], dim=1)
    roll = torch.deg2rad(dice.normal() * dice.mostly(dice.flat(2.2), dice.flat(6.0), share=0.9))
    rotation = _turned_to(position, target=target, roll=roll)
    loose = Cameras(
        rotation=rotation,
        translation=-(rotation @ position[:, :, None])[:, :, 0],
        focal=dice.flat(1.0),
        centre=dice.flat(columns=2),
        distortion=torch.cat([dice.normal(0.02), dice.normal(0.004)], dim=1),
        bearing=bearing,
    )
    return _cut_out(dice, loose=loose, outline=outline)


def _turned_to(position: Tensor, *, target: Tensor, roll: Tensor) -> Tensor:
    """Rotations that look from a position to a target, turned about the axis by ``roll``."""
    forward = target - position
    forward = forward / forward.norm(dim=1, keepdim=True)
    up = torch.tensor([[0.0, 0.0, 1.0]], device=position.device).expand_as(forward)
    right = torch.linalg.cross(forward, up)
    right = right / right.norm(dim=1, keepdim=True)
    down = torch.linalg.cross(forward, right)
    c, s = torch.cos(roll), torch.sin(roll)
    return torch.stack([right * c + down * s, down * c - right * s, forward], dim=1)


def _cut_out(dice: Dice, *, loose: Cameras, outline: Tensor) -> Cameras:
    """The camera with the focal length and centre of the product's cut-out, jittered."""
    plane, _ = loose.bent_rays(outline)
    low, high = plane.min(dim=1).values, plane.max(dim=1).values
    height = (high - low)[:, 1:]
    shift = torch.tensor([CROP_SHIFT], device=plane.device) + dice.normal(0.05, columns=2)
    side = CROP * height * torch.exp(dice.normal(0.06))
    focal = SIZE / side
    centre = SIZE / 2.0 - focal * (0.5 * (low + high) + shift * height)
    return Cameras(
        rotation=loose.rotation,
        translation=loose.translation,
        focal=focal,
        centre=centre,
        distortion=loose.distortion,
        bearing=loose.bearing,
    )
