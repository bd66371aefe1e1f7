"""The ground a set-up stands on: a plane through the origin; gravity stays vertical."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from attrs import Attribute, field, frozen
from numpy.typing import NDArray

from wellset.errors import InputError

Array = NDArray[np.float64]

STEEPEST: Final = math.radians(25)
"""On steeper ground nobody stands with flat feet at ease (our judgement; shoes and ankles
bend about 20 to 30 degrees)."""


def _check(_: object, attribute: Attribute[float], value: float) -> None:
    if not (math.isfinite(value) and abs(value) <= STEEPEST):
        raise InputError(
            "Cannot plan on this slope",
            why=f"{math.degrees(value):.0f}° is steeper than the {math.degrees(STEEPEST):.0f}° "
            f"that the model stands on.",
            fix="Give a gentler slope.",
            where=attribute.name,
        )


@frozen(kw_only=True)
class Ground:
    """A sloping plane through the point under the ball.

    Parameters
    ----------
    uphill : float
        How steeply it rises toward the target, radian; negative is downhill.
    ball_above_feet : float
        How steeply it rises from the golfer to the ball, radian; negative: ball below feet.
    """

    uphill: float = field(default=0.0, validator=_check)
    ball_above_feet: float = field(default=0.0, validator=_check)

    @property
    def is_level(self) -> bool:
        """Whether it is."""
        return self.uphill == 0 and self.ball_above_feet == 0

    @property
    def world_from_ground(self) -> Array:
        """Rotation, shape (3, 3): its columns are the ground's own x, y and upward axis.

        Ground x lies in the vertical plane of the target line.
        """
        t, s = math.tan(self.uphill), -math.tan(self.ball_above_feet)
        x = np.array([1.0, 0.0, t])
        normal = np.array([-t, -s, 1.0])
        x, normal = x / np.linalg.norm(x), normal / np.linalg.norm(normal)
        return np.column_stack([x, np.cross(normal, x), normal])
