"""What a pressure plate and the pictures say of the same balance, apart and compared."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.fit import Fit
from wellset.assess.plate_terms import PLATE, balance_term
from wellset.assess.problem import MOTION
from wellset.estimation import Layout
from wellset.figure.figure import POINT_COUNT, STATE_SIZE, FigureState
from wellset.figure.plate import PLATE_VALUES, PlateMeans
from wellset.measures import MEASURES, Measured, value_and_gradient

Array = NDArray[np.float64]

BALANCE: Final = ("heel_toe_balance", "lead_share")
"""Measures that a plate speaks of."""
DISAGREE: Final = 0.01
"""A plate that lies further from the pictures than this share of honest ones isn't put
together with them; one honest plate in a hundred is set aside as well."""
_NONE: Final = np.zeros(POINT_COUNT)
"""No mass at any point."""


@frozen(kw_only=True, eq=False)
class PlateSays:
    """A plate beside a solution that doesn't know of it.

    Parameters
    ----------
    means : PlateMeans
    alone : mapping of measure to Measured
        The balance of the plate alone, over the feet as the pictures place them.
    apart_m : (2,) array, metre
        Centre of mass of the pictures minus centre of pressure of the plate: toward the
        target, and toward the heels.
    apart_sd_m : (2,) array
    chance : float
        Probability that an honest plate and honest pictures lie further apart.
    """

    means: PlateMeans
    alone: Mapping[str, Measured]
    apart_m: Array
    apart_sd_m: Array
    chance: float

    @property
    def agrees(self) -> bool:
        """Whether the two can be put together."""
        return self.chance >= DISAGREE


def plate_says(fit: Fit, means: PlateMeans, /) -> PlateSays:
    """Set a plate beside the pictures.

    Parameters
    ----------
    fit : Fit
        Solved without the plate.
    means : PlateMeans
    """
    layout = _with_plate(fit.layout)
    parameters = np.concatenate([fit.parameters, means.values])
    term = balance_term(layout, mass_weights=fit.figure.mass_weights, source=MOTION)
    residual, by_all = term.linearise(parameters)
    known, size = fit.known.covariance, len(fit.parameters)
    of_plate = by_all[:, size:] @ means.covariance @ by_all[:, size:].T
    both = by_all[:, :size] @ known @ by_all[:, :size].T + of_plate + np.eye(2)
    squared = float(residual @ np.linalg.solve(both, residual))
    return PlateSays(
        means=means,
        alone={id_: _alone(id_, fit=fit, means=means, layout=layout) for id_ in BALANCE},
        apart_m=residual * term.sd,
        apart_sd_m=np.sqrt(np.diag(both)) * term.sd,
        chance=float(np.exp(-squared / 2)),  # two squared normal numbers together
    )


def _with_plate(layout: Layout) -> Layout:
    """The same layout with the plate's block behind it."""
    end = layout.size
    return Layout(
        slices={**layout.slices, PLATE: slice(end, end + len(PLATE_VALUES))},
        labels=(*layout.labels, *PLATE_VALUES),
    )


def _alone(id_: str, /, *, fit: Fit, means: PlateMeans, layout: Layout) -> Measured:
    """A measure with the plate's centre of pressure in the place of the centre of mass."""
    measure, term = MEASURES[id_], balance_term(layout, mass_weights=_NONE, source=MOTION)
    parameters = np.concatenate([fit.parameters, means.values])
    pressure, by_all = term.pressure(parameters)
    # a figure without mass, whose stated error of it is the whole place
    values = fit.figure.state.values.copy()
    values[-2:] = pressure
    state = FigureState(values=values, mass_weights=_NONE)
    value, gradient = value_and_gradient(measure, state)
    by_pressure = gradient[-2:] @ by_all
    by_pressure[: STATE_SIZE - 2] += gradient[:-2]
    size = len(fit.parameters)
    variance = {
        source: float(((by_pressure[:size] @ factor) ** 2).sum())
        for source, factor in fit.known.factors.items()
    }
    of_plate = by_pressure[size:]
    variance[PLATE] = float(of_plate @ means.covariance @ of_plate)
    sway = float(((gradient[-2:] * term.sd) ** 2).sum())
    variance[MOTION] = variance.get(MOTION, 0.0) + sway
    return Measured(
        measure=id_,
        unit=measure.unit,
        value=value,
        sd=float(np.sqrt(sum(variance.values()))),
        budget={source: float(np.sqrt(part)) for source, part in variance.items()},
    )
