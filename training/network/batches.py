"""Batches of pictures with labels, made on the device while the network learns."""

from __future__ import annotations

from typing import Final

import torch
from attrs import frozen
from torch import Tensor

from training.pictures.augment import Augmenter
from training.pictures.renderer import Plan, Renderer
from training.pictures.stock import Stock

PLANNED_TOGETHER: Final = 32
"""Batches whose dice are thrown at once: the many small steps of a plan cost the same."""


@frozen(kw_only=True, eq=False)
class Batch:
    """Pictures as a camera might deliver them, and what is true of them.

    Parameters
    ----------
    pictures : (N, 3, 320, 320) tensor
        Red, green, blue, 0 to 1.
    plan : training.pictures.renderer.Plan
    """

    pictures: Tensor
    plan: Plan


class Batches:
    """An endless supply of fresh batches.

    Parameters
    ----------
    stock : Stock
    size : int
        Pictures in a batch.
    seed : int
    """

    def __init__(self, stock: Stock, *, size: int, seed: int) -> None:
        self.size = size
        self._renderer = Renderer(stock, seed=seed)
        self._augment = Augmenter(self._renderer.dice)
        self._plans: list[Plan] = []

    def next(self) -> Batch:
        """One batch that was never seen before."""
        with torch.no_grad():
            if not self._plans:
                self._plans = self._planned()
            plan = self._plans.pop()
            pictures = self._augment(self._renderer.draw(plan))
            return Batch(pictures=pictures.contiguous(memory_format=torch.channels_last), plan=plan)

    def _planned(self) -> list[Plan]:
        many = self._renderer.plan(PLANNED_TOGETHER * self.size)
        return [many.part(start, start + self.size) for start in range(0, len(many), self.size)]
