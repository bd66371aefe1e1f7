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
from wellset.figure.figure import POINT_COUNT, Figure, FigureState
from wellset.measures import MEASURES, Measure
from wellset.prescribe.model import RELAXED, SEGMENTS
from wellset.prescribe.natural import relaxed
from wellset.prescribe.pose import place
from wellset.prescribe.stance_of import STEP, Pose, PoseBonesTerm, Stance, stepped
from wellset.prescribe.what_if import nearness

Array = NDArray[np.float64]

ASKED: Final = "change asked for"
MET: Final = 1e-4
"""Share of a measure's useful uncertainty to which the change has to be met."""


@frozen(kw_only=True, eq=False)
class _RelaxedTerm(OneSourceTerm):
    """The relaxed body's residuals, less what they are now."""

    pose: Pose
    now: Array

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        found = _relaxed(self.pose, parameters)
        return found[0].real - self.now, found.imag.T / STEP


def _relaxed(pose: Pose, parameters: Array) -> Array:
    """Residuals of the relaxed body at every complex step."""
    return relaxed(stepped(parameters), pose.at(parameters), scene=pose.scene)


@frozen(kw_only=True, eq=False)
class _ChangedTerm(OneSourceTerm):
    """One measure at its new value, in its useful uncertainties."""

    pose: Pose
    measure: Measure
    goal: float

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        found = self.measured(parameters)
        scale = self.measure.useful_sd
        return (found[:1].real - self.goal) / scale, found.imag[None] / STEP / scale

    def measured(self, parameters: Array, /) -> Array:
        """The measure in its published unit at every complex step."""
        values = self.pose.at(parameters)
        weights = self.pose.scene.skeleton.mass_weights
        state = FigureState(values=values, mass_weights=weights)
        found: Array = self.measure.published_per_si * np.asarray(self.measure.formula(state))
        return found


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
    pose, now = Pose(scene=stance.model.scene), stance.parameters
    asked = _ChangedTerm(source=ASKED, pose=pose, hard=True, measure=MEASURES[measure], goal=0.0)
    asked = evolve(asked, goal=float(asked.measured(now)[0].real) + amount)
    found = solve(
        [
            PoseBonesTerm(source=SEGMENTS, pose=pose, hard=True),
            asked,
            _RelaxedTerm(source=RELAXED, pose=pose, now=_relaxed(pose, now)[0].real),
            *nearness(now),
        ],
        now,
        max_iterations=60,
        tolerance=1e-6,
    )
    missed, _ = asked.linearise(found.parameters)
    met = abs(float(missed[0])) < MET and found.constraint_violation < MET
    return found.parameters if met else None
