"""Probability of conformity against worked numbers and an independent normal distribution.

JCGM 106:2012, sections 7 and 8. Normal quantiles: any normal table. The independent
distribution is SciPy's.
"""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from scipy.stats import norm

from wellset.advise import guarded_limits, probability_inside
from wellset.measures import Measured, Unit


def test_a_bend_of_38_against_35_plus_minus_4_conforms_with_three_chances_in_four() -> None:
    # Phi(0.6667) - Phi(-4.6667) = 0.7475, by the formula of JCGM 106:2012, section 7.
    assert probability_inside(38, sd=1.5, low=31, high=39) == pytest.approx(0.7475, abs=5e-5)


def test_the_guarded_upper_limit_of_that_bend_is_36_53() -> None:
    # 39 - 1.645 * 1.5 = 36.53, guard band of JCGM 106:2012, section 8.
    low, high = guarded_limits(sd=1.5, low=31, high=39)
    assert high == pytest.approx(36.53, abs=0.005)
    assert low == pytest.approx(33.47, abs=0.005)


def test_a_speed_of_106_6_is_above_100_with_three_nines() -> None:
    # v = 100 / (1 - 3.09 * 0.02) = 106.6 for 99.9 %: JCGM 106:2012, section 8.3 (the
    # example from memory, its arithmetic done again).
    v = 100 / (1 - 3.09 * 0.02)
    assert v == pytest.approx(106.6, abs=0.05)
    assert 1 - probability_inside(v, sd=0.02 * v, low=None, high=100) == pytest.approx(
        0.999, abs=1e-5
    )


@pytest.mark.parametrize(
    ("confidence", "z"), [(0.90, 1.28), (0.95, 1.645), (0.99, 2.33), (0.999, 3.09)]
)
def test_guard_bands_are_the_quantiles_of_a_normal_table(confidence: float, z: float) -> None:
    low, _ = guarded_limits(sd=1.0, low=0.0, high=None, confidence=confidence)
    assert low == pytest.approx(z, abs=0.005)


def test_simple_acceptance_at_the_limit_is_wrong_half_of_the_time() -> None:
    # ILAC-G8:09/2019: guard band 0 gives a risk of up to 50 %.
    assert probability_inside(100, sd=1, low=None, high=100) == pytest.approx(0.5)


def test_a_guard_band_of_the_expanded_uncertainty_leaves_under_two_and_a_half_percent() -> None:
    # ILAC-G8:09/2019: w = U (95 %, k = 2) gives a risk below 2.5 %.
    assert 1 - probability_inside(100 - 2, sd=1, low=None, high=100) < 0.025


@pytest.mark.parametrize("value", [-3.0, 0.2, 1.0, 4.0, 12.0])
@pytest.mark.parametrize("sd", [0.1, 1.0, 5.0])
def test_it_agrees_with_an_independent_normal_distribution(value: float, sd: float) -> None:
    expected = norm.cdf(4, loc=value, scale=sd) - norm.cdf(0, loc=value, scale=sd)
    assert probability_inside(value, sd=sd, low=0, high=4) == pytest.approx(expected, abs=1e-12)


def test_it_agrees_with_the_measured_values_own_probability() -> None:
    measured = Measured(measure="arm_hang", unit=Unit.DEGREE, value=3, sd=2)
    assert probability_inside(3, sd=2, low=-inf, high=5) == pytest.approx(
        measured.probability_below(5)
    )


def test_limits_on_an_uncertain_yardstick_agree_with_drawing_both_at_random() -> None:
    # An independent way to the same number: 400,000 draws, so a standard error below 0.0008.
    rng = np.random.default_rng(20260101)
    yardstick = rng.normal(0.40, 0.02, 400_000)
    truth = rng.normal(0.42, 0.015, 400_000)
    drawn = np.mean((truth > 0.9 * yardstick) & (truth < 1.2 * yardstick))
    computed = probability_inside(
        0.42, sd=0.015, low=0.36, high=0.48, low_sd=0.9 * 0.02, high_sd=1.2 * 0.02
    )
    assert computed == pytest.approx(drawn, abs=0.003)
