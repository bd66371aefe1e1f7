"""A survey of body dimensions: means, spreads, and how they go with stature."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from attrs import field, frozen, validators

from wellset.body.sex import Sex
from wellset.units import Edition, Mark, Record


@frozen(kw_only=True)
class Dimension:
    """One measured dimension in one population, as printed.

    Parameters
    ----------
    mean, sd : float
        Metres.
    fraction, fraction_sd : float or None
        The dimension divided by stature, and the spread of that ratio.
    """

    mean: float = field(validator=validators.gt(0.0))
    sd: float = field(validator=validators.gt(0.0))
    fraction: float | None = None
    fraction_sd: float | None = None


@frozen(kw_only=True)
class Regression:
    """A dimension from stature: ``intercept + slope * stature``, metres.

    Parameters
    ----------
    intercept : float
        Metres.
    slope : float
        Metres per metre of stature.
    correlation : float
        Pearson's r.
    see : float
        Standard error of estimate, metres: the spread left when stature is known.
    mark : Mark
        Whether it was fitted to the data file or derived from printed spreads.
    """

    intercept: float
    slope: float
    correlation: float = field(validator=[validators.ge(-1.0), validators.le(1.0)])
    see: float = field(validator=validators.ge(0.0))
    mark: Mark

    def __call__(self, stature: float) -> float:
        """Expected dimension, metres, at a stature in metres."""
        return self.intercept + self.slope * stature


def _dimensions(mapping: Mapping[str, Dimension]) -> Mapping[str, Dimension]:
    return MappingProxyType(dict(mapping))


def _regressions(mapping: Mapping[str, Regression]) -> Mapping[str, Regression]:
    return MappingProxyType(dict(mapping))


@frozen(kw_only=True)
class Survey:
    """One population of one survey.

    Parameters
    ----------
    sex : Sex
        Men or women.
    population : str
        Who was measured.
    edition : Edition
        Which table, entered when.
    stature : Dimension
        Metres.
    dimensions : mapping of str to Dimension
        By name.
    published : mapping of str to Regression
        Regressions on stature fitted to the data file itself.
    """

    sex: Sex
    population: str
    edition: Edition
    stature: Dimension
    dimensions: Mapping[str, Dimension] = field(converter=_dimensions)
    published: Mapping[str, Regression] = field(converter=_regressions)

    def record(self, name: str) -> Record:
        """The mean and spread of a dimension as a record, metres."""
        dimension = self.stature if name == "stature" else self.dimensions[name]
        return Record(
            value=dimension.mean,
            sd=dimension.sd,
            unit="m",
            population=self.population,
            source=self.edition.source,
            mark=Mark.READ,
            edition=self.edition.date,
        )

    def fraction(self, name: str) -> Record:
        """A dimension as a share of stature, as a record.

        Raises
        ------
        KeyError
            If the survey prints no share for it.
        """
        dimension = self.dimensions[name]
        if dimension.fraction is None:
            raise KeyError(name)
        return Record(
            value=dimension.fraction,
            sd=dimension.fraction_sd,
            unit="1",
            population=self.population,
            source=self.edition.source,
            mark=Mark.READ,
            edition=self.edition.date,
        )

    def regression(self, name: str) -> Regression:
        """The regression on stature: the published one, else derived.

        Raises
        ------
        KeyError
            If there is neither a regression nor the spread of the ratio to stature.
        """
        return self.published.get(name) or self.derived_regression(name)

    def derived_regression(self, name: str) -> Regression:
        """The regression on stature that the printed spreads imply.

        Notes
        -----
        With coefficients of variation ``c``, the ratio of two correlated quantities has,
        to first order, ``c_ratio² = c_x² + c_s² - 2 r c_x c_s``. The survey prints all
        three, so r follows; then ``slope = r sd_x / sd_s`` and
        ``see = sd_x sqrt(1 - r²)``. Where the regression was fitted to the data as well,
        the two agree in r to 0.02.
        """
        dimension = self.dimensions[name]
        if dimension.fraction is None or dimension.fraction_sd is None:
            raise KeyError(name)
        c_x = dimension.sd / dimension.mean
        c_s = self.stature.sd / self.stature.mean
        c_ratio = dimension.fraction_sd / dimension.fraction
        r = (c_x**2 + c_s**2 - c_ratio**2) / (2 * c_x * c_s)
        slope = r * dimension.sd / self.stature.sd
        return Regression(
            intercept=dimension.mean - slope * self.stature.mean,
            slope=slope,
            correlation=r,
            see=dimension.sd * math.sqrt(1 - r**2),
            mark=Mark.DERIVED,
        )
