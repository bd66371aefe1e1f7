"""Random numbers on the device, with names for the shapes of chance that the pictures use."""

from __future__ import annotations

import math
from collections.abc import Sequence

import torch
from torch import Tensor

DISPLAY_GAMMA = 2.2
"""Between a display's colours and light, nearly enough for pictures invented anyway."""


class Dice:
    """A source of random ``(rows, columns)`` tensors.

    Parameters
    ----------
    source : torch.Generator
    rows : int
        Pictures to throw for; :meth:`for_rows` changes it.
    """

    def __init__(self, source: torch.Generator, *, rows: int = 1) -> None:
        self.device = str(source.device.type)
        self.rows = rows
        self._generator = source

    @staticmethod
    def seeded(device: str, *, seed: int) -> Dice:
        """Dice whose throws follow from a seed."""
        source = torch.Generator(device=device)
        source.manual_seed(seed)
        return Dice(source)

    def for_rows(self, rows: int) -> Dice:
        """The same source throwing for another number of rows."""
        return Dice(self._generator, rows=rows)

    def even(self, low: float = 0.0, high: float = 1.0, *, columns: int = 1) -> Tensor:
        """Uniform between two limits."""
        thrown = torch.rand(self.rows, columns, generator=self._generator, device=self.device)
        return thrown * (high - low) + low

    def ratio(self, low: float, high: float, *, columns: int = 1) -> Tensor:
        """Between two positive limits, uniform in the logarithm."""
        return torch.exp(self.even(math.log(low), math.log(high), columns=columns))

    def normal(self, sd: float = 1.0, *, columns: int = 1) -> Tensor:
        """Normal about zero."""
        shape = (self.rows, columns)
        return torch.randn(*shape, generator=self._generator, device=self.device) * sd

    def chance(self, share: float, *, columns: int = 1) -> Tensor:
        """True in a share of all throws; bool."""
        return self.even(columns=columns) < share

    def whole(self, below: int, *, columns: int = 1) -> Tensor:
        """Whole numbers from 0 to ``below`` - 1; int64."""
        return torch.randint(
            below, (self.rows, columns), generator=self._generator, device=self.device
        )

    def flat(self, value: float = 0.0, *, columns: int = 1) -> Tensor:
        """The same value in every row."""
        return torch.full((self.rows, columns), value, device=self.device)

    def direction(self) -> Tensor:
        """Unit vectors in space, evenly spread."""
        thrown = self.normal(columns=3)
        return thrown / thrown.norm(dim=1, keepdim=True)

    def any_colour(self, dark: float = 0.02, light: float = 0.9) -> Tensor:
        """Colours of any hue, as light (linear), between two display values."""
        hue, strength, value = self.even(), self.even() ** 1.3, self.even(dark, light)
        thirds = torch.tensor([[0.0, 2.0 / 3.0, 1.0 / 3.0]], device=self.device)
        pure = (((thirds + hue) % 1.0 * 6.0 - 3.0).abs() - 1.0).clamp(0.0, 1.0)
        return (value * (1.0 - strength * (1.0 - pure))) ** DISPLAY_GAMMA

    def one_of(self, colours: Sequence[str], *, spread: float = 0.12) -> Tensor:
        """One of some display colours (``rrggbb``), a little changed, as light (linear)."""
        table = [[int(each[i : i + 2], 16) / 255.0 for i in (0, 2, 4)] for each in colours]
        light = torch.tensor(table, device=self.device) ** DISPLAY_GAMMA
        chosen = light[self.whole(len(colours))[:, 0]]
        changed = torch.exp(self.normal(spread) + self.normal(spread / 2.0, columns=3))
        return torch.as_tensor(chosen * changed)

    def mostly(self, usual: Tensor, otherwise: Tensor, *, share: float) -> Tensor:
        """``usual`` in a share of the rows, else ``otherwise``."""
        return torch.where(self.chance(share), usual, otherwise)
