"""The solver: closed forms, an independent solver, hard terms, bad starts."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.optimize

from wellset.errors import EstimationError
from wellset.estimation import DistanceTerm, LinearTerm, Term, prior, solve

RNG = np.random.default_rng(5)


def linear(
    *, rows: int, size: int, robust_scale: float | None = None, group: int = 1
) -> LinearTerm:
    return LinearTerm(
        source="data",
        matrix=RNG.normal(size=(rows, size)),
        target=RNG.normal(size=rows),
        sd=RNG.uniform(0.5, 2, rows),
        robust_scale=robust_scale,
        group=group,
    )


def test_a_linear_problem_is_solved_by_least_squares() -> None:
    term = linear(rows=12, size=4)
    found = solve([term], np.zeros(4))
    whitened = term.matrix / term.sd[:, None]
    expected, rest, _, _ = np.linalg.lstsq(whitened, term.target / term.sd, rcond=None)
    np.testing.assert_allclose(found.parameters, expected, atol=1e-7)
    assert found.cost == pytest.approx(float(rest[0]))
    assert found.converged


def test_a_hard_linear_term_is_met_as_in_the_closed_form() -> None:
    term = linear(rows=12, size=4)
    hard = LinearTerm(
        source="rule", matrix=RNG.normal(size=(2, 4)), target=RNG.normal(size=2), hard=True
    )
    found = solve([term, hard], np.zeros(4))
    # Lagrange system: Boyd & Vandenberghe 2004, Convex Optimization, eq. 10.3
    whitened = term.matrix / term.sd[:, None]
    system = np.block([[whitened.T @ whitened, hard.matrix.T], [hard.matrix, np.zeros((2, 2))]])
    right = np.concatenate([whitened.T @ (term.target / term.sd), hard.target])
    expected = np.linalg.solve(system, right)[:4]
    np.testing.assert_allclose(found.parameters, expected, atol=1e-7)
    np.testing.assert_allclose(hard.matrix @ found.parameters, hard.target, atol=1e-9)
    assert found.constraint_violation < 1e-9


@pytest.mark.parametrize("reach", [12.9, 6.5, 2.0, 0.5])
def test_the_nearest_point_at_a_hard_distance_lies_on_the_straight_line(reach: float) -> None:
    # one point is held at the origin, the other wants to be at (3, 4, 12), 13 away, but must
    # stay within reach; with half of 13 or less plain Gauss-Newton steps swing for ever
    size = 6
    terms: list[Term] = [
        prior("held", size=size, columns=slice(0, 3), mean=0.0, sd=1.0, hard=True),
        prior("wish", size=size, columns=slice(3, 6), mean=[3.0, 4, 12], sd=1.0),
        DistanceTerm(
            source="rod",
            points=slice(0, 6),
            combinations=np.array([[-1.0, 1.0]]),
            lengths=[reach],
            sd=[1.0],
            hard=True,
        ),
    ]
    found = solve(terms, np.array([0.1, 0, 0, 1, -1, 1.0]), max_iterations=300)
    assert found.converged
    assert found.constraint_violation < 1e-9
    # the search stops where the cost, flat here, no longer falls by 1e-9 of itself
    expected = reach * np.array([3.0, 4, 12]) / 13
    np.testing.assert_allclose(found.parameters[3:], expected, atol=3e-4)


@pytest.mark.parametrize("group", [1, 2])
def test_the_robust_loss_is_that_of_an_independent_solver(group: int) -> None:
    term = linear(rows=30, size=3, robust_scale=1.3, group=group)
    wild = np.zeros(30)
    wild[4] = 40.0
    far = LinearTerm(
        source="data",
        matrix=term.matrix,
        target=term.target + wild,
        sd=term.sd,
        robust_scale=1.3,
        group=group,
    )
    ours = solve([far], np.zeros(3), max_iterations=300, tolerance=1e-15)

    def half_loss(x: np.ndarray) -> float:
        residuals, _ = far.linearise(x)
        squared = (residuals.reshape(-1, group) ** 2).sum(1)
        return float((2 * 1.3**2 * (np.sqrt(1 + squared / 1.3**2) - 1)).sum())

    if group == 1:  # scipy's soft_l1 weighs single rows
        theirs = scipy.optimize.least_squares(
            lambda x: far.linearise(x)[0],
            np.zeros(3),
            jac=lambda x: far.linearise(x)[1],
            loss="soft_l1",
            f_scale=1.3,
            xtol=1e-14,
            ftol=1e-14,
            gtol=1e-14,
        )
        expected, cost = theirs.x, 2 * theirs.cost
    else:
        general = scipy.optimize.minimize(half_loss, np.zeros(3), method="BFGS")
        expected, cost = general.x, general.fun
    np.testing.assert_allclose(ours.parameters, expected, atol=2e-5)
    assert ours.cost == pytest.approx(cost, rel=1e-8)


def test_one_wild_observation_barely_moves_a_robust_mean() -> None:
    values = np.array([0.0, 0.1, -0.1, 0.05, -0.05, 100.0])

    def mean(robust_scale: float | None) -> float:
        term = LinearTerm(
            source="data",
            matrix=np.ones((6, 1)),
            target=values,
            sd=np.full(6, 0.1),
            robust_scale=robust_scale,
        )
        return float(solve([term], np.zeros(1)).parameters[0])

    assert mean(None) == pytest.approx(values.mean())
    assert abs(mean(1.0)) < 0.1


def test_a_start_that_is_no_number_is_refused_in_words() -> None:
    term = linear(rows=3, size=2)
    with pytest.raises(EstimationError, match=r"not finite numbers\. Check the landmarks"):
        solve([term], np.array([np.nan, 0.0]))


def test_a_search_cut_short_does_not_claim_to_have_converged() -> None:
    circle = DistanceTerm(
        source="far",
        points=slice(0, 6),
        combinations=np.array([[1.0, -1.0]]),
        lengths=[1.0],
        sd=[0.001],
    )
    near = prior("near", size=6, columns=slice(0, 6), mean=[5.0, 1, 0, 0, 2, 0], sd=1.0)
    found = solve([circle, near], np.array([5.0, 1, 0, 0, 2, 0]), max_iterations=1)
    assert found.iterations == 1
    assert not found.converged


def test_solving_leaves_the_start_alone() -> None:
    start = np.zeros(4)
    solve([linear(rows=12, size=4)], start)
    assert not start.any()
