"""Hard terms that bend: second-order correction, curvature, and how a solution gives way."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import frozen
from numpy.typing import NDArray

from wellset.estimation import (
    Curved,
    LinearTerm,
    OneSourceTerm,
    Term,
    compliance,
    prior,
    solve,
    uncertainty,
)

Array = NDArray[np.float64]


@frozen(kw_only=True, eq=False)
class Circle(OneSourceTerm):
    """The point stays on the unit circle."""

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        return np.array([(parameters @ parameters - 1) / 2]), parameters[None, :]


@frozen(kw_only=True, eq=False)
class CurvedCircle(Circle, Curved):
    """The same, telling its curvature."""

    def curvature(self, parameters: Array, multipliers: Array, /) -> Array:
        curved: Array = multipliers[0] * np.eye(len(parameters))
        return curved


def near(x: float, y: float, *, sd: float) -> Term:
    return prior("place", size=2, columns=[0, 1], mean=[x, y], sd=sd)


@pytest.mark.parametrize("kind", [Circle, CurvedCircle])
@pytest.mark.parametrize(("x", "y"), [(3.0, 4.0), (0.3, 0.4), (-6.0, 8.0)])
def test_the_nearest_point_of_a_circle_lies_on_the_ray_through_the_target(
    kind: type[Circle], x: float, y: float
) -> None:
    found = solve([kind(source="circle", hard=True), near(x, y, sd=0.1)], np.array([1.0, 0.2]))
    np.testing.assert_allclose(found.parameters, np.array([x, y]) / np.hypot(x, y), atol=1e-5)
    assert found.constraint_violation < 1e-9


def test_a_term_that_tells_its_curvature_is_solved_in_fewer_steps() -> None:
    # ten radii away the hard pull along the ray dominates what the targets say across it
    plain, curved = (
        solve([kind(source="circle", hard=True), near(-6.0, 8.0, sd=0.1)], np.array([1.0, 0.2]))
        for kind in (Circle, CurvedCircle)
    )
    assert curved.converged
    assert curved.iterations < plain.iterations


def test_compliance_is_the_covariance_of_the_functions() -> None:
    rng = np.random.default_rng(3)
    terms: list[Term] = [
        LinearTerm(source="data", matrix=rng.normal(size=(9, 5)), target=rng.normal(size=9)),
        LinearTerm(source="exact", matrix=rng.normal(size=(2, 5)), target=[0.3, -0.2], hard=True),
    ]
    at = solve(terms, np.zeros(5)).parameters
    gradients = rng.normal(size=(3, 5))
    covariance = uncertainty(terms, at, labels=["a", "b", "c", "d", "e"]).covariance
    np.testing.assert_allclose(
        compliance(terms, at, gradients=gradients), gradients @ covariance @ gradients.T, atol=1e-9
    )


def test_a_function_that_hard_terms_fix_does_not_give_way() -> None:
    terms: list[Term] = [
        prior("data", size=2, columns=[0, 1], mean=0.0, sd=1.0),
        prior("exact", size=2, columns=[0], mean=0.4, sd=1.0, hard=True),
    ]
    moved = compliance(terms, np.array([0.4, 0.0]), gradients=np.eye(2))
    np.testing.assert_allclose(moved, [[0, 0], [0, 1]], atol=1e-12)
