"""Covariance by source: closed forms, hard terms, what nothing determines."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest
from attrs import frozen
from numpy.typing import NDArray

from wellset.estimation import LinearTerm, Term, prior, uncertainty

Array = NDArray[np.float64]
RNG = np.random.default_rng(8)
LABELS = ["a", "b", "c", "d", "e"]
DATA = LinearTerm(
    source="data", matrix=RNG.normal(size=(9, 5)), target=np.zeros(9), sd=RNG.uniform(0.5, 2, 9)
)
TABLE = prior("table", size=5, columns=slice(0, 3), mean=0.0, sd=[0.3, 0.5, 0.7])
RULE = LinearTerm(source="rule", matrix=RNG.normal(size=(2, 5)), target=np.zeros(2), hard=True)
NORMAL = (DATA.matrix.T / DATA.sd**2) @ DATA.matrix + np.diag([1 / 0.09, 1 / 0.25, 1 / 0.49, 0, 0])


@frozen(kw_only=True, eq=False)
class SharedTerm:
    """Rows whose variance comes from two sources."""

    inner: LinearTerm
    share: Array
    hard: bool = False
    group: int = 1
    robust_scale: float | None = None

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """The two sources."""
        return {"one": self.share, "two": 1 - self.share}

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """As inside."""
        return self.inner.linearise(parameters)


def test_the_covariance_is_the_inverse_of_the_normal_matrix() -> None:
    known = uncertainty([DATA, TABLE], np.zeros(5), labels=LABELS)
    np.testing.assert_allclose(known.covariance, np.linalg.inv(NORMAL), rtol=1e-9)
    assert known.known


def test_the_covariance_under_hard_terms_is_the_corner_of_the_inverse_lagrange_matrix() -> None:
    known = uncertainty([DATA, TABLE, RULE], np.zeros(5), labels=LABELS)
    lagrange = np.block([[NORMAL, RULE.matrix.T], [RULE.matrix, np.zeros((2, 2))]])
    np.testing.assert_allclose(known.covariance, np.linalg.inv(lagrange)[:5, :5], atol=1e-12)
    np.testing.assert_allclose(RULE.matrix @ known.covariance, 0, atol=1e-12)
    assert "rule" not in known.factors  # what is exact adds no doubt


def test_a_hard_term_said_twice_changes_nothing() -> None:
    once = uncertainty([DATA, TABLE, RULE], np.zeros(5), labels=LABELS)
    twice = uncertainty([DATA, TABLE, RULE, RULE], np.zeros(5), labels=LABELS)
    np.testing.assert_allclose(once.covariance, twice.covariance, atol=1e-12)


def test_the_sources_add_up_to_the_covariance_and_the_budget_to_the_variance() -> None:
    known = uncertainty([DATA, TABLE, RULE], np.zeros(5), labels=LABELS)
    assert set(known.factors) == {"data", "table"}
    gradient = RNG.normal(size=5)
    budget = known.budget(gradient)
    assert sum(budget.values()) == pytest.approx(float(gradient @ known.covariance @ gradient))
    assert all(part > 0 for part in budget.values())


def test_the_variance_of_a_mean_splits_as_by_hand() -> None:
    # two readings of one length, sd 3 and 4: weights 16/25 and 9/25
    one = prior("tape", size=1, columns=[0], mean=0.0, sd=3.0)
    two = prior("table", size=1, columns=[0], mean=0.0, sd=4.0)
    budget = uncertainty([one, two], np.zeros(1), labels=["length"]).budget(np.ones(1))
    assert budget["tape"] == pytest.approx((16 / 25 * 3) ** 2)
    assert budget["table"] == pytest.approx((9 / 25 * 4) ** 2)


def test_rows_with_two_sources_share_their_variance() -> None:
    share = np.linspace(0.1, 0.9, 9)
    shared = uncertainty([SharedTerm(inner=DATA, share=share), TABLE], np.zeros(5), labels=LABELS)
    plain = uncertainty([DATA, TABLE], np.zeros(5), labels=LABELS)
    np.testing.assert_allclose(shared.covariance, plain.covariance, rtol=1e-9)
    gradient = RNG.normal(size=5)
    parts = shared.budget(gradient)
    column = gradient @ plain.factors["data"]
    assert parts["one"] == pytest.approx(float((column**2 * share).sum()))
    assert parts["two"] == pytest.approx(float((column**2 * (1 - share)).sum()))


def test_a_parameter_that_nothing_determines_is_named() -> None:
    terms: list[Term] = [prior("table", size=5, columns=[0, 1, 2, 4], mean=0.0, sd=1.0)]
    known = uncertainty(terms, np.zeros(5), labels=LABELS)
    assert known.undetermined == (("d",),)
    assert not known.known
    # what is known stays known
    np.testing.assert_allclose(np.diag(known.covariance)[[0, 1, 2, 4]], 1.0)


def test_a_difference_that_nothing_determines_names_both_parameters() -> None:
    together = LinearTerm(source="sum", matrix=np.array([[0, 1.0, 1, 0, 0]]), target=0.0)
    rest = prior("table", size=5, columns=[0, 3, 4], mean=0.0, sd=1.0)
    known = uncertainty([together, rest], np.zeros(5), labels=LABELS)
    assert len(known.undetermined) == 1
    assert set(known.undetermined[0]) == {"b", "c"}


def test_a_hard_term_can_determine_what_nothing_else_does() -> None:
    rest = prior("table", size=5, columns=[0, 1, 2, 4], mean=0.0, sd=1.0)
    held = prior("rule", size=5, columns=[3], mean=0.0, sd=1.0, hard=True)
    known = uncertainty([rest, held], np.zeros(5), labels=LABELS)
    assert known.known
    assert known.covariance[3, 3] == pytest.approx(0.0, abs=1e-15)


def test_a_distrusted_row_leaves_more_doubt() -> None:
    def sd(residual: float) -> float:
        row = LinearTerm(
            source="data",
            matrix=np.ones((1, 1)),
            target=[residual],
            robust_scale=2.0,
        )
        return float(uncertainty([row], np.zeros(1), labels=["a"]).covariance[0, 0] ** 0.5)

    # weight 1 / sqrt(1 + (r / 2)^2): at r = 2 sqrt(3) it is a half
    assert sd(0.0) == pytest.approx(1.0)
    assert sd(2 * 3**0.5) == pytest.approx(2**0.5)
