"""The solved set-up: points in space with their covariance by source.

World frame: origin on the ground under the ball, x to the target, y from the ball to
the golfer, z up, metre.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.figure.landmarks import INDEX, LANDMARKS

Array = NDArray[np.float64]

BUILD_SCALARS: Final = (
    "shoe_breadth",
    "thigh_half_depth",
    "nape_cloth",
    "mass_offset_x",
    "mass_offset_y",
)
"""Lengths that belong to a figure beside its points, metre: breadth of a shoe at the
ankle (along x); horizontal distance from the line hip-knee to the front of the trouser
leg; thickness of collar and hair over C7; and the error of the mass model, i.e. true
minus modelled centre of mass along x and y."""

POINT_COUNT: Final = len(LANDMARKS)
STATE_SIZE: Final = 3 * POINT_COUNT + len(BUILD_SCALARS)


@frozen(kw_only=True, eq=False)
class FigureState:
    """Points and build scalars without covariance; real, or complex for derivatives.

    Parameters
    ----------
    values : (..., STATE_SIZE) array
        Leading axes are a batch.
    mass_weights : (N,) array
        Weight of each landmark in the whole-body centre of mass.
    """

    values: NDArray[np.float64]
    mass_weights: Array

    def __getitem__(self, landmark: str) -> NDArray[np.float64]:
        """Position of a landmark, shape (..., 3)."""
        start = 3 * INDEX[landmark]
        return self.values[..., start : start + 3]

    def mid(self, stem: str) -> NDArray[np.float64]:
        """Midpoint of the lead and trail points, shape (..., 3)."""
        middle: Array = (self["lead_" + stem] + self["trail_" + stem]) / 2
        return middle

    def scalar(self, name: str) -> NDArray[np.float64]:
        """One of :data:`BUILD_SCALARS`, shape (...)."""
        return self.values[..., 3 * POINT_COUNT + BUILD_SCALARS.index(name)]

    @property
    def centre_of_mass(self) -> NDArray[np.float64]:
        """Whole-body centre of mass with the mass model's error added, shape (..., 3)."""
        points = self.values[..., : 3 * POINT_COUNT]
        points = points.reshape(*points.shape[:-1], POINT_COUNT, 3)
        centre: NDArray[np.float64] = self.mass_weights @ points
        offset = np.stack(
            [
                self.scalar("mass_offset_x"),
                self.scalar("mass_offset_y"),
                np.zeros_like(self.scalar("mass_offset_x")),
            ],
            axis=-1,
        )
        return centre + offset


def _read_only(value: object) -> Array:
    array = np.array(value, dtype=np.float64)
    array.setflags(write=False)
    return array


def _frozen_factors(factors: Mapping[str, Array]) -> Mapping[str, Array]:
    return {name: _read_only(factor) for name, factor in factors.items()}


@frozen(kw_only=True, eq=False)
class Figure:
    """A set-up: points, build scalars and how well they are known.

    Parameters
    ----------
    points : (N, 3) array, world frame, metre
        In the order of :data:`wellset.figure.landmarks.LANDMARKS`.
    scalars : (5,) array, metre
        In the order of :data:`BUILD_SCALARS`.
    mass_weights : (N,) array
        Share of body mass lumped at each landmark; sums to 1.
    factors : mapping of source to (STATE_SIZE, k) array
        The covariance of the flattened points and scalars is ``sum(F @ F.T)``.
    """

    points: Array = field(converter=_read_only)
    scalars: Array = field(converter=_read_only)
    mass_weights: Array = field(converter=_read_only)
    factors: Mapping[str, Array] = field(converter=_frozen_factors, factory=dict)

    @points.validator
    def _shape(self, _attribute: object, value: Array) -> None:
        if value.shape != (POINT_COUNT, 3):
            raise ValueError(f"points have shape {value.shape}, expected {(POINT_COUNT, 3)}")

    @property
    def state(self) -> FigureState:
        """Points and scalars, ready for a measure's formula."""
        return FigureState(
            values=np.concatenate([self.points.ravel(), self.scalars]),
            mass_weights=self.mass_weights,
        )

    def __getitem__(self, landmark: str) -> Array:
        """Position of a landmark, shape (3,)."""
        point: Array = self.points[INDEX[landmark]]
        return point

    def point_covariance(self, landmark: str) -> Array:
        """Covariance of one landmark, shape (3, 3), square metre."""
        start = 3 * INDEX[landmark]
        covariance = np.zeros((3, 3))
        for factor in self.factors.values():
            rows = factor[start : start + 3]
            covariance += rows @ rows.T
        return covariance
