"""Two nonlinear regressions with certified answers.

Source: NIST Statistical Reference Datasets, Nonlinear Regression, ``Misra1a`` (NIST study
of dental research, 1978) and ``Rat43`` (Ratkowsky 1983, *Nonlinear Regression Modeling*,
p. 62 and 88), https://www.itl.nist.gov/div898/strd/, in the public domain. The data and the
certified values were entered from memory; the tests show that the data reproduce the
certified residual sum of squares, to which a wrong digit anywhere would be fatal.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

Array = NDArray[np.float64]
Model = Callable[[Array, Array], tuple[Array, Array]]


@frozen(kw_only=True, eq=False)
class Certified:
    """One data set: model, data, two starts and the certified answer."""

    model: Model
    x: Array
    y: Array
    starts: tuple[tuple[float, ...], tuple[float, ...]]
    values: tuple[float, ...]
    standard_errors: tuple[float, ...]
    residual_sum_of_squares: float


def misra1a(b: Array, x: Array) -> tuple[Array, Array]:
    """``b1 (1 - exp(-b2 x))`` and its derivatives."""
    decay = np.exp(-b[1] * x)
    return b[0] * (1 - decay), np.stack([1 - decay, b[0] * x * decay], 1)


def rat43(b: Array, x: Array) -> tuple[Array, Array]:
    """``b1 / (1 + exp(b2 - b3 x)) ** (1 / b4)`` and its derivatives."""
    growth = np.exp(b[1] - b[2] * x)
    base = 1 + growth
    value = b[0] * base ** (-1 / b[3])
    slope = -value / b[3] * growth / base
    return value, np.stack(
        [value / b[0], slope, -x * slope, value * np.log(base) / b[3] ** 2], axis=1
    )


MISRA1A = Certified(
    model=misra1a,
    x=np.array(
        [
            77.6,
            114.9,
            141.1,
            190.8,
            239.9,
            289.0,
            332.8,
            378.4,
            434.8,
            477.3,
            536.8,
            593.1,
            689.1,
            760.0,
        ]
    ),
    y=np.array(
        [
            10.07,
            14.73,
            17.94,
            23.93,
            29.61,
            35.18,
            40.02,
            44.82,
            50.76,
            55.05,
            61.01,
            66.40,
            75.47,
            81.78,
        ]
    ),
    starts=((500.0, 0.0001), (250.0, 0.0005)),
    values=(2.3894212918e02, 5.5015643181e-04),
    standard_errors=(2.7070075241e00, 7.2668688436e-06),
    residual_sum_of_squares=1.2455138894e-01,
)
RAT43 = Certified(
    model=rat43,
    x=np.arange(1.0, 16.0),
    y=np.array(
        [
            16.08,
            33.83,
            65.80,
            97.20,
            191.55,
            326.20,
            386.87,
            520.53,
            590.03,
            651.92,
            724.93,
            699.56,
            689.96,
            637.56,
            717.41,
        ]
    ),
    starts=((100.0, 10.0, 1.0, 1.0), (700.0, 5.0, 0.75, 1.3)),
    values=(6.9964151270e02, 5.2771253025e00, 7.5962938329e-01, 1.2792483859e00),
    standard_errors=(1.6302297817e01, 2.0828735829e00, 1.9566123451e-01, 6.8761936385e-01),
    residual_sum_of_squares=8.7864049080e03,
)
