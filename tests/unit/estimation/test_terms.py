"""Every kind of knowledge: its residuals by hand and its derivatives."""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.derivatives import numeric_jacobian
from wellset.estimation import (
    DistanceTerm,
    EqualDistancesTerm,
    LinearTerm,
    Term,
    lay_out,
    prior,
)

RNG = np.random.default_rng(11)
PARAMETERS = RNG.normal(size=2 + 12 + 1)
POINTS = slice(2, 14)  # four points, then one scale
PAIR = np.array([[1.0, -1, 0, 0], [0.5, 0.5, 0, -1]])
OTHER = np.array([[0, 0, 1.0, -1], [0, -1, 0.5, 0.5]])
TERMS: dict[str, Term] = {
    "linear": LinearTerm(
        source="s", matrix=RNG.normal(size=(3, 15)), target=[1.0, 2, 3], sd=[0.5, 1, 2]
    ),
    "prior": prior("s", size=15, columns=slice(3, 6), mean=[0.1, 0.2, 0.3], sd=0.1),
    "distance": DistanceTerm(
        source="s", points=POINTS, combinations=PAIR, lengths=[0.4, 0.3], sd=[0.01, 0.02]
    ),
    "scaled distance": DistanceTerm(
        source="s",
        points=POINTS,
        combinations=PAIR,
        lengths=[0.4, 0.3],
        sd=[0.01, 0.02],
        scale_column=14,
    ),
    "equal distances": EqualDistancesTerm(
        source="s", points=POINTS, first=PAIR, second=OTHER, sd=[0.01, 0.02]
    ),
}


@pytest.mark.parametrize("name", TERMS)
def test_the_derivatives_of_a_term_are_exact(name: str) -> None:
    term = TERMS[name]
    _, jacobian = term.linearise(PARAMETERS)
    expected = numeric_jacobian(lambda p: term.linearise(p)[0], PARAMETERS, step=1e-3)
    # Richardson leaves about step**4 of terms of size 1 / sd = 100
    np.testing.assert_allclose(jacobian, expected, rtol=1e-7, atol=1e-7)


@pytest.mark.parametrize("name", TERMS)
def test_the_shares_of_a_terms_variance_sum_to_one(name: str) -> None:
    assert sum(TERMS[name].shares.values()) == pytest.approx(1.0)


def test_a_prior_counts_in_standard_deviations() -> None:
    term = prior("s", size=4, columns=[1, 3], mean=[1.0, 2.0], sd=[0.5, 0.25])
    residuals, _ = term.linearise(np.array([9.0, 2.0, 9.0, 2.5]))
    np.testing.assert_allclose(residuals, [2.0, 2.0])


def test_a_distance_counts_in_standard_deviations_of_the_length() -> None:
    # points (0, 0, 0) and (0.3, 0.4, 0): 0.5 m where 0.45 m within 0.01 m was known
    term = DistanceTerm(
        source="s",
        points=slice(0, 6),
        combinations=np.array([[1.0, -1.0]]),
        lengths=[0.45],
        sd=[0.01],
    )
    residuals, _ = term.linearise(np.array([0, 0, 0, 0.3, 0.4, 0.0]))
    np.testing.assert_allclose(residuals, [5.0])


def test_a_body_built_larger_has_all_its_lengths_larger() -> None:
    term = DistanceTerm(
        source="s",
        points=slice(0, 6),
        combinations=np.array([[1.0, -1.0]]),
        lengths=[0.4],
        sd=[0.01],
        scale_column=6,
    )
    residuals, _ = term.linearise(np.array([0, 0, 0, 0.3, 0.4, 0.0, 0.25]))
    np.testing.assert_allclose(residuals, [0.0], atol=1e-12)


def test_equal_distances_count_their_difference() -> None:
    # 0.5 m and 0.3 m
    term = EqualDistancesTerm(
        source="s",
        points=slice(0, 9),
        first=np.array([[1.0, -1.0, 0.0]]),
        second=np.array([[1.0, 0.0, -1.0]]),
        sd=[0.1],
    )
    residuals, _ = term.linearise(np.array([0, 0, 0, 0.3, 0.4, 0, 0.3, 0, 0.0]))
    np.testing.assert_allclose(residuals, [2.0])


def test_blocks_are_laid_out_one_after_another() -> None:
    layout = lay_out([("a", ["x", "y"]), ("b", ["z"])])
    assert layout.size == 3
    assert layout["a"] == slice(0, 2)
    assert layout["b"] == slice(2, 3)
    assert layout.labels == ("x", "y", "z")
    assert "a" in layout
    assert "c" not in layout


def test_a_block_cannot_be_laid_out_twice() -> None:
    with pytest.raises(ValueError, match="'a' is laid out twice"):
        lay_out([("a", ["x"]), ("a", ["y"])])
