"""Robust Levenberg-Marquardt on a list of terms, soft and hard.

Soft terms enter as weighted least squares; hard terms as exact constraints through the
Lagrange system (Nocedal & Wright 2006, *Numerical Optimization*, eq. 18.9 and 18.21 with
the Gauss-Newton Hessian; a hard term that tells its curvature adds it, so that a search
between strong opposing forces along curved constraints doesn't crawl). The robust loss is
the pseudo-Huber ``2 (sqrt(1 + s) - 1)`` of a group's squared residual, applied by iterative
re-weighting (Triggs et al. 1999, section 4.3, without the second-order correction).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.errors import EstimationError
from wellset.estimation.layout import Block
from wellset.estimation.terms import Curved, Term

Array = NDArray[np.float64]

MAX_DAMPING: Final = 1e10
"""Strongest damping tried before the search says that no step leads downhill."""
HARD_LIMIT: Final = 1e-7
"""Hard residual that still counts as met when no step leads downhill any more."""

BENT: Final = 1e-12
"""Hard residual of a trial, in its own unit, below which there is nothing to correct."""
POOR: Final = 0.25
"""Share of the promised fall below which a step is called poor (Nocedal & Wright 2006,
algorithm 4.1)."""


@frozen(kw_only=True, eq=False)
class Solution:
    """Where the search ended. ``converged`` says nothing about how well it is known."""

    parameters: Array
    cost: float
    converged: bool
    iterations: int
    constraint_violation: float
    """Largest absolute residual of the hard terms, in their own unit."""


def robust_weights(squared: Array, /, *, scale: float | None) -> Array:
    """Weight of each group: the derivative of the loss, 1 for plain least squares."""
    if scale is None:
        return np.ones_like(squared)
    return 1 / np.sqrt(1 + squared / scale**2)


def _loss(squared: Array, scale: float | None) -> float:
    if scale is None:
        return float(squared.sum())
    return float((2 * scale**2 * (np.sqrt(1 + squared / scale**2) - 1)).sum())


def weigh(term: Term, residuals: Array, /) -> tuple[Array, float]:
    """Row weights and loss of one term at its residuals."""
    squared = (residuals.reshape(-1, term.group) ** 2).sum(1)
    weights = np.repeat(robust_weights(squared, scale=term.robust_scale), term.group)
    return weights, _loss(squared, term.robust_scale)


@frozen(kw_only=True, eq=False)
class _Local:
    """The problem around one parameter vector."""

    hessian: Array
    gradient: Array
    constraints: Array
    constraint_jacobian: Array
    cost: float
    bent: tuple[tuple[Curved, Block], ...]
    """Hard terms that tell their curvature, and which rows of the constraints are theirs."""

    @property
    def violation(self) -> float:
        """Largest absolute residual of the hard terms."""
        return float(np.abs(self.constraints).max(initial=0.0))

    def merit(self, penalty: float) -> float:
        """Cost with an exact l1 penalty on the hard terms."""
        return self.cost + penalty * float(np.abs(self.constraints).sum())

    def promised(self, step: Array, *, curvature: Array | float, penalty: float) -> float:
        """Fall of the merit along a step if the residuals were linear in it."""
        cost = -float(step @ (2 * self.gradient + (self.hessian + curvature) @ step))
        return cost + penalty * float(np.abs(self.constraints).sum())


def _linearise(terms: Sequence[Term], parameters: Array) -> _Local:
    n = len(parameters)
    hessian, gradient, cost = np.zeros((n, n)), np.zeros(n), 0.0
    hard: list[Array] = []
    hard_jacobian: list[Array] = []
    bent: list[tuple[Curved, Block]] = []
    for term in terms:
        residuals, jacobian = term.linearise(parameters)
        if term.hard:
            if isinstance(term, Curved):
                first = sum(map(len, hard))
                bent.append((term, slice(first, first + len(residuals))))
            hard.append(residuals)
            hard_jacobian.append(jacobian)
            continue
        weights, loss = weigh(term, residuals)
        weighted = jacobian * weights[:, None]
        hessian += weighted.T @ jacobian
        gradient += weighted.T @ residuals
        cost += loss
    return _Local(
        hessian=hessian,
        gradient=gradient,
        constraints=np.concatenate(hard) if hard else np.zeros(0),
        constraint_jacobian=np.vstack(hard_jacobian) if hard else np.zeros((0, n)),
        cost=cost,
        bent=tuple(bent),
    )


def _step(local: _Local, curvature: Array | float, *, damping: float) -> tuple[Array, Array]:
    """One damped Gauss-Newton step and the hard terms' multipliers."""
    n, m = len(local.gradient), len(local.constraints)
    diagonal = np.diag(local.hessian)
    damped = (
        local.hessian + curvature + np.diag(damping * np.maximum(diagonal, 1e-12 * diagonal.max()))
    )
    if m == 0:
        return np.asarray(np.linalg.solve(damped, -local.gradient), np.float64), np.zeros(0)
    system = np.zeros((n + m, n + m))
    system[:n, :n] = damped
    system[n:, :n] = local.constraint_jacobian
    system[:n, n:] = local.constraint_jacobian.T
    solved: Array = np.linalg.solve(system, -np.concatenate([local.gradient, local.constraints]))
    return solved[:n], solved[n:]


