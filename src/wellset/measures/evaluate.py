"""From a figure to its measures, with intervals and an error budget."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.figure.figure import Figure, FigureState
from wellset.measures.catalogue import MEASURES
from wellset.measures.kinds import Measure, Measured

Array = NDArray[np.float64]

COMPLEX_STEP = 1e-30
"""Step of the derivative; far below rounding, since nothing is subtracted."""


def value_and_gradient(measure: Measure, state: FigureState, /) -> tuple[float, Array]:
    """Value and exact gradient of a measure in its published unit.

    Parameters
    ----------
    measure : Measure
    state : FigureState with real values, shape (STATE_SIZE,)

    Returns
    -------
    value : float
    gradient : (STATE_SIZE,) array, published unit per metre

    References
    ----------
    Squire & Trapp 1998, *Using complex variables to estimate derivatives of real
    functions*, doi 10.1137/S003614459631241X.
    """
    size = state.values.shape[0]
    batch = state.values + 1j * COMPLEX_STEP * np.eye(size)
    stepped = FigureState(values=batch, mass_weights=state.mass_weights)
    result = np.asarray(measure.formula(stepped))
    scale = measure.published_per_si
    return float(result[0].real) * scale, np.imag(result) / COMPLEX_STEP * scale


def evaluate(measure: Measure, figure: Figure, /) -> Measured:
    """One measure of a figure with its standard uncertainty, split by source."""
    value, gradient = value_and_gradient(measure, figure.state)
    budget = {
        source: float(np.sqrt(((gradient @ factor) ** 2).sum()))
        for source, factor in figure.factors.items()
    }
    return Measured(
        measure=measure.id,
        unit=measure.unit,
        value=value,
        sd=float(np.sqrt(sum(part**2 for part in budget.values()))),
        budget=budget,
    )


def evaluate_all(figure: Figure, /) -> Mapping[str, Measured]:
    """Every measure of a figure, in catalogue order."""
    return {id_: evaluate(measure, figure) for id_, measure in MEASURES.items()}


DRAWS: Final = 64
SEED: Final = 20_261_125


def drawn_states(figure: Figure, /) -> FigureState:
    """The figure as it may be: draws from its covariance, the same ones each time."""
    rng = np.random.default_rng(SEED)
    values = np.tile(figure.state.values, (DRAWS, 1))
    for factor in figure.factors.values():
        values = values + rng.standard_normal((DRAWS, factor.shape[1])) @ factor.T
    return FigureState(values=values, mass_weights=figure.mass_weights)


def drawn_sd(measure: Measure, figure: Figure, /, *, states: FigureState) -> float:
    """Root mean square distance of a measure from its value over draws, published unit.

    Near a straight limb, whose flex can only grow, this is far more than the straight line
    of :func:`evaluate` says, and nearer to the truth.
    """
    value = np.asarray(measure.formula(figure.state)).real
    off = np.asarray(measure.formula(states)) - value
    return float(np.sqrt(np.mean(off**2))) * measure.published_per_si


def joint_covariance(figure: Figure, /) -> Array:
    """Covariance of all measures together, catalogue order, published units, shape (k, k)."""
    gradients = np.array([value_and_gradient(m, figure.state)[1] for m in MEASURES.values()])
    total = np.zeros((len(MEASURES),) * 2)
    for factor in figure.factors.values():
        spread = gradients @ factor
        total += spread @ spread.T
    return total
