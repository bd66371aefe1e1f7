"""What cameras, phones and messengers do to a picture after the light has fallen in."""

from __future__ import annotations

import math
from typing import Final

import torch
from torch import Tensor
from torch.nn import functional

from training.pictures.dice import Dice

GREY_SHARE: Final = 0.07
DARK_SHARE: Final = 0.1
SMEARED_SHARE: Final = 0.15
HEAVY_SHARE: Final = 0.2
"""Shares of the pictures without colour, far underexposed, smeared by motion, and compressed
far beyond what phones do."""

REACH: Final = 4
"""Pixels that the blurs reach to each side."""

# Quantisation tables of the JPEG standard, ITU-T T.81 (1992), annex K, tables K.1 and K.2.
_BRIGHTNESS: Final = (
    (16, 11, 10, 16, 24, 40, 51, 61), (12, 12, 14, 19, 26, 58, 60, 55),
    (14, 13, 16, 24, 40, 57, 69, 56), (14, 17, 22, 29, 51, 87, 80, 62),
    (18, 22, 37, 56, 68, 109, 103, 77), (24, 35, 55, 64, 81, 104, 113, 92),
    (49, 64, 78, 87, 103, 121, 120, 101), (72, 92, 95, 98, 112, 100, 103, 99),
)  # fmt: skip
_COLOUR: Final = (
    (17, 18, 24, 47, 99, 99, 99, 99), (18, 21, 26, 66, 99, 99, 99, 99),
    (24, 26, 56, 99, 99, 99, 99, 99), (47, 66, 99, 99, 99, 99, 99, 99),
    *((99,) * 8,) * 4,
)  # fmt: skip
# Brightness and colour differences from red, green, blue: ITU-T T.871 (2011), section 7.
_YCC: Final = ((0.299, 0.587, 0.114), (-0.1687, -0.3313, 0.5), (0.5, -0.4187, -0.0813))


class Augmenter:
    """Changes pictures ``(N, 3, H, W)`` of 0 to 1, whose sides are multiples of 16.

    Parameters
    ----------
    dice : Dice
    """

    def __init__(self, dice: Dice) -> None:
        self._dice = dice
        self._jpeg = Compression(dice.device)

    def __call__(self, pictures: Tensor) -> Tensor:
        """The pictures as a camera might deliver them."""
        dice = self._dice.for_rows(len(pictures))
        pictures = _exposed(dice, pictures=_toned(dice, pictures=pictures))
        pictures = _smeared(dice, pictures=_blurred(dice, pictures=pictures))
        pictures = _noisy(dice, pictures=_sharpened(dice, pictures=pictures))
        # A thumbnail's table is used eight times coarser at worst: quality 6 or so.
        coarse = dice.mostly(dice.ratio(1.3, 6.0), dice.ratio(0.08, 1.3), share=HEAVY_SHARE)
        return self._jpeg(pictures.clamp(0.0, 1.0), coarse=coarse).clamp(0.0, 1.0)


def _per_picture(values: Tensor) -> Tensor:
    """``(N, C)`` as ``(N, C, 1, 1)``."""
    return values[:, :, None, None]


def _toned(dice: Dice, *, pictures: Tensor) -> Tensor:
    """White balance, saturation, contrast and brightness."""
    pictures = pictures * _per_picture(torch.exp(dice.normal(0.05, columns=3)))
    grey = pictures.mean(1, keepdim=True)
    strength = torch.where(dice.chance(GREY_SHARE), dice.flat(), dice.even(0.55, 1.5))
    pictures = grey + (pictures - grey) * _per_picture(strength)
    middle = pictures.mean((2, 3), keepdim=True)
    contrast = _per_picture(dice.even(0.65, 1.4))
    return middle + (pictures - middle) * contrast + _per_picture(dice.normal(0.06))


def _exposed(dice: Dice, *, pictures: Tensor) -> Tensor:
    """Dark corners, light from one side, and far too little light in some."""
    height, width = pictures.shape[-2:]
    down = torch.linspace(-1.0, 1.0, height, device=pictures.device)[None, None, :, None]
    across = torch.linspace(-1.0, 1.0, width, device=pictures.device)[None, None, None, :]
    middle = [_per_picture(dice.normal(0.4)) for _ in range(2)]
    off2 = ((across - middle[0]) ** 2 + (down - middle[1]) ** 2) / 2.0
    pictures = pictures * (1.0 - _per_picture(dice.even(0.0, 0.3)) * off2)
    slope = _per_picture(dice.normal(0.15)) * across + _per_picture(dice.normal(0.12)) * down
    level = dice.mostly(dice.ratio(0.12, 0.6), dice.flat(1.0), share=DARK_SHARE)
    return pictures * (1.0 + slope) * _per_picture(level)


