"""How well the parameters are known, and from which source the doubt comes.

With ``H`` the weighted normal matrix on the directions that hard terms leave free, the
covariance is ``C = N (N' H N)^-1 N'``. Each soft row contributes the column
``C J' sqrt(w)``, and the sum of the columns' outer products is ``C`` again, so the
variance of any linear function splits exactly into the sources of the rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.estimation.solve import weigh
from wellset.estimation.terms import Term

Array = NDArray[np.float64]

RANK_TOLERANCE = 1e-12
"""Smallest eigenvalue of the unit-diagonal normal matrix, relative to the largest, that
still counts as knowledge; below it a direction is reported as unknown."""


@frozen(kw_only=True, eq=False)
class Uncertainty:
    """Covariance of the parameters, by source.

    Parameters
    ----------
    factors : mapping of source name to (n, k) array
        ``sum(F @ F.T)`` over the sources is the covariance.
    undetermined : tuple of tuple of str
        For each direction that nothing determines, the parameters that take part in it,
        the strongest first. Empty when everything is determined.
    """

    factors: Mapping[str, Array]
    undetermined: tuple[tuple[str, ...], ...] = ()

    @property
    def known(self) -> bool:
        """Whether every parameter is determined."""
        return not self.undetermined

    @property
    def covariance(self) -> Array:
        """The whole covariance, shape (n, n)."""
        return sum((f @ f.T for f in self.factors.values()), start=np.zeros(()))

    def budget(self, gradient: Array, /) -> dict[str, float]:
        """Variance of ``gradient @ parameters`` that each source contributes."""
        return {
            name: float(((gradient @ factor) ** 2).sum()) for name, factor in self.factors.items()
        }


def _free_directions(constraints: Array, n: int) -> Array:
    if not len(constraints):
        return np.eye(n)
    _, values, right = np.linalg.svd(constraints)
    rank = int((values > 1e-10 * values.max()).sum())
    free: Array = right[rank:].T
    return free


def _name_direction(direction: Array, labels: Sequence[str]) -> tuple[str, ...]:
    order = np.argsort(-np.abs(direction))
    keep = [i for i in order[:6] if abs(direction[i]) > 0.2 * abs(direction[order[0]])]
    return tuple(labels[i] for i in keep)


def uncertainty(terms: Sequence[Term], parameters: Array, *, labels: Sequence[str]) -> Uncertainty:
    """Covariance around a solution, split by source; unknown directions are named.

    Parameters
    ----------
    terms : sequence of Term
    parameters : (n,) array
        The solution.
    labels : sequence of str
        What each parameter is called, for naming what is not determined.
    """
    n = len(parameters)
    rows: list[tuple[Term, Array]] = []
    hard: list[Array] = []
    for term in terms:
        residuals, jacobian = term.linearise(parameters)
        if term.hard:
            hard.append(jacobian)
        else:
            weights, _ = weigh(term, residuals)
            rows.append((term, jacobian * np.sqrt(weights)[:, None]))
    free = _free_directions(np.vstack(hard) if hard else np.zeros((0, n)), n)
    normal = sum((j.T @ j for _, j in rows), start=np.zeros((n, n)))
    reduced = free.T @ normal @ free
    size = np.sqrt(np.maximum(np.diag(reduced), 1e-300))
    values, vectors = np.linalg.eigh(reduced / np.outer(size, size))
    seen = values > RANK_TOLERANCE * values[-1]
    root = free @ (vectors[:, seen] / np.sqrt(values[seen]) / size[:, None])
    factors: dict[str, list[Array]] = {}
    for term, jacobian in rows:
        columns = root @ (root.T @ jacobian.T)
        for source, share in term.shares.items():
            factors.setdefault(source, []).append(columns * np.sqrt(share))
    unseen = free @ (vectors[:, ~seen] / size[:, None])
    return Uncertainty(
        factors={name: np.hstack(parts) for name, parts in factors.items()},
        undetermined=tuple(_name_direction(d, labels) for d in unseen.T),
    )
