"""What a pressure plate reads under two feet, as values.

A foot's place is counted from the back of its shoe: *along* the shoe toward the toe, and
*across* it, outward (away from the other foot), so that both feet and both hands read alike.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

Array = NDArray[np.float64]

PLATE_VALUES: Final = (
    "lead_share",
    "lead_along",
    "lead_across",
    "trail_along",
    "trail_across",
)
"""What five numbers say of two feet: share of the load on the lead foot (0 to 1), and the
centre of pressure of each foot along and across its shoe (metre)."""


def _read_only(value: object) -> Array:
    array = np.array(value, dtype=np.float64)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class FootTrace:
    """One foot over time.

    Parameters
    ----------
    along, across : (n,) array, metre
        Centre of pressure from the back of the shoe toward the toe, and outward.
    load : (n,) array
        In one unit for both feet.
    """

    along: Array = field(converter=_read_only)
    across: Array = field(converter=_read_only)
    load: Array = field(converter=_read_only)


@frozen(kw_only=True, eq=False)
class PlateRecording:
    """Readings of a plate with what its maker says of them.

    Parameters
    ----------
    time : (n,) array, second
        Increasing.
    lead, trail : FootTrace
    place_sd : float
        Standard uncertainty of a foot's centre of pressure, the placing of the shoe
        against its origin included, metre.
    load_sd : float
        Relative standard uncertainty of a foot's load.
    name : str
        The file, to speak of it.
    """

    time: Array = field(converter=_read_only)
    lead: FootTrace
    trail: FootTrace
    place_sd: float
    load_sd: float
    name: str = ""

    @property
    def duration(self) -> float:
        """From the first reading to the last, second."""
        return float(self.time[-1] - self.time[0])

    @property
    def total(self) -> Array:
        """Load on both feet, shape (n,)."""
        total: Array = self.lead.load + self.trail.load
        return total


@frozen(kw_only=True, eq=False)
class PlateMeans:
    """Quiet standing, as means with their covariance.

    Parameters
    ----------
    values : (5,) array
        In the order of :data:`PLATE_VALUES`.
    covariance : (5, 5) array
        Of the means: scatter in time and the plate's own uncertainty together.
    scatter : (5,) array
        Standard uncertainty from the scatter in time alone.
    duration, rate : float
        Second; readings a second.
    worth : float
        Independent readings that the most sluggish of the five is worth.
    name : str
    """

    values: Array = field(converter=_read_only)
    covariance: Array = field(converter=_read_only)
    scatter: Array = field(converter=_read_only)
    duration: float
    rate: float
    worth: float
    name: str = ""

    @property
    def sd(self) -> Array:
        """Standard uncertainties of the means, shape (5,)."""
        sd: Array = np.sqrt(np.diag(self.covariance))
        return sd

    def value(self, name: str, /) -> float:
        """One of :data:`PLATE_VALUES`."""
        return float(self.values[PLATE_VALUES.index(name)])

    def sd_of(self, name: str, /) -> float:
        """Its standard uncertainty."""
        return float(self.sd[PLATE_VALUES.index(name)])