def _filtered(pictures: Tensor, *, kernels: Tensor) -> Tensor:
    """Each picture through its own kernel ``(N, k, l)``; the edges repeat."""
    count, channels, height, width = pictures.shape
    pad = kernels.shape[2] // 2, kernels.shape[1] // 2
    flat = pictures.reshape(1, count * channels, height, width)
    flat = functional.pad(flat, (pad[0], pad[0], pad[1], pad[1]), mode="replicate")
    each = kernels.repeat_interleave(channels, 0)[:, None]
    return functional.conv2d(flat, each, groups=count * channels).view(pictures.shape)


def _blurred(dice: Dice, *, pictures: Tensor) -> Tensor:
    """A little out of focus, not quite alike in both directions."""
    steps = torch.arange(-REACH, REACH + 1, device=pictures.device).float()[None]
    wide = (dice.even() ** 2 * 1.7 + 0.25) * dice.mostly(dice.flat(2.0), dice.flat(1.0), share=0.08)
    tall = wide * torch.exp(dice.normal(0.2))
    for sd, shape in ((wide, (1, -1)), (tall, (-1, 1))):
        weights = torch.exp(-(steps**2) / (2.0 * sd**2))
        weights = weights / weights.sum(1, keepdim=True)
        pictures = _filtered(pictures, kernels=weights.view(len(pictures), *shape))
    return pictures


def _smeared(dice: Dice, *, pictures: Tensor) -> Tensor:
    """Motion along a line, up to the blurs' reach to each side."""
    chosen = torch.nonzero(dice.chance(SMEARED_SHARE)[:, 0])[:, 0]
    mine = dice.for_rows(len(chosen))
    if not len(chosen):
        return pictures
    turn, half = mine.even(0.0, math.pi), mine.even(0.8, REACH)
    steps = torch.arange(-REACH, REACH + 1, device=pictures.device).float()
    down, across = torch.meshgrid(steps, steps, indexing="ij")
    c, s = torch.cos(turn)[..., None], torch.sin(turn)[..., None]
    along, off = across * c + down * s, down * c - across * s
    weights = (half[..., None] + 0.5 - along.abs()).clamp(0.0, 1.0)
    weights = weights * (1.0 - off.abs()).clamp(0.0, 1.0)
    weights = weights / weights.sum((1, 2), keepdim=True)
    return pictures.index_copy(0, chosen, _filtered(pictures[chosen], kernels=weights))


def _sharpened(dice: Dice, *, pictures: Tensor) -> Tensor:
    """Sharpened as phones do, one in three."""
    strength = torch.where(dice.chance(0.35), dice.even(), dice.flat())
    soft = functional.avg_pool2d(pictures, 3, 1, 1, count_include_pad=False)
    return pictures + _per_picture(strength) * (pictures - soft)


def _noisy(dice: Dice, *, pictures: Tensor) -> Tensor:
    """Noise of brightness and of colour; one picture in ten is very noisy."""
    level = dice.even() ** 2 * dice.mostly(dice.flat(0.12), dice.flat(0.05), share=0.1)
    grey = torch.randn_like(pictures[:, :1])
    return pictures + _per_picture(level) * (grey + 0.6 * torch.randn_like(pictures))


class Compression:
    """JPEG's blocks: what is lost, without the coding (ITU-T T.81, annex A.3.3)."""

    def __init__(self, device: str) -> None:
        waves = [
            [
                math.sqrt((1.0 if k == 0 else 2.0) / 8.0) * math.cos(math.pi * (2 * n + 1) * k / 16)
                for n in range(8)
            ]
            for k in range(8)
        ]
        self._waves = torch.tensor(waves, device=device)
        tables = [_BRIGHTNESS, _COLOUR, _COLOUR]
        self._tables = torch.tensor(tables, dtype=torch.float32, device=device) / 255.0
        self._ycc = torch.tensor(_YCC, device=device)
        # Brightness is stored from -128 to 127.
        self._shift = torch.tensor([128.0 / 255.0, 0.0, 0.0], device=device).view(1, 3, 1, 1)
        self._rgb = torch.linalg.inv(self._ycc)

    def __call__(self, pictures: Tensor, *, coarse: Tensor) -> Tensor:
        """The pictures after steps of ``coarse`` (N, 1) times the standard's tables."""
        count, _, height, width = pictures.shape
        planes = torch.einsum("ij,bjhw->bihw", self._ycc, pictures) - self._shift
        if bool(torch.rand(()) < 0.5):  # colour at half the resolution, as most phones store it
            small = functional.avg_pool2d(planes[:, 1:], 2)
            planes = torch.cat([planes[:, :1], functional.interpolate(small, scale_factor=2)], 1)
        shape = (count, 3, height // 8, 8, width // 8, 8)
        blocks = planes.view(shape).permute(0, 1, 2, 4, 3, 5)
        steps = self._tables[None, :, None, None] * coarse.view(-1, 1, 1, 1, 1, 1)
        rounded = torch.round(self._waves @ blocks @ self._waves.T / steps) * steps
        blocks = self._waves.T @ rounded @ self._waves
        planes = blocks.permute(0, 1, 2, 4, 3, 5).reshape(count, 3, height, width)
        return torch.einsum("ij,bjhw->bihw", self._rgb, planes + self._shift)
