"""What one more observation would do to the uncertainty, before it is made.

More knowledge is written as ordinary terms, on the solved parameters and, where it brings
its own unknowns (a stick's place, another camera), on new ones behind them. Linearised at
the solution, with residuals whitened to unit variance, ``J`` their derivatives by the
solved parameters, ``J_new`` by the new ones, whose covariance beforehand is ``P``, the
rows have the noise ``N = 1 + J_new P J_new'``, and

    C_after = C - C J' (N + J C J')^-1 J C

(Sherman, Morrison and Woodbury; Golub & Van Loan, *Matrix Computations*, section 2.1.4).
Only as many rows as are added have to be inverted, so that many candidates cost little.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.fit import Fit
from wellset.estimation import Term
from wellset.measures import MEASURES, value_and_gradient

Array = NDArray[np.float64]


@frozen(kw_only=True, eq=False)
class Extra:
    """Something more that could be known.

    Parameters
    ----------
    terms : tuple of Term
        Soft terms on the extended parameter vector.
    parameters : (n + k,) array
        The solved parameters, and expected values of the new ones.
    new_sd : (k,) array
        Standard deviations of the new ones beforehand; empty where there are none.
    """

    terms: tuple[Term, ...]
    parameters: Array
    new_sd: Array

    def rows(self) -> tuple[Array, Array]:
        """Whitened rows on the solved parameters ``(m, n)`` and their noise ``(m, m)``."""
        jacobian = np.vstack([term.linearise(self.parameters)[1] for term in self.terms])
        old = len(self.parameters) - len(self.new_sd)
        new = jacobian[:, old:] * self.new_sd
        return jacobian[:, :old], np.eye(len(jacobian)) + new @ new.T


@frozen(kw_only=True, eq=False)
class Outlook:
    """Measures with their uncertainty now and with each of several extras.

    Parameters
    ----------
    measures : tuple of str
    values : (q,) array
        Published unit.
    sd : (q,) array
        Standard uncertainties now.
    sd_with : (e, q) array
        The same with each extra, one row for each.
    """

    measures: tuple[str, ...]
    values: Array
    sd: Array
    sd_with: Array


def outlook(fit: Fit, extras: Sequence[Extra], *, measures: Sequence[str]) -> Outlook:
    """What each extra would do to the standard uncertainty of some measures.

    Parameters
    ----------
    fit : Fit
    extras : sequence of Extra
    measures : sequence of str
        Ids of the catalogue.
    """
    covariance = fit.known.covariance
    found = [value_and_gradient(MEASURES[id_], fit.figure.state) for id_ in measures]
    # points and build scalars come first in the layout
    gradients = np.zeros((len(found), len(fit.parameters)))
    for row, (_, gradient) in zip(gradients, found, strict=True):
        row[: len(gradient)] = gradient
    spread = gradients @ covariance
    variance = np.einsum("qn,qn->q", spread, gradients)
    after = [variance - _won(extra, covariance=covariance, spread=spread) for extra in extras]
    return Outlook(
        measures=tuple(measures),
        values=np.array([value for value, _ in found]),
        sd=np.sqrt(variance),
        sd_with=np.sqrt(np.maximum(after, 0.0)).reshape(len(extras), len(found)),
    )


def _won(extra: Extra, *, covariance: Array, spread: Array) -> Array:
    """Variance that an extra takes from each measure."""
    rows, noise = extra.rows()
    cross = spread @ rows.T
    root = np.linalg.cholesky(noise + rows @ covariance @ rows.T)
    won: Array = (np.linalg.solve(root, cross.T) ** 2).sum(0)
    return won


def predicted_sd(
    fit: Fit, extra: Extra, /, *, measures: Sequence[str]
) -> Mapping[str, tuple[float, float]]:
    """Standard uncertainty of each measure now and with one extra, published unit."""
    seen = outlook(fit, [extra], measures=measures)
    return {
        id_: (float(now), float(then))
        for id_, now, then in zip(seen.measures, seen.sd, seen.sd_with[0], strict=True)
    }
