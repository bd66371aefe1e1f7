"""What holds for every least-squares problem."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from wellset.estimation import LinearTerm, Uncertainty, prior, solve, uncertainty

Array = NDArray[np.float64]
SIZE = 4
LABELS = ("a", "b", "c", "d")
seeds = st.integers(0, 2**32 - 1)


def problem(seed: int, *, sd: Array, scale: float | None = None) -> list[LinearTerm]:
    rng = np.random.default_rng(seed)
    data = LinearTerm(
        source="data",
        matrix=rng.normal(size=(8, SIZE)),
        target=rng.normal(size=8),
        sd=sd,
        robust_scale=scale,
    )
    return [data, prior("table", size=SIZE, columns=slice(0, SIZE), mean=0.0, sd=2.0)]


def known(terms: list[LinearTerm]) -> Uncertainty:
    return uncertainty(terms, np.zeros(SIZE), labels=LABELS)


@settings(max_examples=50, derandomize=True, deadline=None)
@given(seeds, st.integers(0, 7), st.floats(1.0, 1e3))
def test_more_noise_never_means_less_uncertainty(seed: int, row: int, factor: float) -> None:
    sd = np.ones(8)
    before = known(problem(seed, sd=sd)).covariance
    sd[row] *= factor
    after = known(problem(seed, sd=sd)).covariance
    assert np.linalg.eigvalsh(after - before).min() > -1e-9


@settings(max_examples=50, derandomize=True, deadline=None)
@given(seeds, st.floats(0.01, 100.0))
def test_the_sources_always_add_up(seed: int, spread: float) -> None:
    found = known(problem(seed, sd=np.full(8, spread)))
    gradient = np.random.default_rng(seed).normal(size=SIZE)
    whole = float(gradient @ found.covariance @ gradient)
    np.testing.assert_allclose(sum(found.budget(gradient).values()), whole, rtol=1e-9)


@settings(max_examples=30, derandomize=True, deadline=None)
@given(seeds, st.permutations(range(8)))
def test_the_order_of_observations_does_not_matter(seed: int, order: list[int]) -> None:
    terms = problem(seed, sd=np.ones(8), scale=1.0)
    data = terms[0]
    shuffled = LinearTerm(
        source="data",
        matrix=data.matrix[order],
        target=data.target[order],
        sd=data.sd,
        robust_scale=1.0,
    )
    first = solve(terms, np.zeros(SIZE)).parameters
    second = solve([terms[1], shuffled], np.zeros(SIZE)).parameters
    np.testing.assert_allclose(first, second, atol=1e-6)


@settings(max_examples=30, derandomize=True, deadline=None)
@given(seeds, seeds)
def test_the_start_does_not_matter(seed: int, other: int) -> None:
    terms = problem(seed, sd=np.ones(8), scale=1.0)
    start = 20 * np.random.default_rng(other).normal(size=SIZE)
    first = solve(terms, np.zeros(SIZE)).parameters
    second = solve(terms, start).parameters
    np.testing.assert_allclose(first, second, atol=1e-3)
