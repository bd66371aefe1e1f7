"""How the solution gives way when a function of the parameters is pushed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from wellset.estimation.solve import weigh
from wellset.estimation.terms import Term

Array = NDArray[np.float64]


def compliance(terms: Sequence[Term], parameters: Array, *, gradients: Array) -> Array:
    """Covariance of some functions of the parameters around a solution.

    With ``H`` the weighted normal matrix, and hard terms exact, the parameters answer a push
    along a gradient ``g`` with ``C g``, where ``C`` is the inverse of ``H`` on the directions
    that hard terms leave free; so function ``j`` moves by ``G C g``. It is found from the
    Lagrange system (Nocedal & Wright 2006, eq. 18.9) without forming ``C``.

    Parameters
    ----------
    terms : sequence of Term
    parameters : (n,) array
        The solution. Soft terms alone must determine it on the free directions.
    gradients : (k, n) array
        Of the functions.

    Returns
    -------
    (k, k) array
        ``G C G'``.
    """
    n = len(parameters)
    normal, hard = np.zeros((n, n)), [np.zeros((0, n))]
    for term in terms:
        residuals, jacobian = term.linearise(parameters)
        if term.hard:
            hard.append(jacobian)
        else:
            weights, _ = weigh(term, residuals)
            normal += (jacobian * weights[:, None]).T @ jacobian
    constraints = np.vstack(hard)
    system = np.zeros((n + len(constraints),) * 2)
    system[:n, :n], system[n:, :n] = normal, constraints
    system[:n, n:] = constraints.T
    right = np.zeros((len(system), len(gradients)))
    right[:n] = gradients.T
    answer: Array = gradients @ np.linalg.solve(system, right)[:n]
    return answer
