"""The set-up after one change: the body moved the cheapest way, every bone as long as before.

:func:`wellset.prescribe.what_if` gives the straight line at where the student stands now.
Here the same costs are followed to the end of the change: one measure is held at its new
value, bones are exact, and what the relaxed body asks for counts only as far as it differs
from now, so that nothing moves where nothing is changed.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.errors import EstimationError
from wellset.estimation import OneSourceTerm, solve
from wellset.figure.figure import POINT_COUNT, Figure
from wellset.measures import MEASURES
from wellset.prescribe.model import RELAXED, SEGMENTS, BonesTerm, Model
from wellset.prescribe.pose import place
from wellset.prescribe.stance_of import Stance
from wellset.prescribe.what_if import ORDER, nearness

Array = NDArray[np.float64]

ASKED: Final = "change asked for"
MET: Final = 1e-4
"""Share of a measure's useful uncertainty to which the change has to be met."""


@frozen(kw_only=True, eq=False)
class _SameAsNow(OneSourceTerm):
    """The relaxed body's residuals, less what they are now."""

    model: Model
    now: Array

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        residuals, jacobian = self.model.evaluate(parameters).rows[RELAXED]
        return residuals - self.now, jacobian


@frozen(kw_only=True, eq=False)
class _Changed(OneSourceTerm):
    """One measure at its new value, in its useful uncertainties."""

    model: Model
    row: int
    goal: float
    scale: float

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        found = self.model.evaluate(parameters)
        residual = (found.measures[self.row] - self.goal) / self.scale
        return np.array([residual]), found.gradients[self.row][None] / self.scale


def changed(figure: Figure, stance: Stance, *, measure: str, amount: float) -> Figure | None:
    """An assessed set-up after one measure is put right and the body has followed.

    Parameters
    ----------
    figure : Figure
        As assessed; what a pose doesn't describe is carried along unchanged.
    stance : Stance
        The same as a pose (:attr:`wellset.prescribe.WhatIf.stance`).
    measure : str
        Id of the catalogue.
    amount : float
        How far it moves, published unit.

    Returns
    -------
    Figure or None
        Without a covariance; ``None`` when the body can't follow so far.
    """
    try:
        parameters = _followed(stance, measure=measure, amount=amount)
    except EstimationError:
        return None
    if parameters is None:
        return None
    before, after = (place(q, stance.model.scene) for q in (stance.parameters, parameters))
    step = (after - before)[: 3 * POINT_COUNT].reshape(-1, 3)
    return evolve(figure, points=figure.points + step, factors={})


def _followed(stance: Stance, *, measure: str, amount: float) -> Array | None:
    """The pose after the change."""
    now = stance.model.evaluate(stance.parameters)
    row = ORDER.index(measure)
    asked = _Changed(
        source=ASKED,
        model=stance.model,
        hard=True,
        row=row,
        goal=float(now.measures[row]) + amount,
        scale=MEASURES[measure].useful_sd,
    )
    found = solve(
        [
            BonesTerm(source=SEGMENTS, model=stance.model, hard=True),
            asked,
            _SameAsNow(source=RELAXED, model=stance.model, now=now.rows[RELAXED][0]),
            *nearness(stance.parameters),
        ],
        stance.parameters,
        max_iterations=60,
        tolerance=1e-6,
    )
    missed, _ = asked.linearise(found.parameters)
    met = abs(float(missed[0])) < MET and found.constraint_violation < MET
    return found.parameters if met else None
