"""Is a change real? Measures over lessons, each with its uncertainty.

References
----------
Weir 2005, J Strength Cond Res 19:231, doi:10.1519/15184.1: SEM, and the minimal difference
to be considered real, ``MD = SEM * 1.96 * sqrt(2)``. With two readings of different
uncertainty the root of two becomes the root of the sum of their squares.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erfc, hypot, sqrt

from attrs import frozen

from wellset.lessons.moments import moment
from wellset.measures import COVERAGE_FACTOR


@frozen(kw_only=True)
class Reading:
    """One measure in one set-up.

    Parameters
    ----------
    when : str
        Moment.
    value, sd : float
        In the measure's published unit; `sd` is the standard uncertainty.
    """

    when: str
    value: float
    sd: float

    def __attrs_post_init__(self) -> None:
        """Refuse what has no place in time or no spread."""
        moment(self.when)
        if not self.sd >= 0:
            raise ValueError(f"sd must be 0 or more, got {self.sd}")


def smallest_real_change(before: Reading, after: Reading, *, steadiness: float = 0.0) -> float:
    """The least difference that is real with 95 % confidence (MDC95).

    Parameters
    ----------
    before, after : Reading
    steadiness : float
        Standard deviation of the student's own set-ups within a lesson, in the measure's
        unit: nobody stands twice the same.

    Notes
    -----
    Errors that both readings share, such as of the student's build, cancel in a
    difference; counting them twice makes this figure larger than it need be, never smaller.
    """
    return COVERAGE_FACTOR * hypot(before.sd, after.sd, sqrt(2.0) * steadiness)


@frozen(kw_only=True)
class Change:
    """A difference between two readings.

    Parameters
    ----------
    amount, needed : float
        What changed, and how much would be real with 95 % confidence.
    probability : float
        That the true value changed in this direction at all, 0.5 to 1.
    """

    amount: float
    needed: float
    probability: float

    @property
    def real(self) -> bool:
        """Whether it is more than the uncertainty of both readings explains."""
        return abs(self.amount) > self.needed


def change_between(before: Reading, after: Reading, *, steadiness: float = 0.0) -> Change:
    """What changed from one reading to another, and whether that is real."""
    amount = after.value - before.value
    needed = smallest_real_change(before, after, steadiness=steadiness)
    spread = needed / COVERAGE_FACTOR
    likely = 1.0 - 0.5 * erfc(abs(amount) / (spread * sqrt(2.0))) if spread > 0 else 1.0
    return Change(amount=amount, needed=needed, probability=likely)


@frozen(kw_only=True)
class Repeatability:
    """How alike several set-ups of one lesson were.

    Parameters
    ----------
    count : int
    mean, sd : float
        Mean and standard deviation of the readings, in the measure's unit.
    expected_sd : float
        The standard deviation that the readings' own uncertainty alone could cause.
    """

    count: int
    mean: float
    sd: float
    expected_sd: float

    @property
    def own_sd(self) -> float:
        """The student's own spread, the readings' uncertainty taken out; at least 0."""
        return sqrt(max(self.sd**2 - self.expected_sd**2, 0.0))


def repeatability(readings: Sequence[Reading], /) -> Repeatability | None:
    """Spread of one measure over the set-ups of one lesson; None for fewer than two."""
    count = len(readings)
    if count < 2:
        return None
    mean = sum(r.value for r in readings) / count
    variance = sum((r.value - mean) ** 2 for r in readings) / (count - 1)
    expected = sum(r.sd**2 for r in readings) / count
    return Repeatability(count=count, mean=mean, sd=sqrt(variance), expected_sd=sqrt(expected))
