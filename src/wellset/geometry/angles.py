"""Angles that stay exact under complex-step differentiation."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Number = TypeVar("Number", NDArray[np.float64], NDArray[np.complex128])


def angle(y: Number, x: Number) -> Number:
    """Angle of the vector ``(x, y)`` from the x axis, radian, in (-pi, pi].

    The imaginary part, when there is one, is the exact first-order change, so that
    a formula written with this function can be differentiated by a complex step
    (Squire & Trapp 1998, doi 10.1137/S003614459631241X).
    """
    if not np.iscomplexobj(y) and not np.iscomplexobj(x):
        plain: Number = np.arctan2(y, x)
        return plain
    yr, xr = np.real(y), np.real(x)
    change = (xr * np.imag(y) - yr * np.imag(x)) / (xr * xr + yr * yr)
    stepped: Number = np.arctan2(yr, xr) + 1j * change
    return stepped


def length(vectors: Number) -> Number:
    """Euclidean length over the last axis, without conjugation."""
    return np.sqrt(np.sum(vectors * vectors, axis=-1))  # type: ignore[no-any-return]


def bend(first: Number, second: Number) -> Number:
    """Unsigned angle between vectors over the last axis, radian, in [0, pi]."""
    cross = np.cross(first, second)
    return angle(length(cross), np.sum(first * second, axis=-1))
