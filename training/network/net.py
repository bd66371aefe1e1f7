"""The network: a residual encoder and decoder with a heat map for each landmark."""

from __future__ import annotations

from typing import Final

import torch
from torch import Tensor, nn
from torch.nn import functional

SIZE: Final = 320
STRIDE: Final = 4
"""Pixels of the picture for each cell of the heat maps."""
WIDTHS: Final = (32, 64, 112, 176, 224)
DEPTHS: Final = (2, 3, 3, 3)
DECODED: Final = 96
LOG_SPREAD_LIMITS: Final = (-1.6, 4.5)
"""Spreads stay between 0.2 and 90 pixels."""


class ConvNorm(nn.Sequential):  # type: ignore[misc]  # torch is not read by the type checker
    """Convolution and normalisation, then mostly a rectifier."""

    def __init__(
        self, inward: int, outward: int, *, kernel: int = 3, stride: int = 1, rectify: bool = True
    ) -> None:
        convolution = nn.Conv2d(inward, outward, kernel, stride, kernel // 2, bias=False)
        last = [nn.ReLU(inplace=True)] if rectify else []
        super().__init__(convolution, nn.BatchNorm2d(outward), *last)


class Residual(nn.Module):  # type: ignore[misc]
    """Two convolutions whose result is added to what came in."""

    def __init__(self, width: int) -> None:
        super().__init__()
        self.first = ConvNorm(width, width)
        self.second = ConvNorm(width, width, rectify=False)

    def forward(self, inward: Tensor) -> Tensor:
        """The same shape as ``inward``."""
        return functional.relu(inward + self.second(self.first(inward)))


class Merge(nn.Module):  # type: ignore[misc]
    """A coarse map brought to twice its size and joined with a fine one."""

    def __init__(self, coarse: int, fine: int, *, outward: int) -> None:
        super().__init__()
        self.coarse = ConvNorm(coarse, outward, kernel=1, rectify=False)
        self.fine = ConvNorm(fine, outward, kernel=1, rectify=False)
        self.mix = Residual(outward)

    def forward(self, coarse: Tensor, fine: Tensor) -> Tensor:
        """At the size of ``fine``."""
        larger = functional.interpolate(
            self.coarse(coarse), scale_factor=2, mode="bilinear", align_corners=False
        )
        return self.mix(functional.relu(larger + self.fine(fine)))


def _stage(inward: int, outward: int, *, depth: int) -> nn.Sequential:
    """Half the size, then some residual blocks."""
    blocks = [Residual(outward) for _ in range(depth)]
    return nn.Sequential(ConvNorm(inward, outward, stride=2), *blocks)


class LandmarkNet(nn.Module):  # type: ignore[misc]
    """Points with spreads, and whether a golfer at address is seen from a view it knows.

    Parameters
    ----------
    landmarks : int
    """

    def __init__(self, landmarks: int) -> None:
        super().__init__()
        w, d = WIDTHS, DEPTHS
        self.stem = nn.Sequential(ConvNorm(3, w[0], stride=2), ConvNorm(w[0], w[1], stride=2))
        self.quarter = nn.Sequential(*[Residual(w[1]) for _ in range(d[0])])
        self.eighth = _stage(w[1], w[2], depth=d[1])
        self.sixteenth = _stage(w[2], w[3], depth=d[2])
        self.deepest = _stage(w[3], w[4], depth=d[3])
        self.whole = nn.Linear(w[4], w[4])
        self.to_sixteenth = Merge(w[4], w[3], outward=w[3])
        self.to_eighth = Merge(w[3], w[2], outward=w[2])
        self.to_quarter = Merge(w[2], w[1], outward=DECODED)
        self.heat = nn.Conv2d(DECODED, landmarks, 1)
        self.spread_weight = nn.Parameter(torch.zeros(landmarks, 2, DECODED))
        self.spread_bias = nn.Parameter(torch.ones(landmarks, 2))
        self.spread_heat = nn.Parameter(torch.zeros(landmarks, 2))
        self.address = nn.Sequential(nn.Linear(w[4], 64), nn.ReLU(), nn.Linear(64, 1))
        cells = SIZE // STRIDE
        middles = (torch.arange(cells).float() + 0.5) * STRIDE
        self.register_buffer("x", middles.repeat(cells))
        self.register_buffer("y", middles.repeat_interleave(cells))

    def forward(self, pictures: Tensor) -> tuple[Tensor, Tensor, Tensor, Tensor]:
        """Read cut-outs.

        Parameters
        ----------
        pictures : (N, 3, 320, 320) tensor
            Red, green, blue, 0 to 1.

        Returns
        -------
        points : (N, K, 2) tensor
            Pixels of the cut-out, corner convention.
        spread : (N, K, 2) tensor
            Laplace scale of each coordinate, pixels.
        address : (N,) tensor
            Log odds of "a golfer at address in a view that I know".
        heat : (N, K, 6400) tensor
            Logits of the heat maps, for the loss.
        """
        quarter = self.quarter(self.stem((pictures - 0.45) * 4.0))
        eighth = self.eighth(quarter)
        sixteenth = self.sixteenth(eighth)
        deepest = self.deepest(sixteenth)
        summary = deepest.mean((2, 3))
        deepest = deepest + self.whole(summary)[:, :, None, None]
        merged = self.to_eighth(self.to_sixteenth(deepest, sixteenth), eighth)
        features = self.to_quarter(merged, quarter)
        heat = self.heat(features).flatten(2).float()
        points, spread = self._located(heat, features=features)
        return points, spread, self.address(summary)[:, 0].float(), heat

    def _located(self, heat: Tensor, *, features: Tensor) -> tuple[Tensor, Tensor]:
        """Mean place on each heat map, and its spread from the features there."""
        share = torch.softmax(heat, -1)
        points = torch.stack([(share * self.x).sum(-1), (share * self.y).sum(-1)], -1)
        squares = torch.stack([(share * self.x**2).sum(-1), (share * self.y**2).sum(-1)], -1)
        variance = (squares - points**2).clamp(min=1.0)
        if self.training:  # the heat maps are not to be widened for the sake of the spread
            variance = variance.detach()
        there = torch.matmul(share, features.flatten(2).transpose(1, 2).float())
        log_spread = (there[:, :, None, :] * self.spread_weight).sum(-1) + self.spread_bias
        log_spread = log_spread + self.spread_heat * torch.log(variance)
        return points, torch.exp(log_spread.clamp(*LOG_SPREAD_LIMITS))
