"""Do the stated intervals cover the truth?

Set-ups are drawn from exactly what the estimate states: a true figure near a rendered one,
cameras, segment lengths, shoes, sway, sticks and landmark noise of the stated spreads.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import scipy.stats
from numpy.typing import NDArray

from tests.support.simulate import Simulated, simulate
from wellset.assess import Fit, fit
from wellset.measures import COVERAGE_FACTOR, MEASURES, evaluate_all, value_and_gradient

Array = NDArray[np.float64]
FITS, SEED = 80, 7


def draw(i: int) -> Simulated:
    return simulate(np.random.default_rng([SEED, i]))


def solved(case: Simulated) -> Fit:
    return fit(case.setting, case.sightings, rendered_to_real=False)


@cache
def deviations() -> Array:
    """Deviation from the truth in standard uncertainties, shape (FITS, measures)."""
    rows = []
    for i in range(FITS):
        case = draw(i)
        found = solved(case)
        assert found.converged
        measured = evaluate_all(found.figure)
        rows.append(
            [
                (measured[id_].value - value_and_gradient(measure, case.truth)[0])
                / measured[id_].sd
                for id_, measure in MEASURES.items()
            ]
        )
    return np.array(rows)


@pytest.mark.slow
def test_95_percent_intervals_cover_between_92_and_98_percent_of_all_truths() -> None:
    covered = float((np.abs(deviations()) < COVERAGE_FACTOR).mean())
    # 80 fits of 28 measures that are worth about 10 independent ones each: a coverage of 95 %
    # scatters by sqrt(0.05 * 0.95 / 800) = 0.8 %, so that 92 and 98 % are four times that away
    assert 0.92 < covered < 0.98


@pytest.mark.slow
@pytest.mark.parametrize("id_", MEASURES)
def test_the_interval_of_each_measure_covers_as_often_as_chance_allows(id_: str) -> None:
    z = deviations()[:, list(MEASURES).index(id_)]
    inside = int((np.abs(z) < COVERAGE_FACTOR).sum())
    # of 80 intervals that cover with 95 %, fewer than this happens once in 10 000 such tests
    assert inside >= scipy.stats.binom.ppf(1e-4, FITS, 0.95)
    # nor are they far too wide: a true spread below 0.6 has 80 degrees of freedom against it
    assert 0.6 < z.std() < 1.35
    # no measure is drawn to one side: the mean of 80 scatters by 0.11
    assert abs(z.mean()) < 4 / np.sqrt(FITS)


@pytest.mark.slow
def test_linear_propagation_agrees_with_drawing_the_figure_many_times() -> None:
    # Monte Carlo after JCGM 101:2008 section 7, with the figure's covariance as the input
    figure = solved(draw(0)).figure
    rng = np.random.default_rng(1)
    state = figure.state
    drawn = state.values + sum(
        (rng.normal(size=(20_000, f.shape[1])) @ f.T for f in figure.factors.values()),
        start=np.zeros(()),
    )
    batch = type(state)(values=drawn, mass_weights=state.mass_weights)
    for id_, found in evaluate_all(figure).items():
        measure = MEASURES[id_]
        values = np.asarray(measure.formula(batch)) * measure.published_per_si
        # 20 000 draws leave 0.5 % in the spread; the rest is curvature of the formulas
        assert values.std() == pytest.approx(found.sd, rel=0.05), id_
        assert abs(values.mean() - found.value) < 0.15 * found.sd or id_ == "hand_gap", id_


@pytest.mark.slow
def test_the_nearer_thigh_is_nearer_on_average_than_either() -> None:
    # the hand gap is read to the nearer of two thighs; where both are level, the nearer of two
    # uncertain ones is nearer than each by up to 0.56 standard uncertainties (the mean of the
    # smaller of two normal numbers), which linear propagation does not see
    figure = solved(draw(0)).figure
    rng = np.random.default_rng(2)
    state = figure.state
    drawn = state.values + sum(
        (rng.normal(size=(20_000, f.shape[1])) @ f.T for f in figure.factors.values()),
        start=np.zeros(()),
    )
    batch = type(state)(values=drawn, mass_weights=state.mass_weights)
    found = evaluate_all(figure)["hand_gap"]
    values = np.asarray(MEASURES["hand_gap"].formula(batch))
    assert -0.6 * found.sd < values.mean() - found.value < 0.05 * found.sd
