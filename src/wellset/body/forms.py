"""Lengths as linear forms: a constant, so much per metre of stature, so much per source.

Each length of a body is written as ``constant + Σ load · source``. Sources are
independent, of unit spread, and named; ``stature`` is the one with a unit, the metre.
Adding and subtracting forms keeps what they share, so correlations need no table.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from attrs import field, frozen

STATURE: Final = "stature"
CONVENTION: Final = "convention: "
"""Sources that begin with this are choices of definition, not differences of people."""


def _frozen_loads(loads: Mapping[str, float]) -> Mapping[str, float]:
    return MappingProxyType({name: float(load) for name, load in loads.items()})


@frozen(kw_only=True, eq=False)
class LinearForm:
    """``constant + Σ load · source``, metres.

    Parameters
    ----------
    constant : float
        Metres.
    loads : mapping of str to float
        Metres per unit of each source; metre per metre for ``stature``.
    """

    constant: float = 0.0
    loads: Mapping[str, float] = field(factory=dict, converter=_frozen_loads)

    def __add__(self, other: LinearForm | float) -> LinearForm:
        if isinstance(other, int | float):
            return LinearForm(constant=self.constant + other, loads=self.loads)
        names = dict.fromkeys((*self.loads, *other.loads))
        return LinearForm(
            constant=self.constant + other.constant,
            loads={n: self.loads.get(n, 0.0) + other.loads.get(n, 0.0) for n in names},
        )

    def __sub__(self, other: LinearForm | float) -> LinearForm:
        return self + (-1.0 * other)

    def __rmul__(self, factor: float) -> LinearForm:
        return LinearForm(
            constant=factor * self.constant,
            loads={name: factor * load for name, load in self.loads.items()},
        )

    def variance(self, *, stature_sd: float = 0.0) -> float:
        """Square metres, with stature known to `stature_sd`."""
        return sum(
            (load * (stature_sd if name == STATURE else 1.0)) ** 2
            for name, load in self.loads.items()
        )


def source(name: str, *, sd: float) -> LinearForm:
    """A difference between people, of mean zero and spread `sd`, metres."""
    return LinearForm(loads={name: sd})


def convention(name: str, *, value: float, sd: float) -> LinearForm:
    """A choice of definition: the value taken here, and how far authors differ, metres."""
    return LinearForm(constant=value, loads={CONVENTION + name: sd})
