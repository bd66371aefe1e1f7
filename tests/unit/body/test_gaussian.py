"""Forms and the joint distribution."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.body.forms import LinearForm, convention, source
from wellset.body.gaussian import NamedGaussian, pooled
from wellset.body.legs import rest


def test_forms_keep_what_they_share() -> None:
    bone = source("bone", sd=0.03)
    a = LinearForm(constant=1.0, loads={"stature": 0.5}) + bone
    b = 2.0 * bone - convention("where", value=0.1, sd=0.04)
    both = NamedGaussian.from_forms({"a": a, "b": b}, stature=1.8, stature_sd=0.01)
    assert both.mean == pytest.approx([1.9, -0.1])
    assert both.covariance == pytest.approx(
        np.array([[0.0009 + 0.000025, 0.0018], [0.0018, 0.0036 + 0.0016]])
    )


def test_widening_leaves_definitions_and_stature_alone() -> None:
    form = LinearForm(loads={"stature": 1.0}) + source("bone", sd=0.03)
    form = form + convention("where", value=0.0, sd=0.04)
    wide = NamedGaussian.from_forms({"a": form}, stature=1.8, stature_sd=0.01, widening=2.0)
    assert wide.covariance[0, 0] == pytest.approx(0.01**2 + 0.06**2 + 0.04**2)


def test_a_reading_moves_the_mean_as_the_normal_regression_does() -> None:
    state = NamedGaussian(names=("a", "b"), mean=[1.0, 2.0], covariance=[[4.0, 2.0], [2.0, 3.0]])
    after = state.observed("a", value=3.0, sd=1.0)
    # Textbook conditional: E[b | y] = 2 + 2/(4+1) (3-1), Var = 3 - 2²/5.
    assert after.mean == pytest.approx([1.0 + 4 / 5 * 2, 2.0 + 2 / 5 * 2])
    assert after.covariance == pytest.approx(np.array([[4 - 16 / 5, 2 - 8 / 5], [0.4, 3 - 4 / 5]]))
    assert state.surprise("a", value=3.0, sd=1.0) == pytest.approx(2 / np.sqrt(5))


def test_a_mixture_of_two_populations_has_the_moments_of_their_samples() -> None:
    rng = np.random.default_rng(11)
    a = NamedGaussian(names=("x", "y"), mean=[0.0, 1.0], covariance=[[1.0, 0.3], [0.3, 2.0]])
    b = NamedGaussian(names=("x", "y"), mean=[2.0, 0.0], covariance=[[0.5, 0.0], [0.0, 1.0]])
    draws = np.concatenate(
        [rng.multivariate_normal(p.mean, p.covariance, size=200_000) for p in (a, b)]
    )
    both = pooled(a, b)
    assert both.mean == pytest.approx(draws.mean(axis=0), abs=0.01)
    assert both.covariance == pytest.approx(np.cov(draws.T), abs=0.02)


def test_populations_of_different_things_are_not_pooled() -> None:
    a = NamedGaussian(names=("x",), mean=[0.0], covariance=[[1.0]])
    b = NamedGaussian(names=("y",), mean=[0.0], covariance=[[1.0]])
    with pytest.raises(ValueError, match="different quantities"):
        pooled(a, b)


def test_parts_that_explain_too_much_are_refused() -> None:
    with pytest.raises(ValueError, match="explain"):
        rest(0.01, source("bone", sd=0.02))
