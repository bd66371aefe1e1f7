"""The ball."""

from __future__ import annotations

from typing import Final

from attrs import frozen

from wellset.equipment.rules import GREATEST_BALL_MASS, LEAST_BALL_DIAMETER, check_ball


@frozen(kw_only=True)
class Ball:
    """A golf ball within the rules.

    Parameters
    ----------
    diameter_m : float
        Metres. Every maker stays at the rules' least diameter.
    mass_kg : float
        Kilograms.

    Raises
    ------
    EquipmentError
        If it is smaller or heavier than the rules allow.
    """

    diameter_m: float = LEAST_BALL_DIAMETER.value
    mass_kg: float = GREATEST_BALL_MASS.value

    def __attrs_post_init__(self) -> None:
        """Hold it to the rules."""
        check_ball(diameter_m=self.diameter_m, mass_kg=self.mass_kg)

    @property
    def radius_m(self) -> float:
        """Half the diameter, metres: the height of the centre of a ball on flat ground."""
        return self.diameter_m / 2


STANDARD_BALL: Final = Ball()
"""The least diameter and the greatest mass the rules allow."""
