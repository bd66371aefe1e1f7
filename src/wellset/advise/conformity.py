"""Is the true value inside the window? A probability, and the word it becomes.

References
----------
JCGM 106:2012, Evaluation of measurement data: the role of measurement uncertainty in
conformity assessment, section 7 (probability of conformity) and 8 (guard bands).
"""

from __future__ import annotations

from enum import StrEnum
from math import erfc, hypot, inf, sqrt
from statistics import NormalDist

from attrs import frozen

from wellset.advise.words import Side
from wellset.errors import InputError
from wellset.measures import COVERAGE_FACTOR, Measured
from wellset.standards import Decision, Window


class Verdict(StrEnum):
    """What a finding says."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    UNDECIDED = "undecided"


@frozen(kw_only=True)
class Judgement:
    """A measured value against its window.

    Parameters
    ----------
    verdict : Verdict
    probability_inside, probability_low, probability_high : float
        That the true value is inside, below the low limit, above the high one. They add
        up to 1.
    side : Side or None
        The limit that is more likely passed; ``None`` when inside.
    amount_out : float
        How far the value lies beyond that limit, in the measure's unit; negative when it
        is within it. 0 when inside.
    amount_sd : float
        Standard uncertainty of `amount_out`: of the value and the limit together.
    severity : float
        Distance beyond the limit in half-widths of the window (of the measure's useful
        spread where the window is open), never below 0. It doesn't depend on the camera.
    best_possible : float
        The highest probability that any value could reach with this uncertainty.
    can_be_inside : bool
        Whether that is enough for `inside`.
    """

    verdict: Verdict
    probability_inside: float
    probability_low: float
    probability_high: float
    side: Side | None
    amount_out: float
    amount_sd: float
    severity: float
    best_possible: float
    can_be_inside: bool

    @property
    def amount_interval95(self) -> tuple[float, float]:
        """The 95 % interval of `amount_out`."""
        half = COVERAGE_FACTOR * self.amount_sd
        return self.amount_out - half, self.amount_out + half


def _phi(z: float) -> float:
    """Standard normal distribution; exact in both tails."""
    return 0.5 * erfc(-z / sqrt(2))


def _standardised(distance: float, sd: float) -> float:
    """Distance in standard uncertainties; without any, the limit itself counts as inside."""
    if sd == 0:
        return inf if distance >= 0 else -inf
    return distance / sd


def tail_probabilities(
    value: float,
    *,
    sd: float,
    low: float | None,
    high: float | None,
    low_sd: float = 0.0,
    high_sd: float = 0.0,
) -> tuple[float, float]:
    """Probability that the true value is below `low`, and that it is above `high`.

    JCGM 106:2012 section 7, normal distribution. Each limit has the value's uncertainty
    and its own combined; limits that scale with one yardstick keep their order, so the
    two tails never overlap and this stays exact for them. The value and the yardstick are
    taken as independent.
    """
    below = 0.0 if low is None else _phi(_standardised(low - value, hypot(sd, low_sd)))
    if low is not None and value == low and sd == low_sd == 0:
        below = 0.0
    above = 0.0 if high is None else _phi(-_standardised(high - value, hypot(sd, high_sd)))
    return below, above


def probability_inside(
    value: float,
    *,
    sd: float,
    low: float | None,
    high: float | None,
    low_sd: float = 0.0,
    high_sd: float = 0.0,
) -> float:
    r"""Probability that the true value lies in the window.

    .. math:: p = \Phi((T_U - y)/u_U) - \Phi((T_L - y)/u_L)

    with `u` of the value and the limit combined.

    Examples
    --------
    >>> round(probability_inside(38, sd=1.5, low=31, high=39), 4)
    0.7475
    """
    below, above = tail_probabilities(
        value, sd=sd, low=low, high=high, low_sd=low_sd, high_sd=high_sd
    )
    return min(max(1.0 - below - above, 0.0), 1.0)


def guarded_limits(
    *, sd: float, low: float | None, high: float | None, confidence: float = 0.95
) -> tuple[float | None, float | None]:
    """Where a value must lie so that each limit alone is kept with `confidence`.

    JCGM 106:2012 section 8: the acceptance interval, each limit moved in by a guard band of
    the normal quantile times the standard uncertainty. They may cross: then no value is
    sure enough.

    Raises
    ------
    InputError
        For a confidence outside 0.5 to 1.
    """
    if not 0.5 <= confidence < 1:
        raise InputError("Cannot guard the limits", why=f"the confidence is {confidence}.",
                         fix="Give one from 0.5 up to, but not including, 1.")  # fmt: skip
    guard = NormalDist().inv_cdf(confidence) * sd
    return (None if low is None else low + guard, None if high is None else high - guard)


def judge(
    measured: Measured, window: Window, *, decision: Decision, open_scale: float
) -> Judgement:
    """Judge one value against one window.

    Parameters
    ----------
    measured : Measured
    window : Window
        Of the same measure, in the same unit.
    decision : Decision
    open_scale : float
        What to divide a distance by when the window has only one limit.
    """
    below, above = _tails(measured.value, measured.sd, window=window)
    inside = min(max(1.0 - below - above, 0.0), 1.0)
    best = _best_possible(measured, window)
    verdict = _verdict(inside, decision)
    side = (
        None if verdict is Verdict.INSIDE else _side(below, above, measured=measured, window=window)
    )
    amount, amount_sd = _beyond(measured, window, side=side)
    return Judgement(
        verdict=verdict,
        probability_inside=inside,
        probability_low=below,
        probability_high=above,
        side=side,
        amount_out=amount,
        amount_sd=amount_sd,
        severity=max(amount, 0.0) / (window.half_width or open_scale),
        best_possible=best,
        can_be_inside=best >= decision.inside_at_least,
    )


def _tails(value: float, sd: float, *, window: Window) -> tuple[float, float]:
    return tail_probabilities(
        value,
        sd=sd,
        low=window.low,
        high=window.high,
        low_sd=window.low_sd,
        high_sd=window.high_sd,
    )


def _best_possible(measured: Measured, window: Window) -> float:
    """At the middle of a closed window; far inside an open one every doubt goes."""
    if window.low is None or window.high is None:
        return 1.0
    below, above = _tails((window.low + window.high) / 2, measured.sd, window=window)
    return max(1.0 - below - above, 0.0)


def _verdict(inside: float, decision: Decision) -> Verdict:
    if inside >= decision.inside_at_least:
        return Verdict.INSIDE
    return Verdict.OUTSIDE if inside <= decision.outside_at_most else Verdict.UNDECIDED


def _side(below: float, above: float, *, measured: Measured, window: Window) -> Side:
    """The limit more likely passed; where both tails are even, the nearer one."""
    if below != above:
        return Side.LOW if below > above else Side.HIGH
    if window.low is None or window.high is None:
        return Side.HIGH if window.low is None else Side.LOW
    middle = (window.low + window.high) / 2
    return Side.LOW if measured.value < middle else Side.HIGH


def _beyond(measured: Measured, window: Window, *, side: Side | None) -> tuple[float, float]:
    if side is Side.LOW and window.low is not None:
        return window.low - measured.value, hypot(measured.sd, window.low_sd)
    if side is Side.HIGH and window.high is not None:
        return measured.value - window.high, hypot(measured.sd, window.high_sd)
    return 0.0, measured.sd
