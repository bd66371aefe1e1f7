"""The solver and its standard uncertainties on certified nonlinear regressions."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest
import scipy.optimize
from attrs import frozen
from numpy.typing import NDArray

from tests.reference.estimation.nist import MISRA1A, RAT43, Certified
from wellset.estimation import solve, uncertainty

Array = NDArray[np.float64]


@frozen(kw_only=True, eq=False)
class RegressionTerm:
    """Deviations of a certified model from its data."""

    data: Certified
    sd: float = 1.0
    robust_scale: float | None = None
    hard: bool = False
    group: int = 1

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """All from the data."""
        return {"data": 1.0}

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """Deviations and derivatives."""
        value, slope = self.data.model(parameters, self.data.x)
        return (value - self.data.y) / self.sd, slope / self.sd


SETS = {"Misra1a": MISRA1A, "Rat43": RAT43}
CASES = [(name, start) for name in SETS for start in (0, 1)]


@pytest.mark.parametrize("name", SETS)
def test_the_data_give_the_certified_sum_of_squares(name: str) -> None:
    data = SETS[name]
    value, _ = data.model(np.array(data.values), data.x)
    found = float(((value - data.y) ** 2).sum())
    assert found == pytest.approx(data.residual_sum_of_squares, rel=1e-9)


@pytest.mark.parametrize(("name", "start"), CASES)
def test_the_solver_finds_the_certified_values_from_both_starts(name: str, start: int) -> None:
    data = SETS[name]
    found = solve(
        [RegressionTerm(data=data)], np.array(data.starts[start]), max_iterations=500, tolerance=0
    )
    assert found.cost == pytest.approx(data.residual_sum_of_squares, rel=1e-9)
    # ten digits are certified; Gauss-Newton stops where the cost no longer falls, which
    # leaves about the square root of rounding in the values
    np.testing.assert_allclose(found.parameters, data.values, rtol=1e-6)


@pytest.mark.parametrize(("name", "start"), CASES)
def test_the_standard_uncertainties_are_the_certified_ones(name: str, start: int) -> None:
    data = SETS[name]
    n, k = len(data.x), len(data.values)
    sd = float(np.sqrt(data.residual_sum_of_squares / (n - k)))
    terms = [RegressionTerm(data=data, sd=sd)]
    at = solve(terms, np.array(data.starts[start]), max_iterations=500, tolerance=0).parameters
    known = uncertainty(terms, at, labels=[f"b{i + 1}" for i in range(k)])
    assert known.known
    found = np.sqrt(np.diag(known.covariance))
    np.testing.assert_allclose(found, data.standard_errors, rtol=1e-5)


@pytest.mark.parametrize("name", SETS)
def test_the_robust_solution_is_that_of_an_independent_solver(name: str) -> None:
    # scipy's soft_l1 with f_scale c is c^2 2 (sqrt(1 + r^2 / c^2) - 1): our loss
    data = SETS[name]
    sd = float(np.sqrt(data.residual_sum_of_squares / len(data.x)))
    term = RegressionTerm(data=data, sd=sd, robust_scale=0.5)
    ours = solve([term], np.array(data.values), max_iterations=500, tolerance=0)
    theirs = scipy.optimize.least_squares(
        lambda b: term.linearise(b)[0],
        data.values,
        jac=lambda b: term.linearise(b)[1],
        loss="soft_l1",
        f_scale=0.5,
        x_scale=np.abs(data.values),
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    )
    assert ours.cost == pytest.approx(2 * theirs.cost, rel=1e-9)
    np.testing.assert_allclose(ours.parameters, theirs.x, rtol=1e-4)
    plain = np.array(data.values)
    assert np.max(np.abs(ours.parameters / plain - 1)) > 1e-3  # the loss does change the answer
