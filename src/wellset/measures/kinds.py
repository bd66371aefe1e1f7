"""What a measure is, and what measuring it gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum
from math import erf, sqrt

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.figure.figure import FigureState
from wellset.figure.views import View

Array = NDArray[np.float64]

COVERAGE_FACTOR = 1.959964
"""Half-width of a 95 % interval in standard uncertainties (normal distribution)."""


class Unit(StrEnum):
    """Unit in which a measure is published (design: the public contract)."""

    METRE = "m"
    PERCENT = "%"
    DEGREE = "deg"


class Plane(StrEnum):
    """Projection a measure is read in."""

    FRONT = "front"
    SIDE = "side"
    PLAN = "plan"
    SPACE = "space"


Formula = Callable[[FigureState], Array]


@frozen(kw_only=True, eq=False)
class Measure:
    """One number about a figure, declared once.

    Parameters
    ----------
    id : str
        Public name.
    title : str
        The name in a coach's words.
    unit : Unit
    definition, positive : str
        What it is; what a positive value means.
    plane : Plane
    formula : callable
        The value in metre, radian or per cent from a :class:`FigureState`; it must
        be analytic, since it is differentiated by a complex step.
    useful_sd : float
        Standard uncertainty, in the published unit, above which the number would
        mislead a coach and is withheld.
    needs : frozenset of View
        Views without which it cannot be known well; used to say what to add.
    """

    id: str
    title: str
    unit: Unit
    definition: str
    positive: str
    plane: Plane
    formula: Formula
    useful_sd: float
    needs: frozenset[View]

    @property
    def published_per_si(self) -> float:
        """Factor from the formula's unit to the published unit."""
        return 180 / np.pi if self.unit is Unit.DEGREE else 1.0


@frozen(kw_only=True)
class Measured:
    """A value with its standard uncertainty and where that comes from.

    Parameters
    ----------
    value, sd : float
        In the measure's published unit.
    budget : mapping of source to float
        Standard uncertainty that each source alone would give; squares add up to
        ``sd ** 2``.
    """

    measure: str
    unit: Unit
    value: float
    sd: float
    budget: Mapping[str, float] = field(factory=dict)

    @property
    def interval95(self) -> tuple[float, float]:
        """The 95 % interval, in the measure's unit."""
        half = COVERAGE_FACTOR * self.sd
        return self.value - half, self.value + half

    def probability_below(self, limit: float) -> float:
        """Probability that the true value is below ``limit`` (published unit).

        JCGM 106:2012 section 7, normal distribution. With no uncertainty it is 0 or 1.
        """
        if self.sd == 0:
            return float(self.value < limit)
        return 0.5 * (1 + erf((limit - self.value) / (self.sd * sqrt(2))))


@frozen(kw_only=True)
class NotMeasurable:
    """Why the pictures give no number, and what would.

    Parameters
    ----------
    measure : str
    code : str
        Stable identifier of the reason.
    why, fix : str
        In words, with the numbers.
    sd : float or None
        The standard uncertainty that was too large, in the measure's unit.
    """

    measure: str
    unit: Unit
    code: str
    why: str
    fix: str
    sd: float | None = None


MeasureResult = Measured | NotMeasurable
