"""Named quantities with a joint normal distribution."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Self

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.body.forms import CONVENTION, STATURE, LinearForm

Array = NDArray[np.float64]


def _frozen_array(value: object) -> Array:
    array = np.array(value, dtype=np.float64)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class NamedGaussian:
    """A mean and covariance with a name on every row.

    Parameters
    ----------
    names : tuple of str
    mean : (N,) array, metre
    covariance : (N, N) array, square metre
    """

    names: tuple[str, ...]
    mean: Array = field(converter=_frozen_array)
    covariance: Array = field(converter=_frozen_array)

    @classmethod
    def from_forms(
        cls,
        forms: Mapping[str, LinearForm],
        *,
        stature: float,
        stature_sd: float,
        widening: float = 1.0,
    ) -> Self:
        """The joint distribution of linear forms of independent sources.

        `widening` multiplies every source but stature itself and the choices of definition.
        """
        sources = list(dict.fromkeys(name for form in forms.values() for name in form.loads))
        loads = np.array(
            [[form.loads.get(name, 0.0) for name in sources] for form in forms.values()]
        )
        centre = np.array([stature if name == STATURE else 0.0 for name in sources])
        scale = np.array([_scale(name, stature_sd=stature_sd, widening=widening)
                          for name in sources])  # fmt: skip
        scaled = loads * scale
        constants = np.array([form.constant for form in forms.values()])
        return cls(
            names=tuple(forms), mean=constants + loads @ centre, covariance=scaled @ scaled.T
        )

    def row(self, name: str) -> int:
        """Index of a name."""
        return self.names.index(name)

    def sd(self, name: str) -> float:
        """Standard uncertainty of one quantity, metres."""
        i = self.row(name)
        return math.sqrt(max(float(self.covariance[i, i]), 0.0))

    def part(self, names: Iterable[str]) -> NamedGaussian:
        """The same distribution, fewer rows."""
        kept = tuple(names)
        rows = [self.row(name) for name in kept]
        return NamedGaussian(
            names=kept, mean=self.mean[rows], covariance=self.covariance[np.ix_(rows, rows)]
        )

    def surprise(self, name: str, *, value: float, sd: float) -> float:
        """How many standard deviations a reading lies from what was expected of it."""
        i = self.row(name)
        return float((value - self.mean[i]) / math.sqrt(self.covariance[i, i] + sd**2))

    def observed(self, name: str, *, value: float, sd: float) -> NamedGaussian:
        """The distribution after reading one quantity with a standard uncertainty `sd` > 0.

        Notes
        -----
        The update of a linear Gaussian model by one scalar reading (Kalman 1960,
        doi 10.1115/1.3662552, with no dynamics): gain ``K = P h / (h' P h + sd²)``,
        mean ``+ K (value - h' mean)``, covariance ``P - K h' P``. It never raises a
        variance, and readings may come in any order.
        """
        i = self.row(name)
        column = self.covariance[:, i]
        total = column[i] + sd**2
        gain = column / total
        covariance = self.covariance - np.outer(gain, column)
        return NamedGaussian(
            names=self.names,
            mean=self.mean + gain * (value - self.mean[i]),
            covariance=(covariance + covariance.T) / 2,
        )


def _scale(name: str, *, stature_sd: float, widening: float) -> float:
    if name == STATURE:
        return stature_sd
    return 1.0 if name.startswith(CONVENTION) else widening


def pooled(a: NamedGaussian, b: NamedGaussian) -> NamedGaussian:
    """Mean and covariance of an equal mixture of two populations.

    The covariance is the mean of both plus what their means differ by:
    ``(A + B)/2 + d d'/4`` with ``d = mean_a - mean_b``.

    Raises
    ------
    ValueError
        If the two do not name the same quantities in the same order.
    """
    if a.names != b.names:
        raise ValueError("the two populations name different quantities")
    d = a.mean - b.mean
    return NamedGaussian(
        names=a.names,
        mean=(a.mean + b.mean) / 2,
        covariance=(a.covariance + b.covariance) / 2 + np.outer(d, d) / 4,
    )
