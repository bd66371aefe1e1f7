"""Derivatives without the formulas under test."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def numeric_jacobian(function: Callable[[Array], Array], at: Array, *, step: float) -> Array:
    """Central differences with one Richardson extrapolation: error of order ``step**4``.

    The two estimates at ``step`` and ``step / 2`` are combined as ``(4 D2 - D1) / 3``
    (Richardson 1911, doi 10.1098/rsta.1911.0009).
    """

    def central(h: float) -> Array:
        columns = []
        for i in range(len(at)):
            ahead, behind = at.copy(), at.copy()
            ahead[i] += h
            behind[i] -= h
            columns.append((function(ahead) - function(behind)) / (2 * h))
        return np.stack(columns, axis=-1)

    result: Array = (4 * central(step / 2) - central(step)) / 3
    return result


def complex_jacobian(
    function: Callable[[NDArray[np.complex128]], NDArray[np.complex128]], at: Array
) -> Array:
    """Complex-step derivative of an analytic function, exact to rounding.

    Squire & Trapp 1998, doi 10.1137/S003614459631241X.
    """
    columns = []
    for i in range(len(at)):
        stepped = at.astype(np.complex128)
        stepped[i] += 1e-30j
        columns.append(np.imag(function(stepped)) / 1e-30)
    return np.stack(columns, axis=-1)