@frozen(kw_only=True, eq=False)
class _Move:
    """An accepted step: where it led, and the damping and penalty it took."""

    parameters: Array
    local: _Local
    fall: float
    promised: float
    damping: float

    @property
    def next_damping(self) -> float:
        """Damping of the next step: less where this one kept its promise, more where not.

        Nocedal & Wright 2006, algorithm 4.1, with the damping in place of the radius. A
        hard term bends away from its tangent, so that steps that are accepted for a tiny
        fall may still swing from side to side for ever.
        """
        kept = self.fall / self.promised if self.promised > 0 else 1.0
        if kept < POOR:
            return self.damping * 4
        return max(self.damping / 6, 1e-12)

    penalty: float
    multipliers: Array


def _corrected(local: _Local, trial: _Local) -> Array | None:
    """What brings a trial back to the hard terms it bent away from, or None where it didn't.

    The second-order correction ``-A' (A A')^-1 c(x + p)`` (Nocedal & Wright 2006, eq. 18.36):
    without it a step that follows curved hard terms is refused for leaving them a little.
    """
    if trial.violation < BENT or not np.isfinite(trial.cost):
        return None
    jacobian = local.constraint_jacobian
    square = jacobian @ jacobian.T
    try:
        back: Array = -jacobian.T @ np.linalg.solve(square, trial.constraints)
    except np.linalg.LinAlgError:
        return None
    return back


def _move(
    terms: Sequence[Term],
    parameters: Array,
    *,
    local: _Local,
    multipliers: Array,
    damping: float,
    penalty: float,
) -> _Move | None:
    """Damp the step until it leads downhill; None when no step does."""
    curvature: Array | float = 0.0
    if len(multipliers):
        for term, rows in local.bent:
            curvature = curvature + term.curvature(parameters, multipliers[rows])
    while damping < MAX_DAMPING:
        try:
            step, multipliers = _step(local, curvature, damping=damping)
        except np.linalg.LinAlgError:
            damping *= 10
            continue
        if len(multipliers):
            penalty = max(penalty, 2.5 * float(np.abs(multipliers).max()))
        promised = local.promised(step, curvature=curvature, penalty=penalty)
        trial = _linearise(terms, parameters + step)
        fall = local.merit(penalty) - trial.merit(penalty)
        back = None if fall > POOR * promised else _corrected(local, trial)
        if back is not None:
            again = _linearise(terms, parameters + step + back)
            better = local.merit(penalty) - again.merit(penalty)
            if np.isfinite(again.cost) and better > fall:
                step, trial, fall = step + back, again, better
        if np.isfinite(trial.cost) and fall >= 0:
            return _Move(
                parameters=parameters + step,
                local=trial,
                fall=fall,
                promised=promised,
                damping=damping,
                penalty=penalty,
                multipliers=multipliers,
            )
        damping *= 4
    return None


def solve(
    terms: Sequence[Term],
    start: Array,
    *,
    max_iterations: int = 80,
    tolerance: float = 1e-9,
) -> Solution:
    """Find the parameters that agree best with all terms.

    Parameters
    ----------
    terms : sequence of Term
    start : (n,) array
        Where to begin.
    max_iterations : int
    tolerance : float
        Relative fall of the cost, and absolute size of hard residuals, at which the
        search stops.

    Returns
    -------
    Solution

    Raises
    ------
    EstimationError
        When the residuals are not finite at the start, or the linear systems are
        singular however strongly damped.
    """
    parameters = np.array(start, dtype=np.float64)
    local = _linearise(terms, parameters)
    if not np.isfinite(local.cost):
        raise EstimationError(
            "Cannot start the estimate",
            why="the residuals at the starting point are not finite numbers.",
            fix="Check the landmarks: a point may lie behind the camera or be missing.",
        )
    damping, penalty, iterations, at_rest = 1e-3, 0.0, 0, False
    multipliers = np.zeros(0)
    while iterations < max_iterations and not at_rest:
        iterations += 1
        move = _move(
            terms,
            parameters,
            local=local,
            multipliers=multipliers,
            damping=damping,
            penalty=penalty,
        )
        if move is None:
            at_rest = local.violation < HARD_LIMIT
            break
        parameters, local, penalty = move.parameters, move.local, move.penalty
        multipliers = move.multipliers
        damping = move.next_damping
        small = max(move.fall, move.promised) <= tolerance * max(local.cost, 1e-12)
        at_rest = small and local.violation < tolerance
    return Solution(
        parameters=parameters,
        cost=local.cost,
        converged=at_rest,
        iterations=iterations,
        constraint_violation=local.violation,
    )
