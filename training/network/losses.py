"""What the network is taught to make small."""

from __future__ import annotations

from typing import Final

import torch
from attrs import frozen
from torch import Tensor
from torch.nn import functional

from training.golfers.pool import LANDMARKS
from training.network.net import SIZE, STRIDE

FARTHEST_PX: Final = 60.0
"""Errors count no more than this, so that one lost point does not rule a batch."""
HEAT_SD_PX: Final = 6.0
HEAT_WEIGHTS: Final = (0.17, 0.02)
"""Weight of the heat maps at the beginning and at the end of the training."""
STRAIGHT_WEIGHT: Final = 0.05
ADDRESS_WEIGHT: Final = 1.0
AWAY_FROM_ADDRESS: Final = 0.3
"""How much a golfer who is not at address counts."""

_MOVING: Final = ("elbow", "wrist", "grip", "shaft", "club")
MOVING_ROWS: Final = tuple(i for i, n in enumerate(LANDMARKS) if n.split("_")[0] in _MOVING)
"""Arms and club: what is elsewhere in a swing."""
UNREAD_PX: Final = 20.0
DOUBTED_PX: Final = 6.0
"""Spreads taught where nothing is to be read: of arms and club in any picture that shows no
golfer at address, and of all else in views to be refused. So the spreads alone tell such
pictures apart (at address they are about 1 px), as the product has always used them."""


@frozen(kw_only=True, eq=False)
class Loss:
    """What to make small, and the plain errors beside it.

    Parameters
    ----------
    total : () tensor
    rms_px : () tensor
        Root mean square distance of the known points.
    address_right : () tensor
        Share of the pictures whose "at address" is on the right side of one half.
    """

    total: Tensor
    rms_px: Tensor
    address_right: Tensor


def heat_weight(progress: float) -> float:
    """Weight of the heat maps' loss; ``progress`` from 0 to 1."""
    first, last = HEAT_WEIGHTS
    return first + (last - first) * progress


def loss(
    answer: tuple[Tensor, Tensor, Tensor, Tensor],
    *,
    points: Tensor,
    known: Tensor,
    posed: Tensor,
    readable: Tensor,
    progress: float,
) -> Loss:
    """Laplace likelihood of the points, cross-entropy of heat maps and of "at address".

    Parameters
    ----------
    answer : tuple of tensors
        What the network's ``forward`` returns.
    points : (N, K, 2) tensor
        True points, pixels.
    known : (N, K) bool tensor
        Points that count; those outside the cut-out never do.
    posed : (N,) bool tensor
        Whether the golfer is at address, from wherever he is seen.
    readable : (N,) bool tensor
        Whether he is seen from where he can be read.
    progress : float
        0 to 1.
    """
    found, spread, odds, heat = answer
    at_address = posed & readable
    moving = torch.zeros_like(known[0])
    moving[list(MOVING_ROWS)] = True
    inside = ((points > 2.0) & (points < SIZE - 2.0)).all(-1)
    counted = (known & inside & (at_address[:, None] | ~moving)).float()
    weight = counted * torch.where(posed, 1.0, AWAY_FROM_ADDRESS)[:, None]
    off = (found - points).abs().clamp(max=FARTHEST_PX)
    likelihood = (off / spread + torch.log(spread)).sum(-1)
    heats = -(_bumps(points) * functional.log_softmax(heat, -1)).sum(-1)
    each = likelihood + STRAIGHT_WEIGHT * off.sum(-1) + heat_weight(progress) * heats
    unread = (~at_address[:, None] & moving) | ~readable[:, None]
    doubt = AWAY_FROM_ADDRESS * unread * _doubt(spread, moving=moving)
    located = ((each * weight).sum() + doubt.sum()) / weight.sum().clamp(min=1.0)
    told = functional.binary_cross_entropy_with_logits(odds, at_address.float())
    with torch.no_grad():
        square = (off**2).sum(-1)
        rms = ((square * counted).sum() / counted.sum().clamp(min=1.0)).sqrt()
        right = ((odds > 0.0) == at_address).float().mean()
    total = located + ADDRESS_WEIGHT * told
    return Loss(total=total, rms_px=rms, address_right=right)


def _doubt(spread: Tensor, *, moving: Tensor) -> Tensor:
    """How far spreads are from those taught where nothing is to be read, ``(N, K)``."""
    taught = torch.where(moving, UNREAD_PX, DOUBTED_PX)[None, :, None]
    return (torch.log(spread) - torch.log(taught)).abs().sum(-1)


def _bumps(points: Tensor) -> Tensor:
    """Round bumps around the points over the heat maps' cells, each with sum one."""
    middles = (torch.arange(SIZE // STRIDE, device=points.device).float() + 0.5) * STRIDE
    across, down = (
        torch.exp(-0.5 * ((middles - points[..., axis : axis + 1]) / HEAT_SD_PX) ** 2)
        for axis in (0, 1)
    )
    across = across / (across.sum(-1, keepdim=True) + 1e-6)
    down = down / (down.sum(-1, keepdim=True) + 1e-6)
    return (down[..., :, None] * across[..., None, :]).flatten(2)
