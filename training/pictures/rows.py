"""Rows of numbers that describe a picture and a figure to the kernels.

Every picture is one row of :data:`PICTURE`, every golfer drawn in it one row of
:data:`FIGURE`. The kernels read the same rows by names that :func:`definitions` makes, so
that the order stands in one place only.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import torch
from attrs import frozen

SLOTS: Final = 4
"""Figures in one picture at most: the golfer and three others."""
TREES: Final = 18
LINES: Final = 24
BLOCKS: Final = 6


@frozen(kw_only=True)
class Layout:
    """Names and places of the numbers of a row.

    Parameters
    ----------
    prefix : str
        What the kernels' names begin with.
    widths : mapping of str to int
        How many numbers each name holds, in order.
    """

    prefix: str
    widths: Mapping[str, int]

    @property
    def length(self) -> int:
        """Numbers in a row."""
        return sum(self.widths.values())

    def place(self, name: str) -> slice:
        """Where a name's numbers lie in a row."""
        start = 0
        for each, width in self.widths.items():
            if each == name:
                return slice(start, start + width)
            start += width
        raise KeyError(name)

    def fill(self, parts: Mapping[str, torch.Tensor]) -> torch.Tensor:
        """One row for each of N pictures or figures.

        Parameters
        ----------
        parts : mapping of str to (N, width) float tensor
            Every name of the layout.

        Raises
        ------
        ValueError
            A name is missing, unknown, or has another width.
        """
        if parts.keys() != self.widths.keys():
            raise ValueError(f"Names of a row differ: {parts.keys() ^ self.widths.keys()}.")
        for name, width in self.widths.items():
            if parts[name].shape[1] != width:
                raise ValueError(f"{name} holds {parts[name].shape[1]} numbers, not {width}.")
        return torch.cat([parts[name] for name in self.widths], dim=1).contiguous()

    def definitions(self) -> str:
        """The same places as definitions for the kernels."""
        lines = [
            f"#define {self.prefix}_{name.upper()} {self.place(name).start}" for name in self.widths
        ]
        return "\n".join([*lines, f"#define {self.prefix}_LENGTH {self.length}"])


PICTURE: Final = Layout(
    prefix="ROW",
    widths={
        # camera
        "rotation": 9,  # camera from world, row by row
        "translation": 3,
        "focal": 1,  # pixels
        "centre": 2,
        "distortion": 2,
        # light
        "light_axes": 9,  # right, down and towards the light
        "light_origin": 3,
        "light_span": 1,  # metres across the light's depth buffer
        "sun": 3,
        "ambient": 3,
        "bounce": 3,
        "shadow": 1,
        "exposure": 1,
        "gamma": 1,
        # ground
        "seed": 1,
        "abstract": 1,
        "ground_a": 3,
        "ground_b": 3,
        "ground_scale": 1,
        "ground_contrast": 1,
        "stripes": 3,  # width, darkness, direction
        "mat_on": 1,
        "mat": 4,  # x from, x to, y from, y to
        "mat_colour": 3,
        "rubber": 3,
        "slab": 4,
        "slab_colour": 3,
        # what lies behind
        "wall_on": 1,
        "wall": 2,  # distances of two walls, in the frame turned by wall_turn
        "wall_turn": 2,  # cosine, sine
        "wall_colour": 3,
        "panel": 2,  # width, darkness of the joints
        "horizon": 3,
        "zenith": 3,
        "clouds": 1,
        "hills": 1,
        "tree_count": 1,
        "trees": 7 * TREES,  # middle, radius, colour
        # drawn over the picture
        "lines": 9 * LINES,  # two ends, radius in pixels, colour, in front?
        "blocks": 9 * BLOCKS,  # middle, half sizes, turn, colour, in front?
    },
)

FIGURE: Final = Layout(
    prefix="FIGURE",
    widths={
        "scale": 3,
        "turn": 2,  # cosine, sine, about the plumb through the ball
        "place": 2,
        "swell_upper": 1,  # metres at most
        "swell_lower": 1,
        "wave_a": 3,  # radians a metre
        "phase_a": 1,
        "wave_b": 3,
        "phase_b": 1,
        "creases": 1,
    },
)
